"""The application around the bench: starting, choosing work, settings, alarms on every screen, files that are broken, leaving."""

import sqlite3
from contextlib import closing
from datetime import timedelta
from fractions import Fraction

import pytest
from conftest import EVERY_STEP, materials
from tui_bench import SIZES, opened

from shopmate import calc, paths
from shopmate import session as sessions
from shopmate.dialogue.look_up import which_calculator
from shopmate.errors import LogError
from shopmate.project.events.clocks import ClockStarted, Limit
from shopmate.project.export import export
from shopmate.session import Session, events_of
from shopmate.session.demo import NAME, follow
from shopmate.tui.app import ShopmateApp
from shopmate.tui.screens.bench import BenchScreen
from shopmate.tui.screens.calculators import FAR, CalculatorsScreen
from shopmate.tui.screens.choose import ChooseScreen
from shopmate.tui.screens.clocks import ClocksScreen
from shopmate.tui.screens.form import FormScreen
from shopmate.tui.screens.name import NameScreen
from shopmate.tui.screens.ready import ReadyScreen
from shopmate.tui.themes import DARK, LIGHT
from shopmate.tui.widgets.numbered import Numbered
from shopmate.tui.widgets.step_panel import StepPanel
from shopmate.units import Quantity


@pytest.fixture
def path(small):
    small.close()
    return small.log.path


@pytest.fixture
def recipe(home):
    """The recipe of every kind of step among the user's own."""
    folder = home / "recipes"
    folder.mkdir(parents=True)
    (folder / EVERY_STEP.name).write_bytes(EVERY_STEP.read_bytes())


def number(at, words):
    """The digits that choose the item with these words in the list on the screen."""
    items = at.app.screen.items
    (index,) = [index for index, item in enumerate(items, 1) if words in item.title]
    return f"{index:0{len(str(len(items)))}d}"


async def choose(at, words):
    await at.press(number(at, words))


# Starting


@pytest.mark.parametrize("size", SIZES, ids=lambda size: "x".join(map(str, size)))
async def test_the_first_start_offers_a_new_project_or_the_demo(home, now, size):
    async with opened(now, size=size) as at:
        assert isinstance(at.app.screen, ChooseScreen)
        assert [item.title for item in at.app.screen.items] == ["New project", "Demo"]
        assert "1  New project" in at.text
        assert "2  Demo" in at.text
        assert not sessions.projects()


async def test_a_project_is_made_a_part_named_and_a_recipe_begun_with_the_keypad_alone(home, now, recipe):
    async with opened(now) as at:
        await at.press("1")
        assert isinstance(at.app.screen, NameScreen)
        await at.press("E")
        await choose(at, "Inch")
        assert at.session.project.name == "Project 1"
        assert at.session.project.system == "inch"
        await choose(at, "Start a recipe")
        await choose(at, "New: Panel")
        await choose(at, "Try every kind of step")
        assert isinstance(at.app.screen, ReadyScreen)
        assert "Start now and it ends" in at.text
        await at.press("E")
        assert (at.session.run.part, at.asked[0]) == ("Panel 1", "Choose the glue")
        assert at.app.screen is at.app.bench
    assert [event.kind for event in events_of(sessions.project_path("Project 1"))] == ["project", "part", "run"]


async def test_a_part_with_a_name_of_its_own(path, now, recipe):
    async with opened(now, path) as at:
        await at.press("/.")
        await choose(at, "Start a recipe")
        await choose(at, "type a name")
        await choose(at, "Try every kind of step")
        for letter in "Lift roof":
            await at.hands.post("space" if letter == " " else letter, letter)
        await at.press("EE")
        assert at.session.run.part == "Lift roof"


