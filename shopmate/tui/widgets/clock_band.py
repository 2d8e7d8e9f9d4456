"""The clocks, always in sight: the governing one in block digits, each other in its own slot."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from textual.content import Content
from textual.reactive import reactive
from textual.widget import Widget

from shopmate import clock as clocks_
from shopmate.clock import Clock, State
from shopmate.tui.themes import field
from shopmate.tui.widgets import block

MOST = 6
"""Clocks shown by name; further ones are counted."""

_STYLES = {
    State.ARMED: "$quiet",
    State.PRE_ALARM: "bold $do-before",
    State.DUE: field("late"),
    State.DUE_ACKNOWLEDGED: "bold $late",
    State.MISSED: field("late"),
    State.SHELVED: "$quiet",
    State.DONE: "$done",
}


_OLD = ("! shop °C", "is old:", "read it")
"""What stands beside the digits where there is no row for the note."""
_OLD_COLUMNS = max(map(len, _OLD))

_SLOT_COLUMNS = 24
"""Columns beside the digits from which on other clocks are named there."""


class ClockBand(Widget):
    """Shows how every running clock stands, each with its kind of limit in words and its wall-clock time."""

    DEFAULT_CSS = """
    ClockBand { height: auto; }
    """

    clocks: reactive[tuple[Clock, ...]] = reactive((), layout=True)
    now: reactive[datetime | None] = reactive(None)
    note: reactive[str] = reactive("", layout=True)
    """What the clocks lack: a reading of the shop temperature that is not old."""
    brief: reactive[bool] = reactive(False, layout=True)
    """One row only: where the screen is small and a value is being typed."""

    def render(self) -> Content:
        if self.now is None or not self.clocks:
            return Content("")
        return Content("\n").join(rows(self.clocks, self.now, self.size.width, self.app.size.height, self.brief, self.note))

    def get_content_height(self, container: object, viewport: object, width: int) -> int:
        if not self.clocks or self.now is None:
            return 0
        return len(rows(self.clocks, self.now, width, self.app.size.height, self.brief, self.note))


def rows(clocks: Sequence[Clock], now: datetime, width: int, height: int, brief: bool = False, note: str = "") -> list[Content]:
    """Return the rows of the band: label and block digits of the governing clock, then the others."""
    ruling = clocks_.governing(clocks, now)
    if ruling is None:
        return []
    others = [clock for clock in clocks if clock.key != ruling.key]
    how = clocks_.state(ruling, now)
    style = "$do-before" if ruling.kind == "DO BEFORE" else "$not-before"
    if how in (State.DUE, State.MISSED, State.DUE_ACKNOWLEDGED):
        style = "$late" if ruling.kind == "DO BEFORE" else "$done"
    label = f" {how.shape} {ruling.title} · {ruling.kind} {_due(ruling, now)} · {how.word}"
    if brief:
        return [
            Content.styled(f" {how.shape} {clocks_.face(ruling, now)}{label[2:]}", f"bold {style}").truncate(width, ellipsis=True)
        ]
    lines = [Content.styled(label, f"bold {style}").truncate(width, ellipsis=True)]
    digits = block.rows(clocks_.face(ruling, now).upper())
    beside = [_slot(clock, now) for clock in others[: MOST - 1]]
    if len(others) >= MOST:
        beside[-1] = Content(f"and {len(others) - MOST + 2} more: +")
    room = width - len(digits[0]) - 4
    right_of_digits = beside[: len(digits)] if room >= _SLOT_COLUMNS else []
    rest = beside[len(right_of_digits) :]
    if note and height < 16 and not right_of_digits and room >= _OLD_COLUMNS:
        right_of_digits = [Content.styled(words, "$do-before") for words in _OLD]
    for index, digit_row in enumerate(digits):
        right = right_of_digits[index] if index < len(right_of_digits) else Content("")
        lines.append(Content.assemble(" ", (digit_row, style), "   ", right.truncate(max(room, 0), ellipsis=True)))
    if rest and height >= 16:
        lines += [Content.assemble(" ", slot).truncate(width, ellipsis=True) for slot in rest]
    elif rest:
        lines[0] = Content.styled(f"{label} · {len(others)} more: +", f"bold {style}").truncate(width, ellipsis=True)
    if note and height >= 16:
        lines.append(Content.styled(f" {note}", "$do-before").truncate(width, ellipsis=True))
    return lines


def _slot(clock: Clock, now: datetime) -> Content:
    how = clocks_.state(clock, now)
    text = f"{how.shape} {clocks_.face(clock, now)} {clock.title} · {clock.kind} {_due(clock, now)} · {how.word}"
    return Content.styled(text, _STYLES[how])


def _due(clock: Clock, now: datetime) -> str:
    """Return when a clock is due, with what it was before the last reading of the shop temperature moved it."""
    due = clocks_.wall(clock.due_at, now)
    return f"{due} (was {clocks_.wall(clock.moved_from, now)}: shop at {clock.moved_by})" if clock.moved_from is not None else due
