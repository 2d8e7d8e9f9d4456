"""What of a section lies ahead without a decision between: the steps that one key takes together, and those that need none."""

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
"""Steps that are taken together at most, so that each has its digit."""

Standing: TypeAlias = Literal["passes", "item", "offered", "open", "waits", "closed", "done"]
"""How a step that lies ahead stands.

It needs no key, is a plain item to be confirmed, has an answer that one key takes, is to be answered, waits for such an answer,
is a hold point that does not open, or was answered out of its turn.
"""


@dataclass(frozen=True, slots=True)
class Ahead:
    """A step that lies ahead."""

    place: Place
    step: Step
    stands: Standing
    judge: Judge
    """Who decides about it, as if what lies before it were taken."""
    event: StepDone
    """It done as it stands."""

    @property
    def is_numbered(self) -> bool:
        """Whether a digit chooses it."""
        return self.stands in ("item", "offered", "open", "done")


def ahead(judge: Judge, number: int) -> Iterator[Ahead]:
    """Yield the steps from the place of the run on, up to one that is worked by itself; `number` is that of the next event."""
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
    """Yield the questions of the section that were answered out of their turn and lie ahead still."""
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
    """Return how a step stands; None for one that is worked by itself."""
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
    """Return a step with how it stands; a `hollow` one gives nothing yet."""
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
    """Return how a working stands, or a hold point that is judged by one: what it warns of has to be read."""
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
    """Return the names of the values that the limits of an answer rest on, and what it is known by."""
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
    """Return whether it hangs on a value of these names that one of some steps applies."""
    return any(isinstance(when, WhenValue) and when.value in names for step in steps for when in step.when)
