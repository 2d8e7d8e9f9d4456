"""Resin, hardener and filler of one pot, by weight: amounts, scale readings, and what the scale's step does to the ratio."""

from __future__ import annotations

from collections.abc import Mapping

from shopmate import units
from shopmate.calculator import Answer, Calculator, Choice, Example, Field, Measure, Output, RatioKind, Source, Threshold, Value
from shopmate.errors import FieldProblem
from shopmate.models import fillers, mixing
from shopmate.models.constants import NOISE
from shopmate.models.fields import given, in_unit, missing, refuse, round_up
from shopmate.models.pot import BIG_POT, BIG_POT_SOURCE
from shopmate.records import dataclass
from shopmate.units import Quantity, Ratio
from shopmate.units import significant as sig

_SCALES = Source("whole grams are the steps of a common bench scale, 0.01 g those of the finest at a bench", "common practice")
_ORDER = Source("a common epoxy takes less hardener than resin: more is an order turned round", "common practice")

_USUAL_TOLERANCE = Threshold(
    mixing.USUAL_TOLERANCE, "%", mixing.TOLERANCE_SOURCE, "is wider than the usual", "tolerance", "5 %", "5.01 %"
)
_WHOLE_GRAM = Threshold(1.0, "g", _SCALES, "a scale in whole grams can be", "", "79.7 g", "79.6 g", "total")
"""Step of a common bench scale, taken to judge a small pot when no step is given: allowed is one step on the hardener."""
_FINEST_STEP = Threshold(0.01, "g", _SCALES, "on a scale with a step of 0.01 g", "", "0.797 g", "0.796 g", "total")
_BIG_POT = Threshold(BIG_POT, "g", BIG_POT_SOURCE, "in one pot warms itself", "total", "500 g", "500.1 g")
_MOST_HARDENER = Threshold(100.0, "", _ORDER, "more hardener than resin", "phr", "1:1 by weight", "100:100.5 by weight", "ratio")
_LEAST_PHR = Threshold(
    mixing.LEAST_PHR, "", mixing.PHR_SOURCE, "which no epoxy takes", "phr", "100:1 by weight", "100:0.99 by weight", "ratio"
)
_MOST_PHR = Threshold(
    mixing.MOST_PHR, "", mixing.PHR_SOURCE, "which no epoxy takes", "phr", "1:10 by weight", "1:10.01 by weight", "ratio"
)


@dataclass(frozen=True, slots=True)
class _Pot:
    """What one pot holds, in g, and what its hardener may be off."""

    resin: float
    hardener: float
    filler: float | None
    tare: float
    allowed: float
    """Tolerance on the hardener, in % of it: the same percentage of the batch would be several times as much."""

    @property
    def epoxy(self) -> float:
        """Resin and hardener."""
        return self.resin + self.hardener

    @property
    def total(self) -> float:
        """All that is in the pot."""
        return self.epoxy + (self.filler or 0.0)

    @property
    def span(self) -> tuple[float, float]:
        """The least and the most hardener allowed."""
        return self.hardener * (1 - self.allowed / 100), self.hardener * (1 + self.allowed / 100)

    @property
    def gram_error(self) -> float:
        """How far a scale in whole grams can put the ratio off, in %."""
        return mixing.reading_error(self.resin, self.hardener, _WHOLE_GRAM.value)

    def least(self, step: float) -> int:
        """Return the epoxy from which a scale of that step (g) keeps the hardener within the tolerance, in whole g."""
        return round_up(self.epoxy * step / self.step_needed)

    @property
    def step_needed(self) -> float:
        """The step in g that the scale may have at the most."""
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
) -> Answer:
    amounts = {"total": total, "resin": resin, "hardener": hardener, "total_volume": total_volume}
    refuse(
        *_one_amount(amounts),
        *_densities_for(total_volume, {"resin_density": resin_density, "hardener_density": hardener_density}),
        *mixing.density_problems(ratio, {"resin_density": resin_density, "hardener_density": hardener_density}),
        *_loading_for(filler, filler_loading),
        *([] if resin else given({"hardener_poured": hardener_poured}, "needs the resin really poured", _GIVE_RESIN)),
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
            f"ratio off by the scale = ({h:.2f} g + {sig(step)} g)/{h:.2f} g ÷ (1 − {sig(step)} g/(2 × {r:.2f} g)) − 1 "
            f"= {error:.2f} %"
        )
    poured = in_unit(hardener_poured, "g")
    poured_error = None if poured is None else (poured / h - 1) * 100
    if poured is not None:
        working.append(f"hardener poured = {poured:.2f} g ÷ {h:.2f} g − 1 = {poured_error:+.2f} %")
    volume = _volume(pot, densities, filler)
    if volume is not None:
        working.append(f"volume = Σ mass ÷ density (particle density for the filler) = {volume:.2f} mL, without stirred-in air")
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
        "ratio_error": error,
        "hardener_error": None if step is None else step / h * 100,
        "volume": volume,
        "density": None if volume is None else pot.total / volume,
        "poured_error": poured_error,
        "as_it_stands": off,
        "gram_error": pot.gram_error,
        "step_enough": max(enough, _FINEST_STEP.value),
        "least_epoxy": None if step is None else float(pot.least(step)),
        "least_fine": float(pot.least(_FINEST_STEP.value)),
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


