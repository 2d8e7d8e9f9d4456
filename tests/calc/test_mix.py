"""Checks of the mix calculator: pairs that undo each other, the traps of weighing by volume and by step, and its errors."""

import math
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopmate import calc, tables
from shopmate.errors import InputError

DIRECTIONS = [
    ("total", "hardener", "rising", {}),
    ("total", "ratio_error", "falling", {"scale_step": "1 g"}),
    ("tare", "scale_resin", "rising", {}),
    ("tolerance", "hardener_low", "falling", {}),
    ("tolerance", "hardener_high", "rising", {}),
    ("resin_density", "phr", "falling", {"ratio": "2:1 by volume", "hardener_density": "0.97"}),
    ("hardener_density", "phr", "rising", {"ratio": "2:1 by volume", "resin_density": "1.15"}),
    ("filler_loading", "filler", "rising", {"filler": "wood flour"}),
]
"""Input, output, its direction, and texts put in beside the first worked example's."""

VOLUME = {"ratio": "2:1 by volume", "resin_density": "1.15 g/mL", "hardener_density": "0.97 g/mL"}
WEIGHT = {"ratio": "100:45 by weight"}


def run(**texts):
    return calc.run("mix", texts)


def figures(**texts):
    return {name: getattr(value, "value", value) for name, value in run(**texts).outputs.items()}


@given(
    total=st.integers(min_value=1, max_value=50_000),
    hardener=st.integers(min_value=2, max_value=900),
    tare=st.integers(min_value=0, max_value=20_000),
    loading=st.integers(min_value=1, max_value=300),
)
def test_readings_add_up_and_each_amount_finds_the_others(total, hardener, tare, loading):
    ratio = f"100:{hardener} by weight"
    extra = {"tare": f"{tare} g", "filler": "wood flour", "filler_loading": f"{loading} %"}
    pot = figures(ratio=ratio, total=f"{total} g", **extra)
    assert pot["hardener"] / pot["resin"] == pytest.approx(hardener / 100)
    assert pot["resin"] + pot["hardener"] == pytest.approx(total)
    assert pot["scale_resin"] == pytest.approx(tare + pot["resin"])
    assert pot["scale_hardener"] == pytest.approx(tare + total)
    assert pot["scale_filler"] == pytest.approx(tare + pot["total"])
    for name in ("resin", "hardener"):
        again = figures(ratio=ratio, **{name: f"{pot[name]:.12f} g"}, **extra)
        for other in ("resin", "hardener", "filler", "total", "scale_filler"):
            assert again[other] == pytest.approx(pot[other], rel=1e-6), (name, other)


def test_a_ratio_by_volume_is_not_weighed_as_it_stands():
    pot = figures(total="150 g", **VOLUME)
    # Back to volumes: they stand 2:1, and the masses do not.
    assert (pot["resin"] / 1.15) / (pot["hardener"] / 0.97) == pytest.approx(2)
    assert pot["hardener"] < 50
    assert any("weighed out would be 18.6 % too much hardener" in line for line in run(total="150 g", **VOLUME).working)


@pytest.mark.parametrize(
    ("ratio", "resin", "hardener", "phr"),
    [("2:1", "1.15", "0.97", 42.17), ("5:1", "1.18", "1.00", 16.95), ("3:1", "1.14", "0.98", 28.655)],
)
def test_volume_ratios_to_weight(ratio, resin, hardener, phr):
    # Computed by phr = 100·Vh·ρh/(Vr·ρr).
    got = figures(ratio=f"{ratio} by volume", total="100 g", resin_density=resin, hardener_density=hardener)
    assert got["phr"] == pytest.approx(phr, abs=0.005)


def test_by_volume_and_by_weight_agree_once_the_densities_are_in():
    by_volume = figures(total="150 g", **VOLUME)
    phr = by_volume["phr"]
    by_weight = figures(ratio=f"100:{phr:.14f} by weight", total="150 g", resin_density="1.15", hardener_density="0.97")
    for name in ("resin", "hardener", "volume", "density"):
        assert by_weight[name] == pytest.approx(by_volume[name])


