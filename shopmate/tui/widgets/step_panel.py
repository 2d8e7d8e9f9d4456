"""The step in hand: its place, what went before, headline, details, figures, answers and what comes."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Sequence

from textual.content import Content
from textual.geometry import Size
from textual.reactive import reactive
from textual.widget import Widget

from shopmate.dialogue.step import Said, said
from shopmate.phrases import phrase
from shopmate.records import replace
from shopmate.result import Figure
from shopmate.session import CautionView, DoView, EnterView, Frame, Line, RowsView, View, WhereLeft
from shopmate.tui.lines import decimal_mark
from shopmate.tui.themes import field
from shopmate.tui.widgets import block, together
from shopmate.tui.widgets.together import Page
from shopmate.units import marked

MARKS = {"not started": "·", "started": "▸", "done": "✓", "not applicable": "⊘", "for later": "◌"}
_BLOCK_HEIGHT = 12
"""Rows of the panel from which on the headline is drawn in block letters."""


_VERY_WIDE, _VERY_HIGH = 150, 30
"""Columns and rows of the panel from which on headline and figures are drawn twice as large."""

_AIR = 3
"""Rows left to the coming steps before blank rows are put between the groups, and before cautions are shown whole."""

_LEAST_CAUTIONS = 3
"""Rows for the cautions of a working that come before large digits: two of the first one, and the count of the others."""


class StepPanel(Widget):
    """Draws a view of the session as far as its headline and figures; answers and coming steps stand below it."""

    DEFAULT_CSS = """
    StepPanel { height: auto; }
    """

    view: reactive[View | None] = reactive(None, layout=True)
    """What the session shows now."""
    project: reactive[str] = reactive("")
    """Project, part and recipe, for the first row."""
    room: reactive[int] = reactive(24, layout=True)
    """Rows there are at most."""
    where_left: reactive[WhereLeft | None] = reactive(None, layout=True)
    """Where somebody who comes back was; None while nobody was away."""
    stops: reactive[bool] = reactive(False, layout=True)
    """Whether that stands until a key says to go on; else it is said in passing, where there is room."""
    typing: reactive[bool] = reactive(False, layout=True)
    """Whether a value is being typed: what it is to come to stands beside it then."""
    has_side: reactive[bool] = reactive(False, layout=True)
    """Whether the steps of the section stand beside."""
    page: reactive[int] = reactive(0, layout=True)
    """Which page of several steps that are taken together is shown, from 0 on."""
    cautions_key: reactive[str] = reactive("", layout=True)
    """What is printed on the key that shows all cautions; nothing while it has another use."""

    _drawn: tuple[object, list[Content]] = (None, [])
    """What was drawn last, and its rows."""

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        return len(self._rows(width))

    def pages(self, width: int) -> list[Page]:
        """Return the pages of several steps that are taken together, as its room shows them; none elsewhere."""
        view, stop = self.view, self.where_left if self.stops else None
        if not isinstance(view, RowsView):
            return []
        return together_pages(view, width, self.room - 1 - (len(_stop(stop, view, width)) if stop else 0), decimal_mark(self.app))

    def render(self) -> Content:
        return Content("\n").join(self._rows(self.size.width))

    def _rows(self, width: int) -> list[Content]:
        if self.view is None:
            return [Content.styled(" shopmate", "bold $foreground")]
        asked = (
            self.view,
            self.project,
            width,
            self.room,
            self.cautions_key,
            self.where_left,
            self.stops,
            decimal_mark(self.app),
            self.typing,
            self.has_side,
            self.page,
        )
        if asked != self._drawn[0]:  # the layout asks for them several times before they are drawn
            self._drawn = asked, rows(*asked)
        return self._drawn[1]


class Coming(Widget):
    """The steps of the section that come after the one in hand, as many as there is room for."""

    DEFAULT_CSS = """
    Coming { height: 1fr; }
    """

    view: reactive[View | None] = reactive(None)
    has_side: reactive[bool] = reactive(False)
    """Whether the steps of the section stand beside."""

    def render(self) -> Content:
        if self.view is None:
            return Content("")
        frame = self.view.frame
        coming = frame.outline[frame.at + 1 :] if not frame.rows and not self.has_side else ()
        lines = [_line(line, self.size.width) for line in coming if line.mark != "not applicable"]
        lines = [Content(""), *lines] if len(lines) < self.size.height else lines[: self.size.height]
        if frame.ahead and len(lines) + 1 < self.size.height:
            lines += [Content(""), Content.styled(cut(f" {frame.ahead}", self.size.width), "$quiet")]
        return Content("\n").join(lines)


def rows(
    view: View,
    project: str,
    width: int,
    height: int,
    key: str = "",
    where_left: WhereLeft | None = None,
    stops: bool = False,
    mark: str = ".",
    typing: bool = False,
    has_side: bool = False,
    page: int = 0,
) -> list[Content]:
    """Return the rows of the panel for a size: at most `height` rows of at most `width` columns, with that decimal mark.

    While a value is `typing`, what it is to come to stands beside it; with a side the steps of the section stand there. Of steps
    that are taken together it is the `page`.
    """
    frame = view.frame
    # Where the panel has two rows the value has none beside it.
    beside = view.target if typing and height > 2 and isinstance(view, EnterView) else None
    found = [figure for figure in frame.figures if figure.shown != beside]
    figures = [replace(figure, shown=replace(figure.shown, number=marked(figure.shown.number, mark))) for figure in found]
    if height == 1 or (height == 2 and isinstance(view, EnterView) and figures and not stops):
        return [_place_and_headline(frame, width), *_figures_in_a_row(figures, width)][:height]
    top = [_place(frame, project, width)]
    if where_left is not None and stops:
        top += _stop(where_left, view, width)
    if frame.rows:
        return _together(view, top, width, height, mark, page)
    rest = height - len(top)
    groups = _core(view, figures, width, rest, key)
    core = _spaced(groups, rest - _AIR)
    # In passing it takes a free row, or the last of several rows of details; never a headline, a figure or a verdict.
    spare = len(groups[-1]) - 1 if frame.detail and len(core) > rest else 0
    if where_left is not None and not stops and len(core) - spare < rest:
        top.append(_passing(where_left, width))
        rest -= 1
    # It comes after a row for the step done last.
    if (cue := _cue(view, width)) and len(core) + 2 < rest:
        core = [cue, *core]
    # The step done last stands in the words for who comes back already.
    before = _done(frame, width, rest - len(core)) if where_left is None and not has_side else []
    return [*top, *before, *core][:height]


def _done(frame: Frame, width: int, free: int) -> list[Content]:
    """Return the steps done last in half of the rows that are free, with a gap below several of them.

    The other half is for those that come.
    """
    done, half = frame.outline[: frame.at], max(0, free) // 2
    if len(done) >= half:
        # Where rows are dear they go to what was done: the answer given last is looked at again.
        done = tuple(line for line in done if line.mark != "not applicable")
    room = min(len(done) + (len(done) > 1), half)
    gap = [Content("")] if room > 1 else []
    return [*(_line(line, width) for line in done[len(done) - room + len(gap) :]), *gap]


def _together(view: View, top: list[Content], width: int, height: int, mark: str, page: int) -> list[Content]:
    """Return the rows of several steps that are taken together; under them the question that is asked, where one is."""
    if isinstance(view, RowsView):
        found = together_pages(view, width, height - len(top), mark)
        shown, title = found[min(page, len(found) - 1)].lines, _title(view.headline, width)
        return [*top, *(title if len(found) == 1 and len(top) + len(title) + len(shown) <= height else []), *shown]
    frame = view.frame
    detail = [Content.styled(f" {line}", "$foreground") for text in frame.detail for line in _wrap(text, width - 2)]
    asked, verdict = _title(view.headline, width), _verdict(said(view), width)
    rest = height - len(top) - len(asked) - len(verdict)
    beside = together.about(frame.rows, width, max(0, rest - len(detail)), mark)
    detail = detail[: max(0, rest - len(beside))]
    large = _block(view.headline, width, "$foreground", lines=1)
    if large and len(beside) + len(detail) + len(large) - len(asked) + _AIR <= rest:
        asked = large
    return [*top, *_spaced((beside, asked, verdict, detail), height - len(top))][:height]


def together_pages(view: RowsView, width: int, height: int, mark: str = ".") -> list[Page]:
    """Return the pages of several steps that are taken together in `height` rows under those about the place.

    The name of the section stands over them too where all of it fits then.
    """
    titled = together.pages(view.frame.rows, width, height - len(_title(view.headline, width)), mark)
    return titled if len(titled) == 1 else together.pages(view.frame.rows, width, height, mark)


def _title(text: str, width: int) -> list[Content]:
    return [Content.styled(f" {line}", "bold $foreground") for line in _wrap(text, width - 2)]


def least_rows(view: View, width: int, *, stops: bool = False) -> int:
    """Return the rows of the panel that come before large digits of a clock.

    They are the place and the headline; at a no-go what to do too, the words of a caution, the first of several cautions
    with the figures, and with `stops` where somebody was who comes back.
    """
    words = said(view)
    if view.frame.rows:
        return 3 + together.height(view.frame.rows, width)
    if words.warnings or stops:
        return 5 + len(words.figures)
    if isinstance(view, CautionView):
        return 2 + len(_caution(view, width, 0)[1])
    return 4 if words.go is False else 2


def _stop(where: WhereLeft, view: View, width: int) -> list[Content]:
    """Return the words that stand until who comes back goes on."""
    label = f" {phrase('YOU WERE HERE')} "
    away = Content.styled(cut(f" {where.away}", width - len(label) - 1), "bold $foreground")
    lines = [Content.assemble(" ", (label, field("do-before"))) + away]
    lines.append(Content.styled(cut(f" {MARKS['done']} {where.last}  {where.shown}", width), "$done"))
    if isinstance(view, CautionView):
        lines.append(Content.styled(cut(f" {MARKS['started']} {where.begun}", width), "bold $foreground"))
    return lines


def _passing(where: WhereLeft, width: int) -> Content:
    """Return the row that says in passing where somebody was; the next key takes it away."""
    text = f" {phrase('You were here')} · {where.away} · {MARKS['done']} {where.last}  {where.shown}"
    return Content.styled(cut(text, width), "bold $done")


def _cue(view: View, width: int) -> Content | None:
    """Return the row over the headline: the condition of the step, then what kind of step it is; None where it has neither."""
    when, task = view.frame.condition, view.frame.task
    condition = f"{when[0].upper()}{when[1:]}: " if when else ""
    taken_up = isinstance(view, DoView) and view.taken_up
    words = condition + (phrase("{task} (left for later)", task) if taken_up else task)
    return Content.styled(cut(f" {words}", width), "$quiet") if words else None


def _spaced(groups: Sequence[Sequence[Content]], height: int) -> list[Content]:
    """Return groups of rows one under the other, a blank row between them where all fits `height` so."""
    groups = [group for group in groups if group]
    rows_ = [row for group in groups for row in group]
    if len(rows_) + len(groups) - 1 > height:
        return rows_
    return [row for index, group in enumerate(groups) for row in ([Content("")] if index else []) + list(group)]


def _place(frame: Frame, project: str, width: int) -> Content:
    # Step and turn come first, so that they always stand at the same place and a small screen does not cut them.
    *before, section = frame.places or ("",)
    later = phrase("{count} for later", frame.for_later) if frame.for_later else ""
    left = cut(" · ".join(filter(None, (*before, later, frame.section, section))), width)
    right = cut(project, width - len(left) - 3) if width - len(left) > 14 else ""
    gap = " " * max(0, width - len(left) - len(right))
    return Content.assemble((left, "bold $foreground"), gap, (right, "$quiet"))


def _place_and_headline(frame: Frame, width: int) -> Content:
    return Content.styled(cut(" · ".join((*frame.places[:1], frame.headline)), width), "bold $foreground")


def _figures_in_a_row(figures: Sequence[Figure], width: int) -> list[Content]:
    """Return the figures in one row, as many as fit: what is poured to comes before a row for the headline."""
    words = [f"{figure.label} {figure.shown}" for figure in figures]
    while len(words) > 1 and len(" · ".join(words)) > width - 1:
        words.pop()
    return [Content.styled(cut(f" {' · '.join(words)}", width), "bold $foreground")] if words else []


def _core(view: View, figures: Sequence[Figure], width: int, height: int, key: str) -> list[list[Content]]:
    """Return headline, details, figures and the rest as groups of rows: in block letters as far as all of it fits.

    Cautions of a working get what is left of the rows, the done and the coming steps what these leave.
    """
    if isinstance(view, CautionView):
        return _caution(view, width, height)
    words = said(view)
    verdict, foot = _verdict(words, width), _say("", words.advice, "$foreground", width)
    foot += [row for text in view.frame.notices for row in _say(f"{phrase('NOTICE')}: ", text, "$foreground", width)]
    plain = _figures(figures, width, large=False)
    details = [Content.styled(f" {line}", "$foreground") for text in view.frame.detail for line in _wrap(text, width - 2)]
    large_figures = _figures(figures, width, large=True)
    small = [Content.styled(f" {line}", "bold $foreground") for line in _wrap(view.headline, width - 2)]
    large = _block(view.headline, width, "$foreground", lines=2)
    very = width >= _VERY_WIDE and height >= _VERY_HIGH
    largest = _block(view.headline, width, "$foreground", lines=2, double=True) if very else []
    largest_figures = _figures(figures, width, large=True, double=True) if very else []
    cautions = [_say("! ", caution, "$do-before", width) for caution in words.warnings]
    least = min(sum(map(len, cautions)), _LEAST_CAUTIONS)
    for head, numbers in (
        (largest, largest_figures),
        (largest, large_figures),
        (large, large_figures),
        (small, large_figures),
        (large, plain),
        (small, plain),
    ):
        groups = [head, details, verdict, numbers, foot]
        rest = height - sum(map(len, groups))
        if head and least <= rest:
            # One row each keeps the groups apart.
            spare = rest - _AIR - sum(1 for group in groups if group)
            return [*groups, _told(cautions, width, max(least, spare), key)]
    rest = height - len(small) - len(verdict) - len(plain) - len(foot)
    return [small, verdict, plain, foot, _told(cautions, width, max(1, min(least, rest)), key), details]


def _told(cautions: Sequence[list[Content]], width: int, height: int, key: str) -> list[Content]:
    """Return cautions whole, in their order, as many as fit `height`, and how many there are more.

    The first is cut where it does not fit; with one row there is only the count.
    """
    if sum(map(len, cautions)) <= height:
        return [row for caution in cautions for row in caution]
    shown: list[Content] = []
    more = len(cautions)
    for caution in cautions:
        if len(shown) + len(caution) >= height:
            break
        shown += caution
        more -= 1
    words = _more(more) if shown else phrase("! 1 caution") if more == 1 else phrase("! {count} cautions", more)
    if not shown and height > 1:
        cut = cautions[0][height - 2].plain[: width - 2]
        shown = [*cautions[0][: height - 2], Content.styled(f"{cut} …", "$do-before")]
        words = _more(more - 1) if more > 1 else phrase("There is more to read")
    words = phrase("{count}: {key} shows all", words, key) if key else words
    return [*shown, Content.styled(f" {words}", "bold $do-before")]


def _more(count: int) -> str:
    return phrase("+ 1 more caution") if count == 1 else phrase("+ {count} more cautions", count)


def _caution(view: CautionView, width: int, height: int) -> list[list[Content]]:
    style = field(f"signal-{view.signal.lower()}")
    shape = "" if view.signal == "NOTICE" else "⚠ "
    signal = phrase(view.signal)
    word = _block(signal, width, style, lines=1) if height >= _BLOCK_HEIGHT else []
    word = [row + Content.styled(" ", style) for row in word]
    head = word or [Content.styled(f" {shape}{signal} ".ljust(min(width, 30)), style)]
    text = [
        Content.styled(f" {line}", "bold $foreground") for part in view.frame.detail for line in _wrap(part, min(width - 2, 76))
    ]
    mark = _say(shape, phrase("Read this before the step. Press * when read."), "$foreground", width)
    return [head, text, mark]


def _figures(figures: Sequence[Figure], width: int, *, large: bool, double: bool = False) -> list[Content]:
    """Return the figures side by side in block digits with label and unit, or one a line in plain text."""
    if not figures:
        return []
    plain = [Content.assemble((f" {f.label} ", "$quiet"), (str(f.shown), "bold $foreground")) for f in figures]
    if not large or not all(block.has_glyphs(f.shown.number) for f in figures):
        return plain
    columns: list[tuple[str, list[str], str]] = []
    used = 0
    for figure in figures:
        glyphs, tail = block.rows(figure.shown.number, double), figure.shown.unit
        wide = max(len(glyphs[0]) + len(tail) + 1, len(figure.label)) + 3
        used += wide
        columns.append((figure.label.ljust(wide), [line.ljust(wide - len(tail)) for line in glyphs], tail))
    if used + 1 > width:
        return plain
    lines = [Content.styled(" " + "".join(label for label, _, _ in columns), "$quiet")]
    for row in range(len(columns[0][1])):
        parts: list[Content | str] = [" "]
        for _, glyphs, unit in columns:
            # The unit stands on the base line of its figure.
            shown = unit if row == len(glyphs) - 1 else ""
            line = glyphs[row].rstrip()
            pad = len(glyphs[row]) + len(unit) - len(line) - len(shown) - (1 if shown else 0)
            parts += [
                Content.styled(line, "$foreground"),
                Content.styled(f" {shown}" if shown else "", "bold $foreground"),
                " " * pad,
            ]
        lines.append(Content.assemble(*parts))
    return lines


def _verdict(words: Said, width: int) -> list[Content]:
    """Return what decides about the step: that it is late, what is missing, how it is judged and what to do at a no-go."""
    lines = _say(f"{phrase('LATE')} ", words.late, field("late"), width)
    for problem in words.problems:
        lines += _say("✖ ", problem, "bold $late", width)
    if words.go is not None:
        word, style = f" {phrase('GO' if words.go else 'NO GO')} ", field("done" if words.go else "late")
        first, *rest = _wrap(words.judged, width - len(word) - 2)
        lines.append(Content.assemble(" ", (word, style), (f" {first}", "bold $foreground")))
        lines += [Content.styled(f" {' ' * len(word)} {line}", "bold $foreground") for line in rest]
    return lines + _say("", words.if_no, "$foreground", width)


def _line(line: Line, width: int) -> Content:
    style = {"done": "$done", "not applicable": "$quiet"}.get(line.mark, "$quiet")
    condition = f"{line.condition}: " if line.condition else ""
    text = f" {MARKS[line.mark]} {condition}{line.text}" + (f"  {line.shown}" if line.shown else "")
    if line.mark in ("not applicable", "for later"):
        text += f"  ({phrase('does not apply' if line.mark == 'not applicable' else line.mark)})"
    return Content.styled(cut(text, width), style)


def _say(lead: str, text: str, style: str, width: int) -> list[Content]:
    """Return a text wrapped behind its lead, nothing where there is none."""
    if not text:
        return []
    return [
        Content.styled(f" {lead if first else ' ' * len(lead)}{line}", style)
        for first, line in _numbered(_wrap(text, width - 2 - len(lead)))
    ]


def _numbered(lines: Iterable[str]) -> Iterable[tuple[bool, str]]:
    for index, line in enumerate(lines):
        yield index == 0, line


def _block(text: str, width: int, style: str, lines: int, double: bool = False) -> list[Content]:
    """Return a text in block letters, or nothing when it does not fit or a letter has none."""
    if not block.has_glyphs(text):
        return []
    broken = block.wrap(text, width - 1, double)
    if len(broken) > lines or any(block.columns(line, double) > width - 1 for line in broken):
        return []
    return [Content.styled(f" {row}", style) for line in broken for row in block.rows(line, double)]


def _wrap(text: str, width: int) -> Sequence[str]:
    return textwrap.wrap(text, max(width, 10)) or [""]


def cut(text: str, width: int) -> str:
    """Return a text in one row, its end left away where it is too long."""
    return text if len(text) <= width else text[: max(0, width - 1)] + "…"
