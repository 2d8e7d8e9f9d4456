"""A project folded from its log: pure, undone events as if they had never been, and the place that follows each step."""

from collections.abc import Mapping
from contextlib import suppress
from copy import deepcopy
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from conftest import without_old_answers
from hypothesis import given, settings
from hypothesis import strategies as st
from small_recipe import small_recipe

from shopmate import paths
from shopmate import recipe as recipes
from shopmate.clock import Clock
from shopmate.errors import ShopmateError
from shopmate.log import Event, Log
from shopmate.project.events import KINDS, Recorded, read
from shopmate.project.fold import advance, fold
from shopmate.project.place import Mark, Place
from shopmate.project.project import Project
from shopmate.project.run import Held, Run
from shopmate.recipe import Ask
from shopmate.session import Session
from shopmate.session.way import applicable, next_place
from shopmate.units import Quantity

NOON = datetime(2026, 11, 25, 12, 0, tzinfo=UTC)

TEXT = small_recipe(
    "coats",
    """
asks:
  - {ask: Count the coats, into: coats, count: [1, 4], default: "2"}
  - {ask: Choose the edge, into: edge, choices: {raw: Raw edge, wrapped: Wrapped edge}, default: raw}
sections:
  - section: Mix
    mode: read-do
    steps:
      - WARNING: Hardener on the skin can start an allergy for life.
      - do: Put on gloves
      - start: Start the pot life
        clock: pot_life
        title: Pot life
        kind: DO BEFORE
        time: 40 min
        note: It counts from first contact.
        action: Spread the pot now
        if_late: Do not use it.
        time_to_act: 2 min
        consequence: The pot sets in the cup.
      - {do: Wrap the edge, when: {edge: wrapped}}
      - {do: Spread the pot, ends: pot_life}
      - {do: Empty the cup, when: {clock: pot_life, is: running}}
  - section: Lay
    mode: read-do
    repeat: {each: coat, times: coats}
    until: Stop when the weave is full.
    steps:
      - {do: Wet the wrap, when: {edge: wrapped}}
      - {ask: Weigh the coat, into: mass, unit: g, low: 10 g, high: 500 g}
      - {gate: Judge the film, if_no: Roll it again., choices: {whole: Film whole, broken: Film breaks}, go: whole}
      - start: Start the wait
        clock: recoat
        title: Recoat
        kind: NOT BEFORE
        time: 4 h
        note: It counts from the last stroke.
        action: Lay the next coat
        if_late: Nothing is lost yet.
        time_to_act: 8 h
        consequence: The coat lifts.
      - {wait: Wait for the coat, clock: recoat}
      - {do: Trim the wrap, when: {edge: wrapped}}
  - section: Wrap
    mode: do-confirm
    steps:
      - {do: Fold the wrap, when: {edge: wrapped}}
      - {do: Press the wrap, when: {edge: wrapped}}
      - {do: Tape the wrap, when: {edge: wrapped}}
      - {do: Check the wrap, when: {edge: wrapped}}
      - {do: Mark the wrap, when: {edge: wrapped}}
  - section: Tidy
    mode: do-confirm
    steps:
      - do: Wipe the roller
      - do: Wipe the bench
      - do: Close the cans
      - do: Sweep the floor
      - {do: Store the wrap, when: {edge: wrapped}}
""",
)
RECIPE = recipes.read(TEXT, "coats.yaml", "coats")
START, MIX, LAY, WRAP, TIDY, END = range(6)


def clock_data(name: str = "pot_life", kind: str = "DO BEFORE", seconds: float = 2400) -> dict[str, object]:
    """Return what an event keeps of a clock it starts."""
    return {
        "name": name,
        "title": "Pot life",
        "kind": kind,
        "seconds": seconds,
        "action": "Spread the pot now",
        "if_late": "Do not use it.",
        "time_to_act_s": 120,
        "consequence": "The pot sets in the cup.",
    }


