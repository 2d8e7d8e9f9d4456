"""Every kind of event: what the log keeps of it, what it does to a project, what takes it back, and what exports say of it."""

import csv
import inspect
import io
import json
import re
import shutil
from contextlib import suppress
from copy import deepcopy
from datetime import UTC, datetime, timedelta
from fractions import Fraction
from pathlib import Path

import pytest
from conftest import every_step, without_old_answers

from shopmate.lock import Lock
from shopmate.log import Event, Log
from shopmate.project.events import KINDS, Happened, Lost, Recorded, Unknown, read
from shopmate.project.events.clocks import (
    Acknowledged,
    AlarmBack,
    AlarmRaised,
    ClockEnded,
    ClockStarted,
    Limit,
    PutOff,
    Reading,
    TemperatureRead,
)
from shopmate.project.events.event import Move
from shopmate.project.events.noted import FormFilled, ResultKept, ShelfChanged, SoundTried
from shopmate.project.events.planned import PlanDropped, RunPlanned
from shopmate.project.events.steps import (
    Again,
    AtPlace,
    CautionRead,
    Corrected,
    Dropped,
    LeftForLater,
    Noted,
    PotSpilled,
    Refused,
    Remembered,
    SectionDone,
    StepDone,
    TakenUp,
    WentBack,
)
from shopmate.project.events.work import (
    Named,
    Opened,
    PartAdded,
    RecipeEdited,
    RunBegun,
    RunChosen,
    RunFinished,
    RunFollowed,
    RunGivenUp,
    SettingChanged,
    TakenBack,
    Used,
    WallClockSet,
)
from shopmate.project.export import FORMATS, export
from shopmate.project.fold import advance, fold
from shopmate.project.place import Place
from shopmate.project.run import Held
from shopmate.result import Result
from shopmate.session import NotNow, Session, events_of, running_clocks
from shopmate.steady import Steady
from shopmate.units import Quantity

NOON = datetime(2026, 11, 25, 12, 0, tzinfo=UTC)
TEXT = every_step().text

POT = Limit(
    name="pot", title="Pot life", kind="DO BEFORE", seconds=2400.0, action="Spread it", if_late="Leave it.",
    time_to_act_s=120.0, consequence="It sets.", sheet_celsius=25.0,
)  # fmt: skip
KETTLE = Limit(
    name="own", title="Kettle", kind="NOT BEFORE", seconds=60.0, action="Check the job", if_late="It is overdue.",
    time_to_act_s=120.0, consequence="It is overdue.",
)  # fmt: skip
DEW = Result("dewpoint", {"air": Quantity(21.0, "°C")}, {"margin": Quantity(9.25, "K"), "verdict": "go"}, ("w",), ("c",), ("s",))
BEAD = Result("bead", {}, {"section": Quantity(28.25, "mm²"), "cartridges": 2}, (), (), ())

BEFORE: tuple[Happened, ...] = (
    Named("Hide", "inch", Steady("a", 5.0)),
    PartAdded("Panel 1"),
    RunBegun("Panel 1", "every-step", "1", Place(0, 1, 0), TEXT, "2026-11-25"),
    ClockStarted(KETTLE, "Kettle"),
    AlarmRaised("4", "due"),
    RunBegun("Panel 2", "every-step", "1", Place(1, 1, 0), TEXT, "2026-11-25"),
    StepDone("6", Place(1, 1, 0), next=Place(1, 1, 1), headline="Read the air", values={"air": Held(Quantity(20, "°C"))}),
    LeftForLater("6", Place(1, 1, 6), next=Place(2, 1, 0), headline="Cut the cartridge"),
    StepDone("6", Place(2, 1, 4), next=Place(2, 1, 5), headline="Start the pot life", clock=POT),
    RunPlanned("Panel 1", "every-step", "Try it", {"coats": "3"}),
)
"""What has happened before each example, one a minute: two runs, of which the second, '6', is on the bench."""