_GIVE_RESIN = "give resin= in place of total or hardener"
"""What to do where only the hardener poured is known."""


def _one_amount(amounts: Mapping[str, Quantity | None]) -> list[FieldProblem]:
    names = [name for name, amount in amounts.items() if amount is not None]
    if not names:
        return [FieldProblem("total", "no amount given", "give one of total, resin, hardener or total_volume")]
    others = {name: amounts[name] for name in names[1:]}
    return given(others, f"given beside {names[0]}", "give only one of total, resin or hardener; the others follow from it")


def _densities_for(volume: Quantity | None, densities: Mapping[str, Quantity | None]) -> list[FieldProblem]:
    if volume is None:
        return []
    return missing(densities, "nothing given, and total_volume needs it", "give it from the data sheet, or the total as a mass")


def _weighed(volume: float, per_resin: float, densities: tuple[float | None, float | None]) -> Quantity:
    """Return the mass in g of so many mL of mixed epoxy: the volumes of resin and hardener add up."""
    resin, hardener = (density or 1.0 for density in densities)
    return Quantity(volume * (1 + per_resin) / (1 / resin + per_resin / hardener), "g")


def _loading_for(filler: str | None, loading: Quantity | None) -> list[FieldProblem]:
    if filler is None or loading is not None:
        return []
    row = fillers.row(filler)
    usual = ", ".join(f"{row[f'{name}_low_g']} to {row[f'{name}_high_g']} {name}" for name in fillers.CONSISTENCIES)
    return [FieldProblem("filler_loading", f"nothing given for {filler}", f"give % of the mixed epoxy, commonly {usual}")]


def _ratio_line(ratio: Ratio, per_resin: float, densities: tuple[float | None, float | None]) -> tuple[list[str], float | None]:
    """Return the working of the hardener to 100 g of resin, and how far, in %, a ratio by volume is off when it is weighed."""
    a, b = mixing.parts(ratio)
    if ratio.basis == "weight":
        return [f"hardener per 100 g resin = 100 × {b}/{a} = {per_resin * 100:.2f} g"], None
    resin, hardener = (sig(density or 0.0) for density in densities)
    off = (float(ratio.b / ratio.a) / per_resin - 1) * 100
    return [
        f"hardener per 100 g resin = 100 × ({b} × {hardener})/({a} × {resin}) = {per_resin * 100:.2f} g; "
        f"weighing {a}:{b} as it stands would be {off:+.1f} % hardener"
    ], off


