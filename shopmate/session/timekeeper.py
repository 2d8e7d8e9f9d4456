"""The clocks of a project, their alarms, the temperature they follow, and the computer's clock behind them all."""

from __future__ import annotations

from datetime import datetime, timedelta

from shopmate import clock as clocks_
from shopmate import times, units
from shopmate.calculator import Measure, doubt
from shopmate.clock import Clock
from shopmate.errors import Doubt, EntryError
from shopmate.models.due import ClockKind
from shopmate.phrases import phrase
from shopmate.project.events.clocks import (
    Acknowledged,
    AlarmBack,
    AlarmRaised,
    ClockEnded,
    ClockStarted,
    Limit,
    PutOff,
    TemperatureRead,
)
from shopmate.project.events.work import Opened, WallClockSet
from shopmate.records import replace
from shopmate.session.doing import moves
from shopmate.session.judging import CLOCK_LENGTH
from shopmate.session.recorder import NotNow, Recorder
from shopmate.steady import Steady
from shopmate.units import Quantity

APART = timedelta(seconds=2)
"""A wall clock that differs from the steady clock by more than this was changed; less is ordinary drift."""

SHOP_TEMPERATURE = Measure("°C", low=-40, high=60, soft_low=5, soft_high=40)
"""Range of the shop temperature."""

PUT_OFF = {1: "1 minute", 5: "5 minutes", 10: "10 minutes"}
"""How many minutes an alarm can be snoozed, with the words for it."""

CLOCK_NAMES = ("Glue", "Clamps", "Wet-out", "Fillet", "Paint", "Heater", "Vacuum", "Break")
"""Names offered for your own clock, so that it can be named without typing letters."""

_CLOCK_NAME = 18
"""Maximum characters in the name of a clock, so that all of it fits beside the time."""


def check_clock_name(name: str) -> None:
    """Raise EntryError for a name that does not fit beside the time of a clock."""
    if len(name) > _CLOCK_NAME:
        raise EntryError(
            phrase("{text} is too long for a clock", f"'{name}'"), phrase("use {most} characters or fewer", _CLOCK_NAME)
        )


