"""What needs no decision needs no key, and steps with none between are taken together: recorded, taken back, reopened."""

from dataclasses import replace
from datetime import timedelta
from pathlib import Path
from textwrap import indent

import pytest
from conftest import BEGAN, materials, without_old_answers
from small_recipe import small_recipe

from shopmate import recipe as recipes
from shopmate.errors import EntryError
from shopmate.log import Log
from shopmate.project.export import export
from shopmate.project.place import Place
from shopmate.recipe import FRESH
from shopmate.session import (
    CautionView,
    ChooseView,
    DoView,
    EnterView,
    FinishedView,
    GateView,
    NotNow,
    RowsView,
    Session,
    StartView,
    WaitView,
    WorkOutView,
)
from shopmate.session.demo import follow

GAP = "- {ask: Measure the gap, into: gap, unit: mm, default: 15 mm}"
AFTER = "- {do: Look at it}"


def recipe(*sections, asks=GAP, name="together", mode="read-do"):
    """A recipe of these questions and the steps of these sections."""
    texts = "\n".join(
        f"- section: Part {number}\n  mode: {mode}\n  steps:\n{indent(steps, '    ')}" for number, steps in enumerate(sections, 1)
    )
    body = f"asks:\n{indent(asks, '  ')}\nsections:\n{indent(texts, '  ')}"
    return recipes.read(small_recipe(name, body), f"{name}.yaml", name)


@pytest.fixture
def begin():
    """Return a function that begins a recipe on a part of one project, which is in memory."""
    session = Session(Log(Path("rehearsal.shopmate"), in_memory=True), materials())

    def go(recipe, part="Panel 1", now=BEGAN):
        if part not in session.project.parts:
            session.add_part(part, now)
        session.begin(part, recipe, now)
        return session

    return go


def headlines(session, count):
    """The headlines of the last events, and which of them needed no key."""
    return [(event.data.get("headline"), event.data.get("by_itself", False)) for event in session.log.events()[-count:]]


def rows(session, now=BEGAN):
    return [(row.number, row.mark, row.label) for row in session.view(now).frame.rows]


def place_of(session, label, now=BEGAN):
    return next(row.place for row in session.view(now).frame.rows if row.label == label)


# No key where nothing is decided


SHIM = """
- {work out: Pick the shim, calculator: shim, with: {gap: "{gap}", part: 12.7 mm, stock: "0.5, 1, 3 mm"}, into: pick,
   show: [picked]}
- {gate: Pass the gap, value: "{gap}", high: 16.5 mm, if_no: Plane it.}
"""


def test_figures_and_open_hold_points_and_ends_of_sections_need_no_key(begin):
    session = begin(recipe(SHIM, AFTER))
    session.answer("16 mm", BEGAN)
    assert headlines(session, 5) == [
        ("Measure the gap", False), ("Section complete", True), ("Pick the shim", True), ("Pass the gap", True),
        ("Section complete", True),
    ]  # fmt: skip
    # 16 − 12.7 is 3.3 mm, in which the 3 mm piece goes.
    assert [event.data["shown"] for event in session.log.events()[-3:-1]] == ["3.000 mm", "16 mm, maximum 16.5 mm"]
    assert session.run.values["pick.picked"].quantity.value_in("mm") == 3
    view = session.view(BEGAN)
    assert (type(view), view.headline) == (DoView, "Look at it")


def test_what_a_calculator_warns_of_is_read_and_a_closed_hold_point_decided(begin):
    session = begin(recipe(SHIM, AFTER))
    session.answer("13.1 mm", BEGAN)  # 0.4 mm, in which nothing of the stock goes
    view = session.view(BEGAN)
    assert (type(view), view.headline) == (WorkOutView, "Pick the shim")
    assert view.result.warnings
    session.done(BEGAN)
    assert headlines(session, 3) == [("Pick the shim", False), ("Pass the gap", True), ("Section complete", True)]
    session = begin(recipe(SHIM, AFTER), "Panel 2")
    session.answer("16.7 mm", BEGAN)
    view = session.view(BEGAN)
    assert (type(view), view.headline, view.go) == (GateView, "Pass the gap", False)
    assert headlines(session, 1) == [("Pick the shim", True)]


