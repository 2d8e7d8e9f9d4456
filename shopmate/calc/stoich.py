"""The hardener a resin needs, from the equivalent weights of both, and the equivalent weight that a data-sheet ratio implies."""

from __future__ import annotations

import re
from collections.abc import Mapping
from fractions import Fraction

from shopmate import units
from shopmate.calculator import Answer, Calculator, Count, Example, Field, Measure, Output, RatioKind, Source, Threshold, Value
from shopmate.errors import EntryError, FieldProblem
from shopmate.models import mixing
from shopmate.models.fields import given, refuse, together
from shopmate.records import dataclass
from shopmate.units import Quantity, Ratio
from shopmate.units import significant as sig

_MOST_PARTS = 10
"""Maximum parts in a blend; no label names more [common practice]. No Threshold needed: it limits what may be typed."""

_MOST_WEIGHT = 100_000
"""Parts by weight, or grams, above which a part is a typing slip (our choice). No Threshold needed: it limits what may be
typed."""

_AMINES = Source("diethylenetriamine, 103/5 = 20.6 g/eq: an adhesives text; it is the lightest common hardener", "memory")

_LIGHTEST = Threshold(
    20.6, "g/eq", _AMINES, "below that of the lightest", "implied_ahew", "100:9.857 by weight", "100:9.856 by weight", "ratio"
)
_USUAL_TOLERANCE = Threshold(
    mixing.USUAL_TOLERANCE,
    "%",
    mixing.TOLERANCE_SOURCE,
    "hardener than the equivalent weights give",
    "off_even",
    "100:21.6 by weight",
    "100:21.61 by weight",
    "ratio",
)

_PART = re.compile(r"(.+?)\s*(?:@|\bof\b)\s*(.+)", re.IGNORECASE)
_INERT = re.compile(r"(.+?)\s*inert", re.IGNORECASE)
_NAMES = re.compile(r"@|\bof\b|inert", re.IGNORECASE)

_EEW = Measure("g/eq", low=50, high=10_000, soft_low=120, soft_high=600)
"""Epoxide equivalent weight: liquid bisphenol resins 182 to 192, reactive diluents from 120, solid resins above 450 [memory]."""


_AHEW = Measure("g/eq", low=10, high=2_000, soft_low=20, soft_high=300)
"""Amine hydrogen equivalent weight: diethylenetriamine 20.6, polyamides some hundreds [memory]."""


@dataclass(frozen=True, slots=True)
class _Blend:
    """Parts by weight, each with its equivalent weight or inert, such as '80 of 189, 10 of 183, 10 inert'."""

    weight: Measure
    """Range of the equivalent weight of a part."""
    like: str
    """An example of a blend."""

    def read(self, text: str) -> str:
        return ", ".join(
            f"{units.show_number(weight)} {'inert' if eew is None else f'of {units.show_number(eew)}'}"
            for weight, eew in self.parts(text)
        )

    def parts(self, text: str) -> tuple[tuple[Fraction, Fraction | None], ...]:
        """Return (parts by weight, equivalent weight in g/eq or None when inert) of each part; EntryError as for `read`."""
        pieces = [piece for piece in re.split(r"\s*[;+]\s*|,\s+", text.strip().rstrip(",;")) if piece]
        if len(pieces) > _MOST_PARTS:
            raise EntryError(f"the blend has {len(pieces)} parts", f"enter {_MOST_PARTS} or fewer")
        parts = tuple(map(self._part, pieces))
        if all(eew is None for _, eew in parts):
            raise EntryError("no part of the blend has an equivalent weight", f"enter one that has, such as {self.like}")
        return parts

    def describe(self, unit: str = "") -> str:
        return f"parts by weight, each with its g/eq or 'inert', such as {self.like}"

    def _part(self, piece: str) -> tuple[Fraction, Fraction | None]:
        if len(_NAMES.findall(piece)) > 1:
            raise EntryError(f"'{piece}' contains more than one part", "put a semicolon between the parts")
        if match := _INERT.fullmatch(piece):
            return self._grams(match[1]), None
        if match := _PART.fullmatch(piece):
            return self._grams(match[1]), Fraction(self.weight.read(match[2]).value)
        raise EntryError(f"'{piece}' has no equivalent weight", f"write it like this: {self.like}")

    @staticmethod
    def _grams(text: str) -> Fraction:
        weight = units.parse_number(text)
        if not 0 < weight <= _MOST_WEIGHT:
            raise EntryError(
                f"parts must be above 0 and no more than {_MOST_WEIGHT}, not {text}", "enter parts by weight, such as 80"
            )
        return weight


