"""Hardener that the equivalent weights of resin and amine ask for, and the equivalent weight a data sheet's ratio implies."""

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
"""Parts a blend can be made of; a label names no more [common practice]. No threshold: it bounds what may be typed."""

_MOST_WEIGHT = 100_000
"""Parts by weight, or grams, beyond which a part is a slip of the keys: ours. No threshold: it bounds what may be typed."""

_AMINES = Source("diethylenetriamine, 103/5 = 20.6 g/eq: an adhesives text; that it is the lightest common hardener", "memory")

_LIGHTEST = Threshold(
    20.6, "g/eq", _AMINES, "under that of the lightest", "implied_ahew", "100:9.857 by weight", "100:9.856 by weight", "ratio"
)
_USUAL_TOLERANCE = Threshold(
    mixing.USUAL_TOLERANCE,
    "%",
    mixing.TOLERANCE_SOURCE,
    "hardener than the equivalent weights ask for",
    "off_even",
    "100:21.6 by weight",
    "100:21.61 by weight",
    "ratio",
)

_PART = re.compile(r"(.+?)\s*(?:@|\bof\b)\s*(.+)", re.IGNORECASE)
_INERT = re.compile(r"(.+?)\s*inert", re.IGNORECASE)
_NAMES = re.compile(r"@|\bof\b|inert", re.IGNORECASE)

_EEW = Measure("g/eq", low=50, high=10_000, soft_low=120, soft_high=600)
"""Epoxide equivalent weight: liquid bisphenol resins about 182 to 192, thinners from 120, solid resins beyond 450 [memory]."""


_AHEW = Measure("g/eq", low=10, high=2_000, soft_low=20, soft_high=300)
"""Amine hydrogen equivalent weight: diethylenetriamine 20.6, polyamides some hundreds [memory]."""


@dataclass(frozen=True, slots=True)
class _Blend:
    """Parts by weight, each with its equivalent weight or inert, such as '80 of 189, 10 of 183, 10 inert'."""

    weight: Measure
    """What the equivalent weight of a part may be."""
    like: str
    """How one is written."""

    def read(self, text: str) -> str:
        return ", ".join(
            f"{units.show_number(weight)} {'inert' if eew is None else f'of {units.show_number(eew)}'}"
            for weight, eew in self.parts(text)
        )

    def parts(self, text: str) -> tuple[tuple[Fraction, Fraction | None], ...]:
        """Return (parts by weight, equivalent weight in g/eq or None when inert) of each; EntryError as for `read`."""
        pieces = [piece for piece in re.split(r"\s*[;+]\s*|,\s+", text.strip().rstrip(",;")) if piece]
        if len(pieces) > _MOST_PARTS:
            raise EntryError(f"{len(pieces)} parts in the blend", f"give {_MOST_PARTS} or fewer")
        parts = tuple(map(self._part, pieces))
        if all(eew is None for _, eew in parts):
            raise EntryError("no part of the blend has an equivalent weight", f"give at least one that has: {self.like}")
        return parts

    def describe(self, unit: str = "") -> str:
        return f"parts by weight, each of its g/eq or inert: {self.like}"

    def _part(self, piece: str) -> tuple[Fraction, Fraction | None]:
        if len(_NAMES.findall(piece)) > 1:
            raise EntryError(f"'{piece}' holds more than one part", "put a semicolon between the parts")
        if match := _INERT.fullmatch(piece):
            return self._grams(match[1]), None
        if match := _PART.fullmatch(piece):
            return self._grams(match[1]), Fraction(self.weight.read(match[2]).value)
        raise EntryError(f"'{piece}' does not say of what equivalent weight", f"write it so: {self.like}")

    @staticmethod
    def _grams(text: str) -> Fraction:
        weight = units.parse_number(text)
        if not 0 < weight <= _MOST_WEIGHT:
            raise EntryError(f"{text} parts is not above 0 and up to {_MOST_WEIGHT}", "give parts by weight, such as 80")
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
        # One active hydrogen to one epoxide: equivalents of both alike, so masses go as the equivalent weights.
        phr = 100 * amine / resin
        values |= {"ahew": amine, "phr": phr, "even_ratio": f"100:{units.show_number(phr, 2)} by weight"}
        working.append(f"hardener per 100 resin = 100 × AHEW/EEW = 100 × {sig(amine)}/{sig(resin)} = {phr:.2f}")
    if ratio is not None:
        sheet = 100 * float(ratio.b / ratio.a)
        implied = sheet * resin / 100
        values["implied_ahew"], off = implied, None
        working.append(
            f"AHEW that {ratio} implies = {sig(sheet)} × EEW/100 = {sig(sheet)} × {sig(resin)}/100 = {sig(implied)} g/eq"
        )
        if amine is not None:
            values["amine_ratio"], off = implied / amine, (implied / amine - 1) * 100
            working.append(
                f"active hydrogens to one epoxide at {ratio} = {sig(implied)}/{sig(amine)} = {implied / amine:.3f}; 1 is even"
            )
        values["off_even"] = off
        cautions += _sheet_cautions(ratio, implied, off)
    if inert:
        cautions.append(
            f"the blend counts {sig(inert)} % inert: the hardener is per 100 of the whole blend. Filler stirred into the mixed "
            "epoxy later is no part of it: leave that out here"
        )
    if hardener_blend is not None:
        cautions.append(
            "blend only hardeners that the maker's data sheets allow with each other and with this resin, weigh the blend as one "
            "hardener, and try a small pot: its pot life is not worked out here (common practice)"
        )
    if molar_mass is not None:
        cautions.append(
            "a neat amine burns skin and eyes and can make you allergic for life: gloves, goggles and fresh air, and follow its "
            "safety data sheet"
        )
    if amine is not None:
        cautions.append(
            "the data sheet's ratio outranks this one: makers set theirs by test, and a blended, part-reacted or catalysed "
            "hardener is often meant off it. Without a sheet for both, make no joint with it that carries a load"
        )
    return Answer(values, tuple(working), (*cautions, mixing.KEEP_RATIO))


