"""Resin, hardener and filler for one pot, by weight: grams, scale readings, and how far the scale can throw the ratio off."""

from __future__ import annotations

from collections.abc import Mapping

from shopmate import units
from shopmate.calculator import (
    Answer,
    Calculator,
    Choice,
    Example,
    Field,
    Measure,
    Output,
    RatioKind,
    Source,
    Stock,
    Threshold,
    Value,
)
from shopmate.errors import FieldProblem
from shopmate.models import fillers, mixing
from shopmate.models.constants import NOISE
from shopmate.models.fields import given, in_unit, missing, refuse, round_up
from shopmate.models.pot import BIG_POT, BIG_POT_SOURCE
from shopmate.records import dataclass
from shopmate.units import Quantity, Ratio
from shopmate.units import significant as sig

_SCALES = Source("a common bench scale reads whole grams, the finest on a bench 0.01 g", "common practice")
_ORDER = Source("common epoxies use less hardener than resin: more hardener means the two are swapped", "common practice")

_USUAL_TOLERANCE = Threshold(
    mixing.USUAL_TOLERANCE, "%", mixing.TOLERANCE_SOURCE, "is wider than the usual", "tolerance", "5 %", "5.01 %"
)
_WHOLE_GRAM = Threshold(1.0, "g", _SCALES, "a scale that reads whole grams", "", "79.7 g", "79.6 g", "total")
"""Step of a common bench scale, assumed where no scale step is entered."""
_FINEST_STEP = Threshold(0.01, "g", _SCALES, "on a scale with a step of 0.01 g", "", "0.797 g", "0.796 g", "total")
_BIG_POT = Threshold(BIG_POT, "g", BIG_POT_SOURCE, "in one pot heats up", "total", "500 g", "500.1 g")
_SWAPPED = Threshold(100.0, "", _ORDER, "more hardener than resin", "phr", "1:1 by weight", "100:100.5 by weight", "ratio")
_LOWEST_PHR = Threshold(
    mixing.LOWEST_PHR, "", mixing.PHR_SOURCE, "no epoxy mixes like that", "phr", "100:1 by weight", "100:0.99 by weight", "ratio"
)
_HIGHEST_PHR = Threshold(
    mixing.HIGHEST_PHR, "", mixing.PHR_SOURCE, "no epoxy mixes like that", "phr", "1:10 by weight", "1:10.01 by weight", "ratio"
)


@dataclass(frozen=True, slots=True)
class _Pot:
    """Resin, hardener and filler in one pot, g, the reading of the empty pot, and the tolerance on the hardener."""

    resin: float
    hardener: float
    filler: float | None
    tare: float
    allowed: float
    """Tolerance in % of the hardener, not of the batch: of the batch it would be several times as many grams."""

    @property
    def epoxy(self) -> float:
        """Resin and hardener together, g."""
        return self.resin + self.hardener

    @property
    def total(self) -> float:
        """Resin, hardener and filler together, g."""
        return self.epoxy + (self.filler or 0.0)

    @property
    def span(self) -> tuple[float, float]:
        """Minimum and maximum hardener allowed, g."""
        return self.hardener * (1 - self.allowed / 100), self.hardener * (1 + self.allowed / 100)

    @property
    def gram_error(self) -> float:
        """How far a scale that reads whole grams can throw the ratio off, in %."""
        return mixing.reading_error(self.resin, self.hardener, _WHOLE_GRAM.value)

    def smallest(self, step: float) -> int:
        """Return the smallest batch of epoxy, in whole g, that a scale with that step (g) weighs within the tolerance."""
        return round_up(self.epoxy * step / self.step_needed)

    @property
    def step_needed(self) -> float:
        """The coarsest scale step, g, that keeps this pot within the tolerance."""
        return mixing.finest_needed(self.resin, self.hardener, self.allowed)


