"""Your own recipes: a template to start from, and a finished run written out as a recipe."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import datetime

from shopmate import paths
from shopmate import recipe as recipes
from shopmate.errors import FileProblems
from shopmate.project import Run
from shopmate.recipe import Node
from shopmate.session.files import recipe_paths

_MEASURED = ("logs", "pace_of", "adds_to", "reading")
"""Keys of a question whose answer is measured or weighed every time, so a figure from another day is never offered."""


def start_text(name: str, now: datetime) -> str:
    """Return the text of a short, complete recipe of that name, with comments that explain its parts."""
    text = recipes.read_file(paths.start_recipe())
    return _modeline() + text.replace("recipe: NAME", f"recipe: {name}").replace('date: "DATE"', f'date: "{_day(now)}"')


def run_text(run: Run, name: str, now: datetime) -> str:
    """Return a finished run as the text of a recipe of that name; the answers it offers are those of the run.

    If the recipe is still as it was when the run began, what it shares with others stays shared; otherwise it is written out
    in full. Raises FileProblems where the recipe kept with the run cannot be read.
    """
    text = run.recipe.text
    root = _source(run) or recipes.compose(text, "the recipe kept with the run", kept=True)
    own = {"recipe": name, "version": "1", "date": _day(now)}
    return _modeline() + "".join(_remarks(run)) + recipes.written(_changed(root, run, own), plain=True)


def _modeline() -> str:
    """Return the line that tells editors with a YAML language server where the schema is."""
    return f"# yaml-language-server: $schema={paths.schema('recipe').as_uri()}\n"


def _day(now: datetime) -> str:
    return now.astimezone().date().isoformat()


def _source(run: Run) -> Node | None:
    """Return the root of the file that the run's recipe was read from, None if the file has changed since."""
    path = recipe_paths().get(run.recipe_name)
    if path is None:
        return None
    try:
        is_same = recipes.load(path, compare=False).text == run.recipe.text
        return recipes.compose(recipes.read_file(path), str(path)) if is_same else None
    except FileProblems:
        return None


def _remarks(run: Run) -> Iterator[str]:
    """Yield what the run adds to its recipe, as comments for the top of the file."""
    yield _remark(f"Written out from the run on {run.part}, begun {_day(run.begun_at)}.")
    yield _remark("An answer that the recipe offers is the one of that run; what was measured or weighed is asked anew.")
    for place, reason in sorted(run.overrides.items()):
        yield _remark(f"'{run.headline_at(place)}' was passed because: {reason}")


def _remark(words: str) -> str:
    return f"# {' '.join(words.split())}\n"


def _changed(root: Node, run: Run, own: Mapping[str, str]) -> Node:
    """Return a recipe with its own texts at the top, and with the answers of a run as defaults."""
    entries = {
        key: (at, value._replace(text=own[key]) if key in own else _answered(value, run))
        for key, (at, value) in (root.entries or {}).items()
    }
    return root._replace(entries=entries)


def _answered(node: Node, run: Run) -> Node:
    """Return a node with the answers of a run in place of the defaults of the questions in it."""
    if node.items is not None:
        return node._replace(items=tuple(_answered(item, run) for item in node.items))
    if node.entries is None:
        return node
    entries = node.entries
    into = entries["into"][1].text if "ask" in entries and "into" in entries else None
    held = run.values.get(into or "")
    if held is not None and "default" in entries and not any(key in entries for key in _MEASURED):
        at, default = entries["default"]
        return node._replace(entries={**entries, "default": (at, default._replace(text=held.text))})
    return node._replace(entries={key: (at, _answered(value, run)) for key, (at, value) in entries.items()})