async def test_leaving_each_question_on_the_way_leads_back_and_begins_nothing(path, now, recipe):
    async with opened(now, path) as at:
        for way in (
            ["Start a recipe"],
            ["Start a recipe", "New: type a name"],
            ["Start a recipe", "type a name", "Try every"],
            ["Start a recipe", "New: Panel", "Try every"],
        ):
            await at.press("/.")
            for words in way:
                await choose(at, words)
            await at.press("-" if isinstance(at.app.screen, ReadyScreen) else "/")
            assert at.app.screen is at.app.bench
        assert list(at.session.project.parts) == ["Panel 1"]
        assert len(at.session.project.runs) == 1


async def test_the_demo_says_what_it_is(home, now):
    async with opened(now) as at:
        await at.press("2/")  # past what can be tried
        assert at.session.project.name == NAME
        assert at.session.log.path.parent == paths.demo()
        assert "Bird hide (demo" in at.text
        assert "DO BEFORE" in at.text


async def test_the_last_project_opens_where_it_was(path, now):
    async with opened(now, path) as at:
        await at.to("Give the length")
    async with opened(now) as at:
        assert at.session.log.path == path
        assert at.view.headline == "Give the length"


# Going between pieces of work


async def test_going_to_another_run_and_back(small, now):
    first = small.run.key
    now.at = follow(small, now(), {}, until=lambda view: view.headline == "Stir two full minutes")
    small.begin(small.add_part("Panel 2", now()), small.run.recipe, now())
    small.close()
    async with opened(now, small.log.path) as at:
        assert "Panel 2" in at.text
        await at.press("/.")
        await choose(at, "Panel 1")
        assert (at.session.run.key, at.view.headline) == (first, "Stir two full minutes")
        assert "Pot life" in at.text
        await at.press("/.")
        await choose(at, "Panel 2")
        assert at.asked[0] == "Choose the glue"
        assert "Pot life" in at.text


async def test_units_and_theme_are_switched_and_kept(small, now):
    now.at = follow(small, now(), {}, until=lambda view: view.headline == "Stir two full minutes")
    small.close()
    path = small.log.path
    async with opened(now, path) as at:
        assert "Length 1.2 m" in at.text
        assert at.app.theme == DARK.name
        await at.press("/.")
        await choose(at, "Settings")
        await choose(at, "Show inch units")
        await at.press("/")
        assert "Length 47 1/4 in" in at.text
        await at.press("/.")
        await choose(at, "Settings")
        await choose(at, "Light theme")
        assert at.app.theme == LIGHT.name
    async with opened(now, path) as at:
        assert (at.app.theme, at.session.project.system) == (LIGHT.name, "inch")
        await at.press("/.")
        await choose(at, "Settings")
        assert number(at, "Show metric units")
        assert number(at, "Dark theme")


async def test_settings_that_cannot_be_used_are_said_once(path, now):
    async with opened(now, path, trouble="settings.json:1:1: no JSON; mend it") as at:
        assert "no JSON; mend it" in at.text
        await at.press("1")
        assert "no JSON" not in at.text


@pytest.mark.parametrize("size", SIZES)
async def test_notices_stand_on_every_screen_until_they_are_over(path, now, size):
    async with opened(now, path, size=size) as at:
        at.app.notices.stand("focus", "SECOND THING here")
        at.app.notices.stand("sound", "FIRST THING here")
        await at.pilot.pause()
        assert "FIRST THING here" in at.text
        assert "(+1)" in at.text or at.text.index("FIRST") < at.text.index("SECOND")
        await at.press("+")
        assert "FIRST THING here" in at.text
        at.app.notices.stand("sound", "")
        await at.pilot.pause()
        assert "FIRST" not in at.text
        assert "SECOND THING here" in at.text
        at.app.notices.stand("focus", "")
        await at.press("+")
        assert "THING" not in at.text


