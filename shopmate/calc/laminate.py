"""Glass cloth and epoxy for one face of a panel: cloth to cut, epoxy for each coat with losses, thickness, glass content."""

from __future__ import annotations

import math
from collections.abc import Sequence

from shopmate import units
from shopmate.calculator import Answer, Calculator, Count, Example, Field, Measure, Output, Source, Stock, Threshold
from shopmate.errors import EntryError, FieldProblem
from shopmate.models.fields import in_unit, missing, refuse
from shopmate.models.parts import Parts
from shopmate.models.pot import BIG_POT, BIG_POT_SOURCE
from shopmate.models.strips import SEAM, overlap_problems, strips
from shopmate.records import dataclass
from shopmate.units import Quantity
from shopmate.units import significant as sig

_GLASS = Source("flat cloth by hand: 45 to 50 % glass with care, 35 to 40 % the first time", "common practice")

_BY_HAND = Threshold(50.0, "%", _GLASS, "the cloth can stay dry", "glass_content", "50 %", "50.1 %")
_WET = Threshold(35.0, "%", _GLASS, "squeegee off the epoxy that floats it", "glass_content", "35 %", "34.9 %")
_BIG_POT = Threshold(BIG_POT, "g", BIG_POT_SOURCE, "it would go off early", "mix", "0.622 m", "0.6225 m", "length")

_FILL_COAT = "80 to 120 g/m²"
"""One fill coat over the weave [common practice]."""

_SEAL_COAT = "100 to 150 g/m²"
"""Seal coat for bare ply or softwood [common practice]."""

_LOSS = "10 to 15 %"
"""Epoxy left in cup, roller and squeegee [common practice]."""


class _GlassContent(Measure):
    """A mass fraction in %; a bare number up to 1 is read as the fraction itself, since no laminate is 1 % glass."""

    __slots__ = ()

    def read(self, text: str) -> Quantity:
        typed = units.parse(text, "%")
        if typed.value <= 1 and not units.has_unit(text):
            return super().read(units.show(Quantity(typed.value * 100, "%")))
        return super().read(text)

    def describe(self, unit: str = "") -> str:
        return f"{super().describe(unit)}; or the fraction, such as 0.45"


_CLOTH = Measure("g/m²", low=10, high=3_000, soft_low=25, soft_high=1_000)
_CONTENT = _GlassContent("%", low=10, high=80, soft_low=25, soft_high=60)


class _Plies(Parts):
    """Plies of other cloths, each COUNT@WEIGHT, with =GLASS in % where it differs."""

    most_parts = 50
    like = "'2@300 g/m², 1@450 g/m² = 30'"
    keypad = "2/300-1/450"


_PLIES = _Plies(_CLOTH)


@dataclass(frozen=True, slots=True)
class _Kind:
    """Plies of one cloth: how many, g/m² per ply, and the glass content by mass as a fraction."""

    plies: int
    weight: float
    psi: float

    @property
    def dry(self) -> float:
        """Glass in these plies, g/m²."""
        return self.plies * self.weight

    @property
    def epoxy(self) -> float:
        """Epoxy that wets them out, g/m²."""
        return self.dry * (1 - self.psi) / self.psi


