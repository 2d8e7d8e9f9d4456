"""The guide to the program itself: each topic a Markdown file of this folder, read as plain text that fits any width."""

from __future__ import annotations

import re
import textwrap
from functools import cache
from pathlib import Path

from shopmate.errors import UsageError
from shopmate.records import dataclass

_FOLDER = Path(__file__).parent

AT_THE_BENCH = ("bench", "keys", "lines", "ears", "setup", "recipes", "shelf", "log", "words")
"""Topics in the order they are read; no more than nine, so that the bench chooses one by one digit."""

LISTS = ("calculators", "commands")
"""Topics that list what the bench shows in its own way: every calculator in its form, every command as a menu."""

_WIDEST = 100
"""Columns above which the eye loses the line."""

_COMMENT = re.compile(r"<!--.*?-->\n?", re.DOTALL)
_MARKED = re.compile(r"`([^`]+)`|\*\*(.+?)\*\*|\*(\S.*?)\*|\[([^\]]+)\]\([^)]+\)")
"""Code, bold, italic and a link, as Markdown marks them."""


@dataclass(frozen=True, slots=True)
class Row:
    """A paragraph, an item of a list or a line of an example, without marks."""

    text: str
    lead: str = ""
    """What its first line begins with."""
    further: str = ""
    """What its further lines begin with, where it takes several."""

    def lines(self, width: int) -> list[str]:
        """Return it in lines of up to `width` columns."""
        lead, further = self.lead, self.further
        return textwrap.wrap(self.text, width, initial_indent=lead, subsequent_indent=further, break_on_hyphens=False)


@dataclass(frozen=True, slots=True)
class Topic:
    """One file of the guide."""

    name: str
    title: str
    about: str
    """What it tells, in one line."""
    blocks: tuple[tuple[Row, ...], ...]
    """Its rows; a blank line parts one block from the next."""

    def lines(self, width: int) -> list[str]:
        """Return all of it but the title, in lines of up to `width` columns and never wider than reads well."""
        room = min(width, _WIDEST)
        found: list[str] = []
        for block in self.blocks:
            found += [""] if found else []
            for row in block:
                found += row.lines(room)
        return found


def names() -> tuple[str, ...]:
    """Return the names of all topics, those of the bench first."""
    return AT_THE_BENCH + LISTS


@cache
def load(name: str) -> Topic:
    """Return the topic of that name; UsageError if there is none."""
    if name not in names():
        raise UsageError(f"the guide has no topic '{name}'; topics: {', '.join(names())}")
    text = _COMMENT.sub("", (_FOLDER / f"{name}.md").read_text(encoding="utf-8"))
    title, about, *parts = re.split(r"\n{2,}", text.strip())
    return Topic(name, title.removeprefix("# "), _plain(about), tuple(map(_block, parts)))


def _block(part: str) -> tuple[Row, ...]:
    """Return the rows of a paragraph, a list with one item per line, or an example between fences."""
    lines = part.splitlines()
    if lines[0].startswith("```"):
        return tuple(Row(line, "  ", "      ") for line in lines[1:-1])
    if lines[0].startswith("- "):
        return tuple(Row(_plain(line.removeprefix("- ")), "- ", "  ") for line in lines)
    return (Row(_plain(" ".join(lines))),)


def _plain(text: str) -> str:
    """Return a text without its marks: a key stands in brackets, as lines name it, and a command of several words in quotes."""
    return _MARKED.sub(_unmarked, text)


def _unmarked(found: re.Match[str]) -> str:
    code = found[1]
    if code is None:
        return _plain(found[2] or found[3] or found[4])
    if len(code) == 1:
        return f"[{code}]"
    return f"'{code}'" if " " in code else code