def history(*entries: tuple[str, Mapping[str, object]]) -> list[Recorded]:
    """Return events of the kinds and data given, one a minute from noon, numbered from 1."""
    return [
        read(Event(number, NOON + timedelta(minutes=number), kind, data)) for number, (kind, data) in enumerate(entries, start=1)
    ]


BEGUN = (
    ("project", {"name": "Hide", "system": "inch"}),
    ("part", {"name": "Panel 1"}),
    ("run", {"part": "Panel 1", "recipe": "coats", "version": "1", "place": "0.1.0", "text": TEXT}),
)
"""A project with one run, whose key is '3', the number of its event."""


def done(place: str, following: str, **more: object) -> tuple[str, Mapping[str, object]]:
    return "done", {"run": "3", "place": place, "next": following, **more}


# The fold


def test_no_events_are_an_empty_project_of_the_name_given() -> None:
    assert fold([], "hide") == Project("hide")


def test_a_run_begins_with_its_part_its_recipe_and_its_place() -> None:
    project = fold(history(*BEGUN), "hide")
    assert (project.name, project.system, list(project.parts)) == ("Hide", "inch", ["Panel 1"])
    run = project.run
    assert run is not None
    assert (run.key, run.part, run.recipe, run.place) == ("3", "Panel 1", RECIPE, Place(0, 1, 0))
    assert run.begun_at == NOON + timedelta(minutes=3)


def test_an_answer_becomes_a_value_with_its_unit_and_a_mark() -> None:
    values = {"mass": {"text": "310 g", "unit": "g"}, "edge": {"text": "raw", "label": "Raw edge"}}
    run = fold(history(*BEGUN, done("0.1.0", "0.1.1", values=values, shown="310 g")), "hide").runs["3"]
    assert run.values["mass"] == Held(Quantity(310, "g"))
    assert run.values["edge"] == Held("raw", "Raw edge")
    assert run.marks == {Place(0, 1, 0): Mark(NOON + timedelta(minutes=4), "done", "310 g")}
    assert run.place == Place(0, 1, 1)


def test_steps_passed_over_are_marked_not_applicable() -> None:
    run = fold(history(*BEGUN, done("1.1.1", "1.1.3", passed=["1.1.2"])), "hide").runs["3"]
    assert run.marks[Place(1, 1, 2)].word == "not applicable"


def test_a_step_starts_a_clock_and_another_ends_it_late() -> None:
    events = history(*BEGUN, done("1.1.1", "1.1.3", clock=clock_data(seconds=30)), done("1.1.3", "1.1.5", ends=["4"]))
    project = fold(events, "hide")
    assert project.clocks["4"].due_at == NOON + timedelta(minutes=4, seconds=30)
    assert project.clocks["4"].ended_at == NOON + timedelta(minutes=5)
    assert project.runs["3"].clocks == {"pot_life": "4"}
    assert project.runs["3"].marks[Place(1, 1, 3)].late_s == 30


def test_undoing_a_clock_start_removes_the_clock() -> None:
    start = done("1.1.1", "1.1.3", clock=clock_data())
    assert list(fold(history(*BEGUN, start), "hide").clocks) == ["4"]
    project = fold(history(*BEGUN, start, ("undone", {"event": 4})), "hide")
    assert project.clocks == {}
    assert project.runs["3"].clocks == {}
    assert project.runs["3"].place == Place(0, 1, 0)


def test_an_alarm_of_a_clock_that_was_undone_is_passed_over() -> None:
    entries = [
        *BEGUN,
        done("1.1.1", "1.1.3", clock=clock_data()),
        ("alarm", {"clock": "4", "stage": "pre"}),
        ("undone", {"event": 4}),
        ("acknowledged", {"clock": "4", "stage": "pre"}),
        ("shelved", {"clock": "4", "until": NOON.isoformat()}),
        ("ended", {"clock": "4"}),
    ]
    assert fold(history(*entries), "hide").clocks == {}


def test_undoing_the_end_of_a_clock_lets_it_run_on() -> None:
    start, end = done("1.1.1", "1.1.3", clock=clock_data()), done("1.1.3", "1.1.5", ends=["4"])
    project = fold(history(*BEGUN, start, end, ("undone", {"event": 5})), "hide")
    assert project.clocks["4"].ended_at is None
    assert Place(1, 1, 3) not in project.runs["3"].marks


