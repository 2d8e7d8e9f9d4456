"""What a run used: as weighed where it was weighed, spilled pots and a run given up included, as planned elsewhere."""

from pathlib import Path

import pytest
from conftest import BEGAN, materials
from small_recipe import small_recipe

from shopmate import recipe as recipes
from shopmate.errors import FileProblems
from shopmate.log import Log
from shopmate.session import EndView, Session, find_recipe
from shopmate.session.demo import follow
from shopmate.session.needs import needs

RECIPE = small_recipe(
    "roll",
    """
uses:
  - {material: "{resin}", amount: 100 g, times: "{coats}", waste: 10 %, weighed: "{poured}"}
  - {material: Silica, amount: 5 g}
  - {material: Wax, amount: 7 g}
asks:
  - {ask: Choose the resin, into: resin, shelf: resin, default: epoxy-2to1-slow}
  - {ask: Count the coats, into: coats, count: [1, 6], default: "2"}
sections:
  - section: Coat
    mode: read-do
    repeat: {each: coat, times: coats}
    until: Stop when it is full.
    steps:
      - do: Stir the tin
      - {ask: Weigh the pot, into: pot, unit: g, default: 60 g, adds_to: poured}
      - do: Roll it on
      - do: Wash the roller
      - do: Sweep the floor
  - section: Close
    mode: do-confirm
    steps:
      - {ask: Weigh the wax, into: lump, unit: g, default: 9 g}
      - do: Close the door
      - do: Write the label
      - do: Tent the work
      - do: Put the tins away
""",
)


def at(text=RECIPE, until=lambda view: isinstance(view, EndView), **answers):
    """Follow a recipe to a view, its end unless another is given; return the session."""
    session = Session(Log(Path("rehearsal.shopmate"), in_memory=True), materials())
    recipe = find_recipe(text) if text.isalpha() else recipes.read(text, "roll.yaml", "roll")
    session.begin(session.add_part("Strip", BEGAN), recipe, BEGAN)
    follow(session, BEGAN, answers, until=until)
    return session


def over(session, *, given_up=False):
    """End the run; return the amount and what was weighed of each material by the log, and the line of the summary."""
    now = session.run.last_at
    if given_up:
        session.give_up(now)
    else:
        session.done(now)
    kept = session.log.events()[-1].data
    found = {
        one["title"]: (one["amount"]["text"], one["weighed"]["text"] if "weighed" in one else None)
        for one in kept.get("used", ())
    }
    return found, [line for line in session.view(now).frame.detail if line.startswith(("Used: ", "Weighed: "))]


RESIN = "Epoxy 2:1 by volume, slow"


@pytest.mark.parametrize(("pot", "sum_"), [("150 g", "300 g"), ("40 g", "80 g")], ids=["more", "less"])
def test_what_was_weighed_is_used_not_what_was_planned(pot, sum_):
    # Planned: 2 coats of 100 g and 10 % more are 220 g.
    session = at(**{"Weigh the pot": pot})
    assert [use.amount.value_in("g") for use in needs(session._judge(session.run.last_at).values)] == [220, 5, 7]
    found, said = over(session)
    assert found == {RESIN: (sum_, sum_), "Silica": ("5 g", None), "Wax": ("7 g", None)}
    assert said == [f"Used: {RESIN}: {sum_} weighed; Silica: 5 g planned; Wax: 7 g planned"]


def test_a_sum_without_a_reading_leaves_what_was_planned():
    text = RECIPE.replace("into: pot, unit: g", "when: {faces: two}, into: pot, unit: g").replace(
        "sections:", "  - {ask: Choose the faces, into: faces, choices: {one: One, two: Two}, default: one}\nsections:", 1
    )
    found, said = over(at(text))
    assert found[RESIN] == ("220 g", None)
    assert said[0].startswith(f"Used: {RESIN}: 220 g planned; ")


def test_of_a_run_given_up_only_what_was_weighed_is_used():
    session = at(until=lambda view: view.headline == "Roll it on", **{"Weigh the pot": "90 g"})
    assert over(session, given_up=True) == ({RESIN: ("90 g", "90 g")}, [f"Used: {RESIN}: 90 g weighed"])


def test_of_a_run_given_up_before_anything_was_weighed_nothing_is_used():
    session = at(until=lambda view: view.headline == "Weigh the pot")
    assert over(session, given_up=True) == ({}, [])


def test_a_material_weighed_in_part_says_how_much_of_it():
    # 120 g of two pots, and 5 g that the recipe plans for, of the same resin.
    found, said = over(at(RECIPE.replace("material: Silica", 'material: "{resin}"')))
    assert found[RESIN] == ("125 g", "120 g")
    assert said == [f"Used: {RESIN}: 125 g, 120 g of it weighed; Wax: 7 g planned"]


def test_what_no_material_is_weighed_by_is_told_by_the_name_of_its_sum():
    found, said = over(at(RECIPE.replace(', weighed: "{poured}"', "")))
    assert found[RESIN] == ("220 g", None)
    assert said[1] == "Weighed: poured 120 g total"


def test_a_spilled_pot_was_used_too():
    session = at("fillet", until=lambda view: view.headline == "Stir two minutes")
    lost = session.run.values["fillet_reading"].quantity.value_in("g")
    session.spill(session.run.last_at)
    follow(session, session.run.last_at, {}, until=lambda view: isinstance(view, EndView))
    mixed = sum(session.run.values[name].quantity.value_in("g") for name in ("fillet_mixed", "tape_mixed"))
    found, said = over(session)
    amount, weighed = found[RESIN]
    assert amount == weighed
    assert float(amount.split()[0]) == pytest.approx(mixed + lost)
    assert f" weighed, {lost:g} g of it spilled; Fumed silica: " in said[0]
    assert len(said) == 1


@pytest.mark.parametrize("recipe", ["fillet", "glassing", "bonding"])
def test_every_pot_of_a_shipped_recipe_is_one_materials(recipe):
    use = [name for use in find_recipe(recipe).uses for name in use.weighed]
    sums = {step.act.adds_to for step in find_recipe(recipe).steps if getattr(step.act, "adds_to", None)}
    assert sorted(use) == sorted(sums)
    assert sums


@pytest.mark.parametrize(
    ("weighed", "said"),
    [
        ("{coats}", "'{coats}' is not the name of a sum"),
        ("poured", "'poured' is not the name of a sum"),
        ("{poured} {pot}", "'{poured} {pot}' is not the name of a sum"),
    ],
)
def test_what_is_no_sum_is_told(weighed, said):
    with pytest.raises(FileProblems) as caught:
        recipes.read(RECIPE.replace("{poured}", weighed), "roll.yaml", "roll")
    assert said in [problem.what for problem in caught.value.problems]


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("amount: 100 g", "amount: 2 m", "'{poured}' is mass, not length"),
        ("amount: 5 g", 'amount: 5 g, weighed: ["{poured}"]', "'{poured}' measures another entry too"),
    ],
)
def test_a_sum_measures_one_entry_and_what_that_is_measured_in(old, new, said):
    with pytest.raises(FileProblems) as caught:
        recipes.read(RECIPE.replace(old, new), "roll.yaml", "roll")
    assert [problem.what for problem in caught.value.problems] == [said]
