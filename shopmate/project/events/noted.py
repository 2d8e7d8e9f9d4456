"""What only the log tells of, or the forms: results kept, forms filled in, figures of the shelf changed, the sound tried."""

from __future__ import annotations

from collections.abc import Mapping

from shopmate import calc
from shopmate.project.events.event import Happened, Recorded, Said
from shopmate.project.project import Project
from shopmate.records import dataclass
from shopmate.result import Presentation, Result

_MAIN_FIGURES = 3
"""Outputs of a kept result that are said; JSON has them all."""


@dataclass(frozen=True)
class FormFilled(Happened, kind="form", undoable=False, leaves_step=False):
    """The form of a calculator was filled in: its texts are offered next time."""

    calculator: str
    texts: Mapping[str, str]

    def fold(self, project: Project, event: Recorded) -> None:
        project.use_calculator(self.calculator)
        project.forms.pop(self.calculator, None)
        project.forms[self.calculator] = dict(self.texts)

    def said(self) -> Said:
        return Said(f"Entered {self.calculator}", is_aside=True)


@dataclass(frozen=True)
class ResultKept(Happened, kind="kept", undoable=False, leaves_step=False):
    """A calculator's result was kept, outside of runs."""

    calculator: str
    texts: Mapping[str, str]
    result: Result

    def fold(self, project: Project, event: Recorded) -> None:
        """Do nothing: it is for who reads the log."""

    def said(self) -> Said:
        # One of a calculator that this program does not have, as of a newer one, has its names alone.
        declared = calc.find(self.calculator).outputs if self.calculator in calc.names() else ()
        read = Presentation(self.result, declared, None)
        main = (*read.head, *read.others)[:_MAIN_FIGURES]
        typed = "; ".join(f"{name} {text}" for name, text in self.texts.items())
        return Said(f"Kept {self.calculator}", "; ".join(map(str, main)), typed=typed)


@dataclass(frozen=True)
class ShelfChanged(Happened, kind="shelf", undoable=False, leaves_step=False):
    """A figure of the user's shelf was changed: the log tells what a part was built with."""

    material: str
    figure: str
    was: str | None
    now: str | None
    shown: str
    after: int | None = None
    """Number of the event that ended the run which used what there is less of; None where it was typed."""

    def fold(self, project: Project, event: Recorded) -> None:
        """Do nothing: the shelf is not the project's."""

    def said(self) -> Said:
        return Said(f"Shelf: {self.material}", self.shown)


@dataclass(frozen=True)
class SoundTried(Happened, kind="sound", undoable=False, leaves_step=False):
    """The bell was tried."""

    heard: bool
    shown: str

    def fold(self, project: Project, event: Recorded) -> None:
        """Do nothing: it is for who reads the log."""

    def said(self) -> Said:
        return Said("Sound test", self.shown)
