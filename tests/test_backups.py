"""Backups of projects: when they are made, how many are kept, how one is brought back, and copies made by hand."""

from datetime import timedelta

import pytest
from conftest import BEGAN, every_step, materials
from held import BEGUN, Held, Place

from shopmate import paths
from shopmate.dialogue import projects
from shopmate.errors import LogError
from shopmate.log import Log
from shopmate.project.backups import EACH, KEPT, back_up, backups_of, made_at
from shopmate.project.mend import bring_back
from shopmate.session import Session, events_of, project_path


@pytest.fixture
def desk(home):
    place = Place().begin()
    yield place
    place.close()


def kinds(path):
    return [event.kind for event in events_of(path)]


def test_a_project_is_backed_up_when_it_is_closed(desk):
    path = desk.session.log.path
    desk.session.add_part("Panel 1", BEGUN)
    desk.close()
    (kept,) = backups_of(path)
    assert kept.is_relative_to(paths.backups())
    assert made_at(kept) == BEGUN
    assert kinds(kept) == kinds(path)
    assert kinds(kept)[-1] == "part"


def test_a_project_in_which_nothing_was_recorded_since_gets_no_other(desk):
    path = desk.session.log.path
    desk.close()
    with Log(path, read_only=True) as log:
        assert back_up(log, BEGUN + EACH) is None
    assert len(backups_of(path)) == 1


def test_a_project_that_is_open_is_backed_up_once_an_hour(desk):
    session, made = desk.session, []
    for minutes in range(0, 190, 10):
        at = BEGUN + timedelta(minutes=minutes)
        session.add_part(f"Panel {minutes}", at)
        session.keep_safe(at)
        made.append(len(backups_of(session.log.path)))
    assert made == [*[0] * 6, *[1] * 6, *[2] * 6, 3]


def test_a_clock_set_back_delays_no_backup(desk):
    desk.session.keep_safe(BEGUN)
    desk.session.add_part("Panel 1", BEGUN)
    desk.session.keep_safe(BEGUN - timedelta(days=1))
    assert len(backups_of(desk.session.log.path)) == 1


def test_the_newest_seven_are_kept(desk):
    path = desk.session.log.path
    for day in range(KEPT + 3):
        desk.session.add_part(f"Panel {day}", BEGUN)
        desk.session.back_up(BEGUN + timedelta(days=day))
    kept = backups_of(path)
    assert [made_at(one) for one in kept] == [BEGUN + timedelta(days=day) for day in range(KEPT + 2, 2, -1)]
    assert len(kept) == KEPT
    assert kinds(kept[0]) == kinds(path)


def test_a_window_that_only_reads_makes_none(desk):
    with_it = Session.open(desk.session.log.path, BEGUN, {})
    assert with_it.read_only
    with_it.back_up(BEGUN)
    with_it.close()
    assert backups_of(desk.session.log.path) == []


def test_the_demo_has_none(home):
    with Log(paths.demo() / "hide.shopmate", create=True) as log:
        assert back_up(log, BEGUN) is None
    assert not paths.backups().exists()


def test_a_backup_that_cannot_be_made_is_said_and_the_work_goes_on(desk):
    paths.backups().write_text("a file where the folder should be", encoding="utf-8")
    desk.watching.look(BEGUN)
    desk.session.add_part("Panel 1", BEGUN)
    found = desk.watching.look(BEGUN + EACH)
    assert ["No backup: " in said.words for said in found.words] == [True]
    assert desk.watching.look(BEGUN + EACH * 1.5).words == ()
    desk.close()
    assert desk.parting.startswith("No backup: ")
    assert not desk.has_session


def damaged(desk):
    """Empty the project's file behind its back, as a file system does that lost it; return its path."""
    desk.session.add_part("Panel 1", BEGUN)
    path = desk.session.log.path
    desk.close()
    path.write_bytes(b"")
    return path


