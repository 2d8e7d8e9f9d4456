"""The application: it owns the session, the time and the alarms; screens ask it and are redrawn by it."""

from __future__ import annotations

import asyncio
import signal
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager, suppress
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING

from rich.console import RenderableType
from textual import events, work
from textual.driver import Driver
from textual.filter import LineFilter

from shopmate import phrases
from shopmate.dialogue import clocks, question, sound
from shopmate.dialogue import work as other_work
from shopmate.dialogue.asking import Dialogue, Say, Shown, T, Tell
from shopmate.dialogue.desk import Desk
from shopmate.dialogue.watch import Look
from shopmate.errors import FileProblems, LogError, ShopmateError
from shopmate.phrases import phrase
from shopmate.settings import Settings
from shopmate.tui.guard import Guard
from shopmate.tui.keys import Normaliser, NumLock
from shopmate.tui.lines import ASCII_CLASS, DecimalComma, PlainSigns, WithoutColour
from shopmate.tui.screen import KeyedScreen
from shopmate.tui.screens.bench import BenchScreen
from shopmate.tui.sound import Flash, ScreenSounder
from shopmate.tui.talk import TalkingApp
from shopmate.tui.themes import COLOURLESS, DARK, DARK_16, LIGHT, LIGHT_16, THEMES
from shopmate.tui.widgets.alarm_line import AlarmLine
from shopmate.tui.widgets.key_line import KeyLine

if TYPE_CHECKING:
    # What the first paint can do without is imported where it is used: a session brings YAML, SQLite and the calculators.
    from shopmate.awake import Awake
    from shopmate.session import Session
    from shopmate.steady import Steady


def read_time() -> datetime:
    """Return the time now, aware, in UTC."""
    return datetime.now(UTC)


def read_moment() -> float:
    """Return the moment now in seconds of the clock that keys are stamped with as they arrive."""
    return events.Event().time


