"""The sandwich panel against beams solved as differential equations, plates on springs as integrals, and slices added up."""

import math
from itertools import pairwise

import numpy as np
import pytest
from scipy.integrate import quad, solve_bvp
from scipy.optimize import brentq
from scipy.special import j1, keip, kerp, zeta

from shopmate import calc
from shopmate.errors import InputError
from shopmate.models.kelvin import derivatives
from shopmate.tables import sandwich as materials

DIRECTIONS = [
    ("span", "deflection", "rising", {}),
    ("pressure", "core_shear", "rising", {}),
    ("core", "bending_stiffness", "rising", {}),
    ("core_shear_modulus", "deflection_shear", "falling", {}),
    ("creep", "deflection_long", "rising", {}),
    ("width", "width_shear", "rising", {"pressure": "", "point": "800 N"}),
    ("patch", "dent", "falling", {"pressure": "", "point": "800 N"}),
    ("patch", "core_pressure", "falling", {"pressure": "", "point": "800 N"}),
]
"""Input, output, its direction, and texts put in beside the first worked example's."""

PLY = {"span": "1200 mm", "width": "600 mm", "skin": "6 mm", "skin_modulus": "7 GPa", "core": "38 mm", "core_modulus": "5 MPa",
       "core_shear_modulus": "1.7 MPa"}  # fmt: skip
SNOW = {**PLY, "pressure": "1 kPa"}
HEEL = {"point": "800 N", "patch": "50 mm", "skin": "6 mm", "skin_modulus": "7 GPa", "core": "38 mm", "core_modulus": "5 MPa"}
STRENGTHS = {"skin_strength": "35 MPa", "core_shear_strength": "0.12 MPa", "core_crush": "0.11 MPa"}


def run(fields, **more):
    return calc.run("sandwich", {**fields, **more})


def figures(fields, **more):
    return {name: getattr(value, "value", value) for name, value in run(fields, **more).outputs.items()}


def refused(**fields):
    with pytest.raises(InputError) as caught:
        calc.run("sandwich", fields)
    return {problem.field: f"{problem.what}; {problem.fix}" for problem in caught.value.problems}


def solved(support, load, total, span, bending, shear):
    """Deflection, greatest moment and shear force of a shear-flexible beam: w' = θ + V/S, θ' = −M/D, M' = V, V' = −q."""
    q = total / span if load == "pressure" else 0.0
    end = span if support == "cantilever" else span / 2

    def slopes(x, y):
        return np.vstack((y[1] + y[3] / shear, -y[2] / bending, y[3], np.full_like(x, -q)))

    def held(a, b):
        if support == "cantilever":
            return np.array([a[0], a[1], b[2], b[3] - (0 if q else total)])
        return np.array([a[0], a[2] if support == "simple" else a[1], b[1], b[3] - (0 if q else total / 2)])

    found = solve_bvp(slopes, held, np.linspace(0, end, 60), np.zeros((4, 60)), tol=1e-10)
    assert found.success
    return found.sol(end)[0], max(abs(found.y[2])), max(abs(found.y[3]))


@pytest.mark.outside("scipy solve_bvp on the differential equations of a shear-flexible beam [computed]")
def test_sag_moment_and_shear_of_each_support_and_load_are_those_of_the_beam_solved():
    for support in ("simple", "fixed", "cantilever"):
        for load, text in (("pressure", "1 kPa"), ("point", "300 N")):
            # 500 mm wide over 1.2 m: the whole width works in every support but that of the point's own widths.
            got = figures({**PLY, "width": "200 mm"}, support=support, patch="20 mm", **{load: text})
            total = 0.001 * 200 * 1200 if load == "pressure" else 300
            bending, shear = got["bending_stiffness"] * 1e6, got["shear_stiffness"] * 1e3
            sag, moment, force = solved(support, load, total, 1200.0, bending, shear)
            assert got["deflection"] == pytest.approx(sag, rel=1e-6)
            assert got["moment"] == pytest.approx(moment / 1000, rel=1e-6)
            assert got["shear"] == pytest.approx(force, rel=1e-6)
            assert got["deflection_long"] == got["deflection"]