AT = {"run": "6", "place": "1.1.0"}
ON = {**AT, "next": "1.1.1", "passed": [], "shown": ""}
POT_KEPT = {
    "name": "pot", "title": "Pot life", "kind": "DO BEFORE", "seconds": 2400.0, "action": "Spread it", "if_late": "Leave it.",
    "time_to_act_s": 120.0, "consequence": "It sets.", "sheet_celsius": 25.0,
}  # fmt: skip
READING_KEPT = {"text": "70 °F", "unit": "°F", "shown": "21.1 °C"}
MOVE_KEPT = {"title": "Pot life", "was": "2026-11-25T12:49:00+00:00", "now": "2026-11-25T12:58:00+00:00"}
MOVE = Move("Pot life", NOON + timedelta(minutes=49), NOON + timedelta(minutes=58))
MOVED = f"Pot life {MOVE.now.astimezone():%Y-%m-%d %H:%M}, was {MOVE.was.astimezone():%Y-%m-%d %H:%M}"
"""In the time of the place, as exports have it."""
DEW_KEPT = {
    "calculator": "dewpoint", "inputs": {"air": {"value": 21.0, "unit": "°C"}},
    "outputs": {"margin": {"value": 9.25, "unit": "K"}, "verdict": {"value": "go", "unit": None}},
    "working": ["w"], "cautions": ["c"], "sources": ["s"],
}  # fmt: skip
BEAD_KEPT = {
    "calculator": "bead", "inputs": {},
    "outputs": {"section": {"value": 28.25, "unit": "mm²"}, "cartridges": {"value": 2, "unit": ""}},
    "working": [], "cautions": [], "sources": [],
}  # fmt: skip
P110, P111 = Place(1, 1, 0), Place(1, 1, 1)

