"""What a project keeps: on disk before it is shown, the same after reopening, untouched by files edited or disks full."""

import sqlite3
from contextlib import closing
from dataclasses import replace

import pytest
from conftest import EVERY_STEP, every_step, materials, reach

from shopmate import session as sessions
from shopmate.errors import FileProblems, InputError, LogError, ShopmateError, UsageError
from shopmate.log import Log
from shopmate.session import FinishedView, NotNow, Session, events_of, running_clocks
from shopmate.session.demo import follow


def on_disk(session):
    """What another program that opens the file sees at this moment."""
    with Log(session.log.path, read_only=True) as log:
        return Session(log, session.shelf)


def seen(session, at):
    """Return what the bench shows after a look at the time, which works out how long the run still takes."""
    session.foresee(at)
    return session.view(at)


def test_everything_shown_is_on_disk_already(small, now):
    looks = []

    def same(view):
        other, at = on_disk(small), small.log.events()[-1].at
        looks.append(seen(other, at))
        assert (other.project, looks[-1]) == (small.project, seen(small, at))
        return isinstance(view, FinishedView)

    now.at = follow(small, now(), {"Read the air": "12"}, until=same)
    assert len({view.headline for view in looks}) > 20


def test_other_changes_are_on_disk_before_they_return(small, now):
    small.set("system", "inch", now())
    small.remember("mix", {"resin": "100 g"}, now())
    small.keep("drill", {"diameter": "4 mm"}, now())
    small.add_part("  Hatch   7 ", now())
    project = on_disk(small).project
    assert (project.system, project.forms, list(project.parts)) == ("inch", {"mix": {"resin": "100 g"}}, ["Panel 1", "Hatch 7"])
    assert [event.data["calculator"] for event in events_of(small.log.path) if event.kind == "kept"] == ["drill"]
    count = len(small.log.events())
    small.remember("mix", {"resin": "100 g"}, now())
    assert len(small.log.events()) == count


def test_a_run_goes_on_where_it_was_after_reopening(small, now):
    reach(small, now, "Stir two full minutes")
    before, view = small.run, seen(small, now())
    small.close()
    again = Session.open(small.log.path, now(), materials())
    assert (again.run, seen(again, now())) == (before, view)
    assert [clock.title for clock in running_clocks(small.log.path)] == ["Pot life"]
    again.done(now())
    again.close()


def test_a_recipe_edited_in_mid_run_changes_nothing_under_way(home, now):
    path = home / "recipes" / EVERY_STEP.name
    path.parent.mkdir(parents=True)
    path.write_text(EVERY_STEP.read_text(encoding="utf-8"), encoding="utf-8")
    session = Session.create(sessions.project_path("x"), "x", now(), materials())
    session.begin(session.add_part("P", now()), sessions.find_recipe("every-step"), now())
    reach(session, now, "WARNING")
    view = seen(session, now())
    session.close()
    path.write_text("recipe: every-step\nspoiled: true\n", encoding="utf-8")
    with pytest.raises(FileProblems):
        sessions.find_recipe("every-step")
    session = Session.open(session.log.path, now(), materials())
    assert seen(session, now()) == view
    reach(session, now, "Recipe complete")
    session.close()


def test_a_material_changed_in_mid_run_changes_nothing_under_way(small, now):
    reach(small, now, "WARNING")
    held = dict(small.run.values)
    resin = materials()["epoxy-2to1-slow"]
    changed = replace(resin, title="Other", figures={**resin.figures, "ratio": "5:1 by volume", "pot_life": "5 min"})
    small.close()
    again = Session.open(small.log.path, now(), {resin.name: changed})
    assert again.run.values == held
    reach(again, now, "Start the pot life")
    again.done(now())
    assert again.clocks[0].length.total_seconds() == 40 * 60
    assert again.run.values["pot.scale_hardener"].quantity.value_in("g") == pytest.approx(142.17, abs=0.01)
    again.close()
    gone = Session.open(small.log.path, now(), {})
    reach(gone, now, "Recipe complete")
    gone.close()


def test_runs_on_several_parts_do_not_touch_one_another(small, now):
    first = small.run.key
    reach(small, now, "Spread the pot")
    view = seen(small, now())
    small.begin(small.add_part("Panel 2", now()), every_step(), now())
    second = small.run.key
    reach(small, now, "Count the coats", {"Choose the glue": "cartridge"})
    assert small.take_back(now()) == "Choose the resin"
    assert small.take_back(now()) == "Choose the glue"
    with pytest.raises(NotNow, match="nothing to undo"):
        small.take_back(now())
    small.choose(first, now())
    assert seen(small, now()) == view
    assert small.run.values["glue"].text == "epoxy"
    assert [clock.title for clock in small.clocks] == ["Pot life"]
    small.take_back(now())
    assert small.view(now()).headline == "Stir two full minutes"
    count = len(small.log.events())
    small.choose(first, now())
    assert len(small.log.events()) == count
    small.choose(second, now())
    assert small.run.step.headline == "Choose the glue"
    assert [run.part for run in small.project.runs.values()] == ["Panel 1", "Panel 2"]


