"""Water on and in a wall, against psychrometric and numerical libraries; layers read as they are typed."""

import math
from itertools import pairwise

import numpy as np
import psychrolib
import pytest
from scipy.integrate import solve_ivp
from scipy.optimize import brentq, minimize_scalar
from scipy.spatial import ConvexHull

from shopmate import calc, tables
from shopmate.errors import InputError
from shopmate.models.humid_air import saturation_pressure, standard_saturation_pressure
from shopmate.models.walls import RSI
from shopmate.tables.solids import find
from shopmate.tables.vapour_resistances import tightness

psychrolib.SetUnitSystem(psychrolib.SI)

DIRECTIONS = [
    ("humidity", "surface_humidity", "rising", {}),
    ("outside", "humidity_allowed", "rising", {}),
    ("inside", "dew_point", "rising", {}),
    ("rse", "u_value", "falling", {}),
    ("outside_humidity", "rate", "rising", {"layers": "6 mm plywood, 38 mm XPS, 6 mm plywood, 0.4 mm epoxy", "frame": ""}),
    ("hours", "night", "rising", {"layers": "6 mm plywood, 38 mm XPS, 6 mm plywood, 0.4 mm epoxy", "frame": ""}),
]
"""Input, output, its direction, and texts put in beside the first worked example's."""

AIRS = {"inside": "15 °C", "outside": "-5 °C", "humidity": "70 %"}
PLY, CORE = "6 mm plywood k=0.115 mu=150", "38 mm XPS k=0.0288 mu=150"
PANEL = f"{PLY}, {CORE}, {PLY}"
SKINNED = f"{PANEL}, 0.4 mm epoxy skin k=0.2 mu=10000"
BARE = f"{PLY}, 38 mm PU foam k=0.028 mu=60, 1 mm aluminium k=160 sd=1500"
SIZES = {
    SKINNED: [(6, 0.115, 0.9), (38, 0.0288, 5.7), (6, 0.115, 0.9), (0.4, 0.2, 4.0)],
    BARE: [(6, 0.115, 0.9), (38, 0.028, 2.28), (1, 160, 1500.0)],
}
"""Thickness in mm, W/mK and sd in m of each layer of two walls, worked out by hand."""


def condense(**fields):
    return calc.run("condense", fields)


def got(**fields):
    return {name: getattr(value, "value", value) for name, value in condense(**fields).outputs.items()}


def problems(**fields):
    with pytest.raises(InputError) as caught:
        condense(**fields)
    return {problem.field: problem for problem in caught.value.problems}


def cautions(**fields):
    return "\n".join(condense(**fields).cautions)


def saturation_over_sd(layers, inside=15.0, outside=-5.0):
    """Return a function from sd in m to the saturation pressure in Pa, by interpolation of the resistances, and the whole sd."""
    ohms = np.cumsum([0.13, *(mm / 1000 / k for mm, k, _ in layers)])
    sds = np.cumsum([0.0, *(sd for _, _, sd in layers)])

    def at(sd):
        celsius = inside - (inside - outside) * np.interp(sd, sds, ohms) / (ohms[-1] + 0.04)
        return psychrolib.GetSatVapPres(float(celsius))

    return at, sds[-1]


def ends():
    return 0.70 * psychrolib.GetSatVapPres(15.0), 0.85 * psychrolib.GetSatVapPres(-5.0)


@pytest.mark.outside("PsychroLib")
@pytest.mark.parametrize(("inside", "humidity"), [(20, 60), (10, 80), (5, 50), (-10, 70), (30, 95)])
def test_dew_point_is_that_of_psychrolib(inside, humidity):
    wanted = psychrolib.GetTDewPointFromRelHum(float(inside), humidity / 100)
    assert got(inside=f"{inside} °C", humidity=f"{humidity} %")["dew_point"] == pytest.approx(wanted, abs=0.02)


@pytest.mark.outside("PsychroLib and scipy.optimize.brentq")
def test_lowest_safe_face_is_where_psychrolib_reaches_80_percent():
    pressure = 0.60 * psychrolib.GetSatVapPres(18.0)
    wanted = brentq(lambda celsius: 0.80 * psychrolib.GetSatVapPres(celsius) - pressure, 0, 18)
    found = got(inside="18 °C", outside="0 °C", humidity="60 %")
    assert found["vapour_pressure"] == pytest.approx(pressure, rel=1e-6)
    assert found["surface_needed"] == pytest.approx(wanted, abs=0.005)
    assert found["f_needed"] == pytest.approx(wanted / 18, abs=0.0005)


