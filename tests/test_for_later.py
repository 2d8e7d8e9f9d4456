"""Steps left for later: which may be, how they are counted and taken up, and that no run closes over them."""

import csv
import io
from contextlib import suppress
from datetime import timedelta
from itertools import chain

import pytest
from conftest import every_step, materials, reach
from small_recipe import small_recipe

from shopmate import recipe as recipes
from shopmate import session as sessions
from shopmate.project.export import export
from shopmate.recipe import Do, Start
from shopmate.session import CautionView, DoView, EndView, FinishedView, NotNow, Session, events_of, find_recipe
from shopmate.session.demo import follow
from shopmate.session.judging import NOT_NEEDED
from shopmate.session.view import MOST_LATER

CLEAR_UP = small_recipe(
    "clear-up",
    """
asks:
  - {ask: Choose the floor, into: floor, choices: {wood: Wood, stone: Stone}, default: wood}
sections:
  - section: Sweep
    mode: do-confirm
    steps:
      - do: Sweep the bench
      - NOTICE: A hair in wet varnish stays there.
      - do: Brush the vice
      - CAUTION: Swarf cuts bare fingers.
      - do: Empty the tray
      - do: Lock the drawer
        can_wait: no
      - {ask: Count the rags, into: rags, count: [0, 9], default: "3"}
      - do: Wash the floor
        when: {floor: stone}
  - section: Tidy
    mode: do-confirm
    steps:
      - do: Roll up the leads
      - do: Store the clamps
      - do: Close the tins
      - do: Wipe the scale
      - do: Lock the door
""",
)

TIMED = """
  - section: Varnish
    mode: read-do
    steps:
      - {start: Start the tack time, clock: tack, title: Tack, kind: DO BEFORE, time: 2 h, note: Note it., action: Tip it off,
         if_late: Sand it., time_to_act: 10 min, consequence: Brush marks}
      - do: Brush the lid
      - do: Tip off the lid
      - do: Hang the lid
      - do: Rinse the brush
"""


@pytest.fixture
def tidy(home, now):
    session = Session.create(sessions.project_path("Tidy"), "Tidy", now(), materials())
    session.begin(session.add_part("Shop", now()), recipes.read(CLEAR_UP, "clear-up.yaml"), now())
    session.answer("wood", now())
    yield session
    session.close()


def listed(view, label):
    """The row of a list with that headline."""
    return next(row for row in view.frame.rows if row.label == label)


def can_wait(view):
    """Whether a step is one that may be left for later."""
    return isinstance(view, DoView) and view.can_wait


def later_all(session, now):
    """Leave for later what may be, do the rest, as far as the end of the recipe."""
    while not isinstance(view := session.view(now()), EndView):
        now.on(minutes=1)
        if isinstance(view, CautionView):
            session.acknowledge(now())
        elif not left_one(session, now, view):
            session.done(now())


def left_one(session, now, view):
    """Leave the first for later that may be of the steps in hand; whether there was one."""
    for place in [row.place for row in view.frame.rows] or [None]:
        with suppress(NotNow):
            session.defer(now(), place)
            return True
    return False


def test_only_plain_steps_that_nothing_hangs_on_can_wait(tidy, now):
    later_all(tidy, now)
    left = [tidy.run.recipe.sections[place.section].steps[place.step].headline for place in tidy.run.for_later]
    assert left == [
        "Sweep the bench", "Brush the vice", "Roll up the leads", "Store the clamps", "Close the tins", "Wipe the scale",
        "Lock the door",
    ]  # fmt: skip


def test_nothing_can_wait_in_a_timed_or_repeated_section_or_while_a_limit_of_the_run_is_running(small, now):
    for headline in ("Judge the film", "Stir two full minutes", "Spread the pot", "Tip off the coat"):
        assert not can_wait(reach(small, now, headline))
        with pytest.raises(NotNow, match="cannot wait"):
            small.defer(now())
    now.at = follow(small, now(), {}, until=lambda view: view.headline == "Scrape the joint")
    assert can_wait(small.view(now()))
    text = CLEAR_UP.replace("  - section: Tidy", f"{TIMED[1:]}  - section: Tidy")
    small.begin(small.add_part("Lid", now()), recipes.read(text, "clear-up.yaml"), now())
    leads = listed(reach(small, now, "Roll up the leads"), "Roll up the leads")
    for at in (None, leads.place):
        with pytest.raises(NotNow, match="cannot wait"):
            small.defer(now(), at)
    (tack,) = [clock for clock in small.clocks if clock.name == "tack"]
    small.end_clock(tack.key, now())
    assert small.defer(now(), leads.place) == "FOR LATER"


