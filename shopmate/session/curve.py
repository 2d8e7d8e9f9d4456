"""Curves over wall-clock time: the shop's temperature with the limits that go by it, and the pot in hand."""

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
from shopmate.records import replace
from shopmate.session.values import Values
from shopmate.units import Quantity, System

AHEAD = timedelta(hours=36)
"""How far ahead NOT BEFORE limits are drawn, so that a cure of days does not squeeze a window of hours; words name them."""

_BESIDE = 3.0
"""K shown above and below the temperatures read."""


def shop(readings: Sequence[Reading], clocks: Iterable[Clock], now: datetime, system: System) -> Picture | None:
    """Return the temperature of the shop over the hours, in °C, with the limits that go by it; None where none does.

    Readings are steps, each holding until the next; the last is taken to hold for what is to come, and before the first
    stands the temperature of the sheet, as `clock.aged_due` reckons. Windows lie under the curve, from the NOT BEFORE to
    the DO BEFORE clock of one recipe. `clocks` are those of the project, ended ones too: a window that has opened is
    still one. Readings after `now` are not looked at.
    """
    everything = list(clocks)
    running = _running(everything)
    if not running:
        return None
    windows = [(opens, closes) for closes in running for opens in _opens(everything, closes)]
    first = min([*running, *(opens for opens, _ in windows)], key=lambda clock: clock.started_at)
    begin, known = first.started_at, [reading for reading in readings if reading[0] <= now]
    assert first.aging is not None
    near = [clock.due_at for clock in running if clock.closes or clock.due_at <= now + AHEAD]
    until = max(now, *near) if near else now + AHEAD
    end = until + max((until - begin) / 20, timedelta(minutes=10))

    held = [celsius for at, celsius in known if at <= begin]
    steps: list[Reading] = [(begin, held[-1] if held else first.aging.celsius)]
    steps += [reading for reading in known if reading[0] > begin]
    assumed_until = None if held else steps[1][0] if len(steps) > 1 else now

    def hours(at: datetime) -> float:
        return (at - begin) / timedelta(hours=1)

    def celsius_at(at: datetime) -> float:
        return [celsius for since, celsius in steps if since <= at][-1]

    lowest, highest = min(celsius for _, celsius in steps), max(celsius for _, celsius in steps)
    bottom, top = lowest - _BESIDE, highest + _BESIDE
    limits = ((clock, f"{clock.title}: {clock.kind} {times.wall(clock.due_at, now)}") for clock in running)
    labels = [Label(text, (hours(clock.due_at), celsius_at(clock.due_at))) for clock, text in limits if clock.due_at <= end]
    at_now = Label(phrase("now {at},", times.wall(now, now)), (hours(now), celsius_at(now)), Quantity(celsius_at(now), "°C"), 1)

    def shape(opens: Clock, closes: Clock) -> Shape:
        area = rectangle(hours(max(begin, opens.due_at)), bottom, hours(min(end, closes.due_at)), top)
        return Shape(area, phrase("window, {opens} to {closes}", opens.title, closes.title), "light")

    return Picture(
        tuple(shape(opens, closes) for opens, closes in windows if opens.due_at < min(end, closes.due_at)),
        (*labels, at_now),
        _words(steps, running, windows, now, assumed_until, system),
        (0.0, bottom),
        (hours(end), top),
        curves=_curves(steps, begin, end, now, assumed_until, system),
        foot=tuple(times.wall(at, now) for at in (begin, begin + (end - begin) / 2, end)),
        unit="",
        to_scale=False,
    )


def _running(clocks: Iterable[Clock]) -> list[Clock]:
    """Return the clocks not ended that go by the temperature of the shop, the one due first in front."""
    going = (clock for clock in clocks if clock.ended_at is None and clock.aging is not None)
    return sorted(going, key=lambda clock: clock.due_at)


def _opens(clocks: Iterable[Clock], ending: Clock) -> list[Clock]:
    """Return the NOT BEFORE clock that opens the window which `ending` ends: the last one of its run named alike."""
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


