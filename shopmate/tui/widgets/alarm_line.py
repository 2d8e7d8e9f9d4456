"""The reserved row for alarms: they stay until acknowledged, and what was seen until it is done; it covers nothing."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from datetime import datetime

from textual.content import Content
from textual.geometry import Size
from textual.reactive import reactive
from textual.widget import Widget

from shopmate import clock as clocks_
from shopmate import times
from shopmate.clock import Clock, State
from shopmate.dialogue.notices import Board
from shopmate.phrases import phrase
from shopmate.tui.themes import field
from shopmate.tui.widgets import notice_line

SMALL = 16
"""Rows of a screen under which each row counts."""

_HEAD = 3
"""Rows that the most urgent alarm takes at most: enough for its words at 40 columns."""

_MARK = 3
"""Columns of the mark before the words; it alone flashes."""


class AlarmLine(Widget):
    """The most urgent alarm in words, whole; others in a row each where the screen is tall, else counted."""

    DEFAULT_CSS = """
    AlarmLine { height: auto; }
    """

    clocks: reactive[tuple[Clock, ...]] = reactive((), layout=True)
    now: reactive[datetime | None] = reactive(None)
    is_lit: reactive[bool] = reactive(True)
    """Whether the mark of the alarm is lit at the moment."""
    board: reactive[Board] = reactive(Board())
    """Notices shown here while nothing else is, so that they take no row."""
    silent: reactive[str] = reactive("")
    """Why an alarm may not be heard, in two or three words: what is left of its notice once that was read."""

    def watch_now(self) -> None:
        # Time alone may bring an alarm or longer words: the rows are laid out anew only when it does.
        if self.get_content_height(self.size, self.size, self.size.width) != self.size.height:
            self.refresh(layout=True)

    @property
    def speaks(self) -> bool:
        """Whether an alarm waits, was seen and is not done, or is put off."""
        return self.now is not None and bool(rows(self.clocks, self.now, 80, 1))

    def most(self) -> int:
        """Return how many rows alarms may take on this screen."""
        height = self.app.size.height
        return 2 if height < SMALL else 4 if height < 30 else 6

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        return max(1, len(rows(self.clocks, self.now, width, self.most()))) if self.now is not None else 1

    def render(self) -> Content:
        shown = rows(self.clocks, self.now, self.size.width, self.most(), self.is_lit) if self.now is not None else []
        if not shown and self.board.words:
            return notice_line.row(self.board, self.size.width)
        if not shown and self.silent:
            return Content.styled(f" ▲ {self.silent}", "$do-before").truncate(self.size.width, ellipsis=True)
        return Content("\n").join(shown)


def rows(clocks: Sequence[Clock], now: datetime, width: int, most: int, is_lit: bool = True) -> list[Content]:
    """Return the rows for alarms, at most `most`: what sounds, else what was seen and is to be done, else what is put off."""
    waiting = clocks_.alarms(clocks, now)
    put_off = [clock for clock in clocks if clocks_.state(clock, now) is State.SHELVED]
    later = phrase("{count} snoozed", len(put_off)) if put_off else ""
    if waiting:
        return _waiting(waiting, later, now, width, most, is_lit)
    seen = [clock for clock in clocks if clocks_.state(clock, now) is State.DUE_ACKNOWLEDGED]
    if seen:
        first = min(seen, key=lambda clock: (not clocks_.reminds(clock, now), clock.priority, clock.due_at))
        again = clocks_.reminds(first, now)
        text = _joined(phrase("STILL DUE") if again else "", _count(len(seen)), later, times.alarm_text(first, now))
        style = field("late") if again else "bold $late"
        return [Content.styled(line, style) for line in _wrapped(" ◉ ", text, width, min(most, 2))]
    if put_off:
        first = min(put_off, key=lambda clock: clock.shelved_until or clock.due_at)
        until = first.title
        if first.shelved_until is not None:
            until = phrase("{clock} until {at}", first.title, times.wall(first.shelved_until, now))
        text = _joined(later, until, f"{phrase(first.kind)} {times.wall(first.due_at, now)}")
        return [Content.styled(line, "$quiet") for line in _wrapped(" ◌ ", text, width, 1)]
    return []


def _waiting(waiting: Sequence[Clock], later: str, now: datetime, width: int, most: int, is_lit: bool) -> list[Content]:
    top, began = waiting[0], clocks_.first_up(waiting, now)
    first = phrase("rang first") if began is top else ""
    text = _joined(_count(len(waiting)), first, later, times.alarm_text(top, now))
    # What to do about the first alarm comes before a second alarm: it is never cut short to make room.
    head = _wrapped(" ● ", text, width, _HEAD)
    mark = Content.styled(" ● ", field("late")) if is_lit else Content.styled(" ○ ", "bold $late")
    lines = [Content.styled(line, field("late")) for line in head]
    lines[0] = mark + Content.styled(head[0][_MARK:], field("late"))
    others = waiting[1:]
    room = max(0, most - len(lines))
    if len(others) > room:
        others = others[: max(0, room - 1)]
    for clock in others:
        text = _joined(phrase("rang first") if clock is began else "", times.alarm_text(clock, now))
        lines += [Content.styled(line, "bold $late") for line in _wrapped(" ● ", text, width, 1)]
    rest = waiting[1 + len(others) :]
    if rest and len(lines) < most:
        text = _joined(
            phrase("and {count} more: +", len(rest)),
            phrase("rang first {clock}", began.title) if began in rest and began is not None else "",
        )
        lines.append(Content.styled(_wrapped("   ", text, width, 1)[0], "bold $late"))
    return lines


def _count(number: int) -> str:
    return phrase("1 of {count}", number) if number > 1 else ""


def _joined(*parts: str) -> str:
    return " · ".join(part for part in parts if part)


def _wrapped(mark: str, text: str, width: int, most: int) -> list[str]:
    """Return a text in at most `most` rows as wide as the screen, the mark before the first; cut where it is longer."""
    lines = textwrap.wrap(text, max(10, width - len(mark) - 1), max_lines=most, placeholder=" …")
    return [f"{mark if index == 0 else ' ' * len(mark)}{line}".ljust(width) for index, line in enumerate(lines)]
