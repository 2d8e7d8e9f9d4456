"""What a run may do at its place, decided from the project and its values alone, whatever the screen shows."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import datetime, timedelta
from math import isclose
from typing import Literal, TypeAlias, assert_never

from shopmate import calc, times, units
from shopmate.calculator import Measure
from shopmate.clock import Aging, Clock, aged_due
from shopmate.errors import FieldProblem, InputError
from shopmate.models.constants import NOISE
from shopmate.models.due import closes
from shopmate.phrases import phrase
from shopmate.project.events.steps import Remembered
from shopmate.project.place import Place
from shopmate.project.project import Known, Project
from shopmate.project.run import OldAnswer, Run
from shopmate.recipe import (
    FRESH,
    READINGS,
    Act,
    Ask,
    Between,
    Caution,
    ChoiceAnswer,
    CountAnswer,
    Do,
    Fact,
    Gate,
    JudgedBy,
    Material,
    MeasureAnswer,
    Section,
    ShelfAnswer,
    Start,
    Step,
    Template,
    Wait,
    WorkOut,
    of_kind,
    references,
    still_borrowed,
)
from shopmate.records import dataclass, replace
from shopmate.result import Result
from shopmate.session.values import Values, unit_of
from shopmate.units import Quantity, parse

CLOCK_LENGTH = Measure("min", above=0, high=14 * 24 * 60)
"""What may be typed as the length of a clock: up to two weeks."""

WITHOUT_FIGURES = ("Worked out by hand", "It's on the data sheet", "Not needed for this job")
"""Reasons offered for continuing when a calculator lacks a figure."""

NOT_NEEDED = ("Not needed on this part", "Done another way", "Done by somebody else", "No longer possible")
"""Reasons offered for not doing a step that was left for later."""


@dataclass(frozen=True, slots=True)
class Over:
    """The run is finished, or was given up."""


@dataclass(frozen=True, slots=True)
class AtEnd:
    """Every section is done; the run is to be finished."""


@dataclass(frozen=True, slots=True)
class AtSectionEnd:
    """The steps of a section are done; the section is to be confirmed."""

    section: Section


@dataclass(frozen=True, slots=True)
class BeforeCaution:
    """A caution of the current step is not acknowledged yet."""

    step: Step
    number: int
    """Number of the caution at that place, from 0."""
    caution: Caution


@dataclass(frozen=True, slots=True)
class AtStep:
    """The current step is to be done."""

    step: Step


InHand: TypeAlias = Over | AtEnd | AtSectionEnd | BeforeCaution | AtStep
"""What comes next in a run."""


def in_hand(run: Run) -> InHand:
    """Return what comes next at the place of a run."""
    section, step = run.section, run.step
    if run.finished_at is not None:
        return Over()
    if section is None:
        return AtEnd()
    if step is None:
        return AtSectionEnd(section)
    for number, caution in enumerate(run.cautions):
        # What hurts nobody stands beside its step, without a key of its own.
        if caution.signal != "NOTICE" and not run.has_read(number):
            return BeforeCaution(step, number, caution)
    return AtStep(step)


TurnChoice = Literal["again", "enough"]


def turn_choice(run: Run) -> TurnChoice | None:
    """Return the choice about repeating: one more turn at the end of the last, no more at the start of an extra one."""
    place = run.place
    repeated = run.recipe.repeated(place.section) if run.section is not None else None
    if repeated is None:
        return None
    if run.step is not None:
        return "enough" if place.turn > 1 and run.goes_back_to is None and not _is_begun(run, repeated[0]) else None
    is_last = place.section == repeated[0][-1] and place.turn >= run.turns(place.section)
    return "again" if is_last else None


def _is_begun(run: Run, together: range) -> bool:
    """Return whether anything was done in this turn, apart from working out, judging and waiting."""
    return any(
        place.section in together
        and place.turn == run.place.turn
        and mark.word != "not applicable"
        and (step := run.step_at(place)) is not None
        and not isinstance(step.act, WorkOut | Gate | Wait)
        for place, mark in run.marks.items()
    )


def asked_at_last_step(run: Run) -> bool:
    """Return whether the last step of a turn already chose to stop repeating."""
    section, place = run.section, run.place
    if section is None or run.step is not None:
        return False
    done = [step for index, step in enumerate(section.steps) if run.is_done(replace(place, step=index))]
    return bool(done) and isinstance(done[-1].act, Do)


TURN_CHOICES: dict[TurnChoice, str] = {"again": "one more {each}", "enough": "this is the last {each}"}
"""The choices for repeating a section, in words."""


def clocks_of(step: Step) -> set[str | None]:
    """Return the names of the clocks that a step ends, starts or waits for; they include None if it ends none."""
    act = step.act
    match act:
        case Start(clock=clock) | Wait(clock=clock):
            return {step.ends, clock}
        case Do() | Ask() | WorkOut() | Gate():
            return {step.ends}
        case _:
            assert_never(act)


def judged_by(act: Act) -> set[str] | None:
    """Return the names of the values that judge a hold point; None if no value does, or if this is no hold point."""
    match act:
        case Gate():
            return _rests_on(act.by)
        case Do() | Ask() | WorkOut() | Start() | Wait():
            return None
        case _:
            assert_never(act)


def _rests_on(by: JudgedBy) -> set[str] | None:
    match by:
        case WorkOut(given=given):
            return value_names(given.values())
        case Between(value):
            return value_names((value,))
        case ChoiceAnswer():
            return None
        case _:
            assert_never(by)


def _reaches(greater: Quantity, lesser: Quantity) -> bool:
    """Return whether one quantity is no less than another, equal but for the rounding of floats included."""
    number, other = greater.value_in(greater.unit), lesser.value_in(greater.unit)
    return number >= other or isclose(number, other, rel_tol=NOISE)


def asked_for(run: Run, names: set[str]) -> Place | None:
    """Return the place of the first answer in this section that these values depend on, otherwise of the last one before."""
    names, asked = set(names), []
    for place in reversed(run.marks):
        step = run.step_at(place)
        if step is None or not run.is_done(place):
            continue
        act = step.act
        if isinstance(act, Ask) and act.into in names:
            asked.append(place)
        elif isinstance(act, WorkOut) and act.into in names:
            names |= value_names(act.given.values())
    here = [place for place in asked if (place.section, place.turn) == (run.place.section, run.place.turn)]
    if here:
        return here[-1]
    if (found := run.recipe.repeated(run.place.section)) is not None:
        # What the turns before have poured and spread is not measured again.
        asked = [place for place in asked if place.section in found[0] and place.turn == run.place.turn]
    return next(iter(asked), None)


def working(act: Act | None) -> WorkOut | None:
    """Return what a step works out, or what its hold point works out to judge; None if nothing is worked out."""
    by = act.by if isinstance(act, Gate) else act
    return by if isinstance(by, WorkOut) else None


def value_names(templates: Iterable[Template]) -> set[str]:
    """Return the names of the values that templates refer to, each without the name of a single figure of it."""
    return {name.partition(".")[0] for template in templates for name in template.references}


@dataclass(frozen=True, slots=True)
class Option:
    """One of the answers selected by a number."""

    key: str
    label: str


def nothing_of(answer: ShelfAnswer) -> str:
    """Return what to do if the shelf has no material to answer with."""
    return phrase("The shelf has no {kind}; add one to the shelf file (see 'shopmate where')", answer.kind)


def is_fresh(project: Project, reading: str, at: datetime, now: datetime) -> bool:
    """Return whether a reading of a kind is still fresh; one from the future is not, because the computer's clock was changed."""
    setting = READINGS[reading].fresh
    return timedelta() <= now - at <= project.fresh.get(setting, FRESH[setting])


