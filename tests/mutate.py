"""Change the program in one place at a time and see whether the closest tests notice: what they let pass, they do not hold.

`python tests/mutate.py --count 200 --seed 1` draws the changes, the same ones for the same seed and source; `--only units`
keeps to an area or a part of a path. Each change is made in a copy of the checkout, in a temporary folder; the checkout itself
is never written to. Ends non-zero when fewer than `--floor` % of the changes are found. Runs on Linux and macOS.
"""

from __future__ import annotations

import argparse
import ast
import csv
import os
import random
import re
import resource
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from collections import Counter, defaultdict
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import chain
from pathlib import Path

ROOT = Path(__file__).parents[1]
KNOWN = Path(__file__).with_suffix(".csv")
"""Changes that no test can find, or should: the text of the line, the change, and why."""

AREAS = {"calc": "calc", "models": "calc", "calculator": "calculator", "result": "calculator", "units": "units",
         "clock": "clock", "times": "clock", "log": "log", "project": "session", "session": "session", "recipe": "recipe",
         "ears": "ears", "tui": "guard"}  # fmt: skip
"""Module or package of shopmate -> area whose changes are drawn together; of tui, the guard alone."""

OF_A_CALCULATOR = ("test_cards", "test_calc", "test_checks", "test_thresholds", "test_said_figures", "test_sweep", "test_picture")
"""Tests that take each calculator in turn; of these only its own cases are run."""

NEAR = {
    "calculator": ("test_calc", "test_checks", "tui/test_result", "tui/test_numbers", "tui/test_entry"),
    "units": ("test_units", "test_calc", "tui/test_numbers"),
    "clock": ("test_clock", "test_aging", "test_ears", "test_wall", "test_session", "test_time_machine"),
    "log": ("test_log", "test_damage", "test_half_typed", "test_session_record"),
    "session": (
        "test_session*", "test_project", "session/*", "test_holds", "test_for_later", "test_half_typed", "test_pace",
        "test_turns", "test_aging", "test_wall", "test_before_mixing", "test_curve", "test_export", "test_sheet", "test_shelf",
        "test_lock", "tui/test_step_panel", "test_demo", "test_shipped_recipes", "test_time_machine",
        "test_checkpoint",
    ),
    "recipe": (
        "test_recipe*", "test_shelf", "recipe/*", "test_turns", "test_holds", "test_pace", "test_sheet", "test_before_mixing",
        "test_session", "test_shipped_recipes",
    ),
    "ears": ("test_ears", "test_watch"),
    "guard": ("tui/test_guard", "tui/test_keys_screen"),
}  # fmt: skip
"""The closest tests of each area, after those named like the module: those that find the more first."""
FIRST = 2
"""Files of tests that are run by themselves at first: they find most of what is ever found, and the others take time to load."""

OPTIONS = ("-x", "--tb=no", "-rfE", "-p", "no:cacheprovider", "-p", "pytest_asyncio.plugin")

SECONDS_MORE, TIMES_LONGER = 10, 4
"""A change is taken for endless, and found, when its tests take this many times as long as without it, and these seconds more."""
MOST_MEMORY = 6 << 30
"""Bytes of address space a run may ask for, so that an endless list stops it and not the machine."""

EACH_AREA = 40
"""One in so many changes, and one at the minimum, is drawn from each area whatever its size; the rest go by size."""


# The changes

COMPARED = {ast.Lt: ast.LtE, ast.LtE: ast.Lt, ast.Gt: ast.GtE, ast.GtE: ast.Gt, ast.Eq: ast.NotEq, ast.NotEq: ast.Eq,
            ast.Is: ast.IsNot, ast.IsNot: ast.Is, ast.In: ast.NotIn, ast.NotIn: ast.In}  # fmt: skip
REVERSED = {ast.Lt: ast.GtE, ast.LtE: ast.Gt, ast.Gt: ast.LtE, ast.GtE: ast.Lt}
RECKONED = {ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.Div, ast.Div: ast.Mult, ast.FloorDiv: ast.Div, ast.Mod: ast.Mult,
            ast.Pow: ast.Mult}  # fmt: skip
