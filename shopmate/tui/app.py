"""The application: it owns the session, the time and the alarms; screens ask it and are redrawn by it."""

from __future__ import annotations

import asyncio
import signal
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager, suppress
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING, Any

from rich.console import RenderableType
from textual import events, work
from textual.app import App
from textual.driver import Driver
from textual.filter import LineFilter

from shopmate import clock as clocks_
from shopmate import phrases
from shopmate import settings as settings_
from shopmate.dialogue.asking import Dialogue, Item, Say, T, Tell
from shopmate.dialogue.notices import Notices
from shopmate.dialogue.watch import Look, Watch
from shopmate.errors import FileProblems, LogError, ShopmateError
from shopmate.phrases import phrase
from shopmate.settings import Settings
from shopmate.tui.guard import Guard
from shopmate.tui.keys import Normaliser, NumLock
from shopmate.tui.lines import ASCII_CLASS, DecimalComma, PlainSigns, WithoutColour
from shopmate.tui.screen import KeyedScreen
from shopmate.tui.screens.bench import BenchScreen
from shopmate.tui.screens.choose import ChooseScreen
from shopmate.tui.sound import Flash, ScreenSounder
from shopmate.tui.talk import talk, tell
from shopmate.tui.themes import COLOURLESS, DARK, DARK_16, LIGHT, LIGHT_16, THEMES
from shopmate.tui.widgets.alarm_line import AlarmLine
from shopmate.tui.widgets.key_line import KeyLine

if TYPE_CHECKING:
    # What the first paint can do without is imported where it is used: a session brings YAML, SQLite and the calculators.
    from shopmate.awake import Awake
    from shopmate.session import Session
    from shopmate.steady import Steady
    from shopmate.units import System

_RUNS = 2
"""Runs under way in the list of other work: with the rest of it they are chosen by one digit."""


def read_time() -> datetime:
    """Return the time now, aware, in UTC."""
    return datetime.now(UTC)


def read_moment() -> float:
    """Return the moment now in seconds of the clock that keys are stamped with as they arrive."""
    return events.Event().time


