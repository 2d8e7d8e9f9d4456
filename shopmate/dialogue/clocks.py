"""The clocks: ended, one of the user's own started, an alarm put off."""

from __future__ import annotations

from datetime import datetime

from shopmate import times
from shopmate.clock import Clock
from shopmate.dialogue.asking import Confirm, Dialogue, Item, attempt, choose, confirm, enter, name, say
from shopmate.dialogue.desk import Desk
from shopmate.errors import EntryError
from shopmate.phrases import phrase
from shopmate.session import CLOCK_LENGTH, CLOCK_NAMES, PUT_OFF, Session, check_clock_name


def numbered(session: Session) -> dict[int, Clock]:
    """Return the running clocks by the number that chooses each, which it keeps as long as it runs."""
    slots = session.slots
    return {slots[clock.key] + 1: clock for clock in sorted(session.clocks, key=lambda clock: slots[clock.key])}


def chosen(desk: Desk, number: int) -> Dialogue[None] | None:
    """Return what a number means where the clocks are listed: to end one, with 0 to start one; None where it means nothing."""
    if number == 0:
        return start_own(desk)
    clock = numbered(desk.session).get(number)
    return end(desk, clock) if clock is not None else None


def end(desk: Desk, clock: Clock) -> Dialogue[None]:
    """End a clock; asked first while it still rules something: a DO BEFORE limit, or a hold point that is closed."""
    if not _rules(clock, desk.now()) or (yield from confirm(_before_end(clock, desk.now()))):
        yield from attempt(lambda: desk.session.end_clock(clock.key, desk.now()))


def _rules(clock: Clock, now: datetime) -> bool:
    return clock.closes or now < clock.due_at


def _before_end(clock: Clock, now: datetime) -> Confirm:
    left = phrase("{time} over" if now > clock.due_at else "{time} left", times.face(clock, now))
    text = phrase("End {clock} ({left})?", clock.whole_title, left)
    return Confirm(text, clock.consequence, phrase("end {clock}", clock.title), phrase("keep it"))


def start_own(desk: Desk, named: str = "") -> Dialogue[None]:
    """Start a clock of the user's own, numbered where it has no name."""
    title = phrase("Your timer: how long? It ends in a DO BEFORE alarm.")
    text = yield from enter(f"{named}: {title}" if named else title, CLOCK_LENGTH, "min", "own-clock")
    if text is not None:
        yield from attempt(lambda: desk.session.start_own(text, desk.now(), named))


def start_named(desk: Desk) -> Dialogue[None]:
    """Start a clock of the user's own with a name: from a list, so that it needs no letters, or typed."""
    words = [Item(word, phrase(word)) for word in CLOCK_NAMES]
    chosen = yield from choose(phrase("A timer for what?"), [*words, Item("name", phrase("Another name"))])
    named = phrase(chosen) if chosen is not None and chosen != "name" else ""
    if chosen == "name":
        named = (yield from _typed_name()) or ""
    if named:
        yield from start_own(desk, named)


def _typed_name() -> Dialogue[str | None]:
    """Ask for a name until it fits; None where it is left."""
    offered = ""
    while (typed := (yield from name(phrase("Name of the clock"), offered, "clock name"))) is not None:
        try:
            check_clock_name(typed)
        except EntryError as error:
            yield from say(str(error))
            offered = typed
        else:
            return typed
    return None


def put_off(desk: Desk) -> Dialogue[None]:
    """Ask for how long the most urgent alarm is put off, where it may be."""
    clock = desk.session.may_shelve(desk.now())
    if clock is None:
        return
    items = [Item(str(minutes), phrase(words)) for minutes, words in PUT_OFF.items()]
    minutes = yield from choose(phrase("Snooze {clock}; it rings again by itself", clock.whole_title), items)
    if minutes is not None:
        yield from attempt(lambda: desk.session.shelve(int(minutes), desk.now()))
