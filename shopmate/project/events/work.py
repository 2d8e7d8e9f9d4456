"""What happens to a project as a whole: its name, its settings, its parts and runs, and what is taken back."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import timedelta
from typing import Literal

from shopmate import units
from shopmate.clock import moved
from shopmate.project.events.event import Happened, OfRun, Recorded, Said
from shopmate.project.events.stored import FLAT
from shopmate.project.place import Place
from shopmate.project.project import Base, PartState, Project, WallSet
from shopmate.project.run import Run
from shopmate.records import dataclass, field, replace
from shopmate.steady import Steady
from shopmate.units import Quantity, System

Setting = Literal["system", "theme", "reading_holds", "fresh_shop", "fresh_low", "fresh_moisture"]
"""Settings of a project: units (metric or inch), look (dark or light), how long readings hold (such as 4 h)."""


@dataclass(frozen=True)
class Opened(Happened, kind="opened", undoable=False, leaves_step=False):
    """The project was opened for work."""

    steady: Steady | None = field(default=None, metadata=FLAT)
    """What the steady clock read; None where none is known."""

    def fold(self, project: Project, event: Recorded) -> None:
        """Take a new base after a new start of the computer; in the same one the old holds, or small drifts would add up."""
        boot = self.steady.boot if self.steady is not None else None
        if project.base is not None and project.base.boot == boot:
            return
        project.base = None
        if self.steady is not None:
            project.base = Base(self.steady.boot, event.at - timedelta(seconds=self.steady.seconds), event.id)
        # Where the wall clock went back meanwhile, a reading of before would hold only from a time to come.
        project.readings = [(min(at, event.at), celsius) for at, celsius in project.readings]

    def said(self) -> Said:
        return Said("Opened")


@dataclass(frozen=True)
class Named(Happened, kind="project", undoable=False, leaves_step=False):
    """The project was made, or given another name or other units."""

    name: str
    system: System = "metric"
    steady: Steady | None = field(default=None, metadata=FLAT)

    def fold(self, project: Project, event: Recorded) -> None:
        project.name, project.system = self.name, self.system
        if self.steady is not None:
            Opened(self.steady).fold(project, event)

    def said(self) -> Said:
        return Said(f"Project {self.name}")


@dataclass(frozen=True)
class WallClockSet(Happened, kind="wall", undoable=False, leaves_step=False):
    """The computer's clock was set while the project was worked on."""

    shift_s: float
    """By how much it was set forward, in s."""
    shown: str = ""

    @property
    def shift(self) -> timedelta:
        """By how much it was set forward."""
        return timedelta(seconds=self.shift_s)

    def fold(self, project: Project, event: Recorded) -> None:
        """Tell every time by the wall clock as it is now: all move with it, so that what passed and what remains stay."""
        shift = self.shift
        for key in project.runs:
            run = project.changing(key)
            run.begun_at += shift
            run.marks = {place: replace(mark, at=mark.at + shift) for place, mark in run.marks.items()}
            run.seen = {key: at + shift for key, at in run.seen.items()}
            run.warned = {words: at + shift for words, at in run.warned.items()}
            run.taken_back = {place: replace(old, at=old.at + shift) for place, old in run.taken_back.items()}
            run.touched_at = run.touched_at + shift if run.touched_at is not None else None
            run.finished_at = run.finished_at + shift if run.finished_at is not None else None
        project.parts = {name: at + shift for name, at in project.parts.items()}
        project.facts = {key: replace(known, at=known.at + shift) for key, known in project.facts.items()}
        project.states = {
            part: tuple(replace(state, at=state.at + shift) for state in states) for part, states in project.states.items()
        }
        for key, clock in project.clocks.items():
            project.clocks[key] = moved(clock, shift)
        project.readings = [(at + shift, celsius) for at, celsius in project.readings]
        if project.base is not None:
            project.base = replace(project.base, nought=project.base.nought + shift)
        project.wall_set = WallSet(event.at, shift)

    def said(self) -> Said:
        return Said("Clock of the computer was set", self.shown)


@dataclass(frozen=True)
class SettingChanged(Happened, kind="setting", undoable=False, leaves_step=False):
    """A setting of the project was changed."""

    name: Setting
    value: str

    def fold(self, project: Project, event: Recorded) -> None:
        if self.name == "system":
            project.system = "inch" if self.value == "inch" else "metric"
        elif self.name == "theme":
            project.theme = self.value
        else:
            length = timedelta(minutes=units.parse(self.value, "h").value_in("min"))
            if self.name == "reading_holds":
                project.reading_holds = length
            else:
                project.fresh[self.name] = length

    def said(self) -> Said:
        return Said(f"{self.name} = {self.value}")


@dataclass(frozen=True)
class PartAdded(Happened, kind="part", undoable=False, leaves_step=False):
    """A part was added to the project."""

    name: str

    def fold(self, project: Project, event: Recorded) -> None:
        project.parts[self.name] = event.at

    def said(self) -> Said:
        return Said(f"Part {self.name}")