CURE = """
- {start: Start the clamp time, clock: clamp, title: Clamp, kind: NOT BEFORE, time: 2 h, note: Note it., action: Take it off,
   if_late: No harm., time_to_act: 60 min, consequence: It opens.}
- {do: Sweep up}
- {wait: Wait for the clamps, clock: clamp}
- {do: Take it off}
"""


@pytest.mark.parametrize(("late", "by_itself"), [(timedelta(), True), (timedelta(seconds=-1), False)])
def test_a_wait_that_is_over_when_it_is_reached_needs_no_key(begin, late, by_itself):
    session = begin(recipe(CURE))
    session.answer("16 mm", BEGAN)
    session.done(BEGAN)
    due = session.clocks[0].due_at
    session.done(due + late)
    if by_itself:
        assert headlines(session, 2) == [("Sweep up", False), ("Wait for the clamps", True)]
        assert session.view(due).headline == "Take it off"
        assert session.clocks == []
        return
    assert isinstance(session.view(due + late), WaitView)
    with pytest.raises(NotNow, match="NOT BEFORE"):
        session.done(due + late)
    session.done(due)
    assert headlines(session, 1) == [("Wait for the clamps", False)]


def test_a_wait_ends_with_the_alarm_that_says_so_and_comes_back_with_it(begin):
    session = begin(recipe(CURE))
    session.answer("16 mm", BEGAN)
    session.done(BEGAN)
    session.done(BEGAN)
    due = session.clocks[0].due_at
    session.tick(due)
    now = due + timedelta(seconds=10)
    assert isinstance(session.view(now), WaitView)
    assert session.acknowledge(now) == "SEEN Clamp"
    assert headlines(session, 1) == [("Wait for the clamps", True)]
    assert session.view(now).headline == "Take it off"
    assert session.take_back(now) == "Clamp"
    assert isinstance(session.view(now), WaitView)
    assert session.acknowledge(now) == "SEEN Clamp"
    assert session.view(now).headline == "Take it off"


def test_a_notice_stands_beside_its_step_and_what_can_hurt_has_its_key(begin):
    steps = "- NOTICE: A hair in it stays there.\n- {do: Brush it}\n- CAUTION: Swarf cuts.\n- {do: Sweep it}\n"
    session = begin(recipe(steps))
    session.answer("16 mm", BEGAN)
    view = session.view(BEGAN)
    assert (type(view), view.headline, view.frame.notices) == (DoView, "Brush it", ("A hair in it stays there.",))
    session.done(BEGAN)
    assert isinstance(session.view(BEGAN), CautionView)
    with pytest.raises(NotNow, match=r"\*"):
        session.done(BEGAN)
    session.acknowledge(BEGAN)
    view = session.view(BEGAN)
    assert (view.headline, view.frame.notices) == ("Sweep it", ())


@pytest.mark.parametrize(("at_once", "running"), [(", at_once: yes", True), ("", False)])
def test_a_clock_that_starts_at_once_needs_no_key(begin, at_once, running):
    start = CURE.replace("consequence: It opens.", f"consequence: It opens.{at_once}")
    session = begin(recipe("- {do: Put the clamps on}\n" + start.strip()))
    session.answer("16 mm", BEGAN)
    session.done(BEGAN)
    assert (len(session.clocks) == 1) is running
    assert isinstance(session.view(BEGAN), DoView if running else StartView)
    session.take_back(BEGAN)
    assert (session.view(BEGAN).headline, session.clocks) == ("Put the clamps on", [])


def test_a_step_that_is_timed_says_how_much_is_left_of_it_and_since_when_it_is_up(begin):
    session = begin(recipe("- {do: Stir it, timer: 2 min}\n- {do: Pour it}"))
    session.answer("16 mm", BEGAN)

    def said(seconds):
        figure, *_ = session.view(BEGAN + timedelta(seconds=seconds)).frame.figures
        return figure.label, str(figure.shown)

    assert [said(second) for second in (0, 119, 120, 180)] == [
        ("to go", "2:00"), ("to go", "0:01"), ("time is up, over by", "0:00"), ("time is up, over by", "1:00"),
    ]  # fmt: skip


# Steps taken together


READINGS = """
- {ask: Read the air, into: air, unit: °C, reading: air}
- {gate: Pass the air, value: "{air}", low: 18 °C, high: 35 °C, if_no: Warm the shop.}
- {ask: Read the humidity, into: humidity, unit: "%", default: 50 %}
- {gate: Pass the humidity, value: "{humidity}", high: 85 %, if_no: Wait.}
- {ask: Count the clamps, into: clamps, count: [1, 40], default: "12"}
- {do: Look at it}
"""


