"""What happens to clocks, and to the temperature that they go by."""

from __future__ import annotations

from datetime import datetime, timedelta

from shopmate import clock as clocks_
from shopmate.clock import Aging, Clock, Stage, aged_due
from shopmate.models.due import ClockKind
from shopmate.project.events.event import Happened, Move, Recorded, Said
from shopmate.project.events.stored import FLAT
from shopmate.project.project import Project
from shopmate.records import dataclass, field, replace
from shopmate.units import Quantity

_ROUNDED = timedelta(seconds=1)
"""The log keeps whole milliseconds: an event may seem that little earlier than what it tells of."""

_NOTICEABLE = timedelta(minutes=1)
"""A limit that moves by less is not said to have moved."""


@dataclass(frozen=True)
class Limit:
    """A clock as it is started."""

    name: str
    """The recipe's name for it, or 'own'."""
    title: str
    kind: ClockKind
    seconds: float
    """Time from its start until it is due, in s; at `sheet_celsius` where it goes by the temperature of the shop."""
    action: str
    """What to do when it falls due."""
    if_late: str
    time_to_act_s: float
    consequence: str
    sheet_celsius: float | None = None
    """Temperature for which the data sheet gives the time, in °C; None for a clock that goes by the wall."""
    since: datetime | None = None
    """When the clock began that it goes on from; None where it begins with its start."""

    def begin(self, project: Project, event: Recorded, run: str | None) -> Clock:
        """Start the clock in a project and return it; its key is that of the event."""
        needed = timedelta(seconds=self.seconds)
        aging = Aging(needed, self.sheet_celsius) if self.sheet_celsius is not None else None
        start = self.since or event.at
        clock = project.clocks[event.key] = Clock(
            key=event.key,
            name=self.name,
            title=self.title,
            kind=self.kind,
            started_at=start,
            due_at=aged_due(start, aging, self.kind, project.readings) if aging is not None else start + needed,
            aging=aging,
            action=self.action,
            if_late=self.if_late,
            time_to_act=timedelta(seconds=self.time_to_act_s),
            consequence=self.consequence,
            run=run,
            part=project.runs[run].part if run is not None else "",
            slot=clocks_.free_slot(project.running),
        )
        return clock


def end(project: Project, key: str, at: datetime) -> Clock | None:
    """End a clock of a project and return it; None where its start was taken back, or is lost."""
    if key not in project.clocks:
        return None
    ended = project.clocks[key] = replace(project.clocks[key], ended_at=at)
    return ended


@dataclass(frozen=True)
class Reading:
    """A reading of the shop temperature."""

    value: Quantity = field(metadata=FLAT)
    shown: str

    def take(self, project: Project, at: datetime, read_at: datetime | None = None) -> None:
        """Take it into a project: every running clock that goes by the temperature is reckoned anew.

        `read_at` is when it was measured, where that was before.
        """
        project.readings.append((read_at or at, self.value.value_in("°C")))
        for clock in project.running:
            if clock.aging is None:
                continue
            due = aged_due(clock.started_at, clock.aging, clock.kind, project.readings)
            if abs(due - clock.due_at) >= _NOTICEABLE:
                moved = replace(clock, due_at=due, moved_from=clock.due_at, moved_by=self.shown)
                project.clocks[clock.key] = _still_raised(moved, at)


@dataclass(frozen=True)
class TemperatureRead(Reading, Happened, kind="temperature", undoable=True, leaves_step=False):
    """The shop temperature was read outside of any step."""

    typed: str = ""
    moved: tuple[Move, ...] = ()

    def fold(self, project: Project, event: Recorded) -> None:
        self.take(project, event.at)

    def said(self) -> Said:
        return Said("Shop temperature", self.shown, moved=self.moved, typed=self.typed)


@dataclass(frozen=True)
class ClockStarted(Happened, kind="clock", undoable=False, leaves_step=False):
    """A clock of the user's own was started, outside any recipe."""

    clock: Limit
    shown: str = ""

    def fold(self, project: Project, event: Recorded) -> None:
        self.clock.begin(project, event, run=None)
        project.own_clocks += 1

    def said(self) -> Said:
        return Said(f"Started timer {self.clock.title}", self.shown)


@dataclass(frozen=True)
class OfClock:
    """What an event of a clock carries."""

    clock: str
    """Key of the clock, whose start may have been taken back meanwhile."""


@dataclass(frozen=True)
class AlarmRaised(OfClock, Happened, kind="alarm", undoable=False, leaves_step=False):
    """An alarm came up."""

    stage: Stage

    def fold(self, project: Project, event: Recorded) -> None:
        clock = project.clocks.get(self.clock)
        if clock is not None and not _is_to_come(clock, self.stage, event.at):
            project.clocks[self.clock] = replace(clock, raised={**clock.raised, self.stage: event.at})

    def said(self) -> Said:
        return Said(f"Alarm {self.stage}")


@dataclass(frozen=True)
class AlarmBack(AlarmRaised, kind="returned", undoable=False, leaves_step=False):
    """An alarm that was put off came back."""

    shown: str = ""

    def said(self) -> Said:
        return Said(f"Back from later: {self.shown}", self.shown)


@dataclass(frozen=True)
class Acknowledged(OfClock, Happened, kind="acknowledged", undoable=True, leaves_step=False):
    """An alarm was acknowledged."""

    stage: Stage
    shown: str = ""

    def fold(self, project: Project, event: Recorded) -> None:
        clock = project.clocks.get(self.clock)
        if clock is not None and not _is_to_come(clock, self.stage, event.at):
            project.clocks[self.clock] = replace(clock, acknowledged={**clock.acknowledged, self.stage: event.at})

    def said(self) -> Said:
        return Said(f"Acknowledged {self.shown}", self.shown)


@dataclass(frozen=True)
class PutOff(OfClock, Happened, kind="shelved", undoable=True, leaves_step=False):
    """An alarm was put off."""

    until: datetime
    shown: str = ""

    def fold(self, project: Project, event: Recorded) -> None:
        clock = project.clocks.get(self.clock)
        if clock is not None:
            project.clocks[self.clock] = replace(clock, shelved_until=self.until, shelved=clock.shelved + 1)

    def said(self) -> Said:
        return Said(f"Put off {self.shown}", self.shown)


@dataclass(frozen=True)
class ClockEnded(OfClock, Happened, kind="ended", undoable=True, leaves_step=False):
    """A clock was ended because what it stood for is done."""

    shown: str = ""

    def fold(self, project: Project, event: Recorded) -> None:
        end(project, self.clock, event.at)

    def said(self) -> Said:
        return Said(f"Ended {self.shown}", self.shown)


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
