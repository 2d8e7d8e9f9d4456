"""Resin, hardener and filler of one pot, by weight: amounts, scale readings, and what the scale's step does to the ratio."""

from __future__ import annotations

import math
from collections.abc import Mapping

from shopmate import tables, units
from shopmate.calculator import Answer, Calculator, Choice, Example, Field, Measure, Output, RatioKind, Source, round_up
from shopmate.errors import FieldProblem, InputError
from shopmate.units import Quantity, Ratio
from shopmate.units import significant as sig

_USUAL_TOLERANCE = 5.0
"""Usual allowance on the hardener, in % of it; some data sheets give 2 %, some 10 % [common practice]."""

_WHOLE_GRAM = 1.0
"""Step in g of a common bench scale, taken to judge a small pot when no step is given [common practice]."""

_FINEST_STEP = 0.01
"""Finest step in g of a scale found at a bench [common practice]."""

_BIG_POT = 500.0
"""Mass of mixed epoxy in g over which one pot warms itself noticeably and goes off early [common practice]."""

_LEAST_PHR, _MOST_PHR = 1.0, 1000.0
"""Hardener in parts per 100 of resin by weight beyond which a ratio is a slip of the keys [memory: the lightest amines
take about 8 to 13, the heaviest polyamides about 150]."""

_KEEP_RATIO = (
    "keep the ratio of the data sheet: to go faster or slower take another hardener, never more or less of this one "
    "(FAA AC 43.13-1B par. 1-5)"
)
"""Said with every pot, as every pot tempts [read: the epoxy caution of that paragraph]."""

_CONSISTENCIES = ("brushable", "spreadable", "non-sag")
"""The consistencies the table of fillers gives loadings for."""


def _fillers() -> tuple[str, ...]:
    return tuple(row["filler"] for row in tables.load("fillers").rows)


def _row(filler: str) -> Mapping[str, str]:
    return tables.load("fillers").row("filler", filler)