def at_readings(begin, steps=READINGS, **more):
    session = begin(recipe(steps, **more))
    session.answer("15 mm", BEGAN)
    return session


def test_what_is_not_offered_is_asked_first_and_enter_takes_the_rest(begin):
    session = at_readings(begin)
    view = session.view(BEGAN)
    assert (type(view), view.headline) == (EnterView, "Read the air")
    assert rows(session) == [
        (1, "asked", "Read the air"),
        (2, "offered", "Read the humidity"),
        (3, "offered", "Count the clamps"),
    ]
    assert [row.note for row in view.frame.rows] == ["limits 18 °C to 35 °C", "maximum 85 %", ""]
    with pytest.raises(NotNow, match="asks for an answer"):
        session.done(BEGAN)
    session.answer("20 °C", BEGAN, at=view.place)
    assert isinstance(session.view(BEGAN), RowsView)
    session.done(BEGAN)
    assert headlines(session, 5) == [
        ("Read the air", False), ("Pass the air", True), ("Read the humidity", False), ("Pass the humidity", True),
        ("Count the clamps", False),
    ]  # fmt: skip
    assert session.run.values["clamps"].quantity.value == 12
    assert session.view(BEGAN).headline == "Look at it"


def test_a_hold_point_that_does_not_open_stops_there(begin):
    session = at_readings(begin)
    session.answer("20 °C", BEGAN)
    session.answer("90 %", BEGAN, at=place_of(session, "Read the humidity"))
    view = session.view(BEGAN)
    assert (type(view), view.headline, view.verdict) == (GateView, "Pass the humidity", "too high: 90 %, maximum 85 %")
    assert "clamps" not in session.run.values
    session.measure_again(BEGAN)
    # What was offered before is not offered for a value that is measured again.
    view = session.view(BEGAN)
    assert (type(view), view.headline, view.default) == (EnterView, "Read the humidity", "")
    with pytest.raises(NotNow):
        session.done(BEGAN)


def test_a_closed_hold_point_among_the_rows_is_marked_and_nothing_beyond_it_taken(begin):
    steps = READINGS.replace("default: 50 %", "default: 90 %").replace(", reading: air", ", default: 20 °C")
    session = at_readings(begin, steps)
    assert rows(session) == [(1, "offered", "Read the air"), (2, "closed", "Read the humidity")]
    session.done(BEGAN)
    assert headlines(session, 3) == [("Read the air", False), ("Pass the air", True), ("Read the humidity", False)]
    assert (session.view(BEGAN).headline, session.view(BEGAN).go) == ("Pass the humidity", False)
    assert "clamps" not in session.run.values


def test_a_closed_hold_point_is_decided_though_a_question_behind_it_was_answered_out_of_its_turn(begin):
    session = at_readings(begin)
    session.answer("14", BEGAN, at=place_of(session, "Count the clamps"))
    session.answer("20 °C", BEGAN)
    session.answer("90 %", BEGAN, at=place_of(session, "Read the humidity"))
    view = session.view(BEGAN)
    assert (type(view), view.headline, view.go) == (GateView, "Pass the humidity", False)
    session.override(view.reasons[0], BEGAN)
    assert (session.view(BEGAN).headline, session.run.values["clamps"].text) == ("Look at it", "14")


def test_a_row_is_answered_out_of_its_turn_and_anew_and_taken_back(begin):
    session = at_readings(begin)
    session.answer("20 °C", BEGAN)
    before, view = session.run, session.view(BEGAN)
    clamps = place_of(session, "Count the clamps")
    shown = session.view(BEGAN, at=clamps)
    assert (type(shown), shown.headline, shown.default, shown.place) == (EnterView, "Count the clamps", "12", clamps)
    for wrong in ("0", "41", ""):
        with pytest.raises(EntryError):
            session.answer(wrong, BEGAN, at=clamps)
    session.answer("14", BEGAN, at=clamps)
    assert (session.run.place, session.run.values["clamps"].text) == (before.place, "14")
    assert rows(session) == [(2, "offered", "Read the humidity"), (3, "done", "Count the clamps")]
    session.answer("16", BEGAN, at=clamps)
    assert session.run.values["clamps"].text == "16"
    assert session.take_back(BEGAN) == "Count the clamps"
    assert session.run.values["clamps"].text == "14"
    assert session.take_back(BEGAN) == "Count the clamps"
    assert [row.note for row in session.view(BEGAN).frame.rows] == ["maximum 85 %", "was 14"]
    session.project = without_old_answers(session.project)
    assert (session.run, session.view(BEGAN)) == (before, view)
    session.answer("16", BEGAN, at=clamps)
    session.done(BEGAN)
    assert (session.view(BEGAN).headline, session.run.values["clamps"].text) == ("Look at it", "16")
    asked = [headline for headline, _ in headlines(session, 4)]
    assert asked.count("Count the clamps") == 1, "what was answered is not asked again"


