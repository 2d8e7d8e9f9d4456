"""The clocks of a project and how they stand."""

from __future__ import annotations

import sys
from argparse import Namespace

from shopmate import times
from shopmate.cli.project_file import project_file
from shopmate.errors import UsageError
from shopmate.project import last_project, project_of


def run(arguments: Namespace) -> int:
    """Print the clocks that are running; 1 where some of the project is damaged, which is said."""
    path = project_file(arguments.project) if arguments.project else last_project()
    if path is None:
        raise UsageError("there is no project yet; open one with 'shopmate', or name a file")
    at = arguments.now()
    project, words = project_of(path)
    running = project.running
    for item in running:
        print(f"{times.line(item, at)}. {item.action}.")
    if not running:
        print(f"shopmate: no clock is running in {path.stem}", file=sys.stderr)
    if words:
        print(f"shopmate: {words}", file=sys.stderr)
    return int(bool(words))
