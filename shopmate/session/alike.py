"""How to tell runs of the same recipe on the same part apart: by the answers that differ, otherwise by when each was begun."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import datetime

from shopmate import times
from shopmate.phrases import phrase
from shopmate.project.run import Run
from shopmate.recipe import Ask
from shopmate.session.values import Values
from shopmate.units import System

_ANSWERS = 2
"""Maximum answers named, because a title has to be read at a glance."""


def told_apart(runs: Iterable[Run], system: System, now: datetime) -> Mapping[str, str]:
    """Return, by run key, what tells a run from others of its recipe on its part; no entry for a run that is the only one."""
    groups: dict[tuple[str, str], list[Run]] = {}
    for run in runs:
        groups.setdefault((run.recipe.title, run.part), []).append(run)
    found: dict[str, str] = {}
    for alike in groups.values():
        if len(alike) > 1:
            found |= _apart(alike, system, now)
    return found


def _apart(alike: Sequence[Run], system: System, now: datetime) -> dict[str, str]:
    """Return what tells apart runs with the same title."""
    given = [_answers(run, system) for run in alike]
    told: list[tuple[str, ...]] = [()] * len(alike)
    names = dict.fromkeys(name for answers in given for name in answers)
    differ = [name for name in names if len({answers.get(name) for answers in given}) > 1]
    for name in differ[:_ANSWERS]:
        if len(set(told)) < len(alike):
            told = [(*words, answers[name]) if name in answers else words for words, answers in zip(told, given, strict=True)]
    found = {}
    for run, words in zip(alike, told, strict=True):
        begun = () if words and told.count(words) == 1 else (phrase("started {at}", times.wall(run.begun_at, now)),)
        found[run.key] = ", ".join((*words, *begun))
    return found


def _answers(run: Run, system: System) -> dict[str, str]:
    """Return the questions and answers of a run, by the name of the answer, in the order of the recipe."""
    values = Values(run, system)
    asked = ((step.headline, step.act.into) for step in run.recipe.steps if isinstance(step.act, Ask))
    return {into: f"{headline}: {shown}" for headline, into in asked if (shown := values.shown(into)) is not None}