EXAMPLES: tuple[tuple[Happened, dict[str, object], str], ...] = (
    (Named("Shed", steady=Steady("b", 5.0)), {"name": "Shed", "system": "metric", "boot": "b", "steady_s": 5.0}, "Project Shed"),
    (Opened(), {}, "Opened"),
    (Opened(Steady("b", 5.0)), {"boot": "b", "steady_s": 5.0}, "Opened"),
    (WallClockSet(3600.0, "forward 1 h"), {"shift_s": 3600.0, "shown": "forward 1 h"},
     "Clock of the computer was set, forward 1 h"),
    (SettingChanged("theme", "light"), {"name": "theme", "value": "light"}, "theme = light"),
    (PartAdded("Bar 1"), {"name": "Bar 1"}, "Part Bar 1"),
    (RunBegun("Panel 1", "every-step", "1", Place(0, 1, 0), TEXT, "2026-11-25"),
     {"part": "Panel 1", "recipe": "every-step", "version": "1", "date": "2026-11-25", "place": "0.1.0", "text": TEXT},
     "Began every-step on Panel 1"),
    (RunBegun("Panel 1", "every-step", "1", Place(0, 1, 0), TEXT, plan="10"),
     {"part": "Panel 1", "recipe": "every-step", "version": "1", "place": "0.1.0", "text": TEXT, "plan": "10"},
     "Began every-step on Panel 1"),
    (RunPlanned("Panel 1", "fillet", "Fillet it", {"length": "2 m", "cover": "bare"}),
     {"part": "Panel 1", "recipe": "fillet", "shown": "Fillet it", "answers": {"length": "2 m", "cover": "bare"}},
     "Planned fillet on Panel 1, given as length 2 m; cover bare"),
    (PlanDropped("10", "Try it on Panel 1"), {"plan": "10", "shown": "Try it on Panel 1"}, "Dropped a plan, Try it on Panel 1"),
    (RunChosen("3"), {"run": "3"}, "Went to another run"),
    (RunFinished("6"), {"run": "6"}, "Recipe complete"),
    (RunFinished("6", "makes coated; Slow: 120 g", "coated",
                 (Used("slow", "Slow", Quantity(120, "g")), Used("rags", "Rags", None)), {"mixed": Quantity(118, "g")}, 5400.0),
     {"run": "6", "shown": "makes coated; Slow: 120 g", "makes": "coated", "hands_on_s": 5400.0,
      "used": [{"material": "slow", "title": "Slow", "amount": {"text": "120 g", "unit": "g"}},
               {"material": "rags", "title": "Rags", "amount": None}],
      "weighed": {"mixed": {"text": "118 g", "unit": "g"}}},
     "Recipe complete, makes coated; Slow: 120 g"),
    (RunGivenUp("6"), {"run": "6"}, "Gave the run up"),
    (RunFollowed("6", by_section=True), {"run": "6", "by_section": True}, "Followed by section"),
    (RunFollowed("6", by_section=False), {"run": "6", "by_section": False}, "Followed step by step"),
    (RecipeEdited("6", "fillet 4 2026-12-01", "5f0c", "Cure: changed 'Sand it'", "recipe: fillet", P110),
     {"run": "6", "recipe": "fillet 4 2026-12-01", "digest": "5f0c", "shown": "Cure: changed 'Sand it'", "text": "recipe: fillet",
      "next": str(P110)}, "Went on by the edited fillet 4 2026-12-01, Cure: changed 'Sand it'"),
    (RecipeEdited("6", "fillet 4 2026-12-01", "5f0c", "Cure: changed 'Sand it'"),
     {"run": "6", "recipe": "fillet 4 2026-12-01", "digest": "5f0c", "shown": "Cure: changed 'Sand it'"},
     "Kept the recipe, not the edited fillet 4 2026-12-01, Cure: changed 'Sand it'"),
    (RunGivenUp("6", "mixed 118 g in all", {"mixed": Quantity(118, "g")}),
     {"run": "6", "shown": "mixed 118 g in all", "weighed": {"mixed": {"text": "118 g", "unit": "g"}}},
     "Gave the run up, mixed 118 g in all"),
    (RunGivenUp("6", "Slow: 118 g weighed",
                used=(Used("slow", "Slow", Quantity(118, "g"), Quantity(118, "g"), Quantity(40, "g")),)),
     {"run": "6", "shown": "Slow: 118 g weighed",
      "used": [{"material": "slow", "title": "Slow", "amount": {"text": "118 g", "unit": "g"},
                "weighed": {"text": "118 g", "unit": "g"}, "spilled": {"text": "40 g", "unit": "g"}}]},
     "Gave the run up, Slow: 118 g weighed"),
    (TakenBack(7), {"event": 7}, "Took back: Read the air"),
    (TakenBack(8, (9,)), {"event": 8, "also": [9]}, "Took back: Cut the cartridge"),
    (StepDone("6", P110, P111, headline="Read the air", shown="21.1 °C", values={"air": Held(Quantity(70, "°F"))}, typed="70 F",
              reading=Reading(Quantity(70, "°F"), "21.1 °C"), moved=(MOVE,)),
     {**ON, "headline": "Read the air", "shown": "21.1 °C", "values": {"air": {"text": "70 °F", "unit": "°F"}}, "typed": "70 F",
      "reading": READING_KEPT, "moved": [MOVE_KEPT]},
     f"Read the air, 21.1 °C; {MOVED}, given as 70 F"),
    (StepDone("6", Place(0, 1, 1), P111, (P110,), "Choose", shown="Slow",
              values={"resin": Held("slow", "Slow"), "resin.ratio": Held("2:1")}),
     {**ON, "place": "0.1.1", "passed": ["1.1.0"], "headline": "Choose", "shown": "Slow",
      "values": {"resin": {"text": "slow", "label": "Slow"}, "resin.ratio": {"text": "2:1", "unit": None}}},
     "Choose, Slow"),
    (StepDone("6", P110, P111, headline="Count the bottles", shown="2", values={"bottles": Held(Quantity(2, ""))},
              remembered=Remembered("bottles", "part:Panel 2")),
     {**ON, "headline": "Count the bottles", "shown": "2", "values": {"bottles": {"text": "2", "unit": ""}},
      "remembered": {"name": "bottles", "of": "part:Panel 2"}},
     "Count the bottles, 2"),
    (StepDone("6", Place(1, 1, 1), P111, headline="Pass the air", by_itself=True, shown="20 °C, limits 18 °C to 35 °C"),
     {**ON, "place": "1.1.1", "headline": "Pass the air", "by_itself": True, "shown": "20 °C, limits 18 °C to 35 °C"},
     "Pass the air, 20 °C, limits 18 °C to 35 °C"),
    (StepDone("6", Place(1, 1, 4), P111, headline="Pass the dew point", into="dew", result=DEW, reason="It is dry"),
     {**ON, "place": "1.1.4", "headline": "Pass the dew point", "into": "dew", "result": DEW_KEPT, "reason": "It is dry"},
     "Pass the dew point, reason: It is dry"),
    (StepDone("6", Place(2, 1, 4), P111, headline="Start the pot life", clock=POT, ends=("9",)),
     {**ON, "place": "2.1.4", "headline": "Start the pot life", "clock": POT_KEPT, "ends": ["9"]}, "Start the pot life"),
    (Corrected("6", Place(0, 1, 2), "Count the coats", "2", "3", {"coats": Held(Quantity(3, ""))}, "3",
               (Again(Place(1, 1, 4), "Pass the dew point", "9.3 K", "9.25 K", "dew", DEW),),
               Remembered("coats", "part:Panel 1")),
     {**AT, "place": "0.1.2", "headline": "Count the coats", "was": "2", "shown": "3",
      "values": {"coats": {"text": "3", "unit": ""}}, "typed": "3",
      "again": [{"place": "1.1.4", "headline": "Pass the dew point", "was": "9.3 K", "shown": "9.25 K", "into": "dew",
                 "result": DEW_KEPT}],
      "remembered": {"name": "coats", "of": "part:Panel 1"}},
     "Corrected: Count the coats, 2 → 3; Pass the dew point: 9.3 K → 9.25 K, given as 3"),
    (Noted("6", P110, "dry spot", "IMG_1.jpg"), {**AT, "text": "dry spot", "photo": "IMG_1.jpg"}, "Note, dry spot · IMG_1.jpg"),
    (CautionRead("6", P110, 1, "WARNING"), {**AT, "caution": 1, "shown": "WARNING"}, "Read WARNING, WARNING"),
    (CautionRead("6", P110, 1, "WARNING", "Dust harms lungs."),
     {**AT, "caution": 1, "shown": "WARNING", "text": "Dust harms lungs."}, "Read WARNING: Dust harms lungs., WARNING"),
    (SectionDone("6", Place(3, 1, 5), P111, headline="Section complete"),
     {**AT, "place": "3.1.5", "next": "1.1.1", "passed": [], "headline": "Section complete"}, "Section complete"),
    (SectionDone("6", Place(3, 1, 5), P111, headline="Section complete", by_itself=True),
     {**AT, "place": "3.1.5", "next": "1.1.1", "passed": [], "headline": "Section complete", "by_itself": True},
     "Section complete"),
    (SectionDone("6", Place(3, 1, 5), P111, headline="Section complete", turns=1, shown="one coat more"),
     {**AT, "place": "3.1.5", "next": "1.1.1", "passed": [], "headline": "Section complete", "turns": 1,
      "shown": "one coat more"},
     "Section complete, one coat more"),
    (PotSpilled("6", Place(3, 1, 5), P111, headline="Pot spilled", turns=1, shown="61 g", clock="9", of="mixed",
                amount=Quantity(61, "g")),
     {**AT, "place": "3.1.5", "next": "1.1.1", "passed": [], "headline": "Pot spilled", "turns": 1, "shown": "61 g",
      "clock": "9", "of": "mixed", "amount": {"text": "61 g", "unit": "g"}},
     "Pot spilled, 61 g"),
    (WentBack("6", P111, P110), {**AT, "place": "1.1.1", "next": "1.1.0"}, "Went back to measure again"),
    (Refused("6", Place(1, 1, 5), "broken", "Film broken"), {**AT, "place": "1.1.5", "answer": "broken", "shown": "Film broken"},
     "No go, Film broken"),
    (LeftForLater("6", Place(1, 1, 5), P111, (P110,), "Judge the film"),
     {**AT, "place": "1.1.5", "next": "1.1.1", "passed": ["1.1.0"], "headline": "Judge the film"},
     "Left for later: Judge the film"),
    (TakenUp("6", Place(1, 1, 6), Place(2, 1, 0), "Cut the cartridge"),
     {**AT, "place": "1.1.6", "from": "2.1.0", "shown": "Cut the cartridge"}, "Took up: Cut the cartridge, Cut the cartridge"),
    (Dropped("6", Place(1, 1, 6), Place(2, 1, 0), "Cut the cartridge", "Not needed"),
     {**AT, "place": "1.1.6", "next": "2.1.0", "headline": "Cut the cartridge", "reason": "Not needed"},
     "Not applicable: Cut the cartridge, reason: Not needed"),
    (AlarmRaised("4", "missed"), {"clock": "4", "stage": "missed"}, "Alarm missed"),
    (AlarmBack("4", "due", "Kettle"), {"clock": "4", "stage": "due", "shown": "Kettle"}, "Back from later: Kettle, Kettle"),
    (Acknowledged("4", "due", "Kettle"), {"clock": "4", "stage": "due", "shown": "Kettle"}, "Acknowledged Kettle, Kettle"),
    (PutOff("4", NOON, "Kettle"), {"clock": "4", "until": "2026-11-25T12:00:00+00:00", "shown": "Kettle"},
     "Put off Kettle, Kettle"),
    (ClockEnded("4", "Kettle"), {"clock": "4", "shown": "Kettle"}, "Ended Kettle, Kettle"),
    (ClockStarted(POT, "Tea"), {"clock": POT_KEPT, "shown": "Tea"}, "Started timer Pot life, Tea"),
    (TemperatureRead(Quantity(70, "°F"), "21.1 °C", "70 F", (MOVE,)), {**READING_KEPT, "typed": "70 F", "moved": [MOVE_KEPT]},
     f"Shop temperature, 21.1 °C; {MOVED}, given as 70 F"),
    (FormFilled("bead", {"diameter": "6 mm"}), {"calculator": "bead", "texts": {"diameter": "6 mm"}}, ""),
    (ResultKept("bead", {"diameter": "6 mm"}, BEAD), {"calculator": "bead", "texts": {"diameter": "6 mm"}, "result": BEAD_KEPT},
     "Kept bead, Cartridges needed: 2; Bead section: 28.3 mm², given as diameter 6 mm"),
    (ShelfChanged("slow", "left", "1.2 kg", "0.7 kg", "left: 0.7 kg, was 1.2 kg", 12),
     {"material": "slow", "figure": "left", "was": "1.2 kg", "now": "0.7 kg", "shown": "left: 0.7 kg, was 1.2 kg", "after": 12},
     "Shelf: slow, left: 0.7 kg, was 1.2 kg"),
    (ShelfChanged("foam-2lb", "packing", None, "1.15", "packing: 1.15"),
     {"material": "foam-2lb", "figure": "packing", "was": None, "now": "1.15", "shown": "packing: 1.15"},
     "Shelf: foam-2lb, packing: 1.15"),
    (Lost("missing"), {"why": "missing"}, "LOST: an event, missing"),
    (SoundTried(True, "3 beeps heard"), {"heard": True, "shown": "3 beeps heard"}, "Sound test, 3 beeps heard"),
)  # fmt: skip
"""Examples of each kind: the event, what the log keeps of it, and what a line of the export says of it."""