def test_tolerance_is_on_the_hardener_not_on_the_batch():
    pot = figures(total="150 g", **WEIGHT)
    assert (pot["hardener_low"], pot["hardener_high"]) == pytest.approx((0.95 * pot["hardener"], 1.05 * pot["hardener"]))
    assert pot["hardener_high"] - pot["hardener"] < 0.05 * 150 / 2


def test_hardener_is_not_rounded_before_the_readings():
    pot = figures(total="10 g", tare="12.34 g", scale_step="1 g", **WEIGHT)
    assert pot["hardener"] == pytest.approx(10 * 45 / 145, rel=1e-12)
    assert pot["scale_hardener"] == pytest.approx(22.34, rel=1e-12)


def test_over_poured_resin_sets_the_hardener_and_grows_the_pot():
    pot = figures(resin="110 g", **WEIGHT)
    assert pot["hardener"] == pytest.approx(49.5)
    assert pot["total"] == pytest.approx(159.5)


def test_filler_is_weighed_against_mixed_epoxy_and_total_counts_it():
    pot = figures(total="200 g", filler="wood flour", filler_loading="30 %", **WEIGHT)
    assert pot["filler"] == pytest.approx(60)
    assert pot["total"] == pytest.approx(260)
    assert pot["scale_filler"] == pytest.approx(260)


def test_without_filler_nothing_is_said_of_it():
    pot = figures(total="200 g", **WEIGHT)
    assert pot["filler"] is None
    assert pot["scale_filler"] is None
    assert pot["total"] == pytest.approx(200)


@pytest.mark.parametrize(
    ("filler", "loading", "epoxy", "volume"),
    [
        # Check cases thick-density-1 and -2 [computed, rule of mixtures].
        ("glass bubbles", "20 %", "1.15", 186.957),
        ("fumed silica", "6 %", "1.10", 93.6364),
        # 90.909 mL of epoxy and 30 g ÷ 1.5 g/mL; its heap would be over 120 mL.
        ("wood flour", "30 %", "1.10", 110.909),
    ],
)
def test_filler_takes_the_room_of_its_particles_not_of_its_heap(filler, loading, epoxy, volume):
    densities = {"resin_density": epoxy, "hardener_density": epoxy}
    pot = figures(total="100 g", filler=filler, filler_loading=loading, **densities, **WEIGHT)
    assert pot["volume"] == pytest.approx(volume, rel=1e-5)


def test_volume_only_when_every_density_is_known():
    assert figures(total="100 g", **WEIGHT)["volume"] is None
    assert figures(total="100 g", resin_density="1.15", **WEIGHT)["volume"] is None
    assert figures(total="100 g", filler_loading="10 %", **VOLUME)["volume"] is None
    assert figures(total="109 g", **VOLUME)["volume"] == pytest.approx(100)


def test_scale_step_against_the_pot():
    assert figures(total="20 g", ratio="100:20 by weight", scale_step="1 g")["ratio_error"] == pytest.approx(34.0206, rel=1e-5)
    errors = [figures(total=f"{grams} g", scale_step="0.1 g", **WEIGHT)["ratio_error"] for grams in (10, 20, 50, 200, 1000)]
    assert errors == sorted(errors, reverse=True)
    assert figures(total="20 g", **WEIGHT)["ratio_error"] is None