@pytest.mark.parametrize("size", SIZES)
async def test_an_old_reading_is_said_on_the_bench_at_every_size(small, now, size):
    small.log_temperature("20 °C", now())
    start = {
        "name": "opens", "title": "Recoat opens", "kind": "NOT BEFORE", "seconds": 36000.0, "sheet_celsius": 25.0,
        "action": "Coat", "if_late": "No harm.", "time_to_act_s": 3600.0, "consequence": "None",
    }  # fmt: skip
    small._record(ClockStarted(Limit(**start), "Recoat opens"), now())
    small.close()
    old = {40: ("! shop °C", "too old:", "measure")}.get(size[0], ("! Shop temperature reading is old",))
    async with opened(now, small.log.path, size=size) as at:
        await at.tick(hours=3)
        fresh = await at.wait(6)
        assert not any(words in text for words in old for text in fresh)
        await at.tick(hours=2)
        # In the one row that several steps leave to the clock it takes turns with the name.
        later = await at.wait(6)
        assert any(all(words in text for words in old) for text in later)


async def test_the_list_of_other_work_is_chosen_by_one_digit_however_many_runs_there_are(small, now):
    for number in range(4):
        small.begin(small.add_part(f"Seam {number}", now()), small.run.recipe, now.on(minutes=1))
    small.close()
    async with opened(now, small.log.path) as at:
        await at.press("/.")
        assert len(at.app.screen.items) <= 9
        await choose(at, "4 more runs under way")
        assert [item.title.rpartition(" · ")[2] for item in at.app.screen.items] == ["Seam 2", "Seam 1", "Seam 0", "Panel 1"]
        await choose(at, "Seam 1")
        assert at.session.run.part == "Seam 1"


async def test_how_long_a_reading_holds_is_the_user_s_to_set(small, now):
    small.close()
    async with opened(now, small.log.path, size=(40, 12)) as at:
        await at.press("/.")
        await choose(at, "Settings")
        await choose(at, "Shop temperature good for 4 h")
        await at.press("200 E")
        assert "above the maximum" in at.text
        await at.press("+++ 0.5E")
        assert "Shop temperature good for 0.5 h" in at.text
        assert at.session.project.reading_holds == timedelta(minutes=30)
    async with opened(now, small.log.path) as at:
        assert at.session.project.reading_holds == timedelta(minutes=30)


async def test_another_project(path, now):
    other = Session.create(sessions.project_path("Other"), "Other", now(), materials())
    other.close()
    async with opened(now, path) as at:
        await at.press("/.")
        await choose(at, "Another project")
        await choose(at, "other")
        assert at.session.project.name == "Other"
        assert isinstance(at.app.screen, ChooseScreen)  # nothing is on the bench: what is to be done?
        await at.press("/")
        assert ("enter", "choose work") in at.shown
        await at.press("E")
        await choose(at, "Another project")
        await choose(at, "small")
        assert at.asked[0] == "Choose the glue"


async def test_the_step_in_hand_of_a_project_opened_at_the_first_start_is_shown_at_once(home, now):
    async with opened(now, back=False, heard=None) as at:  # a notice comes with the project, and the bench is laid out for it
        await choose(at, "Demo")
        await at.press("/")  # past what can be tried
        panel = at.app.bench.query_one(StepPanel)
        assert panel.size.height == panel.get_content_height(panel.size, panel.size, panel.size.width) > 2
        assert "YOU WERE HERE" in at.text
        assert "Pour the hardener" in at.text


# Alarms


@pytest.mark.parametrize(
    ("keys", "kind"),
    [("", BenchScreen), ("+", ClocksScreen), ("/", CalculatorsScreen), ("/3", FormScreen), ("/.", ChooseScreen)],
    ids=["bench", "clocks", "calculators", "form", "choose"],
)
@pytest.mark.parametrize("size", [(80, 24), (40, 12)], ids=["80x24", "40x12"])
async def test_an_alarm_shows_and_is_acknowledged_on_every_screen(small, now, keys, kind, size):
    small.start_clock("Kettle", "DO BEFORE", timedelta(minutes=5), now())
    small.close()
    async with opened(now, small.log.path, size) as at:
        await at.press(keys)
        before = at.app.screen
        assert isinstance(before, kind)
        await at.tick(minutes=6)
        assert "NOW · Kettle" in at.text
        assert ("asterisk", "seen") in at.shown
        await at.press("*")
        assert at.said == "SEEN Kettle"
        assert at.app.screen is before
        assert not at.app.alarm_waits
        assert ("asterisk", "seen") not in at.shown


