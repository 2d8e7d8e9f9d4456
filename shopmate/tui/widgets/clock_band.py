"""The clocks, always in sight: the governing one in block digits, each other in its own slot."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime, timedelta
from typing import assert_never

from textual.content import Content
from textual.reactive import reactive
from textual.widget import Widget

from shopmate import clock as clocks_
from shopmate import times
from shopmate.clock import Clock, State
from shopmate.phrases import phrase
from shopmate.tui.themes import field
from shopmate.tui.widgets import block

MOST = 6
"""Clocks shown by name; further ones are counted."""

STYLES = {
    State.ARMED: "$quiet",
    State.PRE_ALARM: "bold $do-before",
    State.DUE: field("late"),
    State.DUE_ACKNOWLEDGED: "bold $late",
    State.MISSED: field("late"),
    State.SHELVED: "$quiet",
    State.DONE: "$done",
}


_OLD = ("! shop °C", "too old:", "measure")
"""What stands beside the digits where there is no row for the note."""

_SLOT_COLUMNS = 20
"""Columns beside the digits from which on other clocks are named there."""

_DAYS_BY_NAME = timedelta(days=6)
"""A day within this time is told by its name alone, where the date has no room."""

_LARGE_WITHIN = timedelta(hours=3)
"""A clock that is due later is no matter of minutes: it has a row, and large digits only where the step waits for it."""

_UNDER = 3
"""Slots that stand under the digits where they would be cut beside them; more would leave the step too little."""

_TURN_SECONDS = 3
"""How long what takes turns in a row stays: long enough to be read."""

_LOW, _VERY_HIGH = 16, 50
"""Rows of the screen under which there is one row for all words, and from which on digits are twice as large."""


class ClockBand(Widget):
    """Shows how every running clock stands, each with its kind of limit in words and its wall-clock time."""

    DEFAULT_CSS = """
    ClockBand { height: auto; }
    """

    clocks: reactive[tuple[Clock, ...]] = reactive((), layout=True)
    slots: reactive[Mapping[str, int]] = reactive({}, layout=True)
    """The slot of each clock, from 0."""
    now: reactive[datetime | None] = reactive(None)
    note: reactive[str] = reactive("", layout=True)
    """What the clocks lack: a reading of the shop temperature that is not old."""
    waited: reactive[str] = reactive("", layout=True)
    """The key of the clock that the step in hand waits for."""
    brief: reactive[bool] = reactive(False, layout=True)
    """One row only: where the screen is small and a value is being typed."""

    _drawn: tuple[object, list[Content]] = (None, [])
    """What was drawn last, and its rows."""

    def watch_now(self) -> None:
        # A face that grows, as at 100 minutes, may leave no room beside it.
        if len(self._rows(self.size.width)) != self.size.height:
            self.refresh(layout=True)

    def render(self) -> Content:
        return Content("\n").join(self._rows(self.size.width))

    def get_content_height(self, container: object, viewport: object, width: int) -> int:
        return len(self._rows(width))

    def _rows(self, width: int) -> list[Content]:
        if self.now is None:
            return []
        asked = (self.clocks, self.slots, self.now, width, self.app.size.height, self.brief, self.note, self.waited)
        if asked != self._drawn[0]:  # the layout asks for them several times before they are drawn
            self._drawn = asked, rows(*asked)
        return self._drawn[1]


def leading(clocks: Sequence[Clock], waited: str, now: datetime) -> Clock | None:
    """Return the clock that comes before the others: the governing one, or while it is far off one that is near or waited for."""
    ruling = clocks_.governing(clocks, now)
    if ruling is None or not _is_far(ruling, now):
        return ruling
    mine = next((clock for clock in clocks if clock.key == waited), None)
    # One that was due and is seen to has nothing to count down to.
    near = (clock for clock in clocks if not _is_far(clock, now) and clocks_.state(clock, now) is not State.DUE_ACKNOWLEDGED)
    return mine or clocks_.governing(near, now) or ruling


def _is_far(clock: Clock, now: datetime) -> bool:
    """Return whether a clock is no matter of minutes yet."""
    return clock.due_at - now > _LARGE_WITHIN


def rows(
    clocks: Sequence[Clock],
    slots: Mapping[str, int],
    now: datetime,
    width: int,
    height: int,
    brief: bool = False,
    note: str = "",
    waited: str = "",
) -> list[Content]:
    """Return the rows of the band: label and block digits of the governing clock, then the others in their slots.

    The governing one leaves its slot open, so that no other ever moves.
    """
    low, governs = height < _LOW, clocks_.governing(clocks, now)
    # Where there is room for one clock only, none but that waited for comes before the governing one.
    ruling = leading([clock for clock in clocks if not low or clock == governs or clock.key == waited], waited, now)
    if ruling is None or governs is None:
        return []
    how, style = clocks_.state(ruling, now), _style(ruling, now)
    is_far = _is_far(ruling, now) and ruling.key != waited
    if brief or (low and is_far):
        return [_in_turns(ruling, len(clocks) - 1, now, width, note)]
    if is_far:
        return _far_off(sorted(clocks, key=lambda clock: slots[clock.key]), ruling, now, width, note)
    digits = block.rows(times.face(ruling, now).upper(), double=height >= _VERY_HIGH)
    room = width - len(digits[0]) - 4
    others = _others(clocks, slots, ruling, len(digits) if low else MOST) if not low or room >= _SLOT_COLUMNS else []
    if governs != ruling:
        others = kept(governs, others)
    hidden = len(clocks) - 1 - sum(clock is not None for clock in others)
    more = phrase("{count} more: +", hidden) if hidden else ""
    head = _line(f" {how.shape}", ruling, now, width, more)
    label = Content.styled(head, f"bold {style}")
    if not others:
        beside = _left_over(ruling, head, (how.word, more), f"bold {style}") + (_old(room + 2) if note and low else [])
        lines = [label, *_beside(digits, style, beside, " ", room + 2)]
    elif _stand_under(others, now, room, low):
        lines = [label, *_beside(digits, style, [], "   ", room), *_below(others, now, width)]
    else:
        beside = [_styled_slot(clock, now, room) for clock in others]
        lines = [label, *_beside(digits, style, beside, "   ", room), *_below(others[len(digits) :], now, width)]
    if note and not low:
        lines.append(Content.styled(f" {note}", "$do-before").truncate(width, ellipsis=True))
    return lines


def _in_turns(clock: Clock, others: int, now: datetime, width: int, note: str) -> Content:
    """Return the only row there is, in which what has no room takes turns: the clock, how many others run, what they lack."""
    head = f" {clocks_.state(clock, now).shape} {times.face(clock, now)}"
    turns = _brief(head, clock, now, width)
    if others:
        turns.append(f"{head} {short_limit(clock, now)} · {phrase('{count} more: +', others)}")
    if note:
        turns.append(f"{head} {' '.join(phrase(words) for words in _OLD)}")
    shown = turns[int(now.timestamp()) // _TURN_SECONDS % len(turns)]
    return Content.styled(shown, f"bold {_style(clock, now)}").truncate(width, ellipsis=True)


def _far_off(clocks: Sequence[Clock], ruling: Clock, now: datetime, width: int, note: str) -> list[Content]:
    """Return a row for each clock, where none has the large digits; the last says how many more there are."""
    lines = _below(kept(ruling, clocks[:MOST]), now, width)
    if (hidden := len(clocks) - MOST) > 0:
        more = f" · {phrase('{count} more: +', hidden)}"
        lines[-1] = lines[-1].truncate(width - len(more), ellipsis=True) + more
    return [*lines, Content.styled(f" {note}", "$do-before").truncate(width, ellipsis=True)] if note else lines


def kept(clock: Clock, shown: Sequence[Clock | None]) -> list[Clock | None]:
    """Return the clocks that have a row, with one among them that must not be left out."""
    return [*shown] if clock in shown or not shown else [*shown[:-1], clock]


def _stand_under(others: Sequence[Clock | None], now: datetime, room: int, low: bool) -> bool:
    """Return whether the other clocks stand under the digits: where beside them they would be cut, and few enough."""
    if room < _SLOT_COLUMNS:
        return True
    slots = [(clock, _slot(clock, now, room)) for clock in others if clock is not None]
    whole = all(f" · {clocks_.state(clock, now).word}" in slot and clock.moved_by in slot for clock, slot in slots)
    return not whole and not low and len(others) <= _UNDER


def _beside(digits: Sequence[str], style: str, words: Sequence[Content], gap: str, room: int) -> list[Content]:
    """Return the rows of the digits with words beside them, one a row, as many as there are rows."""
    filled = [*words, *[Content("")] * len(digits)]
    return [
        Content.assemble(" ", (row, style), gap, text.truncate(max(room, 0), ellipsis=True))
        for row, text in zip(digits, filled, strict=False)
    ]


def _below(others: Sequence[Clock | None], now: datetime, width: int) -> list[Content]:
    """Return a row for each of the other clocks that have no place beside the digits."""
    return [Content.assemble(" ", _styled_slot(clock, now, width - 1)) for clock in others]


def _style(clock: Clock, now: datetime) -> str:
    """Return the colour of the governing clock: of its kind, and once it is due of what that means."""
    due = clocks_.state(clock, now) in (State.DUE, State.MISSED, State.DUE_ACKNOWLEDGED)
    match clock.kind:
        case "DO BEFORE":
            return "$late" if due else "$do-before"
        case "NOT BEFORE":
            return "$done" if due else "$not-before"
    assert_never(clock.kind)


def _others(clocks: Sequence[Clock], slots: Mapping[str, int], ruling: Clock, most: int) -> list[Clock | None]:
    """Return what stands in the first `most` slots, None in the open ones; nothing where there is one clock only."""
    if len(clocks) == 1:
        return []
    at = {slots[clock.key]: clock for clock in clocks}
    found = (at.get(place) for place in range(min(most, max(at) + 1)))
    return [clock if clock != ruling else None for clock in found]


def _left_over(clock: Clock, head: str, words: Sequence[str], style: str) -> list[Content]:
    """Return what the row of the label had no room for, to stand beside the digits."""
    beside = [word for word in words if word and f" · {word}" not in head]
    if clock.moved_from is not None and clock.moved_by not in head:
        beside += [phrase("was {before}", f"{clock.moved_from.astimezone():%H:%M}"), clock.moved_by]
    return [Content.styled(word, style) for word in beside]


def _old(room: int) -> list[Content]:
    """Return beside the digits that the shop temperature is old, where it has room."""
    words = [phrase(words) for words in _OLD]
    return [Content.styled(word, "$do-before") for word in words] if room >= max(map(len, words)) else []


def _line(head: str, clock: Clock, now: datetime, width: int, more: str = "") -> str:
    """Return a clock in one row: what does not fit gives way from the end, then the name, never the limit."""
    moved = briefly = ""
    if clock.moved_from is not None:
        was = times.wall(clock.moved_from, now)
        moved = phrase("was {before}: shop at {celsius}", was, clock.moved_by)
        # On the day of the limit itself its time is enough.
        briefly = phrase("was {before}: {celsius}", times.wall(clock.moved_from, clock.due_at), clock.moved_by)
    limit = f"{phrase(clock.kind)} {times.wall(clock.due_at, now)}"
    short = short_limit(clock, now)
    word = clocks_.state(clock, now).word
    why = [(limit, word, moved, more), (limit, word, briefly, more), (short, word, briefly, more)] if moved else []
    for parts in (*why, (limit, word, more), (limit, word), (limit,)):
        text = " · ".join((f"{head} {clock.title}", *filter(None, parts)))
        if len(text) <= width:
            return text
    room = width - len(head) - len(short) - 5
    return f"{head} {clock.title[:room]}… · {short}" if room > 1 else f"{head} {short}"


def _brief(head: str, clock: Clock, now: datetime, width: int) -> list[str]:
    """Return a clock for the only row it has: what moved it takes turns with the name where both have no room."""
    line = _line(head, clock, now, width)
    if clock.moved_from is None or clock.moved_by in line:
        return [line]
    limit, was = short_limit(clock, now), phrase("was {before}", times.wall(clock.moved_from, clock.due_at))
    whole = f"{head} {clock.title} · {limit} · {was}: {clock.moved_by}"
    if clocks_.state(clock, now) is State.ARMED and len(whole) <= width:
        return [whole]
    for parts in ([f"{was}: {clock.moved_by}"], [was, phrase("shop {celsius}", clock.moved_by)]):
        said = [f"{head} {part} · {limit}" for part in parts]
        if max(map(len, said)) <= width:
            return [line, *said]
    return [line]


def short_limit(clock: Clock, now: datetime) -> str:
    """Return kind and wall-clock time of a limit in short: another day by its name, or by its date where that is far off."""
    local = clock.due_at.astimezone()
    limit = f"{local:%H:%M}"
    if local.date() != now.astimezone().date():
        near = abs(clock.due_at - now) < _DAYS_BY_NAME
        limit = f"{times.weekday(local) if near else times.day_of_month(local)} {limit}"
    return f"{phrase(clock.kind)} {limit}"


def _slot(clock: Clock, now: datetime, width: int) -> str:
    return _line(f"{clocks_.state(clock, now).shape} {times.face(clock, now)}", clock, now, width)


def _styled_slot(clock: Clock | None, now: datetime, width: int) -> Content:
    if clock is None:
        return Content("")
    return Content.styled(_slot(clock, now, width), STYLES[clocks_.state(clock, now)]).truncate(width, ellipsis=True)
