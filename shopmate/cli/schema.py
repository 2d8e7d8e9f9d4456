"""The schema of recipes or of operations, for editors."""

from __future__ import annotations

from argparse import Namespace

from shopmate import paths


def run(arguments: Namespace) -> None:
    """Print the JSON Schema of recipes or of operations, or where its file is."""
    path = paths.schema(arguments.of)
    print(path if arguments.path else path.read_text(encoding="utf-8"), end="\n" if arguments.path else "")
