"""Builds the view of a run that the bench shows, from the judge's decisions."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import datetime, timedelta
from typing import assert_never

from shopmate import times, units
from shopmate.clock import Clock
from shopmate.phrases import phrase
from shopmate.project.place import Mark, Place
from shopmate.project.run import Held, Run
from shopmate.recipe import (
    Act,
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
    Template,
    Wait,
    When,
    WhenClock,
    WhenValue,
    WorkOut,
)
from shopmate.records import dataclass, replace
from shopmate.result import Figure, Presentation
from shopmate.session.ahead import MOST, Ahead
from shopmate.session.doing import Doing
from shopmate.session.judging import (
    CLOCK_LENGTH,
    TURN_CHOICES,
    AtEnd,
    AtSectionEnd,
    AtStep,
    BeforeCaution,
    Judge,
    Judgement,
    Offered,
    Option,
    Over,
    in_hand,
    nothing_of,
    turn_choice,
    working,
)
from shopmate.session.needs import shown_span, time_ahead
from shopmate.session.spilling import pot_in_hand
from shopmate.session.summary import summary
from shopmate.session.values import GAP, Values, large, unit_of
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
    Row,
    RowMark,
    RowsView,
    SectionEndView,
    StartView,
    View,
    WaitView,
    WhereLeft,
    WorkOutView,
)
from shopmate.session.way import applicable
from shopmate.units import Quantity, Shown

_JUST_UNDER = timedelta(microseconds=999_999)
"""Added so that a second that has begun counts as a full one."""


@dataclass(frozen=True, slots=True)
class Viewer:
    """Builds the view of one run."""

    judge: Judge
    usual: Mapping[str, Held] | None
    """The values of the run with the usual answers filled in, None until they are worked out."""

    @property
    def run(self) -> Run:
        """The run shown."""
        return self.judge.run

    @property
    def now(self) -> datetime:
        """The time of the view."""
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
                view = self._step(step)
                offered = self.judge.offered(step.act) if isinstance(step.act, Ask) else None
                if isinstance(step.act, Ask) and offered is not None and offered.back is not None:
                    view = replace(view, frame=_told(view.frame, self._offered_said(step.act, offered)))
                return view
            case _:
                assert_never(found)

    def together(self, rows: Sequence[Ahead], asked: Ahead | None) -> View:
        """Return the view of several steps done together, with the one question among them that is asked."""
        shown = tuple(self._rows(rows, asked))
        if asked is None:
            section = self.run.section
            assert section is not None
            frame = _told(replace(self._frame(section.name, ()), rows=shown), *self._until(rows[-1].judge, rows[-1].step))
            return RowsView(frame, is_list=any(one.stands == "item" for one in rows))
        view = Viewer(asked.judge, self.usual)._step(asked.step)
        mine = self._frame(asked.step.headline, ())
        detail = tuple(dict.fromkeys((*mine.detail, *view.frame.detail)))
        told = replace(view.frame, places=mine.places, detail=detail, outline=mine.outline, rows=shown, ahead=mine.ahead)
        return replace(view, frame=told)

    def _rows(self, rows: Sequence[Ahead], asked: Ahead | None) -> Iterator[Row]:
        """Yield the rows of steps done together; the limits of an answer are in its own row."""
        limits = _limits_by_name(rows)
        held = {one.place for names in limits.values() for one in names}
        for one in rows:
            if one.place in held:
                continue
            act = one.step.act
            mine = limits.get(act.into, []) if isinstance(act, Ask) else [one] if isinstance(act, Gate) else []
            judged = [gate.judge.judge(gate.step.act).go for gate in mine if gate.stands != "waits"]
            yield Row(
                one.place,
                _number(one) if one.is_numbered else 0,
                self._row_mark(one, asked, judged),
                one.step.headline,
                one.event.shown or ", ".join(f"{figure.label} {figure.shown}" for figure in one.judge.values.figures(one.step)),
                self._row_note(one, mine if isinstance(act, Ask) else []),
                tuple(map(one.judge.values.fill, (*one.step.detail, *_notices(one.step)))) if isinstance(act, Do) else (),
                is_question=isinstance(act, Ask),
            )

    def _row_mark(self, one: Ahead, asked: Ahead | None, judged: list[bool | None]) -> RowMark:
        if asked is not None and one.place == asked.place:
            return "asked"
        if False in judged:
            return "closed"
        match one.stands:
            case "item":
                return "item"
            case "passes":
                return "go" if isinstance(one.step.act, Gate) else "done"
            case "open" | "waits":
                return "waits"
            case "closed":
                return "closed"
            case "offered" | "done":
                return one.stands
            case _:
                assert_never(one.stands)

    def _row_note(self, one: Ahead, gates: Sequence[Ahead]) -> str:
        """Return how old an answer is, and its limits."""
        act, words = one.step.act, []
        if not isinstance(act, Ask):
            return ""
        unit = unit_of(act.answer) if isinstance(act.answer, MeasureAnswer | CountAnswer) else ""
        offered = one.judge.offered(act) if one.stands in ("offered", "open") else None
        if offered is not None:
            words.append(self._offered_said(act, offered))
        for gate in gates:
            if isinstance(gate.step.act, Gate) and (limits := gate.judge.limits_of(gate.step.act, unit)):
                words.append(limits)
        return ", ".join(filter(None, words))

    def _offered_said(self, act: Ask, offered: Offered) -> str:
        """Return how old an offered answer is, with the answer itself if it was undone or is too old to accept."""
        value = self._answer_said(act, offered.text) if offered.is_old or offered.back is not None else ""
        if offered.back is not None:
            value = phrase("was {before}", value)
        if offered.at is None:
            return value
        age = times.ago(offered.at, self.now)
        return phrase("{value}, {ago}: old", value, age) if offered.is_old else ", ".join(filter(None, (value, age)))

    def _answer_said(self, act: Ask, text: str) -> str:
        """Return an answer as shown: the words of a choice, or the value."""
        answer = act.answer
        if isinstance(answer, MeasureAnswer | CountAnswer):
            return self.values.quantity_said(text, unit_of(answer))
        return next((option.label for option in self.judge.options(answer) if option.key == text), text)

    def where_left(self, since: datetime) -> WhereLeft | None:
        """Return where you were when you stopped at `since`; None at the beginning and end of a run."""
        run = self.run
        done = [place for place in run.marks if run.is_done(place) and run.step_at(place) is not None]
        if not done or run.finished_at is not None:
            return None
        last = max(done, key=lambda place: (run.marks[place].at, place))
        headline = self.values.said(run.headline_at(last))
        begun = self.values.said(run.step.headline) if run.step is not None else self.view().headline
        return WhereLeft(headline, _said(run.marks[last], self.now), begun, times.ago(since, self.now))

    # The frame

    def _frame(self, headline: str, detail: tuple[str, ...], *, names_recipe: bool = True) -> Frame:
        """Return the frame of a place within a section; the first place names the recipe."""
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
            may_spill=pot_in_hand(run, self.judge.project) is not None,
            ahead=self._ahead(),
        )

    def _ahead(self) -> str:
        """Return how long the run still takes, in words; whatever is not known yet comes from the usual answers."""
        if self.usual is None:
            return ""
        foreseen = replace(self.values, run=replace(self.run, values={**self.usual, **self.run.values}))
        words = shown_span(time_ahead(foreseen, self.judge.project.clocks, self.now))
        return phrase("still to do: {time}", words) if words else ""

    def _places(self, section: Section) -> Iterator[str]:
        """Return the place in words: the step, the turn and the section."""
        run, place = self.run, self.run.place
        if run.step is not None:
            yield phrase("step {number} of {count}", place.step + 1, len(section.steps))
        else:
            yield phrase("section done")
        yield from self._places_of_section()

    def _places_of_section(self) -> Iterator[str]:
        """Return the turn and the section in words."""
        run, place = self.run, self.run.place
        repeated = run.recipe.repeated(place.section)
        if repeated is not None:
            yield phrase("{each} {turn} of {turns}", repeated[1].each, place.turn, run.turns(place.section))
        yield phrase("section {number} of {count}", place.section + 1, len(run.recipe.sections))

    def _outline(self, section: Section) -> Iterator[Line]:
        """Yield the steps of the current section, each with its state."""
        run, recipe = self.run, self.run.recipe
        for index, step in enumerate(section.steps):
            here = Place(run.place.section, run.place.turn, index)
            mark, when = run.marks.get(here), self.values.said(condition(recipe, step))
            headline = self.values.said(step.headline)
            if here == run.place:
                yield Line("started", headline, condition=when)
            elif mark is None or mark.word == "again":
                yield self._to_come(step, when)
            elif mark.word == "done":
                yield Line("done", headline, _said(mark, self.now))
            else:
                yield Line(mark.word, headline, mark.shown, when)

    def _to_come(self, step: Step, when: str) -> Line:
        """Return the line of a step still to come; once the answer that decides it is given, it reads like any other."""
        known = tuple(one for one in step.when if isinstance(one, WhenValue) and one.value in self.run.values)
        if known and not applicable(replace(step, when=known), self.run, self.judge.project.clocks, self.now):
            return Line("not applicable", self.values.said(step.headline), condition=when)
        return Line("not started", self.values.said(step.headline), condition=when if len(known) < len(step.when) else "")

    # Steps

    def _step(self, step: Step) -> View:
        """Return the view of a step whose cautions have been acknowledged."""
        frame = replace(
            self._frame(self.values.said(step.headline), tuple(map(self.values.fill, step.detail))),
            figures=(*self._timer(step.act), *self.values.figures(step)),
            task=task(step),
            # What was answered is known; how a clock stands decides now, and is said.
            condition=self.values.said(condition(self.run.recipe, by_clock(step))),
            late=self._late(self.judge.overdue(step)),
            notices=tuple(map(self.values.fill, _notices(step))),
            turns=self._turns() or self._more(step),
        )
        frame = _told(frame, *self._own_pace_passed(), *self._borrowed(step))
        judged = self.judge.judge(step.act)
        match step.act:
            case Do():
                taken_up = self.run.goes_back_to is not None
                frame = _told(frame, *self._until(self.judge, step))
                return DoView(frame, self.judge.may_wait(step), taken_up)
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
                return WaitView(frame, bool(judged.go), judged.verdict, consequence, self._reasons(judged))
            case _:
                assert_never(step.act)

    def _timer(self, act: Act) -> tuple[Figure, ...]:
        """Return the time left for a step, if it is timed."""
        length = self.values.quantity(act.timer, "min") if isinstance(act, Do) else None
        if length is None:
            return ()
        left = self.run.last_at + timedelta(minutes=length.value_in("min")) - self.now
        if left > timedelta():
            return (Figure(phrase("to go"), Shown(times.span(left + _JUST_UNDER))),)
        return (Figure(phrase("time is up, over by"), Shown(times.span(-left))),)

    def _late(self, clock: Clock | None) -> str:
        """Return what to do because a clock has run out."""
        if clock is None:
            return ""
        return phrase(
            "{clock} ended at {at}. {if_late}",
            clock.title,
            times.wall(clock.due_at, self.now),
            self.values.said(clock.if_late),
        )

    def _ask(self, act: Ask, frame: Frame) -> View:
        """Return a question with its choices or what may be typed."""
        answer = act.answer
        match answer:
            case ChoiceAnswer():
                return ChooseView(frame, self.judge.options(answer), self._default(act))
            case ShelfAnswer():
                options = self.judge.options(answer)
                return ChooseView(frame, options, self._default(act), () if options else (nothing_of(answer),))
            case MeasureAnswer() | CountAnswer():
                return self._enter(act, answer, frame)
            case _:
                assert_never(answer)

    def _default(self, act: Ask) -> str:
        """Return the answer that Enter accepts, '' if there is none or it was measured too long ago."""
        offered = self.judge.offered(act)
        return offered.text if offered is not None and not offered.is_old else ""

    def _enter(self, act: Ask, answer: MeasureAnswer | CountAnswer, frame: Frame) -> EnterView:
        """Return the view of a question answered with a number, with what is expected and what your own pots suggest."""
        unit, default, expected = unit_of(answer), self._default(act), ""
        if act.pace_of is not None and (pot := self.judge.project.middle_pot(act.pace_of)) is not None:
            frame = _told(frame, _own_so_far(self.values.display(pot.answers(unit)), len(self.judge.project.pots[act.pace_of])))
        near, target = answer.near if isinstance(answer, MeasureAnswer) else None, None
        if near is not None and (value := self.values.quantity(near.value, unit)) is not None:
            shown = self.values.display(value)
            expected = str(shown)
            target = shown if self.values.is_worked_out(near.value) else None
            # What an instrument or a sheet should say is not shown beside it, or it would be copied: only what was worked out is.
            if self.values.is_worked_out(near.value) and not frame.figures:
                frame = replace(frame, figures=(Figure("expected", shown),))
        window = self._window(act.into) if target is not None else None
        read = default
        if default and self.values.system == "inch":
            read = str(self.values.display(units.parse(default, unit)))
        kind = self.values.kind(answer)
        begins_in = self._begins_in(unit)
        return EnterView(frame, kind, unit, begins_in, default, expected, default_read=read, target=target, window=window)

    def _begins_in(self, unit: str) -> str:
        """Return the unit that typing starts in; within a pot, the scale stays in the unit used for the resin."""
        pot = pot_in_hand(self.run, self.judge.project)
        if pot is not None and unit and units.dimension(unit) == "mass":
            return pot.amount.unit
        return units.own_unit(unit, self.values.system)

    def _window(self, name: str) -> tuple[Quantity, Quantity] | None:
        """Return the limits that a hold point of the section sets for an answer; None if one of them is not known."""
        section = self.run.section
        for step in section.steps if section is not None else ():
            by = step.act.by if isinstance(step.act, Gate) else None
            if isinstance(by, Between) and by.value.lone_reference == name:
                low, high = self.values.quantity(by.low, ""), self.values.quantity(by.high, "")
                return (low, high) if low is not None and high is not None else None
        return None

    def _work_out(self, act: WorkOut, judged: Judgement, frame: Frame) -> WorkOutView:
        frame, result = self._presented(act, judged, frame)
        return WorkOutView(frame, result, judged.problems, self._reasons(judged))

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
            frame, judged.go, judged.verdict, self.values.said(act.if_no), self._reasons(judged), options, judged.problems, result
        )

    def _reasons(self, judged: Judgement) -> tuple[str, ...]:
        return tuple(map(self.values.said, judged.reasons))

    def _presented(self, act: WorkOut, judged: Judgement, frame: Frame) -> tuple[Frame, Presentation | None]:
        """Return a result for reading, and the frame with the figures of it that the step shows."""
        if judged.result is None:
            return frame, None
        read = self.values.presented(act, judged.result)
        frame = replace(frame, figures=(*frame.figures, *large(act, read)))
        return _told(frame, *self._own_pace_used(act)), read

    def _own_pace_used(self, act: WorkOut) -> Iterator[str]:
        """Say so if a calculator uses the middle one of your own pots in place of the answer given."""
        names = {reference for template in act.given.values() for reference in template.references}
        paced = self.run.paced
        asked = [ask for ask in self.run.recipe.acts if isinstance(ask, Ask) and ask.into in names and ask.pace_of in paced]
        for clock in dict.fromkeys(ask.pace_of for ask in asked):
            pot = " in ".join(dict.fromkeys(self.values.shown(ask.into) or GAP for ask in asked if ask.pace_of == clock))
            yield _own_so_far(pot, paced[clock or ""])

    def _own_pace_passed(self) -> Iterator[str]:
        """Say so at the first step to do by hand after a plan from the middle one of your own pots that needed no key."""
        plans = [working(step.act) for step in self._passed()]
        yield from dict.fromkeys(line for plan in plans if plan is not None for line in self._own_pace_used(plan))

    def _passed(self) -> Sequence[Step]:
        """Return the plans before the first step for the hand of a section, which passed without a key; none at other steps."""
        run, section = self.run, self.run.section
        before = section.steps[: run.place.step] if section is not None else ()
        return before if all(working(step.act) is not None for step in before) else ()

    def _borrowed(self, step: Step) -> Iterator[str]:
        """Say which borrowed figures this step uses, or a plan that needed no key."""
        yield from dict.fromkeys(line for one in (*self._passed(), step) for line in self.judge.borrowed(one))

    def _start(self, step: Step, act: Start, frame: Frame) -> View:
        """Return the view of a clock about to start, or the question for its time if it is not known."""
        length = self.judge.length(act)
        if length is None:
            lacking = phrase("No time for '{title}' on the shelf: type the data-sheet time", act.title)
            return EnterView(frame, CLOCK_LENGTH, "min", "min", problems=(lacking,), note=self.values.said(act.note))
        due, why = self.judge.due(act, length)
        shown = self.values.display(length)
        if why:
            hours = (due - self.now) / timedelta(hours=1)
            shown = self.values.display(Quantity(hours, "h") if hours >= 2 else Quantity(hours * 60, "min"), 0)
        frame = replace(frame, figures=(*frame.figures, Figure(phrase(act.kind), shown)))
        words = (self.values.said(act.note), f"{why}." if why else "", self.judge.crowd(step, act, length))
        return StartView(frame, " ".join(filter(None, words)))

    # Ends

    def _section_end(self, section: Section) -> SectionEndView:
        """Return the view that confirms the end of a section, with the choice to repeat it."""
        run = self.run
        repeated = run.recipe.repeated(run.place.section)
        headline, until = phrase("Section complete"), ""
        if repeated is not None and run.place.section == repeated[0][-1]:
            each, turn = repeated[1].each, run.place.turn
            headline = phrase(
                "{each} {turn} of {turns} complete", f"{each[0].upper()}{each[1:]}", turn, run.turns(run.place.section)
            )
            until = self.values.said(repeated[1].until)
        later, more = self._later()
        frame = replace(self._frame(headline, (section.name,)), turns=self._turns())
        return SectionEndView(frame, f"{until} {more}".strip(), later)

    def _until(self, judge: Judge, step: Step) -> Iterator[str]:
        """Yield when to stop repeating, with the last step of a turn if doing it ends the turn without another key."""
        repeated = self.run.recipe.repeated(self.run.place.section)
        if repeated is None or not isinstance(step.act, Do) or self.run.goes_back_to is not None:
            return
        following = Doing(judge, 0).done().next
        if following.section == repeated[0][-1] and judge.run.step_at(following) is None:
            yield self.values.said(repeated[1].until)

    def _more(self, step: Step) -> tuple[Option, ...]:
        """Return the choice of one more turn at the last step of the last turn, if that is a step to do."""
        repeated = self.run.recipe.repeated(self.run.place.section)
        if repeated is None or not isinstance(step.act, Do) or not Doing(self.judge, 0).ends_turns:
            return ()
        return (Option("again", phrase("done, 1 more {each}", repeated[1].each)),)

    def _turns(self) -> tuple[Option, ...]:
        """Return the choices for repeating the section here."""
        repeated, choice = self.run.recipe.repeated(self.run.place.section), turn_choice(self.run)
        return (Option(choice, phrase(TURN_CHOICES[choice], repeated[1].each)),) if repeated and choice is not None else ()

    def _later(self) -> tuple[tuple[Option, ...], str]:
        """Return the steps left for later, as many as are listed, and in words how many more there are."""
        left = self.run.for_later
        listed = tuple(Option(str(place), self.values.said(self.run.headline_at(place))) for place in left[:MOST_LATER])
        return listed, phrase("{count} more after these.", len(left) - MOST_LATER) if len(left) > MOST_LATER else ""

    def _end(self) -> EndView:
        """Return the view at the end of the recipe."""
        frame = self._over()
        if not frame.for_later:
            return EndView(frame, "", ())
        later, more = self._later()
        advice = phrase("Do each one, or say why it is not needed; then the recipe is complete.")
        return EndView(replace(frame, headline=phrase("Steps left to do")), f"{advice} {more}".strip(), later)

    def _over(self) -> Frame:
        """Return the frame of a run whose sections are done, or that was given up: what was done and how long it took."""
        run = self.run
        detail = (f"{run.recipe.title} · {run.part}", *summary(self.values, self.judge.project, self.now))
        headline, place = phrase("Recipe complete"), phrase("{count} sections done", len(run.recipe.sections))
        if run.given_up:
            headline, place = phrase("Run given up"), phrase("its clocks keep running until you end them")
        return Frame(run.place, headline, (place,), detail=detail, for_later=len(run.for_later))


def _notices(step: Step) -> tuple[Template, ...]:
    """Return the warnings of a step about things that hurt nobody."""
    return tuple(caution.text for caution in step.cautions if caution.signal == "NOTICE")


def _limits_by_name(rows: Sequence[Ahead]) -> dict[str, list[Ahead]]:
    """Return the hold points that only limit an answer among the rows, by the name of that answer."""
    asked = {one.step.act.into for one in rows if isinstance(one.step.act, Ask)}
    found: dict[str, list[Ahead]] = {}
    for one in rows:
        if isinstance(one.step.act, Gate) and isinstance(one.step.act.by, Between):
            name = one.step.act.by.value.lone_reference
            if name in asked:
                found.setdefault(name or "", []).append(one)
    return found


def _number(one: Ahead) -> int:
    """Return the digit for a step: its number among the questions and items of its section, 0 after the ninth."""
    section = one.judge.run.section
    assert section is not None
    before = sum(isinstance(step.act, Ask | Do) for step in section.steps[: one.place.step + 1])
    return before if before <= MOST else 0


def _told(frame: Frame, *words: str) -> Frame:
    """Return a frame with more details added."""
    return replace(frame, detail=(*frame.detail, *words)) if words else frame


def _own_so_far(pot: object, count: int) -> str:
    """Return the line that says that the mass or time of a pot is the middle one of your own."""
    return (
        phrase("Your one pot so far: {pot}.", pot)
        if count == 1
        else phrase("Your pots so far: typically {pot} ({count} pots).", pot, count)
    )


def _said(mark: Mark, now: datetime) -> str:
    """Return in words what a mark keeps: its value, its time and how late it was."""
    at = times.wall(mark.at, now)
    if mark.late_s is not None:
        at = phrase("{at}, {time} late", at, times.span(timedelta(seconds=mark.late_s)))
    return f"{mark.shown} · {at}" if mark.shown else at


def task(step: Step) -> str:
    """Return the kind of step in a word: do, record, check and so on."""
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


def by_clock(step: Step) -> Step:
    """Return the step without its conditions, except those on clocks."""
    return replace(step, when=tuple(when for when in step.when if isinstance(when, WhenClock)))


def condition(recipe: Recipe, step: Step) -> str:
    """Return the conditions of a step in words, '' if it has none."""
    return f" {phrase('and')} ".join(_condition(recipe, when) for when in step.when) if step.when else ""


def _condition(recipe: Recipe, when: When) -> str:
    match when:
        case WhenValue(value, keys):
            asked, labels = _question(recipe, value)
            answers = f" {phrase('or')} ".join(labels.get(key, key) for key in keys)
            is_asked = when.into == value
            return phrase("for {question}: {answers}" if is_asked else "if '{step}' says {answers}", asked, answers)
        case WhenClock(name, stands):
            title = next((act.title for act in recipe.acts if isinstance(act, Start) and act.clock == name), name)
            match stands:
                case "none":
                    return phrase("if '{clock}' is not running", title)
                case "running":
                    return phrase("while '{clock}' runs", title)
                case "over":
                    return phrase("once time is up on '{clock}'", title)
                case _:
                    assert_never(stands)
        case _:
            assert_never(when)


def _question(recipe: Recipe, value: str) -> tuple[str, dict[str, str]]:
    """Return the question that gives a value, and the words of its answers."""
    asked, labels = value.replace("_", " "), dict[str, str]()
    for step in recipe.steps:
        if isinstance(step.act, Ask) and step.act.into == value and isinstance(step.act.answer, ChoiceAnswer):
            asked = step.headline
            labels.update(step.act.answer.choices)
        by = working(step.act)
        if by is not None and by.into == value.partition(".")[0]:
            asked = step.headline
    return asked, labels