def _compute(
    *,
    ratio: Ratio,
    total: Quantity | None,
    resin: Quantity | None,
    hardener: Quantity | None,
    total_volume: Quantity | None,
    resin_density: Quantity | None,
    hardener_density: Quantity | None,
    filler: str | None,
    filler_loading: Quantity | None,
    tare: Quantity,
    scale_step: Quantity | None,
    tolerance: Quantity,
    hardener_poured: Quantity | None,
    scale_reading: Quantity | None,
) -> Answer:
    amounts = {"total": total, "resin": resin, "hardener": hardener, "total_volume": total_volume}
    refuse(
        *_one_amount(amounts),
        *_densities_for(total_volume, {"resin_density": resin_density, "hardener_density": hardener_density}),
        *mixing.density_problems(ratio, {"resin_density": resin_density, "hardener_density": hardener_density}),
        *_loading_for(filler, filler_loading),
        *_poured_with(resin, hardener_poured, scale_reading),
    )
    densities = in_unit(resin_density, "g/mL"), in_unit(hardener_density, "g/mL")
    per_resin = mixing.per_resin(ratio, *densities)
    refuse(*mixing.ratio_problems(ratio, per_resin * 100))
    working, off = _ratio_line(ratio, per_resin, densities)
    if total_volume is not None:
        amounts["total"] = weighed = _weighed(total_volume.value_in("mL"), per_resin, densities)
        density = weighed.value_in("g") / total_volume.value_in("mL")
        working.append(f"total = {sig(total_volume.value_in('mL'))} mL × {density:.5f} g/mL = {weighed.value_in('g'):.2f} g")
    r, h, lines = _amounts(amounts, per_resin)
    working += lines
    loading = in_unit(filler_loading, "%")
    pot = _Pot(r, h, None if loading is None else (r + h) * loading / 100, tare.value_in("g"), tolerance.value_in("%"))
    if loading is not None and pot.filler is not None:
        working.append(f"filler = {pot.epoxy:.2f} g mixed epoxy × {sig(loading)} % = {pot.filler:.2f} g, stirred in after mixing")
    working += _readings(pot)
    step = in_unit(scale_step, "g")
    error = None if step is None else mixing.reading_error(r, h, step)
    if step is not None and error is not None:
        working.append(
            f"ratio error from the scale = ({h:.2f} g + {sig(step)} g)/{h:.2f} g ÷ (1 − {sig(step)} g/(2 × {r:.2f} g)) − 1 "
            f"= {error:.2f} %"
        )
    poured = in_unit(hardener_poured, "g")
    if scale_reading is not None:
        poured, line = _poured_by(scale_reading.value_in("g"), pot.tare, r)
        working.append(line)
    poured_error = None if poured is None else (poured / h - 1) * 100
    if poured is not None:
        working.append(f"hardener poured ÷ hardener needed − 1 = {poured:.2f} g ÷ {h:.2f} g − 1 = {poured_error:+.2f} %")
    volume = _volume(pot, densities, filler)
    if volume is not None:
        working.append(
            f"volume = Σ mass ÷ density (particle density for the filler) = {volume:.2f} mL, without any air stirred in"
        )
    fixed = h if hardener is not None else poured
    enough, (low, high) = mixing.scale_step(pot.step_needed), pot.span
    add_resin, add_hardener = (0.0, 0.0) if poured is None else (max(0.0, poured / per_resin - r), max(0.0, h - poured))
    values: dict[str, Value | float | None] = {
        "resin": r,
        "hardener": h,
        "filler": pot.filler,
        "total": pot.total,
        "phr": per_resin * 100,
        "scale_resin": pot.tare + r,
        "scale_hardener": pot.tare + pot.epoxy,
        "scale_filler": None if pot.filler is None else pot.tare + pot.total,
        "hardener_low": low,
        "hardener_high": high,
        "scale_low": pot.tare + r + low,
        "scale_high": pot.tare + r + high,
        **_topped(pot.tare, fixed, per_resin, pot.allowed),
        "hardener_in": fixed,
        "ratio_error": error,
        "hardener_error": None if step is None else step / h * 100,
        "volume": volume,
        "density": None if volume is None else pot.total / volume,
        "poured_error": poured_error,
        "as_it_stands": off,
        "gram_error": pot.gram_error,
        "step_enough": max(enough, _FINEST_STEP.value),
        "least_epoxy": None if step is None else float(pot.smallest(step)),
        "least_fine": float(pot.smallest(_FINEST_STEP.value)),
        "add_resin": None if poured is None else add_resin,
        "add_hardener": None if poured is None else add_hardener,
        "poured_verdict": None if poured_error is None else _verdict(poured_error, pot.allowed),
    }
    return Answer(
        values,
        tuple(working),
        (
            *_poured_cautions(poured_error, pot.allowed, (add_resin, add_hardener)),
            *_ratio_cautions(per_resin * 100, pot.allowed),
            *_scale_cautions(pot, enough, scale_step, error),
            *_filler_cautions(filler, filler_loading),
            *_pot_cautions(pot.epoxy),
            mixing.KEEP_RATIO,
        ),
    )


