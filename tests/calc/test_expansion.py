"""Movement with heat and moisture: differences without offset, ends that share it or not, sources that differ."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shopmate import calc
from shopmate.errors import InputError
from shopmate.tables.solids import solids

DIRECTIONS = [
    ("length", "movement", "rising", {}),
    ("material_a", "movement", "rising", {"material_b": ""}),
    ("modulus", "stress", "rising", {"material_b": ""}),
]
"""Input, output, its direction, and texts put in beside the first worked example's."""

NAMES = calc.find("expansion").field("material_a").kind.choice.names()
PLAIN = [name for name in NAMES if name not in ("wood radial", "wood tangential")]


def expansion(**fields):
    given = {"length": "2 m", "dt": "60 K", "material_a": "23 µm/m·K", "material_b": "3.5 µm/m·K", **fields}
    return calc.run("expansion", {name: text for name, text in given.items() if text})


def got(**fields):
    return {name: getattr(value, "value", value) for name, value in expansion(**fields).outputs.items()}


def coefficient(text):
    return got(material_a=text)["coefficient_a"]


def cautions(**fields):
    return "\n".join(expansion(**fields).cautions)


def problems(**fields):
    with pytest.raises(InputError) as caught:
        expansion(**fields)
    return {problem.field: problem for problem in caught.value.problems}


# Temperature and coefficients


def test_a_difference_carries_no_offset():
    # 108 °F of difference are 60 K; as temperatures 108 °F would be 42 °C.
    assert got(dt="108 °F")["movement"] == pytest.approx(got(dt="60 K")["movement"])
    assert got(dt="60 °C")["movement"] == pytest.approx(got(dt="60 K")["movement"])
    assert got(dt="0 °F")["movement"] == 0


@pytest.mark.parametrize(
    ("per_c", "per_f"),
    [(5.1, 2.8), (25.4, 14.1), (33.8, 18.8), (9.0, 5.0), (122, 68), (7.4, 4.1), (117, 65), (5.0, 2.8)],
)
def test_per_degree_fahrenheit_is_1_8_times_per_kelvin(per_c, per_f):
    # A textbook appendix citing the ASM handbooks prints both columns, rounded [read].
    assert coefficient(f"{per_f}e-6 1/°F") == pytest.approx(per_f * 1.8)
    assert coefficient(f"{per_f}e-6 1/°F") == pytest.approx(per_c, rel=0.015)


def test_coefficients_are_read_as_books_write_them():
    for text in ("23e-6 1/K", "23e-6/K", "23E-6 /°C", "23 x 10^-6 per K", "23×10⁻⁶ 1/K", "23 µm/m·K", "0.000023 1/K",
                 "23 x 10^-6 m/m/°C", "23 ppm/K"):  # fmt: skip
        assert coefficient(text) == pytest.approx(23), text
    for text in ("3.4e-6 1/°F", "3.4 µin/in·°F", "3.4 uin/in/F", "0.0000034 in/in/°F", "3.4 x 10^-6 per deg F", "3.4e-6 /degF"):
        assert coefficient(text) == pytest.approx(6.12), text


@pytest.mark.parametrize("text", ["23e-6 µm/m·K", "23", "0.000023", "23e-6", "23 1/K", "23e-3 1/K", "1e-6 kg"])
def test_a_coefficient_off_by_a_million_does_not_pass(text):
    if text == "23":
        assert "read as µm/m·K" in expansion(material_a=text).doubts[0]
    else:
        assert problems(material_a=text)["material_a"].fix


@settings(max_examples=60, deadline=None, derandomize=True)
@given(length=st.integers(1, 100_000), change=st.integers(-150, 150), a=st.integers(1, 3000), b=st.integers(1, 3000))
def test_movement_is_linear_and_the_same_both_ways(length, change, a, b):
    fields = {"length": f"{length} mm", "dt": f"{change} K"}
    one = got(**fields, material_a=f"{a / 10} µm/m·K", material_b=f"{b / 10} µm/m·K")
    other = got(**fields, material_a=f"{b / 10} µm/m·K", material_b=f"{a / 10} µm/m·K")
    assert one["movement"] == other["movement"]
    # Each end moved by itself and the difference taken, as one would measure it.
    ends = [length * (1 + figure / 10 * 1e-6 * change) for figure in (a, b)]
    assert abs(one["movement"]) == pytest.approx(abs(ends[0] - ends[1]), rel=1e-6, abs=1e-7)
    assert (one["movement"] < 0) == (change < 0 and a != b)
    assert one["movement_each_end"] == pytest.approx(one["movement"] / 2)
    assert got(**fields, material_a=f"{a / 10} µm/m·K", material_b=None)["movement"] == pytest.approx(ends[0] - length, abs=1e-7)


# Ends


