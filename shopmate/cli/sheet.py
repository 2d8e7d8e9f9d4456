"""A recipe with its figures worked out."""

from __future__ import annotations

from argparse import Namespace

from shopmate.cli.parser import pairs
from shopmate.session import find_recipe, shelf
from shopmate.session.brief import brief
from shopmate.session.sheet import sheet


def run(arguments: Namespace) -> None:
    """Print a recipe with its figures worked out, as Markdown."""
    recipe = find_recipe(arguments.recipe)
    texts = pairs(arguments.inputs, f"shopmate sheet {arguments.recipe}")
    written = sheet if arguments.working else brief
    print(written(recipe, texts, shelf(), arguments.now(), arguments.system))