@pytest.mark.outside("stiffness and outer stress by slices of 1/1000 mm added up in numpy [computed]")
def test_unequal_skins_bend_about_the_axis_that_slices_find():
    panel = {**SNOW, "skin_bottom": "1 mm", "skin_bottom_modulus": "14 GPa"}
    z = np.arange(0.0005, 45, 0.001)
    e = np.where(z < 6, 7000.0, np.where(z < 44, 5.0, 14000.0))
    axis = (e * z).sum() / e.sum()
    stiffness = 600 * (e * (z - axis) ** 2).sum() * 0.001
    got = figures(panel)
    assert got["bending_stiffness"] == pytest.approx(stiffness / 1e6, rel=1e-6)
    assert got["skin_stress"] == pytest.approx(108_000 * 14000 * (45 - axis) / stiffness, rel=1e-6)
    assert got["skin_mean"] == pytest.approx(108_000 / (600 * 1 * 41.5), rel=1e-9)


def hankel(load, patch, skin, modulus, core, core_modulus):
    """Pressure, dent and skin moment at the middle of a disc on a plate on springs, as integrals over the wave number."""
    plate, spring, a = modulus * skin**3 / (12 * (1 - 0.3**2)), core_modulus / core, patch / 2
    spread, reach = load / (math.pi * a**2), (plate / spring) ** 0.25

    def over(power):
        ends = np.concatenate(([0], np.arange(1, 400) * math.pi * reach / a))
        return sum(quad(lambda x: x**power * j1(x * a / reach) / (1 + x**4), low, high)[0] for low, high in pairwise(ends))

    pressure = spread * a / reach * over(0)
    moment = (1 + 0.3) / 2 * spread * a * reach * over(2)
    return pressure, pressure / spring, moment


@pytest.mark.outside("Hankel integral of a plate on springs under a disc, by scipy quad [computed]")
def test_a_foot_presses_dents_and_bends_as_the_plate_on_springs_does():
    for patch, skin, modulus, core, foam in (
        (50, 6, 7000, 38, 5),
        (200, 6, 7000, 38, 5),
        (100, 1.5, 14000, 25, 15),
        (20, 9, 7000, 60, 8),
    ):
        pressure, dent, moment = hankel(800, patch, skin, modulus, core, foam)
        got = figures(HEEL, patch=f"{patch} mm", skin=f"{skin} mm", skin_modulus=f"{modulus} MPa", core=f"{core} mm",
                      core_modulus=f"{foam} MPa")  # fmt: skip
        assert got["dent"] == pytest.approx(dent, rel=1e-4)
        assert got["skin_local"] == pytest.approx(6 * moment / skin**2, rel=2e-3)
        assert got["core_pressure"] == pytest.approx(min(1.25 * pressure, got["patch_pressure"]), rel=1e-4)
        assert got["patch_pressure"] == pytest.approx(800 / (math.pi * (patch / 2) ** 2))
        assert got["patch_used"] == patch


@pytest.mark.outside("scipy brentq on the Hankel integral [computed]")
def test_the_pad_is_the_disc_under_which_the_core_is_just_not_crushed():
    got = figures(HEEL, core_crush="0.11 MPa")
    wanted = brentq(lambda patch: 1.25 * hankel(800, patch, 6, 7000, 38, 5)[0] * 1.5 - 0.11, 60, 200)
    assert got["pad"] == math.ceil(wanted)
    assert figures(HEEL, core_crush="0.11 MPa", patch=f"{got['pad']} mm")["use_crush"] < 100
    assert figures(HEEL, core_crush="0.11 MPa", patch=f"{got['pad'] - 1} mm")["use_crush"] > 100
    assert figures(HEEL, core_crush="0.11 MPa", patch="200 mm")["pad"] is None
    assert figures(HEEL, core_crush="0.11 MPa", point="20 kN", core_modulus="0.5 MPa", skin="0.5 mm", skin_modulus="500 MPa",
                   core="300 mm")["pad"] is not None  # fmt: skip
    assert figures(HEEL, core_crush="0.01 MPa", point="20 kN")["pad"] is None


@pytest.mark.outside("scipy.special kerp and keip")
def test_the_series_of_the_kelvin_functions_is_theirs():
    for r in (1e-3, 0.05, 0.3, 1, 2, 3.7, 5, 6.5, 7.99, 8):
        ker, kei = derivatives(r)
        assert ker == pytest.approx(kerp(r), rel=1e-6)
        assert kei == pytest.approx(keip(r), rel=1e-6)
    assert derivatives(8.01) == (0, 0)
    assert abs(kerp(8.01)) < 0.003
    assert abs(keip(8.01)) < 0.003


