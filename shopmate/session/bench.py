"""The run on the bench: doing, answering, judging and leaving its steps for later."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime
from typing import assert_never

from shopmate.clock import Clock
from shopmate.errors import EntryError
from shopmate.phrases import phrase
from shopmate.project.events.clocks import Acknowledged
from shopmate.project.events.steps import (
    CautionRead,
    Corrected,
    Dropped,
    LeftForLater,
    Noted,
    Refused,
    SectionDone,
    StepDone,
    TakenUp,
    WentBack,
)
from shopmate.project.events.work import RunBegun, RunFollowed
from shopmate.project.place import Place
from shopmate.project.run import Held
from shopmate.recipe import Ask, ChoiceAnswer, Do, Gate, Start, Step, Wait, WorkOut
from shopmate.records import replace
from shopmate.session.ahead import Ahead, ahead, done_ahead
from shopmate.session.before import worked_through
from shopmate.session.correcting import answered, corrected, to_look_at
from shopmate.session.doing import Doing
from shopmate.session.judging import (
    CLOCK_LENGTH,
    TURN_CHOICES,
    AtEnd,
    AtSectionEnd,
    AtStep,
    BeforeCaution,
    Judge,
    Over,
    asked_at_last_step,
    asked_for,
    clocks_of,
    in_hand,
    judged_by,
    turn_choice,
)
from shopmate.session.recorder import NotNow
from shopmate.session.spilling import pot_in_hand, spilled
from shopmate.session.storekeeper import Storekeeper
from shopmate.session.summary import finished, given_up
from shopmate.session.values import Values
from shopmate.session.view import FinishedView, View, WhereLeft
from shopmate.session.viewer import Viewer

RUNS_ON = (RunBegun, StepDone, SectionDone, LeftForLater, Dropped, Corrected, CautionRead, Acknowledged)
"""Events after which everything that needs no key is recorded too."""


class Bench(Storekeeper):
    """Everything that can be done with the run on the bench."""

    def view(self, now: datetime, at: Place | None = None) -> View:
        """Return what the bench shows now; of several steps done together, the question `at` a place is the one asked."""
        viewer, rows = Viewer(self._judge(now), self._as_usual), self.rows(now)
        if not rows:
            return self._with_shelf(viewer.view())
        asked = [one for one in rows if isinstance(one.step.act, Ask)]
        open_ = (one for one in asked if one.stands == "open")
        return viewer.together(rows, next((one for one in asked if one.place == at), next(open_, None)))

    def _with_shelf(self, view: View) -> View:
        """Return what is shown once a run is over with what of the shelf could not be lowered, before all else that it says."""
        if not isinstance(view, FinishedView) or self.project.run is None:
            return view
        words = self.not_lowered.get(self.project.run.key, ())
        head, *rest = view.frame.detail
        return replace(view, frame=replace(view.frame, detail=(head, *words, *rest)))

    def foresee(self, now: datetime) -> bool:
        """Work out from the usual answers what is not known yet, for the time the run still takes; return whether that is new.

        The interfaces do this when they look at the time, so that no key and no first screen waits for it. Until then the last
        result counts for whatever is still not known.
        """
        run = self.project.run
        if run is None or run.finished_at is not None:
            return False
        asked = (act.into for act in run.recipe.acts if isinstance(act, Ask))
        answers = {**run.offered, **{into: held.text for into in asked if (held := run.values.get(into)) is not None}}
        by = answers, self.project.system, self.shelf
        if self._usual is not None and self._usual[:2] == (run.key, by):
            return False
        draft = worked_through(self.project, run.part, run.recipe, answers, self.shelf, now, self._results)
        self._usual = run.key, by, draft.run.values
        return True

    def where_left(self, since: datetime, now: datetime) -> WhereLeft | None:
        """Return where you were when you stopped at `since`; None at the beginning and end of a run, and without a run."""
        return Viewer(self._judge(now), None).where_left(since) if self.project.run is not None else None

    def was_called_away(self, seen: Clock, now: datetime) -> bool:
        """Return whether a clock's alarm called you away from the current step.

        It did not if the current step is the one the alarm calls for, or while a DO BEFORE clock of this run is short of time:
        the Enter that ends a clock must not count as Enter to continue.
        """
        run = self.project.run
        if run is None:
            return True
        mine = [clock for clock in self.clocks if clock.run == run.key]
        short = any(clock.warns_at is not None and now >= clock.warns_at for clock in mine)
        called_for = run.step is not None and seen.run == run.key and seen.name in clocks_of(run.step)
        return not short and not called_for

    @property
    def waited_for(self) -> str:
        """The key of the clock that the step in hand waits for, '' where it waits for none."""
        run = self.project.run
        step = run.step if run is not None else None
        if run is None or step is None or not isinstance(step.act, Wait):
            return ""
        name = step.act.clock
        return next((clock.key for clock in self.clocks if clock.run == run.key and clock.name == name), "")

    def pick(self, key: str, now: datetime) -> str:
        """Do what `key` stands for in the view: answer, judge, repeat the section, or take up a step left for later."""
        found = in_hand(self.run)
        match found:
            case AtSectionEnd():
                return self.repeat(key, now) if key == turn_choice(self.run) else self.take_up(key, now)
            case AtEnd():
                return self.take_up(key, now)
            case AtStep() if key == turn_choice(self.run):
                return self.repeat(key, now)
            case AtStep() if key == "again":
                return self._done_and_again(now)
            case AtStep(step) if isinstance(step.act, Gate):
                return self.judge(key, now)
            case AtStep() | BeforeCaution() | Over():
                return self.answer(key, now)
            case _:
                assert_never(found)

    def done(self, now: datetime) -> str:
        """Do what Enter does here and return what was done, in a word or two; NotNow if Enter does nothing here."""
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
                self._end(finished(self._judge(now).values, now), now)
                return phrase("FINISHED")
            case AtSectionEnd():
                self._section_done(now)
                return phrase("SECTION DONE")
            case BeforeCaution():
                raise NotNow(phrase("read the caution, then press *"))
            case AtStep(step):
                if rows := self.rows(now):
                    return self._together(rows, now)
                judge = self._judge(now)
                if why := judge.bars(step.act):
                    raise NotNow(why)
                doing = Doing(judge, self._next_number)
                self._step_done(doing, doing.done())
                return phrase("DONE")
            case _:
                assert_never(found)

    def answer(self, text: str, now: datetime, *, sure: bool = False, at: Place | None = None, is_offered: bool = False) -> str:
        """Answer a question with a typed text or the key of a choice, and return what was recorded.

        `at` is the place of one of several questions asked together; without it, the current one. An answer taken as it
        `is_offered` is no new reading. Raises EntryError for a text that is no answer, Doubt for one that looks odd
        unless `sure`.
        """
        doing = self._asked_at(at, now)
        act = doing.step.act
        match act:
            case Ask():
                done = doing.answered(act, text, sure=sure, is_offered=is_offered)
                self._step_done(doing, done)
                return done.shown
            case Start() if doing.judge.length(act) is None:
                length = CLOCK_LENGTH.read(text)
                self._step_done(doing, doing.done(typed=text, length=length))
                return self._shown(length)
            case Do() | WorkOut() | Gate() | Start() | Wait():
                raise NotNow(phrase("this step needs no entry"))
            case _:
                assert_never(act)

    def rows(self, now: datetime) -> tuple[Ahead, ...]:
        """Return the steps done together here, including those answered out of turn; none if there is only one."""
        judge = self._judge(now)
        if not isinstance(in_hand(judge.run), AtStep) or judge.run.goes_back_to is not None:
            return ()
        coming, done = list(ahead(judge, self._next_number)), list(done_ahead(judge))
        if coming and coming[0].stands == "closed":
            return ()  # a closed hold point in hand is shown alone: only so it can be measured again or overridden
        if sum(one.stands in ("item", "offered", "open") for one in coming) < 2 and not done:
            return ()
        return tuple(sorted((*coming, *done), key=lambda one: one.place))

    def _together(self, rows: Sequence[Ahead], now: datetime) -> str:
        """Record the listed steps as done, with the answers offered, up to one that has to be answered or stays shut."""
        if any(one.stands == "open" for one in rows):
            raise NotNow(phrase("this step asks for an answer; choose or type it"))
        places = {one.place for one in rows if one.is_numbered}
        while (found := next(ahead(self._judge(now), self._next_number), None)) is not None:
            if found.stands == "passes" or (found.stands in ("item", "offered") and found.place in places):
                self._record(replace(found.event, by_itself=found.stands == "passes" or None), now)
            else:
                break
        self._run_on(now)
        return phrase("DONE")

    def _asked_at(self, at: Place | None, now: datetime) -> Doing:
        """Return what answers a question: the current one, or one of several asked together."""
        row = self._row(at, now)
        if row is not None:
            return self._out_of_turn(row)
        if self._at_step() is None or at not in (None, self.run.place):
            raise NotNow(phrase("this step needs no entry"))
        return Doing(self._judge(now), self._next_number)

    def _row(self, at: Place | None, now: datetime) -> Ahead | None:
        """Return the one `at` a place among several steps done together; None for the current step, or if there is none."""
        if at is None or at == self.run.place:
            return None
        return next((one for one in self.rows(now) if one.place == at), None)

    def _out_of_turn(self, row: Ahead) -> Doing:
        """Return what does one of several steps while the run stays at its place."""
        return Doing(replace(row.judge, project=self.project), self._next_number, stays_at=self.run.place)

    def judge(self, key: str, now: datetime) -> str:
        """Answer a hold point that you judge by choosing a state; return the words of the state."""
        step = self.run.step
        if step is None or not isinstance(step.act, Gate) or not isinstance(step.act.by, ChoiceAnswer):
            raise NotNow(phrase("this step has no answers to choose from"))
        words = self._judge(now).values.choices(step.act.by).get(key)
        if words is None:
            raise EntryError(
                phrase("'{text}' is not one of the answers", key),
                phrase("choose one of: {names}", ", ".join(step.act.by.choices)),
            )
        if key in step.act.go[""]:
            doing = Doing(self._judge(now), self._next_number)
            self._step_done(doing, doing.done(shown=words, typed=key))
        else:
            self._record(Refused(run=self.run.key, place=self.run.place, answer=key, shown=words), now)
        return words

    def override(self, reason: str, now: datetime) -> str:
        """Override a hold point with a reason, which the log keeps."""
        step, judge = self._at_step(), self._judge(now)
        if step is None or not judge.judge(step.act).is_closed:
            raise NotNow(phrase("only a hold point that says NO GO can be overridden"))
        if not reason.strip():
            raise NotNow(phrase("overriding a hold point needs a reason"))
        doing = Doing(judge, self._next_number)
        self._step_done(doing, doing.done(shown=phrase("overridden: {reason}", reason), reason=reason))
        return phrase("OVERRIDDEN")

    def measure_again(self, now: datetime) -> str:
        """Go back to the first answer that a shut hold point depends on, to measure it again."""
        run, step = self.run, self._at_step()
        names = judged_by(step.act) if step is not None else None
        if step is None or names is None or self._judge(now).judge(step.act).go is not False:
            raise NotNow(phrase("there is nothing to measure again here"))
        place = asked_for(run, names)
        if place is None:
            raise NotNow(phrase("not measured in this run; undo steps with - instead"))
        self._record(WentBack(run=run.key, place=run.place, next=place), now)
        return phrase("AGAIN")

    def may_measure_again(self) -> bool:
        """Return whether an answer that the current hold point depends on can be measured again."""
        names = judged_by(self.run.step.act) if self.run.step is not None else None
        return names is not None and asked_for(self.run, names) is not None

    def _done_and_again(self, now: datetime) -> str:
        """Do the last step of the last turn and repeat the section once more than planned; NotNow elsewhere."""
        doing = Doing(self._judge(now), self._next_number)
        if not isinstance(doing.step.act, Do) or not doing.ends_turns:
            raise NotNow(phrase("nothing repeats at this step, so no round to add or drop"))
        self._record(doing.done(), now)
        return self.repeat("again", now)

    def given(self, now: datetime) -> list[tuple[Place, Step, Judge]]:
        """Return the answers given in the run, the last one first, each with its step and the judge at its place."""
        judge, run = self._judge(now), self.run
        return [(place, step, judge.at(place)) for place in answered(run) if (step := run.step_at(place)) is not None]

    def correct(self, place: Place, text: str, now: datetime, *, sure: bool = False) -> list[str]:
        """Correct an answer in place, work out again what depends on it, and return what to check.

        Nothing done since is undone. Raises EntryError for a text that is no answer, Doubt for one that looks odd
        unless `sure`.
        """
        judge = self._judge(now)
        correction = corrected(judge, self._next_number, place, text, sure=sure)
        told = to_look_at(correction, judge)
        self._record(correction, now)
        self._run_on(now)
        return told

    def note(self, text: str, photo: str, now: datetime) -> str:
        """Add a note to the current step, with the file name of a photo or ''; return what was noted."""
        if not (text or photo):
            raise NotNow(phrase("the note is empty; type some words"))
        self._record(Noted(run=self.run.key, place=self.run.place, text=text, photo=photo), now)
        return phrase("NOTED")

    def repeat(self, key: str, now: datetime) -> str:
        """Repeat a section once more than planned ('again', at its end), or stop repeating ('enough', at the start of a turn)."""
        run, choice = self.run, turn_choice(self.run)
        if choice is None or key != choice:
            raise NotNow(phrase("nothing repeats at this step, so no round to add or drop"))
        repeated = run.recipe.repeated(run.place.section)
        assert repeated is not None
        turns, turn = run.turns(run.place.section), run.place.turn
        words = phrase(TURN_CHOICES[choice], repeated[1].each)
        if choice == "again":
            self._section_done(now, turn + 1 - turns, words)
        else:
            last = repeated[0][-1]
            self._section_done(now, turn - 1 - turns, words, Place(last, turn - 1, len(run.recipe.sections[last].steps)))
        return words.upper()

    def spill(self, now: datetime) -> str:
        """Record that the current pot was spilled: its clock ends, and what was in it is planned again."""
        judge = self._judge(now)
        pot = pot_in_hand(judge.run, judge.project)
        if pot is None:
            raise NotNow(phrase("no pot is being used now"))
        self._record(spilled(judge, self._next_number, pot), now)
        self._run_on(now)
        return phrase("SPILLED")

    def defer(self, now: datetime, at: Place | None = None) -> str:
        """Leave a step for later: the current one, or the item `at` a place in a list; NotNow if it cannot wait."""
        judge, row = self._judge(now), self._row(at, now)
        doing = Doing(judge, self._next_number)
        step = self._at_step() if at in (None, judge.run.place) else None
        if row is not None and row.stands == "item":
            doing, step = self._out_of_turn(row), row.step
        if step is None or not judge.may_wait(step):
            raise NotNow(phrase("this step cannot wait"))
        place = doing.judge.run.place
        left = LeftForLater(run=judge.run.key, place=place, next=place, headline=step.headline)
        self._record(doing.onward(left), now)
        self._run_on(now)
        return phrase("FOR LATER")

    def take_up(self, key: str, now: datetime) -> str:
        """At the end of a section or of the recipe, take up the step left for later at the place `key`; return its headline."""
        run = self.run
        place = next((place for place in run.for_later if str(place) == key), None)
        if place is None or not isinstance(in_hand(run), AtSectionEnd | AtEnd):
            raise NotNow(phrase("there is no such step left for later"))
        headline = run.headline_at(place)
        self._record(TakenUp(run=run.key, place=place, from_=run.place, shown=headline), now)
        return headline

    def drop(self, reason: str, now: datetime) -> str:
        """Mark the step taken up as not needed, with a reason that the log keeps."""
        run, step = self.run, self.run.step
        if step is None or run.goes_back_to is None:
            raise NotNow(phrase("only a step left for later can be marked not needed"))
        if not reason.strip():
            raise NotNow(phrase("say why the step is not needed"))
        dropped = Dropped(run=run.key, place=run.place, next=run.goes_back_to, headline=step.headline, reason=reason)
        self._record(dropped, now)
        self._run_on(now)
        return phrase("NOT NEEDED")

    def may_follow_by_section(self) -> bool:
        """Return whether this recipe was once followed to its end, so that its steps need not be shown one by one."""
        run = self.run
        before = (self.project.runs[key] for key in self.project.runs if key != run.key)
        return any(one.recipe_name == run.recipe_name and one.finished_at is not None and not one.given_up for one in before)

    def follow_run(self, now: datetime, *, by_section: bool) -> str:
        """Follow the run by section, or step by step; NotNow if its recipe was never followed to the end."""
        if by_section and not self.may_follow_by_section():
            raise NotNow(phrase("the first time, follow a recipe step by step"))
        self._record(RunFollowed(run=self.run.key, by_section=by_section), now)
        return phrase("BY SECTION") if by_section else phrase("STEP BY STEP")

    def give_up(self, now: datetime) -> str:
        """Give up the run on the bench; its clocks keep running, and everything stays in the log."""
        run = self.run
        if run.finished_at is not None:
            raise NotNow(phrase("this run is already over"))
        self._end(given_up(self._judge(now).values), now)
        return phrase("GIVEN UP")

    def acknowledge(self, now: datetime) -> str:
        """Acknowledge the caution on the bench or the most urgent alarm, and nothing else.

        Raises NotNow if there is none, or if the alarm came up too recently for the key to be meant for it.
        """
        run = self.project.run
        if alarm := self.acknowledge_alarm(now):
            if run is not None:
                self._run_on(now)  # past a wait for the clock that has rung
            return alarm
        if run is not None and isinstance(found := in_hand(run), BeforeCaution):
            signal, text = found.caution.signal, self._judge(now).values.fill(found.caution.text)
            self._record(CautionRead(run=run.key, place=run.place, caution=found.number, shown=signal, text=text), now)
            self._run_on(now)
            return phrase("READ {signal}", phrase(signal))
        raise NotNow(phrase("nothing to acknowledge"))

    # What the methods above are made of

    @property
    def _as_usual(self) -> Mapping[str, Held] | None:
        """The values of the run on the bench with the usual answers filled in, None until they are worked out."""
        return self._usual[2] if self._usual is not None and self._usual[0] == self.project.current else None

    def _judge(self, now: datetime) -> Judge:
        """Return the judge of the run on the bench."""
        run = self.run
        return Judge(self.project, run, self.shelf, now, Values(run, self.project.system, self._results))

    def _at_step(self) -> Step | None:
        """Return the current step if its cautions have been read."""
        found = in_hand(self.run)
        return found.step if isinstance(found, AtStep) else None

    def _step_done(self, doing: Doing, done: StepDone) -> None:
        """Record a step as done, and everything after it that needs no key."""
        self._record(done, doing.judge.now)
        self._run_on(doing.judge.now)

    def _run_on(self, now: datetime) -> None:
        """Record everything that needs no decision: figures worked out, hold points that open, ends of sections."""
        while (what := self._by_itself(now)) is not None:
            self._record(replace(what, by_itself=True), now)

    def _by_itself(self, now: datetime) -> StepDone | SectionDone | None:
        """Return the event that needs no key at the place of the run; None if you have to decide, read or do something."""
        judge = self._judge(now)
        match in_hand(judge.run):
            case AtStep():
                found = next(ahead(judge, self._next_number), None)
                return found.event if found is not None and found.stands == "passes" else None
            case AtSectionEnd():
                is_asked = turn_choice(judge.run) == "again" and not asked_at_last_step(judge.run)
                is_open = is_asked or judge.run.for_later
                return None if is_open else self._section_end(judge)
            case AtEnd() | BeforeCaution() | Over():
                return None

    def _section_end(self, judge: Judge, turns: int | None = None, shown: str | None = None) -> SectionDone:
        """Return the end of a section, with how many more or fewer turns there will be than planned."""
        run = judge.run
        end = SectionDone(run.key, run.place, next=run.place, headline=phrase("Section complete"), turns=turns, shown=shown)
        return Doing(judge, self._next_number).onward(end)

    def _section_done(self, now: datetime, turns: int | None = None, shown: str | None = None, at: Place | None = None) -> None:
        """Record the end of a section: of the current turn, or of the turn before, `at` its place."""
        self._record(self._section_end(self._judge(now).at(at or self.run.place), turns, shown), now)
        self._run_on(now)