@pytest.mark.parametrize(("ratio", "percent"), [("1:1", 3.0303), ("2:1", 3.7783), ("10:1", 11.6139)])
def test_two_readings_in_one_cup_are_off_by_a_step_and_a_half(ratio, percent):
    """100 g by 1 g steps: every pair of true masses that gives both readings, tried on a grid, and the farthest of them."""
    a, b = map(int, ratio.split(":"))
    resin = 100 * a / (a + b)
    offs = [step / 200 for step in range(-100, 101)]
    worst = max(((100 + total) - (resin + first)) / (resin + first) for first in offs for total in offs)
    got = figures(total="100 g", ratio=f"{ratio} by weight", scale_step="1 g")["ratio_error"]
    assert got == pytest.approx((worst * a / b - 1) * 100, rel=1e-9)
    assert got == pytest.approx(percent, rel=1e-4)


def test_the_remedies_for_a_coarse_scale_are_enough():
    texts = {"ratio": "100:20 by weight", "scale_step": "1 g", "tolerance": "5 %"}
    caution = next(text for text in run(total="20 g", **texts).cautions if "scale step" in text)
    assert "at least 133 g" in caution
    assert "step of 0.1 g or finer" in caution
    assert figures(total="133 g", **texts)["ratio_error"] <= 5
    assert figures(total="132 g", **texts)["ratio_error"] > 5
    assert figures(total="20 g", **{**texts, "scale_step": "0.1 g"})["ratio_error"] < 5


def test_no_scale_is_asked_for_that_no_bench_has():
    texts = {"ratio": "100:10 by weight", "tolerance": "2 %"}
    caution = next(text for text in run(total="3 g", **texts).cautions if "whole grams" in text)
    assert "mix at least 6 g on a scale with a step of 0.01 g" in caution
    assert figures(total="6 g", scale_step="0.01 g", **texts)["ratio_error"] < 2
    assert figures(total="5 g", scale_step="0.01 g", **texts)["ratio_error"] > 2


def test_no_line_has_a_power_of_ten():
    for texts in ({"total": "50 kg"}, {"total": "0.01 g", "tolerance": "0.1 %"}, {"total": "0.01 g", "scale_step": "0.001 g"}):
        result = run(**texts, **WEIGHT)
        assert not any(re.search(r"\de[-+]?\d", line) for line in (*result.working, *result.cautions))


@pytest.mark.parametrize(
    ("poured", "verdict"),
    [
        ("42.75 g", "within"),
        ("47.25 g", "within"),
        ("42.7 g", "too little hardener"),
        ("47.3 g", "too much hardener"),
    ],
)
def test_a_pot_as_poured(poured, verdict):
    assert figures(resin="100 g", hardener_poured=poured, **WEIGHT)["poured_verdict"] == verdict


@pytest.mark.parametrize(
    ("poured", "words", "righted"),
    [
        ("54 g", "add 20.0 g of resin", {"resin": "120 g", "hardener_poured": "54 g"}),
        ("40 g", "add 5.0 g of hardener", {"resin": "100 g", "hardener_poured": "45 g"}),
    ],
)
def test_the_remedy_for_a_pot_off_ratio_puts_it_right(poured, words, righted):
    assert any(words in caution for caution in run(resin="100 g", hardener_poured=poured, **WEIGHT).cautions)
    assert figures(**righted, **WEIGHT)["poured_error"] == pytest.approx(0, abs=1e-9)


def test_ounces_and_grams_are_the_same_pot():
    grams = figures(total="283.49523125 g", tare="28.349523125 g", **WEIGHT)
    ounces = figures(total="10 oz", tare="1 oz", **WEIGHT)
    assert ounces["scale_resin"] == pytest.approx(grams["scale_resin"])
    dense = figures(total="10 oz", ratio="2:1 by volume", resin_density="1150 kg/m³", hardener_density="970 kg/m³")
    assert dense["phr"] == pytest.approx(figures(total="10 oz", **VOLUME)["phr"])


