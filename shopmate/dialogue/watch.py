"""What happens at each look at the time and at each key: a clock that was set, alarms, what sounds, what stands as a notice."""

from __future__ import annotations

import os
from collections.abc import Callable, Sequence
from datetime import datetime, timedelta
from typing import Literal, Protocol

from shopmate import channels, ears, paths, times
from shopmate import clock as clocks_
from shopmate.awake import Awake
from shopmate.clock import Clock, Rhythm
from shopmate.dialogue.asking import Say, Tell
from shopmate.dialogue.notices import Notices
from shopmate.errors import ShopmateError
from shopmate.phrases import phrase
from shopmate.records import dataclass
from shopmate.session import Session
from shopmate.settings import Settings
from shopmate.steady import Steady

_WALL_SET_STANDS = timedelta(minutes=10)
_SILENT_STANDS = timedelta(minutes=1)
"""How long is said that the computer's clock was set, and that its sleep is silent or the sound not tested; beside the clocks
the latter two are said on."""

_CALLED_AGAIN = timedelta(minutes=1)
"""After how long an alarm that nobody has acknowledged is said once more."""

_TEST = 2
"""The priority whose rhythm a sound test has: three beeps."""


class Sounder(Protocol):
    """What rings on a face; it decides nothing."""

    has_bell: bool
    """Whether there is a bell at all."""

    @property
    def untested(self) -> str:
        """What is to be said as long as nobody has said whether the bell is heard: where it is tested."""

    def ring(self, rhythm: Rhythm) -> None:
        """Ring the bell in a rhythm, where there is one; a burst that still sounds ends."""

    def hush(self) -> None:
        """End the burst that sounds."""

    def shift(self, by: timedelta) -> None:
        """Follow the clock on the wall that was set by so much, as far as bells are to ring by it."""

    def call(self, command: Sequence[str], words: str, ended: Callable[[str], None]) -> None:
        """Run the user's alarm command, not waiting for it; then tell `ended` why it failed, or ''."""

    def send_notification(self, words: str) -> None:
        """Have the terminal show a notification, where it can."""


@dataclass(frozen=True, slots=True)
class Call:
    """An alarm, or a reminder of what was seen and is not done, that is to be said now."""

    clock: Clock
    how: Literal["new", "waits", "reminder"]
    """Whether it has come up, waits since it was said last, or reminds."""


@dataclass(frozen=True, slots=True)
class Findings:
    """What a look at the time came upon, beside what sounds and the notices that stand."""

    shift: timedelta = timedelta()
    """By how much the clock on the wall was set; whatever a face remembers the time of moves by it."""
    words: tuple[Tell | Say, ...] = ()
    """What went wrong."""
    took_over: bool = False
    """Whether the window that worked on the project was closed, and this one records now."""
    followed: bool = False
    """Whether that window has changed the project."""
    foreseen: bool = False
    """Whether how long the run still takes was worked out anew."""