def test_alarms_acknowledgements_and_shelving_are_stamped_on_the_clock() -> None:
    entries = [
        ("clock", {"clock": {**clock_data("own"), "seconds": 120.0}}),  # warns after a minute
        ("alarm", {"clock": "1", "stage": "pre"}),
        ("shelved", {"clock": "1", "until": (NOON + timedelta(minutes=9)).isoformat()}),
        ("acknowledged", {"clock": "1", "stage": "pre"}),
    ]
    clock = fold(history(*entries), "hide").clocks["1"]
    assert clock.run is None
    assert clock.raised == {"pre": NOON + timedelta(minutes=2)}
    assert clock.acknowledged == {"pre": NOON + timedelta(minutes=4)}
    assert clock.shelved_until == NOON + timedelta(minutes=9)


def test_going_back_takes_away_the_marks_from_that_place_on_and_keeps_the_answers() -> None:
    entries = [
        *BEGUN,
        done("2.1.0", "2.1.1"),
        done("2.1.1", "2.1.2", values={"mass": {"text": "310 g", "unit": "g"}}),
        ("again", {"run": "3", "place": "2.1.2", "next": "2.1.1"}),
    ]
    run = fold(history(*entries), "hide").runs["3"]
    assert {place: mark.word for place, mark in run.marks.items()} == {Place(2, 1, 0): "done", Place(2, 1, 1): "again"}
    assert run.place == Place(2, 1, 1)
    assert run.values["mass"].text == "310 g"


def test_a_kind_of_event_that_is_not_known_changes_nothing() -> None:
    project = fold(history(*BEGUN, ("opened", {}), ("sung", {"song": "none"})), "hide")
    assert list(project.left_out) == [5]
    assert replace(project, left_out={}) == fold(history(*BEGUN), "hide")


def test_settings_and_forms_are_the_last_ones() -> None:
    entries = [
        ("setting", {"name": "system", "value": "inch"}),
        ("setting", {"name": "theme", "value": "light"}),
        ("form", {"calculator": "bead", "texts": {"diameter": "5 mm"}}),
        ("form", {"calculator": "bead", "texts": {"diameter": "6 mm"}}),
    ]
    project = fold(history(*entries), "hide")
    assert (project.system, project.theme) == ("inch", "light")
    assert project.forms == {"bead": {"diameter": "6 mm"}}


def test_a_result_becomes_a_value_for_each_output_that_was_worked_out() -> None:
    outputs = {
        "dew_point": {"value": 9.5, "unit": "°C"},
        "margin": {"value": None, "unit": "K"},
        "verdict": {"value": "go", "unit": None},
    }
    result = {"calculator": "dewpoint", "outputs": outputs}
    values = fold(history(*BEGUN, done("0.1.0", "0.1.1", into="dew", result=result)), "hide").runs["3"].values
    assert set(values) == {"dew.dew_point", "dew.verdict"}
    assert values["dew.dew_point"].quantity == Quantity(9.5, "°C")
    assert values["dew.verdict"].text == "go"


# Purity, over work chosen at random


FORWARD = ("acknowledge", "2", "wrapped", "310 g", "whole", "done", "override")
"""Tried one after the other, these pass any place."""
ACTIONS = (
    "forward", "forward", "forward", "forward", "forward", "forward", "raw", "broken", "acknowledge", "again", "enough",
    "back", "back", "end clock", "own clock", "tick", "other run", "done", "row", "row later",
)  # fmt: skip


