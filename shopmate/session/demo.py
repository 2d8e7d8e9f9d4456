"""The demo project: a lift-roof bird-watching hide on a flatbed trailer; every name and figure in it is invented."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from contextlib import closing
from datetime import datetime, timedelta
from pathlib import Path
from typing import assert_never

from shopmate import paths
from shopmate.calculator import Measure
from shopmate.log import SUFFIX, Log
from shopmate.session import (
    CautionView,
    ChooseView,
    DoView,
    EndView,
    EnterView,
    FinishedView,
    GateView,
    RowsView,
    SectionEndView,
    Session,
    StartView,
    View,
    WaitView,
    WorkOutView,
    find_recipe,
    shelf,
)

NAME = "Bird hide (demo, invented data)"
"""Shown on every screen and in every export, so that nobody mistakes the figures for measured ones."""

_KEPT_FOR = timedelta(hours=12)
"""A demo used within this time is opened again; an older one is built again, because its clocks have run out."""

_HALF_BUILT = ".half-built"
"""Suffix of a demo's file while it is being built."""


def demo_project(now: datetime, *, fresh: bool = False) -> Path:
    """Return the file of the demo project, built so that its clocks are running at `now`, or the one used recently."""
    folder = paths.demo()
    files = sorted(folder.glob(f"*{SUFFIX}"), key=lambda path: path.stat().st_mtime) if folder.is_dir() else []
    if files and not fresh and now.timestamp() - files[-1].stat().st_mtime < _KEPT_FOR.total_seconds():
        return files[-1]
    name = f"hide-{now:%Y%m%d-%H%M%S}"
    count = sum(path.stem.startswith(name) for path in files)  # another one of the same second
    path = folder / f"{name}{f'-{count + 1}' if count else ''}{SUFFIX}"
    build(path, now)
    return path


def build(path: Path, now: datetime) -> None:
    """Write the demo project to `path`, its pot-life clock a minute old at `now`.

    In the weeks before, a roof panel was made and a bar bonded. Today another bar is in its clamps, and their clock follows the
    logged shop temperature; the panel is being glassed, and a hatch is planned. The file gets its name only when it is whole;
    half-built files left by an interrupted program are removed.
    """
    beside = path.with_suffix(_HALF_BUILT)
    for left in path.parent.glob(f"*{_HALF_BUILT}*"):
        left.unlink()
    with closing(Session(Log(beside, in_memory=True), shelf())) as session:
        _before_today(session, now - _EARLIER)
        _today(session, now)
        session.log.copy_to(beside)
    beside.rename(path)


def _before_today(session: Session, began: datetime) -> None:
    """Act out what was finished before today."""
    session.name(NAME, "metric", began)
    now = began
    for name, recipes in _FINISHED.items():
        part = session.add_part(name, now)
        for recipe in recipes:
            session.begin(part, find_recipe(recipe), now)
            pace = _FAST if recipe in _HURRIED else PACE
            now = follow(session, now, {}, until=lambda view: isinstance(view, FinishedView), pace=pace) + _NIGHT
    for clock in session.clocks:
        session.end_clock(clock.key, now)


def _today(session: Session, now: datetime) -> None:
    """Act out today up to a minute after the first pot was begun, which is `now`."""
    at = now - _TODAY
    window, hatch = (session.add_part(name, at) for name in ("Sill bar, window side", "Rear hatch"))
    session.plan(hatch, find_recipe(_PLANNED), {}, at)
    session.begin(window, find_recipe("bonding"), at)
    at = follow(session, at, _MORNING, until=lambda view: isinstance(view, WaitView))
    for text, after in _READINGS:
        at += after
        session.log_temperature(text, at)
    session.begin(_PANEL, find_recipe("glassing"), at)
    at = follow(session, at, {"Air temperature": "22.5 °C"}, until=lambda view: view.headline == _BEFORE_THE_POT)
    follow(session, max(at, now - timedelta(minutes=1) - PACE), {}, until=lambda _: _pot_is_going(session))


