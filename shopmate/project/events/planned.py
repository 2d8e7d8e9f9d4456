"""What happens to planned runs: a part, a recipe and answers given ahead, not begun; a plan that is dropped."""

from __future__ import annotations

from collections.abc import Mapping

from shopmate.project.events.event import Happened, Recorded, Said
from shopmate.project.project import Plan, Project
from shopmate.records import dataclass


@dataclass(frozen=True)
class RunPlanned(Happened, kind="planned", undoable=False, leaves_step=False):
    """A recipe was planned on a part; the plan's key is the number of this event."""

    part: str
    recipe: str
    shown: str
    """The title of the recipe."""
    answers: Mapping[str, str]
    """What its questions are answered with, as typed: they are offered once it is begun."""

    def fold(self, project: Project, event: Recorded) -> None:
        project.plans[event.key] = Plan(event.key, self.part, self.recipe, self.shown, dict(self.answers))

    def said(self) -> Said:
        typed = "; ".join(f"{name} {text}" for name, text in self.answers.items())
        return Said(f"Planned {self.recipe} on {self.part}", typed=typed)


@dataclass(frozen=True)
class PlanDropped(Happened, kind="plan dropped", undoable=False, leaves_step=False):
    """A planned run is not to be begun after all."""

    plan: str
    """Key of the plan."""
    shown: str

    def fold(self, project: Project, event: Recorded) -> None:
        del project.plans[self.plan]

    def said(self) -> Said:
        return Said("Dropped a plan", self.shown)
