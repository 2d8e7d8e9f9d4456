"""Dew point against PsychroLib, and the gate that keeps a damp surface from being bonded."""

import re

import psychrolib
import pytest

from shopmate import calc
from shopmate.errors import InputError

DIRECTIONS = [
    ("air", "dew_point", "rising", {}),
    ("humidity", "dew_point", "rising", {}),
    ("humidity", "margin", "falling", {"surface": "20 °C"}),
    ("surface", "margin", "rising", {}),
]
"""Input, output, its direction, and texts put in beside the first worked example's."""


@pytest.fixture(autouse=True)
def _metric():
    psychrolib.SetUnitSystem(psychrolib.SI)


def dewpoint(**fields):
    return calc.run("dewpoint", {"air": "20 °C", "humidity": "50 %", **fields})


def numbers(**fields):
    return {name: getattr(value, "value", value) for name, value in dewpoint(**fields).outputs.items()}


def cautions(**fields):
    return " ".join(dewpoint(**fields).cautions)


@pytest.mark.outside("PsychroLib GetTDewPointFromRelHum over the whole range")
@pytest.mark.parametrize("air", range(-40, 61, 4))
def test_dew_point_against_psychrolib(air):
    for humidity in (1, 2, 5, 10, 20, 35, 50, 65, 80, 90, 99, 100):
        wanted = psychrolib.GetTDewPointFromRelHum(air, humidity / 100)
        got = numbers(air=f"{air} °C", humidity=f"{humidity} %")["dew_point"]
        assert got == pytest.approx(wanted, abs=1e-5), f"{air} °C, {humidity} %"


@pytest.mark.parametrize("humidity", ["50 %", "61.2 %", "69.9 %", "70 %", "70.1 %", "80 %"])
def test_dew_point_near_freezing_is_steady(humidity):
    """The ice and the water formula meet at the triple point; a search that follows the slope can stall there."""
    wanted = psychrolib.GetTDewPointFromRelHum(5, float(humidity[:-2]) / 100)
    assert numbers(air="5 °C", humidity=humidity)["dew_point"] == pytest.approx(wanted, abs=1e-5)


def test_below_freezing_the_dew_point_is_over_ice_and_not_over_water():
    got = numbers(air="5 °C", humidity="50 %")["dew_point"]
    assert got == pytest.approx(-4.03, abs=0.01)  # −4.57 by the Magnus formula over water
    assert "over ice" in " ".join(dewpoint(air="5 °C", humidity="50 %").working)
    assert "over water" in " ".join(dewpoint(air="20 °C", humidity="50 %").working)


def test_dew_point_rises_with_temperature_and_humidity_and_never_passes_the_air():
    grid = [
        [numbers(air=f"{air} °C", humidity=f"{humidity} %")["dew_point"] for humidity in range(5, 101, 5)]
        for air in range(-40, 61, 5)
    ]
    assert all(row == sorted(set(row)) for row in grid)
    assert all(list(column) == sorted(set(column)) for column in zip(*grid, strict=True))
    assert all(max(row) <= air for row, air in zip(grid, range(-40, 61, 5), strict=True))


def test_saturated_air_is_at_its_dew_point():
    assert numbers(humidity="100 %")["dew_point"] == pytest.approx(20, abs=1e-9)
    assert numbers(humidity="100 %")["margin"] >= 0


def test_the_surface_decides_and_not_the_air():
    assert numbers(humidity="65 %")["verdict"] == "go"
    assert numbers(humidity="65 %", surface="16 °C")["verdict"] == "no go"
    assert numbers(humidity="65 %", surface="17 °C")["verdict"] == "go"


def test_without_a_surface_the_air_is_taken_and_said_so():
    assert numbers(humidity="65 %") == numbers(humidity="65 %", surface="20 °C")
    assert "No surface temperature entered, so the surface is assumed to be as warm as the air, 20.0 °C" in cautions()
    assert "No surface temperature entered" not in cautions(surface="20 °C")


def test_humidity_must_stay_under_85_however_warm_the_surface():
    warm = {"surface": "40 °C"}
    assert numbers(humidity="84.9 %", **warm)["verdict"] == "go"
    assert numbers(humidity="85 %", **warm)["verdict"] == "no go"
    assert numbers(humidity="85 %", **warm)["margin_rule"] == "kept"


def test_margin_asked_for_is_held_in_either_unit():
    assert numbers(humidity="65 %", surface="17 °C", margin="4")["verdict"] == "no go"
    assert numbers(humidity="65 %", surface="16 °C", margin="2.5 K")["verdict"] == "go"
    assert numbers(humidity="65 %", surface="16 °C", margin="5 °F")["verdict"] == "no go"  # 2.78 K against 2.773 K
    assert numbers(humidity="65 %", surface="16 °C", margin="4.9 °F")["verdict"] == "go"


@pytest.mark.parametrize("air", ["10 °C", "20 °C", "68 °F", "30 °C"])
@pytest.mark.parametrize("humidity", ["50 %", "75 %", "84 %"])
def test_warming_the_surface_as_advised_is_enough(air, humidity):
    advice = cautions(air=air, humidity=humidity, surface="0 °C")
    least = re.search(r"Warm the surface to ([\d.]+ °[CF])", advice)[1]
    assert numbers(air=air, humidity=humidity, surface=least)["verdict"] == "go"


@pytest.mark.outside("PsychroLib GetRelHumFromVapPres")
def test_air_warmed_as_advised_is_dry_enough_by_psychrolib():
    advice = cautions(humidity="92 %")
    warmer = float(re.search(r"warm it above ([\d.]+) °C", advice)[1])
    pressure = psychrolib.GetVapPresFromRelHum(20, 0.92)
    assert psychrolib.GetRelHumFromVapPres(warmer, pressure) == pytest.approx(0.85, abs=0.005)
    assert psychrolib.GetRelHumFromVapPres(warmer, pressure) <= 0.85


def test_a_close_go_says_so():
    assert "Close" in cautions(humidity="83 %", surface="40 °C")
    assert "Close" in cautions(humidity="65 %", surface="16.5 °C")
    assert "Close" not in cautions(humidity="50 %", surface="20 °C")


def test_cold_parts_are_cautioned_even_where_the_air_is_dry():
    assert "Cold" in cautions(surface="8 °C", humidity="30 %")
    assert "Cold" not in cautions(surface="18 °C", humidity="30 %")


def test_a_fraction_typed_for_percent_is_refused_rather_than_called_dry():
    with pytest.raises(InputError, match=r"humidity: 0\.65 is below the minimum, 1 %"):
        dewpoint(humidity="0.65")


def test_the_figures_of_the_words_of_the_dew_point():
    got = calc.run("dewpoint", {"air": "20 °C", "humidity": "65 %"}).outputs
    assert got["surface_least"].value_in("°C") == pytest.approx(psychrolib.GetTDewPointFromRelHum(20, 0.65) + 3, abs=0.01)
    assert got["vapour_pressure"].value_in("Pa") == pytest.approx(0.65 * psychrolib.GetSatVapPres(20), rel=1e-3)
    damp = calc.run("dewpoint", {"air": "12 °C", "humidity": "90 %", "surface": "14 °C"}).outputs["dry_at"].value_in("°C")
    assert psychrolib.GetRelHumFromVapPres(damp, 0.9 * psychrolib.GetSatVapPres(12)) == pytest.approx(0.85, abs=1e-3)
