"""What stands beside the step where there is room: the steps of the section, done and to come, and the other clocks."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator
from datetime import datetime

from textual.content import Content
from textual.reactive import reactive
from textual.widget import Widget

from shopmate import clock as clocks_
from shopmate import times
from shopmate.clock import Clock
from shopmate.phrases import phrase
from shopmate.session import Line, View
from shopmate.tui.widgets.clock_band import MOST, STYLES, kept
from shopmate.tui.widgets.step_panel import MARKS, cut

COLUMNS = 42
"""Columns that it takes."""

WIDE, HIGH = 116, 30
"""Columns and rows of the screen from which on it is there."""


class Side(Widget):
    """Lists the section in hand, and under it the clocks that are not drawn large, each with its part."""

    DEFAULT_CSS = """
    Side { display: none; width: 42; height: 1fr; border-left: vkey $quiet; padding: 0 0 0 1; }
    """

    view: reactive[View | None] = reactive(None)
    clocks: reactive[tuple[Clock, ...]] = reactive(())
    leads: reactive[Clock | None] = reactive(None)
    """The clock that stands under the step, and so not here."""
    now: reactive[datetime | None] = reactive(None)

    def render(self) -> Content:
        width = self.content_size.width
        rows = [*self._section(width), *self._clocks(width)]
        return Content("\n").join(rows[: self.content_size.height])

    def _section(self, width: int) -> Iterator[Content]:
        """Yield the steps of the section; where there are more than rows, those about the one in hand."""
        frame = self.view.frame if self.view is not None else None
        if frame is None or not frame.outline or frame.rows:
            return
        yield Content.styled(textwrap.shorten(frame.section, width, placeholder="…"), "bold $foreground")
        lines = [line for line in frame.outline if line.mark != "not applicable"]
        room = max(3, self.content_size.height * 2 // 3)
        at = next((index for index, line in enumerate(lines) if line.mark == "started"), 0)
        first = max(0, min(at - room // 2, len(lines) - room))
        yield from (_step(line, width) for line in lines[first : first + room])

    def _clocks(self, width: int) -> Iterator[Content]:
        """Yield the clocks but the leading one, each in its slot: that of the leading one, or of one ended, stays open."""
        if self.now is None:
            return
        others = {clock.slot: clock for clock in self.clocks if clock != self.leads}
        if not others:
            return
        yield Content("")
        yield Content.styled(phrase("Other clocks"), "bold $foreground")
        shown = [others.get(slot) for slot in range(min(MOST, max(others) + 1))]
        governs = clocks_.governing(self.clocks, self.now)
        shown = shown if governs is None or governs == self.leads else kept(governs, shown)
        for clock in shown:
            if clock is None:
                yield from (Content(""), Content(""))
                continue
            how = clocks_.state(clock, self.now)
            due = f"  {phrase(clock.kind)} {times.wall(clock.due_at, self.now)} · {how.word}"
            yield Content.styled(cut(f"{how.shape} {times.face(clock, self.now)} {clock.whole_title}", width), STYLES[how])
            yield Content.styled(cut(due, width), STYLES[how])
            if clock.moved_from is not None:
                was = phrase("was {before}", times.wall(clock.moved_from, clock.due_at))
                yield Content.styled(cut(f"  {was}: {phrase('shop {celsius}', clock.moved_by)}", width), "$quiet")
        if hidden := len(others) - sum(clock is not None for clock in shown):
            yield Content.styled(phrase("{count} more: +", hidden), "$foreground")


def _step(line: Line, width: int) -> Content:
    style = {"started": "bold $foreground", "done": "$done"}.get(line.mark, "$quiet")
    after = f"  ({phrase(line.mark)})" if line.mark == "for later" else ""
    shown = f"  {line.shown}" if line.shown else ""
    return Content.styled(cut(f"{MARKS[line.mark]} {line.text}{shown}", width - len(after)) + after, style)