CALLED = {"min": "max", "max": "min", "any": "all", "all": "any", "ceil": "floor", "floor": "ceil"}
AROUND = 80
"""Characters of what a changed number stands in that are shown with it; of something longer the number alone is shown."""
SHOWN = 120
"""Characters shown of what is changed."""

Put = Callable[[ast.AST], None]


@dataclass(frozen=True)
class Site:
    """A place in a module that can be changed, in one of several ways."""

    line: int
    ways: tuple[tuple[str, Callable[[], None]], ...]
    """What each changes, in words, and a function that makes the change in the tree."""


def sites(tree: ast.Module) -> list[Site]:
    """Return the places of a module, in the order of its text."""
    return list(_within(tree, lambda _: None, None, None))


def _within(node: ast.AST, put: Put, parent: ast.AST | None, line: int | None) -> Iterator[Site]:
    """Yield the places of a node and of what it holds; `line` is that of the text with fields the node stands in."""
    if _is_left_out(node):
        return
    at = line or getattr(node, "lineno", 0)
    ways = [_way(node, put, other, parent) for other in _others(node, parent)]
    if isinstance(node, ast.Constant):
        if ways:  # one place, so that numbers are not drawn three times as often
            yield Site(at, tuple(ways))
    else:
        yield from (Site(at, (way,)) for way in ways)
    if isinstance(node, ast.JoinedStr):
        line = at
    for name, value in ast.iter_fields(node):
        if name in ("annotation", "returns", "decorator_list", "format_spec"):
            continue
        if isinstance(value, ast.AST):
            yield from _within(value, lambda new, name=name: setattr(node, name, new), node, line)
        elif isinstance(value, list):
            for number, item in enumerate(value):
                if isinstance(item, ast.AST):
                    yield from _within(item, lambda new, value=value, number=number: value.__setitem__(number, new), node, line)


def _is_left_out(node: ast.AST) -> bool:
    """Return whether a node is left as it is: imports for types, worked examples (checks themselves), what is never reached."""
    match node:
        case ast.If(ast.Name("TYPE_CHECKING")) | ast.Call(ast.Name("Example" | "assert_never")):
            return True
        case ast.Raise(ast.Name(name) | ast.Call(ast.Name(name))):
            return name in ("AssertionError", "NotImplementedError")
    return False


def _way(node: ast.AST, put: Put, other: ast.AST, parent: ast.AST | None) -> tuple[str, Callable[[], None]]:
    shown = node
    if isinstance(node, ast.Constant) and parent and not isinstance(parent, ast.Slice) and len(ast.unparse(parent)) <= AROUND:
        shown = parent
    before = _short(shown)
    put(other)
    after = _short(shown if shown is not node else other)
    put(node)
    return (f"{before} removed" if isinstance(other, ast.Pass) else f"{before} -> {after}", lambda: put(other))


def _short(node: ast.AST) -> str:
    text = " ".join(ast.unparse(node).split())
    return text if len(text) <= SHOWN else f"{text[:SHOWN]}..."


def _others(node: ast.AST, parent: ast.AST | None) -> Iterator[ast.AST]:
    """Yield what may stand in the place of a node."""
    match node:
        case ast.Constant(value=bool(value)):
            yield ast.Constant(not value)
        case ast.Constant(value=int(value) | float(value)):
            one_more = [value + 1] if abs(value) <= 100 else []  # of a large number no test needs to tell so little
            yield from (ast.Constant(other) for other in dict.fromkeys((value * 2, *one_more, 0)) if other != value)
        case ast.Compare(left, operators, comparators):
            for number, operator in enumerate(operators):
                for table in (COMPARED, REVERSED):
                    if other := table.get(type(operator)):
                        yield ast.Compare(left, [*operators[:number], other(), *operators[number + 1 :]], comparators)
        case ast.BinOp(left, operator, right) if type(operator) in RECKONED:
            yield ast.BinOp(left, RECKONED[type(operator)](), right)
        case ast.BoolOp(operator, values):
            yield ast.BoolOp(ast.And() if isinstance(operator, ast.Or) else ast.Or(), values)
        case ast.UnaryOp(ast.Not() | ast.USub(), operand):
            yield operand
        case ast.IfExp(test, body, orelse):
            yield ast.IfExp(test, orelse, body)
        case ast.Call(ast.Name(name), arguments, keywords) if name in CALLED:
            yield ast.Call(ast.Name(CALLED[name]), arguments, keywords)
        case ast.Call(ast.Attribute(owner, name), arguments, keywords) if name in CALLED:
            yield ast.Call(ast.Attribute(owner, CALLED[name]), arguments, keywords)
    if isinstance(node, ast.expr) and _is_condition(node, parent):
        yield ast.UnaryOp(ast.Not(), node)
    if isinstance(node, ast.stmt):
        yield from _other_statements(node)