async def test_an_alarm_is_put_off_and_comes_back_by_itself(small, now):
    small.start_clock("Soak", "DO BEFORE", timedelta(minutes=60), now())
    small.close()
    async with opened(now, small.log.path) as at:
        await at.tick(minutes=50)
        assert ("full_stop", "later") in at.shown
        await at.press(".2")
        assert not at.app.alarm_waits
        await at.tick(minutes=4)
        assert not at.app.alarm_waits
        await at.tick(minutes=2)
        assert at.app.alarm_waits
        await at.press("*")
        await at.tick(minutes=5)
        assert ("full_stop", "later") not in at.shown  # its limit is reached


async def test_what_fell_due_while_it_was_shut_is_told_with_its_time(small, now):
    small.start_clock("Kettle", "DO BEFORE", timedelta(minutes=5), now())
    small.close()
    now.on(minutes=12)
    async with opened(now, small.log.path) as at:
        assert "MISSED" in at.text
        assert "7 min ago · Kettle" in at.text
        await at.press("*")
        assert not at.app.alarm_waits


# What is broken


async def test_a_broken_project_file_gives_words_and_another_way(home, now):
    folder = paths.projects()
    folder.mkdir(parents=True)
    (folder / "bad.shopmate").write_bytes(b"no database at all, " * 100)
    async with opened(now) as at:
        assert "cannot be opened as a project" in at.text.replace("\n", " ")
        await at.press("1")
        assert [item.title for item in at.app.screen.items] == ["bad", "New project", "Demo"]
        await choose(at, "New project")
        await at.press("E1")
        assert at.session.project.name == "Project 2"


async def test_a_missing_project_file_gives_words(home, now, tmp_path):
    async with opened(now, tmp_path / "gone.shopmate") as at:
        assert "there is no project file" in at.text


async def test_a_broken_shelf_file_gives_its_place(path, now, home):
    (home / "shelf.yaml").write_text("shelf: mine\nmaterials:\n  - material: x\n    kind: tar\n", encoding="utf-8")
    async with opened(now, path) as at:
        assert "shelf.yaml:3:5" in "".join(at.text.split())
        for keys in ("1", "1", "E"):
            await at.press(keys)
            assert at.asked[0] == "Choose the glue"
            assert "READ ONLY: shelf.yaml:3:5" in at.text
    (home / "shelf.yaml").unlink()
    async with opened(now, path) as at:
        assert "READ ONLY" not in at.text
        await at.press("11")
        assert at.asked[0] != "Choose the glue"


async def test_a_broken_recipe_is_named_and_the_others_can_be_chosen(path, now, home):
    (home / "recipes").mkdir()
    (home / "recipes" / "mine.yaml").write_text("recipe: mine\n", encoding="utf-8")
    async with opened(now, path) as at:
        await at.press("/.")
        await choose(at, "Start a recipe")
        await choose(at, "Panel 1")
        assert "mine has " in at.text
        assert "shopmate check" in at.text
        assert len(at.app.screen.items) == 1 + len(list(paths.shipped_recipes().glob("*.yaml")))  # the next one, and all


def full(*_, **__):
    raise LogError("the disk is full; make room on it")


