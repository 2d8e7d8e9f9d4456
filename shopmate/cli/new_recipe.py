"""A recipe of the user's own: a start to write one from, or a finished run."""

from __future__ import annotations

import sys
from argparse import Namespace

from shopmate.cli.project_file import project_file
from shopmate.errors import UsageError
from shopmate.project import Run, project_of
from shopmate.session import in_place_of_shipped, write_own
from shopmate.session.own import run_text, start_text


def run(arguments: Namespace) -> None:
    """Write a new recipe, print where, and say what to do next."""
    name = arguments.name
    if arguments.from_run is None:
        text = start_text(name, arguments.now())
    else:
        text = run_text(_finished(arguments.from_run), name, arguments.now())
    path = write_own(name, text)
    print(path)
    if in_place_of_shipped(path):
        print(
            f"shopmate: it is used in place of the shipped recipe '{name}'; rename file and recipe to have both", file=sys.stderr
        )
    print(f"shopmate: change it in an editor, then run: shopmate check {path}", file=sys.stderr)


def _finished(words: str) -> Run:
    """Return the finished run that is named by its project and its number; UsageError with those there are."""
    project, _, number = words.rpartition(":") if words.rpartition(":")[2].isdecimal() else (words, "", "")
    path = project_file(project)
    told, _trouble = project_of(path)
    runs = {run.key: run for run in told.runs.values() if run.finished_at is not None and not run.given_up}
    if not runs:
        raise UsageError(f"no run of '{project}' is finished; finish one, or leave out --from-run")
    if not number:
        return max(runs.values(), key=lambda run: run.last_at)
    if number not in runs:
        known = ", ".join(f"{key} ({run.recipe_name} on {run.part})" for key, run in runs.items())
        raise UsageError(f"'{project}' has no finished run {number}; finished are: {known}")
    return runs[number]
