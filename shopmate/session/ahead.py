"""The steps of a section that lie ahead with no decision in between: those that one key does together, and those that need
none."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Literal, TypeAlias, assert_never

from shopmate.errors import Doubt, EntryError
from shopmate.project.events.steps import StepDone
from shopmate.project.place import Place
from shopmate.recipe import (
    Ask,
    Between,
    Do,
    Gate,
    MeasureAnswer,
    ShelfAnswer,
    Start,
    Step,
    Wait,
    WhenValue,
    WorkOut,
)
from shopmate.records import dataclass, replace
from shopmate.session.doing import Doing
from shopmate.session.judging import AtStep, Judge, in_hand, value_names

MOST = 9
"""Maximum steps done together, so that each has its own digit."""

Standing: TypeAlias = Literal["passes", "item", "offered", "open", "waits", "closed", "done"]
"""The state of a step that lies ahead.

In order: it needs no key, is a plain item to confirm, has an answer offered at one key, still has to be answered, waits for such
an answer, is a hold point that stays shut, or was answered out of turn.
"""


@dataclass(frozen=True, slots=True)
class Ahead:
    """A step that lies ahead."""

    place: Place
    step: Step
    stands: Standing
    judge: Judge
    """Judge of the step, as if the steps before it were done."""
    event: StepDone
    """The event that does it as it stands."""

    @property
    def is_numbered(self) -> bool:
        """Whether a digit selects it."""
        return self.stands in ("item", "offered", "open", "done")


def ahead(judge: Judge, number: int) -> Iterator[Ahead]:
    """Yield the steps from the place of the run up to one that has to be done alone; `number` is that of the next event."""
    unknown: set[str] = set()
    offered: set[str] = set()
    numbered = 0
    while True:
        found = in_hand(judge.run)
        if not isinstance(found, AtStep):
            return
        doing = Doing(judge, number)
        coming = _coming(doing, found.step, unknown)
        if coming is None or (coming.is_numbered and numbered == MOST):
            return
        if coming.stands == "open" and _hangs((found.step,), offered):
            return  # it is not asked before what it hangs on was taken: that may be answered otherwise
        numbered += coming.is_numbered
        yield coming
        if coming.stands == "closed":
            return
        if coming.stands in ("open", "waits"):
            unknown |= _gives(found.step)
        if coming.stands == "offered":
            offered |= _gives(found.step)
        after = doing.after(coming.event)
        run = after.runs[judge.run.key]
        if run.place.section != judge.run.place.section:
            return
        steps = run.recipe.sections[run.place.section].steps
        if _hangs(steps[judge.run.place.step + 1 : run.place.step + 1], unknown):
            return
        judge = replace(judge, project=after).at(run.place, run)
        number += 1


def done_ahead(judge: Judge) -> Iterator[Ahead]:
    """Yield the questions of the section that still lie ahead but were answered out of turn."""
    run, section = judge.run, judge.run.section
    assert section is not None
    for index in range(run.place.step + 1, len(section.steps)):
        step = section.steps[index]
        if not isinstance(step.act, Ask):
            continue
        place = replace(run.place, step=index)
        if run.is_done(place):
            at = judge.at(place)
            yield Ahead(place, step, "done", at, Doing(at, 0).done(shown=run.marks[place].shown))


def _coming(doing: Doing, step: Step, unknown: set[str]) -> Ahead | None:
    """Return a step with its state; None if it has to be done alone."""
    judge, act = doing.judge, step.act
    if judge.overdue(step) is not None or judge.run.goes_back_to is not None:
        return None
    if step.ends is not None and not isinstance(act, Start):
        return None
    match act:
        case Do():
            section = judge.run.section
            is_item = section is not None and (section.mode == "do-confirm" or judge.run.by_section) and act.timer is None
            return _stands(doing, step, "item") if is_item else None
        case Ask():
            return _question(doing, step, act, unknown)
        case WorkOut():
            return _worked_out(doing, step, act, act, unknown)
        case Gate(by=WorkOut() as by):
            return _worked_out(doing, step, act, by, unknown)
        case Gate(by=Between(value, low, high)):
            names = value_names(template for template in (value, low, high) if template is not None)
            if names & unknown:
                return _stands(doing, step, "waits", hollow=True)
            return _stands(doing, step, "passes" if judge.judge(act).go else "closed", hollow=not judge.judge(act).go)
        case Wait():
            return _stands(doing, step, "passes") if judge.judge(act).go and not unknown else None
        case Start():
            length = judge.length(act) if act.at_once and not unknown else None
            is_quiet = length is not None and not judge.crowd(step, act, length)
            return _stands(doing, step, "passes") if is_quiet else None
        case Gate():
            return None
        case _:
            assert_never(act)


def _stands(doing: Doing, step: Step, stands: Standing, *, hollow: bool = False) -> Ahead:
    """Return a step with its state; a `hollow` one gives no value yet."""
    event = doing.onward(_hollow(doing)) if hollow else doing.done()
    return Ahead(doing.judge.run.place, step, stands, doing.judge, event)


def _hollow(doing: Doing) -> StepDone:
    run = doing.judge.run
    return StepDone(run=run.key, place=run.place, next=run.place, headline=doing.step.headline)


def _question(doing: Doing, step: Step, act: Ask, unknown: set[str]) -> Ahead | None:
    judge = doing.judge
    if _limits(act) & unknown or (isinstance(act.answer, ShelfAnswer) and not judge.options(act.answer)):
        return None
    offered = judge.offered(act)
    if offered is None or offered.is_old or offered.back is not None:
        return _stands(doing, step, "open", hollow=True)
    try:
        event = doing.answered(act, offered.text, sure=True, is_offered=True)
    except (EntryError, Doubt):
        return _stands(doing, step, "open", hollow=True)
    return Ahead(judge.run.place, step, "offered", judge, event)


def _worked_out(doing: Doing, step: Step, act: WorkOut | Gate, by: WorkOut, unknown: set[str]) -> Ahead | None:
    """Return the state of a working, or of a hold point judged by one; None if its warnings have to be read first."""
    if value_names(by.given.values()) & unknown:
        return _stands(doing, step, "waits", hollow=True)
    judged = doing.judge.judge(act)
    if judged.result is None:
        return None
    warnings = doing.judge.values.presented(by, judged.result).warnings
    if not step.is_quiet and not all(map(doing.judge.run.has_seen, warnings)):
        return None
    if judged.go is False:
        return _stands(doing, step, "closed", hollow=True)
    return _stands(doing, step, "passes")


def _limits(act: Ask) -> set[str]:
    """Return the names of the values that set the limits of an answer, and that say whose fact it is."""
    answer, templates = act.answer, [act.fact.of] if act.fact is not None else []
    if isinstance(answer, MeasureAnswer):
        near = [answer.near.value] if answer.near is not None else []
        templates += [template for template in (answer.low, answer.high, *(answer.usual or ()), *near) if template is not None]
    return value_names(templates)


def _gives(step: Step) -> set[str]:
    """Return the names of the values that a step gives."""
    match step.act:
        case Ask(into=into, adds_to=adds_to):
            return {into} if adds_to is None else {into, adds_to}
        case WorkOut(into=into) | Gate(by=WorkOut(into=into)):
            return {into}
        case Do() | Gate() | Start() | Wait():
            return set()
        case _:
            assert_never(step.act)


def _hangs(steps: Iterable[Step], names: set[str]) -> bool:
    """Return whether a value of these names decides if any of the steps applies."""
    return any(isinstance(when, WhenValue) and when.into in names for step in steps for when in step.when)
