"""Curves over wall-clock time: the shop temperature with the limits that depend on it, and the current pot."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import datetime, timedelta

from shopmate import calc, times, units
from shopmate.clock import STALLED, Clock, Reading
from shopmate.errors import InputError
from shopmate.phrases import phrase
from shopmate.picture import Curve, Label, Picture, Point, Shape, rectangle
from shopmate.project.project import Project
from shopmate.project.run import Run
from shopmate.recipe import Start, WorkOut
from shopmate.records import dataclass, replace
from shopmate.session.values import Values
from shopmate.units import Quantity, System

AHEAD = timedelta(hours=36)
"""How far ahead NOT BEFORE limits are drawn, so that a cure of days does not squash a window of hours; later limits are given in
words."""

_BESIDE = 3.0
"""K shown above and below the temperatures read."""


@dataclass(frozen=True, slots=True)
class _Course:
    """The shop temperature from `begin` to `end`, in steps that each last until the next."""

    steps: tuple[Reading, ...]
    begin: datetime
    end: datetime
    now: datetime
    assumed_until: datetime | None
    """Until when the data-sheet temperature is assumed; None if there was a reading from the beginning."""

    def hours(self, at: datetime) -> float:
        """Return a time as hours after the beginning."""
        return (at - self.begin) / timedelta(hours=1)

    def celsius_at(self, at: datetime) -> float:
        """Return the temperature at that time, in °C."""
        return [celsius for since, celsius in self.steps if since <= at][-1]

    def points(self, since: datetime, until: datetime) -> tuple[Point, ...]:
        """Return the course between two times, in hours and °C."""
        found: list[Point] = []
        ends = [*(at for at, _ in self.steps[1:]), self.end]
        for (at, celsius), stop in zip(self.steps, ends, strict=True):
            left, right = max(at, since), min(stop, until)
            if left < right:
                found += [(self.hours(left), celsius), (self.hours(right), celsius)]
        return tuple(found)


def shop(readings: Sequence[Reading], clocks: Iterable[Clock], now: datetime, system: System) -> Picture | None:
    """Return the shop temperature over the hours, in °C, with the limits that depend on it; None if no limit does.

    Readings are steps, each lasting until the next; the last is assumed for the time to come, and before the first the
    data-sheet temperature, as in `clock.aged_due`. Windows lie under the curve, from the NOT BEFORE to
    the DO BEFORE clock of one recipe. `clocks` are those of the project, ended ones too: a window that has opened is
    still one. Readings after `now` are not looked at.
    """
    everything = list(clocks)
    running = _running(everything)
    if not running:
        return None
    windows = [(opens, closes) for closes in running for opens in _opens(everything, closes)]
    course = _course(readings, running, windows, now)
    known = [celsius for _, celsius in course.steps]
    bottom, top = min(known) - _BESIDE, max(known) + _BESIDE
    begin, end = course.begin, course.end
    return Picture(
        _shapes(course, windows, bottom, top),
        _labels(course, running),
        _words(course, running, windows, system),
        (0.0, bottom),
        (course.hours(end), top),
        curves=_curves(course, system),
        foot=tuple(times.wall(at, now) for at in (begin, begin + (end - begin) / 2, end)),
        unit="",
        to_scale=False,
    )


def _course(
    readings: Sequence[Reading], running: Sequence[Clock], windows: Sequence[tuple[Clock, Clock]], now: datetime
) -> _Course:
    """Return the temperature from the start of the first of these clocks up to the limits that are near."""
    first = min([*running, *(opens for opens, _ in windows)], key=lambda clock: clock.started_at)
    assert first.aging is not None
    begin, known = first.started_at, [reading for reading in readings if reading[0] <= now]
    near = [clock.due_at for clock in running if clock.closes or clock.due_at <= now + AHEAD]
    until = max(now, *near) if near else now + AHEAD
    end = until + max((until - begin) / 20, timedelta(minutes=10))
    held = [celsius for at, celsius in known if at <= begin]
    later = [reading for reading in known if reading[0] > begin]
    steps = ((begin, held[-1] if held else first.aging.celsius), *later)
    return _Course(steps, begin, end, now, None if held else later[0][0] if later else now)


def _shapes(course: _Course, windows: Iterable[tuple[Clock, Clock]], bottom: float, top: float) -> tuple[Shape, ...]:
    """Return the windows as areas, if they are open before the end."""
    found = []
    for opens, closes in windows:
        shut = min(course.end, closes.due_at)
        if opens.due_at < shut:
            area = rectangle(course.hours(max(course.begin, opens.due_at)), bottom, course.hours(shut), top)
            found.append(Shape(area, phrase("window, {opens} to {closes}", opens.title, closes.title), "light"))
    return tuple(found)


def _labels(course: _Course, running: Iterable[Clock]) -> tuple[Label, ...]:
    """Return labels for the limits before the end, and for now with its temperature."""
    now, celsius = course.now, course.celsius_at(course.now)
    limits = [
        Label(
            f"{clock.title}: {clock.kind} {times.wall(clock.due_at, now)}",
            (course.hours(clock.due_at), course.celsius_at(clock.due_at)),
        )
        for clock in running
        if clock.due_at <= course.end
    ]
    at_now = (course.hours(now), celsius)
    return *limits, Label(phrase("now {at},", times.wall(now, now)), at_now, Quantity(celsius, "°C"), 1)


def _running(clocks: Iterable[Clock]) -> list[Clock]:
    """Return the running clocks that follow the shop temperature, the one due first in front."""
    going = (clock for clock in clocks if clock.ended_at is None and clock.aging is not None)
    return sorted(going, key=lambda clock: clock.due_at)


def _opens(clocks: Iterable[Clock], ending: Clock) -> list[Clock]:
    """Return the NOT BEFORE clock that opens the window `ending` closes: the last one in the same run with a matching name."""
    if not ending.closes or ending.run is None:
        return []
    stem = ending.name.rpartition("_")[0]
    return [
        clock
        for clock in clocks
        if not clock.closes
        and clock.run == ending.run
        and stem
        and clock.name.rpartition("_")[0] == stem
        and clock.aging is not None
    ][-1:]


def _curves(course: _Course, system: System) -> tuple[Curve, ...]:
    """Return the temperature as steps: as read, and as assumed before the first reading and after now."""
    begin, now, assumed_until = course.begin, course.now, course.assumed_until
    read = [celsius for at, celsius in course.steps if assumed_until is None or at >= assumed_until]
    curves = [Curve(course.points(now, course.end), phrase("assumed"), "rule")]
    if read and assumed_until != now:
        shown = phrase("shop, {celsius}", _range(read, system))
        curves.insert(0, Curve(course.points(assumed_until or begin, now), shown, "dot"))
    if assumed_until is not None:
        curves.insert(0, Curve(course.points(begin, assumed_until), phrase("data-sheet value, until the first reading"), "plus"))
    return tuple(curve for curve in curves if curve.points)


def _range(read: Sequence[float], system: System) -> str:
    """Return the range of the readings, given in °C, in words."""
    low, high = _celsius(min(read), system), _celsius(max(read), system)
    return low if low == high else phrase("{low} to {high}", low, high)


def _celsius(celsius: float, system: System) -> str:
    """Return a temperature in °C in the units of the project."""
    return str(units.display(Quantity(celsius, "°C"), system, 1))


def _words(course: _Course, running: Sequence[Clock], windows: Sequence[tuple[Clock, Clock]], system: System) -> str:
    """Return in sentences what the curve shows: the temperature, every limit and the windows."""
    now = course.now
    return " ".join(
        (
            *_said_of_temperature(course, system),
            *(_said_of_limit(clock, now) for clock in running),
            *(_said_of_window(opens, closes, now) for opens, closes in windows),
        )
    )


def _said_of_temperature(course: _Course, system: System) -> list[str]:
    (since, last), now, assumed_until = course.steps[-1], course.now, course.assumed_until
    if assumed_until == now:
        return [phrase("No shop reading: the data sheet's {celsius} is assumed.", _celsius(last, system))]
    read = phrase("measured {at} ({ago})", times.wall(since, now), times.ago(since, now))
    said = [phrase("Shop {celsius}, {read}, assumed until the next reading.", _celsius(last, system), read)]
    if assumed_until is not None:
        at, sheet = times.wall(assumed_until, now), _celsius(course.steps[0][1], system)
        said.append(phrase("Before {at} the data sheet's {celsius} is assumed.", at, sheet))
    return said


def _said_of_limit(clock: Clock, now: datetime) -> str:
    if clock.due_at - now > STALLED / 2:
        return phrase("{clock}: will not end while it stays this cold.", clock.title)
    was = phrase(", was {at}", times.wall(clock.moved_from, now)) if clock.moved_from is not None else ""
    return f"{clock.title}: {phrase(clock.kind)} {times.wall(clock.due_at, now)}{was}."


def _said_of_window(opens: Clock, closes: Clock, now: datetime) -> str:
    if opens.due_at >= closes.due_at:
        return phrase("No window: '{opens}' comes after '{closes}'.", opens.title, closes.title)
    return phrase("The window is {opens} to {closes}.", times.wall(opens.due_at, now), times.wall(closes.due_at, now))


def pots(project: Project) -> list[tuple[Clock, Picture]]:
    """Return the clock and the curve of temperature against time for each running pot whose figures are known.

    A pot is a DO BEFORE clock that gets its time from the calculator `potlife`.
    """
    found = []
    for clock in project.running:
        run = project.runs.get(clock.run or "")
        act = _worked_out(run, clock) if run is not None and clock.ended_at is None else None
        if run is None or act is None:
            continue
        try:
            result = Values(run, project.system).result(act)
        except InputError:
            continue
        found += [(clock, drawn) for drawn in calc.find(act.calculator).drawn(result.inputs, result.outputs)]
    return found


def _worked_out(run: Run, clock: Clock) -> WorkOut | None:
    """Return the step that gave a clock its time, if it uses `potlife`."""
    acts = run.recipe.acts
    references = {name for act in acts if isinstance(act, Start) and act.clock == clock.name for name in act.time.references}
    return next(
        (
            act
            for act in acts
            if isinstance(act, WorkOut)
            and act.calculator == "potlife"
            and references & {f"{act.into}.empty_by", f"{act.into}.use_by"}
        ),
        None,
    )


def pot_now(clock: Clock, drawn: Picture, now: datetime) -> Picture:
    """Return the picture of a pot with now marked on its curve and the limit as a time of day in its words."""
    minutes = (now - clock.started_at) / timedelta(minutes=1)
    course = drawn.curves[-1].points
    due = f"{clock.title}: {clock.kind} {times.wall(clock.due_at, now)}."
    if minutes > course[-1][0]:
        return replace(drawn, words=phrase("{due} It has gelled. {curve}", due, drawn.words))
    celsius = next(celsius for at, celsius in course if at >= minutes)
    here = Label(phrase("now {at}", times.wall(now, now)), (minutes, celsius))
    return replace(drawn, labels=(*drawn.labels, here), words=f"{due} {drawn.words}")
