"""The pace of one's own pots: what the log makes of them, and where it is offered."""

from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from conftest import materials, worked_out
from small_recipe import small_recipe

from shopmate import paths
from shopmate import recipe as recipes
from shopmate.errors import FileProblems
from shopmate.log import Log
from shopmate.project.project import Pot, Project
from shopmate.session import FinishedView, GateView, Session, View
from shopmate.session.demo import follow
from shopmate.units import Quantity

NOW = datetime(2026, 5, 4, 9, 0, tzinfo=UTC)

RECIPE = small_recipe(
    "paced",
    """
asks:
  - {ask: Count the pots, into: pots, count: [1, 6], default: "3"}
sections:
  - section: Plan
    mode: do-confirm
    steps:
      - {ask: Give a pot of yours, into: mass, unit: g, default: 80 g, pace_of: cloth_pot, detail: [One you timed.]}
      - {ask: Give its minutes, into: minutes, unit: min, default: 20 min, pace_of: cloth_pot}
      - {do: Set out the cups}
      - {do: Set out the roller}
      - {do: Put on gloves}
  - section: Pots
    mode: read-do
    repeat: {each: pot, times: pots}
    until: Stop when it is wet.
    steps:
      - {ask: Pour the resin, into: resin, unit: g}
      - {start: Start the clock, clock: cloth_pot, title: Pot, kind: DO BEFORE, time: 40 min, note: Note it.,
         action: Spread, if_late: Stop., time_to_act: 2 min, consequence: It sets}
      - {ask: Pour the hardener, into: reading, unit: g}
      - {gate: Pass the hardener, value: "{reading}", high: 500 g, if_no: Pour anew.}
      - {ask: Weigh the rest, into: rest, unit: g}
      - {do: Spread the pot, ends: cloth_pot}
""",
)


def begin(session: Session, now: datetime) -> None:
    session.begin(session.add_part(f"Panel {now:%H%M}", now), recipes.read(RECIPE, "paced.yaml"), now)


@pytest.fixture
def session(tmp_path: Path):
    session = Session.create(tmp_path / "p.shopmate", "P", NOW, {})
    begin(session, NOW)
    yield session
    session.close()


def plan(session: Session, now: datetime) -> None:
    session.answer("3", now)
    session.answer("80 g", now)
    session.answer("20.0 min", now)
    session.done(now)


def pour(session: Session, now: datetime, *readings: str) -> None:
    """Pour a pot whose clock starts at `now`; a hold point closed by a reading is answered anew with the next."""
    session.answer("50 g", now)
    session.done(now)
    for reading in readings:
        session.answer(reading, now, sure=True)  # one that is 10 times the last is asked about
        if isinstance(session.view(now), GateView):
            session.measure_again(now)
    session.answer("4 g", now)


def pot(session: Session, now: datetime, minutes: float, *readings: str) -> datetime:
    """Work a pot in that many minutes and go on to the next; return when."""
    pour(session, now, *readings)
    now += timedelta(minutes=minutes)
    session.done(now)
    return now


def test_a_pot_is_what_the_scale_read_first_and_the_minutes_to_the_step_that_ends_its_clock(session: Session) -> None:
    plan(session, NOW)
    pot(session, NOW, 16, "80 g")
    assert session.project.pots == {"cloth_pot": (Pot(80.0, 16.0),)}


def test_before_the_first_pot_the_answer_of_the_recipe_is_offered(session: Session) -> None:
    session.answer("3", NOW)
    view = session.view(NOW, at=session.run.place)
    assert (view.default, view.frame.detail) == ("80 g", ("One you timed.",))


def test_the_middle_pot_is_offered_next_time_and_said_to_be_the_users_own(session: Session) -> None:
    plan(session, NOW)
    now = pot(session, NOW, 10, "80 g")  # 8 g/min
    now = pot(session, now, 30, "90 g")  # 3 g/min, called away
    now = pot(session, now, 15, "3 oz")  # 5.67 g/min
    begin(session, now)
    session.answer("3", now)
    view = session.view(now, at=session.run.place)
    assert view.default == "85 g"
    assert view.frame.detail == ("One you timed.", "Your pots so far: typically 85 g (3 pots).")
    session.answer(view.default, now)
    assert session.view(now, at=session.run.place).default == "15 min"