class Timekeeper(Recorder):
    """Everything that can be done with the clocks of a project."""

    @property
    def clocks(self) -> list[Clock]:
        """Clocks that have not been ended, in the order they were started."""
        return self.project.running

    @property
    def leaving(self) -> str:
        """The question asked before you quit while clocks run, '' if none runs."""
        running = len(self.clocks)
        if running == 1:
            return phrase("1 clock is running and cannot ring while shopmate is closed. Leave?")
        return phrase("{count} clocks are running and cannot ring while shopmate is closed. Leave?", running) if running else ""

    @property
    def slots(self) -> dict[str, int]:
        """The slot of each clock not ended, from 0."""
        return {clock.key: clock.slot for clock in self.clocks}

    def tick(self, now: datetime) -> list[Clock]:
        """Record the alarms that came up or came back since the last look, and return their clocks.

        While another program works on the project, that one records them and this one follows.
        """
        if self.read_only:
            self.follow(now)
        self.show_life(now)
        raised: list[Clock] = []
        if not self.rings:
            return raised
        self.look_at_file(now)
        for clock in self.clocks:
            stage = clocks_.stage(clock, now)
            if stage is None:
                continue
            if stage not in clock.raised:
                self._record(AlarmRaised(clock=clock.key, stage=stage), now)
            elif clocks_.is_back(clock, now):
                self._record(AlarmBack(clock=clock.key, stage=stage, shown=clock.title), now)
            else:
                continue
            raised.append(self.project.clocks[clock.key])
        return raised

    def acknowledge_alarm(self, now: datetime) -> str:
        """Acknowledge the most urgent alarm and return which it was, '' if there is none.

        Raises NotNow if the alarm came up too recently for the key to be meant for it.
        """
        waiting = clocks_.alarms(self.clocks, now)
        if not waiting:
            return ""
        clock, stage = waiting[0], clocks_.stage(waiting[0], now)
        if stage is None or not clocks_.in_sight(clock, self.project.clocks.not_over, now):
            raise NotNow(phrase("NEW ALARM: read it, then * again"))
        self._record(Acknowledged(clock=clock.key, stage=stage, shown=clock.title), now)
        return phrase("SEEN {clock}", clock.title)

    def shelve(self, minutes: int, now: datetime) -> str:
        """Snooze the most urgent alarm, never beyond a DO BEFORE limit; NotNow if it may not be snoozed."""
        clock = self.may_shelve(now)
        if clock is None:
            raise NotNow(phrase("this alarm cannot be snoozed; acknowledge it"))
        until = now + timedelta(minutes=minutes)
        if clock.closes:
            until = min(until, clock.due_at)
        self._record(PutOff(clock=clock.key, until=until, shown=clock.title), now)
        return phrase("SNOOZED {clock} until {at}", clock.title, times.wall(until, now))

    def may_shelve(self, now: datetime) -> Clock | None:
        """Return the most urgent alarm if it may be snoozed."""
        waiting = clocks_.alarms(self.clocks, now)
        return waiting[0] if waiting and clocks_.may_shelve(waiting[0], now) else None

    def end_clock(self, key: str, now: datetime) -> str:
        """End a clock because what it was for is done."""
        clock = self.project.clocks[key]
        self._record(ClockEnded(clock=key, shown=clock.title), now)
        return phrase("ENDED {clock}", clock.title)

    def start_own(self, text: str, now: datetime, name: str = "") -> str:
        """Start your own DO BEFORE clock; without a name it gets a number.

        EntryError for a text that is not a length of time, or a name that does not fit.
        """
        length = timedelta(minutes=CLOCK_LENGTH.read(text).value_in("min"))
        check_clock_name(name)
        title = self._free_clock(name) if name else phrase("Timer {count}", self.project.own_clocks + 1)
        return self.start_clock(title, "DO BEFORE", length, now)

    def _free_clock(self, name: str) -> str:
        """Return a name that no running clock has, with a number added if one does."""
        running, number, free = {clock.title for clock in self.clocks}, 1, name
        while free in running:
            number += 1
            free = f"{name[: _CLOCK_NAME - len(str(number)) - 1]} {number}"
        return free

    def start_clock(self, title: str, kind: ClockKind, length: timedelta, now: datetime) -> str:
        """Start your own clock, outside any recipe."""
        limit = Limit(
            name="own",
            title=title[:_CLOCK_NAME],
            kind=kind,
            seconds=length.total_seconds(),
            action=phrase("Check the job"),
            if_late=phrase("It is overdue."),
            time_to_act_s=clocks_.AT_ONCE.total_seconds(),
            consequence=phrase("It is overdue."),
        )
        self._record(ClockStarted(clock=limit, shown=title), now)
        return phrase("STARTED {clock}", title)

    # The temperature of the shop

    def log_temperature(self, text: str, now: datetime, *, sure: bool = False) -> str:
        """Record the shop temperature, which moves the clocks that follow it at once. Return it as shown.

        Raises EntryError for a text that is not a temperature, Doubt for an odd one unless `sure`.
        """
        value = SHOP_TEMPERATURE.read(text)
        if not sure and (question := doubt(SHOP_TEMPERATURE, value)):
            raise Doubt(question)
        read = TemperatureRead(value=value, shown=self._shown(value), typed=text)
        self._record(replace(read, moved=moves(self.project, self._after(read, now))), now)
        return phrase("SHOP {temperature}", read.shown)

    def wants_temperature(self, now: datetime) -> bool:
        """Return whether a running clock follows the shop temperature and the last reading is old or missing."""
        if all(clock.aging is None for clock in self.clocks):
            return False
        return not self.project.readings or now - self.project.readings[-1][0] > self.project.reading_holds

    def last_reading(self, now: datetime) -> str:
        """Return the last reading of the shop temperature and how old it is, in words."""
        if not self.project.readings:
            return phrase("not measured yet")
        at, celsius = self.project.readings[-1]
        # As typed it may be in °F for who reads in °C.
        shown = units.display(Quantity(celsius, "°C"), self.project.system, 0)
        words = f"{shown}, {times.ago(at, now)}"
        return phrase("{reading}; old: measure again", words) if self.wants_temperature(now) else words

    # The computer's clock

    def resume(self, now: datetime, steady: Steady | None = None) -> None:
        """Record that work resumes, how the computer's clock was changed meanwhile, and the alarms that came up.

        Alarms that fell due meanwhile are missed alarms.
        """
        self._record(Opened(steady), now)
        self.check_wall_clock(now, steady)
        for clock in self.clocks:
            stage = clocks_.stage(clock, now)
            if stage is not None and stage not in clock.raised:
                self._record(AlarmRaised(clock=clock.key, stage="missed" if stage == "due" else stage), now)

    def check_wall_clock(self, now: datetime, steady: Steady | None) -> timedelta | None:
        """Record if the computer's clock was changed; each clock keeps the time that has passed and the time that is left.

        Returns by how much it was put forward; None if it was not changed, or if only the wall clock is known.
        """
        base = self.project.base
        if steady is None or base is None or base.boot != steady.boot or not self.rings:
            return None
        shift = now - (base.nought + timedelta(seconds=steady.seconds))
        if abs(shift) <= APART:
            return None
        self._record(WallClockSet(shift_s=round(shift.total_seconds(), 3), shown=_said_of_shift(shift)), now)
        if self.left_at is not None:
            self.left_at += shift
        return shift

    def set_notice(self, now: datetime) -> str:
        """Return what to say about the last change of the computer's clock; '' if there was none."""
        last = self.project.wall_set
        if last is None:
            return ""
        base = self.project.base
        older = [clock.title for clock in self.clocks if base is not None and int(clock.key) < base.since]
        words = phrase(
            "COMPUTER CLOCK SET forward {time} at {at}; your clocks still run true"
            if last.shift > timedelta()
            else "COMPUTER CLOCK SET back {time} at {at}; your clocks still run true",
            times.duration(abs(last.shift)),
            times.wall(last.at, now),
        )
        if older:
            words = phrase("{words}; check clocks from before the computer restarted: {clocks}", words, ", ".join(older))
        return words


def _said_of_shift(shift: timedelta) -> str:
    return phrase("forward {time}" if shift > timedelta() else "back {time}", times.duration(abs(shift)))
