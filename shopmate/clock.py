"""Clocks as functions of now: due times, states and alarms; nothing here sleeps or reads the time."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import datetime, timedelta
from enum import Enum
from typing import Literal

from shopmate.models import cure
from shopmate.models.arrhenius import ACTIVATION
from shopmate.models.due import ClockKind, closes
from shopmate.phrases import phrase
from shopmate.records import dataclass, field, replace

Stage = Literal["pre", "due", "missed"]
"""What an alarm was raised for: time running short, time reached, time reached while the program was shut."""


@dataclass(frozen=True, slots=True)
class Rhythm:
    """How an alarm sounds: by count and pace, since a terminal bell has one tone."""

    bells: int
    gap: timedelta
    every: timedelta | None
    """Time until it sounds again unless acknowledged; None for once only."""


@dataclass(frozen=True, slots=True)
class Priority:
    """What follows for an alarm from the time there is to act on it."""

    within: timedelta
    """The longest time to act that gives an alarm this priority."""
    word: str
    rhythm: Rhythm
    remind_every: timedelta | None
    """How often it is reminded of once it was seen and is not done; None for never."""
    flash: timedelta | None
    """How long its mark is lit, and then as long not; None where it stays lit."""


AT_ONCE = timedelta(minutes=2)
"""What is to be done at once leaves no longer than that to act; so does a clock of which nobody says another."""

PRIORITIES = {
    1: Priority(
        AT_ONCE, "NOW", Rhythm(5, timedelta(seconds=0.4), timedelta(seconds=10)),
        remind_every=timedelta(minutes=5), flash=timedelta(seconds=0.3),
    ),
    2: Priority(
        timedelta(minutes=30), "SOON", Rhythm(3, timedelta(seconds=0.6), timedelta(seconds=30)),
        remind_every=timedelta(minutes=15), flash=timedelta(seconds=1),
    ),
    3: Priority(timedelta.max, "LATER", Rhythm(1, timedelta(), None), remind_every=None, flash=None),
}  # fmt: skip
"""The priorities, the most urgent first; their marks flash 1.7 and 0.5 times a second."""


class State(Enum):
    """How a clock stands; each has a word and a shape of its own, so that colour only repeats it."""

    ARMED = ("running", "○")
    PRE_ALARM = ("soon", "◔")
    DUE = ("DUE", "●")
    DUE_ACKNOWLEDGED = ("due, seen", "◉")
    MISSED = ("MISSED", "✖")
    SHELVED = ("snoozed", "◌")
    DONE = ("done", "✓")

    @property
    def word(self) -> str:
        """The word shown for the state."""
        return phrase(self.value[0])

    @property
    def shape(self) -> str:
        """The mark shown for the state."""
        return self.value[1]


@dataclass(frozen=True, slots=True)
class Aging:
    """A time that a data sheet gives for one temperature, and that chemistry takes at another."""

    needed: timedelta
    """The sheet's time."""
    celsius: float
    """The temperature the sheet gives it for."""
    activation: float = ACTIVATION
    """Activation energy in J/mol."""


Reading = tuple[datetime, float]
"""A temperature of the shop in °C and when it was read; it holds until the next one."""