def test_of_an_even_number_the_slower_of_the_two_in_the_middle_counts() -> None:
    project = Project("P", pots={"a": [Pot(80, 10), Pot(60, 10), Pot(100, 10), Pot(20, 10)], "b": [Pot(1, 1)]})
    assert project.middle_pot("a") == Pot(60, 10)
    assert project.middle_pot("b") == Pot(1, 1)
    assert project.middle_pot("c") is None


def test_a_reading_given_anew_is_the_one_that_counts(session: Session) -> None:
    plan(session, NOW)
    pot(session, NOW, 16, "800 g", "80 g")
    assert session.project.pots == {"cloth_pot": (Pot(80.0, 16.0),)}


def test_a_pot_ended_by_hand_is_no_pot_finished(session: Session) -> None:
    plan(session, NOW)
    pour(session, NOW, "80 g")
    session.end_clock(session.clocks[0].key, NOW + timedelta(minutes=5))
    session.done(NOW + timedelta(minutes=9))
    assert session.project.pots == {}


@pytest.mark.parametrize("minutes", [0, 3, 3.9])
def test_a_pot_ticked_off_before_it_can_be_stirred_is_no_pace(session: Session, minutes: float) -> None:
    plan(session, NOW)
    pour(session, NOW, "60 g")
    session.done(NOW + timedelta(minutes=minutes))
    assert session.project.pots == {}
    assert session.run.values["minutes"].text == "20 min", "the pace typed stays"


def test_a_pot_worked_after_stirring_is_a_pace_however_quick(session: Session) -> None:
    plan(session, NOW)
    pour(session, NOW, "60 g")
    session.done(NOW + timedelta(minutes=4))
    assert session.project.pots == {"cloth_pot": (Pot(60.0, 4.0),)}


def test_a_pot_taken_back_is_no_longer_counted(session: Session) -> None:
    plan(session, NOW)
    pour(session, NOW, "80 g")
    session.done(NOW + timedelta(minutes=9))
    assert session.project.pots
    session.take_back(NOW + timedelta(minutes=9))
    assert session.project.pots == {}


def test_the_log_opened_again_tells_of_the_same_pots(session: Session, tmp_path: Path) -> None:
    plan(session, NOW)
    now = pot(session, NOW, 16, "80 g")
    session.close()
    again = Session.open(tmp_path / "p.shopmate", now, {})
    assert again.project.middle_pot("cloth_pot") == Pot(80.0, 16.0)
    again.close()


def test_a_pot_finished_renews_the_pace_of_its_run_and_taken_back_restores_it(session: Session) -> None:
    plan(session, NOW)
    assert (session.run.values["mass"].text, session.run.values["minutes"].text) == ("80 g", "20 min")
    pour(session, NOW, "78 g")
    session.done(NOW + timedelta(minutes=18))
    assert (session.run.values["mass"].text, session.run.values["minutes"].text) == ("78 g", "18 min")
    typed = [event.data["typed"] for event in session.log.events() if event.data.get("headline") == "Give its minutes"]
    assert typed == ["20.0 min"], "the log keeps what was typed"
    session.take_back(NOW + timedelta(minutes=18))
    assert (session.run.values["mass"].text, session.run.values["minutes"].text) == ("80 g", "20 min")


def plan_of(session: Session, now: datetime) -> tuple[int, float]:
    """Return the count and the g of each pot that the step in hand plans."""
    outputs = worked_out(session.view(now))
    pots, each = outputs["pots"], outputs["each"]
    assert isinstance(pots, int)
    assert isinstance(each, Quantity)
    return pots, float(each.value)


def planned(session: Session, plan: str) -> tuple[int, float]:
    """Return the count and the g of each pot of a plan as the run knows it."""
    pots, each = (session.run.values[f"{plan}.{name}"] for name in ("pots", "each"))
    assert each.quantity is not None
    return int(pots.text), each.quantity.value_in("g")


