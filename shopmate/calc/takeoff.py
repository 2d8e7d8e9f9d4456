"""What to buy for a net amount: waste added once, whole packs, and what is left over."""

from __future__ import annotations

from collections.abc import Mapping

from shopmate import tables, units
from shopmate.calculator import Answer, Calculator, Choice, Example, Field, Measure, Output, Source
from shopmate.errors import EntryError, FieldProblem
from shopmate.models.fields import given, missing, refuse, round_up
from shopmate.records import dataclass
from shopmate.units import Quantity
from shopmate.units import significant as sig

_ARITHMETIC = Source("need = net × (1 + waste), or net / (1 − waste) if waste is a share of what you buy", "computed")
_WASTE = Source(
    "waste by material: table waste, with a source on each row; change it to what your shop wastes", "common practice"
)
_COATS = Source(
    "Handbook on wood-epoxy boats, chapter 7: first neat coat 7.1 m²/kg, later coats 8.2, glue line by hand 2.7; the last is for "
    "rough joints",
    "read",
)
_STOCK = Source("opened foam and moisture-curing tubes don't keep more than a few days", "common practice")

_ADDED, _OF_BOUGHT = "added", "of bought"
"""What the waste is a share of: the net amount, or everything bought."""

_WHOLE = 100.0
"""Waste in % of what is bought at which nothing is left [computed]. No Threshold needed: 100 % has no answer, so it is
refused."""


@dataclass(frozen=True, slots=True)
class _Amount:
    """A quantity of one of several dimensions, in the unit it was typed in; a bare number is a count."""

    measures: tuple[Measure, ...]
    like: str

    def read(self, text: str) -> Quantity:
        for measure in self.measures if units.has_unit(text) else self.measures[:1]:
            try:
                quantity = units.parse(text, measure.unit)
            except EntryError:
                continue
            return measure.within(quantity, text)
        raise EntryError(f"'{text}' cannot be read as an amount here", f"write it like {self.like}")

    def describe(self, unit: str = "") -> str:
        return f"such as {self.like}"


def _amounts(low: float | None, above: float | None) -> _Amount:
    """Return the kind of an amount to buy: a count, mass, area, volume or length."""
    measures = tuple(Measure(unit, low=low, above=above, high=10_000_000) for unit in ("", "g", "m²", "mL", "m"))
    return _Amount(measures, "180, 1929 g, 2 m², 870 mL or 12 m")


_COVERAGE = _Amount(
    (Measure("m²/kg", low=0.01, high=1000), Measure("m²/L", low=0.01, high=1000)), "7.1 m²/kg, 8 m²/L or 300 ft²/gal"
)


def _compute(
    *,
    net: Quantity | None,
    area: Quantity | None,
    coverage: Quantity | None,
    waste: Quantity | None,
    material: str | None,
    basis: str,
    pack: Quantity | None,
    have: Quantity | None,
) -> Answer:
    refuse(*_problems(net, area, coverage, waste, material, basis))
    amount, measured = _net(net, area, coverage)
    unit = amount.unit
    refuse(*_unlike(amount, {"pack": pack, "have": have}))
    row = tables.load("waste").row("material", material) if material is not None else None
    share = _share(waste, row)
    size = float(amount.value)
    spare = float(row["fewest_spare"]) if row is not None and unit == "" and size else 0.0
    need, added = _need(size, share, basis, spare)
    stock = 0.0 if have is None else have.value_in(unit)
    buy = max(0.0, need - stock)
    packs, left, packed = _packs(need, buy, stock, pack, unit)
    working = [
        *measured,
        added,
        *([f"to buy = need − have = {sig(need, 6)} − {sig(stock, 6)}"] if have is not None else []),
        *packed,
    ]
    values: dict[str, Quantity | float | None] = {
        "packs": packs,
        "buy": Quantity(buy, unit),
        "need": Quantity(need, unit),
        "left": None if left is None else Quantity(left, unit),
        "net": Quantity(size, unit),
        "waste": share,
    }
    return Answer(values, tuple(working), tuple(_cautions(share, row["to_do"] if row is not None else "", have, unit)))