NOTES = {"kept", "shelf", "sound", "lost"}
"""Kinds that change nothing but the log."""


each = pytest.mark.parametrize(("what", "kept", "line"), EXAMPLES, ids=[what.kind for what, _, _ in EXAMPLES])


def recorded(*happened: Happened) -> list[Recorded]:
    """Return what has happened before, then what is given, one a minute from noon."""
    events = enumerate((*BEFORE, *happened), start=1)
    return [Recorded(number, NOON + timedelta(minutes=number), what) for number, what in events]


def in_log(event: Recorded) -> Event:
    """Return an event as the log gives it back."""
    return Event(event.id, event.at, event.what.kind, json.loads(json.dumps(event.what.as_json(), ensure_ascii=False)))


@pytest.fixture(scope="module")
def written(tmp_path_factory):
    """A file of what has happened before each example."""
    path = tmp_path_factory.mktemp("before") / "hide.shopmate"
    with Log(path, create=True) as log:
        for event in recorded():
            log.append(event.what.kind, event.what.as_json(), event.at)
    return path


@pytest.fixture
def log(written, tmp_path):
    """A log of what has happened before each example."""
    with Log(Path(shutil.copy(written, tmp_path))) as log:
        yield log


def test_every_kind_has_an_example_and_all_that_a_kind_needs() -> None:
    shown = {what.kind for what, _, _ in EXAMPLES}
    places = {kind: f"{one.__name__} of {inspect.getsourcefile(one)}" for kind, one in KINDS.items()}
    lacking = [f"{places[kind]}: write {', '.join(sorted(one.__abstractmethods__))}" for kind, one in KINDS.items()
               if one.__abstractmethods__]  # fmt: skip
    lacking += [f"{places[kind]}: give an example of it in EXAMPLES of {__file__}" for kind in KINDS if kind not in shown]
    assert not lacking, "\n".join(lacking)


