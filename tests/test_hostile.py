"""2,000 bad inputs at every entrance, made and counted by tests/bench/hostile.py."""

import importlib.util
import sys
from collections import Counter
from pathlib import Path

import pytest

from shopmate.errors import UsageError

SCRIPT = Path(__file__).parent / "bench" / "hostile.py"


@pytest.fixture(scope="module")
def bench():
    spec = importlib.util.spec_from_file_location("hostile", SCRIPT)
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def test_no_input_gives_a_traceback_an_exit_3_a_long_wait_or_lets_anything_out(bench, home, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    inputs, faults, first = bench.hostile(2000, 1, tmp_path)
    assert (faults, first) == (Counter(), [])
    assert set(inputs) == set(bench.SHARES)
    assert sum(inputs.values()) >= 2000


def fault(chance):
    raise ZeroDivisionError


def exit_3(bench):
    def door(chance):
        raise bench.Exit3("report")

    return door


def test_what_must_not_come_of_an_input_is_counted(bench, monkeypatch, home):
    assert bench.tried(fault, None)[0] == "traceback"
    assert bench.tried(exit_3(bench), None)[0] == "exit 3"
    assert bench.tried(lambda chance: "a\x1b[31m", None) == ("let out", "U+001B")
    assert bench.tried(lambda chance: "a\n", None) == ("", "")
    monkeypatch.setattr(bench, "LONGEST", -1.0)
    assert bench.tried(lambda chance: "", None)[0] == "too long"


def test_a_command_is_tried_as_it_runs(bench, home, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    assert bench.told(lambda: (_ for _ in ()).throw(UsageError("x"))) == ""
    assert "there is no calculator 'x[U+001B]'" in bench.command("calc", "x\x1b")
    assert "usage" in bench.command("--help")
    monkeypatch.setattr(sys.modules["shopmate.cli"], "_run", fault_of_ours)
    with pytest.raises(bench.Exit3):
        bench.command("where")


def fault_of_ours(words, now):
    raise ZeroDivisionError
