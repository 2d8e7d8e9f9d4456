"""Hardener over-poured, followed in lines: what is said, the reading that mends it, and what the log keeps."""

import re

from conftest import BEGAN, materials
from plain_talk import Talk

from shopmate.log import Log
from shopmate.session import Session, find_recipe
from shopmate.session.demo import follow
from shopmate.session.viewer import condition


def at_the_hardener(path, now):
    """Follow a glue of epoxy in two pots up to its first hardener, and return g of resin and of hardener for it."""
    session = Session(Log(path, create=True), materials())
    session.name("Rehearsal", "metric", BEGAN)
    session.begin(session.add_part("Part", BEGAN), find_recipe("bonding"), BEGAN)
    given = {"Glue": "epoxy", "Bond length": "8 m", "Its minutes": "30 min"}
    reached = follow(session, BEGAN, given, until=lambda view: view.headline == "Pour the hardener")
    now.on(seconds=(reached - now()).total_seconds())
    masses = [session.run.values[name].quantity.value_in("g") for name in ("glue_poured", "glue_pot.hardener")]
    session.close()
    return masses


def test_resin_to_match_is_the_one_reading_that_mends_a_pot(tmp_path, now):
    path = tmp_path / "p.shopmate"
    resin, hardener = at_the_hardener(path, now)
    whole = (resin + hardener) * 1.12
    typed = (f"{resin + hardener * 1.12:.1f}", "", f"{whole:.1f}")  # the far-off reading is asked about once
    said = re.sub(r"\s+", " ", Talk(now, typed, path).run())
    assert f"{whole:.1f} g" in said[said.index("Pour resin to match") : said.index("Stir two minutes")]
    assert "Add resin, don't re-zero the scale." in said
    assert "Stir two minutes" in said
    again = Session.open(path, now(), materials())
    mixed = again.run.values["glue_mixed"].quantity
    assert abs(mixed.value_in("g") - whole) < 0.1
    again.take_back(now())
    assert again.view(now()).headline == "Pour resin to match"
    assert abs(again.run.values["glue_mixed"].quantity.value_in("g") - resin - hardener * 1.12) < 0.1
    again.close()


def test_a_pot_too_big_to_mend_is_said_with_the_ways_out(tmp_path, now):
    path = tmp_path / "p.shopmate"
    resin, hardener = at_the_hardener(path, now)
    said = re.sub(r"\s+", " ", Talk(now, (f"{resin + hardener * 2.5:.1f}", ""), path).run())
    assert "Throw it out (spilled) or mix only what you can use" in said
    assert "[.] spilled" in said


def test_a_step_that_hangs_on_what_was_worked_out_says_so_in_words():
    recipe = find_recipe("glassing")
    step = next(step for step in recipe.steps if step.headline == "Pour resin to match")
    assert condition(recipe, step) == "if 'Hardener as poured' says too much hardener"
