"""Every shipped recipe followed from start to end by the keys of a keypad, in the real program."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest
from shipped_run import IN_MONTHS

from shopmate import cli, paths, units
from shopmate.models.due import closes
from shopmate.project.place import Place
from shopmate.recipe import Ask, Recipe, Start, Step
from shopmate.session import FinishedView, find_recipe
from terminal.follower import Follower
from terminal.ways import WAYS, Way

# Newer interpreters warn of a fork beside threads of other tests; the child at once becomes another program.
pytestmark = [pytest.mark.slow, pytest.mark.filterwarnings("ignore:.*multi-threaded.*fork:DeprecationWarning")]


SHIPPED = sorted(path.stem for path in paths.shipped_recipes().glob("*.yaml"))


@pytest.mark.parametrize("name", SHIPPED)
def test_a_shipped_recipe_is_followed_to_its_end_by_keys(name: str, home: Path, capsys: pytest.CaptureFixture[str]) -> None:
    recipe, way = find_recipe(name), WAYS.get(name, Way())
    with closing(Follower(home, way.answers, way.pace)) as follower:
        follower.begin(recipe.title)
        follower.follow()
        follower.terminal.until_shown("other work")
        end = " ".join(follower.terminal.picture.split())
        check_run(follower)
    assert follower.keys.total() <= way.most, dict(follower.keys)
    assert cli.main(["log", "project-1", "--format", "json"]) == 0
    events = json.loads(capsys.readouterr().out)["events"]
    check_clocks(recipe, events)
    check_used(recipe, events, end)


def test_the_table_names_shipped_recipes() -> None:
    assert set(SHIPPED) >= WAYS.keys()


def check_run(follower: Follower) -> None:
    """Hold the run to have come to its end with nothing overridden, odd, late, left for later or left to ring for nothing."""
    run = follower.session.run
    assert isinstance(follower.view, FinishedView)
    assert {run.headline_at(at): why for at, why in run.overrides.items()} == {}
    assert follower.odd == []
    assert [run.headline_at(at) for at, mark in run.marks.items() if mark.late_s is not None] == []
    assert not run.for_later
    assert {clock.title for clock in follower.session.clocks if closes(clock.kind)} <= IN_MONTHS


def check_clocks(recipe: Recipe, events: Sequence[Mapping[str, Any]]) -> None:
    """Hold the log to clocks that the recipe declares: each as it says, none left out that hangs on nothing."""
    begun = [event for event in events if event["kind"] == "done" and "clock" in event["data"]]
    for event in begun:
        act, clock = step_at(recipe, event["data"]["place"]).act, event["data"]["clock"]
        assert isinstance(act, Start)
        assert (clock["name"], clock["kind"], clock["title"]) == (act.clock, act.kind, act.title)
        assert clock["seconds"] > 0
    always = {step.act.clock for step in recipe.steps if isinstance(step.act, Start) and not step.when}
    assert always <= {event["data"]["clock"]["name"] for event in begun}


def check_used(recipe: Recipe, events: Sequence[Mapping[str, Any]], end: str) -> None:
    """Hold what the log says was used to what was poured by the readings in it, and the screen at the end to the log."""
    (finished,) = [event["data"] for event in events if event["kind"] == "finished"]
    used, weighed = finished.get("used", ()), finished.get("weighed", {})
    told = [words for words in finished.get("shown", "").split("; ") if any(one["title"] in words for one in used)]
    assert len(told) == len(used)
    assert [words for words in told if words not in end] == []
    assert [one["title"] for one in used if "amount" not in one] == [], "how much of it is not known"
    assert {name: grams(mass) for name, mass in weighed.items()} == pytest.approx(
        {name: poured(recipe, events, name) for name in weighed}
    )
    by_scale = [one for one in used if "weighed" in one]
    # A trial counts at its planned mass, which no reading gives.
    tried = {use.material for use in recipe.uses if not use.weighed} & {use.material for use in recipe.uses if use.weighed}
    short = [one["title"] for one in by_scale if one["weighed"] != one["amount"]]
    assert len(short) == len(tried), "some of it was not weighed"
    on_the_scale = sum(map(grams, weighed.values()))
    assert sum(grams(one["weighed"]) for one in by_scale) == pytest.approx(on_the_scale), "some of it is no material's"


def poured(recipe: Recipe, events: Sequence[Mapping[str, Any]], name: str) -> float:
    """Return the sum of the last readings of each turn that go by a name, in g."""
    adding = {step.act.into for step in recipe.steps if isinstance(step.act, Ask) and step.act.adds_to == name}
    last: dict[int, float] = {}
    for event in events:
        for value, read in event["data"].get("values", {}).items():
            if value in adding:
                last[Place.parse(event["data"]["place"]).turn] = grams(read)
    return sum(last.values())


def grams(amount: Mapping[str, str]) -> float:
    """Return a mass of the log in g."""
    return units.parse(amount["text"], amount["unit"]).value_in("g")


def step_at(recipe: Recipe, place: str) -> Step:
    """Return the step of a place as the log writes it: section, turn, step."""
    at = Place.parse(place)
    return recipe.sections[at.section].steps[at.step]
