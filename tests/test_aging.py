"""Clocks that go by the temperature of the shop: when they are due, what moves them, and what the log keeps."""

import math
from datetime import UTC, datetime, timedelta
from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad
from small_recipe import small_recipe

from shopmate import recipe as recipes
from shopmate.clock import STALLED, Aging, aged_due
from shopmate.errors import Doubt, EntryError, FileProblems
from shopmate.models.arrhenius import rate
from shopmate.models.cure import COLD, HOT
from shopmate.models.due import ClockKind
from shopmate.project.export import export
from shopmate.recipe import Material
from shopmate.session import EndView, Session, WaitView, find_recipe, recipe_files, shelf
from shopmate.session.demo import follow

NOW = datetime(2026, 5, 4, 9, 0, tzinfo=UTC)

RECIPE = small_recipe(
    "aging",
    """
asks:
  - {ask: Choose the resin, into: resin, shelf: resin, default: slow}
sections:
  - section: Coat
    mode: read-do
    steps:
      - {ask: Read the air, into: air, unit: °C, logs: temperature}
      - {start: Start recoat opens, clock: opens, title: Recoat opens, kind: NOT BEFORE, time: "{resin.recoat_opens}",
         ages_at: "{resin.pot_temperature}", note: Note it., action: Coat,
         if_late: No harm., time_to_act: 60 min, consequence: None}
      - {start: Start recoat closes, clock: closes, title: Recoat closes, kind: DO BEFORE, time: "{resin.recoat_closes}",
         ages_at: "{resin.pot_temperature}", note: Note it., action: Coat, if_late: Sand., time_to_act: 30 min, consequence: None}
      - {ask: Read it again, into: later, unit: °C, logs: temperature}
      - {do: Coat the panel, when: {clock: closes, is: running}}
""",
)

FIGURES = {
    "ratio": "100:45 by weight", "resin_density": "1.15 g/mL", "hardener_density": "0.97 g/mL", "pot_life": "40 min",
    "pot_temperature": "25 °C", "recoat_opens": "4 h", "recoat_closes": "24 h",
}  # fmt: skip
SLOW = Material("slow", "resin", "Slow resin", "typical", FIGURES)


@pytest.fixture
def session(tmp_path: Path):
    session = Session.create(tmp_path / "p.shopmate", "P", NOW, {"slow": SLOW})
    session.begin(session.add_part("Panel 1", NOW), recipes.read(RECIPE, "aging.yaml"), NOW)
    session.answer("slow", NOW)
    yield session
    session.close()


def hours(number: float) -> timedelta:
    return timedelta(hours=number)


def test_at_the_temperature_of_the_sheet_the_sheet_s_time_holds() -> None:
    aging = Aging(hours(4), 25.0)
    assert aged_due(NOW, aging, "NOT BEFORE", []) == NOW + hours(4)
    assert aged_due(NOW, aging, "DO BEFORE", [(NOW, 25.0)]) == NOW + hours(4)


def test_the_window_of_the_reference_doubles_at_16_degrees() -> None:
    # A 6 h window at 25 °C is 12.0 h at 16 °C for E 55 kJ/mol: reference sheet on epoxy, section e [computed].
    due = aged_due(NOW, Aging(hours(6), 25.0), "NOT BEFORE", [(NOW, 16.0)])
    assert (due - NOW) / hours(1) == pytest.approx(12.0, abs=0.05)


@given(st.lists(st.tuples(st.floats(0, 40), st.floats(13, 39)), min_size=1, max_size=8))
def test_the_age_at_the_due_time_is_what_was_needed(steps: list[tuple[float, float]]) -> None:
    readings = sorted((NOW + hours(at), celsius) for at, celsius in {round(at, 3): celsius for at, celsius in steps}.items())
    due = aged_due(NOW, Aging(hours(10), 25.0), "NOT BEFORE", readings)

    def speed(at: float) -> float:
        held = [celsius for read_at, celsius in readings if read_at <= NOW + hours(at)]
        return rate(held[-1] if held else 25.0, 25.0)

    end = (due - NOW) / hours(1)
    breaks = sorted({(read_at - NOW) / hours(1) for read_at, _ in readings if NOW < read_at < due})
    pieces = [0.0, *breaks, end]
    age = sum(quad(speed, a + 1e-9, b - 1e-9)[0] for a, b in pairwise(pieces) if b - a > 1e-6)
    assert age == pytest.approx(10.0, rel=1e-4)


