"""Dialogues without screens or lines: answers are sent, and what the session recorded is looked at."""

from datetime import UTC, datetime, timedelta

import pytest

from shopmate.dialogue import temperature
from shopmate.dialogue.asking import Choose, Confirm, Enter, Fill, Look, Name, Tell
from shopmate.errors import LogError
from shopmate.session import Session, project_path, shelf

BEGUN = datetime(2026, 5, 4, 8, tzinfo=UTC)
ASKS = (Choose, Name, Enter, Confirm, Fill, Look)


class Place:
    """A desk that stands nowhere: an open project and a time that is set."""

    def __init__(self):
        self.at = BEGUN
        self.session = Session.create(project_path("Hide"), "Hide", BEGUN, shelf())

    def now(self):
        return self.at

    def pass_time(self, **time):
        self.at += timedelta(**time)

    def kinds(self):
        return [event.kind for event in self.session.log.events()]


class Held:
    """A dialogue that was held with these answers, one a question: what was asked and said, and what came of it.

    An answer that is a function is called with the question and returns what is answered.
    """

    def __init__(self, dialogue, *answers):
        self.asked, self.said, self.told = [], [], []
        left, answer = list(answers), None
        try:
            while True:
                question = dialogue.send(answer)
                answer = None
                if isinstance(question, ASKS):
                    self.asked.append(question)
                    answer = left.pop(0)
                    answer = answer(question) if callable(answer) else answer
                else:
                    (self.told if isinstance(question, Tell) else self.said).append(question.words)
        except StopIteration as done:
            self.result = done.value
        assert not left, f"not asked for: {left}"


@pytest.fixture
def desk(home):
    place = Place()
    yield place
    place.session.close()


def test_the_shop_temperature_is_recorded(desk):
    held = Held(temperature.read(desk), "18.5 °C")
    [question] = held.asked
    assert (question.title, question.unit, question.place) == ("Temperature of the shop", "°C", "temperature")
    assert held.said == ["SHOP 18.5 °C"]
    [reading] = [event for event in desk.session.log.events() if event.kind == "temperature"]
    assert (reading.data["typed"], reading.at) == ("18.5 °C", BEGUN)


def test_the_shop_temperature_is_asked_for_in_the_unit_of_the_project(desk):
    desk.session.set("system", "inch", BEGUN)
    assert Held(temperature.read(desk), None).asked[0].unit == "°F"


def test_a_temperature_that_is_left_is_not_recorded(desk):
    held = Held(temperature.read(desk), None)
    assert (held.said, held.told) == ([], [])
    assert "temperature" not in desk.kinds()


def test_what_is_no_temperature_is_said_and_not_recorded(desk):
    held = Held(temperature.read(desk), "90 °C")
    assert len(held.said) == 1
    assert "60 °C" in held.said[0]
    assert "temperature" not in desk.kinds()


def test_a_full_disk_is_told_until_it_is_read(desk, monkeypatch):
    def full(*_, **__):
        raise LogError("the disk is full")

    monkeypatch.setattr(desk.session.log, "append", full)
    held = Held(temperature.read(desk), "20 °C")
    assert (held.said, held.told) == ([], ["the disk is full"])
