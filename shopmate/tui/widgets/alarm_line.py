"""The reserved line for the most urgent alarm: it stays until acknowledged and covers nothing."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from textual.content import Content
from textual.reactive import reactive
from textual.widget import Widget

from shopmate import clock as clocks_
from shopmate.clock import Clock, State
from shopmate.tui.themes import field


class AlarmLine(Widget):
    """One row: the most urgent alarm in words, with the count of all that wait."""

    DEFAULT_CSS = """
    AlarmLine { height: 1; }
    """

    clocks: reactive[tuple[Clock, ...]] = reactive(())
    now: reactive[datetime | None] = reactive(None)

    def render(self) -> Content:
        return row(self.clocks, self.now, self.size.width) if self.now is not None else Content("")


def row(clocks: Sequence[Clock], now: datetime, width: int) -> Content:
    """Return the alarm line: what sounds first, else what was seen and is still to be done, else nothing."""
    waiting = clocks_.alarms(clocks, now)
    if waiting:
        count = f" ({len(waiting)} alarms)" if len(waiting) > 1 else ""
        text = f" ● * seen{count} · {clocks_.alarm_text(waiting[0], now)}"
        return Content.styled(_fit(text, width), field("late"))
    seen = [clock for clock in clocks if clocks_.state(clock, now) is State.DUE_ACKNOWLEDGED]
    if seen:
        first = min(seen, key=lambda clock: (clock.priority, clock.due_at))
        return Content.styled(_fit(f" ◉ {clocks_.alarm_text(first, now)}", width), "bold $late")
    return Content("")


def _fit(text: str, width: int) -> str:
    return text.ljust(width) if len(text) <= width else text[: max(0, width - 1)] + "…"