def _is_condition(node: ast.expr, parent: ast.AST | None) -> bool:
    """Return whether a node decides something and is not turned round already, as a comparison and a `not` are."""
    if isinstance(node, ast.Compare) or (isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.Not)):
        return False
    match parent:
        case ast.If(test) | ast.While(test):
            return test is node
        case ast.comprehension(ifs=conditions):
            return node in conditions
    return False


def _other_statements(node: ast.stmt) -> Iterator[ast.AST]:
    match node:
        case ast.AugAssign(target, operator, value) if type(operator) in RECKONED:
            yield ast.AugAssign(target, RECKONED[type(operator)](), value)
            yield ast.Pass()
        case ast.Raise() | ast.Continue() | ast.Break() | ast.AugAssign() | ast.Return(None) | ast.Delete():
            yield ast.Pass()
        case ast.Expr(ast.Call(called)) if ast.unparse(called) != "assert_never":
            yield ast.Pass()
        case ast.Assign([ast.Attribute() | ast.Subscript()]):
            yield ast.Pass()
        case ast.Return(value) if not (isinstance(value, ast.Constant) and value.value is None):
            yield ast.Return(ast.Constant(None))


@dataclass(frozen=True)
class Change:
    """One change to one module."""

    path: Path
    """Of the module, from the root of the checkout."""
    line: int
    text: str
    """Of that line, without its indent."""
    what: str
    site: int
    way: int

    def made(self, source: str) -> str:
        """Return the text of the module with the change made."""
        tree = ast.parse(source)
        sites(tree)[self.site].ways[self.way][1]()
        return ast.unparse(ast.fix_missing_locations(tree))


@cache
def changes(path: Path) -> list[list[Change]]:
    """Return what can be changed in a module: at each place, every way."""
    source = (ROOT / path).read_text(encoding="utf-8")
    lines = source.splitlines()
    return [
        [Change(path, site.line, lines[site.line - 1].strip(), what, number, way) for way, (what, _) in enumerate(site.ways)]
        for number, site in enumerate(sites(ast.parse(source)))
    ]


def area(path: Path) -> str | None:
    """Return the area of a module, None where nothing of it is changed."""
    parts = path.with_suffix("").parts[1:]
    if parts[0] == "tui" and parts[1:] != ("guard",):
        return None
    return AREAS.get(parts[0])


def modules() -> dict[str, list[Path]]:
    """Return the modules of each area, from the root of the checkout."""
    found: dict[str, list[Path]] = defaultdict(list)
    for path in sorted((ROOT / "shopmate").rglob("*.py")):
        inside = path.relative_to(ROOT)
        if (name := area(inside)) is not None:
            found[name].append(inside)
    return dict(found)