@pytest.mark.outside("Fourier sum of an infinite strip under a point: P L²/(2 π³ D) Σ 1/n³ over odd n, by scipy zeta [computed]")
def test_a_wide_panel_bends_over_the_width_that_the_infinite_strip_gives():
    got = figures({**PLY, "width": "3 m", "point": "800 N"})
    wanted = 1200 / (48 * 7 / 8 * zeta(3) / (2 * math.pi**3))
    assert got["width_bending"] == pytest.approx(wanted, rel=0.002)


def strip_sag(support):
    """Sag × D / (P L²) under a point on an infinite strip of plate: each wave along the strip solved across it, then added up."""
    end = 1.0 if support == "cantilever" else 0.5

    def rows(k, x):
        # (1, x) e^(−kx) and (1, x) e^(k(x − end)), with their first three derivatives.
        found = []
        for s, size in ((-k, math.exp(-k * x)), (k, math.exp(k * (x - end)))):
            found.append([size * s**n for n in range(4)])
            found.append([size * (s**n * x + n * s ** (n - 1) if n else x) for n in range(4)])
        return np.array(found).T

    def wave(k):
        edge, load = rows(k, 0.0), rows(k, end)
        at_edge = [edge[0], edge[2] if support == "simple" else edge[1]]
        slope, push = load[1], load[3] - (2 - 0.3) * k**2 * load[1]
        at_load = [load[2] - 0.3 * k**2 * load[0], push] if support == "cantilever" else [slope, push]
        parts = np.linalg.solve(np.array(at_edge + at_load), [0, 0, 0, -1 if support == "cantilever" else 0.5])
        return abs(load[0] @ parts)

    return (quad(wave, 0.05, 400, limit=400)[0] + 0.05 * wave(0.05)) / math.pi


@pytest.mark.outside("infinite strip of plate by its waves, each a 4 × 4 system in numpy, added up by scipy quad [computed]")
def test_a_wide_panel_bends_over_the_width_of_the_infinite_strip_on_any_support():
    for support, beam in (("simple", 1 / 48), ("fixed", 1 / 192), ("cantilever", 1 / 3)):
        wanted = beam / strip_sag(support)
        got = figures({**PLY, "span": "1000 mm", "width": "3 m", "point": "100 N", "support": support})
        assert got["width_bending"] / 1000 == pytest.approx(wanted, rel=0.007), support


@pytest.mark.outside("potential of a disc between two grounded lines, integrated by scipy quad [computed]")
def test_a_wide_panel_shears_over_the_width_that_images_give():
    for patch in (40, 100, 200):
        got = figures({**PLY, "width": "3 m", "point": "800 N", "patch": f"{patch} mm"})

        def round_about(r, patch=patch):
            def green(turn):
                x, y = (math.pi * r * part / 1200 / 2 for part in (math.cos(turn), math.sin(turn)))
                # (cosh 2y + cos 2x) / (cosh 2y − cos 2x), without the cancellation near the middle.
                return math.log((math.sinh(y) ** 2 + math.cos(x) ** 2) / (math.sinh(y) ** 2 + math.sin(x) ** 2)) / (4 * math.pi)

            return quad(green, 0, math.pi / 2)[0] * 2 / math.pi * 2 * r / (patch / 2) ** 2

        potential = quad(round_about, 0, patch / 2)[0]
        assert got["width_shear"] == pytest.approx(1200 / (4 * potential), rel=0.005)


def test_under_a_point_the_widths_of_a_wide_panel_are_no_wider_than_it():
    for width in ("150 mm", "600 mm", "1000 mm", "3000 mm"):
        for support in ("simple", "fixed", "cantilever"):
            got = figures({**PLY, "width": width, "point": "800 N", "support": support})
            for name in ("width_bending", "width_shear", "width_moment"):
                assert got[name] <= float(width.split()[0])
    # Moment of a published plate table: M = P/(4 π) ((1 + ν) ln(2L/(π a)) + 1) [read], b = P L/4 / M.
    got = figures({**PLY, "width": "3000 mm", "point": "800 N"})
    per_mm = 800 / (4 * math.pi) * (1.3 * math.log(2 * 1200 / (math.pi * 50)) + 1)
    assert got["width_moment"] == pytest.approx(800 * 1200 / 4 / per_mm)
    assert got["shear"] / (got["width_shear"] * 44) == pytest.approx(got["core_shear"])
    assert "half the span is assumed" in " ".join(run({**PLY, "width": "700 mm", "point": "800 N", "support": "fixed"}).cautions)
    assert "half the span" not in " ".join(run({**PLY, "width": "500 mm", "point": "800 N", "support": "fixed"}).cautions)


