"""An open project file: recording events in it, and the project that results."""

from __future__ import annotations

from collections.abc import Mapping
from contextlib import suppress
from datetime import datetime, timedelta
from pathlib import Path

from shopmate import units
from shopmate.calculator import Value
from shopmate.errors import LogError, ShopmateError
from shopmate.lock import Lock
from shopmate.log import Log
from shopmate.phrases import phrase
from shopmate.project import events
from shopmate.project.backups import save
from shopmate.project.damage import trouble
from shopmate.project.events import Happened, Recorded
from shopmate.project.events.clocks import Acknowledged, AlarmBack, AlarmRaised, ClockEnded, PutOff, TemperatureRead
from shopmate.project.events.steps import AtPlace
from shopmate.project.events.work import TakenBack, WallClockSet
from shopmate.project.fold import advance
from shopmate.project.history import History
from shopmate.project.place import Place
from shopmate.project.project import Project
from shopmate.project.run import Held, Run
from shopmate.recipe import Material
from shopmate.session.values import Results
from shopmate.units import Quantity

TAKEN_ASIDE = (AlarmRaised, AlarmBack, Acknowledged, PutOff, WallClockSet)
"""What happens to alarms and to the computer's clock: even if it cannot be written, it counts for now."""

_OF_CLOCKS: Mapping[type[Happened], str] = {
    ClockEnded: "{clock} ended",
    Acknowledged: "{clock} seen",
    PutOff: "{clock} snoozed",
}
"""What was done about a clock, in words, for undoing it."""

_AGAIN = timedelta(seconds=5)
"""How often to try again to write to a file."""


class NotNow(ShopmateError):
    """What you asked for can't be done at this place; the text says why, and what can."""