def test_ends_share_the_movement_only_if_the_middle_is_fixed():
    assert got()["movement_each_end"] == pytest.approx(1.17)
    assert got(fixed="one end")["movement_each_end"] is None
    assert "Fix the part at mid-length" in cautions()
    assert "moves the whole 2.34 mm" in cautions(fixed="one end")
    assert "elastic adhesive 2.34 mm thick" in cautions()
    assert "elastic adhesive 4.68 mm thick" in cautions(fixed="one end")


def test_each_soft_joint_goes_by_its_own_rule():
    # 1.17 mm at an end: rubber to 50 % of its thickness, acrylic foam to 300 %.
    assert got()["elastic"] == pytest.approx(1.17 / 0.5)
    assert got()["tape"] == pytest.approx(1.17 / 3)
    assert "elastic adhesive 2.34 mm thick (twice the movement" in cautions()
    assert "foam tape 0.39 mm thick (a third of the movement" in cautions()


@pytest.mark.parametrize("fixed", ["middle", "one end"])
def test_the_foam_tape_named_is_the_one_the_tape_calculator_asks_for(fixed):
    said = got(fixed=fixed, dt="-30 K")
    tape = calc.run("tape", {"mass": "1 kg", "width": "25 mm", "length_mismatch": f"{said['joint']:.9g} mm"}).outputs
    assert tape["thickness"].value_in("mm") == pytest.approx(said["tape"])
    assert tape["elastic"].value_in("mm") == pytest.approx(said["elastic"])


# Signs


def test_cold_and_drying_shrink_and_keep_their_sign():
    assert got(dt="-60 K")["movement"] == pytest.approx(-2.34)
    assert got(dt="-60 K")["movement_each_end"] == pytest.approx(-1.17)
    # What a joint takes has no sign.
    assert got(dt="-60 K")["elastic"] == pytest.approx(2.34)
    dried = got(moisture_change="-4 %", swelling="0.00338")
    assert dried["moisture_movement"] == pytest.approx(-27.04)
    assert str(got(dt="-60 K", material_b="23 µm/m·K")["movement"]) == "0.0"


def bar_on_board(dt, moisture_change):
    return got(
        length="400 mm", dt=dt, material_a="cured epoxy", material_b="softwood along grain",
        moisture_change=moisture_change, swelling="0.0001",
    )  # fmt: skip


def test_heat_and_moisture_on_two_materials_add_or_cancel_by_their_signs():
    hot_dry, hot_wet, cold_dry = bar_on_board("40 K", "-4 %"), bar_on_board("40 K", "4 %"), bar_on_board("-40 K", "-4 %")
    heat, damp = abs(hot_dry["movement"]), 400 * 0.0001 * 4
    assert hot_dry["movement_together"] == pytest.approx(heat + damp)
    assert hot_wet["movement_together"] == pytest.approx(abs(heat - damp))
    assert cold_dry["movement_together"] == pytest.approx(abs(heat - damp))
    assert (hot_dry["longer"], hot_wet["longer"]) == ("cured epoxy", "cured epoxy")
    assert cold_dry["longer"] == "softwood along grain"
    for told in (hot_dry, hot_wet, cold_dry):
        # The joint is made for the worst: one comes without the other.
        assert told["movement_worst"] == pytest.approx(heat + damp)
        assert told["joint"] == pytest.approx((heat + damp) / 2)


def test_who_ends_up_longer_is_not_guessed():
    assert got(dt="20 K")["longer"] == "23 µm/m·K"
    assert got(dt="-20 K")["longer"] == "3.5 µm/m·K"
    assert got(dt="0 K")["longer"] is None
    # Nothing tells which of two bare coefficients is the wood.
    assert got(moisture_change="4 %", swelling="0.003")["longer"] is None
    assert got(moisture_change="4 %", swelling="0.003", material_b=None)["longer"] == "23 µm/m·K"


# Sources that differ


def test_the_ends_of_the_sources_that_lie_farthest_apart_are_taken():
    result = got(material_a="aluminium", material_b="Douglas-fir along grain")
    assert (result["coefficient_a"], result["coefficient_b"]) == (24, 3.1)
    assert result["movement"] == pytest.approx((24 - 3.1) * 0.12)
    # Whatever pair of the sources is right, no more movement comes out.
    for aluminium in (23, 23.1, 24):
        for fir in (3.1, 3.5, 3.8, 5.1):
            pair = got(material_a=f"{aluminium} µm/m·K", material_b=f"{fir} µm/m·K")["movement"]
            assert pair <= result["movement"]
    said = cautions(material_a="aluminium", material_b="Douglas-fir along grain")
    assert "aluminium 23 to 24 µm/m·K, Douglas-fir along grain 3.1 to 5.1" in said
    assert "sources differ" not in cautions()


@pytest.mark.parametrize("a", PLAIN)
def test_taken_figures_are_those_of_a_source_and_apart_as_can_be(a):
    for b in PLAIN:
        one, other = got(material_a=a, material_b=b), got(material_a=b, material_b=a)
        assert one["movement"] == pytest.approx(other["movement"])
        if a == b:
            assert one["movement"] == 0
            assert one["moves_more"] is None
        else:
            assert one["movement"] >= 0
            assert one["moves_more"] == other["moves_more"]


