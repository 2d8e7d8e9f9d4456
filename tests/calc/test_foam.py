"""Poured foam: masses that add up, ratios that are weighed, skins that bow, and what is said of the hazards."""

import math
import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_bvp

from shopmate import calc, tables
from shopmate.errors import InputError

DIRECTIONS = [
    ("density", "in_place", "rising", {}),
    ("packing", "to_mix", "rising", {}),
    ("waste", "to_mix", "rising", {}),
    ("depth", "part_a", "rising", {}),
    ("pressure", "skin_force", "rising", {}),
    ("span", "bow", "rising", {"pressure": "10 kPa", "span": "300 mm", "skin": "6 mm", "modulus": "8 GPa"}),
    ("skin", "bow", "falling", {"pressure": "10 kPa", "span": "300 mm", "skin": "6 mm", "modulus": "8 GPa"}),
    ("modulus", "bow", "falling", {"pressure": "10 kPa", "span": "300 mm", "skin": "6 mm", "modulus": "8 GPa"}),
]
"""Input, output, its direction, and texts put in beside the first worked example's."""

CAVITY = {"length": "600 mm", "width": "300 mm", "depth": "50 mm"}
FOAM = {"density": "2 lb/ft³", "ratio": "110:100 by weight"}
STRIP = {"pressure": "10 kPa", "span": "300 mm", "skin": "6 mm", "modulus": "8 GPa"}


def run(**fields):
    return calc.run("foam", {**CAVITY, **FOAM, **fields})


def numbers(**fields):
    return {name: getattr(value, "value", value) for name, value in run(**fields).outputs.items()}


def cautions(**fields):
    return " ".join(run(**fields).cautions)


def problems(**fields):
    with pytest.raises(InputError) as caught:
        calc.run("foam", {**FOAM, **fields})
    return {problem.field: problem for problem in caught.value.problems}


@settings(max_examples=80, deadline=None, derandomize=True)
@given(
    sides=st.tuples(st.integers(10, 3000), st.integers(10, 3000), st.integers(10, 500)),
    tenths=st.integers(10, 200),
    packing=st.integers(100, 300),
    waste=st.integers(0, 200),
    a=st.integers(1, 300),
)
def test_masses_add_up_and_lead_back_to_the_volume(sides, tenths, packing, waste, a):
    sizes = {name: f"{side} mm" for name, side in zip(CAVITY, sides, strict=True)}
    got = numbers(
        **sizes,
        density=f"{tenths / 10} lb/ft³",
        packing=f"{packing / 100}",
        waste=f"{waste} %",
        ratio=f"{a}:100 by weight",
        lift="40 mm",
    )
    assert got["part_a"] + got["part_b"] == pytest.approx(got["to_mix"])
    assert got["part_a"] / got["part_b"] == pytest.approx(a / 100)
    assert got["part_a"] == pytest.approx(got["pour_a"] * got["pours"])
    assert got["to_mix"] == pytest.approx(got["in_place"] * (1 + waste / 100))
    # A pound is 453.592 37 g and a cubic foot 28.316 846 592 L.
    density = tenths / 10 * 453.59237 / 28.316846592 * packing / 100
    assert got["in_place"] / density == pytest.approx(sides[0] * sides[1] * sides[2] / 1e6) == pytest.approx(got["volume"])
    assert (got["lifts"] - 1) * 40 < sides[2] <= got["lifts"] * 40
    # No cup holds more than can be poured in the work time, and each fills whole bays.
    moved = ((got["bays_each"] or 1) - 1) * 5 * 20
    assert got["to_mix"] / got["pours"] <= (got["largest_pour"] - moved) * (1 + 1e-9)
    assert got["bay_count"] * got["lifts"] % got["pours"] == 0 or got["pours"] % (got["bay_count"] * got["lifts"]) == 0


def test_packing_is_in_the_cavity_and_waste_is_not():
    plain, packed, wasted = numbers(packing="1"), numbers(packing="1.2"), numbers(packing="1", waste="20 %")
    assert packed["in_place"] == pytest.approx(1.2 * plain["in_place"])
    assert wasted["in_place"] == pytest.approx(plain["in_place"])
    assert wasted["to_mix"] == pytest.approx(packed["to_mix"])


def test_waste_poured_all_the_same_is_told_as_overpacking():
    assert "the packing is 1.26" in cautions(waste="15 %")
    assert "Don't pour the waste" not in cautions(waste="5 %")
    assert "overpacked foam can press" in cautions(packing="1.3")