def _compute(
    *,
    area: Quantity | None,
    length: Quantity | None,
    width: Quantity | None,
    cloth: Quantity,
    plies: int,
    other_plies: str | None,
    glass_content: Quantity,
    seal_coat: Quantity,
    fill_coat: Quantity | None,
    fill_coats: int | None,
    trim: Quantity,
    loss: Quantity,
    roll_width: Quantity | None,
    overlap: Quantity,
    glass_density: Quantity,
    epoxy_density: Quantity,
) -> Answer:
    others, wrong = _others(other_plies, glass_content)
    refuse(
        *_face_problems(area, length, width),
        *wrong,
        *_fill_problems(fill_coat, fill_coats),
        *_roll_problems(roll_width, overlap, length, width),
    )
    face, face_line = _face(area, length, width)
    coat_weight = in_unit(fill_coat, "g/m²") or 0.0
    coats = fill_coats if fill_coats is not None else int(fill_coat is not None)
    kinds = (_Kind(plies, cloth.value_in("g/m²"), glass_content.value_in("%") / 100), *others)
    number = sum(kind.plies for kind in kinds)
    rho_glass, rho_epoxy = glass_density.value_in("g/mL"), epoxy_density.value_in("g/mL")
    offcut, extra = trim.value_in("%"), loss.value_in("%")
    seal_weight = seal_coat.value_in("g/m²")

    each, laid, off_the_roll, roll_lines = _laid(face, length, width, in_unit(roll_width, "mm"), overlap.value_in("mm"))
    # The overhang is wetted out too before it is trimmed off, so the epoxy follows the cloth laid, not the face.
    trimmed = 1 + offcut / 100
    cloth_area = laid * number * trimmed
    cloth_mass = math.fsum(laid * kind.plies * trimmed * kind.weight for kind in kinds)
    wet_out = math.fsum(laid * kind.plies * trimmed * kind.weight * (1 - kind.psi) / kind.psi for kind in kinds)
    seal = face * seal_weight
    fill = face * coat_weight * coats
    total = (wet_out + seal + fill) * (1 + extra / 100)

    # Rule of mixtures for a ply of dry weight w: t = w/ρg + w(1−ψ)/(ψρr); with 2.56 and 1.20 g/mL this is
    # t = w/3.072 (2.56/ψ − 1.36) of ISO 12215-5 annex C.
    dry, epoxy = math.fsum(kind.dry for kind in kinds), math.fsum(kind.epoxy for kind in kinds)
    glass_mm, epoxy_mm = dry / rho_glass / 1000, epoxy / rho_epoxy / 1000
    thickness = glass_mm + epoxy_mm
    areal_weight = dry + epoxy
    psi = kinds[0].psi if len(kinds) == 1 else dry / areal_weight
    bought = None if off_the_roll is None else off_the_roll * number * trimmed

    working = (
        face_line,
        *roll_lines,
        *_cloth_lines(kinds, laid, offcut, cloth_area, cloth_mass),
        *_wet_out_lines(kinds, laid * trimmed, wet_out),
        f"seal = {sig(face)} m² × {sig(seal_weight)} g/m² = {sig(seal)} g",
        f"fill = {sig(face)} m² × {coats} × {sig(coat_weight)} g/m² = {sig(fill)} g",
        f"mix = ({sig(wet_out)} + {sig(seal)} + {sig(fill)}) × {sig(1 + extra / 100)} (loss {sig(extra)} %) = {sig(total, 5)} g",
        f"thickness = w/ρg + w(1−ψ)/(ψρr) = {sig(dry)}/{sig(rho_glass)} + {sig(epoxy)}/{sig(rho_epoxy)} "
        f"= {sig(glass_mm * 1000)} + {sig(epoxy_mm * 1000)} = {sig(thickness * 1000)} µm = {thickness:.3f} mm",
        f"fibre volume = {glass_mm:.4f} mm glass ÷ {thickness:.4f} mm = {glass_mm / thickness:.3f} ({sig(psi)} by mass)",
    )
    return Answer(
        values={
            "mix": total,
            "wet_out": wet_out,
            "seal": seal,
            "fill": fill,
            "cloth_mass": cloth_mass,
            "cloth_area": cloth_area,
            "thickness": thickness,
            "fibre_volume": glass_mm / thickness,
            "areal_weight": areal_weight,
            "density": areal_weight / 1000 / thickness,
            "weight_added": areal_weight + seal_weight + coat_weight * coats,
            "film": coat_weight * coats / rho_epoxy / 1000,
            "glass": psi * 100,
            "strips": each,
            "ply_area": laid,
            "cloth_length": bought,
        },
        working=working,
        cautions=_cautions([100 * kind.psi for kind in kinds], seal, fill, extra, offcut, total),
    )


def _others(text: str | None, content: Quantity) -> tuple[list[_Kind], list[FieldProblem]]:
    """Return the plies of other cloths, at glass content `content` unless they have their own, and any problems with them."""
    kinds, wrong = [], []
    for part in _PLIES.parts(text) if text is not None else ():
        glass = content
        if part.count is None or part.along:
            wrong.append(FieldProblem("other_plies", f"{part} has no number of plies", f"enter them like {_PLIES.like}"))
            continue
        if part.value is not None:
            try:
                glass = _CONTENT.read(units.show_number(part.value))
            except EntryError as error:
                wrong.append(FieldProblem("other_plies", f"glass content in {part}: {error.what}", error.fix))
                continue
        kinds.append(_Kind(part.count, part.sizes[0].value_in("g/m²"), glass.value_in("%") / 100))
    return kinds, wrong


