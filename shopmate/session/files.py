"""Where the work is found: project files, recipes and the shelf, read without opening a project for work."""

from __future__ import annotations

import re
from pathlib import Path

from shopmate import paths
from shopmate import recipe as recipes
from shopmate.clock import Clock
from shopmate.errors import DamagedFile, FileProblems, UsageError
from shopmate.log import SUFFIX, Event, Log
from shopmate.phrases import phrase
from shopmate.recipe import Material, Recipe
from shopmate.records import dataclass
from shopmate.session.backups import naming_backup
from shopmate.session.events import known
from shopmate.session.fold import fold


@dataclass(frozen=True, slots=True)
class RecipeFile:
    """A recipe that can be chosen, or what is wrong with its file."""

    name: str
    path: Path
    recipe: Recipe | None
    problem: str = ""


def projects() -> list[Path]:
    """Return the project files of the user, the one worked on last first."""
    folder = paths.projects()
    files = folder.glob(f"*{SUFFIX}") if folder.is_dir() else ()
    return sorted(files, key=lambda path: (-path.stat().st_mtime_ns, path.name))


def last_project() -> Path | None:
    """Return the file of the project worked on last, or None."""
    return next(iter(projects()), None)


def project_path(name: str) -> Path:
    """Return the file a project of that name is kept in; UsageError when the name has no letter or digit."""
    slug = re.sub(r"[^\w]+", "-", name.strip().lower()).strip("-_")[:60]
    if not slug:
        raise UsageError(phrase("'{name}' cannot name a project; use letters or digits", name))
    return paths.projects() / f"{slug}{SUFFIX}"


def free_project_name() -> str:
    """Return a name for a new project: the first number not taken."""
    count = len(projects()) + 1
    while project_path(phrase("Project {count}", count)).exists():
        count += 1
    return phrase("Project {count}", count)


def recipe_files() -> list[RecipeFile]:
    """Return all recipes by name, the user's own in place of shipped ones of the same name."""
    found: dict[str, Path] = {}
    for folder in (paths.shipped_recipes(), paths.user_recipes()):
        for path in sorted(folder.glob("*.yaml")) if folder.is_dir() else ():
            found[path.stem] = path
    return [_recipe_file(name, path) for name, path in sorted(found.items())]


def _recipe_file(name: str, path: Path) -> RecipeFile:
    try:
        return RecipeFile(name, path, recipes.load(path, compare=False))
    except FileProblems as error:
        count = len(error.problems)
        problem = phrase("1 problem: see 'shopmate check {path}'", path)
        if count > 1:
            problem = phrase("{count} problems: see 'shopmate check {path}'", count, path)
        return RecipeFile(name, path, None, problem)


def find_recipe(name: str) -> Recipe:
    """Return the recipe of that name, or of that file; UsageError for an unknown one, FileProblems for a bad one."""
    if name.endswith(".yaml"):
        return recipes.load(Path(name), compare=False)
    for folder in (paths.user_recipes(), paths.shipped_recipes()):
        path = folder / f"{name}.yaml"
        if re.fullmatch(r"[\w-]+", name) and path.is_file():
            return recipes.load(path, compare=False)
    known = sorted(path.stem for folder in (paths.shipped_recipes(), paths.user_recipes()) for path in folder.glob("*.yaml"))
    raise UsageError(phrase("there is no recipe '{name}'; recipes: {names}", name, ", ".join(known)))


def shelf() -> dict[str, Material]:
    """Return the materials on the shelf: the typical ones, replaced and joined by the user's own; raises FileProblems."""
    return recipes.load_shelf(recipes.typical_shelf(), paths.shelf())


def events_of(path: Path) -> list[Event]:
    """Return the events of a project file without opening it for work."""
    try:
        with Log(path, read_only=True) as log:
            return log.events()
    except DamagedFile as error:
        raise naming_backup(error, path) from error


def running_clocks(path: Path) -> list[Clock]:
    """Return the clocks not ended of a project file, without opening it for work."""
    project = fold(known(events_of(path), path), path.stem)
    return [clock for clock in project.clocks.values() if clock.ended_at is None]
