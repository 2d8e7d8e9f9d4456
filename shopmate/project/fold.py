"""A project as its log tells it: a pure fold over the events that were not taken back."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from shopmate.errors import ShopmateError
from shopmate.project.events import Recorded, Unknown
from shopmate.project.events.work import TakenBack
from shopmate.project.project import REFERS, UNFIT, Project


def fold(events: Sequence[Recorded], name: str, base: Project | None = None) -> Project:
    """Return the project that the events tell of; `name` is its name until an event gives one.

    With a `base`, which stays as it is, that of the events after it: none of them takes back one before.
    """
    numbers = {number for event in events if isinstance(event.what, TakenBack) for number in event.what.all}
    standing = [event for event in events if event.id not in numbers]
    undone = {event.id: event for event in events if event.id in numbers}
    project = base.apart() if base is not None else Project(name)
    try:
        for event in standing:
            _apply(project, event, undone)
    except _DOES_NOT_FIT:
        return _fold_what_fits(standing, undone, base or Project(name))
    return project


def _fold_what_fits(events: Iterable[Recorded], undone: Mapping[int, Recorded], base: Project) -> Project:
    """Return the project that events tell of some of which do not fit those before them; these are left out, and noted."""
    project = base.apart()
    for event in events:
        after = project.apart()
        try:
            _apply(after, event, undone)
        except _DOES_NOT_FIT:
            project.left_out[event.id] = UNFIT
        else:
            project = after
    return project


def advance(project: Project, event: Recorded) -> Project:
    """Return the project after one more event, which takes none back; the project given stays as it was.

    So that a key costs the same however long the log is.
    """
    after = project.apart()
    _apply(after, event, {})
    return after


_DOES_NOT_FIT = (ArithmeticError, AttributeError, LookupError, TypeError, ValueError, ShopmateError)
"""What an event can raise that tells of what is not there, as where those before it are lost."""


def _apply(project: Project, event: Recorded, undone: Mapping[int, Recorded]) -> None:
    """Let an event do to the project what it does; `undone` are those that any event takes back, by their numbers."""
    run = event.what.of_run
    if run is not None and run not in project.runs and not isinstance(event.what, Unknown):
        project.left_out[event.id] = REFERS
        return
    event.what.fold(project, event)
    if isinstance(event.what, TakenBack):
        for old in (undone[number] for number in event.what.all if number in undone):
            old.what.leave(project, old)
    if event.what.undoable:
        project.undo.append(event.id)
