"""What each event does to a project: a pure fold from the log to parts, runs, values and clocks."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import datetime, timedelta
from functools import lru_cache
from itertools import dropwhile
from typing import Any, cast

from shopmate import calc, units
from shopmate import recipe as recipes
from shopmate.clock import Aging, Clock, Stage, aged_due, moved
from shopmate.log import Event
from shopmate.models.due import ClockKind
from shopmate.recipe import Recipe
from shopmate.session.place import Mark, Place
from shopmate.session.project import Base, Pot, Project, WallSet, apart
from shopmate.session.run import Held, Run
from shopmate.units import Quantity

UNDOABLE = frozenset(
    {
        "done", "seen", "section", "again", "refused", "acknowledged", "clock", "ended", "shelved", "finished", "temperature",
        "deferred", "taken up", "dropped", "given up",
    }
)  # fmt: skip
"""Kinds of events that the key for taking back takes back."""


_ROUNDED = timedelta(seconds=1)
"""The log keeps whole milliseconds: an event may seem that little earlier than what it tells of."""

_NOTICEABLE = timedelta(minutes=1)
"""A limit that moves by less is not said to have moved."""


@lru_cache(maxsize=32)
def read_recipe(text: str) -> Recipe:
    """Return the recipe of a text kept in a log, read once."""
    return recipes.read(text, "the recipe kept with the run", compare=False)


def fold(events: Sequence[Event], name: str) -> Project:
    """Return the project that the events tell of; `name` is its name until an event gives one.

    An event named by a later 'undone' counts as not having happened.
    """
    undone = {event.data["event"] for event in events if event.kind == "undone"}
    project = Project(name)
    for event in events:
        if event.id not in undone:
            _apply(project, event)
    return project


def advance(project: Project, event: Event) -> Project:
    """Return the project after one more event, which is not an 'undone'; the project given stays as it was.

    So that a key costs the same however long the log is.
    """
    after = cast(Project, apart(project))
    _apply(after, event)
    return after


def _apply(project: Project, event: Event) -> None:
    apply = _APPLY.get(event.kind)
    if apply is not None:
        apply(project, event, cast("Mapping[str, Any]", event.data))
    if event.kind in UNDOABLE:
        project.undo.append(event)


def holds(value: Mapping[str, Any]) -> Held:
    """Return the value kept in an event: a quantity by text with unit, or a name with its label."""
    unit = value.get("unit")
    quantity = units.parse(value["text"], unit) if unit is not None else None
    return Held(value["text"], quantity, value.get("label"))


def worked_out(into: str, result: Mapping[str, Any]) -> dict[str, Held]:
    """Return the values that a calculator's result (as JSON) becomes."""
    places = {output.name: output.places for output in calc.find(result["calculator"]).outputs}
    values = {}
    for name, output in result["outputs"].items():
        value, unit = output["value"], output["unit"]
        if value is None:
            continue
        if unit is None:
            values[f"{into}.{name}"] = Held(str(value))
        else:
            quantity = Quantity(float(value), unit)
            values[f"{into}.{name}"] = Held(units.show(quantity), quantity, places=places.get(name))
    return values


def _project(project: Project, event: Event, data: Mapping[str, Any]) -> None:
    project.name = data["name"]
    project.system = data.get("system", "metric")
    if "boot" in data:
        _opened(project, event, data)


def _opened(project: Project, event: Event, data: Mapping[str, Any]) -> None:
    """Take a new base after a new start of the computer; in the same one the old holds, or small drifts would add up."""
    if project.base is not None and project.base.boot == data.get("boot"):
        return
    project.base = Base(data["boot"], event.at - timedelta(seconds=data["steady_s"]), event.id) if "boot" in data else None
    # Where the wall clock went back meanwhile, a reading of before would hold only from a time to come.
    project.readings = [(min(at, event.at), celsius) for at, celsius in project.readings]


def _wall(project: Project, event: Event, data: Mapping[str, Any]) -> None:
    """Tell every time by the wall clock as it is now: all move with it, so that what passed and what remains stay as they are."""
    shift = timedelta(seconds=data["shift_s"])
    for run in project.runs.values():
        run.begun_at += shift
        run.marks = {place: replace(mark, at=mark.at + shift) for place, mark in run.marks.items()}
        run.touched_at = run.touched_at + shift if run.touched_at is not None else None
        run.finished_at = run.finished_at + shift if run.finished_at is not None else None
    project.parts = {name: at + shift for name, at in project.parts.items()}
    project.clocks = {key: moved(clock, shift) for key, clock in project.clocks.items()}
    project.readings = [(at + shift, celsius) for at, celsius in project.readings]
    if project.base is not None:
        project.base = replace(project.base, nought=project.base.nought + shift)
    project.wall_set = WallSet(event.at, shift)