def _amine(
    ahew: Quantity | None, hardener_blend: str | None, molar_mass: Quantity | None, active_hydrogens: int | None
) -> tuple[float | None, float | None, list[str]]:
    """Return the AHEW in g/eq, the inert share of a blend in %, and the working; None for what is not known."""
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

    EW = Σw/Σ(w/EW): inert parts weigh in the first sum and bring nothing to the second (public coatings note, 2022 [read]; of
    hardeners by the same count of equivalents [computed]).
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
    """Return what is wrong between the ways to name a resin and a hardener."""
    found = []
    if all(value is None for value in resin.values()):
        fix = f"give eew from the data sheet, or blend as {_RESINS.describe()}"
        found.append(FieldProblem("eew", "no resin given", fix))
    if all(value is not None for value in resin.values()):
        fix = "give one of eew or blend; a blend has its own equivalent weight"
        found.append(FieldProblem("blend", "given beside eew", fix))
    if all(value is not None for value in hardener.values()):
        fix = "give one of ahew or hardener_blend; a blend has its own equivalent weight"
        found.append(FieldProblem("hardener_blend", "given beside ahew", fix))
    named = next((name for name, value in hardener.items() if value is not None), None)
    if named is None:
        found += together(amine, "one of a pair is missing", "give molar_mass and active_hydrogens together")
    else:
        found += given(amine, f"given beside {named}", f"give {named} alone, or molar_mass and active_hydrogens without it")
    if all(value is None for value in (resin["blend"], *hardener.values(), *amine.values(), ratio)):
        fix = "give ahew, or hardener_blend, or molar_mass and active_hydrogens, or the data sheet's ratio"
        found.append(FieldProblem("ahew", "no hardener given", fix))
    return found + _ratio_problems(ratio)


def _ratio_problems(ratio: Ratio | None) -> list[FieldProblem]:
    """Return what is wrong with the data sheet's ratio."""
    if ratio is None:
        return []
    if ratio.basis == "volume":
        fix = "give the ratio by weight; mix turns a ratio by volume into one, with both densities"
        return [FieldProblem("ratio", "by volume, and equivalent weights are weights", fix)]
    return mixing.ratio_problems(ratio, 100 * float(ratio.b / ratio.a))