def _compute(
    *,
    ratio: Ratio,
    total: Quantity | None,
    resin: Quantity | None,
    hardener: Quantity | None,
    resin_density: Quantity | None,
    hardener_density: Quantity | None,
    filler: str | None,
    filler_loading: Quantity | None,
    tare: Quantity,
    scale_step: Quantity | None,
    tolerance: Quantity,
    hardener_poured: Quantity | None,
) -> Answer:
    problems = [
        *_one_amount(total, resin, hardener),
        *_densities_for(ratio, resin_density, hardener_density),
        *_loading_for(filler, filler_loading),
        *_resin_for(hardener_poured, resin),
    ]
    if problems:
        raise InputError(*problems)
    rho_r = resin_density.value_in("g/mL") if resin_density else None
    rho_h = hardener_density.value_in("g/mL") if hardener_density else None
    per_resin, working = _hardener_per_resin(ratio, rho_r, rho_h)
    if not _LEAST_PHR <= per_resin * 100 <= _MOST_PHR:
        what = f"{ratio} is {sig(per_resin * 100, 3)} g of hardener to 100 g of resin, which no epoxy takes"
        raise InputError(FieldProblem("ratio", what, "give the data sheet's ratio, resin first"))

    if resin is not None:
        r = resin.value_in("g")
        h = r * per_resin
        working.append(f"hardener = {r:.2f} g resin in the pot × {per_resin:.6f} = {h:.2f} g")
    elif hardener is not None:
        h = hardener.value_in("g")
        r = h / per_resin
        working.append(f"resin = {h:.2f} g hardener ÷ {per_resin:.6f} = {r:.2f} g")
    else:
        assert total is not None
        r = total.value_in("g") / (1 + per_resin)
        h = r * per_resin
        working.append(f"resin = {total.value_in('g'):.2f} g ÷ (1 + {per_resin:.6f}) = {r:.2f} g")
        working.append(f"hardener = {r:.2f} g × {per_resin:.6f} = {h:.2f} g")
    epoxy = r + h

    f = None
    if filler_loading is not None:
        loading = filler_loading.value_in("%")
        f = epoxy * loading / 100
        working.append(f"filler = {epoxy:.2f} g mixed epoxy × {sig(loading)} % = {f:.2f} g, stirred in after mixing")
    pot = epoxy + (f or 0.0)

    t = tare.value_in("g")
    working.append(f"scale after resin = {t:.2f} + {r:.2f} = {t + r:.2f} g")
    working.append(f"scale after hardener = {t + r:.2f} + {h:.2f} = {t + epoxy:.2f} g")
    if f is not None:
        working.append(f"scale after filler = {t + epoxy:.2f} + {f:.2f} = {t + pot:.2f} g")

    # The allowance is on the hardener itself: the same percentage of the batch would be several times as much.
    allowed = tolerance.value_in("%")
    low, high = h * (1 - allowed / 100), h * (1 + allowed / 100)
    working.append(f"hardener within ±{sig(allowed)} % of itself: {low:.2f} to {high:.2f} g")
    error = None
    if scale_step is not None:
        # Two readings, each within half a step, add up to a whole one.
        error = scale_step.value_in("g") / h * 100
        working.append(f"ratio error from the scale = ±{sig(scale_step.value_in('g'))} g ÷ {h:.2f} g = ±{error:.2f} %")
    poured_error = None
    if hardener_poured is not None:
        poured_error = (hardener_poured.value_in("g") / h - 1) * 100
        working.append(f"hardener poured = {hardener_poured.value_in('g'):.2f} g ÷ {h:.2f} g − 1 = {poured_error:+.2f} %")

    volume = _volume(r, h, f, rho_r, rho_h, filler)
    if volume is not None:
        working.append(f"volume = Σ mass ÷ density (particle density for the filler) = {volume:.2f} mL, without stirred-in air")

    return Answer(
        values={
            "resin": Quantity(r, "g"),
            "hardener": Quantity(h, "g"),
            "filler": None if f is None else Quantity(f, "g"),
            "total": Quantity(pot, "g"),
            "phr": Quantity(per_resin * 100, ""),
            "scale_resin": Quantity(t + r, "g"),
            "scale_hardener": Quantity(t + epoxy, "g"),
            "scale_filler": None if f is None else Quantity(t + pot, "g"),
            "hardener_low": Quantity(low, "g"),
            "hardener_high": Quantity(high, "g"),
            "scale_low": Quantity(t + r + low, "g"),
            "scale_high": Quantity(t + r + high, "g"),
            "ratio_error": None if error is None else Quantity(error, "%"),
            "volume": None if volume is None else Quantity(volume, "mL"),
            "density": None if volume is None else Quantity(pot / volume, "g/mL"),
            "poured_error": None if poured_error is None else Quantity(poured_error, "%"),
            "poured_verdict": None if poured_error is None else _verdict(poured_error, allowed),
        },
        working=tuple(working),
        cautions=(
            *_ratio_cautions(per_resin, allowed, hardener_poured, poured_error, r, h),
            *_scale_cautions(h, per_resin, allowed, scale_step, error),
            *_filler_cautions(filler, filler_loading),
            *_pot_cautions(epoxy),
            _KEEP_RATIO,
        ),
    )


def _one_amount(total: Quantity | None, resin: Quantity | None, hardener: Quantity | None) -> list[FieldProblem]:
    given = [name for name, q in (("total", total), ("resin", resin), ("hardener", hardener)) if q is not None]
    if not given:
        return [FieldProblem("total", "no amount given", "give one of total, resin or hardener")]
    return [
        FieldProblem(name, f"given beside {given[0]}", "give only one of total, resin or hardener; the others follow from it")
        for name in given[1:]
    ]