def test_each_of_what_one_key_took_is_taken_back_with_what_followed_from_it(begin):
    session = at_readings(begin)
    states = [session.project]
    session.answer("20 °C", BEGAN)
    states.append(session.project)
    session.done(BEGAN)
    for name in ("Count the clamps", "Read the humidity", "Read the air"):
        assert session.take_back(BEGAN) == name
    assert without_old_answers(session.project) == states[0]
    taken = [(event.data["event"], event.data.get("also")) for event in session.log.events()[-3:]]
    first = taken[-1][0]
    assert taken == [(first + 4, None), (first + 2, [first + 3]), (first, [first + 1])]
    said = export(session.log.events(), "Made up", "csv").splitlines()
    assert sum(line.endswith("yes") for line in said) == 5


def test_no_place_but_that_of_a_row_is_answered(begin):
    session = at_readings(begin)
    session.answer("20 °C", BEGAN)
    for place in (Place(1, 1, 5), Place(1, 1, 1), Place(0, 1, 0)):
        with pytest.raises(NotNow):
            session.answer("1", BEGAN, at=place)
        with pytest.raises(NotNow):
            session.defer(BEGAN, place)


LIST = "\n".join(f"- {{do: Pack the box {number}}}" for number in "ABCDEFGHIJK")


def test_a_list_is_taken_nine_at_a_time_and_one_of_it_left_for_later(begin):
    session = at_readings(begin, LIST, mode="do-confirm")
    assert (type(session.view(BEGAN)), session.view(BEGAN).is_list, len(rows(session))) == (RowsView, True, 9)
    assert session.defer(BEGAN, place_of(session, "Pack the box C")) == "FOR LATER"
    assert [label[-1] for _, _, label in rows(session)] == list("ABDEFGHIJ")
    session.done(BEGAN)
    view = session.view(BEGAN)
    assert (type(view), view.headline) == (DoView, "Pack the box K")
    session.done(BEGAN)
    # The end of the section is not gone over while something of it is left.
    assert [option.label for option in session.view(BEGAN).later] == ["Pack the box C"]
    for _ in range(11):
        session.take_back(BEGAN)
    assert (session.run.for_later, [label[-1] for _, _, label in rows(session)]) == ([], list("ABCDEFGHI"))


# Answers on which others hang


FACES = """
- {ask: Choose the face, into: face, choices: {bare: Bare wood, sealed: Sealed}DEFAULT}
- {ask: Measure the moisture, into: moisture, unit: "%", when: {face: bare}}
- {ask: Count the clamps, into: clamps, count: [1, 40], default: "12"}
- {ask: Count the cauls, into: cauls, count: [1, 40], default: "4"}
"""


def test_nothing_is_asked_that_hangs_on_an_answer_not_given_yet(begin):
    session = at_readings(begin, FACES.replace("DEFAULT", ""))
    view = session.view(BEGAN)
    assert (type(view), view.headline, view.frame.rows) == (ChooseView, "Choose the face", ())
    session.answer("sealed", BEGAN)
    assert rows(session) == [(3, "offered", "Count the clamps"), (4, "offered", "Count the cauls")]


def test_what_hangs_on_an_answer_that_is_offered_is_asked_once_that_was_taken(begin):
    session = at_readings(begin, FACES.replace("DEFAULT", ", default: bare"))
    view = session.view(BEGAN)
    assert (type(view), view.headline, view.offered.key) == (ChooseView, "Choose the face", "bare")
    session.answer("bare", BEGAN)
    assert session.view(BEGAN).headline == "Measure the moisture"
    session.take_back(BEGAN)
    session.answer("sealed", BEGAN)
    assert "Measure the moisture" not in [label for _, _, label in rows(session)]
    assert session.run.marks[Place(1, 1, 1)].word == "not applicable"


