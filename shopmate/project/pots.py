"""The user's own pots: what each holds, and how long it took from the first drop of hardener until it was done with."""

from __future__ import annotations

from datetime import timedelta

from shopmate import units
from shopmate.clock import Clock
from shopmate.models.constants import INSTANT, STIR
from shopmate.project.project import Pot, Project
from shopmate.project.run import Held, Run


def pour(project: Project, run: Run, name: str, *, is_sum: bool) -> None:
    """Take a mass just answered as that of each pot whose clock runs; asked anew, it is the corrected one.

    One that adds to a sum (`is_sum`) is what the scale reads last in the turn, so it takes the place of one before.
    """
    quantity = run.values[name].quantity
    if quantity is None or units.dimension(quantity.unit) != "mass":
        return
    for key in run.clocks.values():
        if project.clocks[key].ended_at is None and (is_sum or project.pouring.get(key, (name, 0.0))[0] == name):
            project.pouring[key] = (name, quantity.value_in("g"))


def empty(project: Project, run: Run, clock: Clock) -> None:
    """Take a clock ended by its step as a pot finished, if its recipe asks for its pace and a mass was asked while it ran.

    A pot poured out is finished with the film that it became, and took the time of both.
    One ended hardly later than pouring and stirring take was ticked off ahead of the work: it tells of no pace.
    The answers on pace that the run was given are then those of the middle pot, so that what is planned next goes by them.
    """
    if not run.may_have("pace_of"):
        return
    pot = project.clocks[project.poured_out.get(clock.key, clock.key)]
    asked = run.recipe.on_pace(pot.name)
    if not asked or clock.ended_at is None:
        return
    _, mass = project.pouring.get(pot.key, ("", 0.0))
    minutes = (clock.ended_at - pot.started_at) / timedelta(minutes=1)
    if mass <= 0 or minutes < STIR + INSTANT:
        return
    project.pots[pot.name] = (*project.pots.get(pot.name, ()), Pot(mass, minutes))
    own = project.middle_pot(pot.name)
    assert own is not None
    for into, unit in asked:
        if into in run.values:
            run.values[into] = Held(own.answers(unit))
            run.paced[pot.name] = len(project.pots[pot.name])