def test_a_step_left_for_later_is_counted_listed_taken_up_and_done(tidy, now):
    assert [row.label for row in tidy.view(now()).frame.rows] == ["Sweep the bench", "Brush the vice"]
    tidy.defer(now.on(minutes=1))
    view = tidy.view(now())
    assert (view.headline, can_wait(view), view.frame.for_later) == ("Brush the vice", True, 1)
    assert [(line.mark, line.text) for line in view.frame.outline][:2] == [
        ("for later", "Sweep the bench"),
        ("started", "Brush the vice"),
    ]
    tidy.defer(now())
    tidy.acknowledge(now())
    assert [row.label for row in tidy.view(now()).frame.rows] == ["Empty the tray", "Lock the drawer", "Count the rags"]
    tidy.done(now())
    view = tidy.view(now())
    # The end of a section waits to be confirmed where something of it is left.
    assert (view.headline, view.frame.for_later) == ("Section complete", 2)
    assert [option.label for option in view.later] == ["Sweep the bench", "Brush the vice"]
    end = view.place
    assert tidy.take_up(view.later[1].key, now()) == "Brush the vice"
    view = tidy.view(now())
    assert (view.headline, view.taken_up, view.can_wait) == ("Brush the vice", True, False)
    assert view.frame.notices == ("A hair in wet varnish stays there.",)
    tidy.done(now.on(minutes=5))
    view = tidy.view(now())
    assert (view.place, view.frame.for_later) == (end, 1)
    marks = {place.step: mark for place, mark in tidy.run.marks.items() if place.section == 1}
    assert (marks[1].word, marks[1].at, marks[0].word) == ("done", now(), "for later")
    assert tidy.view(now()).later[0].label == "Sweep the bench"


def test_a_run_does_not_close_over_what_is_left(tidy, now):
    later_all(tidy, now)
    view = tidy.view(now())
    assert (view.headline, view.frame.for_later, len(view.later)) == ("Steps left to do", 7, MOST_LATER)
    assert view.advice.endswith(" 2 more after these.")
    for _ in range(6):
        with pytest.raises(NotNow, match="left for later"):
            tidy.done(now())
        tidy.take_up(tidy.view(now()).later[0].key, now())
        if isinstance(tidy.view(now()), CautionView):
            tidy.acknowledge(now())
        tidy.done(now())
    tidy.take_up(tidy.view(now()).later[0].key, now())
    with pytest.raises(NotNow, match="say why"):
        tidy.drop(" ", now())
    tidy.drop(NOT_NEEDED[1], now())
    assert tidy.view(now()).headline == "Recipe complete"
    with pytest.raises(NotNow):
        tidy.take_up("1.1.0", now())
    tidy.done(now())
    assert tidy.run.finished_at == now()
    last = max(tidy.run.marks)
    dropped = [mark for place, mark in tidy.run.marks.items() if place < last and mark.shown == NOT_NEEDED[1]]
    assert [mark.word for mark in dropped] == ["not applicable"]
    rows = list(csv.DictReader(io.StringIO(export(events_of(tidy.log.path), "Tidy", "csv"))))
    said = [(row["what"], row["reason"]) for row in rows]
    assert said.count(("Left for later: Sweep the bench", "")) == 1
    assert said.count(("Took up: Sweep the bench", "")) == 1
    assert said.count(("Not applicable: Lock the door", NOT_NEEDED[1])) == 1


def test_what_is_left_survives_closing_and_is_taken_back_step_by_step(tidy, now):
    tidy.defer(now())
    tidy.done(now())
    tidy.acknowledge(now())
    tidy.close()
    again = Session.open(tidy.log.path, now.on(hours=1), materials())
    assert len(again.run.for_later) == 1
    for word in ("CAUTION", "Brush the vice", "Sweep the bench"):
        assert again.take_back(now()) == word
    assert (again.run.for_later, again.run.step.headline) == ([], "Sweep the bench")
    later_all(again, now)
    place = again.view(now()).place
    again.take_up(again.view(now()).later[0].key, now())
    again.drop(NOT_NEEDED[0], now())
    assert len(again.run.for_later) == 6
    assert again.take_back(now()) == "Sweep the bench"
    assert again.view(now()).taken_up
    assert again.take_back(now()) == "Sweep the bench"
    assert (again.view(now()).place, len(again.run.for_later)) == (place, 7)
    again.close()


def test_only_what_was_taken_up_is_dropped(tidy, now):
    with pytest.raises(NotNow, match="only a step left for later"):
        tidy.drop(NOT_NEEDED[0], now())


@pytest.mark.parametrize("name", ["bonding", "fillet", "glassing", "surface-prep"])
def test_what_keeps_a_person_safe_cannot_wait_in_shipped_recipes(name):
    words = ("glove", "respirator", "ventilate", "flame", "rag", "hands", "outdoors", "outside", "pot out", "goggles")
    recipe = find_recipe(name)
    sections = [item for index, item in enumerate(recipe.sections) if not timed(item) and recipe.repeated(index) is None]
    steps = chain.from_iterable(section.steps for section in sections)
    unsafe = [
        step.headline
        for step in steps
        if isinstance(step.act, Do)
        and step.can_wait
        and step.ends is None
        and all(caution.signal == "NOTICE" for caution in step.cautions)
        and any(word in step.headline.lower() for word in words)
    ]
    assert unsafe == []


