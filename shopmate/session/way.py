"""The path through a recipe: which steps apply to a run, and which place follows each."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from typing import assert_never

from shopmate.clock import Clock
from shopmate.project.place import Place
from shopmate.project.run import Run
from shopmate.recipe import Stands, Step, When, WhenClock, WhenValue


def applicable(step: Step, run: Run, clocks: Mapping[str, Clock], now: datetime) -> bool:
    """Return whether a step applies to a run at `now`, according to a choice or to the state of a clock."""
    return not step.when or all(_holds(when, run, clocks, now) for when in step.when)


def _holds(when: When, run: Run, clocks: Mapping[str, Clock], now: datetime) -> bool:
    match when:
        case WhenValue():
            return answered(when, run)
        case WhenClock(name, stands):
            return _stands(clocks.get(run.clocks.get(name, "")), now) == stands
        case _:
            assert_never(when)


def answered(when: WhenValue, run: Run) -> bool:
    """Return whether a choice was answered as a condition requires."""
    held = run.values.get(when.value)
    return held is not None and held.text in when.among


def _stands(clock: Clock | None, now: datetime) -> Stands:
    """Return the state of a clock that a step depends on."""
    if clock is None or clock.ended_at is not None:
        return "none"
    return "over" if now >= clock.due_at else "running"


def next_place(run: Run, after: Place, clocks: Mapping[str, Clock], now: datetime) -> tuple[Place, list[Place]]:
    """Return the place that follows `after`, and the steps skipped because they do not apply.

    A section with no step that applies is skipped completely, its end included.
    """
    passed: list[Place] = []
    section, turn, step = after.section, after.turn, after.step + 1
    sections = run.recipe.sections
    while section < len(sections):
        steps = sections[section].steps
        while step < len(steps):
            place = Place(section, turn, step)
            if _is_past(run, place):
                pass
            elif applicable(steps[step], run, clocks, now):
                return place, passed
            else:
                passed.append(place)
            step += 1
        if step == len(steps) and _any_done(run, section, turn, after):
            return Place(section, turn, step), passed
        found = run.recipe.repeated(section)
        together = found[0] if found is not None else range(section, section + 1)
        if section + 1 in together:
            section, step = section + 1, 0
        elif turn < run.turns(section) and any(_any_done(run, one, turn, after) for one in together):
            section, turn, step = together.start, turn + 1, 0
        else:
            section, turn, step = section + 1, 1, 0
    return Place(section, 1, 0), passed


def _is_past(run: Run, place: Place) -> bool:
    """Return whether a step was done, or left for later, out of turn."""
    mark = run.marks.get(place)
    return mark is not None and mark.word in ("done", "for later")


def _any_done(run: Run, section: int, turn: int, after: Place) -> bool:
    """Return whether any step of this turn is done or being done, so that the end is worth confirming."""
    if (after.section, after.turn) == (section, turn) and after.step >= 0:
        return True
    return any(mark.word == "done" for place, mark in run.marks.items() if (place.section, place.turn) == (section, turn))