def _densities_for(ratio: Ratio, resin_density: Quantity | None, hardener_density: Quantity | None) -> list[FieldProblem]:
    if ratio.basis == "weight":
        return []
    return [
        FieldProblem(
            name, "needed to weigh a ratio by volume", "give it in g/mL from the data sheet, or give the ratio by weight"
        )
        for name, q in (("resin_density", resin_density), ("hardener_density", hardener_density))
        if q is None
    ]


def _loading_for(filler: str | None, loading: Quantity | None) -> list[FieldProblem]:
    if filler is None or loading is not None:
        return []
    row = _row(filler)
    usual = ", ".join(f"{row[f'{name}_low_g']} to {row[f'{name}_high_g']} {name}" for name in _CONSISTENCIES)
    return [FieldProblem("filler_loading", f"nothing given for {filler}", f"give % of the mixed epoxy, commonly {usual}")]


def _resin_for(poured: Quantity | None, resin: Quantity | None) -> list[FieldProblem]:
    if poured is None or resin is not None:
        return []
    return [FieldProblem("hardener_poured", "needs the resin really poured", "give resin= in place of total or hardener")]


def _hardener_per_resin(ratio: Ratio, rho_r: float | None, rho_h: float | None) -> tuple[float, list[str]]:
    """Return g of hardener to 1 g of resin, and the working; both densities in g/mL are there when by volume."""
    a, b = units.show_number(ratio.a), units.show_number(ratio.b)
    plain = float(ratio.b / ratio.a)
    if ratio.basis == "weight":
        return plain, [f"hardener per 100 g resin = 100 × {b}/{a} = {plain * 100:.2f} g"]
    assert rho_r is not None
    assert rho_h is not None
    weighed = plain * rho_h / rho_r
    return weighed, [
        f"hardener per 100 g resin = 100 × ({b} × {sig(rho_h)})/({a} × {sig(rho_r)}) = {weighed * 100:.2f} g; "
        f"weighing {a}:{b} as it stands would be {(plain / weighed - 1) * 100:+.1f} % hardener"
    ]


def _volume(r: float, h: float, f: float | None, rho_r: float | None, rho_h: float | None, filler: str | None) -> float | None:
    """Return the volume in mL by adding volumes; None when a density is not known. A heap of filler is mostly air,
    so its particle density counts, not its bulk density."""
    if rho_r is None or rho_h is None:
        return None
    epoxy = r / rho_r + h / rho_h
    if f is None:
        return epoxy
    if filler is None:
        return None
    return epoxy + f / float(_row(filler)["particle_g_ml"])


def _verdict(poured_error: float, allowed: float) -> str:
    # A weight typed to the gram carries rounding in its last binary digit: the limit itself is still within.
    if abs(poured_error) <= allowed + 1e-9:
        return "within"
    return "too much hardener" if poured_error > 0 else "too little hardener"


def _ratio_cautions(
    per_resin: float, allowed: float, poured: Quantity | None, poured_error: float | None, r: float, h: float
) -> list[str]:
    said = []
    if poured is not None and poured_error is not None and _verdict(poured_error, allowed) != "within":
        grams = poured.value_in("g")
        cure = (
            f"stir in {grams / per_resin - r:.2f} g more resin"
            if poured_error > 0
            else f"stir in {h - grams:.2f} g more hardener"
        )
        said.append(
            f"hardener is {abs(poured_error):.1f} % {'over' if poured_error > 0 else 'under'}, outside the "
            f"{sig(allowed)} % allowed: {cure} now, while it is fresh, or throw the pot away; off ratio it stays soft or sticky"
        )
    if per_resin > 1:
        said.append("more hardener than resin: check the order of the ratio, resin comes first")
    if allowed > _USUAL_TOLERANCE:
        said.append(
            f"an allowance of {sig(allowed)} % is wider than the usual {_USUAL_TOLERANCE:g} %: only if the data sheet says so"
        )
    return said


