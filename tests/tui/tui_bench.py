"""The whole application on a project of its own, worked with the sixteen keys of a keypad."""

from tui_stage import KEYPAD, Hands, picture, piloted

from shopmate.session import CautionView, ChooseView, EnterView, GateView, RowsView, Session, WaitView
from shopmate.settings import Settings
from shopmate.tui.app import ShopmateApp
from shopmate.tui.screens.choose import ChooseScreen
from shopmate.tui.widgets.entry import Entry
from shopmate.tui.widgets.key_line import KeyLine

KEYS = {**KEYPAD, "*": ("multiply", "*")}
"""What each key of a keypad sends; E stands for its Enter."""

UNGUARDED = Settings(hold_ms=0, repeat_ms=0, settle_ms=0)
"""Every key is taken, however soon: what the guards are not the matter of."""

SIZES = [(80, 24), (120, 35), (60, 18), (40, 12)]


class opened:
    """The application, running on a project file (or on none), with hands on a keypad."""

    def __init__(self, now, path=None, size=(80, 24), *, back=True, heard=True, **more):
        """With `back`, somebody who comes back to a run under way has gone on with it; with `heard`, the bell was tested."""
        more.setdefault("settings", UNGUARDED)
        self.hands, self.back = None, back
        self.now, self.app, self.size = now, ShopmateApp(path, now=now, moment=self.moment, **more), size
        self.app.watching.heard = heard

    async def __aenter__(self):
        self.running = piloted(self.app, self.size)
        self.pilot = await self.running.__aenter__()
        self.hands = Hands(self.pilot)
        await self.pilot.pause()
        if self.back and self.app.has_session and self.app.bench.stops:
            self.app.bench.go_on()
            await self.pilot.pause()
        return self

    async def __aexit__(self, *error):
        self.app.desk.close()
        await self.running.__aexit__(*error)

    def moment(self):
        """The moment on the clock that the keys are stamped with."""
        return self.hands.now if self.hands is not None else 0.0

    async def press(self, keys):
        """Press keys of the keypad, written as they are printed, E for Enter; blanks only divide them.

        An alarm is read before it is acknowledged: `*` is pressed half a second later.
        """
        for key in keys.replace(" ", ""):
            self.hands.now += 1
            self.now.on(seconds=0.5 if key == "*" else 0)
            await self.hands.post(*KEYS.get(key, (key, key)))
            while isinstance(self.app.screen, ChooseScreen) and self.app.screen.unread:
                await self.pilot.pause()  # until its thread has read all there is to choose from

    async def tick(self, **on):
        """Let the time go on and the application notice it."""
        self.now.on(**on)
        self.app.tick()
        await self.pilot.pause()

    async def wait(self, seconds):
        """Let so many seconds pass one by one, and return what was on the screen after each."""
        seen = []
        for _ in range(seconds):
            await self.tick(seconds=1)
            seen.append(self.text)
        return seen

    @property
    def session(self) -> Session:
        return self.app.session

    @property
    def view(self):
        return self.app.bench.view

    @property
    def entry(self):
        return self.app.screen.query_one(Entry)

    @property
    def said(self):
        return self.app.screen.query_one(KeyLine).said

    @property
    def shown(self):
        """The keys of the key line with their words."""
        return [(offer.key, offer.word) for offer in self.app.screen.query_one(KeyLine).offers]

    @property
    def text(self):
        return "\n".join(line.rstrip() for line in picture(self.app))

    @property
    def step_text(self):
        """The text of the step, without what stands beside it on a wide screen."""
        return "\n".join(line.partition("▏")[0].rstrip() for line in self.text.splitlines())

    async def step(self):
        """Do what the step asks for, with the keys a user would press."""
        view = self.view
        if self.app.bench.stops:
            await self.press("E")
        elif isinstance(view, CautionView):
            await self.press("*")
        elif isinstance(view, ChooseView):
            await self.press("E" if view.default else "1")
        elif isinstance(view, EnterView):
            await self.press("E" if view.default else f"{likely(view):g}E")
        elif isinstance(view, GateView) and view.options:
            await self.press("1")
        elif isinstance(view, GateView) and not view.go:
            await self.press("01E")
        elif isinstance(view, WaitView) and not view.go:
            await self.tick(hours=1)
        else:
            await self.press("E")

    @property
    def asked(self):
        """The headlines of what is asked now: all of several steps that are taken together."""
        return [row.label for row in self.view.frame.rows] or [self.view.headline]

    async def ask(self, label):
        """Choose one of several questions that are taken together."""
        while not any(row.label == label and self.app.bench.is_in_sight(row) for row in self.view.frame.rows):
            assert ("enter", "next page") in self.shown, f"no row '{label}': {self.text}"
            await self.press("E")
        (number,) = [row.number for row in self.view.frame.rows if row.label == label]
        await self.press(str(number))

    async def to(self, headline):
        """Work as far as a step; of several questions that are taken together those before it are answered one by one."""
        for _ in range(200):
            if self.view.headline == headline:
                return
            if isinstance(self.view, RowsView) and headline in self.asked and not self.view.is_list:
                await self.ask(next(row.label for row in self.view.frame.rows if row.mark == "offered"))
            else:
                await self.step()
        raise AssertionError(f"'{headline}' is not reached: {self.text}")


def likely(view):
    """A number in the middle of what is usual, in the unit of the entry in metric."""
    return (view.entry.soft_low + view.entry.soft_high) / 2
