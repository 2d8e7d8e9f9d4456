"""A published table in lines: row by row, each cell with the name of its column, the sources last."""

from __future__ import annotations

from shopmate.phrases import phrase
from shopmate.plain.lines import Lines
from shopmate.tables import Table, heading

_ROWS = 10
"""Rows of a table said at once."""


def say_table(lines: Lines, table: Table) -> None:
    """Say a table until it ends or there is enough of it."""
    count = len(table.rows)
    lines.say(phrase("{table}, {count} rows", table.title, count) if count > 1 else phrase("{table}, 1 row", table.title))
    for number, row in enumerate(table.rows, 1):
        cells = (f"{heading(column)} {row[column]}" for column in table.columns if row[column])
        lines.say(f"{number}: {', '.join(cells)}", as_written=True)
        if number % _ROWS == 0 and number < count:
            keys = phrase("Row {number} of {count}. [Enter] more, [/] stop", number, count)
            if not lines.wants_more(keys):
                break
    lines.say(f"{phrase('Sources')}:")
    for key, source in table.sources.items():
        lines.say(f"{key}: {source}", 2, as_written=True)