def act(session: Session, action: str, now: datetime) -> None:
    """Do one thing at the bench, or nothing where it is refused."""
    if action == "forward":
        place = session.run.place
        for each in FORWARD:
            if session.run.place == place:
                act(session, each, now)
        return
    with suppress(ShopmateError):
        if action == "done":
            session.done(now)
        elif action in ("row", "row later"):
            place = session.view(now).frame.rows[-1].place if session.view(now).frame.rows else None
            session.answer("wrapped", now, at=place) if action == "row" else session.defer(now, place)
        elif action in ("whole", "broken"):
            session.judge(action, now)
        elif action == "acknowledge":
            session.acknowledge(now)
        elif action == "override":
            session.override("Tried on a sample, it held", now)
        elif action in ("again", "enough"):
            session.repeat(action, now)
        elif action == "back":
            session.take_back(now)
        elif action == "end clock":
            for clock in session.clocks[:1]:
                session.end_clock(clock.key, now)
        elif action == "own clock":
            session.start_clock("Tea", "DO BEFORE", timedelta(minutes=5), now)
        elif action == "tick":
            session.tick(now)
        elif action == "other run":
            others = [key for key in session.project.runs if key != session.project.current]
            session.choose(others[0], now)
        else:
            session.answer(action, now)


def folded(events: list[Event]) -> Project:
    return fold([read(event) for event in events], "hide")


def bench() -> tuple[Session, Log]:
    """Return a session on two parts with a run each."""
    log = Log(Path("hide.shopmate"), in_memory=True)
    session = Session(log, {})
    for part in ("Panel 1", "Panel 2"):
        session.add_part(part, NOON)
        session.begin(part, RECIPE, NOON)
    return session, log


WORK = st.lists(st.tuples(st.sampled_from(ACTIONS), st.sampled_from([0, 1, 30, 300])), min_size=40, max_size=120)


@given(WORK)
@settings(max_examples=40, deadline=None)
def test_what_was_shown_at_each_moment_is_what_the_events_so_far_fold_to(work: list[tuple[str, int]]) -> None:
    session, log = bench()
    shown: list[tuple[int, Project]] = []
    now = NOON
    for action, passed in work:
        now += timedelta(minutes=passed)
        act(session, action, now)
        shown.append((len(log.events()), session.project))
    before = deepcopy(log.events())
    for count, project in shown:
        assert folded(log.events()[:count]) == project
    assert folded(log.events()) == folded(log.events())
    assert log.events() == before


@given(WORK)
@settings(max_examples=40, deadline=None)
def test_an_event_taken_back_is_as_if_it_had_never_been(work: list[tuple[str, int]]) -> None:
    session, log = bench()
    now = NOON
    for action, passed in work:
        now += timedelta(minutes=passed)
        act(session, action, now)
    undone = {id for event in log.events() if event.kind == "undone" for id in (event.data["event"], *event.data.get("also", ()))}
    left = [event for event in log.events() if event.id not in undone and event.kind != "undone"]
    after = folded(log.events())
    assert without_old_answers(after) == folded(left)
    assert {event.kind for event in log.events() if event.id in undone} <= {kind for kind, one in KINDS.items() if one.undoable}


@given(WORK)
@settings(max_examples=40, deadline=None)
def test_taking_back_everything_leads_back_to_the_first_place_with_no_clock_of_a_run(work: list[tuple[str, int]]) -> None:
    session, log = bench()
    now = NOON
    for action, passed in work:
        now += timedelta(minutes=passed)
        act(session, action, now)
    for key in list(session.project.runs):
        session.choose(key, now)
        for _ in range(len(log.events())):
            act(session, "back", now)
    assert session.project.undo == []
    assert all(clock.run is None for clock in session.project.clocks.values())
    for run in session.project.runs.values():
        assert (run.place, run.marks, run.values, run.seen, run.refused) == (Place(0, 1, 0), {}, {}, {}, {})


def test_an_event_copies_the_run_it_is_of_and_no_other() -> None:
    """So that a key costs the same however many runs there have been."""
    events = history(*BEGUN, BEGUN[-1], done("0.1.0", "0.1.1"))
    before = fold(events[:-1], "hide")
    after = advance(before, events[-1])
    assert after.runs["3"] is not before.runs["3"]
    assert after.runs["4"] is before.runs["4"]
    assert before.runs["3"].marks == {}


# The place that follows


