"""Texts planted in a project of someone else's, in files and among the words typed: none of them acts on the terminal."""

from __future__ import annotations

import json
import subprocess
import sys
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from shopmate import paths
from shopmate import recipe as recipes
from shopmate.log import SUFFIX
from shopmate.session import Session
from terminal.conftest import ROOT, Open
from terminal.screen import QUIT, environment

ACTING = [chr(code) for code in (*range(1, 9), *range(0x0B, 0x20), *range(0x7F, 0xA0))] + list(
    "\u00ad\u061c\u200b\u200e\u200f\u2028\u2029\u202a\u202d\u202e\u2060\u2066\u2067\u2069\ufeff"
)
"""Characters that act on a terminal, or hide there."""

MARK = "PLANT"
"""Stands after each of them, so that it is known from what the program itself sends."""

SHORT = f"\x1b]0;{MARK}\a\x1b[31m{MARK}\x9b31m{MARK}\u202e{MARK}"
"""A text for a short place: title of the window, colours, direction."""

LONG = " ".join(f"{character}{MARK}" for character in ACTING)

RECIPE = """\
recipe: planted
title: "T{short}"
version: "1"
date: "2026-05-04"
about: "A{long}"
needs: ["N{long}"]
asks:
  - {{ask: "Measure", into: gap, unit: mm, low: 0 mm, high: 9 mm, default: 1 mm}}
sections:
  - section: "S{short}"
    mode: read-do
    steps:
      - WARNING: "W{long}"
      - do: "H{short}"
        detail: ["D{long}"]
      - do: "I{short}"
      - do: "J{short}"
      - do: "K{short}"
      - do: "L{short}"
sources:
  - {{text: "Q{long}", mark: memory}}
"""


def escaped(text: str) -> str:
    """Return a text as YAML and JSON write it with escapes."""
    return json.dumps(text)[1:-1]


def recipe_text() -> str:
    """Return a recipe in which every text holds what acts, written with escapes."""
    return RECIPE.format(short=escaped(SHORT), long=escaped(LONG))


@pytest.fixture
def planted(home: Path) -> Path:
    """A project file of someone else's, found beside the user's own; its name, parts, recipe and clocks hold what acts."""
    now = datetime.now(UTC)
    path = paths.projects() / f"P{SHORT.replace('/', '')}{SUFFIX}"
    path.parent.mkdir(parents=True)
    materials = recipes.load_shelf(recipes.typical_shelf())
    session = Session.create(path, f"P{SHORT}", now, materials)
    part = session.add_part(f"B{LONG}", now)
    session.begin(part, recipes.read(recipe_text(), "planted", kept=True), now)
    session.start_clock(f"C{SHORT}", "DO BEFORE", timedelta(minutes=30), now)
    session.close()
    for place, text in (("recipes/planted.yaml", recipe_text()), (f"recipes/R{SHORT}.yaml", "x: 1\n")):
        (home / place).parent.mkdir(exist_ok=True)
        (home / place).write_text(text, encoding="utf-8")
    return path


def acts(sent: bytes) -> list[str]:
    """Return which planted characters were sent as they are; those that no UTF-8 text holds count where they stand alone too."""
    text = sent.decode("utf-8", "surrogateescape")
    return [
        f"U+{ord(one):04X}" for one in ACTING if f"{one}{MARK}" in text or f"{one}]0;{MARK}" in text or f"{one}[31m{MARK}" in text
    ]


def test_the_bench_shows_planted_texts_without_obeying_them(terminal: Open, planted: Path) -> None:
    bench = terminal()
    bench.until_shown("[U+001B]")
    bench.send("1")
    bench.send("\r")
    bench.until_shown("W[U+0001]")  # the caution, all of it
    for key, shows in (("+", "named timer"), ("+", "seen"), ("*", "H[U+001B]")):  # the clocks, back, and the headline under it
        bench.send(key)
        bench.until_shown(shows)
    bench.send(QUIT)
    bench.look()
    assert acts(bench.drawn) == []


def test_the_list_of_recipes_and_what_is_wrong_with_them_is_shown_without_obeying(terminal: Open, planted: Path) -> None:
    bench = terminal()
    bench.until_shown("[U+001B]")
    bench.send("/")
    bench.until_shown("other work")
    bench.send(".")
    bench.choose("Start a recipe on a part")
    bench.choose("New: Panel")
    bench.until_shown("Which recipe?")
    assert acts(bench.drawn) == []


def run(home: Path, *words: str, lines: str | None = None) -> bytes:
    """Return all that a command sends to a terminal that is none."""
    environment_ = environment(home, PYTHONPATH=str(ROOT))
    done = subprocess.run(
        [sys.executable, "-m", "shopmate", *words],
        env=environment_,
        input=(lines or "").encode(),
        capture_output=True,
        timeout=60,
        check=False,
    )
    assert done.returncode in (0, 1, 2)
    assert b"Traceback" not in done.stderr
    return done.stdout + done.stderr


def test_no_command_lets_them_out(home: Path, planted: Path) -> None:
    shelf = f'shelf: own\nmaterials:\n  - {{material: "m{escaped(SHORT)}"}}\n'
    paths.shelf().write_text(shelf, encoding="utf-8")
    paths.words().write_text(f'place,text,own\nkey,back,"{SHORT}"\n', encoding="utf-8")
    paths.settings().write_text(f'{{"alarm_command": ["{escaped(SHORT)}"], "{escaped(SHORT)}": 1}}', encoding="utf-8")
    for words in (
        *(["log", str(planted), "--format", form] for form in ("md", "lines", "csv", "json")),
        ["clocks", str(planted)],
        ["clocks"],
        ["sheet", "planted"],
        ["sheet", f"x{SHORT}"],
        ["sheet", "fillet", f"{LONG}=1"],
        ["check", *map(str, sorted((home / "recipes").iterdir())), str(paths.shelf())],
        ["check", f"gone{SHORT}.yaml"],
        ["calc", LONG],
        ["calc", "drill", f"diameter={LONG}"],
        ["calc", "drill", f"{LONG}=1", f"{SHORT}", "--json"],
        ["log", LONG],
        ["copy", SHORT, "x"],
        ["table", LONG],
        [LONG],
        [f"--{SHORT}"],
        ["log", "x", "--format", SHORT],
        ["calc", "drill", "diameter=\udc9b31m" + MARK],
    ):
        sent = run(home, *words)
        assert sent
        assert acts(sent) == [], words


def test_the_bench_in_lines_says_them_without_obeying(home: Path, planted: Path) -> None:
    said = run(home, "--plain", lines=f"*\n+\n/\n/\n\n{LONG}\nhelp\nwhere\n\n\n/\n1\n{SHORT}\n/\n/\n/\nleave\n")
    assert b"[U+001B]" in said
    assert acts(said) == []