def test_size_and_volume_give_the_same():
    by_size = numbers()
    by_volume = {
        name: getattr(value, "value", value) for name, value in calc.run("foam", {"volume": "9 L", **FOAM}).outputs.items()
    }
    for name in ("in_place", "to_mix", "part_a", "part_b", "volume"):
        assert by_volume[name] == pytest.approx(by_size[name])
    assert by_size["pours"] == 1
    # A volume says nothing of the height that the foam rises, nor of the face that it presses on.
    assert by_volume["pours"] is by_volume["pour_a"] is None
    with_rise = calc.run("foam", {"volume": "9 L", "rise": "50 mm", "pressure": "20 kPa", **FOAM}).outputs
    assert with_rise["pours"] == 2
    assert with_rise["skin_force"] is None


PANEL = {"length": "2.44 m", "width": "1.22 m", "depth": "38 mm", "waste": "10 %"}


def test_a_thin_panel_on_edge_is_poured_in_lifts_of_a_foot_and_cups_that_can_be_poured():
    on_edge = numbers(**PANEL, rise="1.22 m")
    # 4.4 kg in 4 lifts of 1096 g, each of 3 cups; 25 mm lifts would be 49.
    assert (on_edge["lifts"], on_edge["pours"]) == (4, 12)
    assert on_edge["pour_a"] + on_edge["pour_b"] == pytest.approx(on_edge["to_mix"] / 12)
    assert on_edge["in_place"] == pytest.approx(numbers(**PANEL)["in_place"])
    # Bays no wider than 400 mm along the 2.44 m: 6 of 407 mm that three cups fill alike.
    assert (on_edge["bay_count"], on_edge["bays_each"]) == (6, 2)
    assert on_edge["bay_width"] == pytest.approx(2440 / 6)
    assert on_edge["portion"] * 6 * 4 == pytest.approx(on_edge["to_mix"])
    assert (on_edge["holes"], on_edge["vents"]) == (6, 12)
    assert "25 mm fill holes along the top edge (6) and 6 mm vents (12)" in cautions(**PANEL, rise="1.22 m")
    # In feet and inches the same.
    assert numbers(length="8 ft", width="4 ft", depth="1-1/2 in", waste="10 %", rise="4 ft")["lifts"] == 4


def test_a_panel_that_lies_flat_is_no_2_kg_in_45_seconds():
    flat = numbers(**PANEL)
    assert flat["lifts"] == 1
    assert flat["to_mix"] / flat["pours"] <= 500
    assert flat["pours"] == flat["bay_count"] == 9
    assert flat["holes"] is flat["vents"] is None
    assert "with one skin on and the top open, pour 9 bays of 271 mm" in cautions(**PANEL)
    # Bays of the frame that are small share a cup.
    assert "Each cup fills 2 bays, 122 g into each" in cautions(**PANEL, bays="36")


def test_moving_the_funnel_from_bay_to_bay_is_taken_off_the_work_time():
    """45 s less 20 s to stir and 5 s to move once leave 20 s, 400 g at 20 g/s, for two bays; 300 g for three [computed]."""
    thin = {"width": "300 mm", "rise": "300 mm", "depth": "25 mm", "density": "32 kg/m³", "packing": "1", "waste": "0 %"}
    # 100 mm of such a bay takes 24 g. So many bays of a frame, so long together:
    for bays, length, pours in (("2", "1.66 m", 1), ("2", "1.67 m", 2), ("3", "1.25 m", 1), ("3", "1.26 m", 3)):
        assert numbers(**thin, bays=bays, length=length)["pours"] == pours
    # A cup that creams later is shared again.
    assert numbers(**thin, bays="3", length="1.26 m", cream_time="46 s")["pours"] == 1


def test_a_deep_cavity_keeps_the_lifts_of_25_mm_and_is_better_laid_flat():
    assert numbers(**{**PANEL, "depth": "4 in"})["lifts"] == 4
    assert "On edge a cavity this deep needs 48 lifts" in cautions(**{**PANEL, "depth": "100 mm"}, rise="1.22 m")
    assert "cavity this deep" not in cautions(**PANEL, rise="1.22 m")
    # The smallest dimension counts, whichever it is: a post of 60 × 300 × 300 mm.
    assert numbers(length="60 mm", width="300 mm", depth="300 mm")["lifts"] == 1