def test_a_slow_pot_makes_the_pots_left_smaller_and_more() -> None:
    session = Session(Log(Path("rehearsal.shopmate"), in_memory=True), materials())
    session.begin(session.add_part("Skin", NOW), recipes.load(paths.shipped_recipes() / "bonding.yaml"), NOW)
    skin = {"Piece": "skin", "Bond length": "6 m", "Bonded to": "plywood", "Glue": "epoxy", "Resin": "epoxy-2to1-slow"}

    def pours(turn: int) -> Callable[[View], bool]:
        return lambda view: view.headline == "Pour the resin" and view.place.turn == turn

    now = follow(session, NOW, skin, until=pours(1))
    # 6 m x 40 mm x 0.5 mm are 120 mL, with 15 % for waste 138 mL of 1.09 g/mL: 150.4 g, with a tenth for the cup 165.5 g.
    assert planned(session, "glue_plan") == (2, 83)
    # Five steps of 10.8 min from the resin on: 54 min for 83 g. In the 49 min that are 85 % of its life there is no such pot.
    now = follow(session, now, skin, until=pours(2), pace=timedelta(minutes=10.8))
    assert session.project.pots["glue_life"] == (Pot(83.0, 54.0),)
    pots, each = planned(session, "glue_plan")
    assert (pots, each) == (3, 42)
    assert 54 * 42 / 83 < 49
    view = session.view(now)
    assert "pot 2 of 3" in view.frame.where
    # 2:1 by volume, 1.15 and 0.97 g/mL: 42 g x 2.30/3.27.
    assert view.frame.figures[0].shown.number == f"{42 * 2.3 / 3.27:.1f}"
    while session.run.place.turn == 2:
        session.take_back(now)
    assert session.run.turns(session.run.place.section) == 2


def test_the_next_pot_says_whose_pace_its_plan_goes_by_where_that_passed_by_itself() -> None:
    session = Session(Log(Path("rehearsal.shopmate"), in_memory=True), materials())
    session.begin(session.add_part("Skin", NOW), recipes.load(paths.shipped_recipes() / "bonding.yaml"), NOW)
    skin = {"Piece": "skin", "Bond length": "6 m", "Bonded to": "plywood", "Glue": "epoxy", "Resin": "epoxy-2to1-slow"}

    def at(headline: str, turn: int) -> Callable[[View], bool]:
        return lambda view: view.headline == headline and view.place.turn == turn

    now = follow(session, NOW, skin, until=at("Fresh cup, scale zeroed", 1))
    assert not [line for line in session.view(now).frame.detail if "Yours" in line]
    now = follow(session, now, skin, until=at("Fresh cup, scale zeroed", 2), pace=timedelta(minutes=4))
    (pot,) = session.project.pots["glue_life"]
    assert session.view(now).frame.detail[-1] == f"Your one pot so far: {pot.mass:g} g in {pot.minutes:g} min."
    session.done(now)
    assert session.view(now).headline == "Pour the resin"
    assert not [line for line in session.view(now).frame.detail if "Yours" in line]


@pytest.mark.parametrize("recipe", ["glassing", "fillet"])
def test_a_resin_without_the_mass_of_its_pot_life_is_named_and_passed_with_a_reason(recipe: str) -> None:
    shelf = dict(materials())
    slow = shelf["epoxy-2to1-slow"]
    gone = ("pot_mass", "pot_life_2", "pot_temperature_2")
    shelf["epoxy-2to1-slow"] = replace(slow, figures={name: figure for name, figure in slow.figures.items() if name not in gone})
    session = Session(Log(Path("rehearsal.shopmate"), in_memory=True), shelf)
    session.begin(session.add_part("Part", NOW), recipes.load(paths.shipped_recipes() / f"{recipe}.yaml"), NOW)
    now = follow(session, NOW, {}, until=lambda view: view.headline == "Pots to mix")
    view = session.view(now)
    said = f"The shelf has no pot mass for {slow.title}: add it from the data sheet, or override with a reason"
    assert said in view.problems
    session.override(view.reasons[0], now)
    assert session.view(now).headline != "Pots to mix"


def test_a_pace_too_slow_for_the_pot_life_holds_the_next_pot_before_its_hardener() -> None:
    session = Session(Log(Path("rehearsal.shopmate"), in_memory=True), materials())
    session.begin(session.add_part("Part", NOW), recipes.load(paths.shipped_recipes() / "fillet.yaml"), NOW)
    large = {"Corner length": "8 m"}
    now = follow(session, NOW, large, until=lambda view: view.headline == "Pour the resin")
    now = follow(session, now, large, until=lambda view: view.headline == "Pots left to mix", pace=timedelta(minutes=30))
    view = session.view(now)
    assert "pot 2" in view.frame.where
    assert (type(view), view.go, view.verdict) == (GateView, False, "too slow for this pot life")
    assert not [clock.title for clock in session.clocks if "life" in clock.name]
    session.override("A helper mixes or spreads with me", now)
    assert session.view(now).headline in ("Fresh cup, scale zeroed", "WARNING")


