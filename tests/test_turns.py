"""Sections that make one turn together: their order, the sums over turns, the number of the turn, and plans made anew."""

from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from small_recipe import small_recipe

from shopmate import recipe as recipes
from shopmate.dialogue.step import said
from shopmate.errors import FileProblems
from shopmate.log import Log
from shopmate.project.place import Place
from shopmate.session import EnterView, NotNow, RowsView, SectionEndView, Session
from shopmate.session.sheet import sheet

NOW = datetime(2026, 5, 4, 9, 0, tzinfo=UTC)

RECIPE = small_recipe(
    "turns",
    """
asks:
  - {ask: Give the mass, into: needed, unit: g, default: 300 g}
  - {ask: Give the largest, into: largest, unit: g, default: 100 g}
sections:
  - section: Plan
    mode: do-confirm
    steps:
      - {work out: Plan the pots, calculator: pots, with: {needed: "{needed}", largest: "{largest}"}, into: plan, show: [pots]}
      - {do: Set out the cups}
      - {do: Set out the roller}
      - {do: Put on gloves}
      - {do: Open the doors}
  - section: Weigh
    mode: read-do
    repeat: {each: pot, times: plan.pots, sections: 2}
    until: Stop when it is wet.
    steps:
      - gate: Plan the pots left
        calculator: pots
        with: {needed: "{needed}", largest: "{largest}", mixed: "{mixed}", next_pot: "{turn}"}
        into: plan
        go: {verdict: pace not given}
        show: [pots, each]
        if_no: Enough is mixed.
      - {do: Zero the scale}
      - {ask: Pour the resin, into: resin, unit: g, detail: ["Pot {turn} of {plan.pots}."]}
      - {do: Check the cup}
      - {do: Change the gloves}
  - section: Spread
    mode: read-do
    steps:
      - {ask: Pour the hardener, into: reading, unit: g, adds_to: mixed}
      - {gate: Pass the hardener, value: "{reading}", high: 150 g, if_no: Pour anew.}
      - {do: Stir it, detail: ["{mixed} so far."]}
      - {do: Spread it}
      - {do: Look at it}
""",
)


@pytest.fixture
def session():
    session = Session(Log(Path("rehearsal.shopmate"), in_memory=True), {})
    session.begin(session.add_part("Panel", NOW), recipes.read(RECIPE, "turns.yaml"), NOW)
    session.answer("300 g", NOW)
    session.answer("100 g", NOW)
    while session.run.place < Place(2, 1, 0):
        session.done(NOW)
    return session


def pot(session, *readings):
    """Work a pot up to the next, of the last one up to its end; a reading that a hold point closes on is given anew."""
    while session.run.place.section == 2:
        view = session.view(NOW)
        if isinstance(view, EnterView):
            session.answer("60 g", NOW)
        elif said(view).go is False:
            session.override("Dry places left", NOW)
        else:
            session.done(NOW)
    for reading in readings:
        session.answer(reading, NOW)
        if said(session.view(NOW)).go is False:
            assert session.may_measure_again()
            session.measure_again(NOW)
    turn = session.run.place.turn
    while session.run.place.turn == turn and not isinstance(session.view(NOW), SectionEndView):
        session.done(NOW)


def last_step(session, *readings):
    """Work the last pot up to its last step."""
    pot(session, *readings)
    session.take_back(NOW)
    assert session.view(NOW).headline == "Look at it"


def planned(session):
    """How many pots the last plan counts, and the g of each to come."""
    held = session.run.values
    return held["plan.pots"].text, held["plan.each"].quantity.value_in("g")


def test_the_sections_of_a_turn_are_done_one_after_the_other_before_the_next_turn(session):
    seen = []
    while session.run.place.section < 4:
        place = session.run.place
        if (place.section, place.turn) not in seen:
            seen.append((place.section, place.turn))
            assert f"pot {place.turn} of 3" in session.view(NOW).frame.where
        if isinstance(session.view(NOW), EnterView):
            session.answer("100 g", NOW)
        else:
            session.done(NOW)
    assert seen == [(2, 1), (3, 1), (2, 2), (3, 2), (2, 3), (3, 3)]