def test_a_cup_is_what_can_be_stirred_and_poured_in_the_work_time():
    # 45 s less 20 s of stirring, 20 g each second.
    assert numbers(**PANEL)["largest_pour"] == pytest.approx(500)
    assert numbers(**PANEL, cream_time="30 s")["largest_pour"] == pytest.approx(200)
    assert numbers(**PANEL, cream_time="30 s")["pours"] >= 22
    assert numbers(**PANEL, pour_most="2 kg")["pours"] == 3
    assert problems(**CAVITY, cream_time="20 s").keys() == {"cream_time"}


def test_bays_of_the_frame_are_taken_as_they_are():
    four = numbers(**PANEL, rise="1.22 m", bays="4")
    # 274 g into each of four bays of 610 mm: a cup for each, in four lifts.
    assert (four["pours"], four["bays_each"], four["holes"]) == (16, None, 8)
    assert "Your bays are 610 mm wide: make narrower bays" in cautions(**PANEL, rise="1.22 m", bays="4")
    # Of eight, two to a cup; seven are shared by one cup or by seven; one wants three cups of its 1096 g.
    eight = numbers(**PANEL, rise="1.22 m", bays="8")
    assert (eight["pours"], eight["bays_each"]) == (16, 2)
    assert numbers(**PANEL, rise="1.22 m", bays="7")["pours"] == 28
    assert numbers(**PANEL, rise="1.22 m", bays="1")["pours"] == 12
    # Bays are not made narrow for small cups: 731 g into each of six are 4 of 200 g.
    small = numbers(**PANEL, cream_time="30 s")
    assert (small["bay_count"], small["cups_each"], small["pours"]) == (6, 4, 24)
    assert "Each bay needs 4 cups per lift" in cautions(**PANEL, cream_time="30 s")
    # Nobody pours one cup into twelve bays before it creams.
    assert numbers(length="4.8 m", width="100 mm", depth="20 mm", rise="100 mm")["bays_each"] <= 4
    assert problems(volume="9 L", bays="3").keys() == {"bays"}


def test_whole_lifts_are_not_rounded_up_by_the_noise_of_floats():
    assert numbers(depth="3 in", lift="1 in")["lifts"] == 3
    assert numbers(depth="0.3 m", lift="0.1 m")["lifts"] == 3
    assert numbers(depth="300.1 mm", lift="100 mm")["lifts"] == 4


def test_a_ratio_by_volume_is_not_weighed_as_it_stands():
    by_volume = numbers(ratio="1:1 by volume")
    assert by_volume["part_a"] / by_volume["part_b"] == pytest.approx(1.24 / 1.07)
    assert numbers(ratio="1:1 by weight")["part_a"] == pytest.approx(by_volume["to_mix"] / 2)
    told = cautions(ratio="1:1 by volume")
    assert "not the ratio by weight" in told
    # What every weight rests on is said first.
    assert "typical densities, A 1.24 g/mL and B 1.07 g/mL (memory)" in run(ratio="1:1 by volume").cautions[0]
    own = cautions(ratio="1:1 by volume", density_a="1.23 g/mL", density_b="1.06 g/mL")
    assert "Weigh out both parts" in own
    assert "typical" not in own
    assert "and B 1.07" not in cautions(ratio="1:1 by volume", density_b="1.06 g/mL")


def test_bow_agrees_with_the_beam_equation_solved_numerically():
    # E I w'''' = p with w = w'' = 0 at both ends, by scipy; a strip 1 mm wide, N and mm.
    p, span, skin, modulus = 0.01, 300.0, 6.0, 8000.0

    def slope(_, y):
        return [y[1], y[2], y[3], 0 * y[0] + p * span**4 / (modulus * skin**3 / 12)]

    def held(start, end):
        return [start[0], start[2], end[0], end[2]]

    def clamped(start, end):
        return [start[0], start[1], end[0], end[1]]

    simple, fixed = (
        solve_bvp(slope, ends, [0, 0.25, 0.5, 0.75, 1], [[0.0] * 5] * 4, tol=1e-8).sol(0.5)[0] for ends in (held, clamped)
    )
    assert numbers(**STRIP)["bow"] == pytest.approx(simple, rel=1e-6)
    assert simple / fixed == pytest.approx(5, rel=1e-6)