def run_at(place: Place, *, edge: str = "raw", coats: str = "2", **more: Any) -> Run:
    """Return a run of the recipe with its first answers given."""
    values = {"coats": Held(Quantity(int(coats), "")), "edge": Held(edge)}
    return Run("1", "Panel 1", RECIPE, NOON, place, values=values, **more)


def after(place: Place, run: Run, clocks: Mapping[str, Clock] | None = None, now: datetime = NOON) -> tuple[Place, list[Place]]:
    return next_place(run, place, clocks or {}, now)


def steps_of(section: int, turn: int = 1) -> list[Place]:
    """Return all places of the steps of a section."""
    return [Place(section, turn, step) for step in range(len(RECIPE.sections[section].steps))]


def test_the_first_place_is_before_any_step() -> None:
    assert after(Place(START, 1, -1), Run("1", "Panel 1", RECIPE, NOON, Place(START, 1, -1))) == (Place(START, 1, 0), [])


@pytest.mark.parametrize(
    ("edge", "place", "following", "passed"),
    [
        ("raw", Place(START, 1, 0), Place(START, 1, 1), []),
        ("raw", Place(START, 1, 1), Place(START, 1, 2), []),  # the end of a section is a place
        ("raw", Place(START, 1, 2), Place(MIX, 1, 0), []),
        ("raw", Place(MIX, 1, 1), Place(MIX, 1, 3), [Place(MIX, 1, 2)]),
        ("wrapped", Place(MIX, 1, 1), Place(MIX, 1, 2), []),
        ("raw", Place(MIX, 1, 3), Place(MIX, 1, 5), [Place(MIX, 1, 4)]),  # no clock was started: it is not running
        ("raw", Place(MIX, 1, 5), Place(LAY, 1, 1), [Place(LAY, 1, 0)]),
        ("raw", Place(LAY, 1, 4), Place(LAY, 1, 6), [Place(LAY, 1, 5)]),
        ("raw", Place(LAY, 1, 6), Place(LAY, 2, 1), [Place(LAY, 2, 0)]),
        ("wrapped", Place(LAY, 1, 6), Place(LAY, 2, 0), []),
        ("wrapped", Place(LAY, 2, 6), Place(WRAP, 1, 0), []),
        ("raw", Place(LAY, 2, 6), Place(TIDY, 1, 0), steps_of(WRAP)),  # passed over whole, its end included
        ("raw", Place(TIDY, 1, 3), Place(TIDY, 1, 5), [Place(TIDY, 1, 4)]),
        ("raw", Place(TIDY, 1, 5), Place(END, 1, 0), []),
    ],
)
def test_the_place_that_follows(edge: str, place: Place, following: Place, passed: list[Place]) -> None:
    assert after(place, run_at(place, edge=edge)) == (following, passed)


@pytest.mark.parametrize(
    ("coats", "extra", "turns"), [("1", 0, 1), ("2", 0, 2), ("4", 0, 4), ("2", 1, 3), ("2", -1, 1), ("1", -5, 1)]
)
def test_a_section_is_repeated_as_often_as_planned_and_asked_for(coats: str, extra: int, turns: int) -> None:
    run = run_at(Place(LAY, 1, 0), edge="wrapped", coats=coats, extra_turns={LAY: extra})
    assert run.turns(LAY) == turns
    place, seen = Place(LAY, 1, 0), []
    while place.section == LAY:
        seen.append(place)
        place, _ = after(place, run)
    assert seen == [Place(LAY, turn, step) for turn in range(1, turns + 1) for step in range(7)]


def test_a_section_without_repeat_is_done_once_and_one_of_unknown_count_at_least_once() -> None:
    run = Run("1", "Panel 1", RECIPE, NOON, Place(START, 1, 0))
    assert run.turns(MIX) == 1
    assert run.turns(LAY) == 1


POT = fold(history(*BEGUN, done("1.1.1", "1.1.3", clock=clock_data())), "hide").clocks["4"]
"""A pot life of 40 min from 12:04."""