def test_what_cannot_be_written_has_not_happened(small, now, monkeypatch):
    append, tried = small.log.append, []

    def jammed(kind, data, at, over):
        """Fail at each write the first time it is tried."""
        tried.append(small.project)
        if len(tried) % 2:
            raise LogError("no room on the disk")
        return append(kind, data, at, over=over)

    monkeypatch.setattr(small.log, "append", jammed)
    count, finished = len(small.log.events()), False
    while not finished:
        try:
            follow(small, small.log.events()[-1].at, {"Read the air": "12"}, until=lambda view: isinstance(view, FinishedView))
            finished = True
        except LogError:
            assert small.project is tried[-1]
            assert on_disk(small).project == small.project
    assert len(tried) == 2 * (len(small.log.events()) - count) > 50


@pytest.mark.parametrize(
    "change",
    [
        lambda session, at: session.add_part("Panel 2", at),
        lambda session, at: session.begin("Panel 1", every_step(), at),
        lambda session, at: session.set("theme", "light", at),
        lambda session, at: session.take_back(at),
        lambda session, at: session.measure_again(at),
        lambda session, at: session.override("a reason", at),
        lambda session, at: session.remember("mix", {"resin": "1 g"}, at),
    ],
)
def test_a_file_that_may_not_be_written_leaves_the_project_as_it_was(small, now, change):
    reach(small, now, "Pass the air", {"Read the air": "12"})
    project, view = small.project, small.view(now())
    small.log._connection.execute("PRAGMA query_only = ON")
    with pytest.raises(LogError, match="could not be written"):
        change(small, now())
    assert (small.project, small.view(now())) == (project, view)
    small.log._connection.execute("PRAGMA query_only = OFF")
    change(small, now())
    assert small.project != project


def test_the_words_for_what_cannot_be_begun(small, now, home):
    for name, words in (("", "has no name"), ("   ", "has no name"), ("Panel 1", "already"), (" Panel  1", "already")):
        with pytest.raises(UsageError, match=words):
            small.add_part(name, now())
    with pytest.raises(UsageError, match="there is no part 'Panel 9'"):
        small.begin("Panel 9", every_step(), now())
    with pytest.raises(UsageError, match="use letters or digits"):
        sessions.project_path("  ../ ")
    with pytest.raises(UsageError, match=r"recipes: .*bonding, .*fillet, .*glassing, .*surface-prep"):
        sessions.find_recipe("../bonding")
    with pytest.raises(LogError, match="already exists"):
        Session.create(small.log.path, "Small", now(), {})
    with pytest.raises(InputError):
        small.keep("mix", {}, now())
    empty = Session.create(sessions.project_path("Empty"), "Empty", now(), {})
    for act in (empty.done, empty.view, empty.take_back, empty.acknowledge, lambda at: empty.answer("1", at)):
        with pytest.raises(NotNow):
            act(now())
    empty.close()


def test_project_names_stay_inside_the_folder_and_may_be_of_any_script(home):
    assert sessions.project_path("../../Bird hide, 2").name == "bird-hide-2.shopmate"
    assert sessions.project_path("Vogelhütte №5").parent == home / "projects"
    assert sessions.project_path("x" * 300).name == "x" * 60 + ".shopmate"


def test_the_users_own_recipe_stands_in_for_the_shipped_one_and_a_bad_one_says_so(home):
    folder = home / "recipes"
    folder.mkdir(parents=True)
    (folder / "bonding.yaml").write_text("recipe: bonding\n", encoding="utf-8")
    files = {file.name: file for file in sessions.recipe_files()}
    assert files["bonding"].recipe is None
    assert files["bonding"].problem.endswith(f"see 'shopmate check {folder / 'bonding.yaml'}'")
    assert files["glassing"].recipe is not None


def test_a_file_that_is_no_project_says_so(tmp_path, now):
    bad = tmp_path / "bad.shopmate"
    bad.write_bytes(b"no database at all, " * 100)
    with pytest.raises(LogError, match="cannot be opened as a project"):
        Session.open(bad, now(), {})
    other = tmp_path / "other.shopmate"
    with closing(sqlite3.connect(other)) as database:
        database.execute("CREATE TABLE t (x)")
    with pytest.raises(ShopmateError, match="is not a shopmate database"):
        Session.open(other, now(), {})
    with pytest.raises(LogError, match="there is no project file"):
        events_of(tmp_path / "none.shopmate")