@pytest.mark.outside("PsychroLib and scipy.optimize.minimize_scalar")
def test_wettest_plane_is_where_one_plane_would_take_most():
    at, whole = saturation_over_sd(SIZES[BARE])
    first, last = ends()

    def taken(sd):
        return 2e-10 * ((first - at(sd)) / sd - (at(sd) - last) / (whole - sd)) * 3.6e6

    best = minimize_scalar(lambda sd: -taken(sd), bounds=(0.01, 5.0), method="bounded", options={"xatol": 1e-6})
    found = got(**AIRS, layers=BARE)
    assert found["plane_sd"] == pytest.approx(best.x, abs=0.01)
    assert found["rate"] == pytest.approx(taken(best.x), rel=0.005)
    assert found["plane"] == "between polyurethane foam and aluminium"
    assert found["inside_sd"] + found["outside_sd"] == pytest.approx(0.9 + 2.28 + 1500)


@pytest.mark.outside("PsychroLib and scipy.spatial.ConvexHull")
def test_all_planes_are_the_corners_of_the_hull():
    at, whole = saturation_over_sd(SIZES[SKINNED])
    first, last = ends()
    sds = np.linspace(0, whole, 4601)
    points = np.array([(0, first), *((sd, at(sd)) for sd in sds[1:-1]), (whole, last), (0, 1e5), (whole, 1e5)])
    lower = sorted(tuple(points[place]) for place in ConvexHull(points).vertices if points[place][1] < 1e5)
    slopes = [(b[1] - a[1]) / (b[0] - a[0]) for a, b in pairwise(lower)]
    wanted = 2e-10 * (slopes[-1] - slopes[0]) * 3.6e6
    found = got(**AIRS, layers=SKINNED)
    assert found["rate"] == pytest.approx(wanted, rel=0.005)
    assert found["night"] == pytest.approx(8 * wanted, rel=0.005)
    assert found["nights"] == pytest.approx(800 * wanted, rel=0.005)
    assert found["plane"] == "between XPS and plywood"


@pytest.mark.outside("PsychroLib and scipy.optimize.brentq")
def test_barrier_just_keeps_the_vapour_under_saturation():
    at, whole = saturation_over_sd(SIZES[SKINNED])
    first, last = ends()
    sds = np.linspace(0, whole, 2301)[1:-1]

    def spare(add):
        return min(at(sd) - (first + (last - first) * (add + sd) / (add + whole)) for sd in sds)

    wanted = brentq(spare, 0, 500)
    found = got(**AIRS, layers=SKINNED)
    assert found["sd_add"] == pytest.approx(wanted, rel=0.005)
    assert found["epoxy_add"] == pytest.approx(math.ceil(wanted) / 10)  # 0.1 mm of epoxy is 1 m of air
    assert got(**AIRS, layers=BARE)["epoxy_add"] is None


def test_barrier_as_said_leaves_the_layers_dry():
    add = math.ceil(got(**AIRS, layers=SKINNED)["sd_add"] * 100) / 100
    for sd, wanted in ((add, "dry"), (add - 0.5, "condenses")):
        assert got(**AIRS, layers=f"foil sd={sd}, {SKINNED}")["inside_layers"] == wanted


@pytest.mark.outside("scipy.integrate.solve_ivp")
def test_humidity_reached_is_where_the_room_settles():
    out, full = 0.90 * psychrolib.GetSatVapPres(0.0), psychrolib.GetSatVapPres(15.0)
    # kg of vapour in 8 m³: 80 g/h come in, 15 m³/h change it for the outside's at the inside temperature.
    gas = 461.5 * 288.15

    def change(_, kilograms):
        return [0.080 + 15 * out / gas - 15 * kilograms[0] / 8]

    settled = solve_ivp(change, (0, 40), [8 * out / gas], rtol=1e-9, atol=1e-12).y[0][-1]
    found = got(inside="15 °C", outside="0 °C", outside_humidity="90 %", persons="2", ventilation="15 m³/h")
    assert found["humidity_reached"] == pytest.approx(100 * settled / 8 * gas / full, rel=0.002)


@pytest.mark.outside("PsychroLib")
def test_fresh_air_needed_brings_the_coldest_face_to_the_limit():
    case = {"inside": "15 °C", "outside": "0 °C", "outside_humidity": "90 %", "f_rsi": "0.78", "persons": "2"}
    flow = got(**case)["ventilation"]
    reached = got(**case, ventilation=f"{flow} m³/h")["humidity_reached"]
    face = reached / 100 * psychrolib.GetSatVapPres(15.0) / psychrolib.GetSatVapPres(0.78 * 15)
    assert face == pytest.approx(0.80, rel=0.002)
    # 12 L/h of carbon dioxide from each, 0.15 % inside against 0.04 % outside.
    assert got(**case)["fresh_air"] == pytest.approx(2 * 0.012 / 0.0011)


