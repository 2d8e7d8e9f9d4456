"""What doing a step produces: the event with its answer, result, verdict or clock, and the place that follows."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime
from typing import TypeVar, assert_never

from shopmate import clock as clocks_
from shopmate import times, units
from shopmate.calculator import Count, Measure, Value, doubt
from shopmate.errors import Doubt, EntryError
from shopmate.phrases import phrase
from shopmate.project.events import Recorded
from shopmate.project.events.clocks import Limit, Reading
from shopmate.project.events.event import Move
from shopmate.project.events.steps import LeftForLater, Onward, PotSpilled, Remembered, SectionDone, StepDone
from shopmate.project.fold import advance
from shopmate.project.place import Place
from shopmate.project.project import Project
from shopmate.project.run import Held
from shopmate.recipe import Act, Ask, ChoiceAnswer, CountAnswer, Do, Gate, MeasureAnswer, ShelfAnswer, Start, Step, Wait, WorkOut
from shopmate.records import dataclass, replace
from shopmate.result import VERDICT, Figure, Result
from shopmate.session.judging import Judge, Option, turn_choice
from shopmate.session.values import large, material_values
from shopmate.session.way import next_place
from shopmate.units import Quantity

_Leaving = TypeVar("_Leaving", StepDone, SectionDone, PotSpilled, LeftForLater)


@dataclass(frozen=True, slots=True)
class Doing:
    """Makes the events of a step of a run; it records none."""

    judge: Judge
    """Judge of the run at the place of the step."""
    number: int
    """Number of the event that would be recorded."""
    stays_at: Place | None = None
    """Where the run stays, for a step done out of its turn; None where it continues with what follows the step."""

    @property
    def step(self) -> Step:
        """The step at the place."""
        step = self.judge.run.step
        assert step is not None
        return step

    @property
    def ends_turns(self) -> bool:
        """Whether the step is the last of the last turn of a repeated section."""
        after = self.judge.run
        done = self.done()
        at_end = replace(after, place=done.next)
        return at_end.step is None and turn_choice(at_end) == "again"

    def done(
        self,
        *,
        values: Mapping[str, Held] | None = None,
        shown: str = "",
        typed: str | None = None,
        reason: str | None = None,
        length: Quantity | None = None,
        reading: Reading | None = None,
        remembered: Remembered | None = None,
        read_at: datetime | None = None,
    ) -> StepDone:
        """Return the event that the step is done, with the values it gives."""
        run, step = self.judge.run, self.step
        done = StepDone(
            run=run.key,
            place=run.place,
            next=run.place,
            headline=step.headline,
            shown=shown,
            values=values,
            typed=typed,
            reason=reason,
            reading=reading,
            remembered=remembered,
            read_at=read_at,
            ends=self._ends(step),
        )
        done = self.onward(self._with_gain(done, step.act, length))
        return replace(done, moved=moves(self.judge.project, self.after(done))) if reading is not None else done

    def answered(self, act: Ask, text: str, *, sure: bool, is_offered: bool = False) -> StepDone:
        """Return the event that a question is answered, with a typed text, the key of a choice or the answer offered.

        Raises EntryError for a text that is no answer, Doubt for one that looks odd unless `sure`. An answer offered is no
        new reading: it keeps the time it was measured at, even if it was undone in between.
        """
        answer, judge = act.answer, self.judge
        offered = judge.offered(act) if is_offered else None
        back = offered.back if offered is not None and offered.text == text else None
        is_new = back.is_new if back is not None else not is_offered
        remembered = judge.remembered(act.fact) if is_new and act.fact is not None else None
        read_at = back.at if is_new and back is not None and act.fact is not None and act.fact.is_reading else None
        match answer:
            case ChoiceAnswer():
                option = _chosen(judge.options(answer), text)
                values = {act.into: Held(option.key, option.label)}
                return self.done(values=values, shown=option.label, remembered=remembered)
            case ShelfAnswer():
                option = _chosen(judge.options(answer), text)
                values = material_values(act.into, judge.shelf[option.key])
                return self.done(values=values, shown=option.label, remembered=remembered)
            case MeasureAnswer() | CountAnswer():
                value = _read(judge.values.kind(answer), text, judge.last_answer(act.into), sure=sure or back is not None)
                # A count is held as a bare number.
                quantity = value if isinstance(value, Quantity) else Quantity(value, "")
                shown = self.shown(value)
                return self.done(
                    values={act.into: Held(quantity)},
                    shown=shown,
                    typed=None if is_offered else text,
                    reading=Reading(value=quantity, shown=shown) if is_new and act.is_shop_temperature else None,
                    remembered=remembered,
                    read_at=read_at,
                )
            case _:
                assert_never(answer)

    def shown(self, value: Value) -> str:
        """Return a value as the project shows it."""
        return str(units.display(value, self.judge.project.system)) if isinstance(value, Quantity) else str(value)

    def onward(self, what: _Leaving) -> _Leaving:
        """Return an event that leaves the place, with the place that follows filled in.

        What follows may depend on what this step gives (an answer, a clock started or ended), so it is looked up in the project
        as it would be with the step done.
        """
        judge, run = self.judge, self.judge.run
        after = self.after(what)
        following, passed = next_place(after.runs[run.key], run.place, after.clocks, judge.now)
        stays = self.stays_at or run.goes_back_to
        if stays is not None:
            following, passed = stays, []
        return replace(what, next=following, passed=tuple(passed))

    def after(self, what: Onward) -> Project:
        """Return the project as it would be after the event."""
        assert isinstance(what, StepDone | SectionDone | LeftForLater)
        return advance(self.judge.project, Recorded(self.number, self.judge.now, what))

    def _with_gain(self, done: StepDone, act: Act, length: Quantity | None) -> StepDone:
        """Return the event with what the step itself gives added: a result, a verdict, a clock, and what to show of it."""
        judge = self.judge
        match act:
            case Do() | Ask() | Wait():
                return done
            case WorkOut():
                return self._with_result(done, act, judge.judge(act).result)
            case Gate(by=by):
                judged = judge.judge(act)
                if isinstance(by, WorkOut) and judged.result is not None:
                    return self._with_result(done, by, judged.result)
                return replace(done, shown=done.shown or judged.verdict)
            case Start():
                clock = self._limit(act, length)
                due, why = judge.due(act, Quantity(clock.seconds, "s"))
                until = f"{phrase(act.kind)} {times.wall(due, judge.now)}"
                return replace(done, clock=clock, shown=f"{until} ({why})" if why else until)
            case _:
                assert_never(act)

    def _with_result(self, done: StepDone, act: WorkOut, result: Result | None) -> StepDone:
        """Return the event with a result added, if there is one, and the figures of it that the step shows."""
        if result is None:
            return done
        shown = done.shown or told(large(act, self.judge.values.presented(act, result)))
        return replace(done, into=act.into, result=result, shown=shown)

    def _ends(self, step: Step) -> tuple[str, ...] | None:
        """Return the keys of the clocks that doing a step ends, None if it ends none."""
        clocks, run = self.judge.project.clocks, self.judge.run
        ends = [key for key in (run.clocks.get(step.ends or ""),) if key and clocks[key].ended_at is None]
        if isinstance(step.act, Wait) and (key := run.clocks.get(step.act.clock)):
            ends.append(key)
        return tuple(ends) or None

    def _limit(self, act: Start, typed: Quantity | None) -> Limit:
        """Return the clock that a step starts."""
        judge = self.judge
        length, to_act = typed or judge.length(act), judge.values.quantity(act.time_to_act, "min")
        assert length is not None
        sheet = judge.values.quantity(act.ages_at, "°C")
        return Limit(
            name=act.clock,
            title=act.title,
            kind=act.kind,
            seconds=length.value_in("s"),
            action=act.action,
            if_late=act.if_late,
            time_to_act_s=to_act.value_in("s") if to_act is not None else clocks_.AT_ONCE.total_seconds(),
            consequence=act.consequence,
            sheet_celsius=sheet.value_in("°C") if sheet is not None else None,
            since=judge.since(act),
        )


def moves(before: Project, after: Project) -> tuple[Move, ...]:
    """Return the limits that differ in the project `after`, with both times, for the log."""
    return tuple(
        Move(clock.title, was=before.clocks[clock.key].due_at, now=clock.due_at)
        for clock in after.clocks.not_over
        if clock.key in before.clocks and clock.due_at != before.clocks[clock.key].due_at
    )


def told(figures: Sequence[Figure]) -> str:
    """Return figures as a step shows them once it is done: a shared label or unit once, otherwise each number with its label."""
    if len({figure.shown for figure in figures}) == 1:
        return str(figures[0].shown)
    return ", ".join(str(figure.shown if figure.name == VERDICT else figure) for figure in figures)


def _chosen(options: Sequence[Option], text: str) -> Option:
    """Return the answer with that key or label; EntryError if there is none."""
    option = next((option for option in options if text in (option.key, option.label)), None)
    if option is None:
        names = ", ".join(option.key for option in options)
        raise EntryError(phrase("'{text}' is not one of the answers", text), phrase("choose one of: {names}", names))
    return option


def _read(kind: Measure | Count, text: str, before: Value | None, *, sure: bool) -> Quantity | int:
    """Return the value of an answer; EntryError if it is not valid, Doubt if it looks odd unless `sure`."""
    value = kind.read(text)
    question = doubt(kind, value, before)
    if question is not None and not sure:
        raise Doubt(question)
    return value
