"""The user's shelf as it is worked from: materials saved, and what is left lowered by what a run used."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import datetime

from shopmate import paths
from shopmate import recipe as recipes
from shopmate.errors import LogError, ShopmateError
from shopmate.phrases import phrase
from shopmate.project.events.noted import ShelfChanged
from shopmate.project.events.work import RunFinished, RunGivenUp, Used
from shopmate.recipe import Material
from shopmate.session.files import shelf
from shopmate.session.remainder import given_back, lowered
from shopmate.session.timekeeper import Timekeeper


class Storekeeper(Timekeeper):
    """What changes the user's shelf from an open project."""

    not_lowered: Mapping[str, tuple[str, ...]] = {}
    """Key of a run that ended -> what of the shelf could not be lowered by what it used, and why, in words."""

    def save_material(self, material: Material, now: datetime, *, sure: bool = False, after: int | None = None) -> None:
        """Save a material on your own shelf and record each figure that changed: the log shows what a part was built with.

        Raises as `recipe.save_material` does, and then nothing is recorded. It can't be undone, because the shelf does not belong
        to the project. `after` is the number of the event that ended the run that used some of it.
        """
        was = shelf().get(material.name)
        recipes.save_material(paths.shelf(), material, sure=sure)
        self.shelf = shelf()
        for figure, before, now_is in recipes.changes(was, material):
            shown = f"{figure.replace('_', ' ')}: {now_is or phrase('no figure')}"
            if before is not None:
                shown = phrase("{figure}, was {before}", shown, before)
            changed = ShelfChanged(material=material.name, figure=figure, was=before, now=now_is, shown=shown, after=after)
            self._record(changed, now)

    def _end(self, what: RunFinished | RunGivenUp, now: datetime) -> None:
        """Record that a run is over, and lower what is left on the shelf by what it used; the run ends even if that fails."""
        self._record(what, now)
        number = self._history.last
        if not self.log.in_memory:
            words = tuple(filter(None, [self._lower(used, number, now) for used in what.used or ()]))
            self.not_lowered = {**self.not_lowered, what.run: words}

    def _lower(self, used: Used, number: int, now: datetime) -> str:
        """Lower what is left of a material by what was used of it; return why that failed, '' where it did not."""
        if used.material not in self.shelf:
            return ""
        try:
            material = shelf().get(used.material)
            if material is None or not material.left or used.amount is None:
                return ""
            self.save_material(lowered(material, used.amount), now, after=number)
        except LogError:
            return ""  # the shelf is lowered; that the project cannot be written stands as its own trouble
        except ShopmateError as error:
            return phrase("{material}: the amount left on the shelf was not updated: {why}", used.title, error)
        return ""

    def take_back(self, now: datetime) -> str:
        """Undo the last thing done; what the end of a run took off the shelf is given back."""
        number = self._last_done(now)[0].id
        done = super().take_back(now)
        try:
            for changed in self._lowered_after(number):
                material = shelf().get(changed.material)
                if material is not None and changed.was is not None and changed.now is not None:
                    self.save_material(given_back(material, changed.was, changed.now), now)
        except ShopmateError as error:
            return phrase("{what}; the amount used was not added back to the shelf: {why}", done, error)
        return done

    def _lowered_after(self, number: int) -> Iterator[ShelfChanged]:
        """Yield what the end of a run took off the shelf, by the number of that event."""
        for later in range(number + 1, self._history.last):
            what = self._history.event(later).what
            if isinstance(what, ShelfChanged) and what.after == number:
                yield what