def _scale_cautions(h: float, per_resin: float, allowed: float, scale_step: Quantity | None, error: float | None) -> list[str]:
    finest = _round_step(h * allowed / 100)
    finer = f"use a scale with a step of {units.show_number(finest)} g or finer"
    if finest < _FINEST_STEP:
        finer = f"mix at least {_least(_FINEST_STEP, allowed, per_resin)} g on a scale with a step of {_FINEST_STEP} g"
    if error is not None and scale_step is not None and error > allowed:
        return [
            f"a scale step of {units.show(scale_step)} can put the hardener {error:.1f} % off, more than the {sig(allowed)} % "
            f"allowed: mix at least {_least(scale_step.value_in('g'), allowed, per_resin)} g of epoxy, or {finer}"
        ]
    if scale_step is None and h * allowed / 100 < _WHOLE_GRAM:
        return [
            f"{h:.2f} g of hardener: a scale in whole grams can be {_WHOLE_GRAM / h * 100:.1f} % off, more than the "
            f"{sig(allowed)} % allowed: {finer}, and do not round the reading"
        ]
    return []


def _least(step: float, allowed: float, per_resin: float) -> int:
    """Return the epoxy in whole g from which a scale of that step (g) keeps the hardener within the allowance (%)."""
    return round_up(step / (allowed / 100) * (1 + 1 / per_resin))


def _round_step(limit: float) -> float:
    """Return the largest of 1, 2, 5 times a power of ten, the steps scales are made with, not above `limit` (g)."""
    power: float = 10.0 ** math.floor(math.log10(limit))
    return next(step * power for step in (5, 2, 1) if step * power <= limit or step == 1)


def _filler_cautions(filler: str | None, loading: Quantity | None) -> list[str]:
    if loading is None:
        return []
    said = [
        "filler dust floats and harms the lungs: dust mask on, lid on the tub, stir in slowly; follow the safety data sheet",
        "stir the filler into MIXED epoxy only, and count the pot life from first contact of resin and hardener",
    ]
    if filler is None:
        return said
    row = _row(filler)
    most = float(row["non-sag_high_g"])
    if row["use"] == "fairing":
        said.append(f"{filler} make a mix for fairing only, never for a structural fillet or a bond line")
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
    if epoxy <= _BIG_POT:
        return []
    return [
        f"{epoxy:.0f} g in one pot warms itself, may smoke and goes off early (common practice): split it or pour it into a tray "
        "at once; see potlife"
    ]


_MASS = Measure("g", low=0.01, high=50_000, soft_low=5, soft_high=1_000)
"""What one pot holds."""