def _setting(project: Project, event: Event, data: Mapping[str, Any]) -> None:
    if data["name"] == "system":
        project.system = data["value"]
    elif data["name"] == "theme":
        project.theme = data["value"]
    elif data["name"] == "reading_holds":
        project.reading_holds = timedelta(minutes=units.parse(data["value"], "h").value_in("min"))


def _part(project: Project, event: Event, data: Mapping[str, Any]) -> None:
    project.parts[data["name"]] = event.at


def _run(project: Project, event: Event, data: Mapping[str, Any]) -> None:
    run = Run(str(event.id), data["part"], read_recipe(data["text"]), event.at, Place.parse(data["place"]), touched_at=event.at)
    project.runs[run.key] = run
    project.current = run.key


def _chosen(project: Project, event: Event, data: Mapping[str, Any]) -> None:
    project.current = data["run"]


def _done(project: Project, event: Event, data: Mapping[str, Any]) -> None:
    run = project.runs[data["run"]]
    place = Place.parse(data["place"])
    for name, value in data.get("values", {}).items():
        run.values[name] = holds(value)
        _pour(project, run, name)
    if "values" in data:
        _add(run, place)
    if "result" in data:
        run.values.update(worked_out(data["into"], data["result"]))
        _replan(run, place, data["into"])
    late = None
    if "reading" in data:
        _read(project, event.at, data["reading"])
    for key in data.get("ends", ()):
        clock = _end(project, key, event.at)
        _empty(project, run, clock)
        late = clock.late.total_seconds() if clock.late is not None else late
    if "clock" in data:
        clock = _clock(project, str(event.id), run.key, event.at, data["clock"])
        before = run.clocks.get(clock.name)
        if before is not None and project.clocks[before].ended_at is None:
            _end(project, before, event.at)  # the one started anew takes its place
        project.clocks[clock.key] = clock
        run.clocks[clock.name] = clock.key
    run.marks[place] = Mark(event.at, "done", data.get("shown", ""), late)
    _pass(run, event, data)
    _move(run, event, data)


def _pour(project: Project, run: Run, name: str) -> None:
    """Take a mass just answered as that of each pot whose clock runs; asked anew, it is the corrected one."""
    quantity = run.values[name].quantity
    if quantity is None or units.dimension(quantity.unit) != "mass":
        return
    for key in run.clocks.values():
        if project.clocks[key].ended_at is None and project.pouring.get(key, (name, 0.0))[0] == name:
            project.pouring[key] = (name, quantity.value_in("g"))


def _empty(project: Project, run: Run, clock: Clock) -> None:
    """Take a clock ended by its step as a pot finished, if its recipe asks for its pace and a mass was asked while it ran.

    The answers on pace that the run was given are then those of the middle pot, so that what is planned next goes by them.
    """
    acts = (step.act for section in run.recipe.sections for step in section.steps)
    asked = [act for act in acts if isinstance(act, recipes.Ask) and act.pace_of == clock.name]
    if not asked or clock.ended_at is None or clock.ended_at <= clock.started_at:
        return
    _, mass = project.pouring.get(clock.key, ("", 0.0))
    if mass <= 0:
        return
    minutes = (clock.ended_at - clock.started_at) / timedelta(minutes=1)
    project.pots.setdefault(clock.name, []).append(Pot(mass, minutes))
    own = project.middle_pot(clock.name)
    assert own is not None
    for act in asked:
        if act.into in run.values and isinstance(act.answer, recipes.MeasureAnswer):
            figure = own.answers(act.answer.unit)
            run.values[act.into] = Held(units.show(figure), figure)
            run.paced[clock.name] = len(project.pots[clock.name])


def _add(run: Run, place: Place) -> None:
    """Add the answer just given to its sum; given anew at the same place it takes its own place in it."""
    act = run.recipe.sections[place.section].steps[place.step].act
    if not isinstance(act, recipes.Ask):
        return
    if act.pace_of is not None:
        run.paced.pop(act.pace_of, None)  # typed after all, so no longer the middle pot's
    quantity = run.values[act.into].quantity if act.into in run.values else None
    if act.adds_to is not None and quantity is not None:
        run.added.setdefault(act.adds_to, {})[place] = quantity
        _sum(run, act.adds_to)