def test_an_empty_project_is_refused_and_the_newest_backup_is_offered(desk):
    path = damaged(desk)
    held = Held(projects.begin(desk, path), "backup")
    [question] = held.asked
    assert question.title == "Project damaged"
    assert f"{path} is empty" in question.explain
    assert [item.title for item in question.items] == ["Restore the newest backup"]
    assert desk.session.project.parts == {"Panel 1": BEGUN}
    (aside,) = path.parent.glob("*.damaged-*")
    assert aside.read_bytes() == b""
    assert str(aside) in held.said[0]


def test_an_empty_project_without_a_backup_is_named(desk):
    path = damaged(desk)
    for kept in backups_of(path):
        kept.unlink()
    held = Held(projects.begin(desk, path), None)
    assert [f"{path} is empty" in words for words in held.told] == [True]
    assert held.asked[0].title == "Project"
    with pytest.raises(LogError, match=r"is empty.*; it has no backup"):
        events_of(path)


def test_a_command_names_the_newest_backup_of_a_damaged_file(desk):
    path = damaged(desk)
    with pytest.raises(LogError, match=f"is empty.*; the newest backup is {backups_of(path)[0]}"):
        events_of(path)


def test_what_was_half_written_to_a_damaged_file_is_not_rolled_back_into_the_backup(desk):
    path = damaged(desk)
    path.with_name(f"{path.name}-journal").write_bytes(b"pages of the damaged file")
    aside = bring_back(backups_of(path)[0], path, BEGUN)
    assert sorted(one.name for one in path.parent.iterdir()) == sorted([path.name, aside.name, f"{aside.name}-journal"])
    assert kinds(path)[-1] == "part"


def test_a_project_made_again_under_the_name_of_one_removed_keeps_the_old_backups(desk):
    path = desk.session.log.path
    desk.close()
    path.unlink()
    desk.create(path, "Hide", "metric")
    desk.at += timedelta(days=1)
    desk.close()
    assert len(backups_of(path)) == 2


# Copies by hand


def test_a_copied_file_opens_on_another_computer(small, now, tmp_path, monkeypatch, shopmate_words):
    """The other computer has neither the recipe nor the materials that the run was begun with."""
    session, view = small, small.view(now())
    code, out, _ = shopmate_words("copy", session.log.path.stem, str(tmp_path))
    assert code == 0
    monkeypatch.setenv(paths.HOME_VARIABLE, str(tmp_path / "other"))
    there = project_path("Small")
    there.parent.mkdir(parents=True)
    there.write_bytes((tmp_path / session.log.path.name).read_bytes())
    assert out == f"{tmp_path / session.log.path.name}\n"
    opened = Session.open(there, now(), materials())
    assert not opened.read_only
    opened.foresee(now())
    assert opened.view(now()) == view
    assert opened.run.recipe == every_step()
    opened.done(now())
    assert opened.view(now()) != view
    opened.close()


def test_a_copy_that_would_be_no_project_or_replace_a_file_is_refused(small, tmp_path, shopmate_words):
    name = small.log.path.stem
    code, _, said = shopmate_words("copy", name, str(tmp_path / "copy.db"))
    assert (code, "a name that ends in .shopmate" in said) == (2, True)
    taken = tmp_path / "taken.shopmate"
    taken.write_text("mine", encoding="utf-8")
    code, _, said = shopmate_words("copy", name, str(taken))
    assert (code, "already exists" in said, taken.read_text(encoding="utf-8")) == (1, True, "mine")


@pytest.fixture
def shopmate_words(capsys):
    """Return a function that runs a command and returns its exit code and what it printed."""
    from shopmate import cli

    def run(*words):
        capsys.readouterr()
        code = cli.main(words, lambda: BEGAN)
        return (code, *capsys.readouterr())

    return run


def test_a_project_whose_file_was_removed_a_moment_ago_is_left_and_saved(desk):
    desk.session.back_up(BEGUN)
    desk.session.add_part("Panel 1", BEGUN)
    path = desk.session.log.path
    path.unlink()
    desk.at += timedelta(hours=2)
    desk.close()
    assert not desk.has_session
    assert "was removed or replaced while it was open" in desk.parting
    assert kinds(backups_of(path)[0])[-1] == "part"
