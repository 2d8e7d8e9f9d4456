"""Summary at the end of a run: time, materials, what was late or overridden, what still cures, what comes next."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, timedelta

from shopmate import times
from shopmate.models.due import closes
from shopmate.phrases import phrase
from shopmate.project.events.work import RunFinished, RunGivenUp
from shopmate.project.place import Place
from shopmate.project.project import Project
from shopmate.project.run import Run
from shopmate.recipe import Recipe, Wait
from shopmate.session.files import recipe_files
from shopmate.session.needs import applying
from shopmate.session.standing import build_order, next_for
from shopmate.session.used import shown_used, spilled, used, weighed, with_spilled
from shopmate.session.values import Values

PAUSE = timedelta(hours=1)
"""Time between two steps from which the gap counts as a pause, such as a meal or a night (our choice). It
only keeps a pause from counting as work."""


def hands_on(run: Run, until: datetime) -> timedelta:
    """Return the hands-on time of a run: neither waiting for a clock nor in a pause."""
    total, last = timedelta(), run.begun_at
    for place, mark in sorted(run.marks.items(), key=lambda item: (item[1].at, item[0])):
        gap = mark.at - last
        if timedelta() < gap < PAUSE and not _is_wait(run, place):
            total += gap
        last = max(last, mark.at)
    return total + (until - last if timedelta() < until - last < PAUSE else timedelta())


def _is_wait(run: Run, place: Place) -> bool:
    step = run.step_at(place)
    return step is not None and isinstance(step.act, Wait)


def finished(values: Values, now: datetime) -> RunFinished:
    """Return the event that a run is finished now, with what it made and used."""
    run, consumed = values.run, used(values)
    words = [phrase("part is now {state}", run.recipe.makes)] if run.recipe.makes else []
    words += [shown_used(each, values) for each in consumed]
    words += _said_weighed(values)
    return RunFinished(
        run=run.key,
        shown="; ".join(words) or None,
        makes=run.recipe.makes or None,
        used=tuple(consumed) or None,
        weighed=weighed(run) or None,
        hands_on_s=float(round(hands_on(run, now).total_seconds())),
    )


def given_up(values: Values) -> RunGivenUp:
    """Return the event that a run is given up: what was weighed counts as used, what was only planned does not."""
    run, consumed = values.run, used(values, is_whole=False)
    words = "; ".join([*(shown_used(each, values) for each in consumed), *_said_weighed(values)])
    return RunGivenUp(run=run.key, shown=words or None, weighed=weighed(run) or None, used=tuple(consumed) or None)


def _said_weighed(values: Values) -> Iterator[str]:
    """Yield in words what was weighed of what is no material's: the materials say their own."""
    lost, own = spilled(values.run), {name for use in applying(values) for name in use.weighed}
    for name, mass in weighed(values.run).items():
        if name not in own:
            words = phrase("{name} {amount} total", name.replace("_", " "), values.display(mass))
            yield with_spilled(words, lost.get(name), values)


def summary(values: Values, project: Project, now: datetime) -> Iterator[str]:
    """Yield the lines at the end of a run; what still has to be done comes first, in case a small screen shows no more."""
    run, until = values.run, values.run.finished_at or now
    for clock in project.running:
        if clock.run == run.key and not closes(clock.kind):
            yield phrase("{clock} runs until {at}", clock.title, times.wall(clock.due_at, now))
    yield from _listed("Late: {names}", _late(run))
    yield from _listed(
        "Overridden with a reason: {names}", (f"{run.headline_at(at)}: {why}" for at, why in run.overrides.items())
    )
    if run.finished_at is not None and not run.given_up:
        yield from _listed("{part} is now {names}", iter(project.had(run.part)), run.part)
        yield from _listed("Next: {names}", (recipe.title for recipe in _next(run.part, project)))
    consumed = used(values, is_whole=not run.given_up)
    yield from _listed("Used: {names}", (shown_used(each, values) for each in consumed))
    yield from _listed("Weighed: {names}", _said_weighed(values))
    done = sum(run.is_done(place) and run.step_at(place) is not None for place in run.marks)
    at = times.wall(run.begun_at, now)
    yield phrase(
        "{count} steps, {time} from {at}, hands-on {work}",
        done,
        times.span(until - run.begun_at),
        at,
        times.duration(hands_on(run, until)),
    )


def _listed(text: str, items: Iterator[str], *before: str) -> Iterator[str]:
    """Yield a list in words, nothing if it is empty."""
    if names := "; ".join(items):
        yield phrase(text, *before, names)


def _late(run: Run) -> Iterator[str]:
    """Yield each step that was later than its clock, and by how much; one late in several turns once, with the worst."""
    late: dict[str, list[float]] = {}
    for place, mark in run.marks.items():
        if mark.late_s is not None:
            late.setdefault(run.headline_at(place), []).append(mark.late_s)
    for headline, by in late.items():
        worst = times.duration(timedelta(seconds=max(by)))
        if len(by) > 1:
            yield phrase("{step} ({count} times, up to {time} late)", headline, len(by), worst)
        else:
            yield phrase("{step} ({time} late)", headline, worst)


def _next(part: str, project: Project) -> list[Recipe]:
    """Return the recipes that what was done to a part makes it ready for."""
    known = [file.recipe for file in recipe_files() if file.recipe is not None]
    return [recipe for recipe in next_for(build_order(known), project.had(part)) if recipe.after]
