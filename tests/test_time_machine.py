"""Clocks over thousands of steps of stops, sleep, set clocks, kills and restarts, against a model in elapsed time."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable, Mapping
from contextlib import suppress
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from pathlib import Path

import pytest
from conftest import BEGAN
from hypothesis import Phase, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, precondition, rule, run_state_machine_as_test

from shopmate import clock as clocks_
from shopmate.clock import Clock
from shopmate.errors import LogError
from shopmate.log import Event, Log
from shopmate.project.events.clocks import AlarmRaised, ClockStarted
from shopmate.project.events.clocks import Limit as Begun
from shopmate.project.events.work import Opened
from shopmate.session import NotNow, Session
from shopmate.steady import Steady

STEPS = 10_000
"""Steps that the whole run has to take at the least."""

STALLED = 300 * 86400.0
"""Seconds by which a clock has to be off that the cold holds up."""

HELD = 60.0
"""Seconds by which a reading may move a clock without its being moved."""


def pace(celsius: float, sheet: float, kind: str) -> float:
    """Seconds of the sheet's time that pass in a second at a temperature: Arrhenius with 55 kJ/mol, on the safe side."""
    if kind == "NOT BEFORE" and celsius <= 5:
        return 0.0
    celsius = max(celsius, min(12.0, sheet)) if kind == "DO BEFORE" else min(celsius, 40.0)
    return math.exp(55_000 / 8.314462618 * (1 / (sheet + 273.15) - 1 / (celsius + 273.15)))


@dataclass(frozen=True)
class Limit:
    """A clock as the model knows it: how much time it needs, and since when, in seconds that really passed."""

    key: str
    kind: str
    to_act: float
    begun: float
    needs: float
    sheet: float | None

    @property
    def priority(self) -> int:
        return 1 if self.to_act <= 120 else 2 if self.to_act <= 1800 else 3


@dataclass(frozen=True)
class Deed:
    """Something the user did, which may be taken back."""

    what: str
    key: str = ""
    limit: Limit | None = None
    stage: str = ""
    at: float = 0.0
    number: float = 0.0
    """The temperature read, or until when an alarm is put off."""
    anew: frozenset[tuple[str, str]] = frozenset()
    """Alarms that a reading moved off, so that they come anew."""