_PANEL = "Lift roof, panel 2"

_FINISHED = {
    _PANEL: ("frame", "skins", "foam-core", "edges"),
    "Sill bar, door side": ("surface-prep", "bonding"),
    "Shop": ("end-of-day",),
}
"""Part -> the recipes that were finished on it before today."""

_HURRIED = ("foam-core",)
"""Recipes in which a pour is a matter of seconds."""

_FAST = timedelta(seconds=20)
"""How long each of their steps takes."""

_PLANNED = "seal"

_EARLIER = timedelta(days=32)
"""How long ago the first part was begun: all that is finished takes less."""

_NIGHT = timedelta(hours=14)

_TODAY = timedelta(hours=6, minutes=15)
"""How long before the pot the day began: longer than it takes, so that the rest of it passes before the resin is poured."""

_BEFORE_THE_POT = "Pour the resin"
"""The step that starts the clock of the pot."""

PACE = timedelta(seconds=70)
"""How long each step takes in the demo."""

_MORNING = {"Glue": "epoxy", "Resin": "epoxy-2to1-medium", "Air temperature": "16.5 °C"}
"""Answers in the morning's run, while the shop is still cool from the night."""

_READINGS = (("18 °C", timedelta(minutes=70)), ("20 °C", timedelta(minutes=95)), ("21.5 °C", timedelta(minutes=80)))
"""Shop temperatures once the clamps are on, each with the time since the reading before (invented)."""


def _pot_is_going(session: Session) -> bool:
    return any(clock.closes and clock.name.endswith("life") for clock in session.clocks)


def follow(
    session: Session,
    now: datetime,
    answers: Mapping[str, str],
    until: Callable[[View], bool],
    pace: timedelta = PACE,
) -> datetime:
    """Follow the run on the bench, one step per `pace`, with `answers` by headline, otherwise with what each step offers.

    Returns the time reached. Waits are waited out, cautions and alarms acknowledged.
    """
    for _ in range(2000):
        view = session.view(now)
        if until(view):
            return now
        now += pace
        session.tick(now)
        _act(session, view, now, answers)
        if isinstance(view, WaitView) and not view.go:
            now = max(now, *(clock.due_at for clock in session.clocks if not clock.closes))
    raise RuntimeError("the recipe does not come to an end")


def _act(session: Session, view: View, now: datetime, answers: Mapping[str, str]) -> None:
    """Answer the step shown with `answers`, or with what it offers."""
    given = answers.get(view.headline)
    match view:
        case CautionView():
            while isinstance(session.view(now), CautionView):
                session.acknowledge(now)
        case ChooseView():
            offered = view.offered if given is None else None
            session.answer(given or (offered or view.options[0]).key, now, at=view.place, is_offered=offered is not None)
        case EnterView():
            is_offered = given is None and bool(view.default)
            session.answer(given or view.default or _likely(view), now, sure=True, at=view.place, is_offered=is_offered)
        case RowsView():
            for row in view.frame.rows:
                if row.is_question and row.mark == "offered" and row.label in answers:
                    session.answer(answers[row.label], now, sure=True, at=row.place)
                    return
            session.done(now)
        case GateView(options=options) if options:
            session.judge(given or options[0].key, now)
        case GateView(go=False, reasons=reasons) | WorkOutView(result=None, reasons=reasons):
            session.override(reasons[0], now)
        case WaitView(go=False):
            pass
        case DoView() | WorkOutView() | GateView() | StartView() | WaitView() | SectionEndView() | EndView() | FinishedView():
            session.done(now)
        case _:
            assert_never(view)


def _likely(view: EnterView) -> str:
    """Return the middle of the usual range, to four digits, because the expected answer is not shown as it would be typed."""
    entry = view.entry
    if not isinstance(entry, Measure) or entry.soft_low is None or entry.soft_high is None:
        return view.expected
    return f"{float(f'{(entry.soft_low + entry.soft_high) / 2:.4g}'):g} {entry.unit}"