def test_what_is_not_known_falls_on_the_safe_side() -> None:
    aging = Aging(hours(10), 25.0)
    assert aged_due(NOW, aging, "NOT BEFORE", [(NOW, 4.0)]) == NOW + STALLED
    assert aged_due(NOW, aging, "NOT BEFORE", [(NOW, 60.0)]) == aged_due(NOW, aging, "NOT BEFORE", [(NOW, HOT)])
    assert aged_due(NOW, aging, "DO BEFORE", [(NOW, 2.0)]) == aged_due(NOW, aging, "DO BEFORE", [(NOW, COLD)])
    assert aged_due(NOW, aging, "DO BEFORE", [(NOW, 60.0)]) < aged_due(NOW, aging, "DO BEFORE", [(NOW, HOT)])


def hours_at(celsius: float, kind: ClockKind, *, sheet: float = 25.0) -> float:
    """Return in how many hours ten hours of the sheet are over, the shop being at one temperature throughout."""
    return (aged_due(NOW, Aging(hours(10), sheet), kind, [(NOW, celsius)]) - NOW) / hours(1)


def test_at_five_degrees_cure_counts_nothing_and_just_above_it_counts() -> None:
    # Epoxies do not cure at 5 °C or colder [common practice]; a year and a day says never.
    assert hours_at(5.0, "NOT BEFORE") == 366 * 24
    assert 10 < hours_at(5.01, "NOT BEFORE") < 60


def test_above_forty_degrees_cure_is_no_faster_and_below_it_is() -> None:
    # No data sheet gives a rate above 40 °C [common practice].
    assert hours_at(40.0, "NOT BEFORE") == hours_at(40.1, "NOT BEFORE") == hours_at(90.0, "NOT BEFORE")
    assert hours_at(39.9, "NOT BEFORE") > hours_at(40.0, "NOT BEFORE")
    assert hours_at(40.1, "DO BEFORE") < hours_at(40.0, "DO BEFORE")


def test_below_twelve_degrees_a_window_stays_open_no_longer() -> None:
    # Blush and vitrification come first [common practice].
    assert hours_at(12.0, "DO BEFORE") == hours_at(11.9, "DO BEFORE") == hours_at(-5.0, "DO BEFORE")
    assert hours_at(12.1, "DO BEFORE") < hours_at(12.0, "DO BEFORE")
    assert hours_at(12.0, "NOT BEFORE") < hours_at(11.9, "NOT BEFORE")


def test_a_window_given_for_less_than_twelve_degrees_holds_as_given_in_the_cold() -> None:
    assert hours_at(8.0, "DO BEFORE", sheet=10.0) == pytest.approx(10.0)
    assert hours_at(11.0, "DO BEFORE", sheet=10.0) < 10.0


def test_each_reading_holds_from_its_time_to_the_next() -> None:
    # Twice the rate of 25 °C is reached at 1/T = 1/298.15 K - R ln 2 / E, E 55 kJ/mol: 34.615 °C; 5 h + 5 h / 2 [computed].
    aging, twice = Aging(hours(10), 25.0), 34.615
    for cold in ([], [(NOW - hours(2), 25.0)], [(NOW - hours(3), 10.0), (NOW, 25.0)]):
        due = aged_due(NOW, aging, "NOT BEFORE", [*cold, (NOW + hours(5), twice)])
        assert (due - NOW) / hours(1) == pytest.approx(7.5, rel=1e-3)


def test_a_reading_at_the_very_time_a_limit_is_reached_does_not_move_it() -> None:
    assert aged_due(NOW, Aging(hours(10), 25.0), "NOT BEFORE", [(NOW + hours(10), 2.0)]) == NOW + hours(10)


def test_a_later_reading_never_changes_what_is_past() -> None:
    aging = Aging(hours(4), 25.0)
    due = aged_due(NOW, aging, "NOT BEFORE", [(NOW, 25.0)])
    assert aged_due(NOW, aging, "NOT BEFORE", [(NOW, 25.0), (due + hours(1), 5.0)]) == due


def test_a_reading_moves_the_clocks_at_once_and_the_log_keeps_both_times(session: Session) -> None:
    session.answer("25 °C", NOW)
    session.done(NOW)
    session.done(NOW)
    opens, closes = session.clocks
    assert (opens.due_at, closes.due_at) == (NOW + hours(4), NOW + hours(24))
    later = NOW + hours(1)
    session.answer("16 °C", later)
    moved = {clock.name: clock for clock in session.clocks}
    assert moved["opens"].due_at > NOW + hours(6.9)
    assert (moved["opens"].moved_from, moved["opens"].moved_by) == (NOW + hours(4), "16 °C")
    [event] = [event for event in session.log.events() if event.data.get("moved")]
    assert [move["title"] for move in event.data["moved"]] == ["Recoat opens", "Recoat closes"]
    assert "was 2026-05-04" in export(session.log.events(), "P", "csv")
    session.take_back(later)
    assert [clock.due_at for clock in session.clocks] == [NOW + hours(4), NOW + hours(24)]


