"""The bow of a strip against Timoshenko's formula, layers integrated, arcs and beams solved as differential equations."""

import math

import numpy as np
import pytest
from scipy.integrate import quad, solve_bvp, solve_ivp
from scipy.optimize import brentq

from shopmate import calc
from shopmate.errors import InputError
from shopmate.tables import sandwich as materials

DIRECTIONS = [
    ("dm_top", "bow", "rising", {}),
    ("dm_bottom", "strain_difference", "falling", {}),
    ("length", "tip", "rising", {}),
    ("core_thickness", "curvature", "falling", {}),
    ("width", "hold_force", "rising", {}),
    ("core_shear_modulus", "hold_force", "rising", {}),
    ("curvature", "bow", "rising", {"length": "100 mm", "dm_top": "", "dm_bottom": ""}),
]
"""Input, output, its direction, and texts put in beside the first worked example's."""

PLY = {
    "length": "1200 mm", "top_thickness": "6 mm", "top_modulus": "7 GPa", "top_swelling": "20 µm/m",
    "bottom_thickness": "6 mm", "bottom_modulus": "7 GPa", "bottom_swelling": "20 µm/m",
    "core_thickness": "38 mm", "core_modulus": "5 MPa", "core_shear_modulus": "1.7 MPa", "dm_top": "40 %", "dm_bottom": "0 %",
}  # fmt: skip


def run(fields, **more):
    return calc.run("bow", {**fields, **more})


def figures(fields, **more):
    return {name: getattr(value, "value", value) for name, value in run(fields, **more).outputs.items()}


def refused(fields, **more):
    with pytest.raises(InputError) as caught:
        calc.run("bow", {**fields, **more})
    return {problem.field: f"{problem.what}; {problem.fix}" for problem in caught.value.problems}


def layered(top, bottom, core=None, **more):
    """Texts for layers of (mm, MPa, µm/m), the strain as an expansion of so much for one kelvin."""
    texts = {}
    for name, (thick, modulus, strain) in (("top", top), ("bottom", bottom)):
        texts |= {f"{name}_thickness": f"{thick} mm", f"{name}_modulus": f"{modulus} MPa", f"dt_{name}": "10 K"}
        texts[f"{name}_expansion"] = f"{strain / 10} µm/m·K"
    if core:
        texts |= {"core_thickness": f"{core[0]} mm", "core_modulus": f"{core[1]} MPa", "core_strain": f"{core[2]} µm/m"}
    return {"length": "300 mm", **texts, **more}


@pytest.mark.outside("Timoshenko 1925, bimetal strip with all terms, as a public solver test quotes it [read]")
def test_two_layers_curve_as_timoshenko_says():
    for top, bottom in (
        ((0.5, 200_000, 960), (1, 70_000, 1840)),
        ((6, 7000, 0), (0.5, 14_000, 500)),
        ((2, 3000, 700), (2, 70_000, 100)),
        ((12, 10_000, 300), (0.1, 70_000, 1900)),
    ):
        m, n, h = top[0] / bottom[0], top[1] / bottom[1], top[0] + bottom[0]
        strain = (top[2] - bottom[2]) * 1e-6
        wanted = 6 * strain * (1 + m) ** 2 / (h * (3 * (1 + m) ** 2 + (1 + m * n) * (m**2 + 1 / (m * n))))
        assert figures(layered(top, bottom))["curvature"] == pytest.approx(wanted * 1000, rel=1e-9)