def _poured_with(resin: Quantity | None, hardener: Quantity | None, reading: Quantity | None) -> list[FieldProblem]:
    """Return what is wrong with the entry for the hardener poured, in grams or as a scale reading."""
    poured = {"hardener_poured": hardener, "scale_reading": reading}
    if resin is None:
        return given(poured, "can't be checked until the resin in the pot is entered", _ENTER_RESIN)
    if hardener is None:
        return []
    return given({"scale_reading": reading}, "entered as well as the hardener poured", "clear one of the two")


def _poured_by(reading: float, tare: float, resin: float) -> tuple[float, str]:
    """Return the hardener (g) that a scale reading (g) shows over cup and resin, never below zero, with its working."""
    if reading < tare + resin:
        return (
            0.0,
            f"hardener poured: none, since {reading:.2f} g is less than the cup and the resin together, {tare + resin:.2f} g",
        )
    return reading - tare - resin, f"hardener poured = {reading:.2f} − {tare:.2f} − {resin:.2f} = {reading - tare - resin:.2f} g"


def _topped(tare: float, hardener: float | None, per_resin: float, allowed: float) -> dict[str, Value | float | None]:
    """Return the scale reading, g, with the right resin for the hardener (g) in the pot, and the lowest and highest allowed.

    At the lowest and the highest, the hardener is off by `allowed` % of what that resin needs.
    """
    if hardener is None:
        return dict.fromkeys(("topped", "topped_low", "topped_high"))
    shares = {"topped": 0.0, "topped_low": allowed, "topped_high": -allowed}
    return {name: tare + hardener + hardener / (per_resin * (1 + share / 100)) for name, share in shares.items()}


_ENTER_RESIN = "enter the resin in the pot, in place of the mixed epoxy or the hardener to use up"
"""What to do where the hardener poured is entered without the resin."""


_AMOUNTS = {"total": "mixed epoxy", "resin": "resin in the pot", "hardener": "hardener to use up", "total_volume": "volume"}
"""The amounts a pot can be worked out from, by field, in words."""


def _one_amount(amounts: Mapping[str, Quantity | None]) -> list[FieldProblem]:
    names = [name for name, amount in amounts.items() if amount is not None]
    if not names:
        return [FieldProblem("total", "no amount entered", "enter one: mixed epoxy by weight or by volume, resin, or hardener")]
    others = {name: amounts[name] for name in names[1:]}
    why = f"entered as well as the {_AMOUNTS[names[0]]}"
    return given(others, why, "enter one amount only; the others are worked out from it")


def _densities_for(volume: Quantity | None, densities: Mapping[str, Quantity | None]) -> list[FieldProblem]:
    if volume is None:
        return []
    return missing(densities, "needed to weigh out a volume", "enter it from the data sheet, or enter the mixed epoxy by weight")


def _weighed(volume: float, per_resin: float, densities: tuple[float | None, float | None]) -> Quantity:
    """Return the weight in g of `volume` mL of mixed epoxy; the volumes of resin and hardener add up."""
    resin, hardener = (density or 1.0 for density in densities)
    return Quantity(volume * (1 + per_resin) / (1 / resin + per_resin / hardener), "g")


def _loading_for(filler: str | None, loading: Quantity | None) -> list[FieldProblem]:
    if filler is None or loading is not None:
        return []
    row = fillers.row(filler)
    usual = ", ".join(f"{row[f'{name}_low_g']} to {row[f'{name}_high_g']} {name}" for name in fillers.CONSISTENCIES)
    return [FieldProblem("filler_loading", f"no amount of {filler} entered", f"enter % of the mixed epoxy: usually {usual}")]


