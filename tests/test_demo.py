"""The demo: invented and saying so, acted out by the recipes themselves, with its clocks running when it is opened."""

import os
import subprocess
import sys
from datetime import timedelta
from types import SimpleNamespace

import pytest
from conftest import BEGAN, materials

from shopmate import clock as clocks_
from shopmate import paths
from shopmate.calculator import Measure, RatioKind
from shopmate.clock import State
from shopmate.session import EndView, FinishedView, Session, curve, events_of, missing
from shopmate.session.demo import NAME, _likely, build, demo_project


@pytest.fixture(scope="module")
def built(tmp_path_factory):
    path = tmp_path_factory.mktemp("demo") / "hide.shopmate"
    build(path, BEGAN)
    return path


@pytest.fixture
def demo(built, tmp_path):
    path = tmp_path / built.name
    path.write_bytes(built.read_bytes())
    session = Session.open(path, BEGAN, materials())
    yield session
    session.close()


def test_it_says_that_it_is_invented():
    assert "invented" in NAME
    assert "demo" in NAME.lower()


def test_a_pot_is_going_off_when_it_opens(demo):
    ruling = clocks_.governing(demo.clocks, BEGAN)
    assert (ruling.kind, ruling.title) == ("DO BEFORE", "Seal coat pot")
    assert timedelta(minutes=1) <= BEGAN - ruling.started_at < timedelta(minutes=1, seconds=1)
    assert ruling.due_at - BEGAN > timedelta(minutes=15), "there is time to look round"
    assert clocks_.state(ruling, BEGAN) is State.ARMED
    assert demo.tick(BEGAN) == []
    assert not isinstance(demo.view(BEGAN), EndView | FinishedView)


def test_a_part_is_finished_one_waits_for_its_clamps_one_is_in_hand_and_one_is_planned(demo):
    runs = list(demo.project.runs.values())
    *finished, window, panel = runs
    assert demo.project.name == NAME
    assert all(run.finished_at is not None for run in finished)
    assert (window.part, window.recipe.name, window.finished_at) == ("Sill bar, window side", "bonding", None)
    assert window.step.headline == "Wait out the clamp time"
    assert (demo.run.key, panel.recipe.name, panel.finished_at) == (panel.key, "glassing", None)
    (plan,) = demo.project.plans.values()
    assert (plan.part, plan.recipe) == ("Rear hatch", "seal")


def test_at_least_eight_recipes_have_been_used_and_none_was_overridden(demo):
    assert len({run.recipe.name for run in demo.project.runs.values()}) >= 8
    for run in demo.project.runs.values():
        assert not [mark.shown for mark in run.marks.values() if mark.shown.startswith("overridden: ")]
        assert not [mark for mark in run.marks.values() if mark.late_s]


def test_the_panel_in_hand_has_been_through_what_comes_before(demo):
    had = [state.text for state in demo.project.states[demo.run.part]]
    assert had == ["framed", "skinned", "cored", "edged"]
    assert not missing(demo.run.recipe, had)


def test_clamps_of_the_same_day_go_by_a_shop_that_has_warmed(demo):
    """Its curve shows something the first time it is asked for: readings on either side of the start, and what they moved."""
    (clamps,) = [clock for clock in demo.clocks if clock.aging is not None]
    assert len(demo.clocks) == 2
    assert (clamps.kind, clamps.title) == ("NOT BEFORE", "Clamps off")
    assert timedelta(hours=4) < BEGAN - clamps.started_at < timedelta(hours=8)
    assert BEGAN < clamps.due_at < BEGAN + timedelta(hours=15)
    assert clamps.moved_from > clamps.due_at
    read = [celsius for at, celsius in demo.project.readings if at > clamps.started_at]
    assert len(read) in (3, 4, 5)
    assert read == sorted(set(read))
    assert not demo.wants_temperature(BEGAN)
    drawn = curve.shop(demo.project.readings, demo.project.clocks.values(), BEGAN, "metric")
    (shop,) = [item for item in drawn.curves if item.material.startswith("shop")]
    assert len({celsius for _, celsius in shop.points}) >= 4
    assert "Clamps off: NOT BEFORE" in drawn.words


