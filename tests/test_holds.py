"""Hold points without a known limit or clock: NO GO, unless overridden with a reason."""

from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from small_recipe import small_recipe

from shopmate import recipe as recipes
from shopmate.errors import FileProblems
from shopmate.recipe import Material
from shopmate.session import NotNow, Session

NOW = datetime(2026, 5, 4, 9, 0, tzinfo=UTC)

RECIPE = small_recipe(
    "holds",
    """
asks:
  - {ask: Choose the resin, into: resin, shelf: resin, default: sparse}
  - {ask: Choose the way, into: way, choices: {long: Long, short: Short}, default: long}
sections:
  - section: Check
    mode: read-do
    steps:
      - {ask: Read the air, into: air, unit: °C}
      - gate: Pass the air
        value: "{air}"
        low: "{resin.temperature_low}"
        high: 40 °C
        if_no: Wait.
      - {start: Start the clamp time, when: {way: long}, clock: clamp, title: Clamp, kind: NOT BEFORE, time: 2 h, note: Note it.,
         action: Take clamps off, if_late: No harm., time_to_act: 60 min, consequence: None}
      - {start: Start it anew, when: {way: long}, clock: clamp, title: Clamp, kind: NOT BEFORE, time: 3 h, note: Note it.,
         action: Take clamps off, if_late: No harm., time_to_act: 60 min, consequence: None}
      - {wait: Wait for the clamps, clock: clamp}
""",
)

SPARSE = Material(
    "sparse",
    "resin",
    "Resin without limits",
    "typical",
    {"ratio": "100:45 by weight", "resin_density": "1.15 g/mL", "hardener_density": "0.97 g/mL", "pot_life": "40 min"},
)


@pytest.fixture
def session(tmp_path: Path):
    session = Session.create(tmp_path / "p.shopmate", "P", NOW, {"sparse": SPARSE})
    session.begin(session.add_part("Panel 1", NOW), recipes.read(RECIPE, "holds.yaml"), NOW)
    session.answer("sparse", NOW)
    yield session
    session.close()


def test_an_unknown_limit_is_no_leave_to_pass(session: Session) -> None:
    session.answer("long", NOW)
    session.answer("2 °C", NOW)
    view = session.view(NOW)
    assert view.go is False
    assert "temperature low" in view.problems[0]
    with pytest.raises(NotNow):
        session.done(NOW)
    session.override(view.reasons[0], NOW)
    assert session.view(NOW).headline == "Start the clamp time"


def test_a_clock_started_anew_takes_the_place_of_the_former(session: Session) -> None:
    session.answer("long", NOW)
    session.answer("20 °C", NOW)
    session.override("Seen", NOW)
    session.done(NOW)
    session.done(NOW + timedelta(minutes=10))
    assert [clock.due_at for clock in session.clocks] == [NOW + timedelta(hours=3, minutes=10)]


def test_a_wait_for_a_clock_that_was_not_started_stays_closed(session: Session) -> None:
    session.answer("short", NOW)
    session.answer("20 °C", NOW)
    session.override("Seen", NOW)
    view = session.view(NOW)
    assert (view.headline, view.go) == ("Wait for the clamps", False)
    assert "not started" in view.verdict
    with pytest.raises(NotNow):
        session.done(NOW)


def test_a_headline_refers_to_no_value() -> None:
    with pytest.raises(FileProblems, match="refers to a value"):
        recipes.read(RECIPE.replace("ask: Read the air", "ask: 'Read {way}'"), "holds.yaml")
