"""Builds what a bench shows of a run from what is decided about it."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, timedelta
from typing import assert_never

from shopmate import times, units
from shopmate.clock import Clock
from shopmate.phrases import phrase
from shopmate.project.place import Mark, Place
from shopmate.project.run import Run
from shopmate.recipe import (
    Ask,
    Between,
    ChoiceAnswer,
    CountAnswer,
    Do,
    Gate,
    MeasureAnswer,
    Recipe,
    Section,
    ShelfAnswer,
    Start,
    Step,
    Wait,
    WhenClock,
    WhenValue,
    WorkOut,
)
from shopmate.records import dataclass, replace
from shopmate.result import LEAD, Figure, Presentation
from shopmate.session.judging import (
    CLOCK_LENGTH,
    TURN_CHOICES,
    AtEnd,
    AtSectionEnd,
    AtStep,
    BeforeCaution,
    Judge,
    Judgement,
    Option,
    Over,
    in_hand,
    nothing_of,
    turn_choice,
)
from shopmate.session.needs import shown_span, time_ahead
from shopmate.session.summary import summary
from shopmate.session.values import GAP, Values, unit_of
from shopmate.session.view import (
    MOST_LATER,
    CautionView,
    ChooseView,
    DoView,
    EndView,
    EnterView,
    FinishedView,
    Frame,
    GateView,
    Line,
    SectionEndView,
    StartView,
    View,
    WaitView,
    WhereLeft,
    WorkOutView,
)
from shopmate.session.way import applicable
from shopmate.units import Quantity


@dataclass(frozen=True, slots=True)
class Viewer:
    """Builds the view of a run."""

    judge: Judge

    @property
    def run(self) -> Run:
        """The run that is shown."""
        return self.judge.run

    @property
    def now(self) -> datetime:
        """The time at which it is."""
        return self.judge.now

    @property
    def values(self) -> Values:
        """The values of the run."""
        return self.judge.values

    def view(self) -> View:
        """Return what the bench shows now."""
        found = in_hand(self.run)
        match found:
            case Over():
                return FinishedView(self._over())
            case AtEnd():
                return self._end()
            case AtSectionEnd(section):
                return self._section_end(section)
            case BeforeCaution(_, _, caution):
                frame = self._frame(caution.signal, (self.values.fill(caution.text),), names_recipe=False)
                return CautionView(frame, caution.signal)
            case AtStep(step):
                return self._step(step)
            case _:
                assert_never(found)

    def where_left(self, since: datetime) -> WhereLeft | None:
        """Return where somebody was who did nothing since then; None at the beginning and the end of a run."""
        run = self.run
        steps = {place: mark for place, mark in run.marks.items() if place.step < len(run.recipe.sections[place.section].steps)}
        done = [place for place, mark in steps.items() if mark.word == "done"]
        if not done or run.finished_at is not None:
            return None
        last = max(done, key=lambda place: (steps[place].at, place))
        headline = self.values.said(run.recipe.sections[last.section].steps[last.step].headline)
        begun = self.values.said(run.step.headline) if run.step is not None else self.view().headline
        return WhereLeft(headline, _said(steps[last], self.now), begun, times.ago(since, self.now))

    # The frame

    def _frame(self, headline: str, detail: tuple[str, ...], *, names_recipe: bool = True) -> Frame:
        """Return the frame of a place within a section; at the first one the recipe is named."""
        run, place = self.run, self.run.place
        section = run.recipe.sections[place.section]
        if names_recipe and not run.marks:
            recipe = run.recipe
            words = phrase("Recipe {name}, version {version}, {date}", recipe.name, recipe.version, recipe.date)
            detail = (words, *detail)
        return Frame(
            place,
            headline,
            tuple(self._places(section)),
            section=section.name,
            detail=detail,
            outline=tuple(self._outline(section)),
            at=place.step,
            for_later=len(run.for_later),
            ahead=self._ahead(),
        )

    def _ahead(self) -> str:
        """Return how long the run still takes, in words."""
        words = shown_span(time_ahead(self.values, self.judge.project.clocks, self.now))
        return phrase("still to go: {time}", words) if words else ""

    def _places(self, section: Section) -> Iterator[str]:
        """Return the place in words: the step, the turn and the section."""
        run, place = self.run, self.run.place
        if run.step is not None:
            yield phrase("step {number} of {count}", place.step + 1, len(section.steps))
        else:
            yield phrase("section done")
        repeated = run.recipe.repeated(place.section)
        if repeated is not None:
            yield phrase("{each} {turn} of {turns}", repeated[1].each, place.turn, run.turns(place.section))
        yield phrase("section {number} of {count}", place.section + 1, len(run.recipe.sections))

    def _outline(self, section: Section) -> Iterator[Line]:
        """Return the steps of the section in hand with what became of them."""
        run = self.run
        for index, step in enumerate(section.steps):
            here = Place(run.place.section, run.place.turn, index)
            mark, when, headline = run.marks.get(here), condition(run.recipe, step), self.values.said(step.headline)
            if here == run.place:
                yield Line("begun", headline, condition=when)
            elif mark is None:
                yield self._to_come(step, when)
            elif mark.word == "done":
                yield Line("done", headline, _said(mark, self.now))
            else:
                yield Line(mark.word, headline, mark.shown, when)

    def _to_come(self, step: Step, when: str) -> Line:
        """Return a step that is still to come; once the answer it hangs on is given, it is one like any other, or none."""
        headline = self.values.said(step.headline)
        match step.when:
            case WhenValue(value) if value in self.run.values:
                applies = applicable(step, self.run, self.judge.project.clocks, self.now)
                return Line("not begun", headline) if applies else Line("not applicable", headline, condition=when)
            case None | WhenValue() | WhenClock():
                return Line("not begun", headline, condition=when)
            case _:
                assert_never(step.when)

    # Steps

    def _step(self, step: Step) -> View:
        """Return the view of a step whose cautions have been seen."""
        frame = replace(
            self._frame(self.values.said(step.headline), tuple(map(self.values.fill, step.detail))),
            figures=self.values.figures(step),
            task=task(step),
            condition=condition(self.run.recipe, step),
            late=self._late(self.judge.overdue(step)),
        )
        judged = self.judge.judge(step.act)
        match step.act:
            case Do():
                return DoView(frame, self.judge.may_wait(step), taken_up=self.run.goes_back_to is not None)
            case Ask():
                return self._ask(step.act, frame)
            case WorkOut():
                return self._work_out(step.act, judged, frame)
            case Gate():
                return self._gate(step.act, judged, frame)
            case Start():
                return self._start(step, step.act, frame)
            case Wait():
                clock = self.judge.clock(step.act.clock)
                consequence = self.values.said(clock.consequence) if clock is not None and not judged.go else ""
                return WaitView(frame, bool(judged.go), judged.verdict, consequence, judged.reasons)
            case _:
                assert_never(step.act)

    def _late(self, clock: Clock | None) -> str:
        """Return what to do because a clock is over its time."""
        if clock is None:
            return ""
        return phrase(
            "{clock} is over since {at}. {if_late}",
            clock.title,
            times.wall(clock.due_at, self.now),
            self.values.said(clock.if_late),
        )

    def _ask(self, act: Ask, frame: Frame) -> View:
        """Return a question with its choices or what may be typed."""
        answer = act.answer
        match answer:
            case ChoiceAnswer():
                return ChooseView(frame, self.judge.options(answer), self._offered(act))
            case ShelfAnswer():
                options = self.judge.options(answer)
                return ChooseView(frame, options, self._offered(act), () if options else (nothing_of(answer),))
            case MeasureAnswer() | CountAnswer():
                return self._enter(act, answer, frame)
            case _:
                assert_never(answer)

    def _offered(self, act: Ask) -> str:
        """Return the answer offered: the one given ahead, else the recipe's."""
        return self.run.offered.get(act.into, act.default or "")

    def _enter(self, act: Ask, answer: MeasureAnswer | CountAnswer, frame: Frame) -> EnterView:
        """Return a question answered with a number: what is expected, and what the user's own pots would answer."""
        unit, default, expected = unit_of(answer), self._offered(act), ""
        if act.pace_of is not None and (pot := self.judge.project.middle_pot(act.pace_of)) is not None:
            own = pot.answers(unit)
            default = units.show(own)
            frame = _told(frame, _own_so_far(self.values.display(own), len(self.judge.project.pots[act.pace_of])))
        near = answer.near if isinstance(answer, MeasureAnswer) else None
        if near is not None and (value := self.values.quantity(near.value, unit)) is not None:
            shown = self.values.display(value)
            expected = str(shown)
            # What an instrument or a sheet should say is not shown beside it, or it would be copied: only what was worked out is.
            if self.values.is_worked_out(near.value) and not frame.figures:
                frame = replace(frame, figures=(Figure("expected", shown),))
        read = default
        if default and self.values.system == "inch":
            read = str(self.values.display(units.parse(default, unit)))
        return EnterView(frame, self.values.kind(answer), unit, default, expected, default_read=read)

    def _work_out(self, act: WorkOut, judged: Judgement, frame: Frame) -> WorkOutView:
        frame, result = self._presented(act, judged, frame)
        return WorkOutView(frame, result, judged.problems, judged.reasons)

    def _gate(self, act: Gate, judged: Judgement, frame: Frame) -> GateView:
        result: Presentation | None = None
        options: tuple[Option, ...] = ()
        match act.by:
            case WorkOut():
                frame, result = self._presented(act.by, judged, frame)
            case ChoiceAnswer():
                options = self.judge.options(act.by)
            case Between():
                pass
            case _:
                assert_never(act.by)
        return GateView(
            frame, judged.go, judged.verdict, self.values.said(act.if_no), judged.reasons, options, judged.problems, result
        )

    def _presented(self, act: WorkOut, judged: Judgement, frame: Frame) -> tuple[Frame, Presentation | None]:
        """Return a result as it is read, and the frame with the figures of it that the step shows."""
        if judged.result is None:
            return frame, None
        read = self.values.presented(act, judged.result)
        frame = replace(frame, figures=(*frame.figures, *large(act, read)))
        return _told(frame, *self._own_pace_used(act)), read

    def _own_pace_used(self, act: WorkOut) -> Iterator[str]:
        """Say so where a calculator goes by the middle pot, which took the place of what was answered."""
        names = {reference for template in act.given.values() for reference in template.references}
        paced = self.run.paced
        asked = [ask for ask in self.run.recipe.acts if isinstance(ask, Ask) and ask.into in names and ask.pace_of in paced]
        for clock in dict.fromkeys(ask.pace_of for ask in asked):
            pot = " in ".join(dict.fromkeys(self.values.shown(ask.into) or GAP for ask in asked if ask.pace_of == clock))
            yield _own_so_far(pot, paced[clock or ""])

    def _start(self, step: Step, act: Start, frame: Frame) -> View:
        """Return the clock that is about to start, or the question for its time where nothing gave it."""
        length = self.judge.length(act)
        if length is None:
            lacking = phrase("No time for '{title}' on the shelf: type the one of the data sheet", act.title)
            return EnterView(frame, CLOCK_LENGTH, "min", problems=(lacking,), note=self.values.said(act.note))
        figure = Figure(phrase(act.kind), self.values.display(length))
        frame = replace(frame, figures=(*frame.figures, figure))
        return StartView(frame, " ".join(filter(None, (self.values.said(act.note), self._crowd(step, act, length)))))

    def _crowd(self, step: Step, act: Start, length: Quantity) -> str:
        """Return whether the clock about to start makes more alarms than one person can serve, '' where it does not."""
        ends = {self.run.clocks.get(name) for name in (act.clock, step.ends) if name is not None}
        running = [clock for clock in self.judge.project.clocks.not_over if clock.key not in ends]
        to_act = self.values.quantity(act.time_to_act, "min")
        planned = Clock(
            key="", name=act.clock, title=act.title, kind=act.kind, started_at=self.now,
            due_at=self.now + timedelta(minutes=length.value_in("min")), action=act.action, if_late=act.if_late,
            time_to_act=timedelta(minutes=to_act.value_in("min") if to_act is not None else 2), consequence=act.consequence,
        )  # fmt: skip
        return times.crowd([*running, planned], self.now)

    # Ends

    def _section_end(self, section: Section) -> SectionEndView:
        """Return the view that confirms a section complete, with the choice to repeat it."""
        run = self.run
        repeated, choice = run.recipe.repeated(run.place.section), turn_choice(run)
        headline, until = phrase("Section complete"), ""
        options: tuple[Option, ...] = ()
        if repeated is not None and choice is not None:
            each, turn = repeated[1].each, run.place.turn
            headline = phrase(
                "{each} {turn} of {turns} complete", f"{each[0].upper()}{each[1:]}", turn, run.turns(run.place.section)
            )
            until = self.values.said(repeated[1].until)
            options = (Option(choice, phrase(TURN_CHOICES[choice], each)),)
        later, more = self._later()
        return SectionEndView(self._frame(headline, (section.name,)), f"{until} {more}".strip(), options, later)

    def _later(self) -> tuple[tuple[Option, ...], str]:
        """Return the steps left for later, as many as are listed at once, and how many more there are in words."""
        left, sections = self.run.for_later, self.run.recipe.sections
        listed = tuple(
            Option(str(place), self.values.said(sections[place.section].steps[place.step].headline))
            for place in left[:MOST_LATER]
        )
        return listed, phrase("{count} more come after these.", len(left) - MOST_LATER) if len(left) > MOST_LATER else ""

    def _end(self) -> EndView:
        """Return the view at the end of the recipe."""
        frame = self._over()
        if not frame.for_later:
            return EndView(frame, "", ())
        later, more = self._later()
        advice = phrase("Do each, or say why not: only then is the recipe complete.")
        return EndView(replace(frame, headline=phrase("Steps are left")), f"{advice} {more}".strip(), later)

    def _over(self) -> Frame:
        """Return the frame of a run whose sections are done, or that was given up: what was done, in what time."""
        run = self.run
        detail = (f"{run.recipe.title} · {run.part}", *summary(self.values, self.judge.project, self.now))
        headline, place = phrase("Recipe complete"), phrase("{count} sections done", len(run.recipe.sections))
        if run.given_up:
            headline, place = phrase("Run given up"), phrase("its clocks go on until you end them")
        return Frame(run.place, headline, (place,), detail=detail, for_later=len(run.for_later))


