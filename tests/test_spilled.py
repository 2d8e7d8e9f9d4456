"""A pot over-poured, poured short or spilled, one pot more and one less: what each comes to, and the keys it takes."""

from collections.abc import Callable
from datetime import timedelta
from pathlib import Path

import pytest
from conftest import BEGAN, materials
from small_recipe import small_recipe

from shopmate import recipe as recipes
from shopmate.errors import FileProblems
from shopmate.log import Log
from shopmate.session import CautionView, FinishedView, NotNow, Session, View, find_recipe
from shopmate.session.demo import follow

SPILL = "soak it up"


def at(recipe: str, until: Callable[[View], bool], path: Path | None = None) -> Session:
    """Follow a recipe up to a view, and return the session with the time that it came to."""
    session = Session(Log(path or Path("rehearsal.shopmate"), create=path is not None, in_memory=path is None), materials())
    session.begin(session.add_part("Part", BEGAN), find_recipe(recipe), BEGAN)
    follow(session, BEGAN, {"Glue": "epoxy"}, until=until)
    return session


def hardener(view: View) -> bool:
    return view.headline == "Pour the hardener"


def stirring(view: View) -> bool:
    return view.headline == "Stir two minutes"


def now(session: Session):
    return session.run.last_at


def spill(session: Session) -> None:
    """Spill the pot in hand and read what that brings."""
    session.spill(now(session))
    view = session.view(now(session))
    assert isinstance(view, CautionView)
    assert (view.signal, SPILL in view.frame.detail[0]) == ("WARNING", True)
    session.acknowledge(now(session))


def pots(session: Session) -> str:
    return next(place for place in session.view(now(session)).frame.places if place.startswith("pot "))


@pytest.mark.parametrize("recipe", ["bonding", "fillet", "glassing"])
def test_a_pot_may_be_spilled_from_its_resin_until_it_is_empty(recipe: str) -> None:
    session = Session(Log(Path("rehearsal.shopmate"), in_memory=True), materials())
    session.begin(session.add_part("Part", BEGAN), find_recipe(recipe), BEGAN)
    seen = set()

    def look(view: View) -> bool:
        running = any(clock.name.endswith("life") for clock in session.clocks)
        if not isinstance(view, FinishedView):
            assert view.frame.may_spill == running, view.headline
        seen.update({view.headline} if running else ())
        return isinstance(view, FinishedView)

    follow(session, BEGAN, {"Glue": "epoxy"}, until=look)
    assert {"Pour the hardener", "Stir two minutes"} <= seen
    with pytest.raises(NotNow, match="no pot is being used now"):
        session.spill(now(session))


@pytest.mark.parametrize("until", [hardener, stirring], ids=["resin alone", "mixed"])
def test_what_was_spilled_is_mixed_anew_and_counts_as_used(until: Callable[[View], bool]) -> None:
    session = at("glassing", until)
    (life,) = [clock for clock in session.clocks if clock.name == "seal_life"]
    planned = session.run.values["seal_plan.each"].quantity
    held = session.run.values["seal_reading" if until is stirring else "seal_poured"].quantity
    assert pots(session) == "pot 1 of 1"
    spill(session)
    assert session.project.clocks[life.key].ended_at == now(session)
    assert "seal_mixed" not in session.run.values
    assert session.run.values["seal_plan.each"].quantity == planned, "as if it had never been mixed"
    assert (session.view(now(session)).headline, pots(session)) == ("Fresh cup, scale zeroed", "pot 2 of 2")
    follow(session, now(session), {}, until=lambda view: view.headline == "Roll the seal coat", pace=timedelta(minutes=2))
    mixed = session.run.values["seal_mixed"].quantity
    assert mixed.value_in("g") == pytest.approx(planned.value_in("g"), rel=0.01)
    session.give_up(now(session))
    over = session.log.events()[-1]
    whole = mixed.value_in("g") + held.value_in("g")
    assert float(over.data["weighed"]["seal_mixed"]["text"].split()[0]) == pytest.approx(whole)
    assert f"{held.value_in('g'):g} g of it spilled" in over.data["shown"]


def test_a_pot_spilled_is_no_pace() -> None:
    session = at("bonding", stirring)
    (life,) = [clock for clock in session.clocks if clock.name == "glue_life"]
    session.spill(now(session) + timedelta(minutes=20))
    assert session.project.pots == {}
    assert life.key not in session.project.pouring


def test_a_spill_is_taken_back_with_all_that_it_brought() -> None:
    session = at("bonding", stirring)
    before = session.project
    spill(session)
    session.take_back(now(session))  # the caution
    session.take_back(now(session))
    assert session.view(now(session)).headline == "Stir two minutes"
    assert session.run.values == before.run.values
    assert [clock.key for clock in session.clocks] == [clock.key for clock in before.running]
    assert session.run.spilled == {}


def test_each_spill_brings_its_caution_and_one_pot_more() -> None:
    session = at("bonding", hardener)
    for count in (2, 3):
        spill(session)
        assert pots(session) == f"pot {count} of {count}"
        follow(session, now(session), {}, until=hardener)


def test_a_project_opened_again_knows_of_the_spill(tmp_path: Path) -> None:
    path = tmp_path / "p.shopmate"
    session = at("bonding", stirring, path)
    spill(session)
    spilled, when = session.run.spilled, now(session)
    session.close()
    again = Session.open(path, when, materials())
    assert again.run.spilled == spilled
    assert [pot.of for pot in spilled.values()] == ["glue_mixed"]
    again.close()


LIFE = """{start: Start it, clock: life, title: Pot, kind: DO BEFORE, time: 40 min, note: Note it., action: Spread,
         if_late: Stop., time_to_act: 2 min, consequence: It sets, spilled: Soak it up.}"""

RECIPE = small_recipe(
    "spilled",
    f"""
asks:
  - {{ask: Count the pots, into: pots, count: [1, 6], default: "3"}}
sections:
  - section: Pots
    mode: read-do
    repeat: {{each: pot, times: pots}}
    until: Stop when it is wet.
    steps:
      - {LIFE}
      - {{do: Spread it, ends: life}}
""",
)


def test_a_pot_may_be_spilled_only_where_another_can_follow_it() -> None:
    assert recipes.read(RECIPE, "spilled.yaml").pot_life(1) is not None
    once = RECIPE.replace("    repeat: {each: pot, times: pots}\n    until: Stop when it is wet.\n", "")
    with pytest.raises(FileProblems, match="'spilled' outside a repeated section"):
        recipes.read(once, "spilled.yaml")
