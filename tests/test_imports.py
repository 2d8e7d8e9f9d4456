"""Who may import whom: the contracts of pyproject.toml, each shown to fail when broken, and what a command really loads."""

import ast
import shutil
import subprocess
import sys
from datetime import UTC, datetime
from pathlib import Path

import pytest

from shopmate.log import SUFFIX
from shopmate.session.demo import build

ROOT = Path(__file__).parent.parent

PROBE = """
import sys
from shopmate.cli import main
code = main(sys.argv[1:]) if sys.argv[1:] else 0
print(code, *sys.modules, file=sys.stderr)
"""
"""Runs a command and names all that it loaded."""

FACES = "nothing on a face knows the application"

ONLY_TYPES = "from typing import TYPE_CHECKING\nif TYPE_CHECKING:\n    "
"""What comes before an import that is there for the types alone."""

CIRCLE = """
import graphlib, grimp
graph = grimp.build_graph("shopmate", cache_dir=None)
imports = {module: graph.find_modules_directly_imported_by(module) for module in graph.modules}
assert len(imports) > 100
try:
    graphlib.TopologicalSorter(imports).prepare()
except graphlib.CycleError as error:
    print(*error.args[1])
"""
"""Names the modules of a circle, if there is one."""

BREACHES = [
    ("shopmate/session/view.py", "import shopmate.tui", "imports run downward only"),
    ("shopmate/plain/bench.py", "import shopmate.tui.keys", "imports run downward only"),
    ("shopmate/tui/app.py", "import shopmate.plain", "imports run downward only"),
    ("shopmate/plain/lines.py", "import textual.app", "textual and rich only in tui"),
    ("shopmate/ears.py", "from shopmate import session", "imports run downward only"),
    ("shopmate/channels.py", "from shopmate import ears", "imports run downward only"),
    ("shopmate/log/chain.py", "from shopmate import clock", "imports run downward only"),
    ("shopmate/errors.py", "from shopmate import paths", "imports run downward only"),
    ("shopmate/tables/__init__.py", "import shopmate.calculator", "imports run downward only"),
    ("shopmate/tui/screens/choose.py", "from shopmate.tui.app import ShopmateApp", FACES),
    ("shopmate/tui/talk.py", f"{ONLY_TYPES}import shopmate.tui.app", FACES),
    (
        "shopmate/plain/clocks.py",
        f"{ONLY_TYPES}from shopmate.plain.bench import Plain",
        FACES,
    ),
    ("shopmate/extra.py", "from shopmate import errors", "imports run downward only"),
    ("shopmate/cli/calc.py", "import textual.app", "textual and rich only in tui"),
    ("shopmate/project/export.py", "from rich.markdown import Markdown", "textual and rich only in tui"),
    ("shopmate/calculator.py", "import pint", "pint only in units"),
    ("shopmate/session/__init__.py", "import sqlite3", "sqlite3 only in log"),
    ("shopmate/recipe/load.py", "import yaml", "yaml only in recipe.tree"),
    ("shopmate/log/chain.py", "import platformdirs", "platformdirs only in paths"),
    ("shopmate/calc/mix.py", "from time import time", "a calculator gives the same answer"),
    ("shopmate/calc/fillet.py", "import random", "a calculator gives the same answer"),
    ("shopmate/calc/extra.py", "from pathlib import Path", "a calculator gives the same answer"),
    ("shopmate/calc/extra.py", "from shopmate.calc import mix", "calculators do not import one another"),
    ("shopmate/calc/extra.py", "from shopmate.calc import run", "calculators do not run one another"),
]
"""A file, a line put into it, and the contract that has to notice."""


def lint(folder):
    command = [Path(sys.executable).with_name("lint-imports"), "--no-cache"]
    done = subprocess.run(command, cwd=folder, capture_output=True, text=True, check=False)
    # A long name of a contract is folded to the width of the terminal.
    return done.returncode, " ".join(done.stdout.split())


