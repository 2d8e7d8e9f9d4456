"""The published tables: listed, or printed."""

from __future__ import annotations

import csv
import sys
from argparse import Namespace

from shopmate import tables
from shopmate.cli.parser import columns
from shopmate.errors import UsageError


def run(arguments: Namespace) -> None:
    """List the tables, or print one with its sources."""
    if arguments.name is None:
        _list(csv=arguments.csv)
    elif arguments.csv:
        _print_csv(tables.load(arguments.name))
    else:
        _print(tables.load(arguments.name))


def _list(*, csv: bool) -> None:
    if csv:
        raise UsageError("--csv prints one table; name it: shopmate table NAME --csv")
    longest = max(map(len, tables.names()))
    for name in tables.names():
        print(f"{name:<{longest}}  {tables.load(name).title}")


def _print_csv(table: tables.Table) -> None:
    writer = csv.DictWriter(sys.stdout, table.columns, lineterminator="\n")
    writer.writeheader()
    writer.writerows({**row, "source": table.source_of(row)} for row in table.rows)


def _print(table: tables.Table) -> None:
    print(f"# {table.title}")
    # To a file or another program the table goes whole.
    width = columns() if sys.stdout.isatty() else None
    for block in table.blocks(width, markdown=True):
        print()
        for line in (*block.head, *(line for row in block.rows for line in row)):
            print(line)
    print("\nSources:\n")
    for key, source in table.sources.items():
        print(f"- {key}: {source}")
