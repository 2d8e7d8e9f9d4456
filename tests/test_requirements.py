"""The requirements for hands, eyes and ears: each is shown by a test that exists, or by a line of the guide."""

import ast
import csv
import functools
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
COUNTS = {"S": 12, "K": 18, "N": 8, "C": 18, "A": 17, "T": 6, "X": 5}
"""How many requirements each group has: screen, keys, numbers, checklists, alarms, time, limited terminals."""

with (ROOT / "tests" / "requirements.csv").open(encoding="utf-8", newline="") as _file:
    ROWS = {row["id"]: row for row in csv.DictReader(_file)}


@functools.cache
def named_in(path: str) -> frozenset[str]:
    """The names of the test functions of a file, those in classes and state machines as `Name.method` or `Name`."""
    tree = ast.parse((ROOT / path).read_text(encoding="utf-8"))
    names = set()
    for node in tree.body:
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            names.add(node.name)
        elif isinstance(node, ast.Assign):  # a state machine's test case
            names.update(target.id for target in node.targets if isinstance(target, ast.Name))
    return frozenset(name for name in names if name.lower().startswith("test"))


@functools.cache
def guide() -> str:
    """What the guide says of setting up and of alarms, its blanks made one."""
    pages = (ROOT / "shopmate" / "guide" / f"{name}.md" for name in ("setup", "ears"))
    return " ".join(" ".join(page.read_text(encoding="utf-8").split()) for page in pages)


def test_all_of_them_are_listed_once_and_in_order():
    assert list(ROWS) == [f"{group}{number}" for group, count in COUNTS.items() for number in range(1, count + 1)]
    assert sum(COUNTS.values()) == 84
    assert all(row["requirement"].strip() for row in ROWS.values())


@pytest.mark.parametrize("name", [f"{group}{number}" for group, count in COUNTS.items() for number in range(1, count + 1)])
def test_each_is_shown(name):
    shown = [part.strip() for part in ROWS[name]["shown_by"].split(";") if part.strip()]
    assert shown, f"{name} is shown by nothing: {ROWS[name]['requirement']}"
    for part in shown:
        if part.startswith("guide:"):
            words = part.removeprefix("guide:").strip()
            assert words, f"{name}: which line of the guide?"
            assert words in guide(), f"{name}: the guide does not say {words!r}"
            continue
        path, _, test = part.partition("::")
        assert (ROOT / path).is_file(), f"{name}: there is no {path}"
        assert test in named_in(path), f"{name}: {path} has no {test}"
