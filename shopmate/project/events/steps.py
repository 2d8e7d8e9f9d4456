"""What happens at the steps of a run."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from itertools import dropwhile
from typing import TYPE_CHECKING

from shopmate.project.events.clocks import Limit, Reading, end
from shopmate.project.events.event import Happened, Move, OfRun, Recorded, Said
from shopmate.project.place import Mark, Place
from shopmate.project.pots import empty, pour
from shopmate.project.project import Known, Project, fact_key
from shopmate.project.run import Held, OldAnswer, Run, Spilled, caution_key, last_of_turns
from shopmate.records import dataclass, replace
from shopmate.result import Result
from shopmate.units import Quantity, total

if TYPE_CHECKING:
    from shopmate.recipe import Ask


@dataclass(frozen=True)
class AtPlace(OfRun):
    """What an event at a place of a run carries."""

    place: Place


@dataclass(frozen=True)
class Onward(AtPlace):
    """What an event carries with which the run leaves a place for the one that follows."""

    next: Place
    passed: tuple[Place, ...] = ()
    """Steps passed over, since they do not apply."""
    headline: str = ""
    by_itself: bool | None = None
    """True where nothing was left to decide, so that no key was asked for."""

    @property
    def was_by_itself(self) -> bool:
        """Whether it followed without a key."""
        return bool(self.by_itself)

    def move(self, run: Run, event: Recorded) -> None:
        """Bring the run to the next place."""
        for place in self.passed:
            run.marks[place] = Mark(event.at, "not applicable")
        _go(run, self.next, event)


def _go(run: Run, place: Place, event: Recorded) -> None:
    run.place, run.goes_back_to, run.touched_at = place, None, event.at


@dataclass(frozen=True)
class Remembered:
    """What an answer tells beyond its run."""

    name: str
    """A kind of reading, or the name of the value."""
    of: str
    """What it is of, as `Project.fact` names it."""

    def take(self, project: Project, held: Held, at: datetime) -> None:
        """Take it into a project in place of what was known before."""
        project.facts[fact_key(self.name, self.of)] = Known(held, at)


@dataclass(frozen=True)
class StepDone(Onward, Happened, kind="done", undoable=True, leaves_step=True):
    """A step was done, with what it answered, worked out, started and ended."""

    shown: str = ""
    """Value, verdict or time recorded with it."""
    typed: str | None = None
    """The answer as it was typed."""
    reason: str | None = None
    """Why a closed hold point was passed."""
    values: Mapping[str, Held] | None = None
    """What was answered, by name."""
    into: str | None = None
    """Name under which the result's outputs are known."""
    result: Result | None = None
    reading: Reading | None = None
    """The answer as a reading of the shop temperature."""
    remembered: Remembered | None = None
    """As what the answer is known beyond the run."""
    read_at: datetime | None = None
    """When a reading was measured that was taken back and then taken as it was; None for one measured now."""
    moved: tuple[Move, ...] | None = None
    clock: Limit | None = None
    """The clock that was started."""
    ends: tuple[str, ...] | None = None
    """Keys of the clocks that it ended."""

    def fold(self, project: Project, event: Recorded) -> None:
        run = project.changing(self.run)
        if self.values is not None:
            self._answer(project, run, self.values)
            run.taken_back.pop(self.place, None)
        if self.into is not None and self.result is not None:
            run.values.update(worked_out(self.into, self.result))
            if not self.was_by_itself:
                run.warned.update(dict.fromkeys((*self.result.doubts, *self.result.cautions), event.at))
            _replan(run, self.place, self.into)
        if self.reading is not None:
            self.reading.take(project, event.at, self.read_at)
        if self.remembered is not None:
            self.remembered.take(project, next(iter((self.values or {}).values())), self.read_at or event.at)
        late = None
        for key in self.ends or ():
            ended = end(project, key, event.at)
            if ended is not None:
                if self.clock is not None and self.clock.kind == "DO BEFORE":
                    project.poured_out[event.key] = key
                else:
                    empty(project, run, ended)
                late = ended.late or late
        if self.clock is not None:
            self._start(project, run, self.clock, event)
        run.marks[self.place] = Mark(event.at, "done", self.shown, late.total_seconds() if late is not None else None)
        if self.reason is not None:
            run.overrides[self.place] = self.reason
        self.move(run, event)

    def leave(self, project: Project, event: Recorded) -> None:
        """Leave the answer, to be offered where it is asked for again."""
        if self.values and self.run in project.runs:
            is_new = self.remembered is not None or self.reading is not None
            old = OldAnswer(next(iter(self.values.values())), self.read_at or event.at, is_new)
            project.changing(self.run).taken_back[self.place] = old

    def _answer(self, project: Project, run: Run, values: Mapping[str, Held]) -> None:
        ask = None
        if run.may_have("adds_to") or run.may_have("pace_of"):
            ask = run.recipe.question(self.place.section, self.place.step)
        for name, held in values.items():
            run.values[name] = held
            pour(project, run, name, is_sum=ask is not None and ask.adds_to is not None)
        if ask is not None:
            _add(run, self.place, ask)

    def _start(self, project: Project, run: Run, limit: Limit, event: Recorded) -> None:
        before = run.clocks.get(limit.name)
        if before is not None and project.clocks[before].ended_at is None:
            end(project, before, event.at)  # the one started anew takes its place
        limit.begin(project, event, run.key)
        run.clocks[limit.name] = event.key

    def said(self) -> Said:
        return Said(
            self.headline or self.kind,
            self.shown,
            self.headline,
            self.place,
            moved=self.moved or (),
            typed=self.typed or "",
            reason=self.reason or "",
        )