def test_bow_grows_with_the_fourth_power_of_the_span_and_falls_with_the_cube_of_the_skin():
    bow = numbers(**STRIP)["bow"]
    assert numbers(**{**STRIP, "span": "600 mm"})["bow"] == pytest.approx(16 * bow)
    assert numbers(**{**STRIP, "skin": "12 mm"})["bow"] == pytest.approx(bow / 8)
    assert numbers(**{**STRIP, "pressure": "20 kPa"})["bow"] == pytest.approx(2 * bow)
    assert numbers(**{**STRIP, "modulus": "4 GPa"})["bow"] == pytest.approx(2 * bow)


@pytest.mark.parametrize("extra", [{}, {"pressure": "35 kPa"}, {"skin": "3 mm"}, {"bow_limit": "0.5 mm"}])
def test_the_bracing_asked_for_keeps_the_bow(extra):
    strip = {**STRIP, **extra}
    apart = re.search(r"no more than (\d+) mm apart", cautions(**strip))[1]
    braced = {**strip, "span": f"{apart} mm"}
    assert numbers(**braced)["bow"] <= float(extra.get("bow_limit", "1 mm").split()[0])
    assert "Unbraced the skin bows" not in cautions(**braced)
    assert numbers(**{**strip, "span": f"{numbers(**strip)['brace']:.9f} mm"})["bow"] == pytest.approx(
        float(extra.get("bow_limit", "1 mm").split()[0]), rel=1e-6
    )


def test_a_bow_beyond_the_formula_and_braces_that_would_touch_are_told():
    assert "beyond the formula" in cautions(**STRIP)
    assert "beyond the formula" not in cautions(**{**STRIP, "span": "200 mm"})
    assert "lay a stiff board" in cautions(**{**STRIP, "skin": "0.5 mm", "pressure": "100 kPa"})


def test_pressure_that_looks_small_is_told_as_tonnes_before_anyone_asks():
    panel = {"length": "1.2 m", "width": "0.6 m"}
    assert "14.4 kN on each face, like 1468 kg" in cautions(**panel, pressure="20 kPa")
    asked = cautions(**panel)
    assert "7.2 to 25.2 kN, like 734 to 2570 kg" in asked
    assert "memory, no published source found" in asked
    assert numbers(**panel)["skin_force"] is None


def test_every_limit_of_isocyanate_names_its_body_and_the_lowest_rules():
    said = cautions()
    for words in (
        "NIOSH 0.005 ppm averaged over a shift and 0.020 ppm in any 10 min",
        "ACGIH 0.005 ppm over a shift",
        "OSHA ceiling 0.02 ppm at any moment",
        "that is below 0.005 ppm",
        "supplied-air respirator",
        "safety data sheet",
        "smoke or catch fire",
        "Trimming: dust from fresh foam",
    ):
        assert words in said


def test_cold_thick_and_dense_pours_are_told():
    assert "20 °C is colder than 24 °C" in cautions(temperature="20 °C")
    assert "colder than 24 °C" not in cautions(temperature="75.2 °F")
    assert "higher than the 25 mm" in cautions(lift="50 mm", depth="100 mm")
    assert "higher than the 25 mm" not in cautions(lift="1 in", depth="100 mm")
    assert "Lifts of" not in cautions(lift="50 mm", rise="600 mm")
    assert "higher than the 300 mm usual in thin bays" in cautions(lift="400 mm", rise="600 mm")
    assert "runs hotter still" in cautions(density="4 lb/ft³")
    assert "runs hotter still" not in cautions()


def test_a_mix_that_would_have_to_expand_too_much_is_told_with_the_waste_that_mends_it():
    assert "fill 31.2 times" in cautions(density_a="1.1 g/mL", density_b="1.1 g/mL", waste="0 %")
    enough = re.search(r"Enter at least (\d+) % waste", cautions(ratio="1:1 by volume"))[1]
    assert "may not fill" not in cautions(ratio="1:1 by volume", waste=f"{enough} %")
    assert "may not fill" in cautions(ratio="1:1 by volume", waste=f"{int(enough) - 2} %")
    assert "No waste is included" in cautions()
    assert "No waste is included" not in cautions(waste="0 %")


def test_times_come_from_the_class_of_the_foam():
    assert (numbers()["work_time"], numbers()["rise_time"]) == (45, 5)
    assert numbers(density="33 kg/m³")["work_time"] == 45
    dense = numbers(density="4 lb/ft³")
    assert dense["work_time"] is dense["rise_time"] is None
    assert "creams after 30 to 60 s" in cautions(density="4 lb/ft³")
    assert "See your data sheet" in cautions(density="3 lb/ft³")