def _ratio_line(ratio: Ratio, per_resin: float, densities: tuple[float | None, float | None]) -> tuple[list[str], float | None]:
    """Return the working line for hardener per 100 g of resin, and the error in % of weighing out the volume ratio."""
    a, b = mixing.parts(ratio)
    if ratio.basis == "weight":
        return [f"hardener per 100 g resin = 100 × {b}/{a} = {per_resin * 100:.2f} g"], None
    resin, hardener = (sig(density or 0.0) for density in densities)
    off = (float(ratio.b / ratio.a) / per_resin - 1) * 100
    line = f"hardener per 100 g resin = 100 × ({b} × {hardener})/({a} × {resin}) = {per_resin * 100:.2f} g"
    return [f"{line}; {a}:{b} weighed out would be {_too(off)}" if round(off, 1) else line], off


def _too(percent: float) -> str:
    """Return how far the hardener is off, in words."""
    return f"{abs(percent):.1f} % too {'much' if percent > 0 else 'little'} hardener"


def _amounts(amounts: Mapping[str, Quantity | None], per_resin: float) -> tuple[float, float, list[str]]:
    """Return resin and hardener in g from the one amount entered, with the working lines."""
    total, resin, hardener = (in_unit(amounts[name], "g") for name in ("total", "resin", "hardener"))
    if resin is not None:
        h = resin * per_resin
        return resin, h, [f"hardener = {resin:.2f} g resin in the pot × {per_resin:.6f} = {h:.2f} g"]
    if hardener is not None:
        r = hardener / per_resin
        return r, hardener, [f"resin = {hardener:.2f} g hardener ÷ {per_resin:.6f} = {r:.2f} g"]
    assert total is not None
    r = total / (1 + per_resin)
    h = r * per_resin
    return (
        r,
        h,
        [f"resin = {total:.2f} g ÷ (1 + {per_resin:.6f}) = {r:.2f} g", f"hardener = {r:.2f} g × {per_resin:.6f} = {h:.2f} g"],
    )


def _readings(pot: _Pot) -> list[str]:
    """Return the working lines for the scale reading after each part and for the hardener allowed."""
    t, r, h = pot.tare, pot.resin, pot.hardener
    lines = [
        f"scale after resin = {t:.2f} + {r:.2f} = {t + r:.2f} g",
        f"scale after hardener = {t + r:.2f} + {h:.2f} = {t + pot.epoxy:.2f} g",
    ]
    if pot.filler is not None:
        lines.append(f"scale after filler = {t + pot.epoxy:.2f} + {pot.filler:.2f} = {t + pot.total:.2f} g")
    return [*lines, f"hardener ±{sig(pot.allowed)} %: {pot.span[0]:.2f} to {pot.span[1]:.2f} g"]


def _volume(pot: _Pot, densities: tuple[float | None, float | None], filler: str | None) -> float | None:
    """Return the volume of the pot in mL, None when a density is missing.

    A heap of filler is mostly air, so the density of its particles counts, not that of the heap.
    """
    resin, hardener = densities
    if resin is None or hardener is None or (pot.filler is not None and filler is None):
        return None
    epoxy = pot.resin / resin + pot.hardener / hardener
    return epoxy if filler is None or pot.filler is None else epoxy + pot.filler / float(fillers.row(filler)["particle_g_ml"])


def _verdict(poured_error: float, allowed: float) -> str:
    # Floats round in the last digit: a pot exactly at the tolerance still counts as within.
    if abs(poured_error) <= allowed + NOISE:
        return "within"
    return "too much hardener" if poured_error > 0 else "too little hardener"


def _poured_cautions(poured_error: float | None, allowed: float, to_add: tuple[float, float]) -> list[str]:
    """Return how to correct a pot that is off its ratio; `to_add` is the resin and the hardener to add, g."""
    if poured_error is None or _verdict(poured_error, allowed) == "within":
        return []
    resin, hardener = to_add
    add = f"{_grams(resin)} g of resin" if poured_error > 0 else f"{_grams(hardener)} g of hardener"
    return [
        f"{_too(poured_error)}, and {sig(allowed)} % is allowed: add {add} and stir it in now, while the pot is fresh, or throw "
        "the pot away; off ratio it stays soft or sticky"
    ]


