"""A kind that is added and forgotten somewhere: mypy, or a test, names each place to fill."""

import ast
import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]


def run(folder: Path, *command: str) -> str:
    """Run a module of Python in a folder, on the package that stands there, and return what it says."""
    environment = {**os.environ, "PYTHONPATH": str(folder), "MYPYPATH": ""}
    done = subprocess.run([sys.executable, "-m", *command], cwd=folder, env=environment, capture_output=True, encoding="utf-8")
    return done.stdout + done.stderr


@pytest.fixture
def planted(tmp_path):
    """Return a function that changes files of a copy of the package, and returns the folder of the copy.

    It is given what is added to each file, or what takes the place of what in it.
    """

    def plant(texts: dict[str, str | dict[str, str]]) -> Path:
        shutil.copytree(ROOT / "shopmate", tmp_path / "shopmate", ignore=shutil.ignore_patterns("__pycache__"))
        shutil.copy2(ROOT / "pyproject.toml", tmp_path)
        if (ROOT / ".mypy_cache").is_dir():
            shutil.copytree(ROOT / ".mypy_cache", tmp_path / ".mypy_cache")
        for name, change in texts.items():
            path = tmp_path / name
            text = path.read_text(encoding="utf-8")
            if isinstance(change, str):
                text += change
            else:
                for old, new in change.items():
                    assert text.count(old) == 1, f"{old} in {name}"
                    text = text.replace(old, new)
            path.write_text(text, encoding="utf-8")
        return tmp_path

    return plant


def places(folder: Path, said: str) -> dict[str, set[str]]:
    """Return for each kind that mypy finds forgotten the functions in which it is."""
    found: dict[str, set[str]] = {}
    for name, line, kind in re.findall(
        r'^(\S+):(\d+): error: Argument 1 to "assert_never" has incompatible type "([^;]+)";', said, re.M
    ):
        tree = ast.parse((folder / name).read_text(encoding="utf-8"))
        around = [
            node
            for node in ast.walk(tree)
            if isinstance(node, ast.FunctionDef) and node.lineno <= int(line) <= (node.end_lineno or 0)
        ]
        found.setdefault(kind, set()).add(f"{name} {max(around, key=lambda node: node.lineno).name}")
    return found


KIND = """
@dataclass(frozen=True, slots=True)
class {name}{base}:
    \"\"\"A kind that is planted.\"\"\"


"""

MODEL, VIEW, JUDGING = "shopmate/recipe/model.py", "shopmate/session/view.py", "shopmate/session/judging.py"

PLANTED: dict[str, str | dict[str, str]] = {
    MODEL: {
        "AnswerKind = ": KIND.format(name="Photo", base="") + "AnswerKind = Photo | ",
        "When = ": KIND.format(name="Weather", base="") + "When = Weather | ",
        "JudgedBy = ": KIND.format(name="Sample", base="") + "JudgedBy = Sample | ",
        "Act = ": KIND.format(name="Look", base="") + "Act = Look | ",
        'Stands = Literal["running", ': 'Stands = Literal["paused", "running", ',
    },
    "shopmate/recipe/form.py": {'ActWord = Literal["do", ': 'ActWord = Literal["look", "do", '},
    "shopmate/models/due.py": {'ClockKind = Literal["DO BEFORE", ': 'ClockKind = Literal["AT", "DO BEFORE", '},
    JUDGING: {"InHand: TypeAlias = ": KIND.format(name="Halted", base="") + "InHand: TypeAlias = Halted | "},
    VIEW: {"View: TypeAlias = (": KIND.format(name="LookView", base="(_Framed)") + "View: TypeAlias = (\n    LookView |"},
}
"""A kind of each sort of thing that there are kinds of, and so of each union that is matched."""