def _amounts(amounts: Mapping[str, Quantity | None], per_resin: float) -> tuple[float, float, list[str]]:
    """Return resin and hardener in g from the one amount given, and their working."""
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
    """Return the working of what the scale reads after each part, and of what the hardener may be off."""
    t, r, h = pot.tare, pot.resin, pot.hardener
    lines = [
        f"scale after resin = {t:.2f} + {r:.2f} = {t + r:.2f} g",
        f"scale after hardener = {t + r:.2f} + {h:.2f} = {t + pot.epoxy:.2f} g",
    ]
    if pot.filler is not None:
        lines.append(f"scale after filler = {t + pot.epoxy:.2f} + {pot.filler:.2f} = {t + pot.total:.2f} g")
    return [*lines, f"hardener within ±{sig(pot.allowed)} % of itself: {pot.span[0]:.2f} to {pot.span[1]:.2f} g"]


def _volume(pot: _Pot, densities: tuple[float | None, float | None], filler: str | None) -> float | None:
    """Return the volume in mL by adding volumes; None when a density is not known. A heap of filler is mostly air,
    so its particle density counts, not its bulk density."""
    resin, hardener = densities
    if resin is None or hardener is None or (pot.filler is not None and filler is None):
        return None
    epoxy = pot.resin / resin + pot.hardener / hardener
    return epoxy if filler is None or pot.filler is None else epoxy + pot.filler / float(fillers.row(filler)["particle_g_ml"])


def _verdict(poured_error: float, allowed: float) -> str:
    # A weight typed to the gram carries rounding in its last binary digit: the limit itself is still within.
    if abs(poured_error) <= allowed + NOISE:
        return "within"
    return "too much hardener" if poured_error > 0 else "too little hardener"


def _poured_cautions(poured_error: float | None, allowed: float, to_add: tuple[float, float]) -> list[str]:
    """Return what puts a pot right that is off its ratio; `to_add` are the g of resin and of hardener."""
    if poured_error is None or _verdict(poured_error, allowed) == "within":
        return []
    resin, hardener = to_add
    cure = f"stir in {resin:.2f} g more resin" if poured_error > 0 else f"stir in {hardener:.2f} g more hardener"
    return [
        f"hardener is {abs(poured_error):.1f} % {'over' if poured_error > 0 else 'under'}, outside the "
        f"{sig(allowed)} % allowed: {cure} now, while it is fresh, or throw the pot away; off ratio it stays soft or sticky"
    ]


def _ratio_cautions(phr: float, allowed: float) -> list[str]:
    said = []
    if phr > _MOST_HARDENER.value:
        said.append("more hardener than resin: check the order of the ratio, resin comes first")
    if allowed > _USUAL_TOLERANCE.value:
        said.append(
            f"a tolerance of {sig(allowed)} % is wider than the usual {_USUAL_TOLERANCE.value:g} %: only if the data sheet "
            "says so"
        )
    return said


def _scale_cautions(pot: _Pot, enough: float, scale_step: Quantity | None, error: float | None) -> list[str]:
    finest = _FINEST_STEP.value
    finer = f"use a scale with a step of {units.show_number(enough)} g or finer"
    if enough < finest:
        finer = f"mix at least {pot.least(finest)} g on a scale with a step of {finest} g"
    if error is not None and scale_step is not None and error > pot.allowed:
        return [
            f"a scale step of {units.show(scale_step)} can put the ratio {error:.1f} % off, more than the "
            f"{sig(pot.allowed)} % allowed: mix at least {pot.least(scale_step.value_in('g'))} g of epoxy, or {finer}"
        ]
    if scale_step is None and pot.gram_error > pot.allowed * (1 + NOISE):
        return [
            f"{pot.hardener:.2f} g of hardener: a scale in whole grams can be {pot.gram_error:.1f} % off the ratio, more than "
            f"the {sig(pot.allowed)} % allowed: {finer}, and do not round the reading"
        ]
    return []