def _grams(mass: float) -> str:
    """Return g as text to 0.1 g, and below 1 g to two digits so that a small amount never prints as 0."""
    return f"{mass:.1f}" if mass >= 1 else sig(mass, 2)


def _ratio_cautions(phr: float, allowed: float) -> list[str]:
    said = []
    if phr > _SWAPPED.value:
        said.append("more hardener than resin: check that the ratio names the resin first")
    if allowed > _USUAL_TOLERANCE.value:
        said.append(
            f"a tolerance of {sig(allowed)} % is wider than the usual {_USUAL_TOLERANCE.value:g} %: use it only if the data "
            "sheet allows it"
        )
    return said


def _scale_cautions(pot: _Pot, enough: float, scale_step: Quantity | None, error: float | None) -> list[str]:
    finest = _FINEST_STEP.value
    finer = f"use a scale with a step of {units.show_number(enough)} g or finer"
    if enough < finest:
        finer = f"mix at least {pot.smallest(finest)} g on a scale with a step of {finest} g"
    if error is not None and scale_step is not None and error > pot.allowed:
        return [
            f"a scale step of {units.show(scale_step)} can throw the ratio {error:.1f} % off, more than the "
            f"{sig(pot.allowed)} % allowed: mix at least {pot.smallest(scale_step.value_in('g'))} g of epoxy, or {finer}"
        ]
    if scale_step is None and pot.gram_error > pot.allowed * (1 + NOISE):
        return [
            f"only {_grams(pot.hardener)} g of hardener: a scale that reads whole grams can throw the ratio {pot.gram_error:.1f} "
            f"% off, and {sig(pot.allowed)} % is allowed: {finer}, and don't round the reading"
        ]
    return []


def _filler_cautions(filler: str | None, loading: Quantity | None) -> list[str]:
    if loading is None:
        return []
    said = [
        fillers.DUST,
        "stir filler into MIXED epoxy only; the pot life runs from the first drop of hardener, not from the filler",
    ]
    if filler is None:
        return said
    row = fillers.row(filler)
    highest = fillers.usual(row, "non-sag")[1]
    said += fillers.fairing_only(row)
    if loading.value_in("%") > highest:
        said.append(
            f"{units.show(loading)} {filler} is more than the {highest:g} % that usually makes a non-sag mix (common practice, "
            "±50 %): the mix may be too dry to wet the panel"
        )
    if row["silica_low_g"]:
        said.append(
            f"{filler} alone settles: add {row['silica_low_g']} to {row['silica_high_g']} g fumed silica per 100 g of mixed "
            "epoxy (common practice)"
        )
    return said


def _pot_cautions(epoxy: float) -> list[str]:
    if epoxy <= _BIG_POT.value:
        return []
    return [
        f"{epoxy:.0f} g in one pot heats up, may smoke and goes off early (common practice): split it, or pour it out into "
        "a tray at once; the potlife calculator says how long you have"
    ]


_MASS = Measure("g", low=0.01, high=50_000, soft_low=5, soft_high=1_000)
"""Range of weights for one pot."""

