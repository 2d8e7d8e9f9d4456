"""What is left on the shelf: enough or short before a run, lowered at its end, given back with it, and what a full disk does."""

import errno
import os
from pathlib import Path

import pytest
from conftest import BEGAN, materials
from small_recipe import small_recipe
from test_shelf import OWN

from shopmate import paths
from shopmate import recipe as recipes
from shopmate.errors import FileProblems, ShopmateError
from shopmate.log import Log
from shopmate.records import replace
from shopmate.session import EndView, Session, shelf
from shopmate.session.demo import follow
from shopmate.session.remainder import lowered
from shopmate.units import Quantity

SLOW = "epoxy-2to1-slow"
TITLE = "Epoxy 2:1 by volume, slow"

RECIPE = small_recipe(
    "roll",
    """
uses:
  - {material: "{resin}", amount: 600 g, weighed: "{poured}"}
  - {material: "{cloth}", amount: 2 m}
  - {material: Wax, amount: 7 g}
asks:
  - {ask: Choose the resin, into: resin, shelf: resin, default: epoxy-2to1-slow}
  - {ask: Choose the cloth, into: cloth, shelf: cloth, default: glass-200-plain}
sections:
  - section: Coat
    mode: read-do
    repeat: {each: coat, times: "2"}
    until: Stop when it is full.
    steps:
      - do: Stir the tin
      - {ask: Weigh the pot, into: pot, unit: g, default: 250 g, adds_to: poured}
      - do: Roll it on
      - do: Wash the roller
      - do: Sweep the floor
""",
)


@pytest.fixture
def bench(home):
    """A project with a run at its end, of which two pots of 250 g were weighed; 1.2 kg of the resin are on the shelf."""
    recipes.save_material(paths.shelf(), replace(materials()[SLOW], left="1.2 kg"))
    session = Session.create(home / "shed.shopmate", "Shed", BEGAN, shelf())
    session.begin(session.add_part("Strip", BEGAN), read(), BEGAN)
    follow(session, BEGAN, {}, until=lambda view: isinstance(view, EndView))
    yield session
    session.close()


def read(text=RECIPE):
    return recipes.read(text, "roll.yaml", "roll")


def done(session):
    return session.done(session.run.last_at)


def told(session):
    return session.view(session.run.last_at).frame.detail


def before(left, home, system="metric"):
    recipes.save_material(paths.shelf(), replace(materials()[SLOW], left=left))
    session = Session.create(home / "before.shopmate", "Before", BEGAN, shelf(), system)
    lines = session.before("Strip", read(), {}, BEGAN)
    session.close()
    return lines


def changes(session):
    return [(one.data["material"], one.data["was"], one.data["now"]) for one in session.log.events() if one.kind == "shelf"]


# The file


@pytest.mark.parametrize(
    ("left", "said"),
    [
        ("2 m", "'m' measures length, not mass"),
        ("-1 kg", "-1 kg is below the minimum, 0 kg"),
        ("1.2", "left 1.2 has no unit"),
        ("some", "'some' has no number in front"),
    ],
)
def test_what_is_no_amount_of_its_kind_is_told(left, said):
    text = OWN.replace('title: "Own epoxy"', f'title: "Own epoxy"\n    left: {left}')
    with pytest.raises(FileProblems) as caught:
        recipes.read_shelf(text, "shelf.yaml")
    assert [problem.what for problem in caught.value.problems] == [said]


def test_what_is_left_has_a_line_of_its_own_and_the_rest_of_the_file_stays(tmp_path):
    file = tmp_path / "shelf.yaml"
    file.write_text(OWN, encoding="utf-8")
    own = recipes.read_shelf(OWN, "")["epoxy-own"]
    recipes.save_material(file, replace(own, left="1.2 kg"))
    head, sheet, rest = OWN.partition("sheet: Sheet of 2026-05-01\n")
    assert file.read_text(encoding="utf-8") == f"{head}{sheet}    left: 1.2 kg\n{rest}"
    recipes.save_material(file, replace(own, left="0.7 kg"))
    assert file.read_text(encoding="utf-8") == f"{head}{sheet}    left: 0.7 kg\n{rest}"
    recipes.save_material(file, own)
    assert file.read_text(encoding="utf-8") == OWN


def test_a_copy_has_none_of_what_is_left_of_the_other():
    like = replace(materials()[SLOW], left="1.2 kg")
    assert recipes.copied(like, "Mine", {SLOW: like}).left == ""


# Before


@pytest.mark.parametrize(
    ("left", "said"),
    [
        ("600 g", f"Uses: {TITLE}: 600 g needed, 600 g left: enough; "),
        ("599 g", f"{TITLE}: 600 g needed, 599 g left: short by 1 g"),
        ("0 kg", f"{TITLE}: 600 g needed, 0 g left: short by 600 g"),
        ("", f"Uses: {TITLE}: 600 g; "),
    ],
)
def test_before_a_run_is_said_whether_it_is_enough(home, left, said):
    lines = before(left, home)
    assert len([line for line in lines if line.startswith(said)]) == 1
    assert sum(TITLE in line and "600 g" in line for line in lines) == 1, "each need once"


@pytest.mark.parametrize("system", ["metric", "inch"])
def test_what_is_left_is_told_in_the_unit_of_the_need(home, system):
    # An ounce is 28.3495 g; a scale reads grams in a project in inches too.
    lines = before("10 oz", home, system)
    assert [line for line in lines if "short by" in line] == [f"{TITLE}: 600 g needed, 283.5 g left: short by 316.5 g"]