def _sheet_cautions(ratio: Ratio, implied: float, off: float | None) -> list[str]:
    """Return what to say of the sheet's ratio; `off` is its hardener above an even one, in %."""
    said = []
    if implied < _LIGHTEST.value:
        said.append(
            f"an AHEW of {sig(implied)} g/eq is under that of the lightest common hardener ({_LIGHTEST.value:g}): check that the "
            "ratio is by weight and resin first, or the hardener works as a catalyst and has no such figure"
        )
    if off is not None and abs(off) > _USUAL_TOLERANCE.value:
        said.append(
            f"{ratio} has {abs(off):.0f} % {'more' if off > 0 else 'less'} hardener than the equivalent weights ask for, beyond "
            f"the usual {_USUAL_TOLERANCE.value:g} % (common practice): either a figure belongs to another product, or the maker "
            "means it so. Mix by the data sheet and ask the maker; do not correct the ratio by this figure"
        )
    return said


_NOTE = "a public coatings note (2022) and the same example on a one-page sheet: 80 of EEW 189, 10 of 183, 10 filler"
"""Where the worked blend comes from [read]."""

CALCULATOR = Calculator(
    name="stoich", title="Hardener from equivalent weights",
    inputs=(
        Field("eew", "EEW of the resin", _EEW, help="Epoxide equivalent weight, from the data sheet."),
        Field("blend", "Parts of a blended resin", _RESINS,
            help="Parts by weight, each of its EEW, or inert (a filler in the resin). In place of eew."),
        Field("ahew", "AHEW of the hardener", _AHEW, help="Amine hydrogen equivalent weight, from the data sheet."),
        Field("hardener_blend", "Parts of a blended hardener", _HARDENERS,
            help="Parts by weight, each of its AHEW, or inert (a thinner without amine). In place of ahew."),
        Field("molar_mass", "Molar mass of the amine", Measure("g/mol", low=30, high=10_000, soft_low=60, soft_high=2_000),
            help="Of a pure amine, with its active hydrogens. In place of ahew."),
        Field("active_hydrogens", "Active hydrogens", Count(1, 20),
            help="Hydrogens on nitrogen, not nitrogens: 5 in diethylenetriamine, 6 in triethylenetetramine."),
        Field("ratio", "Data sheet's ratio", RatioKind(),
            help="By weight, resin first: gives the AHEW it implies, and compares where that is known."),
    ),
    outputs=(
        Output("phr", "Hardener per 100 resin", "", 2),
        Output("implied_ahew", "AHEW the ratio implies", "g/eq", 1),
        Output("even_ratio", "Even ratio"),
        Output("amine_ratio", "Hydrogens per epoxide", "", 3),
        Output("eew", "EEW of the resin", "g/eq", 1),
        Output("ahew", "AHEW of the hardener", "g/eq", 1),
        Output("off_even", "Ratio off the even one", "%", 0),
        Output("inert", "Inert part of the resin", "%", 1),
        Output("hardener_inert", "Inert part of the hardener", "%", 1),
    ),
    source=(
        Source("phr = 100·AHEW/EEW, AHEW = M ÷ active hydrogens: a public guide to epoxy calculations", "read"),
        Source("EEW of a blend = Σw/Σ(w/EEW), inert parts in Σw only: public coatings note (2022)", "read"),
        Source("AHEW of a blend by the same sums, for equivalents add up", "computed"),
        Source("glass transition is highest at one active hydrogen to one epoxide: abstract of a DSC paper", "read"),
        Source("do not change the ratio to change the speed: FAA AC 43.13-1B par. 1-5, epoxy caution", "read"),
        Source("5 % tolerance on the ratio; the data sheet overrides the calculated ratio", "common practice"),
    ),
    valid="Epoxy with a primary or secondary amine, one active hydrogen to one epoxide, by weight. Not for tertiary amines and "
    "other catalysts, anhydrides or polymercaptans, which have no amine hydrogens to count. To check a data sheet or to work out "
    "a thinned or filled resin; the data sheet's ratio stands above it.",
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
            Source("30 × 200/100 is 60, a fifth more than 50: arithmetic", "computed")),
        Example({"eew": "190", "hardener_blend": "50 of 40, 40 of 100, 10 inert"}, {"ahew": 60.60606, "phr": 31.89793,
            "hardener_inert": 10},
            Source("100 g hold 50/40 + 40/100 = 1.65 equivalents, 100/1.65 g each; 100 of resin hold 100/190: arithmetic",
            "computed")),
    ),
    asked=("eew|blend", "ahew|hardener_blend"),
    compute=_compute, thresholds=(_LIGHTEST, _USUAL_TOLERANCE),
)  # fmt: skip