def _sum(run: Run, name: str) -> None:
    """Hold the sum of what was added under a name, in the unit of the first; with nothing added it is not known."""
    added = list(run.added[name].values())
    if not added:
        run.values.pop(name, None)
        return
    unit = added[0].unit
    total = Quantity(sum(quantity.to(unit).value for quantity in added), unit)
    run.values[name] = Held(units.show(total), total)


def _replan(run: Run, place: Place, into: str) -> None:
    """Let a plan made anew within the turns it counts stand in place of turns added or left off before.

    It never counts fewer turns than there have been.
    """
    found = run.recipe.repeated(place.section)
    if found is None:
        return
    together, repeat = found
    if any(name.partition(".")[0] == into for name in repeat.times.references):
        run.extra_turns[together.start] = max(0, place.turn - run.planned(repeat))


def _pass(run: Run, event: Event, data: Mapping[str, Any]) -> None:
    for passed in data.get("passed", ()):
        run.marks[Place.parse(passed)] = Mark(event.at, "not applicable")


def _move(run: Run, event: Event, data: Mapping[str, Any]) -> None:
    run.place, run.goes_back_to = Place.parse(data["next"]), None
    run.touched_at = event.at


def _seen(project: Project, event: Event, data: Mapping[str, Any]) -> None:
    run = project.runs[data["run"]]
    run.seen.add((Place.parse(data["place"]), data["caution"]))
    run.touched_at = event.at


def _section(project: Project, event: Event, data: Mapping[str, Any]) -> None:
    run = project.runs[data["run"]]
    place = Place.parse(data["place"])
    found = run.recipe.repeated(place.section)
    if data.get("turns") and found is not None:
        first = found[0].start
        run.extra_turns[first] = run.extra_turns.get(first, 0) + data["turns"]
    run.marks[place] = Mark(event.at, "done", data.get("shown", ""))
    _pass(run, event, data)
    _move(run, event, data)


def _again(project: Project, event: Event, data: Mapping[str, Any]) -> None:
    run = project.runs[data["run"]]
    back_to = Place.parse(data["next"])
    # Marks stand in the order they were made, which is not that of the file where several sections make one turn.
    for place in list(dropwhile(lambda place: place != back_to, run.marks)):
        del run.marks[place]
        for name, added in run.added.items():
            if added.pop(place, None) is not None:
                _sum(run, name)
    _move(run, event, data)


def _refused(project: Project, event: Event, data: Mapping[str, Any]) -> None:
    run = project.runs[data["run"]]
    run.refused[Place.parse(data["place"])] = data["answer"]
    run.touched_at = event.at


def _deferred(project: Project, event: Event, data: Mapping[str, Any]) -> None:
    run = project.runs[data["run"]]
    place = Place.parse(data["place"])
    run.marks[place] = Mark(event.at, "for later")
    run.seen -= {(place, number) for _, number in run.seen}  # what it warns of is read anew when it is taken up
    _pass(run, event, data)
    _move(run, event, data)


def _taken_up(project: Project, event: Event, data: Mapping[str, Any]) -> None:
    run = project.runs[data["run"]]
    run.place, run.goes_back_to = Place.parse(data["place"]), Place.parse(data["from"])
    run.touched_at = event.at


def _dropped(project: Project, event: Event, data: Mapping[str, Any]) -> None:
    run = project.runs[data["run"]]
    run.marks[Place.parse(data["place"])] = Mark(event.at, "not applicable", data["reason"])
    _move(run, event, data)


def _given_up(project: Project, event: Event, data: Mapping[str, Any]) -> None:
    _finished(project, event, data)
    project.runs[data["run"]].given_up = True


def _finished(project: Project, event: Event, data: Mapping[str, Any]) -> None:
    run = project.runs[data["run"]]
    run.finished_at = run.touched_at = event.at


def _alarm(project: Project, event: Event, data: Mapping[str, Any]) -> None:
    """Stamp an alarm raised, or one back from being put off."""
    _stamp(project, data, "raised", event.at)


def _acknowledged(project: Project, event: Event, data: Mapping[str, Any]) -> None:
    _stamp(project, data, "acknowledged", event.at)