@dataclass(frozen=True)
class RunBegun(Happened, kind="run", undoable=False, leaves_step=False):
    """A recipe was begun on a part, which put the run on the bench; its key is the number of this event."""

    part: str
    recipe: str
    version: str
    place: Place
    text: str
    """The recipe as it was then: changing its file later does not change the run."""
    date: str | None = None
    plan: str | None = None
    """Key of the plan that it was begun from: its answers are offered."""

    @property
    def edition(self) -> str:
        """The recipe with its version and date."""
        return " ".join(filter(None, (self.recipe, self.version, self.date)))

    def fold(self, project: Project, event: Recorded) -> None:
        plan = project.plans.pop(self.plan, None) if self.plan is not None else None
        run = Run(event.key, self.part, self.text, event.at, self.place, touched_at=event.at, recipe_name=self.recipe)
        run.offered = dict(plan.answers) if plan is not None else {}
        project.add(run)

    def said(self) -> Said:
        return Said(f"Began {self.recipe} on {self.part}", place=self.place)


@dataclass(frozen=True)
class RunChosen(OfRun, Happened, kind="chosen", undoable=False, leaves_step=False):
    """Another run was put on the bench."""

    def fold(self, project: Project, event: Recorded) -> None:
        project.current = self.run

    def said(self) -> Said:
        return Said("Went to another run")


@dataclass(frozen=True)
class RecipeEdited(OfRun, Happened, kind="edited", undoable=True, leaves_step=False):
    """A run goes on by its recipe as it was edited since, or stays with the one it has."""

    recipe: str
    """The recipe with its version and date."""
    digest: str
    """What tells the edited recipe from any other."""
    shown: str
    """What was changed in it."""
    text: str | None = None
    """The recipe by which the run goes on; None where it stays with the one it has."""
    next: Place | None = None
    """Where it goes on in it."""

    def fold(self, project: Project, event: Recorded) -> None:
        run = project.changing(self.run)
        run.touched_at = event.at
        if self.text is None or self.next is None:
            run.declined = self.digest
        else:
            run.kept, run.kept_by, run.place = self.text, event.key, self.next

    def said(self) -> Said:
        return Said(f"{'Kept the recipe, not' if self.text is None else 'Went on by'} the edited {self.recipe}", self.shown)


@dataclass(frozen=True)
class RunFollowed(OfRun, Happened, kind="followed", undoable=True, leaves_step=False):
    """It was chosen whether a run is followed by section or step by step."""

    by_section: bool

    def fold(self, project: Project, event: Recorded) -> None:
        run = project.changing(self.run)
        run.by_section, run.touched_at = self.by_section, event.at

    def said(self) -> Said:
        return Said("Followed by section" if self.by_section else "Followed step by step")


@dataclass(frozen=True)
class Used:
    """A material that a run consumes, and how much of it."""

    material: str
    """Name on the shelf, or the recipe's own words."""
    title: str
    """How it is shown."""
    amount: Quantity | None
    """In all; None where the values of the run do not tell."""
    weighed: Quantity | None = None
    """How much of it was weighed, what was spilled included; None where all of it is what was planned."""
    spilled: Quantity | None = None
    """How much of what was weighed was spilled; None where nothing was."""


@dataclass(frozen=True)
class RunFinished(OfRun, Happened, kind="finished", undoable=True, leaves_step=True):
    """A run came to the end of its recipe."""

    shown: str | None = None
    """What it made and used, in words."""
    makes: str | None = None
    """The state that the part is left in."""
    used: tuple[Used, ...] | None = None
    """What it consumed: as weighed where it was, else as planned; in old logs all as planned."""
    weighed: Mapping[str, Quantity] | None = None
    """What was weighed in all, by the name of the sum."""
    hands_on_s: float | None = None
    """How long hands were on it."""

    def fold(self, project: Project, event: Recorded) -> None:
        run = project.changing(self.run)
        run.finished_at = run.touched_at = event.at
        if self.makes is not None:
            others = [state for state in project.states.get(run.part, ()) if state.text != self.makes]
            project.states[run.part] = (*others, PartState(self.makes, event.at, self.run))
        if self.hands_on_s is not None:
            project.took[run.recipe_name] = (*project.took.get(run.recipe_name, ()), self.hands_on_s)

    def said(self) -> Said:
        return Said("Recipe complete", self.shown or "")


@dataclass(frozen=True)
class RunGivenUp(OfRun, Happened, kind="given up", undoable=True, leaves_step=True):
    """A run was ended before its end; its clocks run on."""

    shown: str | None = None
    """What was weighed, in words."""
    weighed: Mapping[str, Quantity] | None = None
    """What was weighed in all, by the name of the sum."""
    used: tuple[Used, ...] | None = None
    """What was weighed of each material: what was only planned does not count. None in old logs too."""

    def fold(self, project: Project, event: Recorded) -> None:
        run = project.changing(self.run)
        run.finished_at = run.touched_at = event.at
        run.given_up = True

    def said(self) -> Said:
        return Said("Gave the run up", self.shown or "")


@dataclass(frozen=True)
class TakenBack(Happened, kind="undone", undoable=False, leaves_step=True):
    """An earlier event was taken back: it counts as not having happened."""

    event: int
    """Number of the event."""
    also: tuple[int, ...] | None = None
    """Numbers of the events that followed from it by themselves."""

    @property
    def all(self) -> tuple[int, ...]:
        """The numbers of all events that it takes back."""
        return self.event, *(self.also or ())

    def fold(self, project: Project, event: Recorded) -> None:
        """Do nothing: the fold leaves out what is taken back, but for what that leaves behind."""

    def said(self) -> Said:
        return Said("Took back:")
