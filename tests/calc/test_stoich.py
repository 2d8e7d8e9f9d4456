"""Checks of the stoich calculator: amines counted atom by atom, blends, ratios of data sheets, and its errors."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopmate import calc
from shopmate.errors import InputError

DIRECTIONS = [
    ("eew", "phr", "falling", {}),
    ("ahew", "phr", "rising", {}),
    ("molar_mass", "phr", "rising", {"ahew": "", "active_hydrogens": "5"}),
]
"""Input, output, its direction, and texts put in beside the first worked example's."""

ATOMS = {"C": 12.011, "H": 1.008, "N": 14.007}
"""Standard atomic weights, abridged (IUPAC) [memory]."""

AMINES = {
    "diethylenetriamine": ({"C": 4, "H": 13, "N": 3}, 5, 10.86),
    "triethylenetetramine": ({"C": 6, "H": 18, "N": 4}, 6, 12.83),
    "isophorone diamine": ({"C": 10, "H": 22, "N": 2}, 4, 22.41),
}
"""Atoms of each amine, its hydrogens on nitrogen, and phr at EEW 190: 100/190 × M ÷ hydrogens [computed]."""


def run(**texts):
    return calc.run("stoich", texts)


def figures(**texts):
    return {name: getattr(value, "value", value) for name, value in run(**texts).outputs.items()}


def said(**texts):
    return " ".join(run(**texts).cautions)


def problems(**texts):
    with pytest.raises(InputError) as caught:
        run(**texts)
    return {problem.field: f"{problem.what}; {problem.fix}" for problem in caught.value.problems}


@pytest.mark.parametrize(("atoms", "hydrogens", "phr"), AMINES.values(), ids=AMINES)
def test_as_many_hydrogens_as_epoxides_counted_from_the_atoms(atoms, hydrogens, phr):
    mass = sum(ATOMS[atom] * count for atom, count in atoms.items())
    got = figures(eew="190", molar_mass=f"{mass:.3f}", active_hydrogens=str(hydrogens))
    epoxides, amines = 100 / 190, got["phr"] / mass
    assert amines * hydrogens == pytest.approx(epoxides, rel=1e-5)
    assert got["phr"] == pytest.approx(phr, abs=0.005)


def test_hydrogens_are_counted_and_not_nitrogens():
    # Three nitrogens in place of five hydrogens would ask for two thirds more hardener.
    assert figures(eew="190", molar_mass="103.17", active_hydrogens="5")["phr"] < 11
    assert "not the nitrogens" in calc.find("stoich").field("active_hydrogens").help


def test_an_inert_part_weighs_and_brings_no_epoxide():
    filled, clean = figures(blend="80 of 189, 10 of 183, 10 inert"), figures(blend="80 of 189, 10 of 183")
    assert filled["eew"] == pytest.approx(clean["eew"] * 100 / 90)
    # The mean by weight, (80·189 + 10·183)/90, is not the equivalent weight of a blend.
    assert clean["eew"] < (80 * 189 + 10 * 183) / 90


def test_the_equivalents_of_a_blend_add_up_and_thinner_raises_the_hardener():
    got = figures(blend="90 of 190, 10 of 130", ahew="50")
    assert 100 / got["eew"] == pytest.approx(90 / 190 + 10 / 130)
    assert got["phr"] > figures(eew="190", ahew="50")["phr"]
    assert "inert" not in said(blend="90 of 190, 10 of 130", ahew="50")
    assert "10 % inert" in said(blend="90 of 190, 10 inert", ahew="50")


@given(eew=st.integers(60, 5000), ahew=st.integers(11, 1900), scale=st.integers(1, 900))
def test_a_blend_of_one_is_that_resin_in_whatever_amount(eew, ahew, scale):
    alone, blend = figures(eew=f"{eew}", ahew=f"{ahew}"), figures(blend=f"{scale} of {eew}", ahew=f"{ahew}")
    assert blend["phr"] == pytest.approx(alone["phr"], rel=1e-12)


@given(eew=st.integers(120, 600), ahew=st.integers(20, 300))
def test_the_ratio_worked_out_implies_the_equivalent_weight_it_came_from(eew, ahew):
    phr = figures(eew=f"{eew}", ahew=f"{ahew}")["phr"]
    back = figures(eew=f"{eew}", ahew=f"{ahew}", ratio=f"100:{phr:.12f} by weight")
    assert back["implied_ahew"] == pytest.approx(ahew, rel=1e-9)
    assert back["amine_ratio"] == pytest.approx(1, rel=1e-9)