def test_each_share_is_stress_over_strength_times_its_factor_and_the_largest_governs():
    got = figures({**SNOW, **STRENGTHS})
    assert got["use_deflection"] == pytest.approx(100 * got["deflection"] * 200 / 1200)
    assert got["use_skin"] == pytest.approx(200 * got["skin_stress"] / 35)
    assert got["use_core_shear"] == pytest.approx(300 * got["core_shear"] / 0.12)
    assert got["use_wrinkling"] == pytest.approx(300 * got["skin_mean"] / got["wrinkling_stress"])
    assert (got["use_crush"], got["use_foot"]) == (None, None)
    assert got["governs"] == "deflection"
    assert got["use"] == got["use_deflection"]
    foot = figures({**PLY, **STRENGTHS, "point": "800 N", "patch": "50 mm"})
    assert foot["use_crush"] == pytest.approx(150 * foot["core_pressure"] / 0.11)
    assert foot["use_foot"] == pytest.approx(200 * foot["skin_local"] / 35)
    assert foot["governs"] == "crush"
    assert figures({**SNOW, **STRENGTHS}, shear_factor="10")["governs"] == "core shear"


@pytest.mark.parametrize(("load", "limit", "unit"), [("pressure", "pressure_limit", "kPa"), ("point", "point_limit", "N")])
def test_at_the_load_of_the_limit_all_that_is_allowed_is_used(load, limit, unit):
    fields = {**PLY, **STRENGTHS}
    at = figures({**fields, load: f"{1 if load == 'pressure' else 300} {unit}"})[limit]
    assert figures({**fields, load: f"{at:.12f} {unit}"})["use"] == pytest.approx(100)
    # A limit is said only where everything is judged.
    assert figures({**PLY, load: f"1 {unit}"})[limit] is None


def test_the_verdict_names_what_is_wrong_the_worst_first():
    assert figures({**PLY, **STRENGTHS, "pressure": "1 kPa"})["verdict"] == "ok"
    assert figures({**PLY, **STRENGTHS, "pressure": "2 kPa"})["verdict"] == "tight"
    assert figures({**PLY, **STRENGTHS, "pressure": "2.5 kPa"})["verdict"] == "too soft"
    assert figures({**PLY, **STRENGTHS, "pressure": "10 kPa"})["verdict"] == "too soft; too weak"
    assert figures({**PLY, **STRENGTHS, "pressure": "10 kPa", "shear_factor": "10"})["verdict"] == "too weak; too soft"
    assert figures({**PLY, **STRENGTHS, "pressure": "6 kPa", "limit": "50"})["verdict"] == "too weak"


def test_the_skin_that_is_pressed_wrinkles():
    unequal = {**SNOW, "skin_bottom": "1 mm", "skin_bottom_modulus": "14 GPa"}
    top, bottom = (0.5 * (modulus * 5 * 1.7) ** (1 / 3) for modulus in (7000, 14000))
    assert figures(unequal)["wrinkling_stress"] == pytest.approx(top)
    assert figures(unequal, support="cantilever")["wrinkling_stress"] == pytest.approx(bottom)
    # Clamped at both ends, both are pressed somewhere: the thin one wrinkles first.
    assert figures(unequal, support="fixed")["wrinkling_stress"] == pytest.approx(bottom)
    got = figures(unequal)
    assert got["use_wrinkling"] == pytest.approx(300 * got["skin_mean"] / 6 / top)


def test_each_skin_is_held_to_its_own_strength():
    # Ply along over ply across of 15 MPa: alike in stress to a few per cent, the lower strength counts.
    got = figures(SNOW, skin_material="plywood", skin_bottom_material="plywood across", skin_bottom_modulus="7 GPa")
    assert got["use_skin"] == pytest.approx(200 * got["skin_stress"] / 15)
    assert figures(SNOW, skin_material="plywood")["use_skin"] == pytest.approx(200 * got["skin_stress"] / 35)
    assert figures(SNOW, skin_bottom_modulus="14 GPa", skin_material="plywood")["use_skin"] is None
    assert figures(SNOW, skin_bottom_modulus="7 GPa", skin_strength="20 MPa")["use_skin"] == pytest.approx(
        200 * got["skin_stress"] / 20
    )