@dataclass(frozen=True, slots=True)
class Clock:
    """One running limit: when it began, when it is due, and what was done about it."""

    key: str
    """Unique in the project."""
    name: str
    """The recipe's name for it, such as pot_life."""
    title: str
    kind: ClockKind
    started_at: datetime
    due_at: datetime
    action: str
    """What to do when it falls due."""
    if_late: str
    time_to_act: timedelta
    consequence: str
    run: str | None = None
    part: str = ""
    """The part that its run works on; '' for a clock of the user's own."""
    slot: int = 0
    """Where it stands among those that run: the lowest place that was free when it was started, kept till it ends."""
    raised: Mapping[Stage, datetime] = field(default_factory=dict)
    """Alarms raised so far, with their times."""
    acknowledged: Mapping[Stage, datetime] = field(default_factory=dict)
    shelved_until: datetime | None = None
    """Until when its alarm is put off."""
    shelved: int = 0
    """How many times it was put off."""
    aging: Aging | None = None
    """How its time goes by the temperature of the shop; None for a clock that goes by the wall."""
    moved_from: datetime | None = None
    """When it was due before the last reading moved it."""
    moved_by: str = ""
    """The reading that moved it, as shown."""
    ended_at: datetime | None = None

    @property
    def whole_title(self) -> str:
        """Its title with the part it belongs to: two pots of two parts are told apart."""
        return f"{self.title} · {self.part}" if self.part else self.title

    @property
    def length(self) -> timedelta:
        """The time between start and due."""
        return self.due_at - self.started_at

    @property
    def closes(self) -> bool:
        """Whether a window closes with its time; else one opens."""
        return closes(self.kind)

    def has_closed(self, now: datetime) -> bool:
        """Whether the window is shut: such an alarm is never put off."""
        return self.closes and now >= self.due_at

    @property
    def warns_at(self) -> datetime | None:
        """When the pre-alarm comes: the larger of 2 min and a fifth of the time before it is due, never in the first half.

        A NOT BEFORE clock has none: nothing has to be done before it is due.
        """
        if not self.closes:
            return None
        lead = max(timedelta(minutes=2), self.length / 5)
        return self.due_at - min(lead, self.length / 2)

    @property
    def priority(self) -> int:
        """Which of the PRIORITIES its alarms have, by the time to act."""
        return next(number for number, priority in PRIORITIES.items() if self.time_to_act <= priority.within)

    @property
    def late(self) -> timedelta | None:
        """How long after its time a DO BEFORE clock was ended, or None."""
        if self.closes and self.ended_at is not None and self.ended_at > self.due_at:
            return self.ended_at - self.due_at
        return None


STALLED = timedelta(days=366)
"""How far off a limit is shown that the present cold never reaches."""


def aged_due(started_at: datetime, aging: Aging, kind: ClockKind, readings: Sequence[Reading]) -> datetime:
    """Return when a limit is reached that goes by equivalent age, from the readings of the shop temperature.

    Each reading holds until the next; before the first, the temperature on the data sheet is used. Where the
    chemistry is not known the safe side is used: a NOT BEFORE time counts nothing at 5 °C or colder and no more than
    the rate of 40 °C, a DO BEFORE time is never stretched beyond the rate of 12 °C.
    """
    known = [reading for reading in readings if reading[0] <= started_at]
    celsius = known[-1][1] if known else aging.celsius
    at, left = started_at, aging.needed.total_seconds()
    for read_at, read in readings:
        if read_at <= started_at:
            continue
        speed = _speed(celsius, aging, kind)
        passed = (read_at - at).total_seconds() * speed
        if passed >= left:
            break
        at, left, celsius = read_at, left - passed, read
    speed = _speed(celsius, aging, kind)
    return at + (timedelta(seconds=left / speed) if speed else STALLED)


def _speed(celsius: float, aging: Aging, kind: ClockKind) -> float:
    least = min(cure.COLD, aging.celsius)
    return cure.speed(celsius, aging.celsius, aging.activation, closes=closes(kind), least=least)


def moved(clock: Clock, shift: timedelta) -> Clock:
    """Return a clock with all its times moved by `shift`, as the wall clock was set: what remains stays the same."""
    return replace(
        clock,
        started_at=clock.started_at + shift,
        due_at=clock.due_at + shift,
        raised={stage: at + shift for stage, at in clock.raised.items()},
        acknowledged={stage: at + shift for stage, at in clock.acknowledged.items()},
        shelved_until=clock.shelved_until + shift if clock.shelved_until is not None else None,
        moved_from=clock.moved_from + shift if clock.moved_from is not None else None,
        ended_at=clock.ended_at + shift if clock.ended_at is not None else None,
    )


def stage(clock: Clock, now: datetime) -> Stage | None:
    """Return which alarm the time calls for: 'due', 'pre' or None; never 'missed', which only a start-up finds."""
    if clock.ended_at is not None:
        return None
    if now >= clock.due_at:
        return "missed" if "missed" in clock.raised else "due"
    return "pre" if clock.warns_at is not None and now >= clock.warns_at else None