def _roll_problems(
    roll: Quantity | None, overlap: Quantity, length: Quantity | None, width: Quantity | None
) -> list[FieldProblem]:
    if roll is None:
        return []
    if length is None or width is None:
        return [
            FieldProblem(
                "roll_width", "needs the length and width of the face", "enter length and width, or leave the roll width blank"
            )
        ]
    return overlap_problems(roll, overlap)


def _laid(
    face: float, length: Quantity | None, width: Quantity | None, roll: float | None, overlap: float
) -> tuple[int | None, float, float | None, tuple[str, ...]]:
    """Return for one ply: strips off the roll, area laid in m² with overlaps, length off the roll in m, and the working line."""
    if roll is None or length is None or width is None:
        return None, face, None, ()
    along, across = length.value_in("m"), width.value_in("mm")
    count = strips(across, roll, overlap)
    laid = (across + (count - 1) * overlap) / 1000 * along
    line = (
        f"each ply = {count} strip{'s' if count > 1 else ''} off the roll, {count} × {sig(along)} m = {sig(count * along)} m "
        f"before trim; area with overlaps = ({sig(across)} + {count - 1} × {sig(overlap)})/1000 × {sig(along)} "
        f"= {sig(laid)} m²"
    )
    return count, laid, count * along, (line,)


def _cloth_lines(kinds: Sequence[_Kind], laid: float, offcut: float, area: float, mass: float) -> list[str]:
    """Return the working lines for the cloth's area and mass."""
    number, factor = sum(kind.plies for kind in kinds), f"{sig(1 + offcut / 100)} (trim {sig(offcut)} %)"
    plies = "ply" if number == 1 else "plies"
    by_area = f"cloth = {sig(laid)} m² × {number} {plies} × {factor} = {sig(area)} m²"
    if len(kinds) == 1:
        return [f"{by_area}; × {sig(kinds[0].weight)} g/m² = {sig(mass)} g"]
    added = " + ".join(f"{kind.plies} × {sig(kind.weight)}" for kind in kinds)
    return [by_area, f"cloth = {sig(laid)} m² × {factor} × ({added}) g/m² = {sig(mass)} g"]


def _wet_out_lines(kinds: Sequence[_Kind], laid: float, epoxy: float) -> list[str]:
    """Return the working lines for the epoxy in the cloth; `laid` is one ply in m², trim included."""
    masses = [laid * kind.dry for kind in kinds]
    each = [
        f"wet-out = {sig(mass)} g × (1 − {sig(kind.psi)})/{sig(kind.psi)} = {sig(mass * (1 - kind.psi) / kind.psi)} g at "
        f"{sig(kind.psi * 100)} % glass by mass"
        for kind, mass in zip(kinds, masses, strict=True)
    ]
    if len(kinds) == 1:
        return each
    added = [mass * (1 - kind.psi) / kind.psi for kind, mass in zip(kinds, masses, strict=True)]
    whole = sum(masses) / (sum(masses) + sum(added))
    return [
        *each,
        f"wet-out of all plies = {' + '.join(map(sig, added))} = {sig(epoxy)} g",
        f"glass in the stack = Σw/Σ(w/ψ) = {sig(sum(masses))}/({sig(sum(masses))} + {sig(epoxy)}) = {sig(whole)}",
    ]


def _face_problems(area: Quantity | None, length: Quantity | None, width: Quantity | None) -> list[FieldProblem]:
    sides = {"length": length, "width": width}
    if area is None:
        return missing(sides, "missing", "enter length and width of the face, or its area")
    return [
        FieldProblem(name, "entered as well as the area", f"leave the {name} or the area blank")
        for name, side in sides.items()
        if side is not None
    ]


def _fill_problems(fill_coat: Quantity | None, fill_coats: int | None) -> list[FieldProblem]:
    if fill_coat is None and fill_coats:
        what = f"no weight entered for {fill_coats} fill coat{'s' if fill_coats > 1 else ''}"
        return [FieldProblem("fill_coat", what, f"enter the weight of one, usually {_FILL_COAT} (common practice)")]
    return []


def _face(area: Quantity | None, length: Quantity | None, width: Quantity | None) -> tuple[float, str]:
    """Return the area of the face in m² and its working line."""
    if length is not None and width is not None:
        m, n = length.value_in("m"), width.value_in("m")
        return m * n, f"face = {sig(m)} m × {sig(n)} m = {sig(m * n)} m²"
    assert area is not None
    return area.value_in("m²"), f"face = {sig(area.value_in('m²'))} m²"


