"""The problems of recipe and shelf files."""

from __future__ import annotations

import sys
from argparse import Namespace
from collections.abc import Iterable, Mapping
from pathlib import Path

from shopmate import recipe
from shopmate.cli import DONE, PROBLEMS
from shopmate.errors import FileProblems, Problem
from shopmate.session import in_place_of_shipped, recipe_files, recipe_paths, typical_materials


def run(arguments: Namespace) -> int:
    """List every problem of recipe and shelf files; notes go to stderr."""
    count = sum(map(_problems, arguments.files))
    words = "no problems" if count == 0 else f"{count} problem{'s' if count > 1 else ''}"
    print(f"shopmate: {words} in {len(arguments.files)} file{'s' if len(arguments.files) > 1 else ''}", file=sys.stderr)
    return PROBLEMS if count else DONE


def _problems(path: Path) -> int:
    """Print the problems and notes of a file and return how many problems there are."""
    try:
        text = recipe.read_file(path)
        if in_place_of_shipped(path.absolute()):
            print(
                f"note: {path}: is used in place of the shipped one of that name; give it another name to have both",
                file=sys.stderr,
            )
        if recipe.is_shelf(text, str(path)):
            materials = recipe.read_shelf(text, str(path))
            _note_borrowed(path, materials)
            _note_misses(path, materials.values())
        elif recipe.is_operation(text, str(path)):
            return _problems_of_operation(path, text)
        else:
            _note(recipe.read(text, str(path), path.stem).notes)
    except FileProblems as error:
        print(error)
        _note(error.notes)
        return error.count
    return 0


def _problems_of_operation(path: Path, text: str) -> int:
    """Print the problems of an operation, by itself and where the recipes of the list use it, and return how many there are."""
    found = list(recipe.read_operation(text, str(path)))
    for file in recipe_paths().values():
        try:
            recipe.load(file)
        except FileProblems as error:
            found += [problem for problem in error.problems if problem.file == str(path.resolve()) or problem.file == str(path)]
    for problem in dict.fromkeys(found):
        print(problem)
    return len(set(found))


def _note_misses(path: Path, materials: Iterable[recipe.Material]) -> None:
    """Note which steps of the recipes will miss a figure of a material."""
    known = [file.recipe for file in recipe_files() if file.recipe is not None]
    for material in materials:
        for step in recipe.misses(material, known):
            print(f"note: {path}: {material.name} has no figure for {step}", file=sys.stderr)


def _note_borrowed(path: Path, materials: Mapping[str, recipe.Material]) -> None:
    """Note which figures of a material are still another one's."""
    for material in materials.values():
        for words in recipe.still_borrowed(material, material.figures, {**typical_materials(), **materials}):
            print(f"note: {path}: {words}", file=sys.stderr)


def _note(notes: Iterable[Problem]) -> None:
    for note in notes:
        print(f"note: {note}", file=sys.stderr)