def timed(section):
    return any(isinstance(step.act, Start) and step.act.kind == "DO BEFORE" for step in section.steps)


def test_a_run_is_given_up_kept_in_the_log_and_taken_back(small, now):
    now.at = follow(small, now(), {}, until=lambda view: view.headline == "Stir two full minutes")
    before = small.view(now())
    assert small.give_up(now()) == "GIVEN UP"
    view = small.view(now())
    assert (type(view), view.headline) == (FinishedView, "Run given up")
    assert [clock.title for clock in small.clocks] == ["Pot life"]
    for act in (lambda: small.done(now()), lambda: small.give_up(now())):
        with pytest.raises(NotNow):
            act()
    assert small.where_left(now() - timedelta(hours=1), now()) is None
    rows = list(csv.DictReader(io.StringIO(export(events_of(small.log.path), "Small", "csv"))))
    assert rows[-1]["what"] == "Gave the run up"
    small.take_back(now())
    assert small.view(now()) == before


def test_twenty_five_things_of_every_kind_are_taken_back_and_every_one_is_logged(small, now):
    """Values, cautions, clock starts, acknowledgements, ends of sections and steps for later, one by one."""
    now.at = follow(small, now(), {}, until=lambda view: view.headline == "Scrape the joint")
    small.defer(now())
    small.done(now())
    kinds = {"done", "seen", "section", "acknowledged", "deferred"}
    small.start_clock("Kettle", "DO BEFORE", timedelta(minutes=5), now())
    small.tick(now.on(minutes=6))
    small.acknowledge(now.on(seconds=1))
    small.end_clock(small.clocks[-1].key, now())
    small.take_up(small.view(now()).later[0].key, now())
    kettle = next(event.id for event in small.log.events() if event.kind == "clock")  # ended, but never taken back
    done = [number for number in small.project.undo if number != kettle]
    assert kinds | {"taken up", "ended"} <= {event.kind for event in small.log.events() if event.id in done}
    count = len(small.log.events())
    states = []
    for _ in range(25):
        states.append(small.run.place)
        small.take_back(now())
    events = small.log.events()[count:]
    assert [event.kind for event in events] == ["undone"] * 25
    taken = [number for event in events for number in (*event.data.get("also", ()), event.data["event"])]
    assert len(taken) > 25, "what followed by itself went with what it followed from"
    assert taken == done[: -len(taken) - 1 : -1]
    assert [number for number in small.project.undo if number != kettle] == done[: -len(taken)]
    assert small.run.place <= min(states) < states[0]
    assert small.run.for_later == []


def test_every_step_says_what_kind_it_is_and_on_what_it_hangs(small, now):
    tasks, conditions = {}, {}

    def note(view):
        for one in (view, *(small.view(now(), at=row.place) for row in view.frame.rows)):
            if one.frame.task:
                tasks[one.headline], conditions[one.headline] = one.frame.task, one.frame.condition
        return isinstance(view, EndView)

    follow(small, now(), {}, until=note)
    assert {task: next(name for name in tasks if tasks[name] == task) for task in tasks.values()} == {
        "choose": "Choose the glue", "record": "Count the coats", "check": "Pass the dew point", "work out": "Work out the pot",
        "start": "Start the pot life", "do": "Stir two full minutes", "wait": "Wait for the clamps",
    }  # fmt: skip
    assert conditions["Leave it flat"] == "while 'Next coat before' runs"
    assert conditions["Stir two full minutes"] == ""
    (line,) = [line for line in first_of(small, "Judge", now) if line.text == "Cut the cartridge"]
    assert line.condition == "for Choose the glue: From a cartridge"


def first_of(session, section, now):
    other = session.add_part("Panel 9", now())
    session.begin(other, every_step(), now())
    follow(session, now(), {}, until=lambda view: view.frame.section == section)
    return session.view(now()).frame.outline


def test_the_first_step_and_the_record_name_the_recipe_its_version_and_date(small, now):
    assert small.view(now()).frame.detail[0] == "Recipe every-step, version 1, 2026-11-25"
    small.answer("epoxy", now())
    assert not any("Recipe" in line for line in small.view(now()).frame.detail)
    (event,) = [event for event in small.log.events() if event.kind == "run"]
    assert (event.data["recipe"], event.data["version"], event.data["date"]) == ("every-step", "1", "2026-11-25")


def test_each_turn_of_a_repeated_section_keeps_its_own_times(small, now):
    now.at = follow(small, now(), {}, until=lambda view: view.frame.section == "Clamp")
    coats = {(place.turn, place.step): mark.at for place, mark in small.run.marks.items() if place.section == 3}
    turns = {turn for turn, _ in coats}
    assert turns == {1, 2}
    assert max(at for (turn, _), at in coats.items() if turn == 1) < min(at for (turn, _), at in coats.items() if turn == 2)
    places = [event.data["place"] for event in small.log.events() if event.data.get("headline") == "Roll out the coat"]
    assert places == ["3.1.1", "3.2.1"]
