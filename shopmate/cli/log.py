"""The log of a project, exported."""

from __future__ import annotations

from argparse import Namespace

from shopmate.cli.project_file import project_file
from shopmate.project import events_of
from shopmate.project.export import export


def run(arguments: Namespace) -> None:
    """Print everything recorded in a project."""
    path = project_file(arguments.project)
    events = events_of(path)
    name = next((str(event.data["name"]) for event in events if event.kind == "project"), path.stem)
    print(export(events, name, arguments.format))
