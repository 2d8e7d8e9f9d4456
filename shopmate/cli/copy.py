"""A copy of a project, made while the project may be worked on."""

from __future__ import annotations

from argparse import Namespace
from pathlib import Path

from shopmate.cli.project_file import project_file
from shopmate.errors import UsageError
from shopmate.log import SUFFIX, Log


def run(arguments: Namespace) -> None:
    """Copy a project to a new file and print the name of that."""
    path, new = project_file(arguments.project), Path(arguments.file)
    if new.is_dir():
        new /= path.name
    if new.suffix != SUFFIX:
        raise UsageError(f"'{new}' would not be found as a project; give a name that ends in {SUFFIX}, or a folder")
    with Log(path, read_only=True) as log:
        log.copy_to(new)
    print(new)
