"""The folders."""

from __future__ import annotations

from argparse import Namespace

from shopmate import paths


def run(arguments: Namespace) -> None:
    """Print where projects, backups, shelf, recipes and settings are kept."""
    for title, place in (
        ("home", paths.home()),
        ("projects", paths.projects()),
        ("demo", paths.demo()),
        ("backups", paths.backups()),
        ("shelf", paths.shelf()),
        ("settings", paths.settings()),
        ("own words", paths.words()),
        ("own recipes", paths.user_recipes()),
        ("shipped recipes", paths.shipped_recipes()),
        ("fault reports", paths.reports()),
    ):
        print(f"{title:<16} {place}")