def test_no_air_dries_a_face_colder_than_the_air_outside_is_damp():
    case = {"inside": "18 °C", "outside": "17 °C", "outside_humidity": "95 %", "f_rsi": "0.5", "persons": "2"}
    result = condense(**case)
    assert result.outputs["ventilation"] == result.outputs["air_changes"] == "none"
    assert not result.has_figure
    assert "No amount of fresh air is enough" in "\n".join(result.cautions)
    assert got(**{**case, "persons": "0"})["ventilation"] == 0


def test_persons_and_their_air_stand_in_for_a_humidity():
    case = {"inside": "15 °C", "outside": "0 °C", "persons": "2", "ventilation": "15 m³/h", "layers": PANEL}
    found = got(**case)
    typed = got(**case, humidity=f"{found['humidity_reached']} %")
    assert found["surface_humidity"] == pytest.approx(typed["surface_humidity"], rel=1e-9)
    assert found["rate"] == pytest.approx(typed["rate"], rel=1e-9)


def test_humidity_that_the_fresh_air_does_not_lead_to_is_said_to_be_used():
    case = {"inside": "15 °C", "outside": "0 °C", "persons": "2", "ventilation": "40 m³/h", "layers": PANEL}
    assert "The verdict uses the 75 % humidity you entered" in cautions(**case, humidity="75 %")
    assert "The verdict uses" not in cautions(**case)
    assert "to breathe" not in cautions(**{**case, "persons": "0"})


def test_heat_is_that_of_the_calculator_panel():
    sizes = {"length": "2.44 m", "width": "1.22 m", "skin": "6 mm plywood", "core": "38 mm XPS"}
    for flow, named in (("sideways", "horizontal"), ("up", "up"), ("down", "down")):
        panel = calc.run("panel", {**sizes, "heat_flow": named}).outputs["u_without_frame"].value
        wall = got(**AIRS, layers="6 mm plywood, 38 mm XPS, 6 mm plywood", flow=flow)["u_value"]
        assert wall == pytest.approx(panel, rel=1e-9)


def test_humidity_allowed_is_where_the_verdict_turns():
    allowed = got(**AIRS, layers=PANEL)["humidity_allowed"]
    for humidity, verdict in ((allowed, "dry"), (allowed + 1, "mould risk")):
        assert got(**{**AIRS, "humidity": f"{humidity} %"}, layers=PANEL)["verdict"] == verdict
    # The face is at 12.08 °C with 0.25 m²K/W: 80 % of what saturates there, over what saturates at 15 °C.
    wanted = 80 * psychrolib.GetSatVapPres(12.08) / psychrolib.GetSatVapPres(15.0)
    assert allowed == math.floor(wanted)


def test_frame_is_judged_where_it_is_the_colder():
    assert "at the frame" in cautions(**{**AIRS, "humidity": "85 %"}, layers=PANEL, frame="softwood")
    assert "at the frame" not in cautions(**{**AIRS, "humidity": "95 %"}, layers=PANEL, frame="cork k=0.02")


def test_coat_on_the_cold_side_is_worse_and_on_the_warm_side_better():
    coat = "0.4 mm epoxy k=0.2 mu=10000"
    outside, both_sides, inside = (
        got(**AIRS, layers=layers)["rate"] for layers in (SKINNED, f"{coat}, {SKINNED}", f"{coat}, {PANEL}")
    )
    assert outside > both_sides > inside == 0
    assert both_sides == pytest.approx(0.54 * outside, rel=0.02)


def test_wood_is_worked_out_wet_inside_and_dry_outside_where_asked():
    layers = "6 mm plywood, 38 mm XPS, 6 mm plywood"
    found = got(**AIRS, layers=f"{layers}, 0.4 mm epoxy", wood="worst case")
    # 6 mm at mu 70 and 38 mm at mu 150 lie inside the plane, 6 mm at mu 200 and the epoxy outside it.
    assert (found["inside_sd"], found["outside_sd"]) == (pytest.approx(0.42 + 5.7), pytest.approx(1.2 + 4.0))
    assert found["rate"] > got(**AIRS, layers=f"{layers}, 0.4 mm epoxy")["rate"]
    assert got(**AIRS, layers=PANEL, wood="worst case")["rate"] == got(**AIRS, layers=PANEL)["rate"]