def test_a_mass_is_its_weight_and_a_mass_on_an_area_its_pressure():
    # 80 kg × 9.80665 m/s² = 784.532 N; 20 lb/ft² is 957.6 Pa (20 × 4.44822 N / 0.09290304 m²) [computed].
    assert figures({**PLY, "pressure": "1 kPa"})["load"] == pytest.approx(720)
    assert figures({**PLY, "pressure": "1 kPa"})["span_ratio"] == pytest.approx(438.29, rel=1e-4)
    assert figures({**PLY, "point": "80 kg"})["shear"] == pytest.approx(784.532 / 2)
    assert figures({**PLY, "point": "180 lb"})["shear"] == pytest.approx(180 * 4.4482216 / 2)
    assert figures({**PLY, "pressure": "20 lb/ft²"})["shear"] == pytest.approx(957.605e-6 * 600 * 1200 / 2, rel=1e-5)
    assert figures({**PLY, "pressure": "20 psf"}) == figures({**PLY, "pressure": "20 lb/ft²"})
    assert figures({**PLY, "pressure": "1 kN/m²"}) == figures({**PLY, "pressure": "1 kPa"})
    assert figures({**PLY, "pressure": "100 kg/m²"})["shear"] == pytest.approx(980.665e-6 * 600 * 1200 / 2)
    assert "above the maximum" in refused(**PLY, point="5000 kg")["point"]
    assert "measures length" in refused(**PLY, point="5 mm")["point"]


def test_a_load_case_sets_patch_step_and_creep_and_what_is_entered_overrides_it():
    heel = figures({**PLY, "point": "800 N", "load_case": "heel"})
    assert heel["patch_used"] == 40
    assert figures({**PLY, "point": "800 N", "load_case": "heel", "patch": "60 mm"})["patch_used"] == 60
    step = figures({**PLY, "point": "800 N", "load_case": "stepping heel"})
    assert (heel["load"], step["load"]) == (800, 1600)
    assert step["deflection"] == pytest.approx(2 * heel["deflection"])
    assert step["core_pressure"] == pytest.approx(2 * heel["core_pressure"])
    snow = figures({**SNOW, "load_case": "snow"})
    assert snow["deflection_long"] == pytest.approx(snow["deflection_bending"] + 3.4 * snow["deflection_shear"])
    assert snow["use_deflection"] == pytest.approx(100 * snow["deflection_long"] * 200 / 1200)
    assert figures({**SNOW, "load_case": "snow", "creep": "0"})["deflection_long"] == pytest.approx(snow["deflection"])
    assert set(refused(**PLY, pressure="1 kPa", load_case="heel")) == {"point"}
    assert set(refused(**HEEL, load_case="snow")) == {"pressure"}


def test_a_material_gives_what_is_not_entered():
    by_name = figures({**SNOW, "skin_modulus": "", "skin_material": "ply", "core_modulus": "", "core_shear_modulus": "",
                       "core_material": "poured foam"})  # fmt: skip
    assert by_name["deflection"] == pytest.approx(figures(SNOW)["deflection"])
    assert figures(SNOW, skin_material="plywood across")["deflection"] == pytest.approx(by_name["deflection"])
    across = figures({**SNOW, "skin_modulus": "", "skin_material": "plywood across"})
    assert across["deflection_bending"] == pytest.approx(figures(SNOW, skin_modulus="3500 MPa")["deflection_bending"])
    assert (
        "the table has no value for PU foam 3 lb sprayed"
        in refused(**{**SNOW, "core_modulus": "", "core_material": "sprayed foam"})["core_modulus"]
    )
    # A foot bends ply both ways: √(7000 × 3500) = 4950 MPa; XPS presses back by the stiff end of its range.
    heel = {**HEEL, "skin_modulus": "", "skin_material": "plywood"}
    assert figures(heel)["dent"] == pytest.approx(figures(HEEL, skin_modulus=f"{math.sqrt(7000 * 3500):.9f} MPa")["dent"])
    xps = figures({**HEEL, "core_modulus": "", "core_material": "XPS"})
    assert xps["dent"] == pytest.approx(figures(HEEL, core_modulus="10 MPa")["dent"])
    assert xps["core_pressure"] == pytest.approx(figures(HEEL, core_modulus="20 MPa")["core_pressure"])