def _curves(
    steps: Sequence[Reading], begin: datetime, end: datetime, now: datetime, assumed_until: datetime | None, system: System
) -> tuple[Curve, ...]:
    """Return the temperature as steps: what was read, and what is taken for it before the first and after now."""

    def points(since: datetime, until: datetime) -> tuple[Point, ...]:
        found: list[Point] = []
        for number, (at, celsius) in enumerate(steps):
            stop = steps[number + 1][0] if number + 1 < len(steps) else end
            left, right = max(at, since), min(stop, until)
            if left < right:
                found += [((moment - begin) / timedelta(hours=1), celsius) for moment in (left, right)]
        return tuple(found)

    read = [celsius for at, celsius in steps if assumed_until is None or at >= assumed_until]
    curves = [Curve(points(now, end), phrase("taken to hold"), "rule")]
    if read and assumed_until != now:
        curves.insert(0, Curve(points(assumed_until or begin, now), phrase("shop, {celsius}", _range(read, system)), "dot"))
    if assumed_until is not None:
        curves.insert(0, Curve(points(begin, assumed_until), phrase("the sheet's, before a reading"), "plus"))
    return tuple(curve for curve in curves if curve.points)


def _range(read: Sequence[float], system: System) -> str:
    """Return between which temperatures in °C the readings lie."""
    low, high = _celsius(min(read), system), _celsius(max(read), system)
    return low if low == high else phrase("{low} to {high}", low, high)


def _celsius(celsius: float, system: System) -> str:
    """Return a temperature in the units of who looks."""
    return str(units.display(Quantity(celsius, "°C"), system, 1))


def _words(
    steps: Sequence[Reading],
    running: Sequence[Clock],
    windows: Sequence[tuple[Clock, Clock]],
    now: datetime,
    assumed_until: datetime | None,
    system: System,
) -> str:
    """Return what the curve shows in sentences: the temperature, every limit, the windows."""
    since, celsius = steps[-1]
    if assumed_until == now:
        said = [phrase("No reading of the shop: the sheet's {celsius} is assumed.", _celsius(celsius, system))]
    else:
        read = phrase("read {at} ({ago})", times.wall(since, now), times.ago(since, now))
        said = [phrase("Shop {celsius}, {read}, taken to hold until the next reading.", _celsius(celsius, system), read)]
        if assumed_until is not None:
            said.append(
                phrase(
                    "Before {at} the sheet's {celsius} is assumed.",
                    times.wall(assumed_until, now),
                    _celsius(steps[0][1], system),
                )
            )
    for clock in running:
        if clock.due_at - now > STALLED / 2:
            said.append(phrase("{clock}: not reached while it stays so cold.", clock.title))
            continue
        was = phrase(", was {at}", times.wall(clock.moved_from, now)) if clock.moved_from is not None else ""
        said.append(f"{clock.title}: {phrase(clock.kind)} {times.wall(clock.due_at, now)}{was}.")
    for opens, closes in windows:
        if opens.due_at >= closes.due_at:
            said.append(phrase("No window: '{opens}' comes after '{closes}'.", opens.title, closes.title))
        else:
            said.append(
                phrase("The window is from {opens} to {closes}.", times.wall(opens.due_at, now), times.wall(closes.due_at, now))
            )
    return " ".join(said)


def pots(project: Project) -> list[tuple[Clock, Picture]]:
    """Return for each running pot the clock and its temperature against time, where its figures are known.

    A pot is a DO BEFORE clock that takes its time from a working of the calculator `potlife`.
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
        make = calc.find(act.calculator).picture
        drawn = make(result.inputs, result.outputs) if make is not None else None
        if drawn is not None:
            found.append((clock, drawn))
    return found


def _worked_out(run: Run, clock: Clock) -> WorkOut | None:
    """Return the working that gave a clock its time, if it is one of `potlife`."""
    acts = list(run.recipe.acts)
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
    """Return the picture of a pot with the present on its curve and the limit by the wall clock in its words."""
    minutes = (now - clock.started_at) / timedelta(minutes=1)
    course = drawn.curves[-1].points
    due = f"{clock.title}: {clock.kind} {times.wall(clock.due_at, now)}."
    if minutes > course[-1][0]:
        return replace(drawn, words=phrase("{due} It is past its gel. {curve}", due, drawn.words))
    celsius = next(celsius for at, celsius in course if at >= minutes)
    here = Label(phrase("now {at}", times.wall(now, now)), (minutes, celsius))
    return replace(drawn, labels=(*drawn.labels, here), words=f"{due} {drawn.words}")
