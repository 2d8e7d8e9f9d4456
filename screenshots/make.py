"""Write the screenshots from the running demo: `python screenshots/make.py`.

The time is fixed and the link to a web font is taken out, so that a picture changes only when the screen does.
"""

from __future__ import annotations

import asyncio
import os
import re
import sys
import tempfile
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

NOW = datetime(2026, 5, 16, 9, 41, tzinfo=UTC)
SHOTS: dict[str, tuple[tuple[int, int], tuple[str, ...]]] = {
    "bench-80x24": ((80, 24), ()),
    "bench-120x35": ((120, 35), ()),
    "bench-40x12": ((40, 12), ()),
    "entry-80x24": ((80, 24), ("8", "6", ".", "5")),
    "step-80x24": ((80, 24), ("8", "6", ".", "5", "enter", "enter")),
    "step-120x35": ((120, 35), ("8", "6", ".", "5", "enter", "enter")),
    "clocks-80x24": ((80, 24), ("8", "6", ".", "5", "enter", "enter", "plus")),
    "shop-80x24": ((80, 24), ("8", "6", ".", "5", "enter", "enter", "plus", "full_stop")),
    "pot-80x24": ((80, 24), ("plus", "full_stop", "full_stop")),
    "cautions-80x24": ((80, 24), ()),
    "calculators-80x24": ((80, 24), ("slash",)),
    "calculator-80x24": ((80, 24), ("fillet", "plus", "plus", "4", ".", "8", "enter", "1", "2")),
    "look-up-80x24": ((80, 24), ("mix", "plus", "1", "3", "7", ".", "4")),
    "look-up-40x12": ((40, 12), ("mix", "plus", "1", "3", "7", ".", "4")),
    "guide-80x24": ((80, 24), ("slash", "full_stop", "4", "3", "1")),
    "calculator-120x35": ((120, 35), ("fillet", "plus", "plus", "4", ".", "8", "enter", "1", "2")),
    "before-80x24": ((80, 24), ("slash", "full_stop", "1", "7", "3")),
    "readings-80x24": ((80, 24), ()),
    "readings-40x12": ((40, 12), ()),
    "section-80x24": ((80, 24), ()),
    "section-40x12": ((40, 12), ()),
    "pouring-80x24": ((80, 24), ()),
    "pouring-40x12": ((40, 12), ()),
    "summary-80x24": ((80, 24), ("enter",)),
    "summary-40x12": ((40, 12), ("enter",)),
    "work-80x24": ((80, 24), ("8", "6", ".", "5", "enter", "enter", "slash", "full_stop")),
}
"""Name -> size and the keys pressed before the picture is taken; the name of a calculator stands for those that open it."""

RUNS = {
    "pot-80x24": ("glassing", "Stir two minutes"),
    "cautions-80x24": ("glassing", "Pots to mix"),
    "readings-80x24": ("glassing", "Conditions for wet-out"),
    "readings-40x12": ("glassing", "Conditions for wet-out"),
    "section-80x24": ("bonding", "Clamps off"),
    "section-40x12": ("bonding", "Clamps off"),
    "pouring-80x24": ("glassing", "Pour the hardener"),
    "pouring-40x12": ("glassing", "Pour the hardener"),
    "summary-80x24": ("bonding", "Recipe complete"),
    "summary-40x12": ("bonding", "Recipe complete"),
}
"""Name -> the recipe and its step that stands on the bench, for shots of what the demo's own run does not show."""

_FACE = re.compile(r"\s*@font-face \{.*?\}\n", re.DOTALL)


async def shoot(name: str) -> str:
    """Return the SVG of one shot of a fresh demo."""
    from shopmate.session.demo import build
    from shopmate.settings import Settings
    from shopmate.tui.app import ShopmateApp

    now = NOW

    size, keys = SHOTS[name]
    with tempfile.TemporaryDirectory() as folder:
        os.environ["SHOPMATE_HOME"] = folder
        path = Path(folder) / "hide.shopmate"
        if name in RUNS:
            now = run_to(path, *RUNS[name])
        else:
            build(path, NOW)
        app = ShopmateApp(path, lambda: now, Settings(hold_ms=0, repeat_ms=0, settle_ms=0))
        app.watching.heard = True  # as it is once the sound was tested
        async with app.run_test(size=size) as pilot:
            await pilot.pause()
            app.bench.go_on()  # the project is opened as by somebody who comes back
            await pilot.pause(0.1)
            for key in spell_out(keys):
                await pilot.press(key)
                await pilot.pause(0.1)
            svg = app.export_screenshot(title="shopmate")
            app.desk.close()
    return plain(svg)


def run_to(path: Path, recipe: str, headline: str) -> datetime:
    """Make a project in which a recipe is followed as far as a step, a bond with epoxy; return the time a minute into it."""
    from shopmate.session import Session, find_recipe, shelf
    from shopmate.session.demo import NAME, follow

    session = Session.create(path, NAME, NOW, shelf())
    part = {"bonding": "Sill bar, window side", "glassing": "Lift roof, panel 2"}[recipe]
    session.begin(session.add_part(part, NOW), find_recipe(recipe), NOW)
    answers = {"Glue": "epoxy", "Air temperature": "25 °C", "Bottle temperature": "25 °C"}
    at = follow(session, NOW, answers, until=lambda view: view.headline == headline)
    session.close()
    return at + timedelta(minutes=1)


def spell_out(keys: tuple[str, ...]) -> Iterator[str]:
    """Yield single keys: a calculator is opened by / and the two digits of its number."""
    from shopmate import calc
    from shopmate.tui.screens.calculators import FAR

    for key in keys:
        if key in calc.names():
            yield "slash"
            yield from str(FAR + calc.names().index(key))
        else:
            yield key


def plain(svg: str) -> str:
    """Return an SVG without its web font and without the random name of its terminal."""
    svg = _FACE.sub("\n", svg)
    return re.sub(r"terminal-\d+", "terminal", svg)


def main(names: list[str]) -> Iterator[Path]:
    """Write the shots named, or all, and yield the files."""
    for name in names or list(SHOTS):
        path = Path(__file__).parent / f"{name}.svg"
        path.write_text(asyncio.run(shoot(name)), encoding="utf-8")
        yield path


if __name__ == "__main__":
    os.environ["TZ"] = "UTC"
    for written in main(sys.argv[1:]):
        print(written.name)
