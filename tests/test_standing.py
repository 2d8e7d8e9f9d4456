"""Where recipes stand in the build of a part: their order, the next one a part is ready for, and how the list says it."""

from dataclasses import replace

import pytest
from conftest import every_step
from held import Held, Place

from shopmate import paths, times
from shopmate.dialogue import work
from shopmate.dialogue.asking import UNUSED
from shopmate.session import build_order, missing, next_for
from shopmate.session.demo import follow


def recipe(name, makes="", *after):
    return replace(every_step(), name=name, title=name.title(), makes=makes, after=after)


BUILD = [
    recipe("assembly", "assembled", "sheathed"),
    recipe("check"),
    recipe("fillet", "filleted", "assembled"),
    recipe("frame", "framed"),
    recipe("glassing", "sheathed", "skinned"),
    recipe("prep", "prepared"),
    recipe("skins", "skinned", "framed"),
]
"""By name, as their files lie in the folder."""


def names(recipes):
    return [one.name for one in recipes]


def test_each_recipe_comes_after_those_that_make_what_it_wants():
    assert names(build_order(BUILD)) == ["frame", "check", "prep", "skins", "glassing", "assembly", "fillet"]


def test_recipes_that_wait_for_each_other_are_listed_all_the_same():
    round_ = [recipe("a", "one", "two"), recipe("b", "two", "one"), recipe("c", "three", "two")]
    assert sorted(names(build_order(round_))) == ["a", "b", "c"]


@pytest.mark.parametrize(
    ("states", "ready"),
    [
        ((), ["frame", "prep"]),
        (("framed",), ["skins", "prep"]),
        (("framed", "skinned"), ["glassing", "prep"]),
        # One skinned elsewhere: what it is ready for comes before what it is past.
        (("skinned",), ["glassing", "frame", "prep"]),
        (("framed", "prepared", "skinned", "sheathed", "assembled", "filleted"), []),
    ],
)
def test_a_part_is_ready_for_what_it_has_every_state_for_and_has_not_had(states, ready):
    assert names(next_for(build_order(BUILD), states)) == ready


def test_what_a_part_lacks_is_named_in_its_order():
    painted = recipe("paint", "painted", "faired", "sheathed")
    assert missing(painted, {"sheathed"}) == ["faired"]
    assert missing(painted, ()) == ["faired", "sheathed"]
    assert missing(painted, ("sheathed", "faired")) == []


@pytest.mark.parametrize("draws", [True, False])
def test_the_list_says_what_is_next_and_where_each_recipe_stands_to_the_part(home, draws):
    folder = paths.user_recipes()
    folder.mkdir(parents=True)
    text = (paths.shipped_recipes() / "surface-prep.yaml").read_text(encoding="utf-8")
    for name, beyond in (
        ("rub", "makes: rubbed"),
        ("oil", "makes: oiled\nafter: [rubbed]"),
        ("wax", "makes: waxed\nafter: [oiled]"),
    ):
        mine = text.replace("recipe: surface-prep", f"recipe: {name}").replace("Prepare a surface", name.title())
        (folder / f"{name}.yaml").write_text(mine.replace("makes: prepared", beyond), encoding="utf-8")
    desk = Place(draws=draws).begin()
    Held(work.begin(desk), "New: Panel", "rub", "begin")
    desk.at = follow(desk.session, desk.at, {}, until=lambda _: desk.session.run.finished_at is not None)
    held = Held(work.begin(desk), "Panel 1", None)
    first, *rest = [each() for each in held.asked[-1].filling]
    assert (first.key, first.title) == ("oil", "Next: Oil to bond or coat")
    told = {item.key: item.note for item in rest}
    at = times.wall(desk.session.run.finished_at, desk.at)
    assert (told["rub"], told["oil"], told["wax"]) == (f"done {at}", "ready", "once it is oiled")
    assert [key for key in told if key in ("rub", "oil", "wax")] == ["rub", "oil", "wax"]
    desk.close()


def test_where_nothing_is_next_its_number_stays_free(home, monkeypatch):
    monkeypatch.setattr(work, "next_for", lambda *_: [])
    desk = Place().begin()
    held = Held(work.begin(desk), "New: Panel", None)
    first, second, *_ = [each() for each in held.asked[-1].filling]
    assert first is UNUSED
    assert second.title
    desk.close()
