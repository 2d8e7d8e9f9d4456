"""Before a run: what is told of it, that Enter begins it, and runs planned with their answers given ahead."""

from datetime import timedelta

import pytest
from conftest import materials
from held import BEGUN, Held, Place
from test_needs import RECIPE, read

from shopmate import paths
from shopmate.dialogue import work
from shopmate.dialogue.asking import Ready
from shopmate.errors import UsageError
from shopmate.project.export import export
from shopmate.session import EndView, Session, project_path
from shopmate.session.demo import follow


@pytest.fixture(params=[True, False], ids=["screen", "lines"])
def desk(home, request):
    """A desk with a project, and the two coats among the user's own recipes."""
    paths.user_recipes().mkdir(parents=True)
    (paths.user_recipes() / "two-coats.yaml").write_text(RECIPE, encoding="utf-8")
    place = Place(draws=request.param).begin()
    yield place
    place.close()


ANSWERS = ("3 m", "epoxy-2to1-slow", "3", "ply")


def told(desk, **answers):
    return desk.session.before("Seam 1", read(), answers, BEGUN)


def test_it_tells_what_lacks_is_used_how_long_it_takes_and_when_it_ends(desk):
    lines = told(desk)
    assert lines[0] == "Seam 1 should be bare first; no record here says it is"
    assert lines[2] == "Time: hands-on at least 55 min, waiting 3 h 36 min"
    # 8:00 and 4 h 31 min, in the local time of the machine.
    assert lines[3].endswith(f"{(BEGUN + timedelta(minutes=271)).astimezone():%H:%M} or later")
    assert lines[4].startswith("and is cured ")
    assert lines[5] == "Uses: Epoxy 2:1 by volume, slow: 349 g; 7 × Cups"
    assert lines[6] == (
        "Assumed: Give the length 2 m; Choose the resin Epoxy 2:1 by volume, slow; Count the coats 2; Choose the cover Nothing"
    )
    assert lines[-1] == "Gloves"


def test_it_goes_by_answers_given_ahead_and_names_the_others_apart(desk):
    lines = told(desk, coats="3", cover="ply")
    assert "From your answers: Count the coats 3; Choose the cover Peel ply" in lines
    assert "Assumed: Give the length 2 m; Choose the resin Epoxy 2:1 by volume, slow" in lines
    assert any("Peel ply: 2.2 m" in line for line in lines)


def test_own_times_are_told_by_the_middle_one(desk):
    session = desk.session
    session.begin(session.add_part("Seam 1", BEGUN), read(), BEGUN)
    for count, words in ((1, "Your one run so far: hands-on "), (2, "Your runs so far: hands-on ")):
        at = follow(session, desk.at, {}, until=lambda view: isinstance(view, EndView))
        session.done(at)
        assert any(line.startswith(words) for line in told(desk)), count
        assert count == 1 or any(line.endswith("(2 runs)") for line in told(desk))
        desk.at = at
        session.begin("Seam 1", read(), at)
    del session.project.took["two-coats"]
    assert not any(line.startswith("Yours") for line in told(desk))


def test_it_stands_once_before_the_run_and_nothing_is_recorded_until_it_is_begun(desk):
    held = Held(work.begin(desk), "New: Seam", "two-coats", "begin")
    (page,) = [asked for asked in held.asked if isinstance(asked, Ready)]
    assert (page.title.startswith("Made up"), page.yes.title, page.other.title) == (True, "start", "plan it")
    assert desk.session.run.recipe.name == "two-coats"
    assert desk.session.run.offered == {}


def plan(desk, *answers):
    return Held(work.begin(desk), "New: Seam", "two-coats", "plan", *answers)


def test_a_run_is_planned_with_its_answers_and_not_begun(desk):
    held = plan(desk, *ANSWERS)
    assert held.said[-1].startswith("Planned: Made up")
    assert desk.session.project.run is None
    (kept,) = desk.session.project.plans.values()
    assert (kept.part, kept.recipe) == ("Seam 1", "two-coats")
    assert kept.answers == {"length": "3 m", "resin": "epoxy-2to1-slow", "coats": "3", "cover": "ply"}
    for form in ("md", "lines", "csv"):
        assert "Planned two-coats on Seam 1" in export(desk.session.log.events(), "Hide", form)


def test_an_answer_that_cannot_be_taken_is_asked_for_again(desk):
    held = plan(desk, "3 m", "epoxy-2to1-slow", "7", "3", "ply")
    assert any("7" in words for words in held.said)
    (kept,) = desk.session.project.plans.values()
    assert kept.answers["coats"] == "3"


def test_a_planned_run_is_listed_and_begun_with_its_answers_offered(desk):
    plan(desk, *ANSWERS)
    (key,) = desk.session.project.plans
    held = Held(work.other(desk), f"plan:{key}", "begin")
    assert any("planned" in item.note for item in held.asked[0].items)
    assert any("Count the coats 3" in line for line in held.asked[1].lines)
    session, at = desk.session, BEGUN
    assert session.project.plans == {}
    assert session.run.offered["coats"] == "3"
    rows = [row for row in session.view(at).frame.rows if row.is_question]
    assert [session.view(at, row.place).default for row in rows] == list(ANSWERS)
    session.done(at)
    assert session.run.values["coats"].text == "3"


def test_a_planned_run_can_be_dropped_or_left(desk):
    plan(desk, *ANSWERS)
    (key,) = desk.session.project.plans
    Held(work.other(desk), f"plan:{key}", None)
    assert key in desk.session.project.plans
    held = Held(work.other(desk), f"plan:{key}", "drop")
    assert held.said[-1].startswith("Plan cancelled: Made up")
    assert desk.session.project.plans == {}
    assert desk.session.project.run is None


def test_plans_are_there_when_the_project_is_opened_again(desk):
    plan(desk, *ANSWERS)
    kept = desk.session.project.plans
    desk.close()
    again = Session.open(project_path("Hide"), BEGUN, materials())
    assert again.project.plans == kept
    again.close()


def test_a_run_is_planned_only_on_a_part_that_is_there(desk):
    with pytest.raises(UsageError, match="there is no part 'Nowhere'"):
        desk.session.plan("Nowhere", read(), {}, BEGUN)


def test_planned_runs_that_are_many_stand_behind_one_item_of_a_screen(home):
    desk = Place(draws=True).begin()
    for count in range(3):
        part = desk.session.add_part(f"Seam {count}", BEGUN)
        desk.session.plan(part, read(), {}, BEGUN)
    held = Held(work.other(desk), "runs", None)
    assert "2 more runs, under way or planned" in held.titles[0]
    assert len(held.titles[0]) <= 9
    assert len(held.titles[1]) == 2
    desk.close()