_RESINS = _Blend(_EEW, "80 of 189, 10 of 183, 10 inert")
_HARDENERS = _Blend(_AHEW, "60 of 43, 30 of 95, 10 inert")


def _compute(
    *,
    eew: Quantity | None,
    blend: str | None,
    ahew: Quantity | None,
    hardener_blend: str | None,
    molar_mass: Quantity | None,
    active_hydrogens: int | None,
    ratio: Ratio | None,
) -> Answer:
    amine_given = {"molar_mass": molar_mass, "active_hydrogens": active_hydrogens}
    refuse(*_problems({"eew": eew, "blend": blend}, {"ahew": ahew, "hardener_blend": hardener_blend}, amine_given, ratio))
    working: list[str] = []
    if blend is not None:
        resin, inert, line = _blended(_RESINS, blend, "EEW")
        working.append(line)
    else:
        assert eew is not None
        resin, inert = eew.value_in("g/eq"), 0.0
    values: dict[str, Value | float | None] = dict.fromkeys(
        ("phr", "even_ratio", "ahew", "implied_ahew", "amine_ratio", "off_even")
    )
    values |= {"eew": resin, "inert": inert}
    cautions: list[str] = []

    amine, values["hardener_inert"], lines = _amine(ahew, hardener_blend, molar_mass, active_hydrogens)
    working += lines
    if amine is not None:
        # One active hydrogen per epoxide: equal equivalents, so masses are in proportion to the equivalent weights.
        phr = 100 * amine / resin
        values |= {"ahew": amine, "phr": phr, "even_ratio": f"100:{units.show_number(phr, 2)} by weight"}
        working.append(f"hardener per 100 parts resin = 100 × AHEW/EEW = 100 × {sig(amine)}/{sig(resin)} = {phr:.2f}")
    if ratio is not None:
        sheet = 100 * float(ratio.b / ratio.a)
        implied = sheet * resin / 100
        values["implied_ahew"], off = implied, None
        working.append(
            f"AHEW implied by {ratio} = {sig(sheet)} × EEW/100 = {sig(sheet)} × {sig(resin)}/100 = {sig(implied)} g/eq"
        )
        if amine is not None:
            values["amine_ratio"], off = implied / amine, (implied / amine - 1) * 100
            working.append(
                f"active hydrogens per epoxide at {ratio} = {sig(implied)}/{sig(amine)} = {implied / amine:.3f} (1 is balanced)"
            )
        values["off_even"] = off
        cautions += _sheet_cautions(ratio, implied, off)
    if inert:
        cautions.append(
            f"the blend is {sig(inert)} % inert, and the hardener is per 100 parts of the whole blend. Leave out any filler "
            "that you stir into the mixed epoxy later"
        )
    if hardener_blend is not None:
        cautions.append(
            "blend only hardeners that the data sheets allow with each other and with this resin, weigh the blend as one "
            "hardener, and time a small pot: the pot life is not worked out here (common practice)"
        )
    if molar_mass is not None:
        cautions.append(
            "a neat amine burns skin and eyes and can make you allergic for life: wear gloves and goggles, work in fresh air, "
            "and follow its safety data sheet"
        )
    if amine is not None:
        cautions.append(
            "the data-sheet ratio overrides this one: makers set it by test, and it often differs on purpose for a blended, "
            "part-reacted or catalysed hardener. Without a data sheet for both, don't use it in a joint that carries load"
        )
    return Answer(values, tuple(working), (*cautions, mixing.KEEP_RATIO))


def _amine(
    ahew: Quantity | None, hardener_blend: str | None, molar_mass: Quantity | None, active_hydrogens: int | None
) -> tuple[float | None, float | None, list[str]]:
    """Return the AHEW in g/eq, the inert share of a blend in %, and the working; None if not known."""
    if hardener_blend is not None:
        found, inert, line = _blended(_HARDENERS, hardener_blend, "AHEW")
        return found, inert, [line]
    if molar_mass is not None and active_hydrogens is not None:
        mass = molar_mass.value_in("g/mol")
        found = mass / active_hydrogens
        return found, None, [f"AHEW = M ÷ active hydrogens = {sig(mass, 5)}/{active_hydrogens} = {sig(found)} g/eq"]
    return (None if ahew is None else ahew.value_in("g/eq")), None, []