def _cautions(contents: Sequence[float], seal: float, fill: float, extra: float, offcut: float, total: float) -> tuple[str, ...]:
    said = []
    glass = max(contents)
    if glass <= _BY_HAND.value:
        glass = min(contents)
    if glass > _BY_HAND.value:
        said.append(
            f"{sig(glass, 3)} % glass is more than careful hand work reaches (45 to 50 %, common practice): the cloth can stay "
            "dry; mix for 45 % unless you vacuum-bag it"
        )
    elif glass < _WET.value:
        said.append(
            f"{sig(glass, 3)} % glass is wetter than a first attempt usually is (35 to 40 %, common practice; chopped mat 25 "
            "to 30 %): if the cloth floats, squeegee off the epoxy that floats it; the extra adds weight and no strength"
        )
    if seal == 0 and fill == 0:
        said.append(
            f"No seal or fill coats included: sealing bare ply and filling the weave use more epoxy than wetting out the cloth; "
            f"enter a seal coat (usually {_SEAL_COAT}) and two or three fill coats (usually {_FILL_COAT} each; common practice)"
        )
    elif seal == 0:
        said.append(f"No seal coat included: bare ply or softwood soaks up {_SEAL_COAT} and starves the cloth (common practice)")
    elif fill == 0:
        said.append(f"No fill coats included: filling the weave usually takes two or three of {_FILL_COAT} (common practice)")
    if extra == 0:
        said.append(f"No loss included: {_LOSS} stays in cup, roller and squeegee (common practice); enter 10 % loss")
    if offcut == 0:
        said.append("No trim included: cloth cut to the exact size frays and falls short; enter 10 % trim (common practice)")
    if total > _BIG_POT.value:
        said.append(
            f"{total:.0f} g is the total for all coats, and mixed in one pot it would go off early: mix coat by coat, "
            "in small pots (the potlife calculator says how long each lasts)"
        )
    return tuple(said)


