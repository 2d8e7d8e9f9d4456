"""An open project: its file, parts, runs and settings, and what it keeps of calculators and the shelf."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from contextlib import suppress
from datetime import datetime, timedelta
from pathlib import Path

from shopmate import calc
from shopmate.calculator import Measure
from shopmate.errors import DamagedFile, LogError, UsageError
from shopmate.lock import Lock
from shopmate.log import Log
from shopmate.models.due import closes
from shopmate.phrases import phrase
from shopmate.project.backups import EACH, back_up
from shopmate.project.events import Recorded
from shopmate.project.events.clocks import AlarmRaised
from shopmate.project.events.noted import FormFilled, ResultKept, SoundTried
from shopmate.project.events.planned import PlanDropped, RunPlanned
from shopmate.project.events.work import (
    Named,
    Opened,
    PartAdded,
    RecipeEdited,
    RunBegun,
    RunChosen,
    Setting,
    SettingChanged,
    WallClockSet,
)
from shopmate.project.place import Place
from shopmate.project.run import Run
from shopmate.recipe import Material, Recipe, operation_state
from shopmate.records import replace
from shopmate.result import Result
from shopmate.session.alike import told_apart
from shopmate.session.at_hand import AtHand, at_hand
from shopmate.session.before import told_before, worked_through
from shopmate.session.bench import RUNS_ON, Bench
from shopmate.session.edition import Edition, begins_section, edition
from shopmate.session.files import recipe_file, recipe_paths
from shopmate.session.way import next_place
from shopmate.steady import Steady
from shopmate.units import System

PARTS = ("Panel", "Seam", "Bar", "Hatch")
"""Kinds of parts offered as names, so that a part can be named without typing letters."""

WHERE = ("Lift roof", "Roof", "Floor", "Left wall", "Right wall", "Front wall", "Rear wall", "Door", "Window")
"""Where a part can be, for a name put together from these words."""

READING_HOLDS = Measure("h", low=0.25, high=72, soft_high=24)
"""How long a reading of the shop temperature stays fresh: a setting of the project."""


class Session(Bench):
    """An open project. Every method that changes it records the change before it returns."""

    backed_up_at: datetime | None = None
    """When backups were last dealt with; None before the first look at the time."""
    _edition: tuple[object, Edition | None] = (None, None)
    """Where in which run the program last looked for an edited recipe, and what it found."""

    @classmethod
    def create(
        cls,
        path: Path,
        name: str,
        now: datetime,
        materials: Mapping[str, Material],
        system: System = "metric",
        steady: Steady | None = None,
    ) -> Session:
        """Create a project file and open it."""
        log, lock = Log(path, create=True), Lock(path)
        lock.take()
        session = cls(log, materials, lock)
        session.name(name, system, now, steady)
        return session

    @classmethod
    def open(
        cls,
        path: Path,
        now: datetime,
        materials: Mapping[str, Material],
        steady: Steady | None = None,
        *,
        shelf_trouble: str = "",
    ) -> Session:
        """Open a project file to work on it, or only to show it and sound its alarms.

        It is only shown while another program works on it, if it is damaged or cannot be written, and with `shelf_trouble`,
        if your own shelf cannot be read.
        """
        lock = Lock(path) if path.is_file() else None
        other_works = lock is not None and not lock.take()
        if lock is not None and shelf_trouble:
            lock.release()
        try:
            log, trouble = _opened(path, read_only=other_works or bool(shelf_trouble))
            session = cls(log, materials, lock, read_only=other_works, trouble=trouble, shelf_trouble=shelf_trouble)
            left_out = session.project.left_out
            last, shift = _last_done(event for event in session._history.back_from_last() if event.id not in left_out)
            session.left_at = (last.at if last is not None else now) + shift
            session.read_recipe_of(session.project.current)
            if not session.read_only:
                with suppress(LogError):  # a disk without room for that is the trouble then
                    if session.project.run is not None and last is not None and isinstance(last.what, RUNS_ON):
                        # What a kill left out follows as of then: what a clock has opened since is not passed unseen.
                        session._run_on(last.at)
                    session.resume(now, steady)
        except BaseException:
            if lock is not None:
                lock.release()
            raise
        return session

    def back_up(self, now: datetime) -> None:
        """Back up the project if anything was recorded since the newest backup; LogError if that fails."""
        self.backed_up_at = now
        self.look_at_file(now)  # which saves the project itself where that was removed since the last look
        self.keep_checkpoint()
        if not self.read_only:
            back_up(self.log, now)

    def keep_safe(self, now: datetime) -> None:
        """Check some of the events, keep a checkpoint if one is due, and back up the project once an hour.

        LogError if the backup fails; it is tried again an hour later.
        """
        self.prove()
        self.keep_checkpoint(only_if_due=True)
        if self.backed_up_at is None:
            self.backed_up_at = now
        elif not timedelta() <= now - self.backed_up_at < EACH:
            self.back_up(now)

    def read_recipe_of(self, run_key: str | None) -> None:
        """Read the recipe of a run to show; raises FileProblems if its text can no longer be read."""
        _ = self.project.runs[run_key].recipe if run_key is not None else None

    def name(self, name: str, system: System, now: datetime, steady: Steady | None = None) -> None:
        """Name the project and choose the units it is shown in."""
        self._record(Named(name.strip(), system, steady), now)

    def set(self, name: Setting, value: str, now: datetime) -> None:
        """Change a setting of the project: system (metric or inch), theme (dark or light) or reading_holds (such as 4 h)."""
        self._record(SettingChanged(name, value), now)

    # Parts and runs

    def add_part(self, name: str, now: datetime) -> str:
        """Add a part and return its name; UsageError if the name is empty or taken."""
        name = " ".join(name.split())[:40]
        if not name:
            raise UsageError(phrase("the part has no name; type one"))
        if name in self.project.parts:
            raise UsageError(phrase("there is a part '{part}' already; choose it or type another name", name))
        self._record(PartAdded(name=name), now)
        return name

    def free_part(self, kind: str) -> str:
        """Return a name for a new part of a kind: the first number not taken."""
        number = 1
        while f"{kind} {number}" in self.project.parts:
            number += 1
        return f"{kind} {number}"

    def begin(self, part: str, recipe: Recipe, now: datetime, plan: str | None = None) -> None:
        """Begin a recipe on a part and put it on the bench; with the key of a planned run, its answers are offered."""
        if part not in self.project.parts:
            raise UsageError(phrase("there is no part '{part}'; add it first", part))
        draft = Run("", part, recipe, now, Place(0, 1, -1))
        place, _ = next_place(draft, draft.place, {}, now)
        begun = RunBegun(part, recipe.name, recipe.version, place, recipe.text, recipe.date, plan)
        self._record(begun, now)
        self._run_on(now)
        self.foresee(now)

    def edition(self) -> Edition | None:
        """Return the edited recipe of the run on the bench; the program looks for one when a section begins.

        None if the recipe was not edited, if the edit was declined, in a READ ONLY project, and while a DO BEFORE clock runs.
        """
        run = self.project.run
        if run is None or self.read_only or not begins_section(run) or any(closes(clock.kind) for clock in self.clocks):
            return None
        at = run.key, run.place.section, run.kept_by, run.declined
        if self._edition[0] != at:
            path = recipe_paths().get(run.recipe_name)
            found = recipe_file(run.recipe_name, path, operation_state()).recipe if path is not None else None
            self._edition = at, edition(run, found) if found is not None and found.text != run.recipe.text else None
        return self._edition[1]

    def go_on_by(self, edited: Edition, now: datetime) -> str:
        """Continue the run with an edited recipe that fits; return what was done."""
        run = replace(self.run, kept=edited.recipe)
        place, _ = next_place(run, Place(run.place.section, 1, -1), self.project.clocks, now)
        self._record(self._edited(edited, edited.recipe.text, place), now)
        self._run_on(now)
        self.foresee(now)
        return phrase("Using the edited recipe from here")

    def stay(self, edited: Edition, now: datetime) -> str:
        """Keep the recipe that the run has; this edit is not offered again."""
        self._record(self._edited(edited), now)
        return phrase("Keeping the recipe as it was")

    def _edited(self, edited: Edition, text: str | None = None, place: Place | None = None) -> RecipeEdited:
        named = f"{edited.recipe.name} {edited.recipe.version} {edited.recipe.date}"
        return RecipeEdited(self.run.key, named, edited.digest, "; ".join(edited.changes), text, place)

    def before(self, part: str, recipe: Recipe, answers: Mapping[str, str], now: datetime) -> tuple[str, ...]:
        """Return what to tell before a recipe is begun on a part, with answers given in advance."""
        draft = worked_through(self.project, part, recipe, answers, self.shelf, now, self._results)
        return tuple(told_before(draft, self.project, part))

    def plan(self, part: str, recipe: Recipe, answers: Mapping[str, str], now: datetime) -> str:
        """Plan a recipe on a part, with answers given in advance, as a run to begin later; return what was planned."""
        if part not in self.project.parts:
            raise UsageError(phrase("there is no part '{part}'; add it first", part))
        self._record(RunPlanned(part, recipe.name, recipe.title, dict(answers)), now)
        return phrase("Planned: {recipe} on {part}", recipe.title, part)

    def drop_plan(self, key: str, now: datetime) -> str:
        """Drop a planned run and return what was dropped."""
        plan = self.project.plans[key]
        words = phrase("{recipe} on {part}", plan.title, plan.part)
        self._record(PlanDropped(key, words), now)
        return phrase("Plan cancelled: {plan}", words)

    def choose(self, run_key: str, now: datetime) -> None:
        """Put another run on the bench."""
        if run_key != self.project.current:
            self.read_recipe_of(run_key)
            self._record(RunChosen(run=run_key), now)

    @property
    def under_way(self) -> list[Run]:
        """Runs that are not finished, the one worked on last first."""
        runs = (run for run in self.project.runs.not_over if run.finished_at is None)
        return sorted(runs, key=lambda run: run.last_at, reverse=True)

    def told_apart(self, now: datetime) -> Mapping[str, str]:
        """Return, by run key, what tells a run under way from others of its recipe on its part, if there are any."""
        return told_apart(self.under_way, self.project.system, now)

    # Calculators, the shelf and the sound

    def at_hand(self, calculator: str, now: datetime) -> AtHand:
        """Return what a calculator's form starts with: what run, shelf and readings know, otherwise what was entered last."""
        judge = self._judge(now) if self.project.run is not None else None
        return at_hand(calculator, self.project, self.shelf, judge, now)

    def remember(self, calculator: str, texts: Mapping[str, str], now: datetime, *, used: bool = False) -> None:
        """Keep what was entered in a calculator's form, to offer it next time; with `used`, even if nothing changed."""
        changed = dict(texts) != self.project.forms.get(calculator, {})
        if (self.trouble or not self.read_only) and (changed or (used and next(reversed(self.project.forms), "") != calculator)):
            self._record(FormFilled(calculator=calculator, texts=dict(texts)), now)

    def keep(self, calculator: str, texts: Mapping[str, str], now: datetime) -> Result:
        """Keep a calculator's result in the log and return it; raises InputError."""
        result = calc.run(calculator, texts)
        self._record(ResultKept(calculator=calculator, texts=dict(texts), result=result), now)
        return result

    def log_sound(self, heard: bool, now: datetime) -> None:
        """Record whether the bell was heard when it was tried."""
        self._record(SoundTried(heard=heard, shown=phrase("3 beeps heard" if heard else "3 beeps not heard")), now)


def _opened(path: Path, *, read_only: bool) -> tuple[Log, str]:
    """Open a project file, only for reading if it cannot be written, and return it with the reason; LogError if neither works.

    The log itself says if anything in it is damaged.
    """
    try:
        return Log(path, read_only=read_only), ""
    except DamagedFile:
        return Log(path, read_only=True), ""
    except LogError as error:
        with suppress(LogError):
            return Log(path, read_only=True), str(error)
        raise


def _last_done(events: Iterable[Recorded]) -> tuple[Recorded | None, timedelta]:
    """Return the last thing done, None if there is none, and by how much the wall clock has been changed since.

    The events come with the last one first.
    """
    shift = timedelta()
    for event in events:
        if isinstance(event.what, WallClockSet):
            shift += event.what.shift
        elif event.what.kind not in (Opened.kind, AlarmRaised.kind):
            return event, shift
    return None, shift