@each
def test_what_the_log_keeps_is_what_it_always_kept_and_is_read_back(what, kept, line) -> None:
    event = in_log(Recorded(1, NOON, what))
    assert event.data == kept
    assert read(event).what == what


@pytest.mark.parametrize(
    ("kind", "data", "what"),
    [
        # The unit was that of a number typed without one.
        ("done", {**ON, "values": {"a": {"text": "1-1/2 ft", "unit": "mm"}}},
         StepDone("6", P110, P111, values={"a": Held(Quantity(Fraction(3, 2), "ft"))})),
        ("temperature", {"text": "70 °F", "unit": "°C", "shown": "21.1 °C"}, TemperatureRead(Quantity(70, "°F"), "21.1 °C")),
        # Recipes had no date.
        ("run", {"part": "P", "recipe": "r", "version": "1", "place": "0.1.0", "text": "t"},
         RunBegun("P", "r", "1", Place(0, 1, 0), "t")),
        # What a later program adds without another meaning.
        ("part", {"name": "Bar 1", "colour": "red"}, PartAdded("Bar 1")),
    ],
)  # fmt: skip
def test_what_other_versions_kept_is_read(kind, data, what) -> None:
    assert read(Event(1, NOON, kind, data)).what == what


@each
def test_an_event_changes_the_project_it_is_given_to_no_other(what, kept, line) -> None:
    *before, event = recorded(what)
    project = fold(before, "hide")
    kept_apart = deepcopy(project)
    after = advance(project, event)
    assert project == kept_apart
    if isinstance(what, TakenBack):
        after = without_old_answers(fold([*before, event], "hide"))
        assert after == fold([each for each in before if each.id not in what.all], "hide")
        return
    assert after == fold([*before, event], "hide")
    assert (after == project) is (what.kind in NOTES)
    assert after.undo == (project.undo + [event.id] * what.undoable)