def test_vapour_from_outside_wants_its_coat_outside():
    hot = {"inside": "18 °C", "outside": "35 °C", "humidity": "60 %", "outside_humidity": "90 %"}
    result = condense(**hot, layers=f"0.4 mm epoxy, {PANEL}")
    assert result.outputs["f_needed"] is None
    assert result.outputs["inside_layers"] == "can't be fixed from inside"
    assert "outer face" in "\n".join(result.cautions)
    assert "no colder outside" in "\n".join(result.cautions)


def test_air_too_damp_in_itself_is_said_to_be():
    said = cautions(inside="15 °C", outside="-5 °C", humidity="90 %")
    assert "insulation won't help" in said
    assert got(inside="15 °C", outside="-5 °C", humidity="90 %")["f_needed"] is None


def test_layers_are_read_in_any_usual_writing():
    wanted = got(**AIRS, layers="6 mm plywood, 38 mm XPS, 6 mm plywood")
    for layers in (
        "plywood 6mm, xps 38mm, ply 6 mm", "6mm ply; 3,8 cm extruded polystyrene; 6 mm plywood",
        "plywood 6mm,xps 38mm,plywood 6mm", "6 mm board r=0.0517241379 mu=150, 38 mm xps, 6 mm board k=0.116 sd=0.9",
        "15/64 in plywood sd=0.9 r=0.0517241379, 38 mm XPS, plywood 0.6 cm",
    ):  # fmt: skip
        assert got(**AIRS, layers=layers)["u_value"] == pytest.approx(wanted["u_value"], rel=1e-6)
        assert got(**AIRS, layers=layers)["rate"] == pytest.approx(wanted["rate"], rel=1e-5)
    kind = calc.find("condense").field("layers").kind
    for layers in (PANEL, SKINNED, BARE, "foil, 6,5 mm ply µ=70, PE sheet, 25 mm air r=0.18 sd=0.01, gloss paint"):
        assert kind.read(kind.read(layers)) == kind.read(layers)


def test_layers_that_cannot_be_read_say_which_and_what_to_do():
    for layers, named in (
        ("6 mm plywood, 38 mm moonstone", "layer 2"), ("plywood", "layer 1"), ("6 mm plywood k=0.1 r=1", "both entered"),
        ("6 mm plywood mu=1 sd=1", "both entered"), ("6 mm plywood k=0.1 k=0.2", "twice"), ("6 mm plywood q=3", "wrong place"),
        ("38 mm PVC foam", "mu= or sd="), ("500 mm plywood", "above the maximum"), (",", "no layer"),
        ("6 mm ply, " * 21, "21 layers"),
    ):  # fmt: skip
        problem = problems(**AIRS, layers=layers)["layers"]
        assert named in f"{problem.what} {problem.fix}", layers


def test_fields_that_do_not_go_together_are_refused():
    assert "humidity" in problems(inside="15 °C")
    assert "outside" in problems(inside="15 °C", humidity="60 %", layers=PANEL)
    assert "outside" in problems(inside="15 °C", persons="2")
    assert "f_rsi" in problems(**AIRS, layers=PANEL, f_rsi="0.8")
    assert "frame" in problems(**AIRS, frame="softwood")
    assert {"volume", "ventilation"} <= problems(**AIRS, volume="8 m³", ventilation="10 m³/h").keys()
    assert "metal" in problems(**AIRS, layers=PANEL, frame="aluminium")["frame"].what
    assert "frame" in problems(**AIRS, layers=PANEL, frame="38 mm softwood mu=3")


def test_too_little_air_is_said():
    case = {"inside": "15 °C", "outside": "0 °C", "outside_humidity": "90 %", "f_rsi": "0.78", "persons": "2"}
    assert "not enough" in cautions(**case, ventilation="10 m³/h")
    assert "not enough" not in cautions(**case, ventilation="30 m³/h")
    assert "small hours" in cautions(**case)


@pytest.mark.outside("PsychroLib: the short form of the standard lies within 0.25 % from -10 to 30 °C, 0.6 % at -20")
def test_the_two_forms_of_saturation_pressure_agree():
    for celsius in range(-20, 31):
        limit = 0.0025 if celsius >= -10 else 0.006
        exact = psychrolib.GetSatVapPres(float(celsius))
        assert standard_saturation_pressure(celsius) == pytest.approx(exact, rel=limit)
        assert saturation_pressure(celsius) == pytest.approx(exact, rel=1e-9)


def test_every_solid_that_is_tight_or_not_is_a_material_or_a_film():
    for row in tables.load("vapour_resistances").rows:
        found = tightness(row["material"])
        assert (found.mu is None) != (found.sd is None), row
        assert found.wet is None or found.wet <= found.mu <= found.dry
        if found.mu is not None:
            assert find(row["material"]).name == row["material"]
    assert RSI["horizontal"] == 0.13