def _stamp(project: Project, data: Mapping[str, Any], what: str, at: datetime) -> None:
    clock = project.clocks.get(data["clock"])
    if clock is not None:
        stage = cast("Stage", data["stage"])
        if _is_to_come(clock, stage, at):
            return
        project.clocks[clock.key] = (
            replace(clock, raised={**clock.raised, stage: at})
            if what == "raised"
            else replace(clock, acknowledged={**clock.acknowledged, stage: at})
        )


def _shelved(project: Project, event: Event, data: Mapping[str, Any]) -> None:
    clock = project.clocks.get(data["clock"])
    if clock is not None:
        project.clocks[clock.key] = replace(clock, shelved_until=datetime.fromisoformat(data["until"]), shelved=clock.shelved + 1)


def _ended(project: Project, event: Event, data: Mapping[str, Any]) -> None:
    if data["clock"] in project.clocks:
        _end(project, data["clock"], event.at)


def _own_clock(project: Project, event: Event, data: Mapping[str, Any]) -> None:
    clock = _clock(project, str(event.id), None, event.at, data["clock"])
    project.clocks[clock.key] = clock


def _end(project: Project, key: str, at: datetime) -> Clock:
    ended = replace(project.clocks[key], ended_at=at)
    project.clocks[key] = ended
    return ended


def _clock(project: Project, key: str, run: str | None, at: datetime, data: Mapping[str, Any]) -> Clock:
    kind, needed = cast("ClockKind", data["kind"]), timedelta(seconds=data["seconds"])
    aging = Aging(needed, data["sheet_celsius"]) if "sheet_celsius" in data else None
    return Clock(
        key=key,
        name=data["name"],
        title=data["title"],
        kind=kind,
        started_at=at,
        due_at=aged_due(at, aging, kind, project.readings) if aging is not None else at + needed,
        aging=aging,
        action=data["action"],
        if_late=data["if_late"],
        time_to_act=timedelta(seconds=data["time_to_act_s"]),
        consequence=data["consequence"],
        run=run,
    )


def _temperature(project: Project, event: Event, data: Mapping[str, Any]) -> None:
    _read(project, event.at, data)


def _read(project: Project, at: datetime, reading: Mapping[str, Any]) -> None:
    """Take a reading of the shop temperature: every running clock that goes by it is reckoned anew."""
    project.readings.append((at, units.parse(reading["text"], reading["unit"]).value_in("°C")))
    for clock in list(project.clocks.values()):
        if clock.aging is None or clock.ended_at is not None:
            continue
        due = aged_due(clock.started_at, clock.aging, clock.kind, project.readings)
        if abs(due - clock.due_at) >= _NOTICEABLE:
            moved = replace(clock, due_at=due, moved_from=clock.due_at, moved_by=reading["shown"])
            project.clocks[clock.key] = _still_raised(moved, at)


def _still_raised(clock: Clock, now: datetime) -> Clock:
    """Return a clock that was moved without the alarms that are to come anew: what was told and seen was the old time."""
    raised, acknowledged = (
        {stage: at for stage, at in stamps.items() if not _is_to_come(clock, stage, now)}
        for stamps in (clock.raised, clock.acknowledged)
    )
    return replace(clock, raised=raised, acknowledged=acknowledged)


def _is_to_come(clock: Clock, stage: Stage, now: datetime) -> bool:
    """Return whether the time of an alarm is still to come, as it is again once a reading that moved it is taken back."""
    reached = clock.warns_at if stage == "pre" else clock.due_at
    return reached is not None and now + _ROUNDED < reached


def _form(project: Project, event: Event, data: Mapping[str, Any]) -> None:
    project.forms[data["calculator"]] = dict(data["texts"])


def _kept(project: Project, event: Event, data: Mapping[str, Any]) -> None:
    project.kept.append(event)


_APPLY = {
    "project": _project,
    "setting": _setting,
    "part": _part,
    "run": _run,
    "chosen": _chosen,
    "done": _done,
    "seen": _seen,
    "section": _section,
    "again": _again,
    "refused": _refused,
    "finished": _finished,
    "deferred": _deferred,
    "taken up": _taken_up,
    "dropped": _dropped,
    "given up": _given_up,
    "alarm": _alarm,
    "returned": _alarm,
    "acknowledged": _acknowledged,
    "shelved": _shelved,
    "ended": _ended,
    "clock": _own_clock,
    "temperature": _temperature,
    "form": _form,
    "kept": _kept,
    "opened": _opened,
    "wall": _wall,
}
"""What each kind of event does to the project; kinds not named here (undone) change nothing."""