@pytest.mark.outside("force and moment of slices balanced by numpy.linalg, integrals over each layer by scipy quad [computed]")
def test_three_layers_curve_so_that_force_and_moment_balance():
    for top, core, bottom in (
        ((6, 7000, 800), (38, 5, 0), (1, 14_000, 0)),
        ((3, 7000, 100), (20, 8000, -200), (5, 3500, 400)),
        ((0.5, 70_000, 900), (100, 20, 450), (0.5, 70_000, -30)),
    ):
        ends = np.cumsum([0, top[0], core[0], bottom[0]])
        balance, pull = np.zeros((2, 2)), np.zeros(2)
        for (_, modulus, strain), low, high in zip((top, core, bottom), ends, ends[1:], strict=False):
            for row in range(2):
                pull[row] += quad(lambda z, e=modulus, s=strain, row=row: e * s * 1e-6 * z**row, low, high)[0]
                for column in range(2):
                    balance[row, column] += quad(lambda z, e=modulus, power=row + column: e * z**power, low, high)[0]
        slope = np.linalg.solve(balance, pull)[1]
        # Strain that grows downwards makes the bottom convex.
        assert figures(layered(top, bottom, core))["curvature"] == pytest.approx(-slope * 1000, rel=1e-7)


@pytest.mark.outside("scipy solve_ivp along the arc, bow read from its chord [computed]")
def test_bow_and_tip_are_those_of_the_arc():
    for curvature, length in ((0.02, 2.4), (1.0, 1.0), (-0.5, 3.0), (3.0, 1.0)):
        way = solve_ivp(
            lambda _, y, k=curvature: (math.cos(y[2]), math.sin(y[2]), k),
            (0, length), (0, 0, -curvature * length / 2), rtol=1e-10, atol=1e-12, t_eval=(length / 2, length),
        )  # fmt: skip
        assert way.y[1][1] == pytest.approx(0, abs=1e-9)
        got = figures({"length": f"{length} m", "curvature": f"{curvature} 1/m"})
        assert got["bow"] == pytest.approx(-way.y[1][0] * 1000, rel=1e-6)
        held = solve_ivp(
            lambda _, y, k=curvature: (math.cos(y[2]), math.sin(y[2]), k), (0, length), (0, 0, 0), rtol=1e-10, atol=1e-12
        )
        assert got["tip"] == pytest.approx(held.y[1][-1] * 1000, rel=1e-6)
        assert got["radius"] == pytest.approx(1 / curvature)
        assert got["arc"] == pytest.approx(math.degrees(abs(curvature) * length))


@pytest.mark.outside("scipy solve_bvp: a beam with core shear pressed by the force sinks by the bow [computed]")
def test_the_hold_force_presses_the_bow_out():
    got = figures(PLY, width="600 mm")
    bending = got["bending_stiffness"] * 1e6
    for shear_modulus, shear in (("1.7 MPa", 1.7 * 600 * 44**2 / 38), ("250000 MPa", 250_000 * 600 * 44**2 / 38)):
        force = figures(PLY, width="600 mm", core_shear_modulus=shear_modulus)["hold_force"]

        def slopes(x, y, shear=shear):
            return np.vstack((y[1] + y[3] / shear, -y[2] / bending, y[3], np.zeros_like(x)))

        def held(a, b, force=force):
            return np.array([a[0], a[2], b[1], b[3] - force / 2])

        found = solve_bvp(slopes, held, np.linspace(0, 600, 30), np.zeros((4, 30)), tol=1e-10)
        assert found.sol(600)[0] == pytest.approx(got["bow"], rel=1e-6)
    assert got["shear_stiffness"] == pytest.approx(1.7 * 600 * 44**2 / 38 / 1000)
    assert figures({**PLY, "core_shear_modulus": ""}, width="600 mm")["shear_stiffness"] is None
    # Without a core shear modulus the core counts as stiff; a strip of two layers has no core at all.
    stiff = figures({**PLY, "core_shear_modulus": ""}, width="600 mm")["hold_force"]
    assert stiff == pytest.approx(figures(PLY, width="600 mm", core_shear_modulus="250000 MPa")["hold_force"], rel=1e-4)
    assert "the force shown is too high" in " ".join(run({**PLY, "core_shear_modulus": ""}, width="600 mm").cautions)
    assert "the force shown is too high" not in " ".join(run(PLY, width="600 mm").cautions)


