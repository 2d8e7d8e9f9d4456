"""What to tell before a run is begun: what the part lacks, what the run needs, how long it takes and when it would end."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import datetime, timedelta
from statistics import median_low

from shopmate import times
from shopmate.phrases import phrase
from shopmate.project.events.work import Used
from shopmate.project.place import Place
from shopmate.project.project import Project, fact_key
from shopmate.recipe import Ask, Material, Recipe
from shopmate.session.draft import Draft
from shopmate.session.needs import needs, shown, shown_span, time_ahead
from shopmate.session.remainder import Stock, shown_stock, stock
from shopmate.session.standing import missing
from shopmate.session.values import Results


def worked_through(
    project: Project,
    part: str,
    recipe: Recipe,
    answers: Mapping[str, str],
    materials: Mapping[str, Material],
    now: datetime,
    results: Results,
) -> Draft:
    """Return a recipe worked through on a part, from the answers, from what is known of part and shop, otherwise as usual.

    This can take a few tenths of a second. What is in `results` is not worked out again, and new results are added to it.
    """
    draft = Draft(recipe, {**_known(project, part, recipe), **answers}, materials, now, project.system, results)
    draft.work_through()
    draft.run.place = Place(0, 1, 0)
    return draft


def told_before(draft: Draft, project: Project, part: str) -> Iterator[str]:
    """Yield the lines to read before a recipe is begun on a part; `draft` is the recipe worked through."""
    recipe, now = draft.recipe, draft.now
    for state in missing(recipe, project.had(part)):
        yield phrase("{part} should be {state} first; no record here says it is", part, state)
    each = [(need, stock(need, draft.materials)) for need in needs(draft.values)]
    yield from (shown_stock(found, draft.values) for _, found in each if found is not None and found.short is not None)
    yield from _times(draft, project, now)
    yield from _amounts(draft, each)
    yield from (draft.values.said(need) for need in recipe.needs)


def _known(project: Project, part: str, recipe: Recipe) -> dict[str, str]:
    """Return the answers already known about the part or the shop."""
    known = {}
    for step in recipe.sections[0].steps:
        fact = step.act.fact if isinstance(step.act, Ask) else None
        if isinstance(step.act, Ask) and fact is not None and not fact.is_reading:
            of = f"part:{part}" if fact.of.text == "part" else fact.of.text
            found = project.facts.get(fact_key(fact.name, of))
            if found is not None:
                known[step.act.into] = found.held.text
    return known


def _amounts(draft: Draft, needed: list[tuple[Used, Stock | None]]) -> Iterator[str]:
    """Yield the materials needed, but for what is short and told before, and the answers they were worked out from."""
    if not needed:
        return
    told = (
        shown(need, draft.values) if found is None else shown_stock(found, draft.values)
        for need, found in needed
        if found is None or found.short is None
    )
    if used := "; ".join(told):
        yield phrase("Uses: {names}", used)
    given: list[str] = []
    assumed: list[str] = []
    for step in draft.recipe.sections[0].steps:
        act = step.act
        if isinstance(act, Ask) and draft.applies(step) and (text := draft.values.shown(act.into)) is not None:
            (given if act.into in draft.texts else assumed).append(f"{step.headline} {text}")
    if given:
        yield phrase("From your answers: {names}", "; ".join(given))
    if assumed:
        yield phrase("Assumed: {names}", "; ".join(assumed))


def _times(draft: Draft, project: Project, now: datetime) -> Iterator[str]:
    """Yield how long the run takes, by the recipe and by your own runs, and when it would end if begun now."""
    span = time_ahead(draft.values, {}, now)
    if words := shown_span(span):
        yield phrase("Time: {time}", words)
    if took := project.took.get(draft.recipe.name):
        own = times.duration(timedelta(seconds=median_low(took)))
        count = len(took)
        yield (
            phrase("Your one run so far: hands-on {time}", own)
            if count == 1
            else phrase("Your runs so far: hands-on typically {time} ({count} runs)", own, count)
        )
    if span.whole:
        at = times.wall(now + span.whole, now)
        yield phrase("Start now and it ends {at}" if span.is_whole else "Start now and it ends {at} or later", at)
    if span.cured is not None:
        yield phrase("and is cured {at}", times.wall(now + span.cured, now))