def test_what_is_counted_by_something_else_is_told_without_a_verdict(home):
    recipes.save_material(paths.shelf(), replace(materials()["glass-200-plain"], left="3 m"))
    text = RECIPE.replace("amount: 2 m}", "amount: 2 m²}")
    session = Session.create(home / "a.shopmate", "A", BEGAN, shelf())
    assert any("; Glass cloth" in line and ": 2 m²; " in line for line in session.before("Strip", read(text), {}, BEGAN))
    session.close()


# The end


def test_the_end_lowers_it_by_what_was_weighed_and_the_log_says_so(bench):
    done(bench)
    assert shelf()[SLOW].left == bench.shelf[SLOW].left == "0.7 kg"
    assert changes(bench) == [(SLOW, "1.2 kg", "0.7 kg")]
    assert not any("not lowered" in line for line in told(bench))


def test_what_was_planned_lowers_too_and_what_nobody_counts_stays(bench):
    recipes.save_material(paths.shelf(), replace(materials()["glass-200-plain"], left="10 m"))
    done(bench)
    assert shelf()["glass-200-plain"].left == "8 m"


def test_more_than_there_was_leaves_nothing_and_gives_back_what_there_was(bench):
    recipes.save_material(paths.shelf(), replace(materials()[SLOW], left="450 g"))
    done(bench)
    assert shelf()[SLOW].left == "0 g"
    bench.take_back(bench.run.last_at)
    assert shelf()[SLOW].left == "450 g"


def test_a_run_given_up_lowers_by_what_was_weighed(bench):
    bench.give_up(bench.run.last_at)
    assert shelf()[SLOW].left == "0.7 kg"


def test_taking_back_the_end_gives_it_back_once(bench):
    done(bench)
    bench.take_back(bench.run.last_at)
    assert bench.run.finished_at is None
    assert shelf()[SLOW].left == "1.2 kg"
    done(bench)
    assert shelf()[SLOW].left == "0.7 kg"
    bench.take_back(bench.run.last_at)
    assert shelf()[SLOW].left == "1.2 kg"
    bench.take_back(bench.run.last_at)  # a step before the end, which took nothing
    assert shelf()[SLOW].left == "1.2 kg"


def test_it_is_given_back_in_a_project_opened_again(bench, home):
    done(bench)
    at = bench.run.last_at
    bench.close()
    again = Session.open(home / "shed.shopmate", at, shelf())
    again.take_back(at)
    assert shelf()[SLOW].left == "1.2 kg"
    again.close()


def test_what_was_bought_meanwhile_stays_when_the_end_is_taken_back(bench):
    done(bench)
    recipes.save_material(paths.shelf(), replace(materials()[SLOW], left="5.7 kg"))
    bench.take_back(bench.run.last_at)
    assert shelf()[SLOW].left == "6.2 kg"


def test_a_rehearsal_takes_nothing_off_the_shelf(home):
    recipes.save_material(paths.shelf(), replace(materials()[SLOW], left="1.2 kg"))
    session = Session(Log(Path("rehearsal.shopmate"), in_memory=True), shelf())
    session.begin(session.add_part("Strip", BEGAN), read(), BEGAN)
    follow(session, BEGAN, {}, until=lambda view: isinstance(view, EndView))
    done(session)
    assert shelf()[SLOW].left == "1.2 kg"


# What cannot be written


@pytest.fixture
def full(monkeypatch):
    """A disk on which no shelf can be written."""

    def sync(handle):
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(os, "fsync", sync)


def test_a_full_disk_ends_the_run_leaves_the_shelf_as_it_was_and_says_so(bench, full):
    kept = paths.shelf().read_bytes()
    done(bench)
    assert bench.run.finished_at is not None
    assert paths.shelf().read_bytes() == kept
    assert [path.name for path in paths.shelf().parent.glob("*shelf*")] == [paths.shelf().name]
    assert changes(bench) == []
    assert told(bench)[1].startswith(f"{TITLE}: the amount left on the shelf was not updated: ")
    assert "No space left on device" in told(bench)[1]


def test_nothing_is_given_back_that_was_not_taken(bench, monkeypatch):
    with monkeypatch.context() as broken:
        broken.setattr(recipes, "save_material", refuse)
        done(bench)
    bench.take_back(bench.run.last_at)
    assert shelf()[SLOW].left == "1.2 kg"
    done(bench)
    assert shelf()[SLOW].left == "0.7 kg"
    assert not any("not lowered" in line for line in told(bench))


def test_what_could_not_be_given_back_is_said_and_the_run_goes_on(bench, monkeypatch):
    done(bench)
    monkeypatch.setattr(recipes, "save_material", refuse)
    words = bench.take_back(bench.run.last_at)
    assert words.endswith("; the amount used was not added back to the shelf: the file is read-only")
    assert bench.run.finished_at is None


def refuse(*_, **__):
    raise ShopmateError("the file is read-only")


def test_a_shelf_that_would_lose_its_comments_is_left_alone(bench):
    figures = ", ".join(f'{name}: "{value}"' for name, value in materials()[SLOW].figures.items())
    text = (
        f"# mine\nshelf: own\nmaterials: [{{material: {SLOW}, kind: resin, title: Slow, sheet: mine, left: 1.2 kg, "
        f"figures: {{{figures}}}}}]\n"
    )
    paths.shelf().write_text(text, encoding="utf-8")
    done(bench)
    assert bench.run.finished_at is not None
    assert paths.shelf().read_text(encoding="utf-8") == text
    assert "loses its comments" in told(bench)[1]


def test_what_is_used_by_something_else_than_it_is_counted_in_is_said(bench):
    recipes.save_material(paths.shelf(), replace(materials()["foam-2lb"], left="3 kg"))
    with pytest.raises(ShopmateError, match="the shelf has it in kg, but it was used in m"):
        lowered(shelf()["foam-2lb"], Quantity(2, "m"))
