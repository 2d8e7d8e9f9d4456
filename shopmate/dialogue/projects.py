"""Which project to work on: the first one, another one, a new one, or the demo."""

from __future__ import annotations

from pathlib import Path

from shopmate.dialogue.asking import Dialogue, Item, choose, name, say, tell
from shopmate.dialogue.desk import Desk
from shopmate.errors import ShopmateError
from shopmate.phrases import phrase
from shopmate.session import free_project_name, project_path, projects
from shopmate.session.demo import demo_project


def begin(desk: Desk, path: Path | None) -> Dialogue[None]:
    """Open the project asked for, or ask which where none is."""
    if path is None:
        yield from _welcome(desk)
    elif not (yield from _open(desk, path)):
        yield from another(desk)


def another(desk: Desk) -> Dialogue[None]:
    """Ask which project to work on until one is open, or the one before is gone on with."""
    while True:
        items = [Item(str(path), path.stem) for path in projects()]
        items += [Item("new", phrase("New project")), Item("demo", phrase("Demo"), phrase("invented data"))]
        leave = "back" if desk.has_session else "leave"
        chosen = yield from choose(phrase("Project"), items, leave=leave)
        if chosen is None:
            if not desk.has_session:
                desk.face.leave()
            return
        if (yield from _chosen(desk, chosen)):
            return


def _welcome(desk: Desk) -> Dialogue[None]:
    """Ask, the first time, for a new project or the demo."""
    items = [
        Item("new", phrase("New project")),
        Item("demo", phrase("Demo"), phrase("a bird hide on a trailer; all its data is invented")),
    ]
    explain = phrase("Digits choose. Everything is recorded as it is done.")
    chosen = yield from choose(phrase("shopmate · no project yet"), items, leave="leave", explain=explain)
    if chosen is None:
        desk.face.leave()
    elif not (yield from _chosen(desk, chosen)):
        yield from another(desk)


def _chosen(desk: Desk, chosen: str) -> Dialogue[bool]:
    """Open what was chosen; return whether it is open."""
    if chosen == "new":
        return (yield from _new(desk))
    try:
        path = demo_project(desk.now()) if chosen == "demo" else Path(chosen)
    except ShopmateError as error:
        yield from tell(str(error))
        return False
    return (yield from _open(desk, path))


def _open(desk: Desk, path: Path) -> Dialogue[bool]:
    try:
        desk.open(path)
    except ShopmateError as error:
        yield from tell(str(error))
        return False
    yield from say(phrase("Project opened: {name}.", desk.session.project.name), drawn=True)
    return True


def _new(desk: Desk) -> Dialogue[bool]:
    """Ask for the name and the units of a new project and open it; return whether it is open."""
    called = yield from name(phrase("Name of the project"), free_project_name())
    if called is None:
        return False
    units = [Item("metric", phrase("Metric"), "mm, g, °C"), Item("inch", phrase("Inch"), "in, oz, °F")]
    system = yield from choose(phrase("Units to show; both are understood when typed"), units)
    try:
        desk.create(project_path(called), called, "inch" if system == "inch" else "metric")
    except ShopmateError as error:
        yield from tell(str(error))
        return False
    inch = system == "inch"
    made = phrase("Project made: {name}, inch units." if inch else "Project made: {name}, metric units.", called)
    yield from say(made, drawn=True)
    return True