def worked_out(into: str, result: Result) -> dict[str, Held]:
    """Return the values that a calculator's result becomes."""
    return {
        f"{into}.{name}": Held(value, output_of=(result.calculator, name))
        for name, value in result.outputs.items()
        if value is not None
    }


def reworked(values: Mapping[str, Held], into: str, result: Result) -> dict[str, Held]:
    """Return values with those of a result in place of what it gave before, of which some may not come again."""
    kept = {name: held for name, held in values.items() if name.partition(".")[0] != into}
    return {**kept, **worked_out(into, result)}


def _replan(run: Run, place: Place, into: str) -> None:
    """Let a plan made anew within the turns it counts stand in place of turns added or left off before.

    It never counts fewer turns than there have been.
    """
    found = run.recipe.repeated(place.section) if run.may_have("repeat") else None
    if found is None:
        return
    together, repeat = found
    if any(name.partition(".")[0] == into for name in repeat.times.references):
        run.extra_turns[together.start] = max(0, place.turn - run.planned(repeat))


def _add(run: Run, place: Place, ask: Ask) -> None:
    """Add the answer just given to its sum; given anew at the same place it takes its own place in it."""
    if ask.pace_of is not None:
        run.paced.pop(ask.pace_of, None)  # typed after all, so no longer the middle pot's
    quantity = run.values[ask.into].quantity if ask.into in run.values else None
    if ask.adds_to is not None and quantity is not None:
        _sum(run, ask.adds_to, {**run.added.get(ask.adds_to, {}), place: quantity})


def _sum(run: Run, name: str, added: Mapping[Place, Quantity]) -> None:
    """Hold the sum of what was added under a name, of each turn the last, in the unit of the first; of nothing, no sum."""
    run.added[name] = added
    if not added:
        run.values.pop(name, None)
        return
    run.values[name] = Held(total(last_of_turns(added)))


@dataclass(frozen=True)
class Again:
    """A step that was worked out, or judged, once more after an answer before it was corrected."""

    place: Place
    headline: str
    was: str
    """What was recorded with it before."""
    shown: str
    into: str
    """Name under which the result's outputs are known."""
    result: Result


@dataclass(frozen=True)
class Corrected(AtPlace, Happened, kind="corrected", undoable=True, leaves_step=False):
    """An answer given before was corrected where it stands, and what rests on it was worked out again."""

    headline: str
    was: str
    """What was recorded with it before."""
    shown: str
    values: Mapping[str, Held]
    typed: str | None = None
    again: tuple[Again, ...] = ()
    remembered: Remembered | None = None
    """As what the answer is known beyond the run."""
    reading: Reading | None = None
    """The answer as a reading of the shop temperature."""
    moved: tuple[Move, ...] | None = None

    def fold(self, project: Project, event: Recorded) -> None:
        run = project.changing(self.run)
        run.values.update(self.values)
        if self.remembered is not None:
            self.remembered.take(project, next(iter(self.values.values())), event.at)
        if self.reading is not None:
            self.reading.take(project, event.at)
        if self.place in run.marks:
            run.marks[self.place] = replace(run.marks[self.place], shown=self.shown)
        for one in self.again:
            run.values = reworked(run.values, one.into, one.result)
            if one.place in run.marks:
                run.marks[one.place] = replace(run.marks[one.place], shown=one.shown)
        run.touched_at = event.at

    def said(self) -> Said:
        told = f"{self.was} → {self.shown}"
        changed = [f"{one.headline}: {one.was} → {one.shown}" for one in self.again if one.was != one.shown]
        return Said(
            f"Corrected: {self.headline}",
            "; ".join((told, *changed)),
            self.headline,
            self.place,
            self.moved or (),
            typed=self.typed or "",
        )


@dataclass(frozen=True)
class Noted(AtPlace, Happened, kind="note", undoable=True, leaves_step=False):
    """A note was put to a step, and the name of a photo's file."""

    text: str
    photo: str = ""

    @property
    def words(self) -> str:
        """What was noted, with the name of the photo's file."""
        return " · ".join(filter(None, (self.text, self.photo)))

    def fold(self, project: Project, event: Recorded) -> None:
        run = project.changing(self.run)
        run.notes[self.place] = (*run.notes.get(self.place, ()), self.words)
        run.touched_at = event.at

    def said(self) -> Said:
        return Said("Note", self.words, place=self.place)