# What is known beyond a run


def asks(reading, unit, **more):
    extra = "".join(f", {key}: {value}" for key, value in more.items())
    return f"- {{ask: Read it, into: value, unit: {unit}, reading: {reading}{extra}}}\n- {{do: Look at it}}"


def read(session, text, at):
    """Answer the question of the run on the bench, after the one every recipe begins with."""
    session.answer("15 mm", at)
    session.answer(text, at, sure=True)


def offered(session, at):
    """What is offered to the question behind the one every recipe begins with."""
    session.answer("15 mm", at)
    view = session.view(at)
    assert (type(view), view.headline) == (EnterView, "Read it")
    return view.default


@pytest.mark.parametrize(
    ("reading", "unit", "text", "good_for"),
    [
        ("air", "°C", "19 °C", timedelta(minutes=30)),
        ("humidity", '"%"', "55 %", timedelta(minutes=30)),
        ("surface", "°C", "18.5 °C", timedelta(minutes=30)),
        ("low", "°C", "11 °C", timedelta(hours=12)),
        ("moisture", '"%"', "9 %", timedelta(hours=24)),
    ],
)
@pytest.mark.parametrize("old", [False, True])
def test_a_reading_is_offered_while_it_is_fresh_and_asked_once_it_is_old(begin, reading, unit, text, good_for, old):
    steps = asks(reading, unit)
    read(begin(recipe(steps)), text, BEGAN)
    later = BEGAN + good_for + (timedelta(seconds=1) if old else timedelta())
    assert offered(begin(recipe(steps, name="other"), now=later), later) == ("" if old else text)


def test_how_long_a_reading_is_good_is_set(begin):
    session = begin(recipe(asks("humidity", '"%"')))
    read(session, "55 %", BEGAN)
    session.set("fresh_shop", "2 h", BEGAN)
    later = BEGAN + timedelta(hours=2)
    assert offered(begin(recipe(asks("humidity", '"%"')), now=later), later) == "55 %"


def test_a_reading_of_the_future_is_asked_anew(begin):
    """As where the clock of the computer was set back."""
    read(begin(recipe(asks("humidity", '"%"'))), "55 %", BEGAN)
    before = BEGAN - timedelta(seconds=1)
    assert offered(begin(recipe(asks("humidity", '"%"')), now=before), before) == ""


def test_what_was_offered_and_taken_is_no_new_reading(begin):
    steps = asks("humidity", '"%"')
    read(begin(recipe(steps)), "55 %", BEGAN)
    later = BEGAN + timedelta(minutes=20)
    session = begin(recipe(steps), now=later)
    session.answer("15 mm", later)
    session.answer("55 %", later, is_offered=True)
    after = BEGAN + timedelta(minutes=31)
    assert offered(begin(recipe(steps), now=after), after) == ""
    # What was measured anew is one, though it reads the same.
    session = begin(recipe(steps), now=after)
    read(session, "55 %", after)
    assert offered(begin(recipe(steps), now=after), after + timedelta(minutes=30)) == "55 %"


def test_an_old_reading_is_shown_beside_its_question(begin):
    steps = "- {ask: Count the clamps, into: clamps, count: [1, 40], default: '12'}\n" + asks("air", "°C")
    session = begin(recipe(steps))
    session.log_temperature("66 °F", BEGAN)
    later = BEGAN + timedelta(minutes=31)
    session.answer("15 mm", later)
    view = session.view(later)
    assert (view.headline, view.default) == ("Read it", "")
    assert [row.note for row in view.frame.rows] == ["", "18.9 °C, 31 min ago: old"]


def test_the_air_of_the_shop_is_what_the_clocks_go_by(begin):
    session = begin(recipe(asks("air", "°C")))
    session.log_temperature("19 °C", BEGAN)
    assert offered(session, BEGAN) == "19 °C"
    session.answer("21 °C", BEGAN)
    assert [celsius for _, celsius in session.project.readings] == [19.0, 21.0]
    assert offered(begin(recipe(asks("air", "°C"), name="other"), "Panel 2"), BEGAN) == "21 °C"


def test_what_is_of_a_part_is_offered_by_another_recipe_and_on_no_other_part(begin):
    steps = asks("surface", "°C")
    read(begin(recipe(steps), "Panel 1"), "18.5 °C", BEGAN)
    assert offered(begin(recipe(steps, name="other"), "Panel 2"), BEGAN) == ""
    session = begin(recipe(steps, name="other"), "Panel 1")
    assert offered(session, BEGAN) == "18.5 °C"


