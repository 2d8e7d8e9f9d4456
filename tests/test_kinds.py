"""A kind that is added and forgotten somewhere: mypy, or a test, names each place to fill."""

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
    """Return a function that adds texts to files of a copy of the package, and returns the folder of the copy."""

    def plant(texts: dict[str, str]) -> Path:
        shutil.copytree(ROOT / "shopmate", tmp_path / "shopmate", ignore=shutil.ignore_patterns("__pycache__"))
        shutil.copy2(ROOT / "pyproject.toml", tmp_path)
        if (ROOT / ".mypy_cache").is_dir():
            shutil.copytree(ROOT / ".mypy_cache", tmp_path / ".mypy_cache")
        for name, text in texts.items():
            path = tmp_path / name
            path.write_text(path.read_text(encoding="utf-8") + text, encoding="utf-8")
        return tmp_path

    return plant


EVENTS = "shopmate/session/events/noted.py"

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
