"""Thickened mixes: particles and not heaps, filler against mixed epoxy, silica with glass, and spheres kept out of structure."""

import math
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopmate import calc, tables
from shopmate.errors import InputError

DIRECTIONS = [
    ("epoxy", "filler", "rising", {}),
    ("loading", "density", "falling", {}),
    ("particle_density", "volume", "falling", {}),
]
"""Input, output, its direction, and texts put in beside the first worked example's."""

FILLERS = [row["filler"] for row in tables.load("fillers").rows]
SPHERES = ["phenolic spheres", "glass bubbles"]
CONSISTENCIES = ["brushable", "spreadable", "non-sag"]
POT = {"epoxy": "100 g", "filler": "wood flour"}


def thicken(**fields):
    return calc.run("thicken", {**POT, **fields})


def figures(**fields):
    return {name: getattr(value, "value", value) for name, value in thicken(**fields).outputs.items()}


def cautions(**fields):
    return " ".join(thicken(**fields).cautions)


def test_a_heap_takes_its_grams_over_the_densities_of_the_table():
    bubbles = tables.load("fillers").row("filler", "glass bubbles")
    got = figures(filler="glass bubbles", loading="20 %")
    assert got["heap_low"] == pytest.approx(20 / float(bubbles["bulk_high_g_ml"]))
    assert got["heap_high"] == pytest.approx(20 / float(bubbles["bulk_low_g_ml"]))
    assert thicken(loading="30 %").working[0] == "filler = 100.00 g mixed epoxy × 30 % = 30.00 g, stirred in after mixing"


@pytest.mark.parametrize(
    ("fields", "density"),
    [
        # 100 + 30 wood flour (1.5) + 2 silica (2.2), and 100 + 25 milled glass (2.56) + 5 silica, in epoxy of 1.10: by hand.
        ({"filler": "wood flour", "loading": "30 %", "silica": "2 %"}, 132 / (100 / 1.1 + 30 / 1.5 + 2 / 2.2)),
        ({"filler": "milled glass", "loading": "25 %", "silica": "5 %"}, 130 / (100 / 1.1 + 25 / 2.56 + 5 / 2.2)),
        ({"filler": "fumed silica", "loading": "6 %"}, 106 / (100 / 1.1 + 6 / 2.2)),
    ],
)
def test_density_is_by_particles_and_not_by_heaps(fields, density):
    got = figures(**fields)
    assert got["density"] == pytest.approx(density)
    # By its heap of 0.05 g/mL, 6 g of silica would lighten the mix to half of the epoxy's density.
    assert got["density"] > 1.1
    assert got["total"] == pytest.approx(got["density"] * got["volume"])


@pytest.mark.parametrize(("filler", "heap"), [("fumed silica", "0.05"), ("wood flour", "0.2"), ("milled glass", "0.9")])
def test_the_density_of_a_heap_is_refused_as_that_of_a_particle(filler, heap):
    with pytest.raises(InputError, match=r"particle_density: .* is the bulk density"):
        thicken(filler=filler, consistency="non-sag", particle_density=f"{heap} g/mL")


def test_a_particle_density_from_the_data_sheet_outranks_the_typical_one():
    light = figures(filler="glass bubbles", loading="20 %", particle_density="0.12")
    heavy = figures(filler="glass bubbles", loading="20 %", particle_density="0.40")
    assert light["volume"] == pytest.approx(100 / 1.1 + 20 / 0.12)
    assert heavy["volume"] == pytest.approx(100 / 1.1 + 20 / 0.40)


@given(
    epoxy=st.integers(min_value=1, max_value=50_000),
    loading=st.integers(min_value=1, max_value=300),
    silica=st.integers(min_value=0, max_value=50),
    filler=st.sampled_from([name for name in FILLERS if name != "fumed silica"]),
)
def test_masses_add_up_and_everything_goes_with_the_pot(epoxy, loading, silica, filler):
    got = figures(epoxy=f"{epoxy} g", filler=filler, loading=f"{loading} %", silica=f"{silica} %")
    assert got["filler"] == pytest.approx(epoxy * loading / 100)
    assert got["silica"] == pytest.approx(epoxy * silica / 100)
    assert got["total"] == pytest.approx(epoxy + got["filler"] + got["silica"])
    assert all(math.isfinite(value) for value in got.values() if isinstance(value, float))
    least = min(1.1, *(float(tables.load("fillers").row("filler", name)["particle_g_ml"]) for name in (filler, "fumed silica")))
    assert least < got["density"] < 2.56
    twice = figures(
        epoxy=f"{2 * epoxy} g" if epoxy <= 25_000 else "50 kg", filler=filler, loading=f"{loading} %", silica=f"{silica} %"
    )
    assert twice["density"] == pytest.approx(got["density"])


@pytest.mark.parametrize("filler", FILLERS)
def test_thicker_takes_more_and_the_loading_finds_its_consistency_again(filler):
    mixes = [figures(filler=filler, consistency=name) for name in CONSISTENCIES]
    amounts = [mix["filler"] for mix in mixes]
    assert amounts == sorted(set(amounts))
    densities = [mix["density"] for mix in mixes]
    assert densities == sorted(densities, reverse=filler in SPHERES)
    for name, mix in zip(CONSISTENCIES, mixes, strict=True):
        assert mix["filler_low"] <= mix["filler"] <= mix["filler_high"]
        again = figures(filler=filler, loading=f"{mix['loading']:.6f} %")
        assert again["consistency"] == name
        assert again["filler"] == pytest.approx(mix["filler"])
        assert again["filler_low"] is None


