"""What happens to later steps when an answer is corrected in place: each is worked out again, in order."""

from __future__ import annotations

from collections.abc import Iterator

from shopmate.phrases import phrase
from shopmate.project.events import Recorded
from shopmate.project.events.steps import Again, Corrected, reworked
from shopmate.project.fold import advance
from shopmate.project.place import Place
from shopmate.project.run import Run
from shopmate.recipe import Act, Ask, Between, Do, Gate, MeasureAnswer, Start, Step, Template, WhenValue
from shopmate.records import replace
from shopmate.session.doing import Doing, moves
from shopmate.session.judging import Judge, value_names, working
from shopmate.session.values import large
from shopmate.session.way import answered as answered_with

_NAMED = 5
"""Maximum steps named among those that a corrected choice adds or removes."""


def answered(run: Run) -> list[Place]:
    """Return the places of the answers given in a run, last answer first."""
    return [place for place in reversed(run.marks) if run.is_done(place) and isinstance(_act(run, place), Ask)]


def corrected(judge: Judge, number: int, place: Place, text: str, *, sure: bool) -> Corrected:
    """Return the correction of an answer, with everything after it worked out again; `number` is that of the event.

    Raises EntryError for a text that is no answer, Doubt for one that looks odd unless `sure`.
    """
    run = judge.run
    act = _act(run, place)
    assert isinstance(act, Ask)
    done = Doing(judge.at(place), number, stays_at=run.place).answered(act, text, sure=sure)
    values = done.values or {}
    found = Corrected(
        run.key, place, done.headline, run.marks[place].shown, done.shown, values, done.typed,
        remembered=done.remembered, reading=done.reading,
    )  # fmt: skip
    draft = replace(run, values={**run.values, **values}, marks=dict(run.marks))
    changed = {act.into}
    again = []
    for later in list(run.marks)[list(run.marks).index(place) + 1 :]:
        redone = _again(judge, draft, later, changed)
        if redone is not None:
            again.append(redone)
            changed.add(redone.into)
    whole = replace(found, again=tuple(again))
    if found.reading is not None:
        after = advance(judge.project, Recorded(number, judge.now, whole))
        whole = replace(whole, moved=moves(judge.project, after))
    return whole


def to_look_at(correction: Corrected, judge: Judge) -> list[str]:
    """Return the headlines of the steps to check: results that changed, steps done from them, limits no longer met."""
    run = judge.run
    names = {one.into for one in correction.again if one.was != one.shown} | set(correction.values)
    told = [f"{one.headline}: {one.was} → {one.shown}" for one in correction.again if one.was != one.shown]
    draft = replace(run, values={**run.values, **correction.values})
    for one in correction.again:
        draft.values = reworked(draft.values, one.into, one.result)
    places = list(run.marks)
    for place in places[places.index(correction.place) + 1 :]:
        step = run.step_at(place)
        if step is None or not run.is_done(place):
            continue
        if isinstance(step.act, Do | Ask | Start) and _texts(step) & names:
            told.append(f"{step.headline}: {run.marks[place].shown}" if run.marks[place].shown else step.headline)
        if isinstance(step.act, Gate) and _limits(step.act) & names and not judge.at(place, draft).judge(step.act).go:
            told.append(f"{step.headline}: {phrase('NO GO')}")
    return [*told, *_other_way(judge, draft, names)]


def _other_way(judge: Judge, draft: Run, names: set[str]) -> Iterator[str]:
    """Yield the steps that a corrected choice adds, and those it removes, including steps already done."""
    found: dict[str, list[str]] = {"": [], "passed": [], "off": []}
    for index, section in enumerate(judge.run.recipe.sections):
        for at, step in enumerate(section.steps):
            when = tuple(one for one in step.when if isinstance(one, WhenValue))
            if not any(one.into in names for one in when):
                continue
            did, does = (all(answered_with(one, run) for one in when) for run in (judge.run, draft))
            if does and not did:
                found["passed" if (index, at) < (judge.run.place.section, judge.run.place.step) else ""].append(step.headline)
            elif did and not does:
                found["off"].append(step.headline)
    if found[""]:
        yield phrase("now needed: {steps}", _few(found[""]))
    if found["passed"]:
        yield phrase("needed, but already passed; undo back to them with -: {steps}", _few(found["passed"]))
    if found["off"]:
        yield phrase("no longer needed: {steps}", _few(found["off"]))


def _few(headlines: list[str]) -> str:
    """Return headlines in words; of many, the first ones and how many more there are."""
    once = list(dict.fromkeys(headlines))
    named = ", ".join(once[:_NAMED])
    return phrase("{steps} and {count} more", named, len(once) - _NAMED) if len(once) > _NAMED else named


def _again(judge: Judge, draft: Run, place: Place, changed: set[str]) -> Again | None:
    """Return a step worked out again if it depends on what changed; its outputs are then among the values of the draft."""
    act = _act(draft, place)
    by = working(act)
    if act is None or by is None or not draft.is_done(place) or not value_names(by.given.values()) & changed:
        return None
    there = judge.at(place, draft)
    judged = there.judge(act)
    if judged.result is None:
        return None
    figures = ", ".join(str(figure.shown) for figure in large(by, there.values.presented(by, judged.result)))
    shown = f"{phrase('NO GO')}: {figures}" if judged.go is False else figures
    done = Again(place, draft.headline_at(place), draft.marks[place].shown, shown, by.into, judged.result)
    draft.values = reworked(draft.values, done.into, done.result)
    return done


def _act(run: Run, place: Place) -> Act | None:
    """Return what the step at a place does; None at the end of a section."""
    step = run.step_at(place)
    return step.act if step is not None else None


def _texts(step: Step) -> set[str]:
    """Return the names of the values that a step shows or expects."""
    templates: list[Template] = [*step.figures.values(), *step.detail]
    act = step.act
    if isinstance(act, Ask) and isinstance(act.answer, MeasureAnswer) and act.answer.near is not None:
        templates.append(act.answer.near.value)
    if isinstance(act, Start):
        templates.append(act.time)
    return value_names(templates)


def _limits(gate: Gate) -> set[str]:
    """Return the names of the value a hold point limits and of the values in its limits; none if it is judged in another way."""
    by = gate.by
    return value_names(filter(None, (by.value, by.low, by.high))) if isinstance(by, Between) else set()