@pytest.mark.parametrize(
    ("ended", "at", "stands"),
    [
        (False, 5, "running"),
        (False, 43.9, "running"),
        (False, 44, "over"),
        (False, 400, "over"),
        (True, 5, "none"),
        (True, 44, "none"),
    ],
)
def test_a_step_that_hangs_on_a_clock_applies_as_the_clock_stands(ended: bool, at: float, stands: str) -> None:
    events = history(*BEGUN, done("1.1.1", "1.1.3", clock=clock_data()), *([("ended", {"clock": "4"})] if ended else []))
    project = fold(events, "hide")
    for asked in ("running", "over", "none"):
        recipe = recipes.read(TEXT.replace("is: running", f"is: {asked}"), "coats.yaml")
        step = recipe.sections[MIX].steps[4]
        assert applicable(step, project.runs["3"], project.clocks, NOON + timedelta(minutes=at)) is (asked == stands)


def test_the_clock_a_step_hangs_on_decides_at_the_moment_it_is_reached() -> None:
    run = run_at(Place(MIX, 1, 3), clocks={"pot_life": "4"})
    assert after(Place(MIX, 1, 3), run, {"4": POT}, POT.due_at - timedelta(seconds=1)) == (Place(MIX, 1, 4), [])
    assert after(Place(MIX, 1, 3), run, {"4": POT}, POT.due_at) == (Place(MIX, 1, 5), [Place(MIX, 1, 4)])


def test_a_step_that_hangs_on_an_answer_never_given_does_not_apply() -> None:
    run = Run("1", "Panel 1", RECIPE, NOON, Place(MIX, 1, 1))
    assert after(Place(MIX, 1, 1), run) == (Place(MIX, 1, 3), [Place(MIX, 1, 2)])


@given(st.integers(0, 3), st.integers(1, 4), st.sampled_from(["raw", "wrapped"]), st.integers(-3, 3))
def test_the_way_through_a_recipe_goes_forward_and_ends(ended: int, coats: int, edge: str, extra: int) -> None:
    run = run_at(Place(START, 1, 0), edge=edge, coats=str(coats), extra_turns={LAY: extra})
    clocks = {"4": POT} if ended else {}
    place, way, passed_over = Place(START, 1, 0), [], []
    while place.section < END:
        way.append(place)
        run.marks[place] = Mark(NOON, "done")
        place, passed = after(place, run, clocks)
        passed_over += passed
    assert way == sorted(way)
    assert not set(way) & set(passed_over)
    steps = {each for each in way if each.step < len(RECIPE.sections[each.section].steps)}
    turns = {LAY: run.turns(LAY)}
    whole = {
        Place(section, turn, step)
        for section, held in enumerate(RECIPE.sections)
        for turn in range(1, turns.get(section, 1) + 1)
        for step in range(len(held.steps))
    }
    assert steps | set(passed_over) == whole


def test_places_are_written_and_read_back() -> None:
    assert str(Place(2, 3, 4)) == "2.3.4"
    assert Place.parse("2.3.4") == Place(2, 3, 4)


@pytest.mark.parametrize("key", ["adds_to", "pace_of", "repeat"])
def test_what_a_recipe_may_have_is_told_by_its_text(key):
    for text, may in ((f"{key}: x", True), ("asks: []", False), ('"\\x61sks": []', True)):
        assert Run("1", "Panel 1", text, NOON, Place(0, 1, 0)).may_have(key) is may


@pytest.mark.parametrize("path", sorted(paths.shipped_recipes().glob("*.yaml")), ids=lambda path: path.stem)
def test_a_recipe_has_nothing_that_its_text_says_it_cannot_have(path):
    recipe = recipes.load(path)
    run = Run("1", "Panel 1", recipe.text, NOON, Place(0, 1, 0))
    asks = [step.act for section in recipe.sections for step in section.steps if isinstance(step.act, Ask)]
    assert run.may_have("adds_to") is any(ask.adds_to for ask in asks)
    assert run.may_have("pace_of") is any(ask.pace_of for ask in asks)
    assert run.may_have("repeat") or not any(section.repeat for section in recipe.sections)