def test_a_long_corner_is_planned_again_by_what_each_pot_held_and_took() -> None:
    session = Session(Log(Path("rehearsal.shopmate"), in_memory=True), materials())
    session.begin(session.add_part("Part", NOW), recipes.load(paths.shipped_recipes() / "fillet.yaml"), NOW)
    long = {"Corner length": "12000 mm", "Fillet radius": "15 mm", "Filler": "wood-flour"}
    now = follow(session, NOW, long, until=lambda view: view.headline == "Pots to mix")
    # 48.3 mm² over 12 m are 579 mL of 1.18 g/mL, a fifth more for the brushed coat, a tenth more for the cup: 915 g of paste,
    # and 37.5 g of it in 137.5 g are flour. A cup holds 100 g with its flour at the most, and is empty at half its pot life.
    pots, each = plan_of(session, now)
    assert pots * each == pytest.approx(48.29 * 12 * 1.186 * 1.2 * 1.1 / 1.375, rel=0.02)
    assert each <= 100 / 1.375
    now = follow(session, now, long, until=lambda view: isinstance(view, FinishedView))
    assert len(session.project.pots["fillet_life"]) >= 9
    mixed = session.run.values["fillet_mixed"]
    assert isinstance(mixed.value, Quantity)
    assert mixed.value.value_in("g") == pytest.approx(pots * each, rel=0.03)


def test_cloth_is_wet_out_in_the_pots_planned_and_the_next_face_by_the_pace_of_this_one() -> None:
    session = Session(Log(Path("rehearsal.shopmate"), in_memory=True), materials())
    glassing = recipes.load(paths.shipped_recipes() / "glassing.yaml")
    session.begin(session.add_part("Face 1", NOW), glassing, NOW)
    now = follow(session, NOW, {}, until=lambda view: view.headline == "Pour the resin" and view.frame.section == "Wet-out")
    # 2.50 x 1.28 m of 200 g/m2 are 640 g of cloth, which take 640 x 55/45 = 782.2 g, with a tenth for the cup 860.4 g:
    # more than the 500 g that one pot may be.
    assert planned(session, "wet_plan") == (2, 431)
    now = follow(session, now, {}, until=lambda view: isinstance(view, FinishedView), pace=timedelta(minutes=8))
    assert len(session.project.pots["wet_life"]) == 2
    own = session.project.middle_pot("wet_life")
    assert own is not None
    assert own.mass == pytest.approx(430, rel=0.01)
    session.begin(session.add_part("Face 2", now), glassing, now)
    now = follow(session, now, {}, until=lambda view: view.frame.section == "Wet-out: plan")
    shown = {row.label: row.value for row in session.view(now).frame.rows}
    assert shown["Time for that pot"] == f"{own.minutes:g} min"


def test_a_pot_poured_out_takes_until_its_film_is_left_alone() -> None:
    session = Session(Log(Path("rehearsal.shopmate"), in_memory=True), materials())
    session.begin(session.add_part("Face", NOW), recipes.load(paths.shipped_recipes() / "glassing.yaml"), NOW)
    now = follow(session, NOW, {}, until=lambda view: view.headline == "Pour the resin")
    now = follow(session, now, {}, until=lambda view: view.headline == "Roll the seal coat", pace=timedelta(minutes=2))
    (life,) = [clock for clock in session.project.clocks.values() if clock.name == "seal_life"]
    assert life.ended_at is not None
    assert session.project.pots == {}, "out of its cup it is not spread yet"
    rolled = life.started_at + timedelta(minutes=41)
    session.done(rolled)
    (pot,) = session.project.pots["seal_life"]
    assert pot.mass > 300
    assert pot.minutes == pytest.approx(41)
    assert "seal_film" not in session.project.pots


@pytest.mark.parametrize(
    ("was", "becomes", "said"),
    [
        ("unit: min, default: 20 min, pace_of: cloth_pot", "unit: min, default: 20 min, pace_of: other", "no clock 'other'"),
        ("unit: min, default: 20 min", "unit: °C, default: 20 °C", "mass and the time of a pot"),
        ("unit: min, default: 20 min", 'count: [1, 30], default: "20"', "'pace_of' without a unit"),
    ],
)
def test_a_pace_of_nothing_is_a_problem_of_the_recipe(was: str, becomes: str, said: str) -> None:
    assert was in RECIPE
    with pytest.raises(FileProblems, match=said):
        recipes.read(RECIPE.replace(was, becomes), "paced.yaml")