def _blended(kind: _Blend, blend: str, name: str) -> tuple[float, float, str]:
    """Return the equivalent weight in g/eq of a blend, its inert share in %, and the working.

    EW = Σw/Σ(w/EW): inert parts count in the first sum and not in the second (public coatings note, 2022 [read]; for
    hardeners by the same sums [computed]).
    """
    parts = kind.parts(blend)
    whole = sum(weight for weight, _ in parts)
    equivalents = sum(weight / each for weight, each in parts if each is not None)
    inert = sum(weight for weight, each in parts if each is None)
    terms = " + ".join(f"{sig(weight)}/{sig(each)}" for weight, each in parts if each is not None)
    found = float(whole / equivalents)
    line = f"{name} of the blend = Σw ÷ Σ(w/{name}) = {sig(whole)} ÷ ({terms}) = {sig(found)} g/eq"
    return found, float(100 * inert / whole), line


def _problems(
    resin: Mapping[str, object], hardener: Mapping[str, object], amine: Mapping[str, object], ratio: Ratio | None
) -> list[FieldProblem]:
    """Return what is missing or entered twice for the resin and the hardener."""
    found = []
    if all(value is None for value in resin.values()):
        fix = f"enter the EEW from the data sheet, or the parts of the blend as {_RESINS.describe()}"
        found.append(FieldProblem("eew", "no resin entered", fix))
    if all(value is not None for value in resin.values()):
        fix = "enter either the EEW or the blend, because a blend has its own EEW"
        found.append(FieldProblem("blend", "entered together with the EEW", fix))
    if all(value is not None for value in hardener.values()):
        fix = "enter either the AHEW or the parts of the blended hardener, because a blend has its own AHEW"
        found.append(FieldProblem("hardener_blend", "entered together with the AHEW", fix))
    named = next((name for name, value in hardener.items() if value is not None), None)
    if named is None:
        found += together(amine, "only one of the two is entered", "enter both the molar mass and the active hydrogens")
    else:
        title = "the AHEW" if named == "ahew" else "a blended hardener"
        found += given(
            amine, f"entered together with {title}", f"enter {title} alone, or the molar mass and active hydrogens instead"
        )
    if all(value is None for value in (resin["blend"], *hardener.values(), *amine.values(), ratio)):
        fix = "enter the AHEW, a blended hardener, the molar mass and active hydrogens, or the data-sheet ratio"
        found.append(FieldProblem("ahew", "no hardener entered", fix))
    return found + _ratio_problems(ratio)


def _ratio_problems(ratio: Ratio | None) -> list[FieldProblem]:
    """Return what is wrong with the data-sheet ratio."""
    if ratio is None:
        return []
    if ratio.basis == "volume":
        fix = "enter the ratio by weight; the mix calculator converts one by volume, if you have both densities"
        return [FieldProblem("ratio", "this ratio is by volume, and equivalent weights need one by weight", fix)]
    return mixing.ratio_problems(ratio, 100 * float(ratio.b / ratio.a))


def _sheet_cautions(ratio: Ratio, implied: float, off: float | None) -> list[str]:
    """Return cautions on the data-sheet ratio; `off` is its extra hardener above a balanced ratio, in %."""
    said = []
    if implied < _LIGHTEST.value:
        said.append(
            f"an AHEW of {sig(implied)} g/eq is below that of the lightest common hardener ({_LIGHTEST.value:g}): check that "
            "the ratio is by weight with resin first. If it is, the hardener is a catalyst and has no AHEW"
        )
    if off is not None and abs(off) > _USUAL_TOLERANCE.value:
        said.append(
            f"{ratio} has {abs(off):.0f} % {'more' if off > 0 else 'less'} hardener than the equivalent weights give, outside "
            f"the usual {_USUAL_TOLERANCE.value:g} % (common practice): either one figure is for another product, or the maker "
            "means it that way. Mix as the data sheet says and ask the maker; do not use this figure to correct the ratio"
        )
    return said


_NOTE = "a public coatings note (2022) and the same example in a one-page handout: 80 of EEW 189, 10 of 183, 10 filler"
"""Source of the worked blend [read]."""