@pytest.mark.parametrize(
    ("texts", "fields"),
    [
        ({}, ["total"]),
        ({"total": "100 g", "resin": "70 g"}, ["resin"]),
        ({"total": "100 g", "resin": "70 g", "hardener": "30 g"}, ["resin", "hardener"]),
        ({"ratio": "2:1 by volume", "total": "100 g"}, ["resin_density", "hardener_density"]),
        ({"ratio": "2:1 by volume", "total": "100 g", "resin_density": "1.15"}, ["hardener_density"]),
        ({"ratio": "2:1 by volume", "filler": "wood flour"}, ["total", "resin_density", "hardener_density", "filler_loading"]),
        ({"total": "100 g", "filler": "sawdust and hope"}, ["filler"]),
        ({"total": "100 g", "hardener_poured": "45 g"}, ["hardener_poured"]),
        ({"ratio": "2:1", "total": "100 g"}, ["ratio"]),
        ({"ratio": "1:100 by weight", "total": "100 g"}, ["ratio"]),
        ({"ratio": "1000:1 by weight", "total": "100 g"}, ["ratio"]),
        ({"total": "0 g"}, ["total"]),
        ({"total": "100 mL"}, ["total"]),
        ({"total": "100 g", "tare": "-5 g"}, ["tare"]),
        ({"total": "100 g", "tolerance": "0 %"}, ["tolerance"]),
    ],
)
def test_says_every_field_that_is_wrong(texts, fields):
    with pytest.raises(InputError) as refused:
        run(**{**WEIGHT, **texts})
    assert [problem.field for problem in refused.value.problems] == fields


def test_a_filler_without_loading_is_told_the_usual_ones():
    with pytest.raises(InputError, match="8 to 12 brushable, 15 to 25 spreadable, 30 to 45 non-sag"):
        run(total="100 g", filler="wood flour", **WEIGHT)


@pytest.mark.parametrize(
    ("texts", "words"),
    [
        ({"total": "20 g"}, "a scale that reads whole grams can throw the ratio 20.5 % off"),
        ({"total": "600 g"}, "the potlife calculator"),
        ({"total": "100 g", "filler": "wood flour", "filler_loading": "30"}, "dust"),
        ({"total": "100 g", "filler": "phenolic spheres", "filler_loading": "20"}, "never for a structural fillet"),
        ({"total": "100 g", "filler": "fumed silica", "filler_loading": "15"}, "more than the 9 %"),
        ({"total": "100 g", "filler": "milled glass", "filler_loading": "30"}, "2 to 4 g fumed silica"),
        ({"total": "100 g", "tolerance": "10"}, "only if the data sheet allows it"),
        ({"total": "100 g", "ratio": "45:100 by weight"}, "names the resin first"),
        ({"total": "100 g"}, "use another hardener"),
    ],
)
def test_warns(texts, words):
    assert any(words in caution for caution in run(**{**WEIGHT, **texts}).cautions)


def test_an_ordinary_pot_gets_only_the_standing_caution():
    assert len(run(total="150 g", scale_step="1 g", **WEIGHT).cautions) == 1


def test_extremes_stay_finite():
    for ratio in ("100:1 by weight", "1:10 by weight"):
        for total in ("0.01 g", "50 kg"):
            pot = figures(ratio=ratio, total=total, scale_step="0.001 g")
            assert all(math.isfinite(value) for value in pot.values() if isinstance(value, float))


def test_the_table_of_fillers_is_whole_and_in_order():
    for row in tables.load("fillers").rows:
        levels = [float(row[f"{name}_{end}_g"]) for name in ("brushable", "spreadable", "non-sag") for end in ("low", "high")]
        assert levels == sorted(levels), row["filler"]
        assert levels[0] > 0
        assert float(row["particle_low_g_ml"]) <= float(row["particle_g_ml"]) <= float(row["particle_high_g_ml"])
        assert not row["bulk_high_g_ml"] or float(row["bulk_high_g_ml"]) <= float(row["particle_g_ml"]) * 1.25, row["filler"]
        assert row["use"] in {"structural", "fairing"}
        assert tables.load("fillers").source_of(row)