def _share(waste: Quantity | None, row: Mapping[str, str] | None) -> float:
    """Return the waste in %: what was typed, otherwise the usual one for the material."""
    if waste is not None:
        return waste.value_in("%")
    assert row is not None
    return float(row["waste_pct"])


def _problems(
    net: Quantity | None,
    area: Quantity | None,
    coverage: Quantity | None,
    waste: Quantity | None,
    material: str | None,
    basis: str,
) -> list[FieldProblem]:
    """Return what is missing or entered twice for the amount and its waste."""
    problems = []
    if net is not None:
        problems += given({"area": area, "coverage": coverage}, "entered together with net", "leave one of the two blank")
    elif area is None and coverage is None:
        problems.append(FieldProblem("net", "nothing entered", "enter the net amount, or area and coverage"))
    else:
        problems += missing({"area": area, "coverage": coverage}, "nothing entered", "area and coverage go together: enter both")
    if waste is None and material is None:
        problems.append(FieldProblem("waste", "nothing entered", "enter the waste, 0 % for none, or choose a material"))
    if basis == _OF_BOUGHT and waste is not None and waste.value_in("%") >= _WHOLE:
        problems.append(FieldProblem("waste", "everything you buy would be waste", "enter less than 100 %, or choose 'added'"))
    return problems


def _net(net: Quantity | None, area: Quantity | None, coverage: Quantity | None) -> tuple[Quantity, tuple[str, ...]]:
    """Return the net amount in the unit it was typed in, or in g or mL if it follows from area and coverage."""
    if net is not None:
        return net, ()
    assert area is not None
    assert coverage is not None
    by_mass = units.dimension(coverage.unit) == "coverage"
    per, unit = ("m²/kg", "g") if by_mass else ("m²/L", "mL")
    face, rate = area.value_in("m²"), coverage.value_in(per)
    size = 1000 * face / rate
    line = f"net = 1000 × area / coverage, in {per} = 1000 × {sig(face, 6)} / {sig(rate, 6)} = {sig(size, 6)} {unit}"
    return Quantity(size, unit), (line,)


def _unlike(amount: Quantity, others: dict[str, Quantity | None]) -> list[FieldProblem]:
    """Return a problem for each amount whose kind differs from the net amount's."""
    wanted = units.dimension(amount.unit)
    fix = "enter a number without a unit" if amount.unit == "" else f"enter it in {amount.unit} or another unit of {wanted}"
    return [
        FieldProblem(name, f"{units.show(other)} cannot be compared with the net {units.show(amount)}", fix)
        for name, other in others.items()
        if other is not None and units.dimension(other.unit) != wanted
    ]


def _need(size: float, share: float, basis: str, spare: float) -> tuple[float, str]:
    """Return the amount needed with `share` % waste and at least `spare` above the net amount, and its working."""
    lost = share / 100
    if basis == _OF_BOUGHT:
        need, formula = size / (1 - lost), f"net / (1 − waste) = {sig(size, 6)} / (1 − {lost:g})"
    else:
        need, formula = size * (1 + lost), f"net × (1 + waste) = {sig(size, 6)} × (1 + {lost:g})"
    if need < size + spare:
        return size + spare, f"need = net + {spare:g} spare = {sig(size + spare, 6)}: {sig(share)} % would be less"
    return need, f"need = {formula} = {sig(need, 6)}"