@each
def test_taking_back_takes_back_what_can_be_and_leaves_the_project_as_it_was(log, what, kept, line) -> None:
    session = Session(log, {})
    now = NOON + timedelta(minutes=30)
    before = session.project
    session._record(what, now)
    if what.was_by_itself:
        # It goes with what it followed from, the last thing done before it.
        assert session.take_back(now) == "Start the pot life"
        assert session.project == fold([one for one in recorded() if one.what.said().headline != "Start the pot life"], "hide")
        return
    if what.undoable:
        said = what.said()
        assert session.take_back(now) == (said.headline or said.shown or what.kind)
        assert without_old_answers(session.project) == before
        return
    event = log.events()[-1]
    with suppress(NotNow):
        for _ in range(len(BEFORE) + 2):
            session.take_back(now)
    with pytest.raises(NotNow, match="nothing to undo"):
        session.take_back(now)
    assert event.id not in [later.data["event"] for later in log.events()[event.id :]]


@each
def test_what_is_half_typed_goes_with_an_event_that_leaves_the_step(log, what, kept, line) -> None:
    session = Session(log, {})
    # Of several steps taken together each is left by itself.
    place = session.place_name(what.place) if isinstance(what, AtPlace) else session.step_place
    session.keep_typing(place, "12", "g")
    session.keep_typing("step:6 5.1.0", "13", "g")
    session._record(what, NOON)
    assert log.typing() == {**({} if what.leaves_step else {place: ("12", "g")}), "step:6 5.1.0": ("13", "g")}