CALCULATOR = Calculator(
    name="stoich", title="Hardener per 100 parts of resin, from equivalent weights",
    inputs=(
        Field("eew", "EEW of the resin", _EEW, help="Epoxide equivalent weight, from the data sheet."),
        Field("blend", "Parts of a blended resin", _RESINS,
            help="Instead of the EEW: parts by weight with the EEW of each, such as 80 of 189; 10 inert for a filler."),
        Field("ahew", "AHEW of the hardener", _AHEW, help="Amine hydrogen equivalent weight, from the data sheet."),
        Field("hardener_blend", "Parts of a blended hardener", _HARDENERS,
            help="Instead of the AHEW: parts by weight with the AHEW of each, such as 60 of 43; 10 inert for a thinner."),
        Field("molar_mass", "Molar mass of the amine", Measure("g/mol", low=30, high=10_000, soft_low=60, soft_high=2_000),
            help="For a pure amine, together with its active hydrogens. Use these two instead of the AHEW."),
        Field("active_hydrogens", "Active hydrogens", Count(1, 20),
            help="Count the hydrogens on the nitrogens, not the nitrogens: 5 in diethylenetriamine, 6 in triethylenetetramine."),
        Field("ratio", "Data-sheet ratio", RatioKind(),
            help="By weight, resin first. Enter it to see the AHEW it implies, and how that compares with yours."),
    ),
    outputs=(
        Output("phr", "Hardener per 100 parts resin", "", 2),
        Output("implied_ahew", "AHEW implied by the ratio", "g/eq", 1),
        Output("even_ratio", "Balanced ratio"),
        Output("amine_ratio", "Active hydrogens per epoxide", "", 3),
        Output("eew", "EEW of the resin", "g/eq", 1),
        Output("ahew", "AHEW of the hardener", "g/eq", 1),
        Output("off_even", "Extra hardener in the data-sheet ratio", "%", 0),
        Output("inert", "Inert part of the resin", "%", 1),
        Output("hardener_inert", "Inert part of the hardener", "%", 1),
    ),
    source=(
        Source("phr = 100·AHEW/EEW, AHEW = M ÷ active hydrogens: a public guide to epoxy calculations", "read"),
        Source("EEW of a blend = Σw/Σ(w/EEW), inert parts in Σw only: public coatings note (2022)", "read"),
        Source("AHEW of a blend by the same sums, because equivalents add up", "computed"),
        Source("glass transition is highest at one active hydrogen per epoxide: abstract of a DSC paper", "read"),
        Source("don't change the ratio to change the cure speed: FAA AC 43.13-1B par. 1-5, epoxy caution", "read"),
        Source("5 % tolerance on the ratio; the data sheet overrides the calculated ratio", "common practice"),
    ),
    valid="Epoxy with a primary or secondary amine, one active hydrogen per epoxide, by weight. Not for tertiary amines and "
    "other catalysts, anhydrides or polymercaptans, which have no amine hydrogens to count. Use this to check a data sheet, or "
    "for a thinned or filled resin; the data-sheet ratio overrides it.",
    examples=(
        Example({"eew": "209", "ahew": "43"}, {"phr": 20.6}, Source(f"{_NOTE}; amine equivalent 43 gives 20.6", "read"), abs=0.05,
            rel=0),
        Example({"blend": "80 of 189, 10 of 183, 10 inert"}, {"eew": 209}, Source(_NOTE, "read"), abs=0.5, rel=0),
        Example({"eew": "200", "molar_mass": "103", "active_hydrogens": "5"}, {"ahew": 20.6, "phr": 10.3,
            "even_ratio": "100:10.30 by weight"},
            Source("an adhesives text (web copy): diethylenetriamine 103/5 = 20.6, 10.3 parts at EEW 200", "read"), abs=0.05,
            rel=0),
        Example({"eew": "185", "ratio": "100:45 by weight"}, {"implied_ahew": 83.25}, Source("arithmetic identity: 45 × 185/100",
            "computed"), rel=1e-9),
        Example({"eew": "200", "ahew": "50", "ratio": "100:30 by weight"},
            {"phr": 25, "implied_ahew": 60, "amine_ratio": 1.2, "off_even": 20},
            Source("30 × 200/100 is 60, 20 % more than 50: arithmetic", "computed")),
        Example({"eew": "190", "hardener_blend": "50 of 40, 40 of 100, 10 inert"}, {"ahew": 60.60606, "phr": 31.89793,
            "hardener_inert": 10},
            Source("100 g has 50/40 + 40/100 = 1.65 equivalents, 100/1.65 g each; 100 of resin has 100/190: arithmetic",
            "computed")),
    ),
    asked=("eew|blend", "ahew|hardener_blend"),
    compute=_compute, thresholds=(_LIGHTEST, _USUAL_TOLERANCE),
)  # fmt: skip