def test_a_reading_outside_of_a_recipe_does_the_same(session: Session) -> None:
    session.answer("25 °C", NOW)
    session.done(NOW)
    before = session.clocks[0].due_at
    assert session.log_temperature("86 °F", NOW + hours(1)) == "SHOP 30 °C"
    assert session.clocks[0].due_at < before
    with pytest.raises(Doubt):
        session.log_temperature("2 °C", NOW)
    with pytest.raises(EntryError):
        session.log_temperature("20 min", NOW)


def test_an_old_reading_is_asked_for_anew_only_while_a_clock_goes_by_it(session: Session) -> None:
    assert not session.wants_temperature(NOW)
    session.answer("25 °C", NOW)
    assert not session.wants_temperature(NOW + hours(5))
    session.done(NOW)
    assert not session.wants_temperature(NOW + hours(3))
    assert session.wants_temperature(NOW + hours(5))
    session.set("reading_holds", "6 h", NOW)
    assert not session.wants_temperature(NOW + hours(5))
    assert session.wants_temperature(NOW + hours(6.1))


def test_the_window_decides_the_coming_step(session: Session) -> None:
    session.answer("25 °C", NOW)
    session.done(NOW)
    session.done(NOW)
    session.answer("39 °C", NOW + hours(1))
    assert session.view(NOW + hours(1)).headline == "Coat the panel"
    session.take_back(NOW + hours(1))
    session.answer("39 °C", NOW + hours(30))
    assert isinstance(session.view(NOW + hours(30)), EndView)


def test_only_a_temperature_is_logged_as_one() -> None:
    with pytest.raises(FileProblems, match="logs temperature, but the answer is not one"):
        recipes.read(RECIPE.replace("into: air, unit: °C", "into: air, unit: mm"), "aging.yaml")


# The shipped recipes


SHIPPED = [item.recipe for item in recipe_files() if item.recipe is not None]
CURES = {"recoat_opens", "recoat_closes", "sand", "clamp", "cure"}
"""Times of a resin's sheet that end by how far it has cured."""


def starts(recipe):
    return [step.act for section in recipe.sections for step in section.steps if isinstance(step.act, recipes.Start)]


def test_every_clock_that_runs_on_a_cure_of_the_resin_s_sheet_goes_by_its_age():
    seen = set()
    for recipe in SHIPPED:
        for act in starts(recipe):
            figures = {name.partition(".")[2] for name in act.time.references if name.startswith("resin.")} & CURES
            assert bool(figures) <= (act.ages_at is not None), (recipe.name, act.title)
            if act.ages_at is not None:
                assert act.ages_at.text == "{resin.pot_temperature}", (recipe.name, act.title)
            seen |= figures
    assert {"clamp", "cure"} <= seen


def test_clamps_and_cure_of_a_bar_bonded_with_epoxy_follow_the_shop(tmp_path):
    session = Session.create(tmp_path / "bar.shopmate", "Bar", NOW, shelf())
    session.begin(session.add_part("Bar", NOW), find_recipe("bonding"), NOW)
    answers = {"Glue": "epoxy", "Air temperature": "19 °C"}
    now = NOW
    for headline, title, celsius in (("Wait out the clamp time", "Clamps off", 29.0), ("Wait for the cure", "OK to load", 16.0)):
        now = follow(session, now, answers, until=lambda view, at=headline: isinstance(view, WaitView) and view.headline == at)
        clock = next(clock for clock in session.clocks if clock.title == title)
        began = clock.due_at
        now += timedelta(hours=1)
        session.log_temperature(f"{celsius:g} °C", now)
        moved = next(item for item in session.clocks if item.key == clock.key)
        # What is left goes by the ratio of the rates, by Arrhenius in kelvin with 55 kJ/mol.
        before = session.project.readings[-2][1]
        ratio = math.exp(55_000 / 8.314462618 * (1 / (before + 273.15) - 1 / (celsius + 273.15)))
        assert (moved.due_at - now) * ratio == pytest.approx(began - now, rel=1e-6)
        assert moved.moved_from == began
    session.close()
