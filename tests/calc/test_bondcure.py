"""Days of a moisture cure: the law against its differential equation, the climate against another formula, what is refused."""

import math

import pytest
from scipy.integrate import solve_ivp

from shopmate import calc
from shopmate.errors import InputError

DIRECTIONS = [
    ("depth", "days", "rising", {}),
    ("depth", "handle", "rising", {}),
    ("width", "days", "rising", {"depth": "", "open_edges": "2"}),
    ("rate", "days", "falling", {}),
    ("air", "days", "falling", {}),
    ("humidity", "days", "falling", {}),
    ("humidity", "strip", "rising", {}),
]
"""Input, output, its direction, and texts put in beside the first worked example's."""

STANDARD = {"depth": "12.5 mm", "air": "23 °C", "humidity": "50 %"}


def bondcure(**fields):
    return calc.run("bondcure", {**STANDARD, **fields})


def figure(name, **fields):
    value = bondcure(**fields).outputs[name]
    return float(value.value)


def cautions(**fields):
    return " ".join(bondcure(**fields).cautions)


def magnus(celsius):
    """Return the saturation pressure in Pa by Magnus (17.625, 243.04) [read: Alduchov and Eskridge 1996, as quoted]."""
    return 610.94 * math.exp(17.625 * celsius / (243.04 + celsius))


@pytest.mark.outside("the moving front dx/dt = k²/(2x), integrated with scipy [computed]")
@pytest.mark.parametrize(("depth", "rate"), [("12.5 mm", "3 mm"), ("25 mm", "2 mm"), ("0.5 in", "3 mm"), ("100 mm", "4.5 mm")])
def test_a_front_that_slows_as_it_goes_arrives_after_the_days(depth, rate):
    result = bondcure(depth=depth, rate=rate).outputs
    k, days, start = result["rate_here"].value_in("mm"), result["days"].value_in("d"), 1e-3
    # From a skin of 0.001 mm on: at depth 0 the front would be without end fast.
    front = solve_ivp(lambda _, x: [k**2 / (2 * x[0])], (start**2 / k**2, days), [start], rtol=1e-10, atol=1e-10)
    assert front.y[0][-1] == pytest.approx(result["depth"].value_in("mm"), rel=1e-5)


@pytest.mark.outside("times against 23 °C, 50 % by Magnus, and the sheet's own rounded ones [computed]")
@pytest.mark.parametrize(
    ("air", "humidity", "times"), [(20, 50, 1.20), (15, 50, 1.65), (10, 50, 2.29), (5, 50, 3.22), (23, 20, 2.5), (23, 80, 0.63)]
)
def test_cold_and_dry_air_take_longer_by_its_vapour_pressure(air, humidity, times):
    got = figure("slower", air=f"{air} °C", humidity=f"{humidity} %")
    assert got == pytest.approx(times, abs=0.006)
    assert got == pytest.approx(magnus(23) * 50 / (magnus(air) * humidity), rel=0.003)
    assert figure("days", air=f"{air} °C", humidity=f"{humidity} %") == pytest.approx(got * figure("days"))


@pytest.mark.outside("a data sheet of a one-part PU: more than 3 mm in the first 24 h at 20 °C, 50 % [read]")
def test_the_usual_rate_claims_no_more_than_a_data_sheet():
    assert 2.5 < figure("rate_here", air="20 °C") < 3


def test_one_open_edge_takes_four_times_as_long_and_a_quarter_is_early():
    both = calc.run("bondcure", {"width": "25 mm", "open_edges": "2", "air": "23 °C", "humidity": "50 %"}).outputs
    one = calc.run("bondcure", {"width": "25 mm", "open_edges": "1", "air": "23 °C", "humidity": "50 %"}).outputs
    assert both["days"].value_in("d") == pytest.approx(17.361, abs=0.001)
    assert one["days"].value_in("d") == pytest.approx(69.444, abs=0.001)
    assert one["handle"].value_in("d") == pytest.approx(69.444 / 16, abs=0.001)
    # A quarter of the depth is through when the joint is handled.
    assert figure("days", depth="3.125 mm") == pytest.approx(figure("handle"))


def test_the_strip_it_advises_is_cured_within_three_weeks():
    strip = figure("strip", air="10 °C", humidity="40 %")
    assert strip == 16
    assert "lay strips no wider than 16 mm" in cautions(air="10 °C", humidity="40 %")
    for width, is_cured in ((strip, True), (strip + 0.5, False)):
        cured = calc.run("bondcure", {"width": f"{width} mm", "open_edges": "2", "air": "10 °C", "humidity": "40 %"}).outputs
        assert (cured["days"].value_in("d") <= 21) is is_cured


def test_the_labels_lowest_temperature_comes_first():
    cold = bondcure(air="4 °C", depth="50 mm")
    assert cold.outputs["verdict"] == "no go"
    assert cold.cautions[0].startswith("No go: 4 °C is below 5 °C, the lowest temperature on the label")
    assert bondcure(air="4 °C", lowest="39 °F").outputs["verdict"] == "slow"
    assert bondcure(air="12 °C", lowest="54 °F").cautions[0].startswith("No go: 12 °C is below 12.2 °C")
    assert bondcure(air="5 °C", depth="5 mm").outputs["verdict"] == "ok"


def test_bare_wood_is_a_help_that_is_not_counted():
    assert figure("days", faces="one wood") == figure("days")
    assert "Bare wood" in cautions(faces="one wood")
    assert "Bare wood" not in cautions()
    assert "mist the bare wood" in cautions(faces="one wood", depth="25 mm")
    assert "mist" not in cautions(depth="25 mm")


def test_the_widest_and_the_narrowest_strip_are_worked_out():
    for width, edges, depth in (("1 mm", "2", 0.5), ("0.5 mm", "1", 0.5), ("200 mm", "2", 100), ("100 mm", "1", 100)):
        assert figure("depth", depth="", width=width, open_edges=edges) == depth


@pytest.mark.parametrize(
    ("fields", "problem"),
    [
        ({"depth": ""}, "depth"),
        ({"width": "25 mm"}, "width"),
        ({"open_edges": "2"}, "open_edges"),
        ({"depth": "", "width": "25 mm"}, "open_edges"),
        ({"depth": "", "width": "150 mm", "open_edges": "1"}, "width"),
        ({"depth": "", "width": "0.6 mm", "open_edges": "2"}, "width"),
    ],
)
def test_what_does_not_go_together_is_refused(fields, problem):
    with pytest.raises(InputError) as caught:
        bondcure(**fields)
    assert [item.field for item in caught.value.problems] == [problem]
