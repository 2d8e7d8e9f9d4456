"""A bare stage for widgets and screens: the application's key handling and themes, and nothing else of it."""

import asyncio
from collections.abc import AsyncIterator, Iterable
from contextlib import asynccontextmanager
from unittest.mock import patch

from textual import events
from textual.app import App, ComposeResult
from textual.filter import LineFilter
from textual.pilot import Pilot
from textual.screen import UPDATE_PERIOD, Screen
from textual.timer import Timer
from textual.widget import Widget

from shopmate.tui import stage
from shopmate.tui.keys import Normaliser
from shopmate.tui.themes import DARK, THEMES

KEYPAD = {
    "E": ("ctrl+j", "\n"),
    ".": ("decimal", "."),
    "/": ("divide", "/"),
    "-": ("subtract", "-"),
    "+": ("add", "+"),
}
"""What a keypad sends in a multiplexer or under the newer keyboard protocol; E stands for its Enter."""


MOST_PICTURES, MOST_TURNS = 200, 100_000
"""Pictures after which a screen that never keeps still is given up, and turns after which an event loop is."""


class StillPilot(Pilot[None]):
    """A pilot that pauses until nothing is left to do, instead of until the processor has been idle for a while."""

    async def pause(self, delay: float | None = None) -> None:
        """Let everything posted be done and drawn; what waits for a later time, such as the next second, stays waiting."""
        assert delay is None, "no test waits for time to pass"
        for _ in range(MOST_PICTURES):
            await nothing_left()
            screen = self.app.screen
            if not screen._update_timer._active.is_set():  # set while anything is to be laid out or drawn
                return
            screen._on_timer_update()  # as the timer does in a sixtieth of a second
        raise AssertionError("the screen never keeps still")


async def nothing_left() -> None:
    """Return once the event loop has nothing else to run, in two turns on end.

    Only the loop's own list of what is ready says so; without it a pause fails with AttributeError.
    """
    ready = asyncio.get_running_loop()._ready
    idle = 0
    for _ in range(MOST_TURNS):
        await asyncio.sleep(0)
        idle = 0 if ready else idle + 1
        if idle == 2:
            return
    raise AssertionError("the event loop never has nothing to run")


@asynccontextmanager
async def piloted(app: App, size: tuple[int, int]) -> AsyncIterator[StillPilot]:
    """Run an application without a terminal, and without time: no second passes but those that a test tells."""
    begin = Timer._start
    waiting: list[Timer] = []

    def start(timer: Timer) -> None:
        if timer._interval <= UPDATE_PERIOD:  # what is drawn; a longer one is for what goes by the time
            begin(timer)
        else:
            waiting.append(timer)  # its application knows it only as long as somebody holds it

    with patch.object(Timer, "_start", start):
        async with App.run_test(app, size=size):
            yield StillPilot(app)


class Stage(stage.Stage):
    ENABLE_COMMAND_PALETTE = False
    AUTO_FOCUS = ""

    def __init__(self, *widgets: Widget, theme: str = DARK.name) -> None:
        super().__init__()
        self._widgets = widgets
        self.closed_with: list[object] = []
        self._keys = Normaliser()
        self.touches: list[LineFilter] = []
        """What the application would add to the filters of lines."""
        for item in THEMES:
            self.register_theme(item)
        self.theme = theme

    def compose(self) -> ComposeResult:
        yield from self._widgets

    def get_line_filters(self) -> list[LineFilter]:
        return [*super().get_line_filters(), *self.touches]

    def run_test(self, *, size: tuple[int, int] = (80, 24)):
        return piloted(self, size)

    def open(self, screen: Screen) -> None:
        self.push_screen(screen, self.closed_with.append)

    async def on_event(self, event: events.Event) -> None:
        if isinstance(event, events.Key):
            event = self._keys.read(event)
        await super().on_event(event)


class Hands:
    """Presses keys at chosen times."""

    def __init__(self, pilot: Pilot, pause: float = 1.0) -> None:
        self.pilot, self.pause, self.now = pilot, pause, 100.0

    async def press(self, *keys: str, every: float | None = None) -> None:
        for key in keys:
            self.now += self.pause if every is None else every
            name, character = KEYPAD.get(key, (key, key if len(key) == 1 else None))
            await self.post(name, character)

    async def keypad(self, text: str) -> None:
        await self.press(*text.replace(" ", ""))

    async def post(self, name: str, character: str | None) -> None:
        event = key(name, character, self.now)
        self.pilot.app.post_message(event)
        await self.pilot.pause()


def key(name: str, character: str | None = None, at: float = 0.0) -> events.Key:
    event = events.Key(name, character if character is not None else (name if len(name) == 1 else None))
    event.time = at
    return event


def picture(app: App) -> list[str]:
    """Return the rows of the screen as plain text."""
    return ["".join(segment.text for segment in strip) for strip in app.screen._compositor.render_strips()]


def inks(app: App) -> Iterable[tuple[str, str, str]]:
    """Return text, foreground and background of every piece of the screen that has ink."""
    for strip in app.screen._compositor.render_strips():
        for segment in strip:
            style = segment.style
            if segment.text.strip() and style and style.color and style.bgcolor:
                front, back = style.color.get_truecolor().hex, style.bgcolor.get_truecolor().hex
                yield (segment.text, back, front) if style.reverse else (segment.text, front, back)