TO_FILL = {
    "Look": {
        f"{JUDGING} bars", f"{JUDGING} clocks_of", f"{JUDGING} judge", f"{JUDGING} judged_by", f"{JUDGING} may_wait",
        "shopmate/session/ahead.py _coming", "shopmate/session/ahead.py _gives", "shopmate/session/doing.py _with_gain",
        "shopmate/session/bench.py answer", "shopmate/session/brief.py act", "shopmate/session/sheet.py act",
        "shopmate/session/draft.py take_step", "shopmate/session/needs.py _pass",
        "shopmate/session/viewer.py _step", "shopmate/session/viewer.py task",
    },
    "Literal['look']": {"shopmate/recipe/acts.py act"},
    "Photo": {
        "shopmate/dialogue/before.py _asked",
        "shopmate/recipe/acts.py default", "shopmate/recipe/acts.py give", "shopmate/session/doing.py answered",
        "shopmate/session/draft.py answer", "shopmate/session/viewer.py _ask",
    },
    "Sample": {
        f"{JUDGING} _held", f"{JUDGING} _rests_on", "shopmate/session/brief.py gate", "shopmate/session/sheet.py gate",
        "shopmate/session/viewer.py _gate",
    },
    "Weather": {"shopmate/session/viewer.py _condition", "shopmate/session/way.py _holds"},
    "Literal['paused']": {"shopmate/session/viewer.py _condition"},
    "Literal['AT']": {"shopmate/models/due.py closes", "shopmate/tui/widgets/clock_band.py _style"},
    "Halted": {"shopmate/session/bench.py done", "shopmate/session/bench.py pick", "shopmate/session/viewer.py view"},
    "LookView": {
        "shopmate/dialogue/step.py answers", "shopmate/dialogue/step.py _of_step", "shopmate/dialogue/step.py reasons",
        "shopmate/dialogue/step.py said", "shopmate/session/demo.py _act",
    },
}  # fmt: skip
"""Where each of them has to be filled in."""


@pytest.mark.slow
def test_mypy_names_every_place_to_fill_for_a_kind_that_is_added(planted):
    folder = planted(PLANTED)
    assert places(folder, run(folder, "mypy")) == TO_FILL


EVENTS = "shopmate/project/events/noted.py"

LACKING = '''

@dataclass(frozen=True)
class Weighed(Happened, kind="weighed", undoable=True, leaves_step=False):
    """Has neither what it does nor what is said of it."""

    grams: float


@dataclass(frozen=True)
class Sanded(Weighed, kind="sanded", undoable=True, leaves_step=False):
    """Does not say what it does."""

    def said(self) -> Said:
        return Said("Sanded")


@dataclass(frozen=True)
class Painted(Sanded, kind="painted", undoable=True, leaves_step=False):
    """Lacks an example."""

    def fold(self, project: Project, event: Recorded) -> None:
        project.parts.clear()
'''

UNDECIDED = '''

@dataclass(frozen=True)
class Planed(Happened, kind="planed"):
    """Leaves it open whether it is taken back and whether it leaves the step."""


THINGS: tuple[Happened, ...] = (Weighed(12.0), Sanded(12.0), Painted(12.0), Planed())
'''


@pytest.mark.slow
def test_mypy_names_what_a_kind_of_event_lacks(planted):
    said = run(planted({EVENTS: LACKING + UNDECIDED}), "mypy")
    assert re.findall(rf"{EVENTS}:\d+: error: (.*)  \[", said) == [
        'Missing named argument "undoable" for "__init_subclass__" of "Happened"',
        'Missing named argument "leaves_step" for "__init_subclass__" of "Happened"',
        'Cannot instantiate abstract class "Weighed" with abstract attributes "fold" and "said"',
        'Cannot instantiate abstract class "Sanded" with abstract attribute "fold"',
        'Cannot instantiate abstract class "Planed" with abstract attributes "fold" and "said"',
    ], said


NAMES = ("Weighed", "Sanded", "Painted")


def test_a_test_names_what_a_kind_of_event_lacks(planted):
    folder, tests = planted({EVENTS: LACKING}), ROOT / "tests" / "test_events.py"
    said = run(folder, "pytest", "-c", str(folder / "pyproject.toml"), str(tests), "-k", "all_that_a_kind_needs")
    at = rf"of {re.escape(str(folder / EVENTS))}"
    for lacking in (
        f"Weighed {at}: write fold, said",
        f"Sanded {at}: write fold",
        *(
            f"{name} {at}: give an example of it in EXAMPLES of {re.escape(str(tests))}"
            for name in ("Weighed", "Sanded", "Painted")
        ),
    ):
        assert len(re.findall(rf"^E .*{lacking}$", said, re.MULTILINE)) == 1, said
    assert "1 failed" in said
