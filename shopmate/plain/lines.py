"""Talk in lines: say, ask, choose; nothing is drawn twice, coloured or moved, so that a screen reader or a pipe can follow."""

from __future__ import annotations

import re
import textwrap
from collections.abc import Callable, Sequence
from datetime import datetime, timedelta

from shopmate import characters, units
from shopmate.calculator import Kind, RatioKind, Value
from shopmate.dialogue.asking import UNUSED, Confirm, Item, Ready, Shown
from shopmate.dialogue.blank import Blank
from shopmate.errors import EntryError
from shopmate.phrases import phrase
from shopmate.settings import Settings

ReadLine = Callable[[Callable[[], float]], str | None]
"""Returns the next line typed, None at the end of the input.

While it waits it calls what it is given, which says after how many seconds to be called again.
"""

BACK = "/"
"""What leaves a question without an answer."""

CONFIRMED_WITHIN = timedelta(seconds=60)
"""How long a question before what is not simply taken back stands: long enough to be read out, and for a hand that is busy."""

_LONGEST_NAME = 40
"""Characters of a name that are taken."""

_LEAST_WIDTH = 20

_BARE_RATIO = re.compile(r"(?=.*\d)[\d.,:-]+")
"""A ratio without its basis, on whichever keys."""


class Left(Exception):
    """The user has left, or the input has ended."""


class _Over(Exception):
    """A question has stood for too long to be answered."""


