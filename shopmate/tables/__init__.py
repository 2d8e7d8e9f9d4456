"""Published tables as data: one CSV file a table in this folder, read when first asked for.

A file opens with comment lines `# title: ...` and one `# source KEY [mark]: ...` a source; then the column
names (a unit is the last word of the name: `head_max_in`) and the rows. The last column, `source`, holds a key.
"""

from __future__ import annotations

import csv
import re
import sys
import textwrap
from collections.abc import Mapping, Sequence
from functools import cache
from pathlib import Path

from shopmate.errors import UsageError
from shopmate.records import dataclass

__all__ = ["Block", "Table", "heading", "load", "names"]

_FOLDER = Path(__file__).parent
_NUMBER = re.compile(r"-?[0-9]+(?:\.[0-9]+)?")
_SOURCE = re.compile(r"# source (\S+) \[(read|computed|common practice|memory)\]: (.+)")

_UNITS = {
    "g_ml": "g/mL",
    "lb_ft3": "lb/ft³",
    "kpa": "kPa",
    "mpa": "MPa",
    "in": "in",
    "mm": "mm",
    "g": "g",
    "psi": "psi",
    "min": "min",
    "s": "s",
    "h": "h",
}
"""What the last words of a column's name say of its unit."""

_DOT = " · "
_KEY_SHARE = 0.75
"""Share of the width that the columns which tell the rows apart may take, since each block repeats them."""


@dataclass(frozen=True, slots=True)
class Block:
    """Columns of a table that fit beside one another, as lines of text."""

    head: tuple[str, ...]
    """Headings and the rule under them."""
    rows: tuple[tuple[str, ...], ...]
    """The lines of each row."""


@dataclass(frozen=True, slots=True)
class Table:
    """A published table: its rows are texts by column name, in the order of the file."""

    name: str
    title: str
    columns: tuple[str, ...]
    rows: tuple[Mapping[str, str], ...]
    sources: Mapping[str, str]
    """Source text with its mark, by key."""

    def row(self, column: str, text: str) -> Mapping[str, str]:
        """Return the first row whose `column` reads `text`; KeyError if there is none."""
        for row in self.rows:
            if row[column] == text:
                return row
        raise KeyError(f"{self.name}: no row with {column} = {text}")

    def source_of(self, row: Mapping[str, str]) -> str:
        """Return the source of a row with its mark."""
        return "; ".join(self.sources[key] for key in row["source"].split("+"))

    def blocks(self, width: int | None = None, *, markdown: bool = False) -> list[Block]:
        """Return the table in aligned columns, in blocks of at most `width` characters (None: in one), plain or as Markdown.

        Each block begins with the columns that tell its rows apart. Where these leave no room the cells of a row follow
        one another. A text longer than its column is wrapped.
        """
        left, gap, right = ("| ", " | ", " |") if markdown else ("", "  ", "")
        room = sys.maxsize if width is None else width - len(left) - len(right)
        titles = {name: heading(name) for name in self.columns}
        wide = {name: self._wide(name, title, markdown) for name, title in titles.items()}
        keys = self._keys()
        taken = sum(wide[name] + len(gap) for name in keys)
        if taken > _KEY_SHARE * room and width is not None:
            return [self._flowing(width)]
        free = room - taken
        wide = {name: wide[name] if name in keys else min(wide[name], free) for name in self.columns}
        groups = [[*keys, *names] for names in _fitting(self.columns[len(keys) :], wide, len(gap), free)]
        numbers = {name for name in self.columns if all(_NUMBER.fullmatch(row[name]) for row in self.rows if row[name])}

        def lines(names: Sequence[str], texts: Mapping[str, str]) -> tuple[str, ...]:
            cells = [_cell(texts[name], wide[name], name in numbers) for name in names]
            tall = max(map(len, cells))
            padded = [[*cell, *[" " * wide[name]] * (tall - len(cell))] for name, cell in zip(names, cells, strict=True)]
            return tuple(f"{left}{gap.join(line)}{right}".rstrip() for line in zip(*padded, strict=True))

        found = []
        for names in groups:
            dashes = ["-" * wide[name] if markdown else "─" * wide[name] for name in names]
            under = f"{left}{gap.join(dashes)}{right}"
            found.append(Block((*lines(names, titles), under), tuple(lines(names, row) for row in self.rows)))
        return found

    def _wide(self, name: str, title: str, markdown: bool) -> int:
        """Return the characters that a column takes for its longest text and its heading."""
        # Where room is short a heading takes as many lines as it has words; Markdown knows one line only.
        return max(*(len(row[name]) for row in self.rows), len(title) if markdown else max(map(len, title.split())))

    def _keys(self) -> tuple[str, ...]:
        """Return the first columns that together tell the rows apart."""
        count = 1
        while count < len(self.columns) and len({tuple(row[name] for name in self.columns[:count]) for row in self.rows}) < len(
            self.rows
        ):
            count += 1
        return self.columns[:count]

    def _flowing(self, width: int) -> Block:
        """Return the cells of each row one after another, for rows that it takes more columns to tell apart than fit."""
        titles = _DOT.join(map(heading, self.columns))
        rows = (_DOT.join(row[name] or "–" for name in self.columns) for row in self.rows)
        head = (*textwrap.wrap(titles, width), "─" * width)
        return Block(head, tuple(tuple(textwrap.wrap(row, width, subsequent_indent="  ")) for row in rows))


def heading(column: str) -> str:
    """Return the name of a column for reading, its unit in brackets: 'head max (in)' for head_max_in."""
    words = column.split("_")
    for last in (2, 1):
        unit = _UNITS.get("_".join(words[-last:]))
        if unit and len(words) > last and words[-last - 1] != "per":
            return f"{' '.join(words[:-last])} ({unit})"
    return " ".join(words)


def _fitting(names: Sequence[str], wide: Mapping[str, int], gap: int, room: int) -> list[list[str]]:
    """Return columns in their order in groups that are each no wider than `room`, a gap after each column."""
    groups: list[list[str]] = []
    free = 0
    for name in names:
        if wide[name] > free:
            groups.append([])
            free = room
        groups[-1].append(name)
        free -= wide[name] + gap
    return groups


def _cell(text: str, width: int, number: bool) -> list[str]:
    """Return a text wrapped to a column, each line as wide as it."""
    return [line.rjust(width) if number else line.ljust(width) for line in textwrap.wrap(text, width) or [""]]


@cache
def names() -> tuple[str, ...]:
    """Return the names of all tables, in alphabetical order."""
    return tuple(sorted(path.stem for path in _FOLDER.glob("*.csv")))


@cache
def load(name: str) -> Table:
    """Return the table of that name; UsageError if there is none."""
    if name not in names():
        raise UsageError(f"there is no table '{name}'; tables: {', '.join(names())}")
    title, sources, body = name, {}, []
    for line in (_FOLDER / f"{name}.csv").read_text(encoding="utf-8").splitlines():
        if match := _SOURCE.fullmatch(line):
            sources[match[1]] = f"{match[3]} [{match[2]}]"
        elif line.startswith("# title: "):
            title = line.removeprefix("# title: ")
        elif line != "#" and not line.startswith("# "):
            body.append(line)
    reader = csv.DictReader(body)
    return Table(name, title, tuple(reader.fieldnames or ()), tuple(reader), sources)
