"""Recipes of the user's own: the start that is written, a finished run written out, names that a shipped recipe has."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from conftest import BEGAN, Time, every_step, materials, ordinary_user
from plain_talk import NEW_PROJECT, Talk

from shopmate import cli, paths
from shopmate import recipe as recipes
from shopmate import session as sessions
from shopmate.errors import UsageError
from shopmate.recipe import Ask
from shopmate.session import FinishedView, Session, find_recipe
from shopmate.session.demo import follow
from shopmate.session.own import run_text

LATER = datetime(2026, 5, 6, 12, 0, tzinfo=UTC)

Said = tuple[int, str, str]


@pytest.fixture
def shopmate(home: Path, capsys: pytest.CaptureFixture[str]):
    """Run a command at a fixed time and return its exit code, stdout and stderr."""

    def run(*words: str) -> Said:
        code = cli.main(words, lambda: LATER)
        out, err = capsys.readouterr()
        return code, out, err

    return run


def finished(session: Session, answers: dict[str, str], began: datetime = BEGAN) -> Session:
    """Follow the run on the bench to its end."""
    follow(session, began, answers, until=lambda view: isinstance(view, FinishedView))
    return session


def questions(recipe: recipes.Recipe) -> dict[str, str | None]:
    """Return the answers that a recipe offers, by the name of each."""
    return {act.into: act.default for act in recipe.acts if isinstance(act, Ask)}


# The start


def test_the_start_passes_check_without_a_note_and_is_found_by_its_name(shopmate, home: Path) -> None:
    code, out, err = shopmate("new-recipe", "my-batten")
    path = home / "recipes" / "my-batten.yaml"
    assert (code, out) == (0, f"{path}\n")
    assert err == f"shopmate: change it in an editor, then run: shopmate check {path}\n"
    assert shopmate("check", str(path)) == (0, "", "shopmate: no problems in 1 file\n")
    assert find_recipe("my-batten").date == "2026-05-06"
    assert "my-batten" in sessions.recipe_paths()
    assert shopmate("sheet", "my-batten")[0] == 0


def test_the_start_is_followed_to_its_end(shopmate, home: Path) -> None:
    shopmate("new-recipe", "my-batten")
    session = Session.create(sessions.project_path("Small"), "Small", BEGAN, materials())
    session.begin(session.add_part("Panel 1", BEGAN), find_recipe("my-batten"), BEGAN)
    finished(session, {"Pot size": "60 g"}).close()


def test_the_start_names_the_schema_for_editors(shopmate, home: Path) -> None:
    _, out, _ = shopmate("new-recipe", "my-batten")
    first = Path(out.strip()).read_text(encoding="utf-8").splitlines()[0]
    assert first == f"# yaml-language-server: $schema={paths.schema('recipe').as_uri()}"


def test_nothing_is_overwritten(shopmate, home: Path) -> None:
    _, out, _ = shopmate("new-recipe", "my-batten")
    Path(out.strip()).write_text("mine", encoding="utf-8")
    code, out, err = shopmate("new-recipe", "my-batten")
    assert (code, out) == (2, "")
    path = home / "recipes" / "my-batten.yaml"
    assert err == f"shopmate: {path} already exists; enter another name, or move that file away\n"
    assert path.read_text(encoding="utf-8") == "mine"


@pytest.mark.parametrize("name", ["My-batten", "my batten", "../batten", "2-battens", "batten.yaml", ""])
def test_a_name_that_no_recipe_can_have_is_refused_and_nothing_is_written(shopmate, home: Path, name: str) -> None:
    code, _, err = shopmate("new-recipe", name)
    assert code == 2
    assert "won't do as a recipe name" in err
    assert not home.exists()


def test_a_folder_that_cannot_be_written_is_said(home: Path) -> None:
    home.mkdir()
    home.chmod(0o500)
    with ordinary_user(), pytest.raises(UsageError, match=r"cannot be written: .*; free disk space, or check the permissions"):
        sessions.write_own("my-batten", "text")


def test_a_second_recipe_goes_into_the_folder_of_the_first(home: Path) -> None:
    paths_ = [sessions.write_own(name, f"recipe: {name}\n") for name in ("my-batten", "my-sill")]
    assert [path.read_text(encoding="utf-8") for path in paths_] == ["recipe: my-batten\n", "recipe: my-sill\n"]


# Names that a shipped recipe has


def test_a_shipped_name_is_said_where_it_is_written_checked_and_chosen(shopmate, home: Path) -> None:
    code, out, err = shopmate("new-recipe", "fillet")
    assert code == 0
    assert "shopmate: it is used in place of the shipped recipe 'fillet'; rename file and recipe to have both\n" in err
    path = out.strip()
    note = f"note: {path}: is used in place of the shipped one of that name; give it another name to have both\n"
    assert note in shopmate("check", path)[2]
    parts = Talk(Time(), [*NEW_PROJECT, "3", "1", ""]).run()
    assert parts.count("Your own recipe, used in place of the shipped one.") == 1


def test_an_operation_of_a_shipped_name_is_said_too(shopmate, home: Path) -> None:
    path = home / "recipes" / "operations" / "cure.yaml"
    path.parent.mkdir(parents=True)
    path.write_text((paths.shipped_recipes() / "operations" / "cure.yaml").read_text(encoding="utf-8"), encoding="utf-8")
    code, _, err = shopmate("check", str(path))
    assert code == 0
    assert f"note: {path}: is used in place of the shipped one of that name" in err


def test_a_name_of_ones_own_is_no_shipped_one(shopmate, home: Path) -> None:
    path = shopmate("new-recipe", "my-fillet")[1].strip()
    assert "note" not in shopmate("check", path)[2]
    assert "note" not in shopmate("check", str(paths.shipped_recipes() / "fillet.yaml"))[2]


def test_a_free_name_is_the_first_that_no_recipe_has(home: Path) -> None:
    assert sessions.free_name("lay") == "lay"
    assert sessions.free_name("fillet") == "fillet-2"
    sessions.write_own("fillet-2", "")
    assert sessions.free_name("fillet") == "fillet-3"


# A finished run written out


ANSWERS = {"Choose the glue": "cartridge", "Count the coats": "3", "Give the length": "4 ft", "Weigh the resin": "101 g"}


@pytest.fixture
def done(small: Session) -> Session:
    """A finished run of every kind of step, one hold point passed with a reason."""
    return finished(small, {**ANSWERS, "Read the air": "10 °C"})


def test_a_run_is_written_with_its_answers_where_its_recipe_offers_any(done: Session) -> None:
    recipe = recipes.read(run_text(done.run, "mine", LATER), "mine.yaml", "mine")
    assert (recipe.name, recipe.version, recipe.date) == ("mine", "1", "2026-05-06")
    was, is_now = questions(every_step()), questions(recipe)
    assert {name for name in was if was[name] != is_now[name]} == {"glue", "coats", "length"}
    assert (is_now["glue"], is_now["coats"], is_now["length"]) == ("cartridge", "3", "4 ft")
    assert is_now["poured"] is None
    assert [section.name for section in recipe.sections] == [section.name for section in every_step().sections]


def test_what_was_passed_with_a_reason_stands_at_the_top(done: Session) -> None:
    head = [line for line in run_text(done.run, "mine", LATER).splitlines() if line.startswith("# ")]
    assert head[1:3] == [
        "# Written out from the run on Panel 1, begun 2026-05-04.",
        "# An answer that the recipe offers is the one of that run; what was measured or weighed is asked anew.",
    ]
    assert "# 'Pass the air' was passed because: Measured again, the first reading was wrong" in head


def test_a_recipe_that_shares_operations_goes_on_sharing_them(home: Path) -> None:
    session = Session.create(sessions.project_path("Small"), "Small", BEGAN, materials())
    session.begin(session.add_part("Panel 1", BEGAN), find_recipe("surface-prep"), BEGAN)
    finished(session, {"Face": "wood"})
    text = run_text(session.run, "mine", LATER)
    session.close()
    assert "- use: conditions" in text
    assert questions(recipes.read(text, "mine.yaml", "mine"))["face"] == "wood"


def test_a_recipe_changed_since_is_written_as_it_was_followed(home: Path) -> None:
    shipped = (paths.shipped_recipes() / "surface-prep.yaml").read_text(encoding="utf-8")
    path = sessions.write_own("surface-prep", shipped)
    session = Session.create(sessions.project_path("Small"), "Small", BEGAN, materials())
    session.begin(session.add_part("Panel 1", BEGAN), find_recipe("surface-prep"), BEGAN)
    finished(session, {})
    path.write_text(shipped.replace("- ask: Face", "- ask: The face"), encoding="utf-8")
    text = run_text(session.run, "mine", LATER)
    session.close()
    assert "use: conditions" not in text
    assert "- ask: Face" in text
    assert recipes.read(text, "mine.yaml", "mine").notes == ()


@pytest.mark.parametrize(
    "text", ["yes", "No", "on", "null", "~", "12", "1e3", "a: b", "a #b", "a:", "- a", "a ", "", "{a}", "ä b"]
)
def test_texts_written_plain_are_read_as_they_were(text: str) -> None:
    root = recipes.compose(recipes.written(recipes.Node(1, 1, items=(recipes.Node(1, 1, text),)), plain=True), "f.yaml")
    assert root.items is not None
    assert root.items[0].text == text


def test_the_last_finished_run_is_written_or_the_one_that_is_named(shopmate, done: Session) -> None:
    first = done.run.key
    done.begin("Panel 1", every_step(), BEGAN + timedelta(days=1))
    finished(done, {"Give the length": "90 mm"}, BEGAN + timedelta(days=1))
    last = done.run.key
    done.begin("Panel 1", every_step(), BEGAN + timedelta(days=2))
    done.close()
    code, out, err = shopmate("new-recipe", "mine", "--from-run", "Small")
    assert code == 0
    assert questions(recipes.load(Path(out.strip())))["length"] == "90 mm"
    assert shopmate("check", out.strip()) == (0, "", "shopmate: no problems in 1 file\n")
    out = shopmate("new-recipe", "mine-2", "--from-run", f"Small:{first}")[1]
    assert questions(recipes.load(Path(out.strip())))["length"] == "4 ft"
    code, _, err = shopmate("new-recipe", "mine-3", "--from-run", "Small:999")
    known = f"{first} (every-step on Panel 1), {last} (every-step on Panel 1)"
    assert (code, err) == (2, f"shopmate: 'Small' has no finished run 999; finished are: {known}\n")


def test_a_project_without_a_finished_run_says_so(shopmate, small: Session) -> None:
    small.give_up(BEGAN)
    small.close()
    code, _, err = shopmate("new-recipe", "mine", "--from-run", "Small")
    assert (code, err) == (2, "shopmate: no run of 'Small' is finished; finish one, or leave out --from-run\n")
    assert shopmate("new-recipe", "mine", "--from-run", "Large")[2].startswith("shopmate: there is no project 'Large'")


def test_a_finished_run_is_kept_as_a_recipe_on_the_bench_in_lines(done: Session, home: Path) -> None:
    done.close()
    said = Talk(Time(LATER), ["0", "mine", ""], done.log.path).run()
    path = home / "recipes" / "mine.yaml"
    assert "[Enter] other work, [0] save as recipe" in said
    assert f"Written to {path}" in "".join(said.split()).replace("Writtento", "Written to ")
    assert questions(recipes.load(path))["length"] == "4 ft"


def test_a_run_given_up_is_not_kept_as_a_recipe(small: Session) -> None:
    small.give_up(BEGAN)
    small.close()
    assert "save as recipe" not in Talk(Time(LATER), ["/"], small.log.path).run()