class Lines:
    """A conversation in lines with whoever types.

    `by_hand` says that it is a terminal, which shows itself what is typed; there an empty line within `hold_ms` of the
    `settings` after the line before, or within `repeat_ms` after an empty one, is a key held down and not taken. What the
    `encoding` of the output cannot say is spelled as the handler `errors` does.
    """

    def __init__(
        self,
        read_line: ReadLine,
        write: Callable[[str], object],
        now: Callable[[], datetime],
        *,
        width: Callable[[], int] = lambda: 80,
        by_hand: bool = False,
        settings: Settings = Settings(),  # noqa: B008 (it never changes)
        encoding: str = "utf-8",
        errors: str = "replace",
    ) -> None:
        self._read_line, self._write, self._width = read_line, write, width
        self.now = now
        self.settings = settings
        """What is gone by: the decimal mark and signs of what is said, and the guards of Enter."""
        self._by_hand = by_hand
        self._encoding, self._errors = encoding, errors
        self._taken_at: datetime | None = None
        self._empty_at: datetime | None = None
        self._held = False
        """Whether it was said that a key is held down."""
        self._gone = False
        """Whether a question went away by itself just now: an empty line may still be meant for it."""
        self._count = 0
        """How many lines were said."""
        self._prompted = False
        """Whether the last line is a prompt that waits for what is typed."""
        self.attend: Callable[[], float] = lambda: 60.0
        """Says what has come up meanwhile; returns the seconds until it is to be asked again."""
        self.take: Callable[[str], bool] = lambda text: False
        """Acts on what is typed that means the same in every question; returns whether it did."""
        self.always: Callable[[], str] = lambda: ""
        """Says what can be typed in every question now."""
        self.show: Callable[[Shown], None] = lambda what: None
        """Says something that a dialogue asks for, until it is left."""

    # Out

    def say(self, text: str, indent: int = 0, *, as_written: bool = False) -> None:
        """Write a text, in as many lines as the width asks for; further ones are set in.

        `as_written` leaves the decimal mark of what was typed or published as it is.
        """
        text = text if as_written else units.marked(text, self.settings.decimal_mark)
        if self._prompted:
            self._write("\n")
            self._prompted = False
        for line in self._spell(text.replace(" · ", ", ")).splitlines():
            for part in self._wrap(line, indent):
                # A word too long for the line may be divided within an emoji, whose joiner then joins nothing.
                self._write(f"{characters.visible(part)}\n")
        self._count += 1

    def ring(self) -> None:
        """Ring the bell, which moves nothing."""
        self._write("\a")

    @property
    def width(self) -> int:
        """Columns there are."""
        return max(_LEAST_WIDTH, self._width())

    def _spell(self, text: str) -> str:
        text = characters.visible(text)
        encoding, errors = ("ascii", "spell-out") if self.settings.plain_signs else (self._encoding, self._errors)
        return text.encode(encoding, errors).decode(encoding)

    def _wrap(self, line: str, indent: int) -> list[str]:
        lead = " " * indent
        return textwrap.wrap(line, self.width - 1, initial_indent=lead, subsequent_indent=f"{lead}  ") or [""]

    # In

    def wants_more(self, keys: str) -> bool:
        """Ask with the words `keys` whether more of a long text is to be said; Enter alone says yes."""
        return self.ask(lambda: keys) == ""

    def ask(self, keys: Callable[[], str], asked_at: datetime | None = None) -> str:
        """Say what can be typed and return what is; alarms are told and acknowledged meanwhile. Raises Left at the end.

        A question of which is said when it was asked goes away by itself: raises _Over.
        """
        silent = False
        while True:
            count = self._count
            self.attend()
            if not silent or self._count != count:
                self._prompt(keys)
            text = self._read(keys, asked_at)
            was_held, self._held = self._held, self._is_held(text)
            silent = was_held and self._held
            if self._held:
                if not was_held:
                    self.say(phrase("Enter came again too soon: ignored."))
                continue
            if self._is_late(text) or self.take(text):
                continue
            if asked_at is not None and self._is_over(asked_at):
                raise _Over
            return text

    def _read(self, keys: Callable[[], str], asked_at: datetime | None) -> str:
        """Return the next line typed, shown where the terminal does not; raises Left at the end."""
        line = self._read_line(lambda: self._meanwhile(keys, asked_at))
        text = characters.replaced(line, lambda _: "").strip() if line is not None else ""
        if self._prompted:
            self._write(f"{self._spell(text)}\n" if line is None or not self._by_hand else "")
            self._prompted = False
        if line is None:
            raise Left
        return text

    def _is_late(self, text: str) -> bool:
        """Return whether an empty line was meant for a question that went away by itself."""
        gone, self._gone = self._gone, False
        if gone and not text:
            self.say(phrase("Enter came after the question closed: ignored."))
        return gone and not text

    def _is_over(self, asked_at: datetime) -> bool:
        # By a wall clock that was set nobody knows how long it stood: it does not stand then.
        return not timedelta() <= self.now() - asked_at <= CONFIRMED_WITHIN

    def _meanwhile(self, keys: Callable[[], str], asked_at: datetime | None) -> float:
        count = self._count
        wait = self.attend()
        if asked_at is not None and self._is_over(asked_at):
            self._gone = True
            raise _Over
        if self._count != count:
            self._prompt(keys)
        return wait

    def _prompt(self, keys: Callable[[], str]) -> None:
        self.say(", ".join(filter(None, (keys(), self.always()))))
        self._write("> ")
        self._prompted = True

    def _is_held(self, text: str) -> bool:
        now, before, empty = self.now(), self._taken_at, self._empty_at
        self._empty_at = now if not text else None
        # A wall clock that was set back must not shut Enter out.
        hold, repeat = (timedelta(milliseconds=ms) for ms in (self.settings.hold_ms, self.settings.repeat_ms))
        soon = before is not None and timedelta() <= now - before < hold
        repeats = self._held and empty is not None and timedelta() <= now - empty < repeat
        if self._by_hand and not text and (soon or repeats):
            return True
        self._taken_at = now
        return False

    # Questions

    def choose(self, title: str, items: Sequence[Item], *, leave: str = "back") -> str | None:
        """Return the key of the item whose number, or title, is typed; None when it is left with /.

        `leave` is the phrase for that, '' where it cannot be left.
        """
        if title:
            self.say(title)
        self.list(items)
        keys = ", ".join([*([numbers(len(items))] if items else []), *([f"[{BACK}] {phrase(leave)}"] if leave else [])])
        while True:
            text = self.ask(lambda: keys)
            if text == BACK and leave:
                return None
            if (item := chosen(text, items)) is not None:
                return item.key
            self.say(
                phrase("'{text}' is not one of them; type a number from 1 to {count}.", text, len(items))
                if text
                else phrase("Type a number.")
            )

    def ready(self, question: Ready) -> str | None:
        """Return what is chosen once the lines are said: an empty line for what Enter does, None where it is left."""
        self.say(question.title)
        for line in question.lines:
            self.say(line, 2)
        keys = f"[Enter] {question.yes.title}, [1] {question.other.title}, [-] {phrase('back')}"
        while (text := self.ask(lambda: keys)) not in ("", "1", "-", BACK):
            self.say(phrase("'{text}' does nothing here.", text))
        return {"": question.yes.key, "1": question.other.key}.get(text)

    def confirm(self, question: Confirm) -> bool:
        """Return whether an empty line says yes before CONFIRMED_WITHIN is over; then the question goes away by itself.

        It is asked after a number or a word, so what asked is never what answers. At a terminal a key held down cannot
        answer either (`hold_ms`); lines that come all at once through a pipe are answers.
        """
        self.say(question.text)
        self.say(question.explain, 2)
        asked_at, seconds = self.now(), CONFIRMED_WITHIN.total_seconds()
        keys = phrase("Within {seconds:g} s: [Enter] {yes}, [-] {no}", seconds, question.yes, question.no)
        try:
            while (text := self.ask(lambda: keys, asked_at)) not in ("", "-", BACK):
                self.say(phrase("'{text}' does nothing here.", text))
        except _Over:
            self.say(phrase("No answer within {seconds:g} s: nothing done.", seconds))
            return False
        if text:
            self.say(phrase("Nothing done."))
        return text == ""

    def list(self, items: Sequence[Item]) -> None:
        """Say the items with their numbers."""
        for number, item in enumerate(items, 1):
            if item is not UNUSED:
                self.say(f"{number} {item.title}" + (f": {item.note}" if item.note else ""))

    def name(self, title: str, offered: str) -> str | None:
        """Return a name typed, the one offered for an empty line, None when it is left."""
        text = self.ask(lambda: phrase("{what}: type it. [Enter] {name}, [/] back", title, offered))
        return None if text == BACK else " ".join((text or offered).split())[:_LONGEST_NAME]

    def whole(self, blank: Blank, text: str) -> str | None:
        """Return a line typed for a value as the text that is read; None where a ratio's basis is asked for and left."""
        if not isinstance(blank.kind, RatioKind) or not _BARE_RATIO.fullmatch(text):
            return blank.line(text)
        ratio = text.replace("-", blank.dash)
        basis = self.choose(
            phrase("{ratio}: by weight or by volume?", ratio), [Item(basis, phrase(basis)) for basis in blank.units]
        )
        return f"{ratio} {basis}" if basis is not None else None

    def value(self, title: str, kind: Kind, unit: str, before: Value | None = None, keeps: str = "") -> str | None:
        """Return the text of a value, with its unit, once it can be read and is meant; None when it is left.

        One that looks like a slip beside `before`, the one so far, is asked about too. An empty line answers `keeps`.
        """
        self.say(title)
        blank = Blank(kind, unit, before)
        while True:
            yes = [phrase("[Enter] yes, it's right")] if blank.doubted else [phrase("[Enter] {answer}", keeps)] if keeps else []
            keys = ", ".join([*yes, wanted(blank, beside=bool(yes)), phrase("[/] back")])
            text = self.ask(lambda keys=keys: keys)  # type: ignore[misc]
            if text == BACK:
                return None
            if not text and not blank.doubted and keeps:
                return keeps
            try:
                given = self.whole(blank, text) if text else blank.doubted
                question = blank.question(given) if given else ""
            except EntryError as error:
                self.say(phrase("Not accepted: {problem}", error))
                continue
            if given and not question:
                return given
            if question:
                self.say(question)


def chosen(text: str, items: Sequence[Item]) -> Item | None:
    """Return the item meant by its number, or by its title or key in any case."""
    if text.isdecimal():
        item = items[int(text) - 1] if len(text) < 6 and 0 < int(text) <= len(items) else UNUSED
        return item if item is not UNUSED else None
    return next((item for item in items if text and text.casefold() in (item.title.casefold(), item.key.casefold())), None)


def numbers(count: int) -> str:
    """Return what to type to choose one of so many."""
    return phrase("[1 to {count}] choose", count) if count > 1 else phrase("[1] choose")


def wanted(blank: Blank, *, beside: bool = False) -> str:
    """Return what to type for a value, with what a bare number and a dash stand for where that is not plain.

    `beside` says that something else can be typed in its place.
    """
    parts = [phrase("or type {value}" if beside else "type {value}", blank.wanted)]
    if blank.dash == ":":
        parts.append(phrase("type - for the colon"))
    return "; ".join(parts)