LENGTH = "- {ask: Give the length, into: length, unit: mm, of: part}\n- {do: Look at it}"


def test_a_measure_of_a_part_that_is_no_reading_never_grows_old(begin):
    begin(recipe(LENGTH)).answer("15 mm", BEGAN)
    session = begin(recipe(LENGTH))
    session.answer("15 mm", BEGAN)
    session.answer("2440 mm", BEGAN)
    later = BEGAN + timedelta(days=90)
    session = begin(recipe(LENGTH, name="other"), now=later)
    session.answer("15 mm", later)
    assert session.view(later).default == "2440 mm"
    session.answer("2400 mm", later)
    session = begin(recipe(LENGTH), now=later)
    session.answer("15 mm", later)
    assert session.view(later).default == "2400 mm"


BOTTLES = """
- {ask: Choose the resin, into: resin, shelf: resin}
- {ask: Read it, into: warmth, unit: °C, reading: bottles, of: "{resin}"}
- {do: Look at it}
"""


def test_a_reading_of_a_material_is_of_that_material(begin):
    session = begin(recipe(BOTTLES))
    session.answer("15 mm", BEGAN)
    session.answer("epoxy-2to1-slow", BEGAN)
    session.answer("24 °C", BEGAN)
    for resin, found in (("epoxy-2to1-medium", ""), ("epoxy-2to1-slow", "24 °C")):
        session = begin(recipe(BOTTLES, name="other"), "Panel 2")
        session.answer("15 mm", BEGAN)
        assert session.view(BEGAN).frame.rows == (), "what it is of is not known yet"
        session.answer(resin, BEGAN)
        assert session.view(BEGAN).default == found


def test_what_was_taken_back_is_known_no_more(begin):
    session = begin(recipe(asks("humidity", '"%"')))
    read(session, "55 %", BEGAN)
    read(begin(recipe(asks("humidity", '"%"')), now=BEGAN + timedelta(hours=1)), "60 %", BEGAN + timedelta(hours=1))
    session.take_back(BEGAN)
    assert session.project.facts["humidity@shop"].held.text == "55 %"


# Ended in the middle, and written by an older program


WHOLE = f"{READINGS.strip()}\n{SHIM.strip()}"
TYPED = {"Read the air": "20 °C"}


def kept(session, *, older=False):
    """What the log of a session keeps; of an older program without saying what needed no key."""
    events = [(event.kind, dict(event.data)) for event in session.log.events()]
    for _, data in events if older else ():
        data.pop("by_itself", None)
    return events


def in_memory(events):
    """A session on a log of these events."""
    log = Log(Path("rehearsal.shopmate"), in_memory=True)
    for kind, data in events:
        log.append(kind, data, BEGAN)
    return Session(log, materials())


def to_the_end(session):
    """What becomes of each step, but for when, and the values."""
    follow(session, BEGAN, TYPED, until=lambda view: isinstance(view, FinishedView))
    marks = session.run.marks
    timed = {place for place, mark in marks.items() if "BEFORE" in mark.shown or "open since" in mark.shown}
    return {place: (mark.word, "" if place in timed else mark.shown) for place, mark in marks.items()}, session.run.values


@pytest.mark.parametrize("made", ["here", "by an older program"])
def test_wherever_it_was_ended_the_run_goes_on_to_the_same_end(begin, made):
    """Each event is on disk by itself: a kill may fall between any two that one key records."""
    session = begin(recipe(WHOLE, CURE.replace("wait: Wait", "wait: Wait out"), AFTER))
    end = to_the_end(session)
    older = made == "by an older program"
    events = kept(session, older=older)
    assert sum("by_itself" in data for _, data in events) == (0 if older else 8)
    first = next(number for number, (kind, _) in enumerate(events) if kind == "run")
    for count in range(first + 1, len(events)):
        again = in_memory(events[:count])
        before = again.run.place
        assert to_the_end(again) == end, f"ended after {events[count - 1]}"
        assert again.log.events()[count].data.get("place", str(before)) == str(before), "nothing is passed over"