class ShopmateApp(TalkingApp):
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
        self.guard = Guard(self.settings, moment)
        self._keys = Normaliser()
        self._num_lock = NumLock()
        self._wrong_words = ""
        self._path = path
        self._asked_to_leave = False
        self.fault: Exception | None = None
        """What ended the program though nobody asked to leave."""
        self.seven_bit = self.few_colours = False
        """Whether the terminal knows 7-bit signs only, and no more than 16 colours."""
        self._plain, self._comma, self._no_colour = PlainSigns(), DecimalComma(), WithoutColour()
        for theme in THEMES:
            self.register_theme(theme)
        self.use_theme()

    def on_load(self) -> None:
        """Take the user's own words before anything is drawn."""
        try:
            phrases.use_own()
        except FileProblems as error:
            self._wrong_words = phrase("The words stay as they come. {problems}", error)

    def get_default_screen(self) -> BenchScreen:
        """Return the bench: all else is laid over it."""
        return BenchScreen()

    @property
    def has_session(self) -> bool:
        """Whether a project is open."""
        return self.desk.has_session

    @property
    def session(self) -> Session:
        """The open project."""
        return self.desk.session

    @property
    def settings(self) -> Settings:
        """The settings of this machine."""
        return self.desk.settings

    def now(self) -> datetime:
        """Return the time, aware."""
        return self.desk.now()

    @property
    def bench(self) -> BenchScreen:
        """The bench screen, at the foot of the stack."""
        screen = self.screen_stack[0]
        assert isinstance(screen, BenchScreen)
        return screen

    @property
    def alarm_waits(self) -> bool:
        """Whether an alarm waits to be acknowledged."""
        return self.watching.alarm_waits(self.now())

    # How it looks

    def get_line_filters(self) -> Sequence[LineFilter]:
        """Return what every line goes through on its way to the terminal."""
        filters: list[LineFilter] = [self._no_colour] if self.no_color else [*super().get_line_filters()]
        if self.settings.decimal_mark == ",":
            filters.append(self._comma)
        if self.has_class(ASCII_CLASS):
            filters.append(self._plain)
        return filters

    def use_settings(self) -> None:
        """Go by the settings as they are now in all that is shown and taken."""
        self.guard.settings = self.settings
        self.set_class(self.seven_bit or self.settings.plain_signs, ASCII_CLASS)
        self.use_theme()
        self.refresh_css(animate=False)

    def use_theme(self) -> None:
        """Show the project's theme, as far as the terminal can."""
        light = self.has_session and self.session.project.theme == "light"
        if self.no_color:
            self.theme = COLOURLESS.name
        elif self.few_colours:
            self.theme = LIGHT_16.name if light else DARK_16.name
        else:
            self.theme = LIGHT.name if light else DARK.name

    def switch_theme(self, theme: str) -> str:
        """Show and keep another theme of the project, 'dark' or 'light'; return what was done."""
        self.session.set("theme", theme, self.now())
        self.use_theme()
        return phrase("DARK" if theme == "dark" else "LIGHT")

    # Keys

    def get_driver_class(self) -> type[Driver]:
        """Return the terminal's driver, made to drop bytes that mean no key, which otherwise end the program."""

        class Steady(super().get_driver_class()):  # type: ignore[misc]
            def run_input_thread(self) -> None:
                while True:
                    with suppress(ValueError, OverflowError):  # of its parser, which begins anew; ValueError also of its decoder
                        super().run_input_thread()
                        return

        return Steady

    def _handle_exception(self, error: Exception) -> None:
        """Close on a fault of ours and keep it: the command line writes the report, the terminal shows no traceback."""
        self.fault = self.fault or error
        super()._handle_exception(error)
        self._exit_renderables.clear()

    def panic(self, *renderables: RenderableType) -> None:
        """Close as the framework asks when its own terminal thread fails, and keep that as a fault."""
        self.fault = self.fault or RuntimeError("the terminal's thread failed")
        super().panic(*renderables)
        self._exit_renderables.clear()

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
        self.notices.stand("focus", phrase("KEYS GO ELSEWHERE: another window has them"), first=True)

    def on_app_focus(self) -> None:
        self.notices.stand("focus", "")

    async def action_quit(self) -> None:
        self.ask_to_quit()

    @work
    async def ask_to_quit(self) -> None:
        """Leave the program; while a clock runs, only after asking."""
        if not self._asked_to_leave:
            self._asked_to_leave = True
            await self.talk(other_work.leave(self.desk))
            self._asked_to_leave = False

    def leave(self) -> None:
        """End the program."""
        self.desk.close()
        self.exit()

    def attempt(self, act: Callable[[], str]) -> None:
        """Do something with the session, echo its word or why it could not be done, and draw the bench anew."""
        try:
            word = act()
        except LogError as error:
            self.tell(str(error))
            return
        except ShopmateError as error:
            word = str(error)
        self.echo(word)
        self.bench.refresh_view()
        self.show_alarms()

    @contextmanager
    def telling(self) -> Iterator[None]:
        """Tell what goes wrong within, such as a disk that is full, and go on."""
        try:
            yield
        except ShopmateError as error:
            self.tell(str(error))

    async def talk(self, dialogue: Dialogue[T]) -> T | None:
        """Hold a dialogue, and draw the bench anew once it is over."""
        result = await super().talk(dialogue)
        self.bench.refresh_view()
        self.show_alarms()
        return result

    def typed_before(self, place: str) -> tuple[str, str]:
        """Return the text and the unit that were half typed at a place of the project when it was shut."""
        return self.session.typing(place) if self.has_session else ("", "")

    def keep_typing(self, place: str, text: str, unit: str) -> None:
        """Keep on disk what is half typed at a place; where that fails it stands on the screen alone, which is said.

        With nothing typed there is nothing to say any more.
        """
        if not self.has_session:
            return
        words = ""
        try:
            self.session.keep_typing(place, text, unit)
        except LogError:
            if text:
                words = phrase("NOT ON DISK: what is being typed. Free the disk, or close what else holds the file")
        self.notices.stand("typing", words)

    def acknowledge(self) -> None:
        """Acknowledge the most urgent alarm, or the caution on the bench where that is on the screen."""
        if not self.has_session:
            return
        waits = self.watching.alarms(self.now())
        if waits or self.screen is self.bench:
            self.attempt(lambda: self.watching.acknowledge(self.now()))
            if len(self.watching.alarms(self.now())) < len(waits) and self.screen is self.bench:
                self.bench.after_alarm(waits[0])
        else:
            self.echo(phrase("nothing to acknowledge"))

    @work
    async def pass_hold(self, headline: str, reason: str) -> None:
        """Pass a hold point for a reason, after asking."""
        from shopmate.tui.screens.confirm import ConfirmScreen

        if await self.push_screen_wait(ConfirmScreen(question.pass_hold(headline, reason))):
            self.attempt(lambda: self.session.override(reason, self.now()))
        self.bench.refresh_view()

    @work
    async def shelve(self) -> None:
        """Ask for how long the most urgent alarm is put off."""
        await self.talk(clocks.put_off(self.desk))

    # Time

    def on_mount(self) -> None:
        self.use_theme()
        self.use_settings()
        self.set_interval(1.0, self.tick)
        if not self.is_headless:
            # Interrupted from outside it asks as for any other way to leave.
            with suppress(NotImplementedError):
                asyncio.get_running_loop().add_signal_handler(signal.SIGINT, self.ask_to_quit)

    def tick(self) -> None:
        """Record and sound what has come due, and redraw what time changes."""
        if not self.has_session:
            return
        look = self.watching.look(self.now())
        self.take_note(look)
        if look.took_over:
            self.bench.take_over()
        if look.followed:
            self.bench.refresh_view()
        else:
            self.bench.tick()
        self.show_alarms()

    def take_note(self, look: Look) -> None:
        """Show what a look at the time came upon, and move with the clock on the wall what is timed by it."""
        if self.bench.left_at is not None:
            self.bench.left_at += look.shift
        self.show_words(look.words)

    def show_words(self, words: Sequence[Tell | Say]) -> None:
        """Show words that stand until they are read, and those in passing."""
        for said in words:
            match said:
                case Tell(words=text):
                    self.tell(text)
                case Say(words=text):
                    self.echo(text)

    def record_alarms(self, now: datetime) -> None:
        """Record what has come due by `now`, before it is drawn."""
        self.show_words(self.watching.record(now))

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
                screen.show_notices(self.notices.words)
                screen.show_offers()

    # Sound

    @work
    async def sound_menu(self) -> None:
        """Ask what to do about the sound: try it, or pause it while an alarm sounds."""
        await self.talk(sound.menu(self.desk))

    def light(self, lit: bool) -> None:
        """Show the mark of the alarm lit or not, on a screen that is made."""
        for line in self.screen.query(AlarmLine):
            line.is_lit = lit

    # Work

    def start_work(self) -> None:
        """Open the project asked for, or the last one, or ask which; called once the first screen is painted."""
        self._start()
        if words := "\n".join(filter(None, (self.desk.settings_stay, self._wrong_words))):
            self.tell(words)

    @work
    async def _start(self) -> None:
        await self.talk(other_work.start(self.desk, self._path))

    def opened(self) -> None:
        """Show the bench of a project that was opened."""
        self.bench.come_back(self.session)
        self.use_theme()
        self.bench.refresh_view()

    @work
    async def other_work(self) -> None:
        """Ask what to work on beside the step in hand."""
        await self.talk(other_work.other(self.desk))

    async def show(self, what: Shown) -> None:
        from shopmate.tui.screens.clocks import ClocksScreen
        from shopmate.tui.screens.keys import KeysScreen

        if what == "clocks":
            await self.push_screen_wait(ClocksScreen())
        elif what == "keys":
            await self.push_screen_wait(KeysScreen())

    # Looking up

    def action_clocks(self) -> None:
        """Show all clocks."""
        from shopmate.tui.screens.clocks import ClocksScreen

        self.push_screen(ClocksScreen(), lambda _: self.bench.refresh_view())

    @work
    async def action_look_up(self) -> None:
        """Show the calculators, and lead back to the same step."""
        from shopmate.dialogue import look_up
        from shopmate.tui.screens.calculators import OTHER_WORK, CalculatorsScreen

        name = await self.push_screen_wait(CalculatorsScreen(look_up.which_calculator()))
        if name == OTHER_WORK:
            self.other_work()
        elif name is not None:
            await self.talk(look_up.calculator(self.desk, name))
        self.bench.refresh_view()


class KeysApp(ShopmateApp):
    """The measuring of the keyboard by itself, on no project."""

    def start_work(self) -> None:
        """Show the screen, and leave when it is left."""
        from shopmate.tui.screens.keys import KeysScreen

        self.push_screen(KeysScreen(), lambda _: self.exit())