def test_only_the_end_of_the_last_of_them_ends_the_turn(session):
    session.done(NOW)
    session.answer("60 g", NOW)
    for _ in range(2):
        session.done(NOW)
    assert (session.view(NOW).headline, session.run.place, session.view(NOW).frame.turns) == (
        "Pour the hardener",
        Place(3, 1, 0),
        (),
    )
    pot(session, "100 g")
    assert session.run.place.turn == 2
    pot(session, "100 g")
    last_step(session, "100 g")
    assert [(option.key, option.label) for option in session.view(NOW).frame.turns] == [("again", "done, 1 more pot")]
    session.done(NOW)
    assert session.run.place.section == 4


def test_no_pot_more_is_chosen_as_long_as_nothing_of_the_next_is_done(session):
    assert session.view(NOW).frame.turns == ()
    pot(session, "100 g")
    view = session.view(NOW)
    # The plan before it passed by itself.
    assert (view.headline, view.place, [option.key for option in view.frame.turns]) == (
        "Zero the scale",
        Place(2, 2, 1),
        ["enough"],
    )
    session.done(NOW)
    assert session.view(NOW).frame.turns == ()
    with pytest.raises(NotNow):
        session.repeat("enough", NOW)
    session.take_back(NOW)
    assert session.view(NOW) == view


def test_the_number_of_the_turn_is_shown(session):
    pot(session, "100 g")
    session.done(NOW)
    assert session.view(NOW).frame.detail == ("Pot 2 of 3.",)


def test_what_was_poured_is_summed_over_the_turns_each_pot_once(session):
    assert "mixed" not in session.run.values
    pot(session, "100 g")
    pot(session, "500 g", "90 g")
    assert session.run.values["mixed"].text == "190 g"
    while session.run.place != Place(3, 2, 0):
        session.take_back(NOW)
    assert session.run.values["mixed"].text == "100 g"
    session.take_back(NOW)
    assert session.run.values["mixed"].text == "600 g", "the reading that was given anew"
    while session.run.place.turn == 2:
        session.take_back(NOW)
    assert session.run.values["mixed"].text == "100 g"


def test_units_of_the_answers_are_added_as_they_are_meant(session):
    pot(session, "100 g")
    pot(session, "0.1 kg")
    assert session.run.values["mixed"].quantity.value_in("g") == pytest.approx(200)


def test_going_back_in_one_turn_leaves_the_turns_before_alone(session):
    pot(session, "100 g")
    done = {place for place in session.run.marks if place.turn == 1}
    pot(session, "500 g", "90 g")
    assert done <= set(session.run.marks)
    assert Place(2, 2, 2) in session.run.marks, "an earlier step of the turn, though later in the file than none"


def test_the_pots_left_are_planned_by_what_is_mixed(session):
    pot(session, "60 g")
    # 240 of 300 g are left: three pots of 80 g, with the first four.
    assert planned(session) == ("4", pytest.approx(80))
    assert session.run.turns(2) == session.run.turns(3) == 4
    session.take_back(NOW)
    assert session.run.turns(3) == 3


def test_one_pot_more_and_then_a_plan_of_it_is_one_pot_more(session):
    for _ in range(2):
        pot(session, "100 g")
    last_step(session, "90 g")
    session.pick("again", NOW)
    assert session.log.events()[-1].data["headline"] == "Plan the pots left"
    assert session.run.turns(3) == 4
    assert planned(session)[0] == "4"


def test_enough_mixed_holds_and_passes_with_a_reason_for_this_pot_alone(session):
    for _ in range(2):
        pot(session, "100 g")
    last_step(session, "100 g")
    session.pick("again", NOW)
    view = session.view(NOW)
    assert (view.go, view.verdict, [option.key for option in view.frame.turns]) == (False, "enough is mixed", ["enough"])
    assert not session.may_measure_again(), "what is poured is not measured anew"
    with pytest.raises(NotNow, match="not measured in this run"):
        session.measure_again(NOW)
    session.override("Dry places left", NOW)
    assert session.run.turns(3) == 4
    # The size of the pots of the last plan stands, since there is no newer one.
    assert session.run.values["plan.each"].quantity.value_in("g") == pytest.approx(100)


def test_no_pot_more_leaves_all_sections_of_the_turn(session):
    pot(session, "100 g")
    session.repeat("enough", NOW + timedelta(minutes=1))
    assert session.run.place.section == 4