def test_what_an_older_program_recorded_is_taken_back_one_by_one(begin):
    session = begin(recipe(SHIM, AFTER))
    session.answer("16 mm", BEGAN)
    older = in_memory(kept(session, older=True))
    assert older.run == session.run
    names = [older.take_back(BEGAN) for _ in range(5)]
    assert names == ["Section complete", "Pass the gap", "Pick the shim", "Section complete", "Measure the gap"]
    assert "also" not in older.log.events()[-1].data


def test_a_notice_that_an_older_program_had_a_key_for_is_beside_its_step_now(begin):
    steps = "- WARNING: It burns.\n- NOTICE: A hair in it stays there.\n- {do: Brush it}\n- {do: Sweep it}\n"
    session = begin(recipe(steps))
    session.answer("15 mm", BEGAN)
    session.acknowledge(BEGAN)
    (seen,) = [one.data for one in session.log.events() if one.kind == "seen"]
    older = in_memory([*kept(session), ("seen", {**seen, "caution": 1, "shown": "NOTICE"})])
    view = older.view(BEGAN)
    assert (view.headline, view.frame.notices) == ("Brush it", ("A hair in it stays there.",))
    assert older.take_back(BEGAN) == "NOTICE"
    assert older.view(BEGAN) == view
    assert older.take_back(BEGAN) == "WARNING"
    assert isinstance(older.view(BEGAN), CautionView)


def test_a_row_answered_out_of_its_turn_is_there_when_it_is_opened_again(begin):
    session = at_readings(begin)
    session.answer("14", BEGAN, at=place_of(session, "Count the clamps"))
    again = in_memory(kept(session))
    assert (again.run, again.view(BEGAN)) == (session.run, session.view(BEGAN))
    assert isinstance(again.view(BEGAN), EnterView)
    again.answer("20 °C", BEGAN)
    assert (3, "done", "Count the clamps") in rows(again)


# What was taken back is offered as what it was


def test_an_answer_taken_back_stands_there_as_what_it_was_and_one_enter_takes_it(begin):
    session = begin(recipe(AFTER))
    session.answer("205 mm", BEGAN, sure=True)
    session.take_back(BEGAN)
    view = session.view(BEGAN)
    assert (view.default, view.frame.detail[-1]) == ("205 mm", "was 205 mm")
    session.answer(view.default, BEGAN, is_offered=True)  # it was meant before, so it is not asked about again
    assert session.run.values["gap"].text == "205 mm"
    assert session.run.taken_back == {}
    session.take_back(BEGAN)
    session.answer("20.5 mm", BEGAN)
    session.take_back(BEGAN)
    assert session.view(BEGAN).frame.detail[-1] == "was 20.5 mm"


def test_of_several_taken_together_one_that_was_taken_back_is_asked_before_the_rest_is_taken(begin):
    session = at_readings(begin)
    session.answer("20.5 °C", BEGAN)
    session.done(BEGAN)
    for _ in range(3):
        session.take_back(BEGAN)
    view = session.view(BEGAN)
    assert [(row.mark, row.label, row.note) for row in view.frame.rows] == [
        ("asked", "Read the air", "was 20.5 °C, just now, limits 18 °C to 35 °C"),
        ("waits", "Read the humidity", "was 50 %, maximum 85 %"),
        ("waits", "Count the clamps", "was 12"),
    ]
    with pytest.raises(NotNow):
        session.done(BEGAN)
    for label, text in (("Read the air", "20.5 °C"), ("Read the humidity", "50 %"), ("Count the clamps", "12")):
        view = session.view(BEGAN)
        assert (view.headline, view.default) == (label, text)
        session.answer(view.default, BEGAN, at=view.place, is_offered=True)
    assert session.view(BEGAN).headline == "Look at it"


MINUTE = timedelta(minutes=1)


def test_a_reading_taken_back_and_taken_as_it_was_keeps_the_time_it_was_measured_at(begin):
    session = at_readings(begin)
    session.answer("20.5 °C", BEGAN)
    session.take_back(BEGAN + MINUTE)
    assert session.project.facts == {}
    later = BEGAN + 30 * MINUTE
    session.answer("20.5 °C", later, is_offered=True)
    assert (session.project.facts["air@shop"].at, session.run.marks[Place(1, 1, 0)].at) == (BEGAN, later)
    session.take_back(later)
    assert session.run.taken_back[Place(1, 1, 0)].at == BEGAN
    session.answer("20.5 °C", later)  # typed it is measured anew
    assert session.project.facts["air@shop"].at == later