@pytest.mark.parametrize(
    ("keys", "words"),
    [
        ("E", ""),
        ("1", ""),
        ("-E", ""),
        ("+05E", ""),
        ("+1E", ""),
        ("/73 12E/", ""),
        ("/.8", ""),
        ("/.", "Light theme"),
        ("/.", "Show inch"),
    ],
    ids=["take", "choose", "back", "own clock", "end clock", "form", "run", "theme", "units"],
)
async def test_a_full_disk_gives_words_and_changes_nothing(small, now, monkeypatch, keys, words):
    small.start_clock("Kettle", "DO BEFORE", timedelta(minutes=50), now())
    small.begin("Panel 1", small.run.recipe, now())
    small.answer("epoxy", now())
    small.take_back(now())
    small.close()
    # On a busy machine a second passes under the keys, and at the second the bench itself finds that nothing can be recorded.
    monkeypatch.setattr(ShopmateApp, "set_interval", lambda *_, **__: None)
    async with opened(now, small.log.path) as at:
        project = at.session.project
        monkeypatch.setattr(at.session.log, "append", full)
        await at.press(keys)
        if words:
            await choose(at, "Settings")
            await choose(at, words)
        assert "the disk is full" in at.text
        assert at.session.project is project
        await at.press("1")
        assert "the disk is full" not in at.text


# Leaving


@pytest.mark.parametrize("key", ["ctrl+q", "ctrl+c"])
async def test_leaving_while_no_clock_runs(path, now, key):
    async with opened(now, path) as at:
        await at.hands.post(key, None)
        assert at.app._exit
        assert not at.app.has_session


@pytest.mark.parametrize("key", ["ctrl+q", "ctrl+c"])
async def test_leaving_while_a_clock_runs_is_asked_about(small, now, key):
    small.start_clock("Kettle", "DO BEFORE", timedelta(minutes=5), now())
    small.close()
    async with opened(now, small.log.path) as at:
        await at.hands.post(key, None)
        assert "1 clock is running and cannot ring while shopmate is closed. Leave?" in " ".join(at.text.split())
        await at.hands.post(key, None)
        await at.press("1")
        assert at.app.screen is at.app.bench
        assert not at.app._exit
        await at.press("/.")
        await choose(at, "Leave shopmate")
        assert not at.app._exit
        await at.press("2")
        assert at.app._exit


# Calculators


def kept(at):
    return [event for event in events_of(at.session.log.path) if event.kind == "kept"]


async def calculator(at, name):
    """Open a calculator from the bench."""
    await at.press("/")
    await at.press(str(FAR + calc.names().index(name)))
    assert isinstance(at.app.screen, FormScreen)


@pytest.mark.parametrize("size", SIZES, ids=lambda size: "x".join(map(str, size)))
async def test_a_result_is_kept_in_the_log_with_one_key_and_the_bench_says_so(path, now, size):
    async with opened(now, path, size) as at:
        await calculator(at, "bead")
        await at.press("0 300E 6.35E E")
        assert ("enter", "save to log") in at.shown
        await at.press("E")
        assert isinstance(at.app.screen, BenchScreen)
        assert at.said == "SAVED to the log"
        (event,) = kept(at)
        assert event.data["texts"]["cartridge"] == "300 mL"
        assert event.data["texts"]["diameter"] == "6.35 mm"
        assert event.at == now()
        text = export(events_of(path), "Small", "md")
        # 300 mL over π/4 × 6.35² mm² is 9.47 m: by hand.
        assert "| Kept bead | Length per cartridge: 9.47 m; " in text


async def test_a_calculator_left_by_slash_keeps_nothing_but_what_was_entered(path, now):
    async with opened(now, path) as at:
        await calculator(at, "bead")
        await at.press("0 300E 6E E")
        await at.press("/")
        assert isinstance(at.app.screen, BenchScreen)
        assert kept(at) == []
        assert at.session.project.forms["bead"]["diameter"] == "6 mm"


async def test_a_kept_result_has_each_entry_as_it_was_typed_and_no_rounding(path, now):
    async with opened(now, path) as at:
        at.session.set("system", "inch", now())
        await calculator(at, "drill")
        await at.press("1/8E")
        await at.press("E" * len(calc.find("drill").asked))
        (event,) = kept(at)
        assert event.data["texts"]["diameter"] == "1/8 in"
        assert calc.run("drill", event.data["texts"]).inputs["diameter"] == Quantity(Fraction(1, 8), "in")