def modules(tmp_path, *words, typed=""):
    """Return the names of all that `shopmate` with these words has loaded when it ends, having checked that it ends well."""
    done = subprocess.run(
        [sys.executable, "-c", PROBE, *words],
        env={"SHOPMATE_HOME": str(tmp_path / "home")},
        input=typed,
        capture_output=True,
        text=True,
        check=True,
    )
    code, *names = done.stderr.splitlines()[-1].split()
    assert code == "0", done.stderr
    return set(names)


def loaded(tmp_path, *words, typed=""):
    """Return the top-level names of what `shopmate` with these words has loaded."""
    return {name.partition(".")[0] for name in modules(tmp_path, *words, typed=typed)}


def test_contracts_are_kept():
    code, said = lint(ROOT)
    assert code == 0, said
    assert " 0 broken" in said


@pytest.fixture(scope="module")
def house(tmp_path_factory):
    """A copy of the program that may be broken."""
    folder = tmp_path_factory.mktemp("house")
    shutil.copytree(ROOT / "shopmate", folder / "shopmate", ignore=shutil.ignore_patterns("__pycache__"))
    shutil.copy(ROOT / "pyproject.toml", folder)
    return folder


@pytest.mark.parametrize(("file", "line", "contract"), BREACHES, ids=[f"{file} {line}" for file, line, _ in BREACHES])
def test_a_breach_is_noticed(house, file, line, contract):
    path = house / file
    before = path.read_text(encoding="utf-8") if path.exists() else None
    try:
        path.write_text(f"{before or ''}\n{line}\n", encoding="utf-8")
        code, said = lint(house)
    finally:
        path.unlink() if before is None else path.write_text(before, encoding="utf-8")
    assert code == 1
    # The same words head the account of a broken contract and end in BROKEN in the list.
    broken = [part.rpartition(" KEPT ")[2] for part in said.split(" BROKEN")[:-1]]
    assert any(contract in part for part in broken), said


def circle(folder):
    """Return modules of the package in `folder` that import one another in a circle, for types alone included; else nothing."""
    command = [sys.executable, "-c", CIRCLE]
    done = subprocess.run(command, cwd=folder, capture_output=True, text=True, check=True)
    return set(done.stdout.split())


def test_no_modules_import_one_another_in_a_circle():
    assert circle(ROOT) == set()


@pytest.mark.parametrize(
    ("file", "line", "modules"),
    [
        ("tui/stage.py", "from shopmate.tui.screen import KeyedScreen", {"shopmate.tui.stage", "shopmate.tui.screen"}),
        ("plain/lines.py", f"{ONLY_TYPES}import shopmate.plain.talk", {"shopmate.plain.lines", "shopmate.plain.talk"}),
    ],
)
def test_a_circle_is_found(house, file, line, modules):
    path = house / "shopmate" / file
    before = path.read_text(encoding="utf-8")
    try:
        path.write_text(f"{before}\n{line}\n", encoding="utf-8")
        assert circle(house) >= modules
    finally:
        path.write_text(before, encoding="utf-8")


def test_calculators_open_nothing():
    """The contract on imports cannot see the functions that need no import."""
    calls = [
        (path.name, node.lineno, node.func.id)
        for path in (ROOT / "shopmate" / "calc").glob("*.py")
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name)
    ]
    assert calls
    assert not [call for call in calls if call[2] in {"open", "input", "print", "eval", "exec", "__import__"}]


def test_importing_the_package_loads_nothing_of_ours():
    code = "import sys; before = set(sys.modules); import shopmate; print(*(set(sys.modules) - before))"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.split() == ["shopmate"]


def test_the_command_line_is_light(tmp_path):
    heavy = {"textual", "rich", "pint", "yaml", "sqlite3", "platformdirs", "asyncio"}
    got = loaded(tmp_path, "where")
    assert {"shopmate", "argparse"} <= got
    assert not got & heavy
    assert not got & {"traceback", "linecache"}, "what reads source code comes with a fault alone"
    # The bench by itself needs no words either.
    assert not loaded(tmp_path) & (heavy | {"argparse"})


MOST_FOR_A_LOG = 54
"""Modules of ours that a log may be shown with: it took 46, and 67 while it brought recipes and the session."""


