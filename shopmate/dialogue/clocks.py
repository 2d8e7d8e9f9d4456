"""The clocks: ended, one of the user's own started, an alarm put off."""

from __future__ import annotations

from shopmate.clock import Clock
from shopmate.dialogue import question
from shopmate.dialogue.asking import Dialogue, Item, attempt, choose, confirm, enter
from shopmate.dialogue.desk import Desk
from shopmate.phrases import phrase
from shopmate.session import CLOCK_LENGTH, PUT_OFF


def end(desk: Desk, clock: Clock) -> Dialogue[None]:
    """End a clock; asked first while it still rules something: a DO BEFORE limit, or a hold point that is closed."""
    asked = question.end_clock(clock, desk.now())
    if asked is None or (yield from confirm(asked)):
        yield from attempt(lambda: desk.session.end_clock(clock.key, desk.now()))


def start_own(desk: Desk) -> Dialogue[None]:
    """Start a clock of the user's own."""
    title = phrase("Own clock: how long? It counts down to DO BEFORE.")
    text = yield from enter(title, CLOCK_LENGTH, "min", "own clock")
    if text is not None:
        yield from attempt(lambda: desk.session.start_own(text, desk.now()))


def put_off(desk: Desk) -> Dialogue[None]:
    """Ask for how long the most urgent alarm is put off, where it may be."""
    clock = desk.session.may_shelve(desk.now())
    if clock is None:
        return
    items = [Item(str(minutes), phrase(words)) for minutes, words in PUT_OFF.items()]
    minutes = yield from choose(phrase("Put off {clock}; it comes back by itself", clock.title), items)
    if minutes is not None:
        yield from attempt(lambda: desk.session.shelve(int(minutes), desk.now()))
