"""The bench on a screen: it takes every key and every second, and redraws the screens that stand on it."""

from __future__ import annotations

import asyncio
import gc
import signal
from collections.abc import Callable
from contextlib import suppress
from datetime import UTC, datetime
from pathlib import Path

from textual import events

from shopmate.awake import Awake
from shopmate.dialogue import work
from shopmate.dialogue.asking import Dialogue, Question, show, tell
from shopmate.dialogue.desk import Desk
from shopmate.dialogue.watch import Findings
from shopmate.errors import ShopmateError
from shopmate.phrases import phrase
from shopmate.session import last_project
from shopmate.settings import Settings
from shopmate.steady import Steady
from shopmate.tui.guard import Guard
from shopmate.tui.keys import Normaliser, NumLock
from shopmate.tui.look import LookingApp
from shopmate.tui.screen import KeyedScreen
from shopmate.tui.screens.bench import BenchScreen
from shopmate.tui.sound import Flash, ScreenSounder
from shopmate.tui.terminal import SturdyApp
from shopmate.tui.widgets.alarm_line import AlarmLine
from shopmate.tui.widgets.key_line import KeyLine


def read_time() -> datetime:
    """Return the time now, aware, in UTC."""
    return datetime.now(UTC)


def read_moment() -> float:
    """Return the moment now in seconds of the clock that keys are stamped with as they arrive."""
    return events.Event().time


def _collect_garbage() -> None:
    """Look for garbage from the first frame on, where the command line put it off, but not among what the start made."""
    if not gc.isenabled():
        gc.freeze()
        gc.enable()