@each
@pytest.mark.parametrize("form", FORMATS)
def test_every_kind_is_exported_in_every_form(form, what, kept, line) -> None:
    event = recorded(what)[-1]
    text = export([in_log(each) for each in recorded(what)], "Hide", form)
    if form == "json":
        assert json.loads(text)["events"][-1] == {"id": event.id, "at": event.at.isoformat(), "kind": what.kind, "data": kept}
    elif form == "csv":
        row = list(csv.DictReader(io.StringIO(text)))[-1]
        assert (row["event"], row["kind"], row["place"]) == (str(event.id), what.kind, kept.get("place", ""))
        assert (row["typed"], row["reason"]) == (what.said().typed, what.said().reason)
        assert row["what"]
        assert line.startswith(row["what"]) or not line
        assert row["value"] in line
    elif form == "lines":
        said = text.splitlines()[-1].split(" ", 2)[2]
        assert (said == line) if line else ("Entered" not in text)
    else:
        said = text.splitlines()[-1]
        assert said.count("|") == 5
        assert all(part in said for part in line.split(", "))


def test_an_event_that_cannot_be_read_is_told_and_not_passed_over(log) -> None:
    """What it did is not known: what is shown after it could be wrong."""
    path, count = log.path, len(BEFORE)
    log.append("weighed", {"run": "6", "place": "1.1.0", "shown": "12 g"}, NOON)
    session, project = Session(log, {}), fold(recorded(), "hide")
    assert (session.read_only, session.project.runs) == (True, project.runs)
    words = rf"hide\.shopmate has entries this version cannot read: event {count + 1} is unknown to this version; update shopmate"
    assert re.search(words, session.damage)
    with pytest.raises(NotNow, match=f"READ ONLY: .*{words}"):
        session.add_part("Panel 9", NOON)
    assert running_clocks(path) == project.running
    again = Session.open(path, NOON, {})
    assert (again.damage, again.project) == (session.damage, session.project)
    assert len(events_of(path)) == count + 1
    assert "weighed" in export(events_of(path), "Hide", "lines")


def test_a_window_that_follows_tells_of_an_event_it_cannot_read_and_does_not_take_over(log) -> None:
    session = Session(log, {}, Lock(log.path), read_only=True)
    log.append("weighed", {"shown": "12 g"}, NOON)
    session.follow(NOON)
    assert session.read_only
    assert "update shopmate" in session.damage
    assert session.project.runs == fold(recorded(), "hide").runs
    log.append("part", {"name": "Panel 9"}, NOON)
    session.follow(NOON)
    assert "Panel 9" not in session.project.parts
    assert Lock(log.path).take()


@pytest.mark.parametrize(
    ("kind", "data"),
    [
        ("part", {}),
        ("setting", {"name": "colour", "value": "red"}),
        ("alarm", {"clock": "4", "stage": "later"}),
        ("shelved", {"clock": "4", "until": "soon"}),
        ("done", {**AT, "next": "1.1"}),
        ("temperature", {"text": "warm", "unit": "°C", "shown": "warm"}),
    ],
)
def test_an_event_of_a_known_kind_with_data_of_another_is_unknown(kind, data) -> None:
    what = read(Event(1, NOON, kind, data)).what
    assert isinstance(what, Unknown)
    assert (what.name, what.data) == (kind, data)


def test_no_two_kinds_have_one_name() -> None:
    with pytest.raises(TypeError, match=r"Another and PartAdded are both called 'part' in the log"):

        class Another(PartAdded, kind="part", undoable=False, leaves_step=False):
            pass

    assert KINDS["part"] is PartAdded