def draw(count: int, seed: int, only: str = "") -> list[Change]:
    """Return as many changes, at one place each, drawn from the areas (or the one, or the paths that hold `only`)."""
    chance = random.Random(seed)
    pools = {}
    for name, paths in modules().items():
        kept = [path for path in paths if only in (name, "") or only in path.as_posix()]
        pools[name] = list(chain.from_iterable(changes(path) for path in kept))
        chance.shuffle(pools[name])
    places = sum(map(len, pools.values()))
    if not places:
        raise SystemExit(f"nothing to change in {only!r}; areas: {', '.join(pools)}")
    each = max(count // EACH_AREA, 1)
    drawn = [pool.pop() for pool in pools.values() for _ in range(min(len(pool), each))][:count]
    others = sorted(chain.from_iterable(pools.values()), key=lambda ways: (ways[0].path, ways[0].site))
    chance.shuffle(others)
    ways = sorted(drawn + others[: count - len(drawn)], key=lambda ways: (ways[0].path, ways[0].site))
    return [chance.choice(way) for way in ways]


# The tests


@dataclass(frozen=True)
class Tests:
    """Tests to run: their files, and the name that those to be run hold."""

    files: tuple[str, ...]
    name: str = ""

    def in_turn(self) -> list[Tests]:
        """Return the first files, and the others to be loaded only where these let a change pass."""
        return [Tests(files, self.name) for files in (self.files[:FIRST], self.files[FIRST:]) if files]


def closest(path: Path) -> Tests:
    """Return the closest tests of a module, those that find the more first."""
    parts = path.with_suffix("").parts[1:]
    stem = parts[-1] if parts[-1] != "__init__" else parts[-2]
    if parts[0] == "calc" and len(parts) > 1 and parts[1] != "__init__":
        return _tests((f"calc/test_{parts[1]}*", *OF_A_CALCULATOR), parts[1])
    if parts[0] == "models":
        return _tests((f"models/test_{stem}*", f"test_{stem}*", *_users(stem), "test_thresholds"))
    if parts[0] == "calc":
        return _tests(("test_calc", "test_checks"))
    near = NEAR[area(path) or ""]
    return _tests((f"test_{stem}", f"*/test_{stem}", *near))


def _users(model: str) -> list[str]:
    """Return the tests that import a model themselves, then those of the modules that do."""
    imports = re.compile(rf"^from shopmate\.models(?:\.{model}\b| import .*\b{model}\b)", re.MULTILINE)

    def using(folder: Path) -> list[Path]:
        files = (path for path in sorted(folder.rglob("*.py")) if imports.search(path.read_text(encoding="utf-8")))
        return [path.relative_to(folder).with_suffix("") for path in files]

    modules = using(ROOT / "shopmate")
    of_modules = [f"{path.parent}/test_{path.stem}*" for path in modules]
    of_packages = [f"test_{path.parts[0]}*" for path in modules if path.parts[0] not in ("calc", "models")]
    return [path.as_posix() for path in using(ROOT / "tests")] + of_modules + of_packages


@cache
def _tests(patterns: tuple[str, ...], name: str = "") -> Tests:
    tests = ROOT / "tests"
    found = chain.from_iterable(sorted(tests.glob(f"{pattern}.py")) for pattern in patterns)
    quick = (file for file in found if file.name.startswith("test_") and "terminal" not in file.parts)
    files = dict.fromkeys(file.relative_to(ROOT).as_posix() for file in quick)
    return Tests(tuple(files), name)


class Copy:
    """A copy of the checkout in which changes are made and tests run."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder / "checkout"
        self._home = folder / "home"
        self._usual: dict[Tests, float] = {}
        """Seconds the tests take with nothing changed."""
        self.broken: list[str] = []
        """Tests that fail with nothing changed, and are left out."""
        shutil.copytree(ROOT, self.folder, ignore=shutil.ignore_patterns(".*", "__pycache__", "build", "dist"))

    def found_by(self, change: Change) -> str:
        """Return the test that finds a change, '' when none does."""
        return next((found for tests in closest(change.path).in_turn() if (found := self._found(change, tests))), "")

    def _found(self, change: Change, tests: Tests) -> str:
        if tests not in self._usual:
            self._usual[tests] = self._seconds(tests)
        module = self.folder / change.path
        before, status = module.read_text(encoding="utf-8"), module.stat()
        module.write_text(change.made(before), encoding="utf-8")
        # Another second, else a change of the same length would be passed over for what was compiled before.
        os.utime(module, (status.st_atime, status.st_mtime + 10))
        try:
            return self._run(tests, SECONDS_MORE + TIMES_LONGER * self._usual[tests])
        finally:
            module.write_text(before, encoding="utf-8")
            os.utime(module, ns=(status.st_atime_ns, status.st_mtime_ns))

    def _seconds(self, tests: Tests) -> float:
        """Return how long tests take with nothing changed, without those that fail so."""
        began = time.monotonic()
        while failing := self._run(tests, None):
            if failing in self.broken or "::" not in failing:
                raise SystemExit(f"with nothing changed, no test can run:\n{failing}")
            self.broken.append(failing)
            began = time.monotonic()
        return time.monotonic() - began

    def _run(self, tests: Tests, seconds: float | None) -> str:
        """Return the first test that fails, or why none could run; '' when all pass. What is compiled is kept without a limit."""
        own = {"HOME": str(self._home), "SHOPMATE_HOME": str(self._home / "shopmate"), "PYTHONPATH": str(self.folder)}
        quick = {"PYTEST_DISABLE_PLUGIN_AUTOLOAD": "1", "PYTHONDONTWRITEBYTECODE": "" if seconds is None else "1"}
        options = [*OPTIONS, f"--basetemp={self._home / 'tmp'}", *(f"--deselect={name}" for name in self.broken)]
        options += ["-k", tests.name] if tests.name else []
        self._home.mkdir(exist_ok=True)
        process = subprocess.Popen(
            [sys.executable, "-m", "pytest", *options, *tests.files],
            cwd=self.folder,
            env={**os.environ, **own, **quick},
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
            start_new_session=True,
            preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_AS, (MOST_MEMORY, MOST_MEMORY)),
        )
        try:
            said, _ = process.communicate(timeout=seconds)
        except subprocess.TimeoutExpired:
            os.killpg(process.pid, signal.SIGKILL)
            process.communicate()
            return "the time limit"
        if process.returncode in (0, 5):  # 5: no test of that name in these files
            return ""
        if failed := re.search(r"^(?:FAILED|ERROR) (.+?)(?: - .*)?$", said, re.MULTILINE):
            return failed[1]
        return "no test could run" if seconds is not None else said


# What is told


def known() -> dict[tuple[str, str], str]:
    """Return why changes that no test finds are let be: text of the line and change -> why."""
    with KNOWN.open(encoding="utf-8", newline="") as file:
        return {(row["line"], row["change"]): row["why"] for row in csv.DictReader(file)}


def tell(tried: Sequence[tuple[Change, str]]) -> float:
    """Print the rate of each area and of all, and the changes not found with why; return the rate in %."""
    every = Counter(area(change.path) for change, _ in tried)
    kills = Counter(area(change.path) for change, found in tried if found)
    print()
    for name, count in every.items():
        print(f"{name:<12}{kills[name]:>5} of {count:>4}")
    rate = 100 * kills.total() / len(tried)
    print(f"{'all':<12}{kills.total():>5} of {len(tried):>4} found, {rate:.1f} %")
    why = known()
    for change, found in tried:
        if not found:
            print(f"{change.path}:{change.line}  {change.what}\n    {why.get((change.text, change.what), 'NOT EXPLAINED')}")
    return rate


def main() -> int:
    parser = argparse.ArgumentParser(description="Change the program in one place at a time.")
    parser.add_argument("--count", type=int, default=200, help="how many changes; 200 if not given")
    parser.add_argument("--seed", type=int, default=1, help="another seed draws other changes")
    parser.add_argument("--only", default="", metavar="NAME", help="an area or a part of a path")
    parser.add_argument("--floor", type=float, default=90, help="end non-zero under this rate in %%; 90 if not given")
    parser.add_argument("--list", action="store_true", help="print the changes drawn, make none")
    options = parser.parse_args()
    drawn = draw(options.count, options.seed, options.only)
    if options.list:
        for change in drawn:
            print(f"{change.path}:{change.line}  {change.what}")
        return 0
    os.nice(10)
    signal.signal(signal.SIGTERM, lambda *_: sys.exit("stopped"))  # so that the copy does not stay
    tried = []
    with tempfile.TemporaryDirectory(prefix="mutate-") as folder:
        copy = Copy(Path(folder))
        for change in drawn:
            began = time.monotonic()
            found = copy.found_by(change)
            tried.append((change, found))
            verdict = f"found by {found}" if found else "NOT FOUND"
            print(f"{change.path}:{change.line}  {change.what}  {verdict}  {time.monotonic() - began:.1f} s", flush=True)
    for name in copy.broken:
        print(f"left out, since it fails with nothing changed: {name}")
    return 0 if tell(tried) >= options.floor and not copy.broken else 1


if __name__ == "__main__":
    sys.exit(main())