def test_nothing_in_it_is_of_the_future_or_out_of_order(built):
    at = [event.at for event in events_of(built)]
    assert at == sorted(at)
    assert at[-1] <= BEGAN
    assert BEGAN - at[0] < timedelta(days=33), "longer than the first parts and a cartridge take to cure"


def test_it_is_the_same_every_time(built, tmp_path):
    build(tmp_path / "again.shopmate", BEGAN)
    assert events_of(tmp_path / "again.shopmate") == events_of(built)


def test_every_calculated_figure_in_it_is_what_the_calculator_gives(built):
    """The recorded results come from running the calculators, not from being written down."""
    results = [event.data["result"] for event in events_of(built) if "result" in event.data]
    assert {"mix", "bondline", "dewpoint", "laminate"} <= {result["calculator"] for result in results}
    for result in results:
        if result["calculator"] == "mix":
            out = {name: output["value"] for name, output in result["outputs"].items() if output["value"] is not None}
            assert out["scale_hardener"] == pytest.approx(out["scale_resin"] + out["hardener"], rel=1e-6)


def test_it_is_opened_again_on_the_same_day_and_begun_anew_later(home):
    path = demo_project(BEGAN)
    assert path.parent == paths.demo() == home / "demo"
    os.utime(path, (BEGAN.timestamp(),) * 2)
    count = len(events_of(path))
    assert demo_project(BEGAN + timedelta(hours=11)) == path
    assert len(events_of(path)) == count
    later = BEGAN + timedelta(hours=13)
    other = demo_project(later)
    assert other != path
    assert path.exists()
    session = Session.open(other, later, materials())
    (pot,) = [clock for clock in session.clocks if clock.kind == "DO BEFORE" and clock.name.endswith("life")]
    assert timedelta(minutes=1) <= later - pot.started_at < timedelta(minutes=1, seconds=1)
    ((clock, _),) = curve.pots(session.project)
    assert clock == pot
    session.close()
    os.utime(other, (later.timestamp(),) * 2)
    assert demo_project(later + timedelta(seconds=1), fresh=True) not in (path, other)


def test_it_is_begun_anew_twice_in_a_second(home):
    paths_made = [demo_project(BEGAN, fresh=True) for _ in range(3)]
    assert len(set(paths_made)) == 3


BUILDS_UNTIL_KILLED = """
import os, sys
from datetime import datetime
from shopmate.log import Log
from shopmate.session.demo import demo_project
append, left = Log.append, int(sys.argv[2])
def dies(self, *what, **more):
    global left
    left -= 1
    if left < 0:
        os._exit(9)
    return append(self, *what, **more)
Log.append = dies
demo_project(datetime.fromisoformat(sys.argv[1]))
"""


@pytest.mark.parametrize("events", [0, 1, 40])
def test_a_demo_half_built_when_killed_is_never_opened(home, events):
    """The program that builds it is ended after so many events; the next one builds it whole and leaves nothing beside."""
    words = [sys.executable, "-c", BUILDS_UNTIL_KILLED, BEGAN.isoformat(), str(events)]
    assert subprocess.run(words, check=False).returncode == 9
    assert list(paths.demo().glob("*.shopmate")) == []
    path = demo_project(BEGAN)
    assert [file.name for file in paths.demo().iterdir()] == [path.name]
    assert len(events_of(path)) > 40


@pytest.mark.parametrize(
    ("entry", "likely"),
    [
        (Measure("g"), "12 g"),
        (Measure("g", soft_low=10), "12 g"),
        (Measure("g", soft_high=20), "12 g"),
        (RatioKind(), "12 g"),
        (Measure("g", soft_low=10, soft_high=20), "15 g"),
    ],
)
def test_who_acts_it_out_answers_the_middle_of_what_is_usual_else_what_is_expected(entry, likely):
    assert _likely(SimpleNamespace(entry=entry, expected="12 g")) == likely