@dataclass(frozen=True)
class CautionRead(AtPlace, Happened, kind="seen", undoable=True, leaves_step=False):
    """A caution was acknowledged."""

    caution: int
    """Number of the caution among those of its step, from 0."""
    shown: str
    """Its signal word."""
    text: str | None = None
    """What it warns of; logs from before it was recorded have the signal word alone."""

    def fold(self, project: Project, event: Recorded) -> None:
        run = project.changing(self.run)
        run.seen[caution_key(self.place, self.caution)] = event.at
        run.touched_at = event.at

    def said(self) -> Said:
        read = f"Read {self.shown}: {self.text}" if self.text else f"Read {self.shown}"
        return Said(read, self.shown, place=self.place)


@dataclass(frozen=True)
class SectionDone(Onward, Happened, kind="section", undoable=True, leaves_step=True):
    """The end of a section was confirmed."""

    turns: int | None = None
    """How many times more, or fewer, than planned it is done."""
    shown: str | None = None
    """The words of that."""

    def fold(self, project: Project, event: Recorded) -> None:
        run = project.changing(self.run)
        found = run.recipe.repeated(self.place.section) if self.turns else None
        if self.turns and found is not None:
            first = found[0].start
            run.extra_turns[first] = run.extra_turns.get(first, 0) + self.turns
        run.marks[self.place] = Mark(event.at, "done", self.shown or "")
        self.move(run, event)

    def said(self) -> Said:
        return Said(self.headline or self.kind, self.shown or "", self.headline, self.place)


@dataclass(frozen=True)
class PotSpilled(SectionDone, kind="spilled", undoable=True, leaves_step=True):
    """A pot was spilled: its turn is over, and what was in it is to be mixed once more."""

    clock: str = ""
    """Key of the clock of its life, which ends with it; it is no pot of the user's own pace."""
    of: str = ""
    """Name of the sum that does not count what was in it."""
    amount: Quantity | None = None
    """What was weighed into it."""

    def fold(self, project: Project, event: Recorded) -> None:
        run = project.changing(self.run)
        end(project, self.clock, event.at)
        project.pouring.pop(self.clock, None)
        _sum(run, self.of, {at: mass for at, mass in run.added.get(self.of, {}).items() if at.turn != self.place.turn})
        if self.amount is not None:
            run.spilled[self.next] = Spilled(self.of, self.amount)
        super().fold(project, event)


@dataclass(frozen=True)
class WentBack(AtPlace, Happened, kind="again", undoable=True, leaves_step=True):
    """The run went back to the first answer that a closed hold point was judged by, to measure again."""

    next: Place

    def fold(self, project: Project, event: Recorded) -> None:
        run = project.changing(self.run)
        # Marks stand in the order they were made, which is not that of the file where several sections make one turn.
        for place in list(dropwhile(lambda place: place != self.next, run.marks)):
            del run.marks[place]
            run.overrides.pop(place, None)
            for name, added in run.added.items():
                if place in added:
                    _sum(run, name, {at: quantity for at, quantity in added.items() if at != place})
        run.marks[self.next] = Mark(event.at, "again")
        _go(run, self.next, event)

    def said(self) -> Said:
        return Said("Went back to measure again", place=self.place)


@dataclass(frozen=True)
class Refused(AtPlace, Happened, kind="refused", undoable=True, leaves_step=False):
    """A hold point was answered with a state that does not pass."""

    answer: str
    shown: str

    def fold(self, project: Project, event: Recorded) -> None:
        run = project.changing(self.run)
        run.refused[self.place] = self.answer
        run.touched_at = event.at

    def said(self) -> Said:
        return Said("No go", self.shown, place=self.place)


@dataclass(frozen=True)
class LeftForLater(Onward, Happened, kind="deferred", undoable=True, leaves_step=True):
    """A step was left for later."""

    def fold(self, project: Project, event: Recorded) -> None:
        run = project.changing(self.run)
        run.marks[self.place] = Mark(event.at, "for later")
        run.seen = {
            key: at for key, at in run.seen.items() if key.split()[0] != str(self.place)
        }  # what it warns of is read anew when it is taken up
        self.move(run, event)

    def said(self) -> Said:
        return Said(f"Left for later: {self.headline}", headline=self.headline, place=self.place)


@dataclass(frozen=True)
class TakenUp(AtPlace, Happened, kind="taken up", undoable=True, leaves_step=True):
    """A step left for later was taken up."""

    from_: Place
    """Where the run continues once it is done."""
    shown: str
    """Its headline."""

    def fold(self, project: Project, event: Recorded) -> None:
        run = project.changing(self.run)
        run.place, run.goes_back_to, run.touched_at = self.place, self.from_, event.at

    def said(self) -> Said:
        return Said(f"Took up: {self.shown}", self.shown, place=self.place)


@dataclass(frozen=True)
class Dropped(AtPlace, Happened, kind="dropped", undoable=True, leaves_step=True):
    """A step left for later and taken up was not done after all."""

    next: Place
    headline: str
    reason: str

    def fold(self, project: Project, event: Recorded) -> None:
        run = project.changing(self.run)
        run.marks[self.place] = Mark(event.at, "not applicable", self.reason)
        _go(run, self.next, event)

    def said(self) -> Said:
        return Said(f"Not applicable: {self.headline}", headline=self.headline, place=self.place, reason=self.reason)
