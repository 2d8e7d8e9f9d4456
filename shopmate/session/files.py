"""Where to find the recipes and the shelf."""

from __future__ import annotations

import re
from functools import lru_cache
from itertools import chain, count
from pathlib import Path

from shopmate import paths
from shopmate import recipe as recipes
from shopmate.errors import FileProblems, UsageError
from shopmate.phrases import phrase
from shopmate.recipe import Material, Recipe
from shopmate.records import dataclass


@dataclass(frozen=True, slots=True)
class RecipeFile:
    """A recipe to choose, or what is wrong with its file."""

    name: str
    path: Path
    recipe: Recipe | None
    problem: str = ""


def recipe_files() -> list[RecipeFile]:
    """Return all recipes, read and sorted by name."""
    operations = recipes.operation_state()
    return [recipe_file(name, path, operations) for name, path in recipe_paths().items()]


def recipe_paths() -> dict[str, Path]:
    """Return the files of all recipes by name, the user's own in place of shipped ones of the same name."""
    found: dict[str, Path] = {}
    for folder in (paths.shipped_recipes(), paths.user_recipes()):
        for path in sorted(folder.glob("*.yaml")) if folder.is_dir() else ():
            found[path.stem] = path
    return dict(sorted(found.items()))


def recipe_file(name: str, path: Path, operations: tuple[int, ...]) -> RecipeFile:
    """Return the recipe in a file, or what is wrong with it; read once for each state of the file, however slow the disk.

    `operations` is the state of what recipes share, looked up once for a whole list of them.
    """
    try:
        state = path.stat()
    except OSError:
        return _read(name, path)
    return _read_once(name, path, (state.st_mtime_ns, state.st_size, *operations))


@lru_cache(maxsize=1024)  # many recipes take seconds to read, and they are listed again and again
def _read_once(name: str, path: Path, _state: tuple[int, ...]) -> RecipeFile:
    return _read(name, path)


def _read(name: str, path: Path) -> RecipeFile:
    try:
        return RecipeFile(name, path, recipes.load(path, compare=False))
    except FileProblems as error:
        count = error.count
        problem = phrase("1 problem: see 'shopmate check {path}'", path)
        if count > 1:
            problem = phrase("{count} problems: see 'shopmate check {path}'", count, path)
        return RecipeFile(name, path, None, problem)


def find_recipe(name: str) -> Recipe:
    """Return the recipe with that name, or in that file; UsageError if it is unknown, FileProblems if it is faulty."""
    if name.endswith(".yaml"):
        return recipes.load(Path(name), compare=False)
    for folder in (paths.user_recipes(), paths.shipped_recipes()):
        path = folder / f"{name}.yaml"
        if re.fullmatch(r"[\w-]+", name) and paths.is_file(path):
            return recipes.load(path, compare=False)
    known = sorted(path.stem for folder in (paths.shipped_recipes(), paths.user_recipes()) for path in folder.glob("*.yaml"))
    raise UsageError(phrase("there is no recipe '{name}'; recipes: {names}", name, ", ".join(known)))


def write_own(name: str, text: str) -> Path:
    """Write a recipe to the folder of your own recipes and return its file; UsageError for a name that is invalid or taken."""
    if not re.fullmatch(recipes.RECIPE_NAME, name):
        raise UsageError(
            phrase("'{name}' won't do as a recipe name; use lower-case letters, digits and -, starting with a letter", name)
        )
    path = paths.user_recipes() / f"{name}.yaml"
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        with path.open("x", encoding="utf-8") as file:
            file.write(text)
    except FileExistsError:
        raise UsageError(phrase("{path} already exists; enter another name, or move that file away", path)) from None
    except OSError as error:
        words = phrase(
            "{path} cannot be written: {why}; free disk space, or check the permissions of its folder", path, error.strerror
        )
        raise UsageError(words) from None
    return path


def in_place_of_shipped(path: Path) -> bool:
    """Return whether a file is one of your own recipes that replaces a shipped one of the same name."""
    own = paths.user_recipes()
    return path.is_relative_to(own) and paths.is_file(paths.shipped_recipes() / path.relative_to(own))


def free_name(name: str) -> str:
    """Return the name, followed by a number if a recipe already has it."""
    known = recipe_paths()
    return next(free for free in chain([name], (f"{name}-{number}" for number in count(2))) if free not in known)


def typical_materials() -> dict[str, Material]:
    """Return the typical materials, used if your own shelf cannot be read."""
    return recipes.load_shelf(recipes.typical_shelf())


def shelf() -> dict[str, Material]:
    """Return the materials on the shelf: the typical ones, with your own replacing or added to them; raises FileProblems."""
    return recipes.load_shelf(recipes.typical_shelf(), paths.shelf())