def test_the_sheet_says_which_sections_take_turns():
    text = sheet(recipes.read(RECIPE, "turns.yaml"), {}, {}, NOW)
    assert "3 times, once each pot, in turn with 'Spread'. Stop when it is wet." in text
    assert "3 times, once each pot, in turn with 'Weigh'. Stop when it is wet." in text
    assert "Pot 1 of 3." in text


@pytest.mark.parametrize(
    ("was", "becomes", "said"),
    [
        ("sections: 2}", "sections: 3}", "sections is '3'; write 1 to 2"),
        ("sections: 2}", "sections: two}", "sections is 'two'"),
        ("{do: Open the doors}", '{do: Open the doors, detail: ["Pot {turn}."]}', "'{turn}' outside a repeated section"),
        ("sections: 2}", "sections: 1}", "a sum outside a repeated section"),
        ("unit: g, adds_to: mixed", "count: [1, 3], adds_to: mixed", "'adds_to' without a unit"),
        ("unit: g, adds_to: mixed", "unit: °C, adds_to: mixed", "temperatures cannot be added up"),
        ("into: resin, unit: g", "into: resin, unit: mL, adds_to: mixed", "'mixed' adds up mL"),
        ("adds_to: mixed", "adds_to: needed", "'needed' is the name of another value"),
        ("into: resin", "into: mixed", "'mixed' is the name of a sum"),
        ("into: resin", "into: turn", "'turn' is the number of the turn"),
        (
            "  - section: Spread\n",
            "  - section: Spread\n    repeat: {each: pot, times: plan.pots}\n    until: Stop.\n",
            "inside another",
        ),
    ],
)
def test_turns_that_do_not_go_together_are_problems_of_the_recipe(was, becomes, said):
    assert was in RECIPE
    with pytest.raises(FileProblems) as caught:
        recipes.read(RECIPE.replace(was, becomes), "turns.yaml")
    assert said in str(caught.value)


def test_the_last_step_of_each_turn_says_when_to_stop(session):
    """It ends the turn without a key of its own, so that no other view says it."""
    until = "Stop when it is wet."
    for turn in (1, 2, 3):
        while session.view(NOW).headline != "Look at it":
            view = session.view(NOW)
            assert until not in view.frame.detail
            if isinstance(view, EnterView):
                session.answer("100 g", NOW)
            else:
                session.done(NOW)
        assert session.run.place.turn == turn
        assert session.view(NOW).frame.detail == (until,)
        session.done(NOW)
    assert until not in session.view(NOW).frame.detail


def test_a_list_that_ends_a_turn_says_when_to_stop():
    listed = RECIPE.replace(
        "mode: read-do\n    steps:\n      - {ask: Pour the hardener",
        "mode: do-confirm\n    steps:\n      - {ask: Pour the hardener",
    )
    session = Session(Log(Path("rehearsal.shopmate"), in_memory=True), {})
    session.begin(session.add_part("Panel", NOW), recipes.read(listed, "turns.yaml"), NOW)
    while not isinstance(session.view(NOW), RowsView) or session.run.place.section != 3:
        if isinstance(session.view(NOW), EnterView):
            session.answer("100 g", NOW)
        else:
            session.done(NOW)
    view = session.view(NOW)
    assert [row.label for row in view.frame.rows][-1] == "Look at it"
    assert "Stop when it is wet." in view.frame.detail


@pytest.mark.parametrize(("side", "seen"), [("inner", [(1, 1), (1, 2)]), ("outer", [(1, 1), (2, 1), (1, 2), (2, 2)])])
def test_a_turn_comes_again_though_a_section_of_it_does_not_apply(side, seen):
    text = small_recipe(
        "sides",
        """
asks:
  - {ask: Choose the side, into: side, choices: {inner: Inner, outer: Outer}, default: inner}
sections:
  - section: Coat
    mode: read-do
    repeat: {each: coat, times: "2", sections: 2}
    until: Stop when it is wet.
    steps:
      - {do: Roll it}
  - section: Wipe
    mode: read-do
    steps:
      - {do: Wipe the rim, when: {side: outer}}
""",
    )
    session = Session(Log(Path("rehearsal.shopmate"), in_memory=True), {})
    session.begin(session.add_part("Panel", NOW), recipes.read(text, "sides.yaml"), NOW)
    session.answer(side, NOW)
    found = []
    while session.run.place.section < 3 and len(found) < 9:
        found.append((session.run.place.section, session.run.place.turn))
        session.done(NOW)
    assert found == seen
    session.close()
