"""Changes are made where tests have to hold, the same ones at each draw, and the closest tests find one that matters."""

import ast
from itertools import chain
from pathlib import Path

import mutate
import pytest


def ways(source):
    return {what for site in mutate.sites(ast.parse(source)) for what, _ in site.ways}


@pytest.mark.parametrize(
    ("source", "whats"),
    [
        ("a < b", {"a < b -> a <= b", "a < b -> a >= b"}),
        ("0 < a", {"0 < a -> 0 <= a", "0 < a -> 0 >= a", "0 < a -> 1 < a"}),
        ("a <= b == c", {"a <= b == c -> a < b == c", "a <= b == c -> a > b == c", "a <= b == c -> a <= b != c"}),
        ("a == b", {"a == b -> a != b"}),
        ("a is not None", {"a is not None -> a is None"}),
        ("a * b - c", {"a * b -> a / b", "a * b - c -> a * b + c"}),
        ("a and b or c", {"a and b -> a or b", "a and b or c -> (a and b) and c"}),
        ("not a", {"not a -> a"}),
        ("c = min(a, b)", {"min(a, b) -> max(a, b)"}),
        ("c = math.ceil(a)", {"math.ceil(a) -> math.floor(a)"}),
        ("limit = 8", {"limit = 8 -> limit = 16", "limit = 8 -> limit = 9", "limit = 8 -> limit = 0"}),
        ("limit = 1000", {"limit = 1000 -> limit = 2000", "limit = 1000 -> limit = 0"}),
        ("shown = True", {"shown = True -> shown = False"}),
        ("a if b else c", {"a if b else c -> c if b else a"}),
        ("if a: b", {"a -> not a"}),
        ("[a for a in b if c]", {"c -> not c"}),
        ("a += b", {"a += b -> a -= b", "a += b removed"}),
        ("def f():\n    return a", {"return a -> return None"}),
        ("ring()", {"ring() removed"}),
        ("self.a = b", {"self.a = b removed"}),
        ("f'{a / b:.1f} mm'", {"a / b -> a * b"}),
        ("raise Wrong(a) from None", {"raise Wrong(a) from None removed"}),
    ],
)
def test_each_way_to_change(source, whats):
    assert ways(source) == whats


@pytest.mark.parametrize(
    "source",
    [
        "'Keep fire away'",
        "a: Literal[1, 2]",
        "@cache(maxsize=8)\ndef f(a: int = None) -> Literal[1]: pass",
        "if TYPE_CHECKING:\n    limit = 8",
        "assert_never(a)",
        "raise AssertionError",
        "examples = (Example(inputs={}, outputs={'a': 1}),)",
        "return None",
    ],
)
def test_texts_types_and_what_is_never_reached_stay(source):
    assert not ways(source)


def changes(path):
    return [change for places in mutate.changes(Path(path)) for change in places]


def test_a_change_is_made_at_its_place_alone():
    change = next(change for change in changes("shopmate/ears.py") if change.what == "passed / half -> passed * half")
    source = (mutate.ROOT / change.path).read_text(encoding="utf-8")
    lines = zip(ast.unparse(ast.parse(source)).splitlines(), change.made(source).splitlines(), strict=True)
    changed = [after.strip() for before, after in lines if before != after]
    assert changed == ["return half is None or round(passed * half) % 2 == 0"]


def test_a_draw_is_the_same_each_time_and_takes_every_area():
    drawn = mutate.draw(10, seed=1)
    assert drawn == mutate.draw(10, seed=1)
    assert drawn != mutate.draw(10, seed=2)
    assert len(drawn) == 10
    assert {mutate.area(change.path) for change in drawn} == set(mutate.AREAS.values())


def test_every_module_that_can_be_changed_has_tests():
    for path in chain.from_iterable(mutate.modules().values()):
        assert mutate.closest(path).files or not mutate.changes(path), path


def test_what_is_let_be_is_still_there_to_be_changed():
    here = {(change.text, change.what) for path in chain.from_iterable(mutate.modules().values()) for change in changes(path)}
    assert not mutate.known().keys() - here


def test_a_change_that_matters_is_found_and_taken_back(tmp_path):
    copy = mutate.Copy(tmp_path)
    change = next(change for change in changes("shopmate/ears.py") if change.what == "now + QUIET -> now - QUIET")
    assert copy.found_by(change).startswith("tests/test_ears.py::")
    assert (copy.folder / change.path).read_bytes() == (mutate.ROOT / change.path).read_bytes()
