"""A recipe with its figures worked out."""

from __future__ import annotations

from argparse import Namespace

from shopmate.cli.parser import pairs
from shopmate.cli.signs import as_printed
from shopmate.session import find_recipe, shelf
from shopmate.session.brief import brief
from shopmate.session.sheet import sheet


def run(arguments: Namespace) -> None:
    """Print a recipe with its figures worked out, as Markdown."""
    recipe = find_recipe(arguments.recipe)
    texts = pairs(arguments.inputs, f"shopmate sheet {arguments.recipe}")
    about = recipe, texts, shelf(), arguments.now(), arguments.system
    print(sheet(*about) if arguments.working else brief(*about, as_printed))