def test_the_tables_hold_the_figures_of_their_sources():
    # Foam crush strength by type: ASTM C578 table in a board maker's bulletin, MPa [read].
    crush = {"X": 0.104, "IV": 0.173, "VI": 0.276, "VII": 0.414, "V": 0.690}
    assert {name: materials.core(f"XPS type {name}").crush for name in crush} == crush
    assert materials.core("PU foam 2 lb").crush == pytest.approx(16 * 0.00689476, rel=0.005)
    # Composite text, table 2.1: 38.6 and 8.27 GPa [read].
    assert (materials.skin("one-way glass").modulus, materials.skin("one-way glass").across) == (38600, 8270)
    for table in ("skins", "cores"):
        words = [word.lower() for word, _ in materials.other_names(table)]
        assert len({*words, *(name.lower() for name in materials.names(table))}) == len(words) + len(materials.names(table))


def test_what_does_not_go_together_is_refused_by_name():
    assert set(refused()) == {"skin_modulus", "core_modulus", "core_shear_modulus"}
    assert set(refused(span="1 m")) == {"width", "skin", "core", "skin_modulus", "core_modulus", "core_shear_modulus"}
    assert set(refused(**{**SNOW, "point": "100 N"})) == {"pressure"}
    assert set(refused(pressure="1 kPa")) >= {"span", "width"}
    assert set(refused(point="800 N")) == {"skin", "core", "skin_modulus", "core_modulus"}


def test_without_a_load_there_is_the_stiffness():
    result = run(PLY)
    got = figures(PLY)
    assert got["bending_stiffness"] == pytest.approx(24559, rel=1e-4)
    assert (got["deflection"], got["verdict"]) == (None, None)
    assert "No load entered" in result.cautions[0]
    assert figures({**PLY, "span": ""})["shear_stiffness"] == pytest.approx(51.966, rel=1e-4)


def test_a_patch_wider_than_the_panel_gives_no_figures_under_it():
    got = figures({**PLY, "width": "75 mm", "point": "800 N"})
    assert (got["core_pressure"], got["dent"], got["use_crush"]) == (None, None, None)
    assert got["deflection"] is not None
    assert figures({**PLY, "width": "100 mm", "point": "800 N"})["dent"] is not None


def test_cautions_are_those_that_apply():
    def said(**more):
        return " ".join(run({**PLY, **STRENGTHS, **more}).cautions)

    assert "half the width" in said(point="800 N", width="1200 mm")
    assert "half the width" not in said(point="800 N", width="300 mm")
    assert "creeps" in said(pressure="1 kPa")
    assert "creeps" not in said(pressure="1 kPa", load_case="snow")
    assert "Close the free end" in said(point="100 N", support="cantilever")
    assert "Close the free end" not in said(point="100 N") + said(pressure="1 kPa", support="cantilever")
    assert "clamped solid" in said(pressure="1 kPa", support="fixed")
    assert "Not checked" not in said(pressure="1 kPa")
    assert "Not checked: skin, core shear." in " ".join(run(SNOW).cautions)
    assert "block" in said(point="100 N")
    assert "block" not in said(point="800 N", load_case="foot")
    assert "typical figures" not in said(pressure="1 kPa")
    assert "stiffer skins hardly help" in said(pressure="5 kPa")
    assert "stiffer skins hardly help" not in said(pressure="5 kPa", core_shear_modulus="50 MPa", span="2 m")
    assert "thicker core, stiffer skins" in said(pressure="5 kPa", core_shear_modulus="50 MPa", span="2 m")
    assert "pad of 104 mm" in " ".join(run(HEEL, core_crush="0.11 MPa").cautions)


def test_the_picture_shows_the_bent_panel_and_says_that_it_exaggerates():
    for load in ({"pressure": "1 kPa"}, {"point": "800 N"}):
        for support in ("simple", "fixed", "cantilever"):
            result = run({**PLY, **load, "support": support})
            picture = calc.find("sandwich").drawn(result.inputs, result.outputs)[0]
            assert "sag enlarged" in " ".join(picture.foot)
            top = next(shape for shape in picture.shapes if shape.material == "skin").outline
            low = min(y for _, y in top[: len(top) // 2])
            assert low == pytest.approx(-0.9)
            assert top[0][1] == 0
    result = run(HEEL)
    assert calc.find("sandwich").drawn(result.inputs, result.outputs) == ()
