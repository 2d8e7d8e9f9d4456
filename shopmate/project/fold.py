"""A project as its log tells it: a pure fold over the events that were not taken back."""

from __future__ import annotations

from collections.abc import Sequence

from shopmate.project.events import Recorded
from shopmate.project.events.work import TakenBack
from shopmate.project.project import Project


def fold(events: Sequence[Recorded], name: str) -> Project:
    """Return the project that the events tell of; `name` is its name until an event gives one."""
    undone = {event.what.event for event in events if isinstance(event.what, TakenBack)}
    project = Project(name)
    for event in events:
        if event.id not in undone:
            _apply(project, event)
    return project


def advance(project: Project, event: Recorded) -> Project:
    """Return the project after one more event, which takes none back; the project given stays as it was.

    So that a key costs the same however long the log is.
    """
    after = project.apart()
    _apply(after, event)
    return after


def _apply(project: Project, event: Recorded) -> None:
    event.what.fold(project, event)
    if event.what.undoable:
        project.undo.append(event.id)