class ShopmateApp(LookingApp, SturdyApp):
    """The bench on one project."""

    draws = True

    ENABLE_COMMAND_PALETTE = False
    CSS_PATH = "screens/bench.tcss"

    def __init__(
        self,
        path: Path | None,
        now: Callable[[], datetime] = read_time,
        settings: Settings | None = None,
        trouble: str = "",
        moment: Callable[[], float] = read_moment,
        steady: Callable[[], Steady | None] = lambda: None,
        awake: Awake | None = None,
    ) -> None:
        """Open the project file `path`, or ask which when it is None and there is no last one.

        `trouble` is what is wrong with the file of the settings, said once at the start; `moment` reads the clock
        that the times of keys are of. `steady` belongs with `now`: the two clocks of one computer. `awake` keeps that
        computer from sleeping.
        """
        super().__init__()
        self.sounder = ScreenSounder(self)
        self.desk = Desk(self, self.sounder, now, steady, awake, settings, trouble)
        self.notices, self.watching = self.desk.notices, self.desk.watching
        self.flash = Flash(self, now, self.light)
        self.settings = self.desk.settings
        self.guard = Guard(self.settings, moment)
        self._keys = Normaliser()
        self._num_lock = NumLock()
        self._path = path
        self._asks_to_leave = False

    def on_load(self) -> None:
        self.desk.use_own_words()

    def get_default_screen(self) -> BenchScreen:
        """Return the bench: all else is laid over it. The project is opened before the first frame of it."""
        self.open_first()
        self.use_settings_first()
        return BenchScreen()

    def open_first(self) -> None:
        """Open the project asked for, or the last one; where that fails the dialogue of the start tries it again and says why."""
        path = self._path or last_project()
        with suppress(ShopmateError):
            if path is not None:
                self.desk.open(path)

    @property
    def bench(self) -> BenchScreen:
        """The bench screen, at the foot of the stack."""
        screen = self.screen_stack[0]
        assert isinstance(screen, BenchScreen)
        return screen

    # Keys

    async def on_event(self, event: events.Event) -> None:
        if isinstance(event, events.Key):
            event = self._keys.read(event)
            if self.has_session:
                self.take_note(self.watching.key_came(self.now()))
            screen = self.screen
            if isinstance(screen, KeyedScreen):
                self._num_lock.see(event, screen.wants_digits)
                self.show_num_lock()
            if event.key == "asterisk":
                # Taken before any field sees it: acknowledging works everywhere and types nothing.
                if why := self.guard.refuses(event.key, event.time, "once"):
                    for line in screen.query(KeyLine):
                        line.ignored(event, why)
                    return
                if isinstance(screen, KeyedScreen):
                    screen.saw(event)
                self.acknowledge()
                return
            if event.key in ("ctrl+q", "ctrl+c"):
                self.ask_to_quit()
                return
        await super().on_event(event)

    def num_lock_off(self) -> None:
        """Say that Num Lock seems to be off, until a digit arrives."""
        self._num_lock.off = True
        self.show_num_lock()

    def show_num_lock(self) -> None:
        """Let the notice about Num Lock stand or go."""
        self.notices.stand("numlock", phrase("NUM LOCK OFF? Digits come as arrows") if self._num_lock.off else "")

    def on_app_blur(self) -> None:
        self.notices.stand("focus", phrase("KEYS ARE GOING TO ANOTHER WINDOW"))

    def on_app_focus(self) -> None:
        self.notices.stand("focus", "")

    async def action_quit(self) -> None:
        self.ask_to_quit()

    def ask_to_quit(self) -> None:
        """Leave the program; while a clock runs, only after asking, which is done once."""
        if not self._asks_to_leave:
            self.start_dialogue(self._ask_to_leave())

    def _ask_to_leave(self) -> Dialogue[None]:
        self._asks_to_leave = True
        yield from work.leave(self.desk)
        self._asks_to_leave = False

    def leave(self) -> None:
        """End the program."""
        self.desk.close()
        self.exit()

    def redraw(self) -> None:
        self.bench.refresh_view()
        self.show_alarms()

    def acknowledge(self) -> None:
        """Acknowledge the most urgent alarm, or the caution on the bench where that is on the screen."""
        if not self.has_session:
            return
        waits = self.watching.alarms(self.now())
        if waits or self.screen is self.bench:
            # Asked before: the alarm that opens a wait in hand leads on past it.
            away = bool(waits) and self.session.was_called_away(waits[0], self.now())
            self.attempt(lambda: self.watching.acknowledge(self.now()))
            if len(self.watching.alarms(self.now())) < len(waits) and self.screen is self.bench:
                self.bench.after_alarm(called_away=away)
        else:
            self.say(phrase("nothing to acknowledge"))

    # Time

    def on_mount(self) -> None:
        self.call_after_refresh(_collect_garbage)
        self.set_interval(1.0, self.tick)
        if not self.is_headless:
            # Interrupted from outside it asks as for any other way to leave.
            with suppress(NotImplementedError):
                asyncio.get_running_loop().add_signal_handler(signal.SIGINT, self.ask_to_quit)

    def tick(self) -> None:
        """Record and sound what has come due, and redraw what time changes; nothing while the program is left."""
        if not self.screen_stack:
            return
        self.note_drawn()
        if not self.has_session:
            return
        found = self.watching.look(self.now())
        self.take_note(found)
        if found.took_over:
            self.bench.take_over()
        if found.followed or found.foreseen:
            self.bench.refresh_view()
        else:
            self.bench.tick()
        self.show_alarms()

    def take_note(self, found: Findings) -> None:
        """Show what a look at the time came upon, and move with the clock on the wall what is timed by it."""
        if self.bench.left_at is not None:
            self.bench.left_at += found.shift
        self.show_words(found.words)

    def show_alarms(self) -> None:
        """Show the alarm that waits, and the keys it brings, on the screen that is up."""
        if not self.has_session:
            return
        now = self.now()
        self.record_alarms(now)
        if any(call.how == "new" for call in self.watching.calls(now)):
            self.guard.alarm()
        # The tick can fall between a screen being pushed and its parts being there.
        if isinstance(self.screen, KeyedScreen) and self.screen.is_mounted:
            self.screen.show_alarms(self.session.clocks, now)
            self.screen.show_offers()
        waiting = self.watching.alarms(now)
        self.flash.follow(waiting[0].priority if waiting else None)

    def show_notice(self, name: str, words: str) -> None:
        """Show on every screen the notices that stand now."""
        for screen in self.screen_stack:
            if isinstance(screen, KeyedScreen) and screen.is_mounted:
                screen.show_notices(self.standing)
                screen.show_offers()

    def note_drawn(self) -> None:
        """Note which notices were in sight, and give the others their turn."""
        screen = self.screen
        if isinstance(screen, KeyedScreen) and screen.is_mounted and self.notices.drawn(*screen.drawn_notices(), self.now()):
            screen.show_notices(self.standing)

    def light(self, lit: bool) -> None:
        """Show the mark of the alarm lit or not, on the screen that is up; while the program is left there is none any more."""
        for screen in self.screen_stack[-1:]:
            for line in screen.query(AlarmLine):
                line.is_lit = lit

    # Work

    def start_work(self) -> None:
        """Ask which project to open where none is, and what to work on; called once the first frame is drawn."""
        self.start_dialogue(work.start(self.desk, self._path))
        if words := "\n".join(filter(None, (self.desk.settings_stay, self.desk.words_stay))):
            self.tell(words)

    async def put(self, question: Question) -> object:
        from shopmate.tui.answers import answer  # most of the screens, of which the first step needs none

        return await answer(self, question)

    def opened(self) -> None:
        """Show the bench of a project that was opened, once there is a bench."""
        if self.screen_stack:
            self.bench.come_back(self.session)
            self.bench.refresh_view()
            self.use_settings()  # it lays the bench out, and the framework then keeps what room the step took


class KeysApp(ShopmateApp):
    """The measuring of the keyboard by itself, on no project."""

    def open_first(self) -> None:
        """Open none."""

    def start_work(self) -> None:
        """Show the screen, and leave when it is left."""
        self.start_dialogue(self._measure())

    def _measure(self) -> Dialogue[None]:
        if words := self.desk.settings_stay:
            yield from tell(words)
        yield from show("keys")
        self.exit()