class Watch:
    """Looks at the time for one face; every time is an argument."""

    def __init__(
        self,
        sounder: Sounder,
        notices: Notices,
        settings: Callable[[], Settings],
        steady: Callable[[], Steady | None] = lambda: None,
        awake: Awake | None = None,
    ) -> None:
        """Sound by a `sounder`, as the `settings` of the moment say, and let `notices` stand.

        `steady` belongs with the times given: the two clocks of one computer, which `awake` keeps from sleeping.
        """
        self.notices = notices
        self.heard: bool | None = None
        """Whether the user heard the bell when asked; None before."""
        self.sleep_is_silent = False
        """Whether a clock ran and the computer could not be kept awake."""
        self._sounder, self._settings, self._steady, self._awake = sounder, settings, steady, awake
        self._session: Session | None = None
        self._sounds = (False, False)
        """Whether this window is the one that sounds, and whether a clock runs that it may have to sound for."""
        self._ears = ears.Ears()
        self._said_at: dict[ears.Sign, datetime] = {}
        """What calls -> when it was said last."""
        self._command_runs = False
        self._command_fault = ""
        """Why the alarm command failed last."""

    @property
    def session(self) -> Session:
        """The project that is watched."""
        assert self._session is not None
        return self._session

    def begin(self, session: Session, now: datetime) -> None:
        """Watch a project just opened; the sound is tried unless that was done, or an alarm that waits sounds by itself."""
        self._session, self._ears, self._said_at = session, ears.Ears(), {}
        self._sounds = (False, False)
        self._show_who_records(now)
        last = session.project.wall_set
        if last is not None and now - last.at < _WALL_SET_STANDS:
            self._show_wall_set(now)
        if self._sounder.has_bell and self.heard is None and not self.alarm_waits(now) and session.rings:
            self.try_sound()

    def end(self) -> None:
        """Watch no more: the computer may sleep, nothing sounds, and what stood about the project is gone."""
        if self._awake is not None:
            self._awake.release()
        self._sounder.hush()
        channels.end_commands()
        for name in ("reading", "quiet", "sound", "command", "wall", "untested"):
            self.notices.stand(name, "")
        self._session = None

    # Looking

    def look(self, now: datetime) -> Findings:
        """Record and sound what has come due, and see what time has changed; called once a second, or oftener."""
        session = self.session
        shift, told = self._find_wall_set(now)
        self._keep_awake(now)
        before, other_worked = session.project if session.read_only else None, session.other_works
        said = (*self._recorded(now), *self._kept_safe(now))
        self._show_who_records(now)
        self._sound(now)
        took_over = other_worked and not session.read_only
        if before is not None and not session.read_only and not took_over:
            said = (*said, Say(phrase("Recording again. What you acknowledged meanwhile is recorded too.")))
        followed = before is not None and before is not session.project
        return Findings(shift, (*told, *said), took_over, followed, session.foresee(now))

    def key_came(self, now: datetime) -> Findings:
        """Look at the clock on the wall before a key acts, so that nothing is reckoned with a wrong one."""
        self.notices.key_came()
        shift, told = self._find_wall_set(now)
        return Findings(shift, told)

    def record(self, now: datetime) -> tuple[Say, ...]:
        """Record what has come due by `now`, before it is drawn; the window that sounds the alarms does.

        Returns what went wrong.
        """
        return self._recorded(now) if self.session.rings else ()

    def _recorded(self, now: datetime) -> tuple[Say, ...]:
        try:
            self.session.tick(now)
        except ShopmateError as error:
            return (Say(str(error)),)  # it is tried once more at the next look
        return ()

    def _kept_safe(self, now: datetime) -> tuple[Say, ...]:
        try:
            self.session.keep_safe(now)
        except ShopmateError as error:
            return (Say(phrase("No backup: {why}", error)),)
        return ()

    def _find_wall_set(self, now: datetime) -> tuple[timedelta, tuple[Tell, ...]]:
        """Notice that the clock on the wall was set, before anything is reckoned with it, and let notices go in their time."""
        shift: timedelta | None = None
        told: tuple[Tell, ...] = ()
        try:
            shift = self.session.check_wall_clock(now, self._steady())
        except ShopmateError as error:
            told = (Tell(str(error)),)
        if shift is not None:
            self.notices.shift(shift)
            self._ears.shift(shift)
            self._sounder.shift(shift)
            self._said_at = {sign: at + shift for sign, at in self._said_at.items()}
            self._show_wall_set(now)
        self.notices.let_go(now)
        return shift or timedelta(), told

    def _show_wall_set(self, now: datetime) -> None:
        self.notices.stand("wall", self.session.set_notice(now), until=now + _WALL_SET_STANDS)

    def _keep_awake(self, now: datetime) -> None:
        """Keep the computer awake while a clock runs and this window is the one that sounds; once, say where that fails."""
        if self._awake is None:
            return
        if not self.session.clocks or not self.session.rings:
            self._awake.release()
            return
        self._awake.ask()
        if self._awake.refused and not self.sleep_is_silent:
            self.sleep_is_silent = True
            words = phrase("NO ALARM IN SLEEP: a sleeping computer sounds no alarm; turn its sleep off")
            self.notices.stand("sleep", words, until=now + _SILENT_STANDS)

    def _show_who_records(self, now: datetime) -> None:
        """Say, as long as it is so, why nothing is recorded here, and in the window that sounds the alarms what is silent."""
        words = self.session.why_read_only
        if not self.session.rings:
            words = phrase("READ ONLY: another window has this project open; alarms sound there only, nothing is recorded here")
        # Of a row that is short the folders would take the most; they are told in full when the project is opened.
        for folder in (self.session.log.path.parent, paths.home()):
            words = words.replace(f"{folder}{os.sep}", "")
        self.notices.stand("reading", words)
        self.show_silence()
        self._show_untested(now)

    # Alarms

    def alarms(self, now: datetime) -> list[Clock]:
        """Return the clocks whose alarm waits to be acknowledged, the most urgent first; none where no project is open."""
        return clocks_.alarms(self._session.clocks, now) if self._session is not None else []

    def alarm_waits(self, now: datetime) -> bool:
        """Return whether an alarm waits to be acknowledged."""
        return bool(self.alarms(now))

    def calls(self, now: datetime) -> list[Call]:
        """Return what is to be said at `now`, taken as said: what is new, reminders, and each minute what waits still."""
        calling, found = ears.calls(self.session.clocks, now), list[Call]()
        self._said_at = {sign: at for sign, at in self._said_at.items() if sign in calling}
        for sign, clock in calling.items():
            at = self._said_at.get(sign)
            if at is None:
                found.append(Call(clock, "reminder" if sign.reminds else "new"))
            elif sign.reminds or timedelta() <= now - at < _CALLED_AGAIN:
                continue
            else:
                found.append(Call(clock, "waits"))
            self._said_at[sign] = now
        return found

    def acknowledge(self, now: datetime) -> str:
        """Acknowledge the most urgent alarm, whose sound ends, or the caution on the bench; return what was done.

        Raises as `Session.acknowledge` does.
        """
        waits = self.alarm_waits(now)
        done = self.session.acknowledge(now)
        if waits:
            self._sounder.hush()
        return done

    # Sound

    @property
    def can_sound(self) -> bool:
        """Whether there is a channel at all."""
        return self._sounder.has_bell or bool(self._settings().alarm_command)

    def try_sound(self) -> None:
        """Sound three beeps and the alarm command, as an alarm within half an hour does."""
        self._burst(_TEST, phrase("Sound test"))

    def log_heard(self, heard: bool, now: datetime) -> None:
        """Go by whether the bell was heard when it was tried, and record it."""
        self.heard = heard
        try:
            self.session.log_sound(heard, now)
        finally:
            self.show_silence()
            self._show_untested(now)

    def may_pause(self, now: datetime) -> bool:
        """Return whether there is a sound here that an alarm calls for."""
        return self.alarm_waits(now) and self.can_sound and self.session.rings

    def pause(self, now: datetime) -> str:
        """Sound nothing of what calls now for a while; return that in words."""
        self._sounder.hush()
        self._ears.pause(self.session.clocks, now)
        self._show_pause(now)
        return phrase("SOUND PAUSED {time}; a new alarm still sounds.", self.paused(now))

    def paused(self, now: datetime) -> str:
        """Return how long the pause still lasts; '' when there is none."""
        left = self._ears.quiet_for(now)
        return times.span(left) if left else ""

    def show_silence(self) -> None:
        """Say which channels do not sound, as long as they do not; where another window sounds, that one says it."""
        words = "" if self._session is not None and not self._session.rings else self._silence()
        self.notices.stand("sound", words)
        fault = phrase("COMMAND FAILED: {fault}", self._command_fault) if self._command_fault else ""
        self.notices.stand("command", fault)

    def _silence(self) -> str:
        """Return what is to be said of the bell; where there is none, only that the command does not sound in its place."""
        if not self._sounder.has_bell:
            return phrase("NO SOUND: alarms are only printed") if self._command_fault else ""
        if self.heard is None:
            return ""
        return ears.silence(self.heard, self._settings().alarm_command, self._command_fault)

    @property
    def against_alarms(self) -> tuple[str, ...]:
        """What stands beside the clocks as long as it is so, in short: why an alarm may not be heard."""
        found = {"SOUND NOT TESTED": self.untested and self.session.rings, "NO ALARM IN SLEEP": self.sleep_is_silent}
        return tuple(phrase(words) for words, holds in found.items() if holds)

    @property
    def untested(self) -> bool:
        """Whether there is a bell and nobody has said whether it is heard."""
        return self._sounder.has_bell and self.heard is None

    def _show_untested(self, now: datetime) -> None:
        """Say until it is read that the bell is not tested: as this window comes to sound, and as a clock runs where none did."""
        here = self.session.rings
        sounds = (here, here and bool(self.session.clocks))
        if not (here and self.untested):
            self.notices.stand("untested", "")
        elif sounds > self._sounds:
            self.notices.stand("untested", self._sounder.untested, until=now)
        self._sounds = sounds

    def _show_pause(self, now: datetime) -> None:
        paused = self.paused(now)
        self.notices.stand("quiet", phrase("SOUND PAUSED {time}", paused) if paused else "")

    def _sound(self, now: datetime) -> None:
        """Sound what calls now, on every channel there is; the window that works on the project sounds."""
        if not self.session.rings:
            return
        burst = self._ears.listen(self.session.clocks, now)
        self._show_pause(now)
        if burst is not None:
            self._burst(burst.priority, burst.words)
            if burst.is_new and self._settings().notify:
                self._sounder.send_notification(burst.words)

    def _burst(self, priority: int, words: str) -> None:
        """Ring in the rhythm of a priority, and start the alarm command where there is one and it does not run already."""
        self._sounder.ring(clocks_.PRIORITIES[priority].rhythm)
        command = self._settings().alarm_command
        if command and not self._command_runs:
            self._command_runs = True
            self._sounder.call(command, words, self._command_ended)

    def _command_ended(self, fault: str) -> None:
        self._command_runs, self._command_fault = False, fault
        self.show_silence()