@pytest.mark.parametrize(("over", "default"), [(timedelta(), "20.5 °C"), (timedelta(seconds=1), "")])
def test_a_reading_taken_back_is_not_taken_once_it_is_too_old(begin, over, default):
    session = at_readings(begin)
    session.answer("20.5 °C", BEGAN)
    session.take_back(BEGAN)
    view = session.view(BEGAN + FRESH["fresh_shop"] + over)
    assert view.default == default
    assert view.frame.rows[0].note.startswith("was 20.5 °C, ")
    assert ("old" in view.frame.rows[0].note) == (not default)


def test_a_reading_known_from_another_part_is_still_that_when_it_is_taken_back(begin):
    at_readings(begin).answer("20 °C", BEGAN)
    session = begin(recipe(READINGS, name="other"), "Panel 2", BEGAN + MINUTE)
    later = BEGAN + 20 * MINUTE
    session.answer("15 mm", later)
    session.done(later)  # the air as it was offered, 20 min old
    for _ in range(3):
        session.take_back(later)
    row = session.view(later).frame.rows[0]
    assert (row.label, row.mark) == ("Read the air", "asked")
    assert row.note.startswith("was 20 °C, 20 min ago")
    session.answer("20 °C", later, is_offered=True)
    assert session.project.facts["air@shop"].at == BEGAN, "what was taken as offered is no new reading"


def test_a_reading_measured_since_comes_before_the_one_that_was_taken_back(begin):
    session = at_readings(begin)
    session.answer("25 °C", BEGAN)
    session.take_back(BEGAN)
    session.log_temperature("20 °C", BEGAN + MINUTE)
    row = session.view(BEGAN + MINUTE).frame.rows[0]
    assert (row.mark, row.value, "was" in row.note) == ("offered", "20 °C", False)
    session.take_back(BEGAN + MINUTE)
    assert session.view(BEGAN + MINUTE).frame.rows[0].note.startswith("was 25 °C")


def test_a_choice_taken_back_stands_there_in_its_words(begin):
    foams = "- {ask: Choose the foam, into: foam, choices: {a: Grey foam, b: White foam}, default: a}"
    session = begin(recipe(AFTER, asks=foams))
    session.answer("b", BEGAN)
    session.take_back(BEGAN)
    view = session.view(BEGAN)
    assert (view.default, view.frame.detail[-1]) == ("b", "was White foam")


def test_what_was_taken_back_is_there_when_it_is_opened_again_and_moves_with_the_clock_of_the_computer(begin):
    session = at_readings(begin)
    session.answer("20.5 °C", BEGAN)
    session.take_back(BEGAN)
    again = in_memory(kept(session))
    assert (again.run, again.view(BEGAN)) == (session.run, session.view(BEGAN))
    moved = in_memory([*kept(session), ("wall", {"shift_s": 3600, "shown": ""})])
    assert moved.run.taken_back[Place(1, 1, 0)].at == BEGAN + 60 * MINUTE


# What is refused is named as the builder knows it


def test_what_a_calculator_refuses_is_named_by_its_title(begin):
    asks = "- {ask: Read the air, into: air, unit: °C, default: 20 °C}"
    dew = "- {work out: Dew, calculator: dewpoint, with: {air: '{air}', humidity: 50 %, surface: 20 °C}, into: dew}"
    session = begin(recipe(dew, AFTER, asks=asks))
    session.answer("61 °C", BEGAN)  # a degree over what the calculator takes
    (problem,) = session.view(BEGAN).problems
    assert problem.startswith("Air temperature: 61 °C is above ")


def test_a_limit_that_nobody_gave_is_named_by_its_material_or_its_question(begin):
    glue = replace(next(one for one in materials().values() if one.kind == "adhesive"), figures={})
    asks = f"- {{ask: Choose the glue, into: glue, shelf: adhesive, default: {glue.name}}}\n"
    asks += "- {ask: Read the air, into: air, unit: °C, default: 20 °C}"
    gate = "- {gate: Warm enough, value: '{air}', low: '{glue.temperature_low}', if_no: Warm it.}"
    session = begin(recipe(gate, AFTER, asks=asks))
    session.shelf = {glue.name: glue}
    session.answer(glue.name, BEGAN)
    session.answer("20 °C", BEGAN)
    (problem,) = session.view(BEGAN).problems
    assert f"({glue.title}: temperature low)" in problem