def test_a_blend_of_hardeners_holds_the_hydrogens_of_its_parts():
    got = figures(eew="190", hardener_blend="70 of 45, 20 of 90, 10 inert")
    assert 100 / got["ahew"] == pytest.approx(70 / 45 + 20 / 90)
    # As many hydrogens as epoxides: what phr of each part brings, counted apart.
    assert got["phr"] / 100 * (70 / 45 + 20 / 90) == pytest.approx(100 / 190)
    # The mean by weight is not the equivalent weight of a blend, and would ask for too much hardener.
    assert got["ahew"] < (70 * 45 + 20 * 90) / 90 * 100 / 90
    assert "small pot" in said(eew="190", hardener_blend="70 of 45, 30 of 90")
    assert "small pot" not in said(eew="190", ahew="45")
    assert figures(blend="90 of 190, 10 inert", hardener_blend="1 of 45")["phr"] == pytest.approx(
        figures(blend="90 of 190, 10 inert", ahew="45")["phr"]
    )


def test_a_blend_of_hardeners_against_a_ratio_of_the_data_sheet():
    got = figures(eew="200", hardener_blend="1 of 40, 1 of 60", ratio="100:24 by weight")
    assert got["ahew"] == pytest.approx(48)
    assert got["amine_ratio"] == pytest.approx(1)


@pytest.mark.parametrize(
    ("texts", "field", "what"),
    [
        ({"ahew": "45", "hardener_blend": "1 of 45"}, "hardener_blend", "entered together with the AHEW"),
        ({"hardener_blend": "1 of 45", "molar_mass": "103"}, "molar_mass", "entered together with a blended hardener"),
        ({"hardener_blend": "10 inert"}, "hardener_blend", "60 of 43"),
        ({"hardener_blend": "1 of 5"}, "hardener_blend", "10 g/eq or more"),
    ],
)
def test_a_blend_of_hardeners_that_is_none_is_refused(texts, field, what):
    assert what in problems(eew="190", **texts)[field]


def test_blends_are_read_as_people_write_them():
    wanted = "80 of 189, 10.5 of 183, 10 inert"
    for text in ("80@189; 10,5@183; 10 inert", "80 of 189 g/eq + 10.5 of 183 + 10 Inert", "80 of 189, 10-1/2 of 183, 10 inert,"):
        assert run(blend=text).inputs["blend"] == wanted


def test_a_blend_may_have_ten_parts():
    assert figures(blend=", ".join(["1 of 189"] * 10))["eew"] == pytest.approx(189)


@pytest.mark.parametrize(
    ("text", "what"),
    [
        ("80 189", "has no equivalent weight"),
        ("80@189,10@183", "semicolon"),
        ("10 inert", "no part of the blend has an equivalent weight"),
        ("0 of 189", "must be above 0"),
        ("80 of 18", "50 g/eq or more"),
        ("80 of 189 mm", "g/eq"),
        (", ".join(["1 of 189"] * 11), "10 or fewer"),
        (";", "no part"),
    ],
)
def test_a_blend_that_is_none_is_refused_with_what_to_write(text, what):
    assert what in problems(blend=text)["blend"]


@pytest.mark.parametrize(
    ("texts", "field", "what"),
    [
        ({"ahew": "43"}, "eew", "no resin entered"),
        ({"eew": "190"}, "ahew", "no hardener entered"),
        ({"eew": "190", "blend": "80 of 189", "ahew": "43"}, "blend", "together with the EEW"),
        ({"eew": "190", "ahew": "43", "molar_mass": "103"}, "molar_mass", "together with the AHEW"),
        ({"eew": "190", "molar_mass": "103"}, "active_hydrogens", "enter both the molar mass and the active hydrogens"),
        ({"eew": "190", "active_hydrogens": "5"}, "molar_mass", "enter both the molar mass and the active hydrogens"),
        ({"eew": "190", "ratio": "2:1 by volume"}, "ratio", "the mix calculator converts"),
        ({"eew": "190", "ratio": "1:100 by weight"}, "ratio", "resin first"),
    ],
)
def test_fields_that_do_not_go_together_are_refused_by_name(texts, field, what):
    assert what in problems(**texts)[field]


def test_the_ratio_of_the_sheet_outranks_the_one_worked_out():
    text = said(eew="190", ahew="43")
    assert "data-sheet ratio overrides" in text
    assert "never more or less of this one" in text


def test_a_ratio_beyond_the_usual_tolerance_is_pointed_out_and_left_as_it_is():
    even = {"eew": "185", "ahew": "83.25"}
    assert "than the equivalent weights give" not in said(**even, ratio="100:47 by weight")
    assert "11 % more hardener" in said(**even, ratio="100:50 by weight")
    text = said(**even, ratio="100:40 by weight")
    assert "11 % less hardener" in text
    assert "do not use this figure to correct the ratio" in text


def test_a_hardener_lighter_than_any_is_a_slip_or_a_catalyst():
    assert "resin first" in said(eew="190", ratio="100:3 by weight")
    assert "resin first" not in said(eew="190", ratio="100:13 by weight")


def test_a_neat_amine_is_warned_of():
    assert "burns skin" in said(eew="190", molar_mass="103", active_hydrogens="5")


def test_a_ratio_alone_gives_no_hardener_of_its_own():
    got = figures(eew="185", ratio="100:45 by weight")
    assert got["phr"] is got["ahew"] is got["even_ratio"] is got["amine_ratio"] is None
