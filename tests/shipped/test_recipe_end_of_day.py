"""The round at the end of a day: pots cold, a night that is warm and dry enough, no clock that ends in it unwatched."""

import pytest
from shipped_run import at, figure, finished, stopped, worked_out

from shopmate.session import find_recipe


def test_the_night_is_judged_by_the_dew_point_calculator():
    answers = {"Air temperature": "22 °C", "Humidity": "55 %", "Surface temperature": "21 °C", "Tonight's low": "18 °C"}
    session = finished("end-of-day", answers)
    read = [figure(session, f"night_{name}", unit) for name, unit in (("air", "°C"), ("humidity", "%"), ("low", "°C"))]
    assert read == [22, 55, 18]
    margin = worked_out("dewpoint", "margin", "K", air="22 °C", humidity="55 %", surface="18 °C", margin="3 K")
    assert figure(session, "night_dew_tonight.margin", "K") == pytest.approx(margin)
    # Magnus with 17.62 and 243.12 °C: 12.56 °C at 22 °C and 55 % [computed].
    assert margin == pytest.approx(18 - 12.56, abs=0.05)


@pytest.mark.parametrize(
    ("answers", "headline"),
    [
        ({}, None),
        ({"Every pot cold?": "warm"}, "Every pot cold?"),
        ({"Free until morning?": "closes"}, "Free until morning?"),
        ({"Tonight's low": "18 °C"}, None),
        ({"Tonight's low": "17.9 °C"}, "Tonight's low in limits"),
        ({"Heating tonight?": "flued"}, None),
        ({"Heating tonight?": "fuel"}, "Heating tonight?"),
        ({"Left to cure tonight": "nothing", "Tonight's low": "-5 °C"}, None),
    ],
)
def test_what_burns_cools_or_closes_in_the_night_stops_it(answers, headline):
    assert stopped("end-of-day", answers) == headline


def test_oily_rags_are_asked_for_only_where_there_are_some():
    for oil, wanted in (("no", False), ("yes", True)):
        session = finished("end-of-day", {"Rags with drying oil": oil})
        done = [event.data.get("headline") for event in session.log.events()]
        assert ("Oil rags made safe" in done) == wanted


def test_pots_go_outdoors_first_and_only_once():
    session, _ = at("end-of-day", "Every pot cold?", {})
    done = [event.data.get("headline") for event in session.log.events() if event.data.get("headline")]
    assert "Hot pots out first" in done
    assert "Pots outdoors" not in done
    assert done.index("Hot pots out first") < done.index("Tools cleaned") < done.index("Rags laid out")
    assert "Door locked" not in done


def test_the_heat_of_a_pot_is_told_of_where_the_pots_are_carried_out():
    told = [
        step.headline
        for section in find_recipe("end-of-day").sections
        for step in section.steps
        if any("epoxy" in caution.text.text for caution in step.cautions)
    ]
    assert told == ["Hot pots out first"]