def test_classes_are_in_order_and_their_ranges_are_ranges():
    rows = tables.load("foams").rows
    densities = [float(row["density_lb_ft3"]) for row in rows]
    assert densities == sorted(densities) == [2, 4, 6]
    for row in rows:
        assert row["class"] == f"{row['density_lb_ft3']} lb"
        for name in ("rise_{}_min", "expansion_{}", "cream_{}_s", "gel_{}_s", "tack_free_{}_min"):
            low, high = row[name.format("low")], row[name.format("high")]
            assert bool(low) == bool(high)
            assert not low or float(low) < float(high)


def test_a_bare_density_is_that_of_the_label_and_the_metric_one_needs_its_unit():
    assert numbers(density="2")["in_place"] == pytest.approx(numbers(density="32.0369 kg/m³")["in_place"], rel=1e-5)
    assert "20 lb/ft³" in problems(**CAVITY, density="32")["density"].fix


def test_exactly_one_way_to_give_the_volume():
    assert problems().keys() == {"volume"}
    assert problems(length="1 m").keys() == {"width", "depth"}
    assert problems(**CAVITY, volume="9 L").keys() == set(CAVITY)
    assert problems(depth="50 mm", volume="9 L").keys() == {"depth"}


@pytest.mark.parametrize("missing", STRIP)
def test_a_bow_wants_the_whole_strip(missing):
    strip = {name: text for name, text in STRIP.items() if name != missing}
    found = problems(**CAVITY, **strip)
    assert found.keys() == {missing}
    assert "is needed for the bow" in found[missing].what


def test_every_problem_is_told_at_once():
    assert problems(length="1 m", span="300 mm").keys() == {"width", "depth", "pressure", "skin", "modulus"}


# The order of the cautions.


def order(said, *words):
    """Check that cautions which hold these words come in their order."""
    places = [next(place for place, caution in enumerate(said) if word in caution) for word in words]
    assert places == sorted(set(places)), said


def test_dangers_to_persons_come_before_what_spoils_the_work_and_that_before_what_is_assumed():
    said = run(**STRIP, ratio="1:1 by volume", packing="1.4").cautions
    order(
        said, "use typical densities", "sensitise your lungs", "burst the panel", "Brace", "catch fire", "Trimming",
        "the top open, pour", "Unbraced, the skin bows", "No waste is included", "is the isocyanate", "rises less",
        "to mix and pour",
    )  # fmt: skip
    order(run(waste="15 %").cautions, "Trimming", "the part meant as waste", "is the isocyanate")


def test_the_figures_of_the_words_of_a_pour():
    mould = {"length": "600 mm", "width": "300 mm", "depth": "50 mm", "density": "2 lb/ft³", "packing": "1.1", "waste": "10 %"}
    got = {
        name: getattr(value, "value", value)
        for name, value in calc.run("foam", {**mould, "ratio": "110:100 by weight"}).outputs.items()
    }
    # 50 mm thick is one lift, 349 g one cup.
    assert got["pour_b"] == pytest.approx(got["part_b"])
    assert (got["lift_height"], got["bay_width"]) == (50, 300)
    assert got["fill"] == pytest.approx(9000 / (got["part_a"] / 1.24 + got["part_b"] / 1.07))
    # 10 and 35 kPa on 0.18 m².
    assert (got["press_low"], got["press_high"]) == pytest.approx((10 * 0.18, 35 * 0.18))
    assert (got["press_low_weight"], got["press_high_weight"]) == pytest.approx((1800 / 9.80665, 6300 / 9.80665))
    braced = {**mould, "ratio": "1:1 by volume", "pressure": "10 kPa", "span": "300 mm", "skin": "6 mm", "modulus": "8 GPa"}
    bent = calc.run("foam", braced).outputs
    assert bent["bow_clamped"].value_in("mm") == pytest.approx(bent["bow"].value_in("mm") / 5)
    assert bent["brace"].value_in("mm") == pytest.approx((384 * 8000 * (6**3 / 12) / (5 * 0.01)) ** 0.25)
    # Without waste 1.1 × 29.74 times its volume, of the 30 that a note says: 9.05 % up.
    lean = calc.run("foam", {**mould, "waste": "0 %", "ratio": "110:100 by weight"}).outputs
    assert lean["waste_enough"].value == math.ceil((1.1 * got["fill"] / 30 - 1) * 100)