class Recorder:
    """The log of a project and the project built from it. Every method that changes it records the change before it returns."""

    def __init__(
        self,
        log: Log,
        materials: Mapping[str, Material],
        lock: Lock | None = None,
        *,
        read_only: bool = False,
        trouble: str = "",
        shelf_trouble: str = "",
    ) -> None:
        """Work on an open log with the materials of a shelf, or with `read_only` only show it while another program works on it.

        `lock` is the lock of the project: held by this program, or taken as soon as the other one releases it. `trouble` says
        why the file cannot be written, `shelf_trouble` why your own shelf cannot be read.
        """
        self.log = log
        self.shelf = materials
        self.other_works = read_only
        """Whether another program works on the project; then that one records and sounds the alarms."""
        self.other_stands_still = False
        """Whether that program has shown no sign of life for a while; then the alarms sound here."""
        self.trouble = trouble
        """Why the file cannot be written for now; '' if it can."""
        self.shelf_trouble = shelf_trouble
        self._lock = lock
        self._tried_at: datetime | None = None
        """When writing to the file was last tried again."""
        self._aside: list[tuple[Happened, datetime]] = []
        """What happened to alarms while the file could not be written; it is not in the project on disk."""
        self._copied: Path | None = None
        """Where the whole log was saved when the file was found removed or replaced."""
        try:
            self._history = History(log)
            self._typing = {} if read_only else log.typing()
        except LogError:
            log.close()
            raise
        self._results: Results = {}
        self._usual: tuple[str, object, Mapping[str, Held]] | None = None
        """Key of a run, what its values were worked out from, and its values with the usual answers; None until that is done."""
        self.project = self._history.project
        self.damage = ""
        """What is damaged or unreadable in the file, and what helps; '' if nothing is."""
        self._look_for_damage()
        self.left_at: datetime | None = None
        """When the last thing was done before the project was opened; None for a new project."""

    def close(self) -> None:
        """Close the project file and let another program write to it."""
        self.keep_checkpoint()
        self.log.close()
        if self._lock is not None:
            self._lock.release()

    def keep_checkpoint(self, *, only_if_due: bool = False) -> None:
        """Save the project built from the events, so that the next start need not read them all; skip it if the disk is full."""
        if not self.read_only:
            with suppress(LogError):
                self._history.keep(only_if_due=only_if_due)

    def prove(self) -> None:
        """Check some of the events that were not read at the start; if one is damaged, nothing more is recorded."""
        if not self.read_only:
            try:
                self._history.prove()
            except LogError as error:
                self.trouble = str(error)
                return
            if self.log.damages:
                self.project = self._history.project
                self._look_for_damage()

    # Why nothing is recorded

    @property
    def read_only(self) -> bool:
        """Whether nothing is recorded here."""
        return bool(self.other_works or self.damage or self.trouble or self.shelf_trouble)

    @property
    def rings(self) -> bool:
        """Whether alarms sound here: even if nothing can be recorded, unless another running program sounds them."""
        return not self.other_works or self.other_stands_still

    @property
    def why_read_only(self) -> str:
        """Why nothing is recorded, and what helps; '' if recording works."""
        if self.other_works:
            if self.other_stands_still:
                words = "READ ONLY: the other window has frozen, so alarms sound here; nothing is recorded. Close that window"
                return phrase(words)
            return phrase("READ ONLY: another window has this project open; work there, or close it")
        why = self.damage or self.trouble or self.shelf_trouble
        return phrase("READ ONLY: {why}", why) if why else ""

    def follow(self, now: datetime) -> None:
        """If nothing is recorded here, read what another program recorded, and see whether recording works again.

        If something is damaged or cannot be read, this program does not take over; if that is the file itself, it stops reading.
        """
        if self.damage:
            return
        if self.shelf_trouble:
            with suppress(LogError):  # as when the other program writes just then: the next look takes it in
                self._take_in()
            return
        if self.trouble:
            self._try_again(now)
            return
        stood, self.other_stands_still = self.other_stands_still, self._lock is not None and self._lock.stands_still(now)
        if self._lock is not None and self._lock.take():
            self._tried_at = now
            self._open_to_write()
            return
        if stood and not self.other_stands_still:
            self._drop_aside()
        try:
            self._take_in()
        except LogError:
            if not self.rings:  # where alarms sound here they do so though the file cannot be read
                raise

    def _take_in(self) -> None:
        """Read what is in the file but not yet in the project."""
        recorded = self._history.unread()
        if recorded:
            self._drop_aside()
        for event in recorded:
            self._take(event)
        self._look_for_damage()

    def _open_to_write(self) -> None:
        """Open the file for writing and record what was set aside; if that fails, say why and change nothing."""
        if self.log.read_only:
            try:
                reader, self.log = self.log, Log(self.log.path)
            except LogError as error:
                self.other_works, self.trouble = False, str(error)
                return
            reader.close()
            self._history.log = self.log
        self.other_works, self.other_stands_still = False, False
        try:
            self._take_in()
            if self.trouble and not self.damage:
                self.log.prove_room()
            self._typing = self.log.typing()
        except LogError as error:
            self.trouble = str(error)
            return
        self.trouble, self._copied = "", None
        aside = self._drop_aside()
        for what, at in aside:
            self._record(what, at)

    def _try_again(self, now: datetime) -> None:
        """See, no more often than every few seconds, whether the file can be written again."""
        if self._tried_at is not None and timedelta() <= now - self._tried_at < _AGAIN:
            return
        self._tried_at = now
        if self._lock is not None and self._lock.is_lost:
            return
        if self._lock is not None and not self._lock.take():  # the file could not be locked either until now
            self.other_works, self.trouble = True, ""
            return
        self._open_to_write()

    def _drop_aside(self) -> list[tuple[Happened, datetime]]:
        """Show the project as it is on disk; return what was set aside."""
        aside, self._aside = self._aside, []
        if aside:
            self.project = self._history.project
        return aside

    def _take_aside(self, what: Happened, now: datetime) -> None:
        """Apply to the project what happened to an alarm and cannot be written."""
        self._aside.append((what, now))
        self.project = advance(self.project, Recorded(self._history.last + len(self._aside), now, what))

    def _look_for_damage(self) -> None:
        """Stop recording if something is damaged or cannot be read, so that another program can repair it."""
        self.damage = trouble(self.log.path, self.log.damages, self.project.left_out)
        if self.damage and self._lock is not None:
            self._lock.release()

    def show_life(self, now: datetime) -> None:
        """Show other windows that this one, which works on the project, is still running."""
        if self._lock is not None:
            self._lock.show_life(now)

    # What is done, and taken back

    @property
    def run(self) -> Run:
        """The run on the bench; NotNow if there is none."""
        if self.project.run is None:
            raise NotNow(phrase("no recipe is on the bench; choose a part and a recipe first"))
        return self.project.run

    def _record(self, what: Happened, now: datetime) -> None:
        """Write an event to disk; only then does the project show it. NotNow if the project is READ ONLY.

        If this program sounds the alarms but cannot write, what happens to them is set aside, so that they can be silenced.
        """
        if self.read_only and self.rings and isinstance(what, TAKEN_ASIDE):
            self._take_aside(what, now)
            return
        self._must_record(now)
        over = self._left_with(what)
        try:
            self._check_place(now)
            event = self.log.append(what.kind, what.as_json(), now, over=over)
        except LogError as error:
            self.trouble, self._tried_at = str(error), now
            if not isinstance(what, TAKEN_ASIDE):
                raise
            self._take_aside(what, now)
            return
        if over is not None:
            self._typing.pop(over, None)
        self._take(events.read(event))

    def _must_record(self, now: datetime) -> None:
        """Try whether the file can be written by now; raise NotNow if nothing can be recorded."""
        if self.trouble:
            self._tried_at = None
            self._try_again(now)
        if self.read_only:
            raise NotNow(self.why_read_only)

    def look_at_file(self, now: datetime) -> None:
        """See whether the file is still in its place; if not, stop recording and save what there was."""
        if self.read_only:
            return
        try:
            self._check_place(now)
        except LogError as error:
            self.trouble, self._tried_at = str(error), now

    def _check_place(self, now: datetime) -> None:
        """Raise LogError if the file at that path is no longer this one, so that nothing goes to a file nobody would find."""
        if self._lock is None or not self._lock.is_lost:
            return
        if self._copied is None:
            self._copied = save(self.log, now)
        words = "{path} was removed or replaced while it was open: put it back. All that was recorded is in {copy}"
        raise LogError(phrase(words, self.log.path, self._copied))

    def _take(self, event: Recorded) -> None:
        """Apply to the project an event that is on disk."""
        self._history.take(event)
        self.project = self._history.project

    @property
    def _next_number(self) -> int:
        """Number of the event that is recorded next."""
        return self._history.last + 1

    def _after(self, what: Happened, now: datetime) -> Project:
        """Return the project as it would be after one more event."""
        return advance(self.project, Recorded(self._next_number, now, what))

    def take_back(self, now: datetime) -> str:
        """Undo the last thing done, answered, acknowledged or ended, and return what it was. NotNow if there is nothing."""
        event, also = self._last_done(now)
        self._record(TakenBack(event=event.id, also=also or None), now)
        return event.what.title

    def last_done(self, now: datetime) -> str:
        """Return what would be undone, with the answer given; raises as `take_back` does."""
        what = self._last_done(now)[0].what
        if (words := _OF_CLOCKS.get(type(what))) is not None:
            return phrase(words, what.title)
        if isinstance(what, TemperatureRead):
            return f"{phrase('Shop temperature')}: {what.title}"
        said = what.said()
        return f"{said.headline}: {said.shown}" if said.headline and said.shown else what.title

    def _last_done(self, now: datetime) -> tuple[Recorded, tuple[int, ...]]:
        """Return the event to undo, and the numbers of the events that followed from it by themselves.

        Nothing from before the run on the bench is undone. Your own clock is ended in the list of clocks, not undone.
        """
        self._must_record(now)
        run = self.project.run
        began = int(run.key) if run is not None else 0
        also: list[int] = []
        for number in reversed(self.project.undo):
            event = self._history.event(number)
            if number <= began:
                break
            if event.what.of_run not in (None, self.project.current):
                continue
            if event.what.was_by_itself:
                also.append(number)
                continue
            if also and event.what.of_run is None and not isinstance(event.what, Acknowledged):
                break
            return event, tuple(also)
        raise NotNow(phrase("nothing to undo"))

    # What is being typed

    @property
    def step_place(self) -> str:
        """Name of the place of the run on the bench, different for every run, step and turn."""
        return self.place_name(self.run.place)

    def place_name(self, place: Place) -> str:
        """Return the name of a place of the run on the bench."""
        return f"step:{self.run.key} {place}"

    def _left_with(self, what: Happened) -> str | None:
        """Return the name of the place that an event leaves; None if it leaves none."""
        if not what.leaves_step or self.project.run is None:
            return None
        place = what.place if isinstance(what, AtPlace) and what.run == self.run.key else self.run.place
        return self.place_name(place)

    def typing(self, place: str) -> tuple[str, str]:
        """Return the text and the unit half typed at a place, as they were typed; both '' if there is nothing."""
        return self._typing.get(place, ("", ""))

    def keep_typing(self, place: str, text: str, unit: str) -> None:
        """Keep on disk what is half typed at a place, replacing what was there; without text and unit, forget it.

        It is not an event and answers nothing; it is forgotten with the step it is typed at. A READ ONLY window keeps nothing.
        """
        may_be_kept = not self.read_only or (self.trouble and not self.log.read_only)
        if not may_be_kept or (text, unit) == self.typing(place):
            return
        self.log.keep_typing(place, text, unit)
        self._typing[place] = (text, unit)

    def _shown(self, value: Value) -> str:
        if isinstance(value, Quantity):
            return str(units.display(value, self.project.system))
        return str(value)