class ShopmateApp(App[None]):
    """The bench on one project."""

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
        self.now = now
        self.steady = steady
        self.settings = settings or Settings()
        self.notices = Notices(self.show_notices)
        self.sounder = ScreenSounder(self)
        self.watching = Watch(self.sounder, self.notices, lambda: self.settings, steady, awake)
        self.flash = Flash(self, now, self.light)
        self.guard = Guard(self.settings, moment)
        self._keys = Normaliser()
        self._num_lock = NumLock()
        self._trouble, self._wrong_words = trouble, ""
        self._path = path
        self._session: Session | None = None
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
        return self._session is not None

    @property
    def session(self) -> Session:
        """The open project."""
        assert self._session is not None
        return self._session

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

    @property
    def _settings_stay(self) -> str:
        return phrase("The settings stay as they come. {problems}", self._trouble) if self._trouble else ""

    def change(self, **changes: Any) -> None:
        """Change settings of this machine: shown at once, and kept for the next time."""
        self.settings = replace(self.settings, **changes)
        self.use_settings()
        if self._trouble:
            self.tell(phrase("For now only. {why}", self._settings_stay))  # writing would replace what is to be mended
            return
        with self.telling():
            settings_.save(self.settings)

    def use_settings(self) -> None:
        """Go by the settings as they are now in all that is shown and taken."""
        self.guard.settings = self.settings
        self.set_class(self.seven_bit or self.settings.plain_signs, ASCII_CLASS)
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
        if isinstance(self.screen, ChooseScreen) and self.screen.name == "quit":
            return
        if self._session is not None and (words := self._session.leaving):
            items = [Item("stay", phrase("Stay")), Item("leave", phrase("Leave, everything is recorded"))]
            screen = ChooseScreen(words, items, leave="stay", name="quit")
            if await self.push_screen_wait(screen) != "leave":
                return
        self.close_session()
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

    def echo(self, words: str) -> None:
        """Say in passing what was done or why not, on a screen that is made."""
        if isinstance(self.screen, KeyedScreen) and self.screen.is_mounted:
            self.screen.query_one(KeyLine).echo(words)

    @contextmanager
    def telling(self) -> Iterator[None]:
        """Tell what goes wrong within, such as a disk that is full, and go on."""
        try:
            yield
        except ShopmateError as error:
            self.tell(str(error))

    @work
    async def tell(self, words: str) -> None:
        """Show words that need all the room there is, once, until they are read."""
        await tell(self, words)

    async def talk(self, dialogue: Dialogue[T]) -> T | None:
        """Hold a dialogue on screens, and draw the bench anew once it is over; called in a worker."""
        result = await talk(self, dialogue, self.echo)
        self.bench.refresh_view()
        self.show_alarms()
        return result

    def typed_before(self, place: str) -> tuple[str, str]:
        """Return the text and the unit that were half typed at a place of the project when it was shut."""
        return self._session.typing(place) if self._session is not None else ("", "")

    def keep_typing(self, place: str, text: str, unit: str) -> None:
        """Keep on disk what is half typed at a place; where that fails it stands on the screen alone, which is said.

        With nothing typed there is nothing to say any more.
        """
        if self._session is None:
            return
        words = ""
        try:
            self._session.keep_typing(place, text, unit)
        except LogError:
            if text:
                words = phrase("NOT ON DISK: what is being typed. Free the disk, or close what else holds the file")
        self.notices.stand("typing", words)

    def acknowledge(self) -> None:
        """Acknowledge the most urgent alarm, or the caution on the bench where that is on the screen."""
        if self._session is None:
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
        from shopmate.dialogue import question
        from shopmate.tui.screens.confirm import ConfirmScreen

        if await self.push_screen_wait(ConfirmScreen(question.pass_hold(headline, reason))):
            self.attempt(lambda: self.session.override(reason, self.now()))
        self.bench.refresh_view()

    async def same_run(self) -> None:
        """Go on with the run on the bench, or end it before its end, after asking."""
        from shopmate.dialogue import question
        from shopmate.tui.screens.confirm import ConfirmScreen

        run = self.session.run
        items = [Item("on", phrase("Go on with it")), Item("up", phrase("Give it up"), phrase("it ends before its end"))]
        if await self.push_screen_wait(ChooseScreen(f"{run.recipe.title} · {run.part}", items)) != "up":
            return
        if await self.push_screen_wait(ConfirmScreen(question.give_up(run))):
            self.attempt(lambda: self.session.give_up(self.now()))

    @work
    async def shelve(self) -> None:
        """Ask for how long the most urgent alarm is put off."""
        from shopmate.session import PUT_OFF

        clock = self.session.may_shelve(self.now())
        if clock is None:
            return
        items = [Item(str(minutes), phrase(words)) for minutes, words in PUT_OFF.items()]
        minutes = await self.push_screen_wait(
            ChooseScreen(phrase("Put off {clock}; it comes back by itself", clock.title), items)
        )
        if minutes is not None:
            self.attempt(lambda: self.session.shelve(int(minutes), self.now()))

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
        if self._session is None:
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
        if self._session is None:
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

    def show_notices(self, *changed: str) -> None:
        """Show on every screen the notices that stand now, as one of them has `changed`."""
        for screen in self.screen_stack:
            if isinstance(screen, KeyedScreen) and screen.is_mounted:
                screen.show_notices(self.notices.words)
                screen.show_offers()

    # Sound

    @work
    async def sound_menu(self) -> None:
        """Ask what to do about the sound: try it, or pause it while an alarm sounds."""
        items = [Item("test", phrase("Sound test"), phrase("3 beeps, and the alarm command if there is one"))]
        if self.watching.may_pause(self.now()):
            items.append(Item("quiet", phrase("Quiet for 2 minutes"), phrase("a new alarm sounds all the same")))
        chosen = await self.push_screen_wait(ChooseScreen(phrase("Sound"), items))
        if chosen == "test":
            await self.test_sound()
        elif chosen == "quiet":
            self.watching.pause(self.now())

    async def test_sound(self) -> None:
        """Sound three beeps and ask whether they were heard; the answer is recorded."""
        self.watching.try_sound()
        items = [Item("yes", phrase("Yes")), Item("no", phrase("No"))]
        explain = phrase("Stand where you work, with fan and respirator on, ears as they will be.")
        answer = await self.push_screen_wait(ChooseScreen(phrase("Did you hear 3 beeps?"), items, leave="later", explain=explain))
        if answer is not None:
            with self.telling():
                self.watching.log_heard(answer == "yes", self.now())

    def light(self, lit: bool) -> None:
        """Show the mark of the alarm lit or not, on a screen that is made."""
        if isinstance(self.screen, KeyedScreen) and self.screen.is_mounted:
            self.screen.query_one(AlarmLine).is_lit = lit

    # Work

    def start_work(self) -> None:
        """Open the project asked for, or the last one, or ask which; called once the first screen is painted."""
        from shopmate.session import last_project

        path = self._path or last_project()
        if path is not None:
            self.open(path)
        else:
            self.welcome()
        if words := "\n".join(filter(None, (self._settings_stay, self._wrong_words))):
            self.tell(words)

    def open(self, path: Path) -> None:
        """Open a project file and show its bench."""
        from shopmate.session import Session, shelf

        try:
            session = Session.open(path, self.now(), shelf(), self.steady())
        except ShopmateError as error:
            self.trouble(str(error))
            return
        self.use(session)

    def use(self, session: Session) -> None:
        """Put an open project on the bench."""
        self.close_session()
        self._session = session
        self.bench.come_back(session)
        self.watching.begin(session, self.now())
        self.use_theme()
        self.bench.refresh_view()
        if session.project.run is None:
            self.other_work()

    def close_session(self) -> None:
        """Close the project file."""
        if self._session is not None:
            self.watching.end()
            self._session.close()
            self._session = None

    @work
    async def trouble(self, words: str) -> None:
        """Say what stands in the way of opening a project, and go on with another."""
        await self.push_screen_wait(ChooseScreen(words, [Item("on", phrase("Go on"))], leave=""))
        self.choose_project()

    @work
    async def welcome(self) -> None:
        """Ask, the first time, for a new project or the demo."""
        items = [
            Item("new", phrase("New project")),
            Item("demo", phrase("Demo"), phrase("a bird hide on a trailer; all its data is invented")),
        ]
        words = phrase("shopmate · no project yet")
        chosen = await self.push_screen_wait(
            ChooseScreen(words, items, leave="", explain=phrase("Digits choose. Everything is recorded as it is done."))
        )
        if chosen == "demo":
            self.open_demo()
        else:
            await self.new_project()

    def open_demo(self) -> None:
        """Open the demo project."""
        from shopmate.session.demo import demo_project

        try:
            path = demo_project(self.now())
        except ShopmateError as error:
            self.trouble(str(error))
        else:
            self.open(path)

    async def new_project(self) -> None:
        """Ask for the name and the units of a new project and open it."""
        from shopmate.session import Session, free_project_name, project_path, shelf
        from shopmate.tui.screens.name import NameScreen

        name = await self.push_screen_wait(NameScreen(phrase("Name of the project"), free_project_name()))
        if name is None:
            self.choose_project()
            return
        units = [Item("metric", phrase("Metric"), "mm, g, °C"), Item("inch", phrase("Inch"), "in, oz, °F")]
        system = await self.push_screen_wait(ChooseScreen(phrase("Units to show; both are understood when typed"), units))
        try:
            units_shown: System = "inch" if system == "inch" else "metric"
            session = Session.create(project_path(name), name, self.now(), shelf(), units_shown, self.steady())
        except ShopmateError as error:
            self.trouble(str(error))
            return
        self.use(session)

    @work
    async def choose_project(self) -> None:
        """Ask which project to work on."""
        from shopmate.session import projects

        files = projects()
        items = [Item(str(path), path.stem) for path in files] + [
            Item("new", phrase("New project")),
            Item("demo", phrase("Demo"), phrase("invented data")),
        ]
        chosen = await self.push_screen_wait(ChooseScreen(phrase("Project"), items, leave="back" if self.has_session else ""))
        if chosen == "new":
            await self.new_project()
        elif chosen == "demo":
            self.open_demo()
        elif chosen is not None:
            self.open(Path(chosen))

    @work
    async def other_work(self) -> None:
        """Ask what to work on: a run under way, a recipe on a part, another project, or the settings."""
        from shopmate.dialogue import temperature

        session = self.session
        now = self.now()
        items = []
        for run in session.under_way:
            section = run.section.name if run.section is not None else phrase("complete")
            note = f"{section} · {clocks_.ago(run.last_at, now)}"
            items.append(Item(f"run:{run.key}", f"{run.recipe.title} · {run.part}", note))
        if len(items) > _RUNS:
            rest = len(items) - _RUNS + 1
            items, others = [*items[: _RUNS - 1], Item("runs", phrase("{count} more runs under way", rest))], items[_RUNS - 1 :]
        items += [
            Item("begin", phrase("Begin a recipe on a part")),
            Item("clocks", phrase("Clocks")),
            Item("temperature", phrase("Shop temperature"), session.last_reading(now)),
            Item("materials", phrase("Shelf and tables"), phrase("figures of sheets; screws, drills, woods, fillers")),
            Item("project", phrase("Another project")),
            Item("settings", phrase("Settings"), phrase("units, theme, how long a reading holds")),
            Item("leave", phrase("Leave shopmate")),
        ]
        chosen = await self.push_screen_wait(ChooseScreen(session.project.name, items, leave="bench"))
        if chosen == "runs":
            chosen = await self.push_screen_wait(ChooseScreen(phrase("Runs under way"), others))
        with self.telling():
            if chosen == "begin":
                await self.begin()
            elif chosen == "temperature":
                await self.talk(temperature.read(self))
            elif chosen == "clocks":
                self.action_clocks()
            elif chosen == "materials":
                await self.materials()
            elif chosen == "leave":
                self.ask_to_quit()
                return
            elif chosen == "project":
                self.choose_project()
            elif chosen == "settings":
                await self.change_settings()
            elif chosen == f"run:{session.project.current}":
                await self.same_run()
            elif chosen is not None:
                session.choose(chosen.removeprefix("run:"), self.now())
        self.bench.refresh_view()

    async def materials(self) -> None:
        """Ask for the shelf, where figures are changed, or the tables, where they are looked up."""
        items = [
            Item("shelf", phrase("Shelf"), phrase("materials and the figures of their sheets")),
            Item("tables", phrase("Tables"), phrase("screws, drills, woods, fillers")),
        ]
        chosen = await self.push_screen_wait(ChooseScreen(phrase("Shelf and tables"), items))
        if chosen == "shelf":
            from shopmate.dialogue import shelf

            await self.talk(shelf.keep(self))
        elif chosen == "tables":
            from shopmate.dialogue import look_up

            await self.talk(look_up.tables())

    async def change_settings(self) -> None:
        """Ask which setting of the project or of this machine to change, until none is left to."""
        from shopmate.session import READING_HOLDS
        from shopmate.tui.screens.value import ValueScreen

        session = self.session
        while True:
            light = session.project.theme == "light"
            metric = session.project.system == "metric"
            other = "inch" if metric else "metric"
            hours, comma = session.project.reading_holds / timedelta(hours=1), self.settings.decimal_mark == ","
            items = [
                Item("system", phrase("Show inch units" if metric else "Show metric units")),
                Item("theme", phrase("Dark theme, for a dark shop" if light else "Light theme, for a lit shop")),
                Item(
                    "reading_holds",
                    phrase("A reading holds for {hours:g} h", hours),
                    phrase("of the shop temperature; then the clocks ask anew"),
                ),
                Item(
                    "plain_signs",
                    phrase("All signs again" if self.settings.plain_signs else "Plain signs only"),
                    phrase("7 bits, for old terminals"),
                ),
                Item(
                    "decimal_mark",
                    phrase("Decimal point" if comma else "Decimal comma"),
                    phrase("both are understood; working and tables keep the point"),
                ),
                Item("keys", phrase("Keys of this keyboard"), phrase("how it repeats, which keys arrive")),
                Item("sound", phrase("Sound test"), phrase("3 beeps")),
                Item(
                    "notify",
                    phrase("Notifications of the terminal off" if self.settings.notify else "Notifications of the terminal on"),
                    phrase("at an alarm"),
                ),
            ]
            chosen = await self.push_screen_wait(ChooseScreen(phrase("Settings"), items))
            if chosen is None:
                return
            if chosen == "plain_signs":
                self.change(plain_signs=not self.settings.plain_signs)
                continue
            if chosen == "decimal_mark":
                self.change(decimal_mark="." if comma else ",")
                continue
            if chosen == "keys":
                from shopmate.tui.screens.keys import KeysScreen

                await self.push_screen_wait(KeysScreen())
                continue
            if chosen == "sound":
                await self.test_sound()
                continue
            if chosen == "notify":
                self.change(notify=not self.settings.notify)
                continue
            value: str | None = other if chosen == "system" else "dark" if light else "light"
            if chosen == "reading_holds":
                value = await self.push_screen_wait(
                    ValueScreen(phrase("How long a shop temperature holds"), READING_HOLDS, "h", "holds")
                )
            if value is not None:
                with self.telling():
                    session.set(chosen, value, self.now())
            self.use_theme()

    async def begin(self) -> None:
        """Ask for a part and a recipe and begin it."""
        from shopmate.session import PARTS, recipe_files

        session = self.session
        parts = [Item(f"part:{name}", name) for name in session.project.parts]
        new = [Item(f"new:{kind}", phrase("New: {part}", phrase(kind))) for kind in PARTS]
        new.append(Item("name", phrase("New: with a name of its own")))
        chosen = await self.push_screen_wait(ChooseScreen(phrase("Which part?"), [*parts, *new]))
        if chosen is None:
            return
        found = recipe_files()
        files = [file for file in found if file.recipe is not None]
        bad = [file for file in found if file.recipe is None]
        explain = "; ".join(phrase("{recipe} has {problem}", file.name, file.problem) for file in bad)
        items = [Item(file.name, file.recipe.title, file.recipe.about) for file in files if file.recipe is not None]
        name = await self.push_screen_wait(ChooseScreen(phrase("Which recipe?"), items, explain=explain))
        recipe = next((file.recipe for file in files if file.name == name), None)
        if recipe is None:
            return
        part = await self.part(chosen)
        if part is not None:
            session.begin(part, recipe, self.now())

    async def part(self, chosen: str) -> str | None:
        """Return the part that was chosen, adding a new one."""
        session = self.session
        how, _, name = chosen.partition(":")
        if how == "part":
            return name
        if how == "name":
            from shopmate.tui.screens.name import NameScreen

            typed = await self.push_screen_wait(NameScreen(phrase("Name of the part"), session.free_part(phrase("Part")), "part"))
            typed = " ".join(typed.split()) if typed is not None else None
            if typed is None or typed in session.project.parts:
                return typed
            return session.add_part(typed, self.now())
        return session.add_part(session.free_part(phrase(name)), self.now())

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
            await self.talk(look_up.calculator(self, name))
        self.bench.refresh_view()


class KeysApp(ShopmateApp):
    """The measuring of the keyboard by itself, on no project."""

    def start_work(self) -> None:
        """Show the screen, and leave when it is left."""
        from shopmate.tui.screens.keys import KeysScreen

        self.push_screen(KeysScreen(), lambda _: self.exit())
