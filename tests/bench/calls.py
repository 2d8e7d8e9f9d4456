"""Print how many Python functions one Enter on a result calls: in the session alone, and until the full screen is drawn.

Run: python tests/bench/calls.py [--most]. The step is the pot of the recipe of every kind of step, as `mix` works it out, and
the next step is shown after it. The target is a third of what the screen took when a value became text and was read again.
"""

from __future__ import annotations

import asyncio
import os
import sys
import tempfile
from collections import Counter
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path
from types import FrameType

TESTS = Path(__file__).parent.parent
sys.path[:0] = [str(TESTS), str(TESTS / "tui")]

from tui_bench import opened  # noqa: E402

import shopmate  # noqa: E402
from shopmate import recipe as recipes  # noqa: E402
from shopmate import session as sessions  # noqa: E402
from shopmate.session import Session  # noqa: E402
from shopmate.session.demo import follow  # noqa: E402

RECIPE = TESTS / "recipes" / "good" / "every-step.yaml"
STEP = "Work out the pot"
BEFORE = {"session": 467, "screen": 5043}
"""Calls of functions of shopmate before, the views of the step and of the next one included."""


class Calls:
    """Counts the functions called while it is on: ours, and all of them."""

    def __init__(self) -> None:
        self.all = 0
        self.ours: Counter[str] = Counter()

    def __enter__(self) -> Calls:
        sys.setprofile(self._seen)
        return self

    def __exit__(self, *error: object) -> None:
        sys.setprofile(None)

    def _seen(self, frame: FrameType, event: str, argument: object) -> None:
        if event != "call":
            return
        self.all += 1
        path = frame.f_code.co_filename
        if path.startswith(str(Path(shopmate.__file__).parent)):
            self.ours[
                f"{Path(path).name}:{frame.f_code.co_qualname if sys.version_info >= (3, 11) else frame.f_code.co_name}"
            ] += 1


class Time:
    """A time that goes on only when told to."""

    def __init__(self) -> None:
        self.at = datetime(2026, 5, 4, 8, tzinfo=UTC)

    def __call__(self) -> datetime:
        return self.at

    def on(self, **length: float) -> datetime:
        self.at += timedelta(**length)
        return self.at


def at_step(now: Time) -> Path:
    """Bring a project as far as the step and return its file."""
    session = Session.create(sessions.project_path("Calls"), "Calls", now(), sessions.shelf())
    session.begin(session.add_part("Panel 1", now()), recipes.load(RECIPE), now())
    now.at = follow(session, now(), {}, until=lambda view: view.headline == STEP)
    session.close()
    return session.log.path


def session_alone(path: Path, now: Time) -> Calls:
    """Do the step in the session, which has shown it before, and show the next one."""
    session = Session.open(path, now(), sessions.shelf())
    assert session.view(now()).headline == STEP
    with Calls() as calls:
        session.done(now())
        session.view(now())
    assert session.view(now()).headline != STEP
    session.take_back(now())
    session.close()
    return calls


async def on_screen(path: Path, now: Time) -> Calls:
    """Press Enter on the full-screen bench until all is drawn."""
    async with opened(now, path) as at:
        assert at.view.headline == STEP
        with Calls() as calls:
            await at.press("E")
        assert at.view.headline != STEP
    return calls


def main(show: Callable[[Calls], None]) -> None:
    """Count and print."""
    with tempfile.TemporaryDirectory() as folder:
        os.environ["SHOPMATE_HOME"] = folder
        now = Time()
        path = at_step(now)
        for name, calls in (("session", session_alone(path, now)), ("screen", asyncio.run(on_screen(path, now)))):
            ours, before = sum(calls.ours.values()), BEFORE[name]
            target = f", to be {before // 3} or less" if name == "screen" else ""
            print(f"{name:8} {ours:5} calls of shopmate ({calls.all} in all); {before} before{target}")
            show(calls)


def show_most(calls: Calls) -> None:
    for name, count in calls.ours.most_common(90):
        print(f"    {count:5} {name}")


if __name__ == "__main__":
    main(show_most if "--most" in sys.argv else lambda calls: None)
