"""Which project to work on: the first one, another one, a new one, or the demo."""

from __future__ import annotations

from pathlib import Path

from shopmate.dialogue.asking import Dialogue, Item, choose, name, say, tell
from shopmate.dialogue.desk import Desk
from shopmate.errors import DamagedFile, ShopmateError
from shopmate.phrases import phrase
from shopmate.project import backups, mend
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
        Item("demo", phrase("Demo"), phrase("a bird hide on a trailer; all data invented")),
    ]
    explain = phrase("Press a digit to choose. Everything is recorded as it is done.")
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
    except DamagedFile as error:
        return (yield from _bring_back(desk, path, error))
    except ShopmateError as error:
        yield from tell(str(error))
        return False
    yield from tell_trouble(desk)
    yield from say(phrase("Project opened: {name}.", desk.session.project.name), drawn=True)
    return True


def tell_trouble(desk: Desk) -> Dialogue[None]:
    """Tell why nothing can be recorded in the project that is open, where no other window does; lines say notices whole."""
    if desk.face.draws and desk.session.read_only and not desk.session.other_works:
        yield from tell(desk.session.why_read_only)


def _bring_back(desk: Desk, path: Path, error: DamagedFile) -> Dialogue[bool]:
    """Offer the newest backup of a project that cannot be read; return whether it is open."""
    kept = next(iter(backups.backups_of(path)), None)
    if kept is None:
        yield from tell(str(error))
        return False
    made = f"{backups.made_at(kept).astimezone():%Y-%m-%d %H:%M}"
    item = Item("backup", phrase("Restore the newest backup"), made)
    explain = phrase("{problem}. The damaged file is kept beside it.", error)
    if (yield from choose(phrase("Project damaged"), [item], explain=explain)) is None:
        return False
    try:
        aside = mend.bring_back(kept, path, desk.now())
    except (ShopmateError, OSError) as fault:
        yield from tell(str(fault))
        return False
    yield from say(phrase("Restored. The damaged file is {path}", aside))
    return (yield from _open(desk, path))


def _new(desk: Desk) -> Dialogue[bool]:
    """Ask for the name and the units of a new project and open it; return whether it is open."""
    called = yield from name(phrase("Name of the project"), free_project_name())
    if called is None:
        return False
    units = [Item("metric", phrase("Metric"), "mm, g, °C"), Item("inch", phrase("Inch"), "in, oz, °F")]
    system = yield from choose(phrase("Units to show; you can type either"), units)
    try:
        desk.create(project_path(called), called, "inch" if system == "inch" else "metric")
    except ShopmateError as error:
        yield from tell(str(error))
        return False
    inch = system == "inch"
    made = phrase("Project created: {name}, inch units." if inch else "Project created: {name}, metric units.", called)
    yield from say(made, drawn=True)
    return True