CALCULATOR = Calculator(
    name="laminate", title="Glass cloth and epoxy for one face",
    inputs=(
        Field("area", "Area of the face", Measure("m²", low=0.0001, high=500, soft_low=0.01, soft_high=30),
            help="Enter this, or length and width."),
        Field("length", "Length of the face", Measure("mm", low=1, high=50_000, soft_low=50, soft_high=6_000)),
        Field("width", "Width of the face", Measure("mm", low=1, high=50_000, soft_low=50, soft_high=3_000)),
        Field("cloth", "Cloth weight, one dry ply", _CLOTH,
            help="As sold, in g/m² or oz/yd²: 6 oz/yd² is 203 g/m².", required=True),
        Field("plies", "Plies of this cloth", Count(1, 50), default="1"),
        Field("other_plies", "Plies of other cloth", _PLIES,
            help="How many of each weight: 2@300. Add =30 for mat that ends up at 30 % glass."),
        Field("glass_content", "Glass in the laminate, by mass", _CONTENT,
            help="45, 45 % or 0.45. Flat cloth by hand: 45 to 50 % with care, 35 to 40 % the first time (common practice).",
            default="45 %"),
        Field("seal_coat", "Seal coat on the bare face", Measure("g/m²", low=0, high=1_000, soft_high=300),
            help=f"Usually {_SEAL_COAT} on bare ply (common practice).", default="0 g/m²"),
        Field("fill_coat", "One fill coat over the weave", Measure("g/m²", low=1, high=1_000, soft_low=50, soft_high=200),
            help=f"Usually {_FILL_COAT} (common practice)."),
        Field("fill_coats", "Number of fill coats", Count(0, 20), help="Blank: one, if a fill coat is entered."),
        Field("trim", "Extra cloth to trim off", Measure("%", low=0, high=200, soft_high=50),
            help="As a share of the face. Usually 10 % on flat panels (common practice).", default="0 %"),
        Field("loss", "Extra epoxy for losses", Measure("%", low=0, high=100, soft_high=30),
            help=f"As a share of all coats. {_LOSS} stays in cup, roller and squeegee (common practice).", default="0 %"),
        Field("roll_width", "Roll width", Measure("mm", above=0, high=5_000, soft_low=100, soft_high=2_000),
            help="Enter it to see the strips to cut, along the face, and the cloth to buy. All plies come off this roll."),
        Field("overlap", "Overlap at a seam", Measure("mm", low=0, high=1_000, soft_high=150),
            help=f"Between strips off the roll: {SEAM:g} mm or more (common practice).", default=f"{SEAM:g} mm"),
        Field("glass_density", "Density of the glass", Measure("g/mL", low=1, high=4, soft_low=2.4, soft_high=2.7),
            help="Typical for E-glass: 2.54 to 2.56 g/mL.", default="2.56 g/mL"),
        Field("epoxy_density", "Density of the cured epoxy", Measure("g/mL", low=0.8, high=2.5, soft_low=1.05, soft_high=1.3),
            help="Typical: 1.10 to 1.20 g/mL; your data sheet comes first.", default="1.20 g/mL"),
    ),
    outputs=(
        Output("mix", "Epoxy to mix, all coats, losses included", "g", 0),
        Output("wet_out", "Epoxy to wet out the cloth, before losses", "g", 0),
        Output("seal", "Epoxy for the seal coat, before losses", "g", 0),
        Output("fill", "Epoxy for all fill coats, before losses", "g", 0),
        Output("cloth_mass", "Cloth weight, trim included", "g", 0),
        Output("cloth_area", "Cloth area, trim included", "m²", 2),
        Output("thickness", "Laminate thickness, without seal and fill coats", "mm", 2),
        Output("fibre_volume", "Glass fraction by volume", "", 3),
        Output("areal_weight", "Laminate weight, glass and its epoxy", "g/m²", 0),
        Output("density", "Laminate density", "g/mL", 2),
        Output("weight_added", "Weight added, with seal and fill coats", "g/m²", 0),
        Output("film", "Thickness of all fill coats together", "mm", 2),
        Output("glass", "Glass by mass, all plies", "%", 1),
        Output("strips", "Strips per ply", "", 0),
        Output("ply_area", "Cloth per ply, with overlaps, before trim", "m²", 2),
        Output("cloth_length", "Length off the roll, all plies, trim included", "m", 2),
    ),
    source=(
        Source("thickness, fibre volume, density: rule of mixtures on masses and densities", "computed"),
        Source("same thickness as ISO 12215-5 annex C, from a public transcription of its formula (secondary)", "read"),
        Source("glass content, coat weights, trim and loss: trade habit; your data sheet and your scale come first",
            "common practice"),
        Source("E-glass 2.54 to 2.56, cured epoxy 1.10 to 1.20 g/mL: typical, your data sheet comes first", "memory"),
    ),
    valid="For a laminate without voids, 10 to 80 % glass by mass. Plies of different cloth add up by mass and thickness: the "
    "glass content of a stack is Σw/Σ(w/ψ), never the average. Hand laminates contain a few per cent of air and come out a "
    "little thicker.",
    examples=(
        Example({"length": "2.4 m", "width": "1.2 m", "cloth": "200 g/m²", "glass_content": "45 %", "seal_coat": "120 g/m²",
            "fill_coat": "110 g/m²", "fill_coats": "2", "trim": "10 %", "loss": "10 %"}, {"cloth_mass": 633.6, "wet_out": 774.4,
            "seal": 345.6, "fill": 633.6, "mix": 1928.96, "weight_added": 784.44, "film": 0.183333},
            Source("quantities for one face of a 1.2 × 2.4 m panel, from common coat weights: arithmetic", "computed"),
            rel=1e-3),
        Example({"area": "1 m²", "cloth": "0.3 kg/m²", "glass_content": "0.30"}, {"thickness": 0.700521},
            Source("t = w/3.072 (2.56/ψ − 1.36) of ISO 12215-5 annex C, from a public transcription (secondary), for mat",
            "computed"), rel=1e-3),
        Example({"length": "2.44 m", "width": "1.22 m", "cloth": "300 g/m²", "glass_content": "30 %", "other_plies": "1@600=48",
            "roll_width": "1000 mm"}, {"glass": 40.0, "strips": 2, "cloth_length": 9.76,
            "cloth_area": 6.1976, "ply_area": 3.0988},
            Source("300 g/m² mat at 30 % with 600 g/m² cloth at 48 %: 900/(300/0.30 + 600/0.48) = 0.40; two strips of 2.44 m "
            "cover 1950 mm", "computed")),
        Example({"area": "1 m²", "cloth": "6 oz/yd²", "glass_content": "50"}, {"cloth_mass": 203.0, "areal_weight": 406.0},
            Source("public table of weights and measures: 6.0 oz/yd² = 203 g/m²; with as much epoxy, twice that",
            "read"), abs=2.0,
            rel=0),
    ),
    asked=("length", "width", "plies"), stock=Stock("cloth", {"cloth": "areal_weight", "roll_width": "roll_width"}),
    compute=_compute, thresholds=(_BY_HAND, _WET, _BIG_POT),
)  # fmt: skip