def test_which_moves_more_is_said_only_if_every_source_says_so():
    assert got(material_a="plywood", material_b="aluminium")["moves_more"] == "aluminium"
    assert got(material_a="acrylic", material_b="polycarbonate")["moves_more"] is None


def test_every_solid_with_an_expansion_can_be_chosen_and_wood_by_its_grain():
    for solid in solids():
        named = [name for name in NAMES if name.startswith(solid.name) and name.removeprefix(solid.name)[:1] in ("", " ")]
        if solid.along is None:
            assert not named
        elif solid.across is None:
            assert solid.name in named
        else:
            assert {f"{solid.name} along grain", f"{solid.name} across grain"} <= set(named)
            along, across = (got(material_a=name, material_b=None)["movement"] for name in named)
            assert across > 4 * along


def test_usual_names_are_understood():
    names = {
        "aluminum": "aluminium",
        "ply": "plywood",
        "fir along": "Douglas-fir along grain",
        "Douglas fir across the grain": "Douglas-fir across grain",
        "spruce across": "softwood across grain",
    }
    for text, name in names.items():
        assert expansion(material_a=text).inputs["material_a"] == name
    assert "Douglas-fir along grain or" in problems(material_a="Douglas-fir")["material_a"].fix
    assert "softwood or hardwood" in problems(material_a="Sitka spruce along")["material_a"].fix
    assert "aluminium" in problems(material_a="unobtainium")["material_a"].fix
    assert problems(material_a="OSB")["material_a"].fix


def test_wood_by_gravity_agrees_with_the_textbook_and_is_said_to_run_low():
    # Textbook: Douglas-fir across the grain 25.4 to 33.8 per K at 12 % moisture [read].
    radial, tangential = (got(material_a=f"wood {way}", gravity="0.48")["coefficient_a"] for way in ("radial", "tangential"))
    assert (radial, tangential) == (pytest.approx(25.4, rel=0.01), pytest.approx(33.8, rel=0.01))
    # Measured 27 radial and 38 to 45 tangential [read]: what is advised to be added covers the lower of them.
    assert "Allow a quarter more" in cautions(material_a="wood tangential", gravity="0.48")
    assert tangential * 1.25 > 38
    assert radial * 1.25 > 27
    assert "gravity" in problems(material_a="wood radial")
    assert "gravity" in problems(gravity="0.48")


# Moisture and stress


def test_moisture_is_the_larger_across_the_grain():
    result = got(length="300 mm", dt="20 K", material_a="softwood across grain", moisture_change="-4 %", swelling="0.00338",
                 material_b=None)  # fmt: skip
    assert result["moisture_movement"] == pytest.approx(-4.056)
    assert -result["moisture_movement"] > 10 * result["movement"]
    assert result["movement_worst"] == pytest.approx(result["movement"] - result["moisture_movement"])
    assert "it moves wood more than heat does: a change of 4 % moves 300 mm of wood by up to 4.08 mm" in cautions(
        length="300 mm", material_a="softwood across grain"
    )
    assert "along the grain" in cautions(material_b="softwood along grain")
    assert got()["movement_worst"] is None


def test_moisture_takes_both_figures():
    assert set(problems(moisture_change="4 %")) == {"swelling"}
    assert set(problems(swelling="0.0027")) == {"moisture_change"}


def test_stress_is_that_of_a_bar_held_rigid():
    # A bar that would grow by L a dT is pressed back by that strain: E × strain, whatever its length.
    result = got(dt="-40 K", modulus="69 GPa", material_b=None)
    strain = result["movement"] / 2000
    assert result["stress"] == pytest.approx(-69_000 * strain)
    assert got(dt="72 °F", modulus="10000000 psi")["stress"] == pytest.approx(63.4, rel=0.01)
    assert got()["stress"] is None
    assert got(material_a="aluminium")["stress"] == pytest.approx(70_000 * 24e-6 * 60)
    assert got(material_a="softwood across grain")["stress"] is None


def test_the_figures_of_the_words_of_an_expansion():
    got = calc.run("expansion", {"length": "2 m", "dt": "60 K", "material_a": "23 µm/m·K", "material_b": "3.5 µm/m·K"}).outputs
    both_known = (23 - 3.5) * 1e-6 * 2000 * 60
    assert got["movement_least"].value_in("mm") == pytest.approx(both_known)
    # Twice the movement at one of two ends.
    assert got["elastic"].value_in("mm") == pytest.approx(2 * both_known / 2)
    wood = calc.run("expansion", {"length": "300 mm", "dt": "10 K", "material_a": "hardwood across grain"}).outputs
    # 4 % of moisture at 0.0034 per cent.
    assert wood["season"].value_in("mm") == pytest.approx(300 * 4 * 0.0034)
