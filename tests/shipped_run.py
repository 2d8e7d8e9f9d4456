"""A shipped recipe followed in a project in memory, and what its run comes to: figures, clocks, materials used."""

from datetime import timedelta
from pathlib import Path

import pytest
from conftest import BEGAN, materials

from shopmate import calc
from shopmate.log import Log
from shopmate.session import FinishedView, GateView, Session, find_recipe
from shopmate.session.demo import follow

IN_MONTHS = {"Test the struts"}
"""Clocks for whoever uses the part, long after the run: no step of it can end them."""


def begun(name, system="metric"):
    """Return a session with the recipe begun on one part."""
    session = Session(Log(Path("rehearsal.shopmate"), in_memory=True), materials())
    session.name("Rehearsal", system, BEGAN)
    session.begin(session.add_part("Part", BEGAN), find_recipe(name), BEGAN)
    return session


def at(name, headline, answers, system="metric"):
    """Return the session with the run followed up to the step with that headline, and the time reached."""
    session = begun(name, system)
    return session, follow(session, BEGAN, answers, until=lambda view: view.headline == headline)


def finished(name, answers, system="metric"):
    """Return the session with the run followed to its end, no hold point overridden."""
    session = begun(name, system)
    follow(session, BEGAN, answers, until=lambda view: isinstance(view, FinishedView))
    assert not [mark.shown for mark in session.run.marks.values() if mark.shown.startswith("overridden: ")]
    return session


def _held_or_done(view):
    return isinstance(view, FinishedView) or (isinstance(view, GateView) and view.go is False)


def stopped(name, answers, system="metric"):
    """Return the headline of the first hold point that is NO GO with these answers, or None where all are GO."""
    session = begun(name, system)
    now = follow(session, BEGAN, answers, until=_held_or_done)
    view = session.view(now)
    return None if isinstance(view, FinishedView) else view.headline


def figure(session, name, unit):
    """Return a figure of the run in that unit."""
    return session.run.values[name].quantity.value_in(unit)


def worked_out(calculator, output, unit, **fields):
    """Return one output of a calculator called by itself, in that unit."""
    return calc.run(calculator, fields, "metric").outputs[output].value_in(unit)


def clock(session, name):
    """Return the only clock of that name that the run started."""
    (found,) = [one for one in session.project.clocks.values() if one.name == name]
    return found


def told_late(session, clock, *minutes):
    """Do the step in hand so many minutes after a clock, each time undone again; it has to be told how late it was."""
    for late in minutes:
        when = clock.due_at + timedelta(minutes=late)
        session.done(when)
        told = session.project.clocks[clock.key].late or timedelta()
        assert told == pytest.approx(timedelta(minutes=late), abs=timedelta(seconds=1))
        session.take_back(when)


def used(session):
    """Return what the log says the finished run used: material and amount, in the order of the recipe."""
    (event,) = [event for event in session.log.events() if event.kind == "finished"]
    return event.data.get("used", [])