def state(clock: Clock, now: datetime) -> State:
    """Return how a clock stands at `now`."""
    if clock.ended_at is not None:
        return State.DONE
    reached = stage(clock, now)
    if reached is None:
        return State.ARMED
    if reached in clock.acknowledged:
        return State.ARMED if reached == "pre" else State.DUE_ACKNOWLEDGED
    if clock.shelved_until is not None and now < clock.shelved_until and not clock.has_closed(now):
        return State.SHELVED
    return {"pre": State.PRE_ALARM, "due": State.DUE, "missed": State.MISSED}[reached]


def may_shelve(clock: Clock, now: datetime) -> bool:
    """Return whether a waiting alarm may be put off: never a DO BEFORE limit that is reached, the most urgent once."""
    if state(clock, now) not in (State.PRE_ALARM, State.DUE, State.MISSED):
        return False
    return not clock.has_closed(now) and (clock.priority > 1 or clock.shelved == 0)


def alarms(clocks: Iterable[Clock], now: datetime) -> list[Clock]:
    """Return the clocks whose alarm waits to be acknowledged, most urgent first."""
    waiting = [clock for clock in clocks if state(clock, now) in (State.PRE_ALARM, State.DUE, State.MISSED)]
    return sorted(waiting, key=lambda clock: (clock.priority, clock.due_at))


def first_up(waiting: Sequence[Clock], now: datetime) -> Clock | None:
    """Return which of several waiting alarms came up first, as the others may follow from it; None where fewer than two wait."""
    if len(waiting) < 2:
        return None
    return min(waiting, key=lambda clock: (raised_at(clock, now) or now, clock.due_at))


def raised_at(clock: Clock, now: datetime) -> datetime | None:
    """Return when the alarm the time calls for was raised, or was back from being put off; None if it was not."""
    reached = stage(clock, now)
    return clock.raised.get(reached) if reached is not None else None


SHOWN_FOR = timedelta(seconds=0.5)
"""How long an alarm is on the screen before it can be acknowledged: a key on its way down was not meant for it."""


def in_sight(clock: Clock, clocks: Iterable[Clock], now: datetime) -> bool:
    """Return whether the most urgent alarm has been on the screen long enough to be acknowledged.

    It has been there since it was raised, or since a more urgent one in `clocks` was acknowledged or ended.
    """
    raised = raised_at(clock, now)
    if raised is None:
        return False
    changes = [at for other in clocks for at in (*other.acknowledged.values(), other.ended_at) if at is not None]
    # A moment that is still to come was stamped before the clock on the wall was set back.
    return all(not timedelta(0) <= now - at < SHOWN_FOR for at in (raised, *changes))


def is_back(clock: Clock, now: datetime) -> bool:
    """Return whether the time for which an alarm was put off is over and that is not recorded yet."""
    raised = raised_at(clock, now)
    return (
        clock.shelved_until is not None
        and raised is not None
        and raised < clock.shelved_until <= now
        and stage(clock, now) not in clock.acknowledged
    )


_REMINDER_SHOWS = timedelta(seconds=30)


def reminders(clock: Clock, now: datetime) -> int:
    """Return how many reminders have come due since a limit was acknowledged and not acted on: every 5 or 15 min by priority."""
    reached, every = stage(clock, now), PRIORITIES[clock.priority].remind_every
    if every is None or reached in (None, "pre") or reached not in clock.acknowledged:
        return 0
    return max(0, (now - clock.acknowledged[reached]) // every)


def reminds(clock: Clock, now: datetime) -> bool:
    """Return whether a reminder is new enough to be marked on the screen."""
    return reminders(clock, now) > reminders(clock, now - _REMINDER_SHOWS)


def governing(clocks: Iterable[Clock], now: datetime) -> Clock | None:
    """Return the clock that rules what to do now: the next DO BEFORE, else the next NOT BEFORE."""
    running = [clock for clock in clocks if clock.ended_at is None]
    return min(running, key=lambda clock: (not clock.closes, clock.due_at), default=None)


def free_slot(running: Iterable[Clock]) -> int:
    """Return the lowest slot, from 0, that none of the running clocks has."""
    taken = {clock.slot for clock in running}
    return next(slot for slot in range(len(taken) + 1) if slot not in taken)