async def test_a_full_disk_does_not_say_kept(path, now, monkeypatch):
    async with opened(now, path) as at:
        await calculator(at, "bead")
        await at.press("0 300E 6E E")

        def full(*_, **__):
            raise LogError("the disk is full; free some room")

        monkeypatch.setattr(at.session.log, "append", full)
        await at.press("E")
        assert at.said != "SAVED to the log"
        assert "the disk is full" in at.text
        monkeypatch.undo()
        assert kept(at) == []


@pytest.mark.parametrize("size", SIZES, ids=lambda size: "x".join(map(str, size)))
async def test_an_alarm_while_a_figure_is_typed_leaves_it_and_is_acknowledged_there(path, now, size):
    async with opened(now, path, size) as at:
        at.session.start_clock("Soak", "DO BEFORE", timedelta(minutes=5), now())
        await calculator(at, "bead")
        await at.press("0 30")
        await at.tick(minutes=6)
        assert at.app.alarm_waits
        assert at.entry.text == "30"
        assert "Soak" in at.text
        await at.press("*")
        assert not at.app.alarm_waits
        assert at.entry.text == "30"
        await at.press("0E")
        assert at.app.screen.form.texts["cartridge"] == "300 mL"


@pytest.mark.parametrize("size", SIZES)
async def test_the_shop_temperature_is_read_from_the_work_list_with_the_keypad(path, now, recipe, size):
    async with opened(now, path, size) as bench:
        await bench.press("/.")
        choices = bench.app.screen.query_one(Numbered)
        number = next(number for number, text in choices.choices.items() if text.startswith("Shop temperature"))
        await bench.press(f"{number:0{choices.digits}d}")
        assert "Temperature of the shop" in bench.text
        await bench.press("16E")
        assert bench.said == "SHOP 16 °C"
        await bench.press("/.")
        assert size == (40, 12) or "16 °C, just now" in bench.text
        [reading] = [event for event in bench.session.log.events() if event.kind == "temperature"]
        assert reading.data["text"] == "16 °C"


async def test_a_second_that_passes_while_a_screen_is_still_being_made_is_no_fault(small, now):
    small.start_clock("Kettle", "DO BEFORE", timedelta(minutes=5), now())
    small.close()
    async with opened(now, small.log.path) as at:
        at.app.push_screen(CalculatorsScreen(which_calculator(("mix",))))
        now.on(minutes=6)
        at.app.tick()
        await at.pilot.pause()
        at.app.tick()
        await at.pilot.pause()
        assert isinstance(at.app.screen, CalculatorsScreen)
        assert "Kettle" in at.text


async def test_an_alarm_that_is_over_or_flashes_while_a_screen_is_still_being_made_is_no_fault(small, now):
    small.start_clock("Kettle", "DO BEFORE", timedelta(minutes=5), now())
    small.close()
    async with opened(now, small.log.path) as at:
        await at.tick(minutes=6)
        at.app.push_screen(CalculatorsScreen(which_calculator(("mix",))))
        at.app.flash.turn()
        await at.pilot.pause()
        at.app.push_screen(CalculatorsScreen(which_calculator(("mix",))))
        at.session.end_clock(at.session.clocks[0].key, now())
        at.app.show_alarms()
        at.app.say("said while it is made")
        await at.pilot.pause()
        assert isinstance(at.app.screen, CalculatorsScreen)


async def test_a_damaged_project_shows_its_step_and_what_is_damaged(begun, now):
    path = begun("Weigh the resin")
    with closing(sqlite3.connect(path, isolation_level=None)) as database:
        database.execute("DROP TRIGGER event_is_not_changed")
        database.execute("UPDATE event SET data = '{}' WHERE kind = 'seen'")
    async with opened(now, path) as at:
        assert "READ ONLY" in at.text
        assert at.session.run.part == "Panel 1"
        await at.press("E")
        assert at.session.log.damages
        assert at.session.why_read_only.startswith("READ ONLY: ")