def large(act: WorkOut, read: Presentation) -> tuple[Figure, ...]:
    """Return the figures of a result that its step shows large: those it names, else the first."""
    return tuple(figure for figure in read.head if figure.name in act.show) if act.show else read.head[:LEAD]


def _told(frame: Frame, *words: str) -> Frame:
    """Return a frame with further details."""
    return replace(frame, detail=(*frame.detail, *words)) if words else frame


def _own_so_far(pot: object, count: int) -> str:
    """Return the line that says of a pot's mass or time that it is the middle one of the user's own."""
    return (
        phrase("Yours so far: {pot}, one pot.", pot)
        if count == 1
        else phrase("Yours so far: {pot}, middle of {count} pots.", pot, count)
    )


def _said(mark: Mark, now: datetime) -> str:
    """Return what a mark keeps: its value, its time and by how much it was late."""
    at = times.wall(mark.at, now)
    if mark.late_s is not None:
        at = phrase("{at}, {time} late", at, times.span(timedelta(seconds=mark.late_s)))
    return f"{mark.shown} · {at}" if mark.shown else at


def task(step: Step) -> str:
    """Return in a word what kind of step it is: make it so, record what is read, check it against its limits, and so on."""
    match step.act:
        case Do():
            return phrase("do")
        case Ask(answer=ChoiceAnswer() | ShelfAnswer()):
            return phrase("choose")
        case Ask():
            return phrase("record")
        case WorkOut():
            return phrase("work out")
        case Gate():
            return phrase("check")
        case Start():
            return phrase("start")
        case Wait():
            return phrase("wait")
        case _:
            assert_never(step.act)


def condition(recipe: Recipe, step: Step) -> str:
    """Return the condition of a step in words, '' for a step without one."""
    when = step.when
    match when:
        case None:
            return ""
        case WhenValue(value, keys):
            labels = _labels(recipe, value)
            among = ", ".join(labels.get(key, key) for key in keys)
            text = "if {value} is one of: {names}" if len(keys) > 1 else "if {value} is {names}"
            return phrase(text, value.replace("_", " "), among)
        case WhenClock(name, stands):
            title = next((act.title for act in recipe.acts if isinstance(act, Start) and act.clock == name), name)
            match stands:
                case "none":
                    return phrase("if no clock '{clock}' runs", title)
                case "running":
                    return phrase("if the clock '{clock}' is running", title)
                case "over":
                    return phrase("if the clock '{clock}' is over", title)
                case _:
                    assert_never(stands)
        case _:
            assert_never(when)


def _labels(recipe: Recipe, value: str) -> dict[str, str]:
    """Return the words of the answers to the questions that give a value."""
    labels: dict[str, str] = {}
    for act in recipe.acts:
        if isinstance(act, Ask) and act.into == value and isinstance(act.answer, ChoiceAnswer):
            labels.update(act.answer.choices)
    return labels
