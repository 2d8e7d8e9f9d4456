"""Published tables as data: one CSV file a table in this folder, read when first asked for.

A file opens with comment lines `# title: ...` and one `# source KEY [mark]: ...` a source; then the column
names (a unit is the last word of the name: `head_max_in`) and the rows. The last column, `source`, holds a key.
"""

from __future__ import annotations

import csv
import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib import resources

from shopmate.errors import UsageError

__all__ = ["Table", "load", "names"]

_SOURCE = re.compile(r"# source (\S+) \[(read|computed|common practice|memory)\]: (.+)")


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


@cache
def names() -> tuple[str, ...]:
    """Return the names of all tables, in alphabetical order."""
    files = (item.name for item in resources.files(__name__).iterdir())
    return tuple(sorted(name.removesuffix(".csv") for name in files if name.endswith(".csv")))


@cache
def load(name: str) -> Table:
    """Return the table of that name; UsageError if there is none."""
    if name not in names():
        raise UsageError(f"there is no table '{name}'; tables: {', '.join(names())}")
    title, sources, body = name, {}, []
    for line in resources.files(__name__).joinpath(f"{name}.csv").read_text(encoding="utf-8").splitlines():
        if match := _SOURCE.fullmatch(line):
            sources[match[1]] = f"{match[3]} [{match[2]}]"
        elif line.startswith("# title: "):
            title = line.removeprefix("# title: ")
        elif line != "#" and not line.startswith("# "):
            body.append(line)
    reader = csv.DictReader(body)
    return Table(name, title, tuple(reader.fieldnames or ()), tuple(reader), sources)
