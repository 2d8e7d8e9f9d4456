"""The generated parts of the guide and of DEVELOPERS.md, and the schemas: `python tests/docs.py --write` rewrites them."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Iterator, Sequence
from pathlib import Path

import schema

from shopmate import calc, paths, recipe
from shopmate.cli import parser as words
from shopmate.recipe.form import COMMON, ONLY, OPERATION, PLACE, RECIPE, SECTION
from shopmate.recipe.keys import WHOLE, By, Either, Form, List, Nested, OneOf, Pairs, Shape, Text, Word

ROOT = Path(__file__).parent.parent


def commands() -> dict[str, argparse.ArgumentParser]:
    """Return the parser of each command by name, without the whole command."""
    (found,) = [action for action in words.parser()._actions if isinstance(action, argparse._SubParsersAction)]
    return dict(found.choices)


def command_reference() -> str:
    """Return every command with its words, as its own help says it."""
    top = words.parser()
    parts = [
        f"{top.epilog}",
        "**`shopmate [--plain]`**: Open the bench on the last project; the first time, a choice of new project or the demo.",
        "\n".join(
            f"- `{_word(action)}`: {action.help}"
            for action in top._actions
            if not isinstance(action, argparse._SubParsersAction) and action.dest != "help"
        ),
    ]
    for parser in commands().values():
        parts.append(f"**`{_usage(parser)}`**: {parser.description}")
        if parser.epilog:
            parts.append(f"Example: `{parser.epilog.removeprefix('Example: ')}`")
        actions = [action for action in parser._actions if action.dest != "help"]
        if actions:
            parts.append("\n".join(f"- `{_word(action)}`: {action.help}" for action in actions))
    return "\n\n".join(parts)


def _word(action: argparse.Action) -> str:
    return " / ".join(action.option_strings) or str(action.metavar or action.dest)


def _usage(parser: argparse.ArgumentParser) -> str:
    words = " ".join(parser.format_usage().split()).removeprefix("usage: ")
    return words.replace(" [-h]", "")


def calculators() -> str:
    """Return the calculators, each with its sources."""
    found = map(calc.find, calc.names())
    return "\n\n".join(
        f"**`{each.name}`** ({each.title})\n\n" + "\n".join(f"- {source}" for source in each.source) for each in found
    )


def recipes() -> str:
    """Return the shipped recipes, each with what it covers."""
    found = map(recipe.load, sorted((ROOT / "recipes").glob("*.yaml")))
    return "\n\n".join(f"**`{each.name}`**: {each.title}. {each.about}" for each in found)


def form() -> str:
    """Return the tables of the keys of recipes and operations, from the definition that the reader goes by."""
    told: list[Form] = []
    for root in (SECTION, RECIPE, OPERATION):  # what a recipe asks at its start needs a default, other questions do not
        _gather(root, told)
    told.sort(key=lambda form: form is not RECIPE)
    every = Form("any step", COMMON)
    own = Form("a step, a section or a use within an operation", (ONLY, *PLACE.keys))
    return "\n\n".join(map(_form, (*told, every, own)))


def _gather(form: Form, told: list[Form]) -> None:
    """Add a form and those nested in it, each once: what an operation adds to one is told at its end."""
    if form in told:
        return
    told.append(form)
    for key in form.keys:
        for nested in _nested(key.shape):
            if not any(nested.what == other.what for other in told):
                _gather(nested, told)


def _nested(shape: Shape) -> Iterator[Form]:
    match shape:
        case Nested(forms):
            yield from forms
        case List(of):
            yield from _nested(of)
        case Either(shapes):
            for item in shapes:
                yield from _nested(item)
        case _:
            pass


def _form(form: Form) -> str:
    rows = [f"**{form.what[0].upper()}{form.what[1:]}**", "", "| key | needed | value | what it is for |", "|---|---|---|---|"]
    told = form.keys if form.keys == COMMON else [key for key in form.keys if key not in COMMON]
    for key in told:
        rows.append(f"| `{key.name}` | {'yes' if key.is_needed else ''} | {_cell(_shape(key.shape))} | {_cell(key.help)} |")
    if form.by:
        rows += ["", "It has exactly one of these: " + "; ".join(_by(name, by) for name, by in form.by.items()) + "."]
    if form.both:
        rows += ["", f"{' and '.join(f'`{name}`' for name in form.both)} stand together or not at all."]
    return "\n".join(rows)


def _by(name: str, by: By) -> str:
    parts = [f"with {_names(by.needed)}"] if by.needed else []
    if by.least_one:
        parts.append(f"with {' or '.join(f'`{key}`' for key in by.least_one)} or both")
    further = tuple(key for key in by.further if key not in by.least_one)
    if further:
        parts.append(f"which alone may have {_names(further)}")
    return " ".join((f"`{name}`", ", ".join(parts))).strip()


def _names(names: Sequence[str]) -> str:
    return ", ".join(f"`{name}`" for name in names)


def _shape(shape: Shape) -> str:
    """Return what a value may be, in words."""
    match shape:
        case Text(longest):
            return "text" if longest is None else f"text, preferably up to {longest} characters"
        case Word():
            return "whole number" if shape == WHOLE else "name" if not shape.fix else shape.fix.removeprefix("write it ")
        case OneOf(choices):
            return "one of " + ", ".join(f"`{choice}`" for choice in choices) if len(choices) > 1 else f"`{choices[0]}`"
        case List(of, low, high):
            number = f" of {low}" if low == high else f", {low} or more" if low else ""
            return f"list{number}: {_shape(of)}"
        case Pairs(value, low, high):
            number = "" if high is None else f" of {low}" if low == high else f" of {low} to {high}"
            return f"mapping{number}, keys free: {_shape(value)}"
        case Nested(forms):
            steps = [form for form in forms if form.what.startswith("a step")]
            return "steps and cautions" if steps and len(forms) > 1 else " or ".join(form.what for form in forms)
        case Either(shapes):
            return " or ".join(map(_shape, shapes))


def _cell(text: str) -> str:
    return text.replace("|", "\\|").replace("<", "&lt;")


PARTS = {
    "shopmate/guide/commands.md": {"commands": command_reference},
    "shopmate/guide/calculators.md": {"calculators": calculators},
    "shopmate/guide/recipes.md": {"recipes": recipes},
    "DEVELOPERS.md": {"form": form},
}
"""What stands in each page between the comments `generated: NAME` and `end of NAME`."""


def renewed(page: str, text: str) -> str:
    """Return the text of a page with its generated parts as they are now."""
    for name, make in PARTS[page].items():
        begin, end = f"<!-- generated: {name} -->\n", f"<!-- end of {name} -->\n"
        before, begun, rest = text.partition(begin)
        _, ended, after = rest.partition(end)
        if not begun or not ended:
            raise SystemExit(f"{page} has no '{begin.strip()}' with '{end.strip()}' after it")
        text = f"{before}{begin}{make()}\n{end}{after}"
    return text


def files() -> Iterator[tuple[Path, str]]:
    """Yield each file that is generated, wholly or in part, with what it has to be."""
    for page in PARTS:
        yield ROOT / page, renewed(page, (ROOT / page).read_text(encoding="utf-8"))
    for name in schema.FORMS:
        yield paths.schema(name), schema.schema(name)


def main() -> int:
    """Rewrite what is generated with --write; without it, say what that would change."""
    stale = [(path, wanted) for path, wanted in files() if not path.is_file() or path.read_text(encoding="utf-8") != wanted]
    for path, wanted in stale:
        if "--write" in sys.argv[1:]:
            path.write_text(wanted, encoding="utf-8")
        else:
            print(f"{path.name} is stale: python tests/docs.py --write")
    return int(bool(stale) and "--write" not in sys.argv[1:])


if __name__ == "__main__":
    sys.exit(main())
