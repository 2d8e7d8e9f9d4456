"""An answer corrected where it stands: what rests on it is worked out again, and what was done since stays done."""

from datetime import timedelta

import pytest
from conftest import BEGAN, materials

from shopmate.errors import Doubt, EntryError
from shopmate.session import NotNow, Session, find_recipe
from shopmate.session.demo import follow

SHEET = {"Face length": "2.44 m", "Face width": "1.22 m"}


@pytest.fixture
def sheathing(tmp_path):
    session = Session.create(tmp_path / "hide.shopmate", "Hide", BEGAN, materials())
    session.begin(session.add_part("Panel 1", BEGAN), find_recipe("glassing"), BEGAN)
    yield session
    session.close()


def place_of(session, headline):
    return next(place for place, step, _ in session.given(BEGAN) if step.headline == headline)


def test_the_figures_that_rest_on_it_change_and_nothing_done_since_is_taken_back(sheathing):
    now = follow(sheathing, BEGAN, SHEET, until=lambda view: view.headline == "Pour the resin")
    before, marks = dict(sheathing.run.values), dict(sheathing.run.marks)
    told = sheathing.correct(place_of(sheathing, "Face length"), "1.22 m", now)
    run = sheathing.run
    assert run.place == sheathing.view(now).place
    assert list(run.marks) == list(marks)
    assert float(run.values["coat.seal"].quantity.value) == pytest.approx(float(before["coat.seal"].quantity.value) / 2)
    assert float(run.values["coat.fill"].quantity.value) == pytest.approx(float(before["coat.fill"].quantity.value) / 2)
    assert any(line.startswith("Epoxy for the face: ") and " → " in line for line in told)
    assert any(line.startswith("Pots to mix") for line in told), told
    assert sheathing.project.facts["length@part:Panel 1"].held.text == "1.22 m"


def test_what_is_worked_out_again_is_what_it_would_have_been(sheathing, tmp_path):
    now = follow(sheathing, BEGAN, SHEET, until=lambda view: view.headline == "Pour the resin")
    sheathing.correct(place_of(sheathing, "Face width"), "0.6 m", now)
    other = Session.create(tmp_path / "other.shopmate", "Hide", BEGAN, materials())
    other.begin(other.add_part("Panel 1", BEGAN), find_recipe("glassing"), BEGAN)
    follow(other, BEGAN, SHEET | {"Face width": "0.6 m"}, until=lambda view: view.headline == "Pour the resin")
    assert {name: held.text for name, held in sheathing.run.values.items()} == {
        name: held.text for name, held in other.run.values.items()
    }
    other.close()


def test_it_is_a_line_of_the_log_and_is_taken_back_as_one(sheathing):
    now = follow(sheathing, BEGAN, SHEET, until=lambda view: view.headline == "Pour the resin")
    before = dict(sheathing.run.values)
    sheathing.correct(place_of(sheathing, "Face length"), "1.22 m", now)
    assert sheathing.run.values != before
    assert sheathing.take_back(now + timedelta(minutes=1)) == "Face length"
    assert sheathing.run.values == before


def test_what_is_no_answer_or_looks_odd_is_refused_or_asked_about(sheathing):
    now = follow(sheathing, BEGAN, SHEET, until=lambda view: view.headline == "Pour the resin")
    length = place_of(sheathing, "Face length")
    with pytest.raises(EntryError):
        sheathing.correct(length, "13 m", now)
    with pytest.raises(Doubt):
        sheathing.correct(length, "8 m", now)
    assert sheathing.correct(length, "8 m", now, sure=True)


def test_a_note_stands_with_its_step(sheathing):
    place = sheathing.run.place
    assert sheathing.note("dry spot near the hinge", "IMG_0412.jpg", BEGAN) == "NOTED"
    assert sheathing.run.notes[place] == ("dry spot near the hinge · IMG_0412.jpg",)
    with pytest.raises(NotNow):
        sheathing.note("", "", BEGAN)
    sheathing.take_back(BEGAN)
    assert sheathing.run.notes == {}


def test_a_choice_corrected_tells_which_steps_apply_by_it_and_which_no_longer_do(sheathing):
    now = follow(sheathing, BEGAN, SHEET, until=lambda view: view.headline == "Pour the resin")
    told = sheathing.correct(place_of(sheathing, "Fill coats"), "3", now)
    (line,) = [line for line in told if line.startswith("now needed: ")]
    assert line.startswith("now needed: Note the last stroke, Start the recoat window, ")
    assert not [line for line in told if "no longer" in line or "already passed" in line]
    told = sheathing.correct(place_of(sheathing, "Fill coats"), "1", now)
    assert not [line for line in told if "now apply" in line]
    assert [line for line in told if line.startswith("no longer needed: ")]


def test_a_choice_corrected_late_tells_what_was_passed(tmp_path):
    session = Session.create(tmp_path / "bond.shopmate", "Bond", BEGAN, materials())
    session.begin(session.add_part("Panel 1", BEGAN), find_recipe("bonding"), BEGAN)
    now = follow(session, BEGAN, {}, until=lambda view: view.headline == "Clamp it to contact")
    told = session.correct(place_of(session, "Screws"), "pan", now)
    assert "now needed: Drive screws by hand, Tighten the screws" in told
    (passed,) = [line for line in told if "already passed" in line]
    assert ": Screw gauge, Screw size, " in passed or ": Screw gauge, Screw length, " in passed
    assert passed.endswith(" more")
    session.close()


def test_an_answer_on_which_no_step_hangs_tells_of_none(sheathing):
    now = follow(sheathing, BEGAN, SHEET, until=lambda view: view.headline == "Pour the resin")
    told = sheathing.correct(place_of(sheathing, "Face length"), "1.22 m", now)
    assert not [line for line in told if "appl" in line]