CALCULATOR = Calculator(
    name="mix", title="One pot: grams of resin, hardener and filler",
    inputs=(
        Field("ratio", "Mix ratio, resin first", RatioKind(), help="From the data sheet: 100:45 by weight, or 2:1 by volume.",
            required=True),
        Field("total", "Mixed epoxy needed, without filler", _MASS,
            help="Resin and hardener together. Enter this, or the resin, or the hardener."),
        Field("resin", "Resin in the pot", _MASS, help="Poured too much? Enter what is in the pot to get the hardener for it."),
        Field("hardener", "Hardener to use up", _MASS, help="Enter it to get the resin that goes with it."),
        Field("total_volume", "Mixed epoxy needed, by volume", Measure("mL", above=0, high=20_000),
            help="For cups and pumps marked in mL; needs both densities."),
        Field("resin_density", "Resin density", mixing.RESIN_DENSITY,
            help="From the data sheet; a ratio by volume needs it. Typical: 1.10 to 1.18 g/mL."),
        Field("hardener_density", "Hardener density", mixing.HARDENER_DENSITY,
            help="From the data sheet; a ratio by volume needs it. Typical: 0.93 to 1.03 g/mL."),
        Field("filler", "Filler", Choice(fillers.names)),
        Field("filler_loading", "Filler, % of the mixed epoxy by weight", Measure("%", low=0.1, high=300, soft_low=1,
            soft_high=60), help="30 % is 30 g per 100 g of mixed epoxy."),
        Field("tare", "Scale reading, empty pot", Measure("g", low=0, high=20_000, soft_high=500),
            help="0 if you zeroed the scale with the pot on it.", default="0 g"),
        Field("scale_step", "Scale step", Measure("g", low=0.001, high=100, soft_high=5)),
        Field("tolerance", "Hardener tolerance, ± % of the hardener", Measure("%", low=0.1, high=25, soft_low=1,
            soft_high=10), help="Usually 5 % (common practice); some data sheets say 2 %.", default="5 %"),
        Field("hardener_poured", "Hardener poured", Measure("g", low=0.001, high=50_000),
            help="To check a pot already poured: enter the resin too, and see how far off it is and what to add."),
        Field("scale_reading", "Scale reading, hardener poured", Measure("g", low=0.01, high=70_000),
            help="In place of the hardener poured: what the scale reads with resin and hardener in the pot."),
    ),
    outputs=(
        Output("scale_resin", "Scale reads after resin", "g", 1),
        Output("scale_hardener", "Scale reads after hardener", "g", 1),
        Output("scale_filler", "Scale reads after filler", "g", 1),
        Output("resin", "Resin", "g", 1),
        Output("hardener", "Hardener", "g", 1),
        Output("filler", "Filler", "g", 1),
        Output("total", "Total weight, filler included", "g", 1),
        Output("phr", "Hardener per 100 of resin by weight", "", 2),
        Output("hardener_low", "Minimum hardener", "g", 1),
        Output("hardener_high", "Maximum hardener", "g", 1),
        Output("scale_low", "Minimum scale reading after hardener", "g", 1),
        Output("scale_high", "Maximum scale reading after hardener", "g", 1),
        Output("hardener_in", "Hardener in the pot", "g", 1),
        Output("topped", "Scale reading with resin topped up to match", "g", 1),
        Output("topped_low", "Minimum scale reading with resin topped up", "g", 1),
        Output("topped_high", "Maximum scale reading with resin topped up", "g", 1),
        Output("ratio_error", "Ratio error from this scale, up to ±", "%", 1),
        Output("hardener_error", "Hardener error from this scale, up to ±", "%", 1),
        Output("volume", "Volume without air", "mL", 0),
        Output("density", "Density without air", "g/mL", 2),
        Output("poured_error", "Hardener off by", "%", 1),
        Output("poured_verdict", "Verdict on the pot"),
        Output("add_resin", "Resin to add", "g", 1),
        Output("add_hardener", "Hardener to add", "g", 1),
        Output("step_enough", "Coarsest scale step for this pot", "g", 2),
        Output("least_epoxy", "Smallest batch on this scale", "g", 0),
        Output("least_fine", "Smallest batch on a 0.01 g scale", "g", 0),
        Output("gram_error", "Ratio error on a whole-gram scale, up to ±", "%", 1),
        Output("as_it_stands", "Hardener error if you weigh out the volume ratio", "%", 1),
    ),
    source=(
        Source("phr = 100·Vh·ρh/(Vr·ρr); resin = batch/(1 + phr/100); scale readings add up: arithmetic of masses", "computed"),
        Source("don't change the ratio to change the cure speed: FAA AC 43.13-1B par. 1-5, epoxy caution", "read"),
        Source("tolerance of 5 % on the hardener; filler amounts in the table of fillers: typical, your data sheet comes first",
            "common practice"),
        Source("densities of resin, hardener and filler particles: typical, your data sheet comes first", "memory"),
    ),
    valid="Two-part epoxy: resin first, then hardener on the same scale without zeroing it in between, filler last, into the "
    "mixed epoxy. Volumes leave out cure shrinkage, which is small, and air stirred in (3 to 10 % in a thick mix). The data "
    "sheet's ratio overrides everything here. Polyester and its catalyst are not covered.",
    examples=(
        Example({"ratio": "100:45 by weight", "total": "150 g", "tare": "12 g"}, {"resin": 103.45, "hardener": 46.55,
            "scale_resin": 115.45, "scale_hardener": 162.00, "scale_low": 159.67, "scale_high": 164.33, "phr": 45},
            Source("batch split 150/1.45 and running scale readings: arithmetic", "computed"), abs=0.005, rel=0),
        Example({"ratio": "2:1 by volume", "total": "80 g", "tare": "9.5 g", "resin_density": "1.15", "hardener_density": "0.97"},
            {"phr": 42.1739, "resin": 56.2691, "hardener": 23.7309, "scale_resin": 65.7691, "scale_hardener": 89.5,
            "density": 1.09, "as_it_stands": 18.55670},
            Source("volume ratio to weight by densities; 2 mL at 1.15 and 1 mL at 0.97 weigh 3.27 g",
            "computed"), rel=1e-5),
        Example({"ratio": "2:1 by volume", "total_volume": "150 mL", "resin_density": "1.15", "hardener_density": "0.97"},
            {"resin": 115.0, "hardener": 48.5, "volume": 150.0},
            Source("100 mL of resin and 50 mL of hardener by their densities", "computed"), rel=1e-6),
        Example({"ratio": "100:45 by weight", "total": "100 g", "resin_density": "1.10", "hardener_density": "1.10",
            "filler": "fumed silica", "filler_loading": "6 %"}, {"filler": 6.0, "total": 106.0, "volume": 93.6364,
            "density": 1.13204}, Source("rule of mixtures: 100 g epoxy at 1.10 with 6 g silica at 2.2 g/mL", "computed"),
            rel=1e-4),
        Example({"ratio": "100:20 by weight", "total": "20 g", "scale_step": "1 g"},
            {"hardener": 3.33333, "ratio_error": 34.02062, "least_epoxy": 133},
            Source("4.33333 g hardener to 16.16667 g resin in place of 3.33333 to 16.66667: arithmetic", "computed"), rel=1e-5),
        Example({"ratio": "1:1 by weight", "total": "100 g", "scale_step": "1 g"}, {"ratio_error": 3.030303},
            Source("51 g hardener to 49.5 g resin in place of 50 to 50: arithmetic", "computed"), rel=1e-5),
        Example({"ratio": "100:45 by weight", "resin": "200 g", "hardener_poured": "80 g"}, {"hardener": 90.0,
            "poured_error": -11.11111, "add_hardener": 10.0, "add_resin": 0.0},
            Source("200 g of resin needs 90 g of hardener, 10 g more than the 80 g poured: arithmetic", "computed"), rel=1e-5),
        Example({"ratio": "100:50 by weight", "resin": "100 g", "tare": "10 g", "scale_reading": "170 g"}, {"hardener_in": 60.0,
            "poured_error": 20.0, "add_resin": 20.0, "topped": 190.0, "topped_low": 184.2857, "topped_high": 196.3158},
            Source("60 g of hardener needs 120 g of resin, and is 5 % over with 120/1.05 g, 5 % under with 120/0.95 g",
            "computed"), rel=1e-6),
        Example({"ratio": "100:45 by weight", "hardener": "45 g"}, {"resin": 100.0, "total": 145.0, "gram_error": 2.735902,
            "step_enough": 1.0, "least_fine": 1.0},
            Source("46 g to 99.5 g in place of 45 to 100; 5 % of 45 g ÷ (1 + 1.05 × 45/200) = 1.82 g, a step of 1 g: arithmetic",
            "computed"), rel=1e-5),
    ),
    asked=("total|resin|hardener|total_volume", "filler", "filler_loading"),
    stock=Stock("resin", mixing.FIGURES),
    compute=_compute, thresholds=(_USUAL_TOLERANCE, _WHOLE_GRAM, _FINEST_STEP, _BIG_POT, _SWAPPED, _LOWEST_PHR, _HIGHEST_PHR),
)  # fmt: skip