class Bench(RuleBasedStateMachine):
    """A user, a computer whose clock is set and which stops, sleeps and starts anew, and the program on it.

    The model counts the seconds that passed: by the steady clock, from one start of the computer to the next by the wall.
    """

    steps = 0
    session_class: type[Session] = Session
    make_log: Callable[[], Log] = staticmethod(lambda: Log(Path("machine.shopmate"), in_memory=True))

    def __init__(self) -> None:
        super().__init__()
        self.passed = 0.0
        self.wall = BEGAN
        self.boots, self.up = 1, 50.0
        self.unnoticed = 0.0
        """Seconds by which the wall clock was set since the program looked last."""
        self.settings_noticed = 0
        self.deeds: list[Deed] = []
        self.alarms: Counter[tuple[str, str]] = Counter()
        self.came: dict[tuple[str, str], float] = {}
        """When each alarm was recorded last."""
        self.anew: Counter[tuple[str, str]] = Counter()
        """How often each alarm was moved off by a reading."""
        self.odd: set[str] = set()
        """Clocks that ran while time went back, from one start of the computer to the next: their age is anybody's guess."""
        self.log = self.make_log()
        self.session = self.session_class(self.log, {})
        self.session.name("Machine", "metric", self.wall, self.steady)
        self.known = 1

    # The computer

    @property
    def steady(self) -> Steady:
        return Steady(f"boot {self.boots}", self.up)

    def go_on(self, seconds: float) -> None:
        self.wall += timedelta(seconds=seconds)
        self.up += seconds
        self.passed += seconds

    def look(self) -> None:
        """What the program does before each act: compare the clocks."""
        self.session.check_wall_clock(self.wall, self.steady)
        self.settings_noticed += self.unnoticed != 0
        self.unnoticed = 0.0

    def reopen(self) -> None:
        self.log = self.read_again()
        self.session = self.session_class(self.log, {})
        self.session.resume(self.wall, self.steady)
        self.settings_noticed += self.unnoticed != 0
        self.unnoticed = 0.0
        self.take_alarms("missed")

    def read_again(self) -> Log:
        return self.log

    # The model

    @property
    def running(self) -> list[Limit]:
        ended = {deed.key for deed in self.deeds if deed.what == "end"}
        return [deed.limit for deed in self.deeds if deed.limit is not None and deed.limit.key not in ended]

    def shown(self, limit: Limit) -> Clock:
        return self.session.project.clocks[limit.key]

    def age(self, limit: Limit) -> tuple[float, float]:
        """The sheet's seconds that a limit has behind it now, and the pace at which it goes."""
        assert limit.sheet is not None
        celsius, since, age = limit.sheet, limit.begun, 0.0
        for deed in self.deeds:
            if deed.what != "read":
                continue
            if deed.at > since:
                age += (deed.at - since) * pace(celsius, limit.sheet, limit.kind)
                since = deed.at
                if age >= limit.needs:
                    break
            celsius = deed.number
        going = pace(celsius, limit.sheet, limit.kind)
        return age + (self.passed - since) * going, going

    def left(self, limit: Limit) -> float:
        """Seconds left; those of a limit that goes by the temperature are the program's own, which `check_age` judges."""
        if limit.sheet is None:
            return limit.begun + limit.needs - self.passed
        return (self.shown(limit).due_at - self.wall).total_seconds()

    def stage(self, limit: Limit) -> str:
        """The alarm that a limit calls for now, '' for none."""
        left = self.left(limit)
        if left <= 0:
            return "over"
        return "pre" if limit.kind == "DO BEFORE" and left <= self.lead(limit) else ""

    def lead(self, limit: Limit) -> float:
        """How many seconds before a DO BEFORE limit it warns: a fifth of the whole, 2 min at least, half of it at most."""
        whole = self.left(limit) + self.passed - limit.begun
        return min(max(120.0, whole / 5), whole / 2)

    def seen(self, limit: Limit, stage: str) -> bool:
        seen = False
        for deed in self.deeds:
            if deed.what == "see" and (deed.key, deed.stage) == (limit.key, stage):
                seen = True
            elif (limit.key, stage) in deed.anew:
                seen = False
        return seen

    def put_off(self, limit: Limit) -> bool:
        until = [deed.number for deed in self.deeds if deed.what == "put off" and deed.key == limit.key]
        reached = limit.kind == "DO BEFORE" and self.stage(limit) == "over"
        return bool(until) and self.passed < until[-1] and not reached

    @property
    def waiting(self) -> list[Limit]:
        """The limits whose alarm waits, the most urgent first."""
        waiting = [limit for limit in self.running if (stage := self.stage(limit)) and not self.seen(limit, stage)]
        waiting = [limit for limit in waiting if not self.put_off(limit)]
        return sorted(waiting, key=lambda limit: (limit.priority, self.left(limit)))

    def take_alarms(self, late: str) -> None:
        """Judge the alarms recorded by a look: none early, none twice, none left out; `late` is the word for a due one."""
        limits = {limit.key: limit for limit in self.running}
        for event in self.log.events(after=self.known):
            if event.kind == "alarm":
                limit, stage = limits[str(event.data["clock"])], str(event.data["stage"])
                assert stage in ("pre", late)
                alarm = (limit.key, "pre" if stage == "pre" else "over")
                assert self.stage(limit) == alarm[1], "an alarm before its time"
                self.alarms[alarm] += 1
                assert self.alarms[alarm] <= 1 + self.anew[alarm], "an alarm twice"
                self.came[alarm] = self.passed
            elif event.kind == "returned":
                limit = limits[str(event.data["clock"])]
                self.came[limit.key, self.stage(limit)] = self.passed
        self.known = len(self.log.events())
        for limit in self.running:
            if stage := self.stage(limit):
                assert self.alarms[limit.key, stage], "an alarm left out"

    # What happens

    @rule(seconds=st.sampled_from((1, 10, 60, 119, 600, 1800, 3 * 3600, 14 * 3600)), asleep=st.booleans())
    def let_time_pass_without_a_look(self, seconds: int, asleep: bool) -> None:
        """The program is stopped, or the whole computer sleeps: the steady clock counts both."""
        self.go_on(seconds)

    @rule(which=st.integers(0, 6), beside=st.sampled_from((-1, 0, 1, 30)), warned=st.booleans())
    @precondition(lambda self: self.running)
    def let_time_pass_to_an_alarm(self, which: int, beside: int, warned: bool) -> None:
        """To the second before a clock warns or is due, to that second, or past it; a tick looks there."""
        self.look()
        limit = self.running[which % len(self.running)]
        left = self.left(limit)
        seconds = math.ceil(left - self.lead(limit) if warned and limit.kind == "DO BEFORE" else left) + beside
        if 0 < seconds < 30 * 86400:
            self.tick(seconds)

    @rule(seconds=st.sampled_from((0, 1, 5, 60, 300, 900)))
    def tick(self, seconds: int) -> None:
        self.go_on(seconds)
        self.look()
        self.session.tick(self.wall)
        self.take_alarms("due")

    @rule(minutes=st.sampled_from((-5 * 1440, -1440, -90, -5, -1, 1, 5, 90, 1440, 40 * 1440)))
    def set_the_wall_clock(self, minutes: int) -> None:
        self.wall += timedelta(minutes=minutes)
        self.unnoticed += minutes * 60

    @rule(seconds=st.sampled_from((2, 600, 7200)))
    def kill_and_start_again(self, seconds: int) -> None:
        self.go_on(seconds)
        self.reopen()

    @rule(events=st.integers(0, 3))
    def kill_while_it_starts(self, events: int) -> None:
        """Nothing but the log is left of a start that was cut off after some events."""
        self.log = self.read_again()
        half, before = self.session_class(self.log, {}), len(self.log.events())
        with suppress(LogError):
            record, left = self.log.append, events

            def append(kind: str, data: Mapping[str, object], at: datetime, *, over: str | None = None) -> Event:
                nonlocal left
                if not left:
                    raise LogError("killed")
                left -= 1
                return record(kind, data, at, over=over)

            self.log.append = append  # type: ignore[method-assign]
            try:
                half.resume(self.wall, self.steady)
            finally:
                del self.log.append
        if any(event.kind == "wall" for event in self.log.events(after=before)):
            self.settings_noticed += 1
            self.unnoticed = 0.0
        self.reopen()

    @rule(seconds=st.sampled_from((30, 3600, 3 * 86400)), ahead=st.sampled_from((0, 0, 0, 300, 86400)))
    def start_the_computer_anew(self, seconds: int, ahead: int) -> None:
        """Between two starts there is the wall clock alone: by what it is ahead, time has passed."""
        self.wall += timedelta(seconds=seconds + ahead)
        before = self.passed
        self.passed += seconds + ahead + self.unnoticed
        self.unnoticed = 0.0
        if self.passed < before:
            self.odd |= {limit.key for limit in self.running}
            self.deeds = [replace(deed, at=min(deed.at, self.passed)) for deed in self.deeds]
        self.boots, self.up = self.boots + 1, 20.0
        self.reopen()

    @rule(
        kind=st.sampled_from(("DO BEFORE", "NOT BEFORE")),
        minutes=st.sampled_from((1, 3, 5, 20, 40, 240, 1440)),
        to_act=st.sampled_from((60.0, 120.0, 900.0, 7200.0)),
        sheet=st.sampled_from((None, None, 20.0, 25.0)),
    )
    @precondition(lambda self: len(self.running) < 7)
    def start_a_clock(self, kind: str, minutes: int, to_act: float, sheet: float | None) -> None:
        self.look()
        limit = Begun("pot", "Pot life", kind, minutes * 60.0, "Pour", "Stop", to_act, "Lost", sheet)
        self.session._record(ClockStarted(clock=limit, shown="Pot life"), self.wall)
        key = str(len(self.log.events()))
        self.deeds.append(Deed("start", key, Limit(key, kind, to_act, self.passed, minutes * 60.0, sheet)))

    @rule(kind=st.sampled_from(("DO BEFORE", "NOT BEFORE")), minutes=st.sampled_from((2, 15, 100)))
    @precondition(lambda self: len(self.running) < 7)
    def start_an_own_clock(self, kind: clocks_.ClockKind, minutes: int) -> None:
        self.look()
        self.session.start_clock("Kettle", kind, timedelta(minutes=minutes), self.wall)
        key = str(len(self.log.events()))
        self.deeds.append(Deed("start", key, Limit(key, kind, 120.0, self.passed, minutes * 60.0, None)))

    @rule()
    def acknowledge(self) -> None:
        """Once it is in sight, the most urgent alarm and no other is acknowledged."""
        self.tick(0)
        self.go_on(1)
        self.look()
        waiting = self.waiting
        if not waiting:
            with pytest.raises(NotNow):
                self.session.acknowledge(self.wall)
            return
        first, stage = waiting[0], self.stage(waiting[0])
        if self.came.get((first.key, stage), self.passed) == self.passed:
            return  # it came up in this second
        self.session.acknowledge(self.wall)
        self.deeds.append(Deed("see", first.key, stage=stage))

    @rule(minutes=st.sampled_from((1, 5, 10)))
    def put_an_alarm_off(self, minutes: int) -> None:
        self.tick(0)
        waiting = self.waiting
        first = waiting[0] if waiting else None
        reached = first is not None and first.kind == "DO BEFORE" and self.stage(first) == "over"
        often = sum(deed.what == "put off" and first is not None and deed.key == first.key for deed in self.deeds)
        if first is None or reached or (first.priority == 1 and often):
            with pytest.raises(NotNow):
                self.session.shelve(minutes, self.wall)
            return
        self.session.shelve(minutes, self.wall)
        until = self.passed + minutes * 60
        if first.kind == "DO BEFORE":
            until = min(until, self.passed + self.left(first))
        self.deeds.append(Deed("put off", first.key, number=until))

    @rule(which=st.integers(0, 6))
    @precondition(lambda self: self.running)
    def end_a_clock(self, which: int) -> None:
        self.look()
        running = self.running
        key = running[which % len(running)].key
        self.session.end_clock(key, self.wall)
        self.deeds.append(Deed("end", key))

    @rule(celsius=st.sampled_from((3, 8, 15, 20, 25, 35, 42)))
    def read_the_temperature(self, celsius: int) -> None:
        self.look()
        before = {limit: self.shown(limit).due_at for limit in self.running}
        self.session.log_temperature(f"{celsius} °C", self.wall, sure=True)
        self.deeds.append(Deed("read", at=self.passed, number=float(celsius)))
        moved = [limit for limit, due in before.items() if self.shown(limit).due_at != due]
        off = {(limit.key, "over") for limit in moved if self.stage(limit) != "over"}
        off |= {(limit.key, "pre") for limit in moved if not self.stage(limit)}
        self.anew.update(off)
        self.deeds[-1] = replace(self.deeds[-1], anew=frozenset(off))

    @rule()
    def take_back(self) -> None:
        """A clock that no step of a run has started is ended, not taken back."""
        self.look()
        last = next((deed for deed in reversed(self.deeds) if deed.what != "start"), None)
        if last is None:
            with pytest.raises(NotNow):
                self.session.take_back(self.wall)
            return
        self.session.take_back(self.wall)
        del self.deeds[-1 - self.deeds[::-1].index(last)]

    # What always holds

    @invariant()
    def all_is_as_the_model_says(self) -> None:
        type(self).steps += 1
        if self.unnoticed:
            return
        assert [clock.key for clock in self.session.clocks] == [limit.key for limit in self.running]
        for limit in self.running:
            clock = self.shown(limit)
            if limit.sheet is None:
                assert clock.due_at - self.wall == timedelta(seconds=self.left(limit)), "the time left is another"
            elif limit.key not in self.odd:
                self.check_age(limit)
            assert self.wall - clock.started_at == timedelta(seconds=self.passed - limit.begun), "the time passed is another"
        said = [clock.key for clock in clocks_.alarms(self.session.clocks, self.wall)]
        assert said == [limit.key for limit in self.waiting]
        assert sum(event.kind == "wall" for event in self.session.log.events()) == self.settings_noticed

    def check_age(self, limit: Limit) -> None:
        age, going = self.age(limit)
        left = (self.shown(limit).due_at - self.wall).total_seconds()
        if age >= limit.needs:
            assert left <= HELD
        elif going == 0:
            assert left > STALLED
        else:
            assert abs((limit.needs - age) / going - left) < HELD + 1