@dataclass(frozen=True, slots=True)
class Judgement:
    """The judgement of a step by the values and clocks so far."""

    go: bool | None = None
    """Whether a hold point is open; None if nothing is judged, or not yet."""
    verdict: str = ""
    """How it was judged, with its figures."""
    problems: tuple[str, ...] = ()
    """Why a calculator could not be run, or which limit of a value is missing."""
    reasons: tuple[str, ...] = ()
    """Reasons offered for overriding it."""
    result: Result | None = None
    """The result of its calculator."""

    @property
    def is_closed(self) -> bool:
        """Whether the step can only be overridden, with a reason."""
        return bool(self.reasons) and not self.go


@dataclass(frozen=True, slots=True)
class Offered:
    """An answer offered at one key."""

    text: str
    """The answer as typed, or as the key of a choice."""
    at: datetime | None = None
    """When it was measured; None if it is no reading."""
    is_old: bool = False
    """Whether it was measured too long ago to accept; it is still shown."""
    back: OldAnswer | None = None
    """The answer undone here, if this is it: it was probably wrong, so it is never accepted together with others."""


@dataclass(frozen=True, slots=True)
class Judge:
    """Decides what a run may do; it changes nothing, and `now` is an argument."""

    project: Project
    run: Run
    shelf: Mapping[str, Material]
    now: datetime
    values: Values

    def at(self, place: Place, run: Run | None = None) -> Judge:
        """Return the judge at another place of the run, or of the changed `run`."""
        there = replace(self.run if run is None else run, place=place)
        return replace(self, run=there, values=replace(self.values, run=there))

    def judge(self, act: Act) -> Judgement:
        """Return the judgement of a step."""
        match act:
            case Do() | Ask() | Start():
                return Judgement()
            case WorkOut():
                return self._worked_out(act)
            case Gate():
                return self._held(act)
            case Wait():
                return self._waited(act)
            case _:
                assert_never(act)

    def bars(self, act: Act) -> str:
        """Return why Enter can't complete a step, '' if it can."""
        match act:
            case Do():
                return ""
            case Ask(answer=ShelfAnswer() as answer) if not self.options(answer):
                return nothing_of(answer)
            case Ask():
                return phrase("this step asks for an answer; choose or type it")
            case WorkOut():
                return next(iter(self.judge(act).problems), "")
            case Gate() | Wait():
                judged = self.judge(act)
                verdict = judged.verdict or phrase("not checked yet")
                return "" if judged.go else phrase("hold point: {verdict}; wait for GO, or override with a reason", verdict)
            case Start():
                return "" if self.length(act) is not None else phrase("this step asks for an answer; choose or type it")
            case _:
                assert_never(act)

    def length(self, act: Start) -> Quantity | None:
        """Return the length of a clock about to start; None if it is not known and has to be typed."""
        return self.values.quantity(act.time, "min")

    def options(self, answer: ChoiceAnswer | ShelfAnswer) -> tuple[Option, ...]:
        """Return the possible answers to a question."""
        match answer:
            case ChoiceAnswer():
                return tuple(Option(key, label) for key, label in self.values.choices(answer).items())
            case ShelfAnswer(kind):
                return tuple(Option(name, material.title) for name, material in of_kind(self.shelf, kind).items())
            case _:
                assert_never(answer)

    def offered(self, act: Ask) -> Offered | None:
        """Return the answer offered at one key: the one undone here, your own pace, what is known, else the default.

        A reading taken since, or still known from elsewhere, comes before the one that was undone here.
        """
        usual, back = self._offered_anew(act), self.run.taken_back.get(self.run.place)
        if back is None:
            return usual
        if act.fact is None or not act.fact.is_reading:
            return Offered(back.held.text, back=back)
        if usual is not None and usual.at is not None and (usual.at > back.at or not back.is_new):
            return replace(usual, back=back if usual.text == back.held.text else None)
        return Offered(back.held.text, back.at, not is_fresh(self.project, act.fact.name, back.at, self.now), back)

    def _offered_anew(self, act: Ask) -> Offered | None:
        """Return the answer offered at one key to a question that was not answered here before."""
        mark = self.run.marks.get(self.run.place)
        if mark is not None and mark.word == "again":
            return None
        if (given := self.run.offered.get(act.into)) is not None:
            return Offered(given)
        unit = unit_of(act.answer) if isinstance(act.answer, MeasureAnswer | CountAnswer) else ""
        if act.pace_of is not None and (pot := self.project.middle_pot(act.pace_of)) is not None:
            return Offered(units.show(pot.answers(unit)))
        if act.fact is not None and (known := self.known(act.fact)) is not None:
            if not act.fact.is_reading:
                return Offered(known.held.text)
            return Offered(known.held.text, known.at, is_old=not is_fresh(self.project, act.fact.name, known.at, self.now))
        if act.fact is not None and act.fact.is_reading:
            return None
        default = self.values.default(act)
        return Offered(default) if default is not None else None

    def known(self, fact: Fact) -> Known | None:
        """Return what is known of a fact; for the air, the reading that the clocks use."""
        what = self.remembered(fact)
        return self.project.known(what.name, what.of)

    def remembered(self, fact: Fact) -> Remembered:
        """Return how the answer to a question is remembered beyond the run."""
        match fact.of.text:
            case "shop":
                return Remembered(fact.name, "shop")
            case "part":
                return Remembered(fact.name, f"part:{self.run.part}")
            case _:
                return Remembered(fact.name, f"material:{self.values.exact(fact.of.lone_reference or '')}")

    def last_answer(self, into: str) -> Quantity | None:
        """Return the last answer to the question of that name: in this run, else in another run of the same recipe."""
        if into in self.run.values:
            return self.run.values[into].quantity
        for key in reversed(self.project.runs):
            run = self.project.runs[key]
            if run.recipe_name == self.run.recipe_name and into in run.values:
                return run.values[into].quantity
        return None

    def may_wait(self, step: Step) -> bool:
        """Return whether a step may be left for later: nothing depends on when it is done, and no pot of the run is going off."""
        match step.act:
            case Do():
                return step.ends is None and step.can_wait and not self._presses(step)
            case Ask() | WorkOut() | Gate() | Start() | Wait():
                return False
            case _:
                assert_never(step.act)

    def _presses(self, step: Step) -> bool:
        """Return whether a step has to be done in its turn."""
        run, section = self.run, self.run.section
        if section is None or run.recipe.repeated(run.place.section) is not None or run.goes_back_to is not None:
            return True
        timed = any(isinstance(other.act, Start) and closes(other.act.kind) for other in section.steps)
        guarded = any(caution.signal != "NOTICE" for caution in step.cautions)
        running = (self.project.clocks[key] for key in run.clocks.values())
        return timed or guarded or any(clock.closes and clock.ended_at is None for clock in running)

    def overdue(self, step: Step) -> Clock | None:
        """Return the clock that a step ends, if it has already run out."""
        clock = self.clock(step.ends)
        if clock is None or clock.ended_at is not None or not clock.has_closed(self.now):
            return None
        return clock

    def clock(self, name: str | None) -> Clock | None:
        """Return the last clock that the run started under a name from its recipe."""
        return self.project.clocks.get(self.run.clocks.get(name or "", ""))

    def due(self, act: Start, length: Quantity) -> tuple[datetime, str]:
        """Return when a clock started now is due, as the clock itself will say, and why that is not the data-sheet time.

        The reason is '' if it is the data-sheet time.
        """
        needed, start = timedelta(minutes=length.value_in("min")), self.since(act) or self.now
        sheet = self.values.quantity(act.ages_at, "°C")
        if sheet is None:
            return start + needed, ""
        due = aged_due(start, Aging(needed, sheet.value_in("°C")), act.kind, self.project.readings)
        if abs(due - start - needed) < timedelta(minutes=1) or self.project.air is None:
            return due, ""
        words = "{time} at {sheet} on the data sheet, {here} at the shop's {celsius}"
        at = (self.values.display(quantity, 0) for quantity in (sheet, self.project.air.held.quantity) if quantity is not None)
        return due, phrase(words, times.duration(needed), next(at), times.duration(due - start), next(at))

    def since(self, act: Start) -> datetime | None:
        """Return when the clock began that a start goes on from, None where it begins anew."""
        clock = self.clock(act.clock) if act.goes_on else None
        return clock.started_at if clock is not None and clock.ended_at is None else None

    def crowd(self, step: Step, act: Start, length: Quantity) -> str:
        """Return a warning if the clock about to start makes too many alarms for one person at once, else ''."""
        ends = {self.run.clocks.get(name) for name in (act.clock, step.ends) if name is not None}
        running = [clock for clock in self.project.clocks.not_over if clock.key not in ends]
        to_act, start = self.values.quantity(act.time_to_act, "min"), self.since(act) or self.now
        planned = Clock(
            key="", name=act.clock, title=act.title, kind=act.kind, started_at=start,
            due_at=start + timedelta(minutes=length.value_in("min")), action=act.action, if_late=act.if_late,
            time_to_act=timedelta(minutes=to_act.value_in("min") if to_act is not None else 2), consequence=act.consequence,
        )  # fmt: skip
        return times.crowd([*running, planned], self.now)

    def _worked_out(self, act: WorkOut) -> Judgement:
        try:
            return Judgement(result=self.values.result(act))
        except InputError as error:
            problems = tuple(self._lacking(act, problem) for problem in error.problems)
            return Judgement(problems=problems, reasons=tuple(map(phrase, WITHOUT_FIGURES)))

    def _held(self, act: Gate) -> Judgement:
        """Judge a hold point: by its calculator, between limits, or by the state it was answered with."""
        match act.by:
            case WorkOut():
                found = self._worked_out(act.by)
                if found.result is None:
                    return Judgement(False, problems=found.problems, reasons=act.reasons)
                outputs = {name: str(found.result.outputs[name]) for name in act.go}
                more = act.more if self._is_turn_more() else {}
                go = all(outputs[name] in (*words, *more.get(name, ())) for name, words in act.go.items())
                return Judgement(go, ", ".join(outputs.values()), reasons=act.reasons, result=found.result)
            case Between():
                return self._between(act.by, act.reasons)
            case ChoiceAnswer():
                refused = self.run.refused.get(self.run.place)
                if refused is None:
                    return Judgement(reasons=act.reasons)
                return Judgement(False, self.values.choices(act.by).get(refused, ""), reasons=act.reasons)
            case _:
                assert_never(act.by)

    def _is_turn_more(self) -> bool:
        """Return whether this turn is beyond those planned."""
        found = self.run.recipe.repeated(self.run.place.section)
        return found is not None and self.run.place.turn > self.run.planned(found[1])

    def _between(self, by: Between, reasons: tuple[str, ...]) -> Judgement:
        """Judge a value against its limits."""
        value = self.values.quantity(by.value, "")
        if value is None:
            problem = phrase("The value to check was not entered; undo the last answers and enter it")
            return Judgement(False, problems=(problem,), reasons=reasons)
        low, high = self._limit(by.low, value.unit), self._limit(by.high, value.unit)
        for missing, limit, known in (
            ("No minimum known ({references}): see the data sheet", by.low, low),
            ("No maximum known ({references}): see the data sheet", by.high, high),
        ):
            if limit is not None and known is None:
                # A limit nobody gave is no leave to pass: the data sheet has to be asked.
                problem = phrase(missing, ", ".join(map(self._named, limit.references)))
                return Judgement(False, problems=(problem,), reasons=reasons)
        low_ok = low is None or self._reads_alike(value, low) or _reaches(value, low)
        high_ok = high is None or self._reads_alike(value, high) or _reaches(high, value)
        judged = f"{self.values.display(value)}, {self._limits(low, high)}"
        if not (low_ok and high_ok):
            judged = phrase("too high: {value}" if low_ok else "too low: {value}", judged)
        return Judgement(low_ok and high_ok, judged, reasons=reasons)

    def _reads_alike(self, value: Quantity, limit: Quantity) -> bool:
        """Return whether a value was typed just as its limit is shown: one worked out can't be typed more exactly than that."""
        read = str(self.values.display(value))
        return read == str(self.values.display(limit)) and parse(read, value.unit).value_in(value.unit) == value.value

    def _named(self, reference: str) -> str:
        """Return the name of a figure or answer: the figure of its material, the headline of its question, or its own text."""
        name, _, figure = reference.partition(".")
        asked = (step.headline for step in self.run.recipe.steps if isinstance(step.act, Ask) and step.act.into == name)
        of = self.values.shown(name) or next(asked, "")
        words = (figure or name).replace("_", " ")
        return f"{of}: {words}" if figure and of else of or words

    def limits_of(self, act: Gate, unit: str) -> str:
        """Return the limits of a hold point in words, '' if it is judged in another way or they are not known.

        Limits without a unit are in `unit`, that of the value judged.
        """
        if not isinstance(act.by, Between):
            return ""
        return self._limits(self._limit(act.by.low, unit), self._limit(act.by.high, unit))

    def _limit(self, limit: Template | None, unit: str) -> Quantity | None:
        return self.values.quantity(limit, unit) if limit is not None else None

    def _limits(self, low: Quantity | None, high: Quantity | None) -> str:
        show = self.values.display
        if low is not None and high is not None:
            return phrase("limits {low} to {high}", show(low), show(high))
        if low is not None:
            return phrase("minimum {low}", show(low))
        return phrase("maximum {high}", show(high)) if high is not None else ""

    def _waited(self, act: Wait) -> Judgement:
        """Judge a hold point that opens with a clock."""
        clock = self.clock(act.clock)
        if clock is None:
            return Judgement(False, phrase("the clock was not started"), reasons=act.reasons)
        due = times.wall(clock.due_at, self.now)
        if clock.ended_at is not None or self.now >= clock.due_at:
            return Judgement(True, phrase("open since {at}", due), reasons=act.reasons)
        verdict = phrase("NOT BEFORE {at}, {time} to go", due, times.face(clock, self.now))
        return Judgement(False, verdict, reasons=act.reasons)

    def _lacking(self, act: WorkOut, problem: FieldProblem) -> str:
        """Return a calculator's problem in terms of what to fix: the figure that the shelf or an answer did not give."""
        given, title = act.given.get(problem.field), calc.find(act.calculator).field(problem.field).title
        for reference in given.references if given is not None else ():
            if self.values.exact(reference) is not None:
                continue
            name, _, figure = reference.partition(".")
            material = self.values.shown(name)
            if figure and material is not None and name in self._shelf_answers():
                return phrase(
                    "The shelf has no {figure} for {material}: add it from the data sheet, or override with a reason",
                    figure.replace("_", " "),
                    material,
                )
            return phrase("{field}: not entered in any earlier step; override with a reason", title)
        return f"{title}: {problem.what}; {problem.fix}"

    def borrowed(self, part: Step) -> list[str]:
        """Return which figures of the shelf that a step goes by are still another material's than the one in use."""
        used = {name: self.shelf.get(self.values.exact(name) or "") for name in self._shelf_answers()}
        lent = {name: material for name, material in used.items() if material is not None and material.borrowed}
        parts = [reference.partition(".") for reference in dict.fromkeys(references(part))] if lent else []
        found: list[str] = []
        for name, material in lent.items():
            found += still_borrowed(material, [figure for into, _, figure in parts if into == name], self.shelf)
        return found

    def _shelf_answers(self) -> set[str]:
        """Return the names of the answers that are materials on the shelf."""
        return {act.into for act in self.run.recipe.acts if isinstance(act, Ask) and isinstance(act.answer, ShelfAnswer)}
