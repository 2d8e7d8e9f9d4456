"""The log of a project, exported."""

from __future__ import annotations

import sys
from argparse import Namespace

from shopmate.cli.project_file import project_file
from shopmate.project import recorded_in, trouble
from shopmate.project.export import export


def run(arguments: Namespace) -> int:
    """Print everything recorded in a project; 1 where some of it is damaged, which is said."""
    path = project_file(arguments.project)
    events, damages = recorded_in(path)
    name = next((str(event.data["name"]) for event in events if event.kind == "project"), path.stem)
    print(export(events, name, arguments.format))
    words = trouble(path, damages, {})
    if words:
        print(f"shopmate: {words}", file=sys.stderr)
    return int(bool(words))