def _filler_cautions(filler: str | None, loading: Quantity | None) -> list[str]:
    if loading is None:
        return []
    said = [
        fillers.DUST,
        "stir the filler into MIXED epoxy only, and count the pot life from first contact of resin and hardener",
    ]
    if filler is None:
        return said
    row = fillers.row(filler)
    most = fillers.usual(row, "non-sag")[1]
    said += fillers.fairing_only(row)
    if loading.value_in("%") > most:
        said.append(
            f"{units.show(loading)} {filler} is more than the {most:g} % that is commonly non-sag (common practice, ±50 %): "
            "it may be too dry to wet the panel"
        )
    if row["silica_low_g"]:
        said.append(
            f"{filler} settles by itself: commonly {row['silica_low_g']} to {row['silica_high_g']} g fumed silica per 100 g "
            "mixed epoxy goes with it (common practice)"
        )
    return said


def _pot_cautions(epoxy: float) -> list[str]:
    if epoxy <= _BIG_POT.value:
        return []
    return [
        f"{epoxy:.0f} g in one pot warms itself, may smoke and goes off early (common practice): split it or pour it into a tray "
        "at once; see potlife"
    ]


_MASS = Measure("g", low=0.01, high=50_000, soft_low=5, soft_high=1_000)
"""What one pot holds."""

