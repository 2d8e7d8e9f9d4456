"""What stands at the end of a run and in the log: time, materials, what was late or passed with a reason, states, what comes."""

from datetime import timedelta

import pytest
from conftest import BEGAN, materials
from test_needs import RECIPE

from shopmate import recipe as recipes
from shopmate.project.events import Recorded
from shopmate.project.events.work import WallClockSet
from shopmate.project.export import export
from shopmate.project.fold import advance
from shopmate.records import replace
from shopmate.session import EndView, FinishedView, Session, find_recipe, missing, next_for, recipe_files
from shopmate.session.demo import follow
from shopmate.session.summary import hands_on


@pytest.fixture
def bench(home, now):
    """A project with the two coats begun on a part, and a recipe that comes after them among the user's own."""
    folder = home / "recipes"
    folder.mkdir(parents=True)
    text = RECIPE.replace("two-coats", "paint").replace("Made up", "Paint a strip")
    text = text.replace("after: [bare, dry]", "after: [coated]").replace("makes: coated", "makes: painted")
    (folder / "paint.yaml").write_text(text, encoding="utf-8")
    session = Session.create(home / "shed.shopmate", "Shed", now(), materials())
    session.begin(session.add_part("Strip 1", now()), recipes.read(RECIPE, "two-coats.yaml", "two-coats"), now())
    yield session
    session.close()


def ended(bench, now):
    """Follow the run to its end and finish it."""
    now.at = follow(bench, now(), {}, until=lambda view: isinstance(view, EndView))
    bench.done(now())
    return bench.view(now())


def test_the_end_says_time_materials_clocks_the_state_and_what_comes_next(bench, now):
    view = ended(bench, now)
    assert isinstance(view, FinishedView)
    said = list(view.frame.detail)
    assert said[0] == "Made up · Strip 1"
    # 4 answers, 4 steps, twice 5, 5 and the acceptance.
    assert said[-1].startswith("24 steps, ")
    assert ", hands-on " in said[-1]
    assert any(line.startswith("Cure runs until ") for line in said)
    assert any(line.startswith("Used: Epoxy 2:1 by volume, slow: 349 g planned; 7 × Cups planned") for line in said)
    assert "Strip 1 is now coated" in said
    assert "Next: Paint a strip" in said


def test_a_step_late_in_several_turns_is_said_once_with_the_worst(bench, now):
    ended(bench, now)
    run = bench.run
    turns = [place for place in run.marks if run.headline_at(place) == "Roll it on"]
    for place, seconds in zip(turns, (4, 65), strict=True):
        run.marks[place] = replace(run.marks[place], late_s=seconds)
    detail = " ".join(bench.view(now()).frame.detail)
    assert "Late: Roll it on (2 times, up to 65 s late)" in detail
    run.marks[turns[0]] = replace(run.marks[turns[0]], late_s=None)
    assert "Late: Roll it on (65 s late)" in " ".join(bench.view(now()).frame.detail)


def test_before_it_is_finished_nothing_is_made(bench, now):
    now.at = follow(bench, now(), {}, until=lambda view: isinstance(view, EndView))
    assert not any(line.startswith(("Next", "Strip 1 is now")) for line in bench.view(now()).frame.detail)
    assert bench.project.states == {}


def test_the_log_keeps_what_was_used_and_exports_say_it(bench, now):
    ended(bench, now)
    *_, event = bench.log.events()
    assert event.data["makes"] == "coated"
    assert [used["material"] for used in event.data["used"]] == ["epoxy-2to1-slow", "Cups"]
    for form in ("md", "lines", "csv"):
        assert "Recipe complete" in export(bench.log.events(), "Shed", form)
        assert "7 × Cups" in export(bench.log.events(), "Shed", form)


def ready(bench, part):
    """Return the names of the recipes that a part is ready for because of what was done to it."""
    known = [file.recipe for file in recipe_files()]
    return [recipe.name for recipe in next_for(known, bench.project.had(part)) if recipe.after]


def test_a_state_belongs_to_the_part_until_its_run_is_taken_back(bench, now):
    ended(bench, now)
    (state,) = bench.project.states["Strip 1"]
    assert (state.text, state.at, state.run) == ("coated", now(), bench.run.key)
    assert ready(bench, "Strip 1") == ["paint"]
    assert ready(bench, "Strip 2") == []
    bench.take_back(now())
    assert bench.project.states == {}
    assert ready(bench, "Strip 1") == []


def test_a_second_run_of_it_renews_the_state_and_a_missing_one_is_named(bench, now):
    recipe = bench.run.recipe
    assert missing(recipe, ()) == ["bare", "dry"]
    ended(bench, now)
    bench.begin("Strip 1", recipe, now.on(days=1))
    ended(bench, now)
    (state,) = bench.project.states["Strip 1"]
    assert state.run == bench.run.key
    assert len(bench.project.took["two-coats"]) == 2
    assert missing(find_recipe("paint"), {"coated"}) == []


def test_states_are_kept_over_a_checkpoint(bench, now, home):
    ended(bench, now)
    bench.close()
    again = Session.open(home / "shed.shopmate", now(), materials())
    assert again.project.states == bench.project.states
    assert again.project.took == bench.project.took
    again.close()


def test_states_move_with_the_computers_clock(bench, now):
    ended(bench, now)
    (state,) = bench.project.states["Strip 1"]
    (moved,) = advance(bench.project, Recorded(999, now(), WallClockSet(3600.0))).states["Strip 1"]
    assert moved.at - state.at == timedelta(hours=1)


def test_waiting_and_pauses_are_not_hands_on(bench, now):
    # Only the first answers, 5 min apart; then nobody is there for an hour, which is a pause, or a minute less, which is not.
    began = now()
    bench.answer("2 m", now.on(minutes=5))
    assert hands_on(bench.run, now()) == timedelta(minutes=5)
    assert hands_on(bench.run, now() + timedelta(minutes=59)) == timedelta(minutes=64)
    assert hands_on(bench.run, now() + timedelta(minutes=60)) == timedelta(minutes=5)
    assert began == BEGAN


def test_what_was_passed_with_a_reason_is_told_at_the_end(bench, now):
    now.at = follow(bench, now(), {}, until=lambda view: view.headline == "Wait for the tack")
    bench.override("Tried on a sample, it held", now())
    view = ended(bench, now)
    assert "Overridden with a reason: Wait for the tack: Tried on a sample, it held" in view.frame.detail


def test_a_run_given_up_keeps_what_was_weighed_and_not_what_was_planned(bench, now):
    text = RECIPE.replace(
        "      - do: Roll it on\n", "      - {ask: Weigh the pot, into: pot, unit: g, default: 60 g, adds_to: poured}\n"
    )
    bench.begin("Strip 1", recipes.read(text, "two-coats.yaml", "two-coats"), now())
    now.at = follow(bench, now(), {}, until=lambda view: view.headline == "Wash the roller")
    bench.give_up(now())
    *_, event = bench.log.events()
    assert (event.kind, event.data["shown"]) == ("given up", "poured 60 g total")
    assert event.data["weighed"] == {"poured": {"text": "60 g", "unit": "g"}}
    said = bench.view(now()).frame.detail
    assert "Weighed: poured 60 g total" in said
    assert not any(line.startswith(("Used", "Next", "Strip 1 is now")) for line in said)