@pytest.mark.parametrize("form", ["md", "lines", "csv", "json"])
def test_exporting_a_log_loads_neither_screens_nor_recipes_nor_what_works_on_a_project(tmp_path, form):
    path = tmp_path / f"hide{SUFFIX}"
    build(path, datetime(2026, 5, 4, 8, tzinfo=UTC))
    got = modules(tmp_path, "log", str(path), "--format", form)
    assert {"sqlite3", "shopmate.project.events.steps"} <= got
    assert not got & {"textual", "rich", "pint", "yaml", "shopmate.session", "shopmate.recipe", "shopmate.dialogue"}
    assert not got & {"shutil", "difflib"}, "neither the width of the terminal nor a near name is looked for"
    assert len([name for name in got if name.startswith("shopmate.")]) <= MOST_FOR_A_LOG


@pytest.mark.parametrize("words", [["guide"], ["guide", "keys"]], ids=" ".join)
def test_reading_the_guide_loads_nothing_that_works_anything_out(tmp_path, words):
    got = modules(tmp_path, *words)
    assert "shopmate.guide" in got
    assert not got & {"textual", "rich", "pint", "yaml", "sqlite3", "platformdirs", "shutil", "shopmate.calc", "shopmate.session"}


@pytest.mark.parametrize(
    "words",
    [
        ["calc"],
        ["calc", "mix"],
        ["calc", "mix", "ratio=100:45 by weight", "total=150 g"],
        ["calc", "fillet", "length=16 ft", "radius=1/2 in"],
        ["check", *map(str, sorted((ROOT / "recipes").glob("*.yaml"))[:1])],
        ["sheet", "fillet", "--system", "inch"],
        ["where"],
    ],
    ids=lambda words: " ".join(words[:3]),
)
def test_a_command_loads_no_screens_and_converts_without_pint(tmp_path, words):
    assert not loaded(tmp_path, *words) & {"textual", "rich", "pint"}


def test_the_bench_in_lines_loads_no_screens(tmp_path):
    # A new project, a recipe begun, a calculator looked up, a table read, the shelf shown.
    typed = "1\n\n1\n3\n3\n1\n/\n1\n8\n4 mm\n/\n/\n7\n1\n\n/\n/\n6\n/\n"
    got = loaded(tmp_path, "--plain", typed=typed)
    assert "sqlite3" in got
    assert not got & {"textual", "rich", "asyncio", "pint"}


def test_the_screens_do_load_textual():
    """The tests above could not fail if the names they look for were never there."""
    code = "import sys, shopmate.tui.app; print(*sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert {"textual", "rich"} <= {name.partition(".")[0] for name in done.stdout.split()}


FIRST_STEP = """
import asyncio, sys
from datetime import UTC, datetime
from pathlib import Path
from shopmate.session import Session
from shopmate.session.demo import build
from shopmate.tui.app import ShopmateApp
path, now = Path(sys.argv[1]), datetime(2026, 5, 4, 8, tzinfo=UTC)
build(path, now)
session = Session.open(path, now, {})
session.set("system", sys.argv[2], now)
session.close()
app = ShopmateApp(path, now=lambda: now)
async def look():
    async with app.run_test(size=(120, 40)):
        print(*app.bench.view.frame.figures)
asyncio.run(look())
print(*sys.modules)
"""
"""Opens the demo, which stands at a step with a figure, in one system of units, and names what is loaded by then."""


@pytest.mark.parametrize("system", ["metric", "inch"])
def test_the_first_step_is_shown_without_pint_and_without_the_screens_of_others(tmp_path, system):
    command = [sys.executable, "-c", FIRST_STEP, str(tmp_path / f"hide{SUFFIX}"), system]
    done = subprocess.run(command, env={"SHOPMATE_HOME": str(tmp_path)}, capture_output=True, text=True, check=True)
    figures, modules = done.stdout.splitlines()
    assert figures
    assert not set(modules.split()) & {"pint", "shopmate.tui.answers", "shopmate.tui.screens.form"}
