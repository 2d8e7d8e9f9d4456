"""One Enter on a result stays cheap: the functions it calls are counted as tests/bench/calls.py counts and prints them."""

import importlib.util
from pathlib import Path

import pytest

SCRIPT = Path(__file__).parents[1] / "bench" / "calls.py"


@pytest.fixture
def bench():
    spec = importlib.util.spec_from_file_location("calls", SCRIPT)
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


async def test_one_enter_on_a_result_calls_a_third_of_what_it_did_or_less(bench, home, now):
    calls = await bench.on_screen(bench.at_step(now), now)
    assert sum(calls.ours.values()) <= bench.BEFORE["screen"] // 3, calls.ours.most_common(20)