def run(bench: type[Bench], examples: int, *, steps: int = 60, to_fail: bool = False) -> int:
    """Let histories happen, and return how many steps were taken; one that is to fail is not looked into further."""
    bench.steps = 0
    phases = (Phase.generate,) if to_fail else tuple(Phase)
    run_state_machine_as_test(  # type: ignore[no-untyped-call]
        bench, settings=settings(max_examples=examples, stateful_step_count=steps, phases=phases, deadline=None)
    )
    return bench.steps


def test_no_alarm_is_missed_doubled_or_early_over_ten_thousand_steps() -> None:
    steps = run(Bench, 300)
    print(f"{steps} steps")
    assert steps >= STEPS


def test_nor_with_the_log_on_disk(tmp_path: Path) -> None:
    files = 0

    def make() -> Log:
        nonlocal files
        files += 1
        return Log(tmp_path / f"{files}.shopmate", create=True)

    class OnDisk(Bench):
        make_log = staticmethod(make)

        def read_again(self) -> Log:
            self.log.close()
            return Log(self.log.path)

        def teardown(self) -> None:
            self.log.close()

    assert run(OnDisk, 8) >= 200


# The model notices what it is there to notice


class NeverWatches(Session):
    def check_wall_clock(self, now: datetime, steady: Steady | None) -> timedelta | None:
        return None


class RaisesTwice(Session):
    def tick(self, now: datetime) -> list[Clock]:
        raised = super().tick(now)
        for clock in raised:
            stage = clocks_.stage(clock, now)
            self._record(AlarmRaised(clock=clock.key, stage=stage), now)
        return raised


class LooksAhead(Session):
    def tick(self, now: datetime) -> list[Clock]:
        return super().tick(now + timedelta(seconds=1))


class DropsWhatFellDueWhileShut(Session):
    def resume(self, now: datetime, steady: Steady | None = None) -> None:
        self._record(Opened(steady=steady), now)
        self.check_wall_clock(now, steady)


class ForgetsTheBoot(Session):
    def resume(self, now: datetime, steady: Steady | None = None) -> None:
        super().resume(now, None)


@pytest.mark.parametrize("broken", [NeverWatches, RaisesTwice, LooksAhead, DropsWhatFellDueWhileShut, ForgetsTheBoot])
def test_a_program_that_is_broken_is_found_out(broken: type[Session]) -> None:
    class Broken(Bench):
        session_class = broken

    with pytest.raises((AssertionError, NotNow, BaseExceptionGroup)):  # NotNow where the model holds that it may be done
        run(Broken, 60, to_fail=True)