CALCULATOR = Calculator(
    name="mix",
    title="One pot: resin, hardener, filler",
    inputs=(
        Field(
            "ratio",
            "Mix ratio, resin first",
            RatioKind(),
            help="As on the data sheet, with by weight or by volume.",
            required=True,
        ),
        Field("total", "Mixed epoxy wanted: resin and hardener, no filler", _MASS, help="Give one of total, resin, hardener."),
        Field("resin", "Resin really in the pot", _MASS, help="Poured too much? Give what is in the pot: the hardener follows."),
        Field("hardener", "Hardener to be used up", _MASS, help="The resin follows from it."),
        Field(
            "resin_density",
            "Density of the resin",
            Measure("g/mL", low=0.8, high=2.5, soft_low=1.05, soft_high=1.25),
            help="From the data sheet; needed for a ratio by volume. Typical: 1.10 to 1.18 g/mL.",
        ),
        Field(
            "hardener_density",
            "Density of the hardener",
            Measure("g/mL", low=0.7, high=2.5, soft_low=0.9, soft_high=1.1),
            help="From the data sheet; needed for a ratio by volume. Typical: 0.93 to 1.03 g/mL.",
        ),
        Field("filler", "Filler", Choice(_fillers)),
        Field(
            "filler_loading",
            "Filler, % of the mixed epoxy by weight",
            Measure("%", low=0.1, high=300, soft_low=1, soft_high=60),
            help="30 % is 30 g to 100 g of mixed epoxy.",
        ),
        Field(
            "tare",
            "Reading of the scale with the empty pot",
            Measure("g", low=0, high=20_000, soft_high=500),
            help="0 when the scale was zeroed with the pot on it.",
            default="0 g",
        ),
        Field("scale_step", "Smallest step of the scale", Measure("g", low=0.001, high=100, soft_high=5)),
        Field(
            "tolerance",
            "Allowance on the hardener, % of the hardener",
            Measure("%", low=0.1, high=25, soft_low=1, soft_high=10),
            help="Usual: 5 % (common practice); some data sheets say 2 %.",
            default="5 %",
        ),
        Field(
            "hardener_poured",
            "Hardener really poured, to check a pot",
            Measure("g", low=0.001, high=50_000),
            help="With resin: says how far the pot is off its ratio and what puts it right.",
        ),
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
        Output("volume", "Volume of the pot, without air", "mL", 0),
        Output("density", "Density of the pot, without air", "g/mL", 2),
        Output("poured_error", "Hardener poured, off by", "%", 1),
        Output("poured_verdict", "Pot as poured"),
    ),
    source=(
        Source("phr = 100·Vh·ρh/(Vr·ρr); resin = batch/(1 + phr/100); readings add up: arithmetic of masses", "computed"),
        Source("do not change the ratio to change the speed: FAA AC 43.13-1B par. 1-5, epoxy caution", "read"),
        Source(
            "allowance of 5 % on the ratio; loadings in the table of fillers; typical: use your data sheet", "common practice"
        ),
        Source("densities of resin, hardener and filler particles quoted as typical: use your data sheet", "memory"),
    ),
    valid=(
        "Two-part epoxy, resin weighed first, hardener second on the same scale without taring between, filler last into the "
        "mixed epoxy. Volumes add without the small shrinkage of cure and without stirred-in air (3 to 10 % in a thick mix). The "
        "data sheet's ratio stands above everything here; polyester and its catalyst are another matter."
    ),
    examples=(
        Example(
            {"ratio": "100:45 by weight", "total": "150 g", "tare": "12 g"},
            {"resin": 103.45, "hardener": 46.55, "scale_resin": 115.45, "scale_hardener": 162.00, "phr": 45},
            Source("batch split and cumulative readings by arithmetic: 150/1.45", "computed"),
            abs=0.005,
            rel=0,
        ),
        Example(
            {"ratio": "2:1 by volume", "total": "80 g", "tare": "9.5 g", "resin_density": "1.15", "hardener_density": "0.97"},
            {
                "phr": 42.1739,
                "resin": 56.2691,
                "hardener": 23.7309,
                "scale_resin": 65.7691,
                "scale_hardener": 89.5,
                "density": 1.09,
            },
            Source("volume ratio to weight by densities; 2 mL at 1.15 and 1 mL at 0.97 weigh 3.27 g", "computed"),
            rel=1e-5,
        ),
        Example(
            {
                "ratio": "100:45 by weight",
                "total": "100 g",
                "resin_density": "1.10",
                "hardener_density": "1.10",
                "filler": "fumed silica",
                "filler_loading": "6 %",
            },
            {"filler": 6.0, "total": 106.0, "volume": 93.6364, "density": 1.13204},
            Source("rule of mixtures: 100 g epoxy at 1.10 with 6 g silica at 2.2 g/mL", "computed"),
            rel=1e-4,
        ),
        Example(
            {"ratio": "100:20 by weight", "total": "20 g", "scale_step": "1 g"},
            {"hardener": 3.33333, "ratio_error": 30.0},
            Source("two readings, each within half a step, on 20 g at 100:20: arithmetic", "computed"),
            rel=1e-5,
        ),
    ),
    compute=_compute,
)
