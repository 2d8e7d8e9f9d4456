"""A recipe edited while a run follows it: offered at the next section with what changed, taken up, declined, or past it."""

from datetime import timedelta

import pytest
from conftest import BEGAN, materials
from held import Held, Place
from tui_bench import opened

from shopmate import paths
from shopmate.dialogue import edited
from shopmate.session import EnterView, Session, find_recipe
from shopmate.session.demo import follow

NAME = "rub"
RECIPE = """
recipe: rub
title: Rub a strip
version: "1"
date: "2026-05-01"
about: Rubs a strip of nothing, for a try.
needs: [Rag]
asks:
  - {ask: Side, into: side, choices: {inner: Inner, outer: Outer}, default: inner}
sections:
  - section: First
    mode: read-do
    steps:
      - do: Lay it down
      - do: Hold it flat
  - section: Second
    mode: read-do
    steps:
      - do: Rub it once
      - do: Turn it over
      - ask: Weight
        into: weight
        unit: g
        low: 1 g
        high: 900 g
        default: 10 g
  - section: Third
    mode: read-do
    steps:
      - do: Put it away
sources:
  - {text: Invented, mark: memory}
"""


@pytest.fixture
def file(home):
    """The file of a recipe of the user's own."""
    path = paths.user_recipes() / f"{NAME}.yaml"
    path.parent.mkdir(parents=True)
    path.write_text(RECIPE, encoding="utf-8")
    return path


@pytest.fixture
def project(home, file):
    """The file of a project with a run that is about to begin its second section."""
    path = home / "projects" / "shed.shopmate"
    session = Session.create(path, "Shed", BEGAN, materials())
    session.begin(session.add_part("Strip 1", BEGAN), find_recipe(NAME), BEGAN)
    follow(session, BEGAN, {}, until=lambda view: view.headline == "Rub it once")
    session.close()
    return path


@pytest.fixture
def bench(project):
    session = Session.open(project, BEGAN + timedelta(hours=1), materials())
    yield session
    session.close()


def edit(file, *changes):
    text = file.read_text(encoding="utf-8")
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    file.write_text(text, encoding="utf-8")


TWICE = ("      - do: Rub it once\n", "      - do: Mask the rim\n      - do: Rub it twice\n")


def test_what_was_not_edited_is_not_offered(bench, file):
    assert bench.edition() is None
    edit(file, ("version:", "# a comment\nversion:"))
    bench.done(BEGAN + timedelta(hours=1))
    assert bench.edition() is None


def test_what_changed_is_told_and_the_run_goes_on_by_it(bench, file, project):
    edit(file, TWICE, ("Put it away", "Hang it up"))
    found = bench.edition()
    assert found.fits
    assert found.changes == (
        "Second: new 'Mask the rim', new 'Rub it twice', removed 'Rub it once'",
        "Third: new 'Hang it up', removed 'Put it away'",
    )
    now = BEGAN + timedelta(hours=1)
    bench.go_on_by(found, now)
    assert bench.view(now).headline == "Mask the rim"
    assert bench.edition() is None, "it is offered once"
    follow(bench, now, {}, until=lambda view: view.headline == "Hang it up")
    bench.close()
    with_it = Session.open(project, now, materials())
    assert with_it.view(now).headline == "Hang it up"
    (event,) = [event for event in with_it.log.events() if event.kind == "edited"]
    assert event.data["shown"].startswith("Second: new 'Mask the rim'")
    assert with_it.run.values["side"].text == "inner", "what was answered before stays"
    with_it.close()


def test_it_is_taken_back_like_anything_that_was_done(bench, file):
    edit(file, TWICE)
    now = BEGAN + timedelta(hours=1)
    bench.go_on_by(bench.edition(), now)
    bench.take_back(now)
    assert bench.view(now).headline == "Rub it once"
    assert bench.run.recipe.sections[2].steps[0].headline == "Rub it once"
    assert bench.edition() is not None, "the offer was taken back too, so it stands again"


def test_one_that_is_declined_is_not_offered_again_but_the_next_edit_is(bench, file, project):
    edit(file, TWICE)
    now = BEGAN + timedelta(hours=1)
    bench.stay(bench.edition(), now)
    assert (bench.edition(), bench.view(now).headline) == (None, "Rub it once")
    follow(bench, now, {}, until=lambda view: view.headline == "Put it away")
    assert bench.edition() is None, "nothing that is still to be done was changed"
    bench.close()
    edit(file, ("Put it away", "Hang it up"))
    again = Session.open(project, now, materials())
    assert again.edition().changes == ("Third: new 'Hang it up', removed 'Put it away'",)
    again.close()


def test_in_the_middle_of_a_section_nothing_is_offered(bench, file):
    now = BEGAN + timedelta(hours=1)
    bench.done(now)
    edit(file, ("Put it away", "Hang it up"))
    assert bench.edition() is None
    follow(bench, now, {}, until=lambda view: view.headline == "Put it away")
    assert bench.edition() is not None


def test_nothing_is_asked_while_something_must_be_done_in_time(bench, file):
    edit(file, TWICE)
    now = BEGAN + timedelta(hours=1)
    bench.start_clock("Pot", "DO BEFORE", timedelta(minutes=20), now)
    assert bench.edition() is None
    (clock,) = bench.clocks
    bench.end_clock(clock.key, now)
    assert bench.edition() is not None


@pytest.mark.parametrize(
    ("change", "fits"),
    [
        (("Lay it down", "Lay it down flat"), True),  # only the words of what was done
        (("      - do: Lay it down\n", ""), False),
        (("into: side, choices: {inner: Inner,", "into: side, choices: {inside: Inner,"), False),
    ],
)
def test_it_fits_where_what_was_done_has_the_same_steps_and_answers(bench, file, change, fits):
    edit(file, TWICE, change, *([("default: inner", "default: inside")] if "inside" in change[1] else []))
    assert bench.edition().fits == fits


def test_one_that_does_not_fit_is_told_once(home, project, file):
    edit(file, TWICE, ("      - do: Lay it down\n", ""))
    desk = Place()
    desk.at = BEGAN + timedelta(hours=1)
    desk.open(project)
    held = Held(edited.offer(desk))
    assert held.said == ["'Rub a strip' was edited, but this run is too far along to use it", "Keeping the recipe as it was"]
    assert desk.session.edition() is None
    desk.close()


@pytest.mark.parametrize(("keys", "goes_on_at"), [("E", "Mask the rim"), ("-", "Rub it once")])
async def test_the_bench_offers_it_and_one_key_decides(project, file, now, keys, goes_on_at):
    edit(file, TWICE)
    now.at = BEGAN + timedelta(minutes=2)
    async with opened(now, project) as at:
        assert "'Rub a strip' was edited. Use it from here on?" in " ".join(at.text.split())
        assert "new 'Mask the rim'" in " ".join(at.text.split())
        await at.press(keys)
        assert at.view.headline == goes_on_at
        assert "was edited" not in at.text
        await at.press("E")
        assert "was edited" not in at.text
        assert not isinstance(at.view, EnterView)
