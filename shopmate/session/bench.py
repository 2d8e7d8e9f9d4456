"""The run on the bench: what is done, answered, judged and left for later at its steps."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime, timedelta
from typing import assert_never

from shopmate import clock as clocks_
from shopmate import times
from shopmate.calculator import Count, Measure, Value, doubt
from shopmate.clock import Clock
from shopmate.errors import Doubt, EntryError
from shopmate.phrases import phrase
from shopmate.project.events.clocks import Limit, Reading
from shopmate.project.events.steps import CautionRead, Dropped, LeftForLater, Refused, SectionDone, StepDone, TakenUp, WentBack
from shopmate.project.run import Held
from shopmate.recipe import Act, Ask, ChoiceAnswer, CountAnswer, Do, Gate, MeasureAnswer, ShelfAnswer, Start, Step, Wait, WorkOut
from shopmate.records import replace
from shopmate.result import Result
from shopmate.session.judging import (
    CLOCK_LENGTH,
    TURN_CHOICES,
    AtEnd,
    AtSectionEnd,
    AtStep,
    BeforeCaution,
    Judge,
    Option,
    Over,
    asked_for,
    clocks_of,
    in_hand,
    judged_by,
    turn_choice,
)
from shopmate.session.recorder import NotNow
from shopmate.session.summary import finished, given_up
from shopmate.session.timekeeper import Timekeeper
from shopmate.session.values import Values, material_values
from shopmate.session.view import View, WhereLeft
from shopmate.session.viewer import Viewer, large
from shopmate.session.way import next_place
from shopmate.units import Quantity


class Bench(Timekeeper):
    """What is done at the steps of the run on the bench."""

    def view(self, now: datetime) -> View:
        """Return what the bench shows now."""
        return Viewer(self._judge(now)).view()

    def where_left(self, since: datetime, now: datetime) -> WhereLeft | None:
        """Return where somebody was who did nothing since then; None at the beginning and the end of a run, and without one."""
        return Viewer(self._judge(now)).where_left(since) if self.project.run is not None else None

    def was_called_away(self, seen: Clock, now: datetime) -> bool:
        """Return whether the alarm of a clock called from the step in hand to something else.

        It did not where the step is the one it calls for, and while a DO BEFORE clock of this run is short of time: the
        Enter that ends a clock must not be taken for going on.
        """
        run = self.project.run
        if run is None:
            return True
        mine = [clock for clock in self.clocks if clock.run == run.key]
        short = any(clock.warns_at is not None and now >= clock.warns_at for clock in mine)
        called_for = run.step is not None and seen.run == run.key and seen.name in clocks_of(run.step)
        return not short and not called_for

    def pick(self, key: str, now: datetime) -> str:
        """Take what `key` of the view's answers stands for: answer, judge, repeat the section, take up a step for later."""
        found = in_hand(self.run)
        match found:
            case AtSectionEnd():
                return self.repeat(key, now) if key == turn_choice(self.run) else self.take_up(key, now)
            case AtEnd():
                return self.take_up(key, now)
            case AtStep(step) if isinstance(step.act, Gate):
                return self.judge(key, now)
            case AtStep() | BeforeCaution() | Over():
                return self.answer(key, now)
            case _:
                assert_never(found)

    def done(self, now: datetime) -> str:
        """Do what Enter does at this place and return what was done, in a word or two; NotNow when Enter does not pass it."""
        run = self.run
        found = in_hand(run)
        match found:
            case Over():
                if run.given_up:
                    raise NotNow(phrase("this run is given up; choose other work"))
                raise NotNow(phrase("this run is finished; choose other work"))
            case AtEnd():
                if run.for_later:
                    raise NotNow(phrase("{count} left for later: do each, or say why it is not needed", len(run.for_later)))
                self._record(finished(self._judge(now).values, now), now)
                return phrase("FINISHED")
            case AtSectionEnd():
                self._section_done(now)
                return phrase("SECTION DONE")
            case BeforeCaution():
                raise NotNow(phrase("a caution is passed with the key * once it is read"))
            case AtStep(step):
                judge = self._judge(now)
                if why := judge.bars(step.act):
                    raise NotNow(why)
                return self._step_done(judge, step)
            case _:
                assert_never(found)

    def answer(self, text: str, now: datetime, *, sure: bool = False) -> str:
        """Answer a question with a typed text or the key of a choice, and return what was recorded.

        Raises EntryError for a text that is no answer, Doubt for one that looks odd unless `sure`.
        """
        step, judge = self._at_step(), self._judge(now)
        if step is None:
            raise NotNow(phrase("this step asks for nothing"))
        act = step.act
        match act:
            case Ask():
                return self._answered(judge, step, act, text, sure=sure)
            case Start() if judge.length(act) is None:
                length = CLOCK_LENGTH.read(text)
                self._step_done(judge, step, typed=text, length=length)
                return self._shown(length)
            case Do() | WorkOut() | Gate() | Start() | Wait():
                raise NotNow(phrase("this step asks for nothing"))
            case _:
                assert_never(act)

    def judge(self, key: str, now: datetime) -> str:
        """Answer a hold point that is judged by a named state; returns the state's words."""
        step = self.run.step
        if step is None or not isinstance(step.act, Gate) or not isinstance(step.act.by, ChoiceAnswer):
            raise NotNow(phrase("this step is not judged by a choice"))
        words = step.act.by.choices.get(key)
        if words is None:
            raise EntryError(
                phrase("'{text}' is not one of the answers", key),
                phrase("choose one of: {names}", ", ".join(step.act.by.choices)),
            )
        if key in step.act.go[""]:
            self._step_done(self._judge(now), step, shown=words, typed=key)
        else:
            self._record(Refused(run=self.run.key, place=self.run.place, answer=key, shown=words), now)
        return words

    def override(self, reason: str, now: datetime) -> str:
        """Pass a hold point for a reason, which the log keeps."""
        step, judge = self._at_step(), self._judge(now)
        if step is None or not judge.judge(step.act).is_closed:
            raise NotNow(phrase("this step is no closed hold point"))
        if not reason.strip():
            raise NotNow(phrase("a hold point is passed only with a reason"))
        self._step_done(judge, step, shown=phrase("passed: {reason}", reason), reason=reason)
        return phrase("PASSED")

    def measure_again(self, now: datetime) -> str:
        """Go back to the first answer that a closed hold point was judged by, to measure it again."""
        run, step = self.run, self._at_step()
        names = judged_by(step.act) if step is not None else None
        if step is None or names is None or self._judge(now).judge(step.act).go is not False:
            raise NotNow(phrase("there is nothing to measure again here"))
        place = asked_for(run, names)
        if place is None:
            raise NotNow(phrase("no answer leads to this; take steps back instead"))
        self._record(WentBack(run=run.key, place=run.place, next=place), now)
        return phrase("AGAIN")

    def may_measure_again(self) -> bool:
        """Return whether an answer that the hold point in hand rests on can be measured again."""
        names = judged_by(self.run.step.act) if self.run.step is not None else None
        return names is not None and asked_for(self.run, names) is not None

    def repeat(self, key: str, now: datetime) -> str:
        """At the end of a repeated section: 'again' does it once more than planned, 'enough' stops before the plan is done."""
        run, choice = self.run, turn_choice(self.run)
        repeated = run.recipe.repeated(run.place.section)
        if repeated is None or choice is None or key != choice:
            raise NotNow(phrase("this is not the end of a repeated section"))
        turns, turn = run.turns(run.place.section), run.place.turn
        change = turn + 1 - turns if choice == "again" else turn - turns
        words = phrase(TURN_CHOICES[choice], repeated[1].each)
        self._section_done(now, change, words)
        return words.upper()

    def defer(self, now: datetime) -> str:
        """Leave the step in hand for later; NotNow where it cannot wait."""
        run, step = self.run, self._at_step()
        if step is None or not self._judge(now).may_wait(step):
            raise NotNow(phrase("this step cannot wait"))
        self._advance(LeftForLater(run=run.key, place=run.place, next=run.place, headline=step.headline), now)
        return phrase("FOR LATER")

    def take_up(self, key: str, now: datetime) -> str:
        """At the end of a section or of the recipe: take up a step left for later, of the place `key`; returns its headline."""
        run = self.run
        place = next((place for place in run.for_later if str(place) == key), None)
        if place is None or not isinstance(in_hand(run), AtSectionEnd | AtEnd):
            raise NotNow(phrase("there is no such step to take up here"))
        headline = run.recipe.sections[place.section].steps[place.step].headline
        self._record(TakenUp(run=run.key, place=place, from_=run.place, shown=headline), now)
        return headline

    def drop(self, reason: str, now: datetime) -> str:
        """Mark the step taken up as not applicable, for a reason that the log keeps."""
        run, step = self.run, self.run.step
        if step is None or run.goes_back_to is None:
            raise NotNow(phrase("only a step left for later and taken up again is dropped"))
        if not reason.strip():
            raise NotNow(phrase("a step is dropped only with a reason"))
        dropped = Dropped(run=run.key, place=run.place, next=run.goes_back_to, headline=step.headline, reason=reason)
        self._record(dropped, now)
        return phrase("NOT NEEDED")

    def give_up(self, now: datetime) -> str:
        """End the run on the bench before its end; its clocks go on, and all of it stays in the log."""
        run = self.run
        if run.finished_at is not None:
            raise NotNow(phrase("this run is over already"))
        self._record(given_up(self._judge(now).values), now)
        return phrase("GIVEN UP")

    def acknowledge(self, now: datetime) -> str:
        """Acknowledge the caution on the bench or the most urgent alarm, and nothing else.

        Raises NotNow when there is none, or when the alarm is not in sight long enough for the key to be meant for it.
        """
        if alarm := self.acknowledge_alarm(now):
            return alarm
        run = self.project.run
        if run is not None and isinstance(found := in_hand(run), BeforeCaution):
            signal = found.caution.signal
            self._record(CautionRead(run=run.key, place=run.place, caution=found.number, shown=signal), now)
            return phrase("READ {signal}", phrase(signal))
        raise NotNow(phrase("nothing to acknowledge"))

    # What the methods above are made of

    def _judge(self, now: datetime) -> Judge:
        """Return who decides about the run on the bench."""
        run = self.run
        return Judge(self.project, run, self.shelf, now, Values(run, self.project.system, self._results))

    def _at_step(self) -> Step | None:
        """Return the step in hand whose cautions have been read."""
        found = in_hand(self.run)
        return found.step if isinstance(found, AtStep) else None

    def _answered(self, judge: Judge, step: Step, act: Ask, text: str, *, sure: bool) -> str:
        """Record the answer to a question and return it as it is shown."""
        answer = act.answer
        match answer:
            case ChoiceAnswer():
                option = _chosen(judge.options(answer), text)
                values = {act.into: Held(option.key, option.label)}
                self._step_done(judge, step, values=values, shown=option.label)
                return option.label
            case ShelfAnswer():
                option = _chosen(judge.options(answer), text)
                self._step_done(judge, step, values=material_values(act.into, self.shelf[option.key]), shown=option.label)
                return option.label
            case MeasureAnswer() | CountAnswer():
                value = _read(judge.values.kind(answer), text, self._last_answer(act.into), sure=sure)
                # A count is held as a bare number.
                quantity = value if isinstance(value, Quantity) else Quantity(value, "")
                shown = self._shown(value)
                reading = Reading(value=quantity, shown=shown) if act.is_shop_temperature else None
                self._step_done(judge, step, values={act.into: Held(quantity)}, shown=shown, typed=text, reading=reading)
                return shown
            case _:
                assert_never(answer)

    def _last_answer(self, into: str) -> Quantity | None:
        """Return what was answered last to the question of that name: in this run, else in another of the same recipe."""
        if into in self.run.values:
            return self.run.values[into].quantity
        for key in reversed(self.project.runs):
            run = self.project.runs[key]
            if run.recipe_name == self.run.recipe_name and into in run.values:
                return run.values[into].quantity
        return None

    def _section_done(self, now: datetime, turns: int | None = None, shown: str | None = None) -> None:
        run = self.run
        headline = phrase("Section complete")
        self._advance(SectionDone(run.key, run.place, next=run.place, headline=headline, turns=turns, shown=shown), now)

    def _step_done(
        self,
        judge: Judge,
        step: Step,
        *,
        values: Mapping[str, Held] | None = None,
        shown: str = "",
        typed: str | None = None,
        reason: str | None = None,
        length: Quantity | None = None,
        reading: Reading | None = None,
    ) -> str:
        run = self.run
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
            ends=self._ends(step),
        )
        self._advance(self._with_gain(done, judge, step.act, length), judge.now)
        return phrase("DONE")

    def _with_gain(self, done: StepDone, judge: Judge, act: Act, length: Quantity | None) -> StepDone:
        """Return what is done with what the step itself gives: a result, a verdict, a clock, and what is shown of it."""
        match act:
            case Do() | Ask() | Wait():
                return done
            case WorkOut():
                return _with_result(done, judge, act, judge.judge(act).result)
            case Gate(by=by):
                judged = judge.judge(act)
                if isinstance(by, WorkOut) and judged.result is not None:
                    return _with_result(done, judge, by, judged.result)
                return replace(done, shown=done.shown or judged.verdict)
            case Start():
                clock = self._limit(judge, act, length)
                until = times.wall(judge.now + timedelta(seconds=clock.seconds), judge.now)
                return replace(done, clock=clock, shown=f"{phrase(act.kind)} {until}")
            case _:
                assert_never(act)

    def _ends(self, step: Step) -> tuple[str, ...] | None:
        """Return the keys of the clocks that doing a step ends, None where it ends none."""
        clocks, run = self.project.clocks, self.run
        ends = [key for key in (run.clocks.get(step.ends or ""),) if key and clocks[key].ended_at is None]
        if isinstance(step.act, Wait) and (key := run.clocks.get(step.act.clock)):
            ends.append(key)
        return tuple(ends) or None

    def _limit(self, judge: Judge, act: Start, typed: Quantity | None) -> Limit:
        values = judge.values
        length, to_act = typed or judge.length(act), values.quantity(act.time_to_act, "min")
        assert length is not None
        sheet = values.quantity(act.ages_at, "°C")
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
        )

    def _advance(self, what: StepDone | SectionDone | LeftForLater, now: datetime) -> None:
        """Record that the place is done, with the place that follows as it stands now.

        What follows may hang on what this step gives (an answer, a clock started or ended), so it is looked up in
        the project as it would be with the step done.
        """
        run = self.run
        after = self._after(what, now)
        following, passed = next_place(after.runs[run.key], run.place, after.clocks, now)
        if run.goes_back_to is not None:
            following, passed = run.goes_back_to, []
        if isinstance(what, StepDone) and what.reading is not None:
            what = replace(what, moved=self._moves(after))
        self._record(replace(what, next=following, passed=tuple(passed)), now)


def _with_result(done: StepDone, judge: Judge, act: WorkOut, result: Result | None) -> StepDone:
    """Return what is done with a result, where there is one, and the figures of it that the step shows."""
    if result is None:
        return done
    figures = large(act, judge.values.presented(act, result))
    return replace(done, into=act.into, result=result, shown=done.shown or ", ".join(str(figure.shown) for figure in figures))


def _chosen(options: Sequence[Option], text: str) -> Option:
    """Return the answer of that key or label; EntryError where there is none."""
    option = next((option for option in options if text in (option.key, option.label)), None)
    if option is None:
        names = ", ".join(option.key for option in options)
        raise EntryError(phrase("'{text}' is not one of the answers", text), phrase("choose one of: {names}", names))
    return option


def _read(kind: Measure | Count, text: str, before: Value | None, *, sure: bool) -> Quantity | int:
    """Return the value of an answer; EntryError where it is none, Doubt where it looks odd unless `sure`."""
    value = kind.read(text)
    question = doubt(kind, value, before)
    if question is not None and not sure:
        raise Doubt(question)
    return value