def _packs(
    need: float, buy: float, stock: float, pack: Quantity | None, unit: str
) -> tuple[float | None, float | None, tuple[str, ...]]:
    """Return the packs to buy, what is left over, and the working; None if the pack is not known."""
    if pack is None:
        return None, None, ()
    content = pack.value_in(unit)
    packs = round_up(buy / content)
    left = max(0.0, packs * content + stock - need)
    lines = (
        f"packs = {sig(buy, 6)} / {sig(content, 6)} = {sig(buy / content)}, so {packs}",
        f"left = packs × pack + have − need = {packs} × {sig(content, 6)} + {sig(stock, 6)} − {sig(need, 6)} = {sig(left, 6)}",
    )
    return float(packs), left, lines


def _cautions(share: float, to_do: str, have: Quantity | None, unit: str) -> list[str]:
    """Return the cautions before ordering."""
    said = []
    if share > 0:
        said.append(
            "Count waste once: if the laminate or pots calculator or a cutting plan already added it to the net "
            "amount, enter 0 % here."
        )
    else:
        said.append("No waste added: right if a cutting plan counted it. Buy one spare wherever a mistake would stop the job.")
    if to_do:
        said.append(to_do)
    if have is not None and units.dimension(unit) in ("mass", "volume"):
        said.append("Count only stock that is in date and unopened: opened foam and moisture-curing tubes only keep for days.")
    return said


_EXACT = Source("exact fractions: packs = ⌈need / pack⌉", "computed")

CALCULATOR = Calculator(
    name="takeoff", title="Number of packs to buy",
    inputs=(
        Field("net", "Net amount", _amounts(0, None), "What the job uses: a count, mass, area, volume or length."),
        Field("area", "Area to coat", Measure("m²", low=0, high=100_000, soft_high=200), "Enter this instead of the net "
            "amount."),
        Field("coverage", "Coverage", _COVERAGE, "From the label, for one coat."),
        Field("waste", "Waste", Measure("%", low=0, high=100, soft_high=35), "Blank: the usual waste for the material."),
        Field("material", "Material", Choice(lambda: tuple(row["material"] for row in tables.load("waste").rows)),
            "Fills in the usual waste for it."),
        Field("basis", "How waste is counted", Choice((_ADDED, _OF_BOUGHT)),
            "Added: share of the net amount. Of bought: share of everything you buy.", default=_ADDED),
        Field("pack", "Pack", _amounts(None, 0), "What one pack contains, in the same kind of unit."),
        Field("have", "In stock", _amounts(0, None), "What you already have and can use."),
    ),
    outputs=(
        Output("packs", "Packs to buy", "", 0),
        Output("buy", "To buy", None, 2),
        Output("need", "Needed, with waste", None, 2),
        Output("left", "Left over", None, 2),
        Output("net", "Net amount", None, 2),
        Output("waste", "Waste used", "%", 0),
    ),
    source=(_ARITHMETIC, _WASTE, _COATS, _STOCK),
    valid="Amounts are in the unit of the net amount, or in g or mL if they follow from area and coverage. Whole packs of one "
    "size. For sheets, bars and rolls use their own cutting plans, with 0 % waste here.",
    examples=(
        Example({"net": "1929 g", "waste": "10 %", "pack": "1000 g"}, {"need": 2121.9, "packs": 3, "left": 878.1}, _EXACT),
        Example({"net": "1929 g", "waste": "10 %", "basis": "of bought", "pack": "1 kg"}, {"need": 2143.3, "packs": 3,
            "left": 856.7}, _EXACT, rel=0.0001),
        Example({"net": "180", "material": "screws", "pack": "200"}, {"need": 189.0, "packs": 1, "left": 11.0, "waste": 5.0},
            _WASTE),
        Example({"area": "10 m²", "coverage": "7.1 m²/kg", "waste": "10 %"}, {"net": 1408.5, "need": 1549.3}, _COATS, rel=0.001),
        Example({"net": "870 mL", "material": "cartridges", "pack": "290 mL", "have": "290 mL"}, {"need": 1000.5, "buy": 710.5,
            "packs": 3, "left": 159.5}, _EXACT),
    ),
    asked=("net|area", "waste", "pack", "have"),
    compute=_compute,
)  # fmt: skip