CALCULATOR = Calculator(
    name="mix", title="One pot: resin, hardener, filler",
    inputs=(
        Field("ratio", "Mix ratio, resin first", RatioKind(), help="As on the data sheet, with by weight or by volume.",
            required=True),
        Field("total", "Mixed epoxy wanted: resin and hardener, no filler", _MASS, help="Give one of total, resin, hardener."),
        Field("resin", "Resin really in the pot", _MASS, help="Poured too much? Give what is in the pot: the hardener follows."),
        Field("hardener", "Hardener to be used up", _MASS, help="The resin follows from it."),
        Field("total_volume", "or mixed epoxy as a volume", Measure("mL", above=0, high=20_000),
            help="As cups and pumps measure it; needs both densities."),
        Field("resin_density", "Density of the resin", mixing.RESIN_DENSITY,
            help="From the data sheet; needed for a ratio by volume. Typical: 1.10 to 1.18 g/mL."),
        Field("hardener_density", "Density of the hardener", mixing.HARDENER_DENSITY,
            help="From the data sheet; needed for a ratio by volume. Typical: 0.93 to 1.03 g/mL."),
        Field("filler", "Filler", Choice(fillers.names)),
        Field("filler_loading", "Filler, % of the mixed epoxy by weight", Measure("%", low=0.1, high=300, soft_low=1,
            soft_high=60), help="30 % is 30 g to 100 g of mixed epoxy."),
        Field("tare", "Reading of the scale with the empty pot", Measure("g", low=0, high=20_000, soft_high=500),
            help="0 when the scale was zeroed with the pot on it.", default="0 g"),
        Field("scale_step", "Smallest step of the scale", Measure("g", low=0.001, high=100, soft_high=5)),
        Field("tolerance", "Tolerance on the hardener, % of the hardener", Measure("%", low=0.1, high=25, soft_low=1,
            soft_high=10), help="Usual: 5 % (common practice); some data sheets say 2 %.", default="5 %"),
        Field("hardener_poured", "Hardener really poured, to check a pot", Measure("g", low=0.001, high=50_000),
            help="With resin: says how far the pot is off its ratio and what puts it right."),
    ),
    outputs=(
        Output("scale_resin", "Scale reads after resin", "g", 1),
        Output("scale_hardener", "Scale reads after hardener", "g", 1),
        Output("scale_filler", "Scale reads after filler", "g", 1),
        Output("resin", "Resin", "g", 1),
        Output("hardener", "Hardener", "g", 1),
        Output("filler", "Filler", "g", 1),
        Output("total", "Whole pot, filler included", "g", 1),
        Output("phr", "Hardener per 100 parts of resin by weight", "", 2),
        Output("hardener_low", "Least hardener allowed", "g", 1),
        Output("hardener_high", "Most hardener allowed", "g", 1),
        Output("scale_low", "Least the scale may read after hardener", "g", 1),
        Output("scale_high", "Most the scale may read after hardener", "g", 1),
        Output("ratio_error", "Ratio can be off by the scale's step, ±", "%", 1),
        Output("hardener_error", "Hardener alone can be off, ±", "%", 1),
        Output("volume", "Volume of the pot, without air", "mL", 0),
        Output("density", "Density of the pot, without air", "g/mL", 2),
        Output("poured_error", "Hardener poured, off by", "%", 1),
        Output("poured_verdict", "Pot as poured"),
        Output("add_resin", "To put it right: resin", "g", 1),
        Output("add_hardener", "To put it right: hardener", "g", 1),
        Output("step_enough", "Scale step that is fine enough", "g", 2),
        Output("least_epoxy", "Least epoxy for this scale", "g", 0),
        Output("least_fine", "Least epoxy on the finest scale", "g", 0),
        Output("gram_error", "Off on a scale in whole grams, ±", "%", 1),
        Output("as_it_stands", "Off when weighed by the volume ratio", "%", 1),
    ),
    source=(
        Source("phr = 100·Vh·ρh/(Vr·ρr); resin = batch/(1 + phr/100); readings add up: arithmetic of masses", "computed"),
        Source("do not change the ratio to change the speed: FAA AC 43.13-1B par. 1-5, epoxy caution", "read"),
        Source("tolerance of 5 % on the ratio; loadings in the table of fillers; typical: use your data sheet",
            "common practice"),
        Source("densities of resin, hardener and filler particles quoted as typical: use your data sheet", "memory"),
    ),
    valid="Two-part epoxy, resin weighed first, hardener second on the same scale without taring between, filler last into the "
    "mixed epoxy. Volumes add without the small shrinkage of cure and without stirred-in air (3 to 10 % in a thick mix). The "
    "data sheet's ratio stands above everything here; polyester and its catalyst are another matter.",
    examples=(
        Example({"ratio": "100:45 by weight", "total": "150 g", "tare": "12 g"}, {"resin": 103.45, "hardener": 46.55,
            "scale_resin": 115.45, "scale_hardener": 162.00, "scale_low": 159.67, "scale_high": 164.33, "phr": 45},
            Source("batch split and cumulative readings by arithmetic: 150/1.45", "computed"), abs=0.005, rel=0),
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
            Source("4.33333 g on 16.16667 g in place of 3.33333 on 16.66667: arithmetic", "computed"), rel=1e-5),
        Example({"ratio": "1:1 by weight", "total": "100 g", "scale_step": "1 g"}, {"ratio_error": 3.030303},
            Source("51 g on 49.5 g in place of 50 on 50: arithmetic", "computed"), rel=1e-5),
        Example({"ratio": "100:45 by weight", "resin": "200 g", "hardener_poured": "80 g"}, {"hardener": 90.0,
            "poured_error": -11.11111, "add_hardener": 10.0, "add_resin": 0.0},
            Source("200 g of resin take 90 g of hardener, 10 more than the 80 poured: arithmetic", "computed"), rel=1e-5),
        Example({"ratio": "100:45 by weight", "hardener": "45 g"}, {"resin": 100.0, "total": 145.0, "gram_error": 2.735902,
            "step_enough": 1.0, "least_fine": 1.0},
            Source("46 g on 99.5 g in place of 45 on 100; 5 % of 45 g ÷ (1 + 1.05 × 45/200) = 1.82 g, a step of 1 g: arithmetic",
            "computed"), rel=1e-5),
    ),
    compute=_compute, thresholds=(_USUAL_TOLERANCE, _WHOLE_GRAM, _FINEST_STEP, _BIG_POT, _MOST_HARDENER, _LEAST_PHR, _MOST_PHR),
)  # fmt: skip