@pytest.mark.parametrize(
    ("loading", "words"),
    [
        ("3 %", "thinner than brushable"),
        ("13 %", "between brushable and spreadable"),
        ("40 %", "non-sag"),
        ("60 %", "drier than non-sag"),
    ],
)
def test_says_what_a_loading_commonly_gives(loading, words):
    assert figures(loading=loading)["consistency"] == words


@pytest.mark.parametrize("filler", ["milled glass", "chopped glass"])
def test_glass_gets_its_silica_and_it_counts(filler):
    got = figures(filler=filler, consistency="spreadable")
    assert got["silica"] == pytest.approx(3)
    assert got["total"] == pytest.approx(100 + got["filler"] + 3)
    assert figures(filler=filler, consistency="spreadable", silica="4 %")["silica"] == pytest.approx(4)
    assert "settles: add 2 to 4 % fumed silica" in cautions(filler=filler, consistency="spreadable", silica="0 %")


@pytest.mark.parametrize("filler", ["fumed silica", "wood flour", *SPHERES])
def test_others_get_no_silica_unasked(filler):
    assert figures(filler=filler, consistency="spreadable")["silica"] is None


@pytest.mark.parametrize("filler", SPHERES)
def test_hollow_spheres_are_refused_for_structure_and_warned_of_everywhere(filler):
    with pytest.raises(InputError, match="for a fillet or a bond line use fumed silica, wood flour, milled glass"):
        thicken(filler=filler, consistency="non-sag", use="structural")
    for use in ({}, {"use": "fairing"}):
        assert "never for a structural fillet" in cautions(filler=filler, consistency="non-sag", **use)


def test_stirred_in_air_lowers_the_density_by_3_to_10_percent():
    got = figures(consistency="non-sag")
    assert got["density_low"] == pytest.approx(0.90 * got["density"])
    assert got["density_high"] == pytest.approx(0.97 * got["density"])


def test_the_first_stir_is_half_the_usual_least_and_what_to_have_at_hand_half_more_than_the_most():
    said = cautions(consistency="non-sag")
    first, last = map(float, re.search(r"stir in ([\d.]+) g, .* Have ([\d.]+) g at hand", said).groups())
    assert (first, last) == (15, 67.5)  # 30 to 45 g, within 50 % [common practice]
    assert "stir in" not in cautions(loading="30 %").replace("stir in slowly", "")


def test_ounces_and_grams_are_the_same_mix():
    ounces = figures(epoxy="4 oz", consistency="non-sag", epoxy_density="1100 kg/m³")
    grams = figures(epoxy="113.3980925 g", consistency="non-sag")
    for name in ("filler", "total", "density", "volume"):
        assert ounces[name] == pytest.approx(grams[name])


@pytest.mark.parametrize(
    ("fields", "words"),
    [
        ({"consistency": "non-sag"}, "dust mask on"),
        ({"consistency": "non-sag"}, "share of the MIXED epoxy"),
        ({"loading": "60 %"}, "more than the 45 % that usually gives a non-sag mix"),
        ({"consistency": "non-sag", "epoxy": "600 g"}, "see the potlife calculator"),
        ({"consistency": "non-sag", "epoxy": "600 g", "filler": "glass bubbles"}, "hollow spheres hold the heat in"),
        ({"consistency": "non-sag", "silica": "5 %"}, "by itself it would be spreadable"),
        ({"consistency": "non-sag", "filler": "fumed silica"}, "hard to sand"),
    ],
)
def test_warns(fields, words):
    assert words in cautions(**fields)


def test_a_little_silica_with_glass_is_no_surprise():
    assert "thickens the mix too" not in cautions(filler="milled glass", consistency="non-sag", silica="4 %")
    assert "thickens the mix too" in cautions(filler="milled glass", consistency="non-sag", silica="6 %")


@pytest.mark.parametrize(
    ("fields", "wrong"),
    [
        ({}, ["consistency"]),
        ({"consistency": "non-sag", "loading": "30 %"}, ["loading"]),
        ({"consistency": "runny"}, ["consistency"]),
        ({"filler": "fumed silica", "loading": "6 %", "silica": "2 %"}, ["silica"]),
        (
            {"filler": "glass bubbles", "use": "structural", "particle_density": "0.05"},
            ["consistency", "filler", "particle_density"],
        ),
        ({"loading": "0 %"}, ["loading"]),
        ({"consistency": "non-sag", "epoxy": "100 mL"}, ["epoxy"]),
        ({"consistency": "non-sag", "epoxy_density": "110 g/mL"}, ["epoxy_density"]),
    ],
)
def test_says_every_field_that_is_wrong(fields, wrong):
    with pytest.raises(InputError) as refused:
        thicken(**fields)
    assert [problem.field for problem in refused.value.problems] == wrong


def test_without_an_amount_the_usual_ones_are_told():
    with pytest.raises(InputError, match="for wood flour usually 8 to 12 % brushable, 15 to 25 % spreadable, 30 to 45 % non-sag"):
        thicken()