@pytest.mark.outside("scipy brentq for the drying that undoes the heat: 6.1 × 30 / 20 = 9.15 % [computed]")
def test_heat_and_drying_pull_opposite_ways():
    heated = {**PLY, "dt_top": "30 K", "dt_bottom": "0 K", "top_expansion": "6.1 µm/m·K", "bottom_expansion": "6.1 µm/m·K"}
    dried = brentq(lambda percent: figures(heated, dm_top=f"{percent:.12f} %")["bow"], -50, 50)
    assert dried == pytest.approx(-9.15, rel=1e-6)
    assert figures(heated, dm_top="0 %")["convex"] == "top"
    assert figures(heated, dm_top="-30 %")["convex"] == "bottom"


def test_the_same_on_both_faces_leaves_it_exactly_flat():
    shrunk = {"top_shrink": "0.1 %", "bottom_shrink": "0.1 %"}
    for both in ({}, {"core_strain": "-300 µm/m"}, shrunk):
        both = {"dm_bottom": "40 %", **both}
        got = figures(PLY, width="600 mm", **both)
        assert (got["bow"], got["tip"], got["curvature"], got["convex"], got["radius"]) == (0, 0, 0, "flat", None)
        assert got["hold_force"] == 0
    # Two unlike layers that would both lengthen alike stay flat too.
    assert figures(layered((3, 7000, 412.7), (0.4, 70_000, 412.7)))["curvature"] == 0
    said = " ".join(run(PLY, dm_bottom="40 %", width="600 mm").cautions)
    assert "force the strip straight" not in said
    assert "same sealing coats" not in said


def test_turned_over_it_bows_the_other_way():
    top, bottom = (6, 7000, 800), (1, 14_000, 0)
    one, other = figures(layered(top, bottom)), figures(layered(bottom, top))
    for name in ("bow", "tip", "curvature", "strain_difference"):
        assert one[name] == pytest.approx(-other[name])
    assert (one["convex"], other["convex"]) == ("top", "bottom")
    assert (one["strain_top"], one["strain_bottom"]) == pytest.approx((800, 0))


def test_a_material_gives_what_is_not_entered():
    by_name = {**PLY, "top_modulus": "", "top_swelling": "", "top_material": "ply", "bottom_modulus": "", "bottom_swelling": "",
               "bottom_material": "ply", "core_modulus": "", "core_shear_modulus": "", "core_material": "PU foam"}  # fmt: skip
    assert figures(by_name, width="600 mm") == figures(PLY, width="600 mm")
    assert figures(by_name, top_swelling="40 µm/m")["strain_top"] == 1600
    assert set(refused(by_name, top_material="glass cloth")) == {"top_swelling"}
    assert "per point of relative humidity" in " ".join(run(by_name).cautions)
    assert "per point of relative humidity" not in " ".join(
        run(by_name, top_swelling="20 µm/m", bottom_swelling="20 µm/m").cautions
    )
    # Composite text table 2.1: 8.6 along and 22.1 across µm/m·K [read]; aluminium 23, Gere [read].
    assert [materials.skin(name).expansion for name in ("one-way glass", "one-way glass across", "aluminium")] == [8.6, 22.1, 23]


def test_a_curvature_that_was_measured_has_a_hold_force_where_the_layers_are_known():
    got = figures(PLY, width="600 mm")
    again = {name: text for name, text in PLY.items() if "swelling" not in name and "dm_" not in name}
    measured = figures(again, width="600 mm", curvature=f"{got['curvature']:.15f} 1/m")
    assert measured["hold_force"] == pytest.approx(got["hold_force"])
    assert measured["strain_difference"] is None
    assert figures({"length": "1 m", "curvature": "0.1 1/m"}, width="100 mm")["hold_force"] is None
    assert figures(PLY)["hold_force"] is None


def test_what_does_not_go_together_is_refused_by_name():
    assert set(refused({"length": "1 m"})) == {"dt_top", "top_thickness", "bottom_thickness"}
    assert set(refused(PLY, curvature="0.1 1/m")) == {"dm_top", "dm_bottom", "top_swelling", "bottom_swelling"}
    assert set(refused({"length": "1 m", "curvature": "1 1/m", "top_thickness": "6 mm", "top_modulus": "7 GPa"})) == {
        "bottom_thickness"
    }
    assert set(refused(PLY, bottom_modulus="", top_modulus="")) == {"bottom_modulus", "top_modulus"}
    assert set(refused(PLY, core_thickness="")) == {"core_modulus", "core_shear_modulus"}
    assert set(refused(PLY, dt_top="10 K")) == {"top_expansion"}
    assert set(refused(PLY, top_expansion="10 µm/m·K")) == {"top_expansion"}
    assert "past half a circle" in refused({"length": "10 m", "curvature": "1 1/m"})["curvature"]
    assert "past half a circle" in refused(layered((0.05, 70_000, 1900), (0.05, 70_000, -40)), length="10 m")["length"]


def test_what_was_not_entered_for_the_other_face_is_said():
    lone = {name: text for name, text in PLY.items() if name != "dm_bottom"}
    assert figures(lone)["bow"] == figures(PLY)["bow"]
    assert "moisture at the bottom" in " ".join(run(lone).cautions)
    assert "moisture at the bottom" not in " ".join(run(PLY).cautions)
    only_bottom = {name: text for name, text in PLY.items() if name != "dm_top"}
    assert "moisture at the top" in " ".join(run(only_bottom, dm_bottom="5 %").cautions)


def test_a_change_of_moisture_may_say_of_what():
    said = {
        "dm_top": "40 % RH",
        "dm_bottom": "0 points",
        "top_swelling": "20 µm/m per % RH",
        "bottom_swelling": "20 um/m per 1 % rh",
    }
    assert figures(PLY, **said) == figures(PLY)
    assert figures(PLY, dm_top="40 %MC") == figures(PLY)
    assert set(refused(PLY, dm_top="40 % of it")) == {"dm_top"}


def test_cautions_say_what_to_do_against_what_bows_it():
    glassed = {
        "length": "1.2 m",
        "top_thickness": "0.5 mm",
        "top_modulus": "14 GPa",
        "bottom_thickness": "6 mm",
        "bottom_modulus": "7 GPa",
    }
    for cause, words in (
        ({"top_shrink": "0.05 %"}, "Glass both faces in one go"),
        ({"dm_bottom": "10 %", "bottom_swelling": "20 µm/m"}, "Give both faces and all edges the same sealing coats"),
        ({"dt_top": "20 K", "top_expansion": "14 µm/m·K"}, "Leave room for this bow"),
    ):
        said = " ".join(run(glassed, **cause).cautions)
        assert words in said
        assert ("measure its bow" in said) == ("top_shrink" in cause)
    assert "winding sticks" in " ".join(run(PLY).cautions)
    assert run({"length": "1 m", "curvature": "0.1 1/m"}).cautions == ()
    assert ": 449 N" in " ".join(run(PLY, width="600 mm").cautions)


def test_the_picture_shows_the_bow_on_the_side_it_is_and_says_that_it_enlarges_it():
    for dm, mid in (("40 %", 0.8), ("-40 %", -0.8), ("0 %", 0.0)):
        result = run(PLY, dm_top=dm)
        picture = calc.find("bow").drawn(result.inputs, result.outputs)[0]
        bottom = picture.shapes[-1].outline
        assert bottom[-1 - len(bottom) // 4][1] == pytest.approx(mid)
        assert "bow enlarged" in picture.foot[0]
        assert [shape.material for shape in picture.shapes] == ["top", "core", "bottom"]
    result = run({"length": "1 m", "curvature": "0.1 1/m"})
    assert [shape.material for shape in calc.find("bow").drawn(result.inputs, result.outputs)[0].shapes] == ["strip"]
