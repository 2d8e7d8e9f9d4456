"""Dialogues without screens or lines: answers are sent, and what the session recorded is looked at."""

from dataclasses import replace
from datetime import timedelta

import pytest
import test_aging
from conftest import every_step
from held import BEGUN, Held, Place

from shopmate import paths
from shopmate import settings as settings_
from shopmate.clock import alarms
from shopmate.dialogue import clocks, projects, settings, sound, step, temperature, work
from shopmate.dialogue.asking import Recall, Show
from shopmate.errors import LogError
from shopmate.recipe import read
from shopmate.session import WHERE, ChooseView, Session, find_recipe, project_path, shelf
from shopmate.session.demo import follow
from shopmate.settings import Settings


@pytest.fixture
def desk(home):
    place = Place().begin()
    yield place
    place.close()


@pytest.fixture
def in_lines(home):
    place = Place(draws=False).begin()
    yield place
    place.close()


def full(*_, **__):
    raise LogError("the disk is full")


# The shop temperature


def test_the_shop_temperature_is_recorded(desk):
    held = Held(temperature.read(desk), "18.5 °C")
    [question] = held.asked
    assert (question.title, question.unit, question.place) == ("Temperature of the shop", "°C", "temperature")
    assert held.said == ["SHOP 18.5 °C"]
    assert [reading["typed"] for reading in desk.events("temperature")] == ["18.5 °C"]


def test_the_shop_temperature_is_asked_for_in_the_unit_of_the_project(desk):
    desk.session.set("system", "inch", BEGUN)
    assert Held(temperature.read(desk), None).asked[0].unit == "°F"


def test_a_temperature_that_is_left_is_not_recorded(desk):
    held = Held(temperature.read(desk), None)
    assert (held.said, held.told, desk.events("temperature")) == ([], [], [])


def test_what_is_no_temperature_is_said_and_not_recorded(desk):
    [said] = Held(temperature.read(desk), "90 °C").said
    assert "60 °C" in said
    assert not desk.events("temperature")


def test_the_clocks_that_a_temperature_moves_are_said(desk):
    desk.session.shelf = {"slow": test_aging.SLOW}
    session = desk.session
    session.begin(session.add_part("Panel 1", BEGUN), read(test_aging.RECIPE, "aging.yaml"), BEGUN)
    session.answer("slow", BEGUN)
    session.answer("25 °C", BEGUN)
    session.done(BEGUN)
    desk.at += timedelta(minutes=10)
    said = Held(temperature.read(desk), "15 °C").said
    assert said[0] == "SHOP 15 °C"
    assert [words.split(":")[:2] for words in said[1:]] == [["Moved", " Recoat opens · Panel 1"]]


def test_a_full_disk_is_told_until_it_is_read(desk, monkeypatch):
    monkeypatch.setattr(desk.session.log, "append", full)
    held = Held(temperature.read(desk), "20 °C")
    assert (held.said, held.told) == ([], ["the disk is full"])


# Projects


def test_the_first_time_a_new_project_is_named_and_other_work_asked_for(home):
    desk = Place()
    held = Held(work.start(desk, None), "New project", "Shed  2", "Inch", None)
    assert (desk.session.project.name, desk.session.project.system) == ("Shed 2", "inch")
    assert held.said == ["Project created: Shed 2, inch units."]
    assert desk.face.opened_times == 1
    assert held.asked[-1].title == "Shed 2"  # other work, as no run is on the bench
    desk.close()


def test_the_demo_is_opened_where_its_work_was_left(home):
    desk = Place()
    held = Held(work.start(desk, None), "Demo", None)
    assert len(held.asked[-1].items) == 3  # what to try
    assert desk.session.run is not None
    assert held.said == [f"Project opened: {desk.session.project.name}."]
    desk.close()


def test_without_a_project_leaving_the_question_leaves_the_program(home):
    desk = Place()
    Held(work.start(desk, None), None)
    assert desk.face.left == 1
    assert not desk.has_session


def test_what_cannot_be_opened_is_told_and_another_project_asked_for(home, tmp_path):
    broken, desk = tmp_path / "broken.shopmate", Place()
    broken.write_text("no project", encoding="utf-8")
    held = Held(work.start(desk, broken), "New project", "Hide", "Metric", None)
    assert "broken.shopmate" in held.told[0]
    assert desk.session.project.name == "Hide"
    desk.close()


def test_a_name_that_cannot_be_one_is_told_and_asked_for_again(home):
    desk = Place()
    held = Held(work.start(desk, None), "New project", "...", "Metric", "New project", "Hide", "Metric", None)
    assert "'...' won't do as a project name" in held.told[0]
    assert desk.session.project.name == "Hide"
    desk.close()


def test_a_project_that_cannot_be_opened_leaves_the_one_before_on_the_desk(desk, home):
    broken = paths.projects() / "broken.shopmate"
    broken.write_text("no project", encoding="utf-8")
    held = Held(projects.another(desk), "broken", None)
    assert len(held.told) == 1
    assert desk.session.project.name == "Hide"
    assert desk.session.log.events()


def test_the_project_worked_on_last_is_opened_unasked(desk, home):
    desk.session.begin(desk.session.add_part("Panel 1", BEGUN), every_step(), BEGUN)
    desk.close()
    again = Place()
    held = Held(work.start(again, None))
    assert (held.asked, again.session.project.name) == ([], "Hide")
    again.close()


def test_another_project_without_a_run_asks_for_work_in_it(desk):
    held = Held(work.other(desk), "Another project", "New project", "Shed", "Metric", None)
    assert held.asked[-1].title == "Shed"
    assert desk.session.project.name == "Shed"


# Other work


def begun(desk, *parts):
    """Start a recipe on parts, the last of which is on the bench."""
    for part in parts:
        desk.at += timedelta(minutes=1)
        desk.session.begin(desk.session.add_part(part, desk.at), every_step(), desk.at)


def test_a_screen_lists_two_runs_at_most_so_that_one_digit_chooses(desk):
    without = Held(work.other(desk), None).titles[0]
    begun(desk, "A", "B", "C", "D")
    held = Held(work.other(desk), "3 more runs under way", "Try every kind of step · A")
    first, rest = held.titles
    assert first == [*without, "Try every kind of step · D", "3 more runs under way"]
    assert len(first) <= 9
    assert [title.rpartition(" ")[2] for title in rest] == ["C", "B", "A"]
    assert desk.session.run.part == "A"


def test_lines_list_all_other_runs_after_what_is_always_there(in_lines):
    without = Held(work.other(in_lines), None).titles[0]
    begun(in_lines, "A", "B", "C")
    held = Held(work.other(in_lines), "Try every kind of step on A")
    assert held.titles[0][: len(without)] == without
    of_the_run = ["Give up this run (the one on the bench)", "Correct an answer", "Write a note"]
    assert held.titles[0][len(without) :] == [*of_the_run, "Try every kind of step on B", "Try every kind of step on A"]
    assert in_lines.session.run.part == "A"


def twice_on_one_part(desk):
    """Start a recipe twice on one part: at 08:01 with 2 m answered in it, at 09:01 with nothing yet."""
    begun(desk, "A")
    desk.at = follow(desk.session, desk.at, {"Give the length": "2 m"}, until=lambda _: "length" in desk.session.run.values)
    desk.at = BEGUN + timedelta(hours=1, minutes=1)
    desk.session.begin("A", every_step(), desk.at)


@pytest.mark.parametrize(("draws", "named"), [(True, "Try every kind of step · A · "), (False, "Try every kind of step on A, ")])
def test_two_runs_of_one_recipe_on_one_part_are_told_apart_by_the_answers_that_differ(home, draws, named):
    """The one on the bench, in which nothing was answered yet, by when it was begun; lines do not list that one."""
    desk = Place(draws=draws).begin()
    twice_on_one_part(desk)
    at = (BEGUN + timedelta(hours=1, minutes=1)).astimezone()
    held = Held(work.other(desk), named + "Give the length: 2 m")
    assert (f"{named}started {at:%H:%M}" in held.titles[0]) == draws
    assert desk.session.run.values["length"].text == "2 m"
    desk.close()


def test_runs_that_were_answered_alike_are_told_apart_by_when_they_were_begun(in_lines):
    for hours in (0, 1, 2):
        in_lines.at = BEGUN + timedelta(hours=hours)
        if not hours:
            in_lines.session.add_part("A", in_lines.at)
        in_lines.session.begin("A", every_step(), in_lines.at)
    times = [f"{(BEGUN + timedelta(hours=hours)).astimezone():%H:%M}" for hours in (1, 0)]
    titles = Held(work.other(in_lines), None).titles[0]
    assert titles[-2:] == [f"Try every kind of step on A, started {time}" for time in times]


@pytest.mark.parametrize("draws", [True, False])
def test_a_list_of_other_work_leads_everywhere(home, draws):
    desk = Place(draws=draws).begin()
    begun(desk, "A")
    held = Held(work.other(desk), None)
    reached = " ".join(item.title for item in held.asked[0].items)
    for what in (
        "Start a recipe",
        "Clocks",
        "Shop temperature",
        "Shelf",
        "ables",
        "uide",
        "Another project",
        "Settings",
        "Leave",
    ):
        assert what in reached
    for title in ("Clocks",) if draws else ("Calculators", "Where", "Clocks", "Log"):
        held = Held(work.other(desk), title, None)
        assert isinstance(held.asked[-1], Show | Recall) or held.asked[-1].title == "Calculators"
    desk.close()


def test_the_note_of_the_shop_temperature_is_its_last_reading(desk):
    desk.session.log_temperature("16 °C", BEGUN)
    held = Held(work.other(desk), None)
    [note] = [item.note for item in held.asked[0].items if item.title == "Shop temperature"]
    assert note == "16 °C, just now"


def test_a_recipe_is_begun_on_a_new_part(desk):
    held = Held(work.begin(desk), "New: Seam", "fillet", "begin")
    assert [event["name"] for event in desk.events("part")] == ["Seam 1"]
    assert (desk.session.run.part, desk.session.run.recipe.name) == ("Seam 1", "fillet")
    assert held.said[0].startswith("Started on Seam 1: ")


def test_a_part_with_a_name_of_its_own_is_added_once(desk):
    Held(work.begin(desk), "New: type a name", "fillet", " Long   roof ", "begin")
    held = Held(work.begin(desk), "New: type a name", "fillet", "Long roof", "begin")
    assert held.asked[-2].place == "part"
    assert [event["name"] for event in desk.events("part")] == ["Long roof"]
    assert len(desk.events("run")) == 2


@pytest.mark.parametrize(
    "answers",
    [
        (None,),
        ("New: Seam", None),
        ("New: type a name", "fillet", None),
        ("New: Seam", "fillet", None),
        ("New: Seam", "fillet", "plan", None),
    ],
)
def test_a_recipe_that_is_not_begun_leaves_no_part_behind(desk, answers):
    Held(work.begin(desk), *answers)
    assert (desk.events("part"), desk.events("run")) == ([], [])


def test_a_broken_recipe_is_named_beside_those_that_can_be_chosen(desk, home):
    paths.user_recipes().mkdir(parents=True)
    (paths.user_recipes() / "mine.yaml").write_text("recipe: mine\n", encoding="utf-8")
    held = Held(work.begin(desk), "New: Seam", None)
    read = [each() for each in held.asked[1].filling]
    (said,) = [part for part in read if isinstance(part, str)]
    assert said.startswith("mine has ")
    assert "mine" not in [part.key for part in read if not isinstance(part, str)]


def test_the_run_on_the_bench_is_given_up_once_that_is_confirmed(desk):
    begun(desk, "A")
    Held(work.other(desk), "Try every kind of step · A", "Continue this run")
    Held(work.other(desk), "Try every kind of step · A", "Give up this run", False)
    assert not desk.events("given up")
    held = Held(work.other(desk), "Try every kind of step · A", "Give up this run", True)
    assert held.said == ["GIVEN UP"]
    assert desk.session.run.given_up


def test_without_a_run_nothing_is_offered_that_is_done_to_one_and_its_numbers_stay_free(in_lines):
    of_the_run = ["Give up this run (the one on the bench)", "Correct an answer", "Write a note"]
    without = Held(work.other(in_lines), None).titles[0]
    assert not {*of_the_run, ""} & set(without)
    begun(in_lines, "A", "B")
    titles = Held(work.other(in_lines), None).titles[0]
    assert titles == [*without, *of_the_run, "Try every kind of step on A"]
    in_lines.session.give_up(in_lines.at)
    assert Held(work.other(in_lines), None).titles[0] == [*without, "", "", "", "Try every kind of step on A"]


def test_a_new_part_has_its_number_whatever_parts_there_are(desk):
    new = Held(work.begin(desk), None).titles[0]
    begun(desk, "A", "B")
    assert Held(work.begin(desk), None).titles[0] == [*new, "A", "B"]


def test_an_answer_is_corrected_and_what_rests_on_it_is_told(desk):
    begun(desk, "A")
    desk.session.done(desk.at)
    held = Held(work.other(desk), "Try every kind of step · A", "Correct an answer", "Give the length", "2 m")
    assert held.told == ["Corrected. Nothing done since depends on it."]
    assert desk.session.run.values["length"].text == "2 m"


@pytest.mark.parametrize(("system", "unit"), [("metric", "°C"), ("inch", "°F")])
def test_a_correction_begins_in_the_unit_that_the_bench_asked_in(desk, system, unit):
    air_passed(desk)
    desk.session.set("system", system, desk.at)
    held = Held(work.other(desk), *TO_THE_AIR, None)
    assert held.asked[-1].unit == unit


def air_passed(desk):
    """Begin a run and answer what it asks up to the hold point of the air, which 20 °C has passed."""
    begun(desk, "A")

    def has_passed(_view):
        place = desk.session.run.place
        return (place.section, place.step) >= (1, 2)

    desk.at = follow(desk.session, desk.at, {"Read the air": "20 °C"}, until=has_passed)


TO_THE_AIR = ("Try every kind of step · A", "Correct an answer", "Read the air")


@pytest.mark.parametrize(
    ("air", "told"),
    [
        ("17.9 °C", "Corrected. Check: Pass the air: NO GO"),
        ("18 °C", "Corrected. Nothing done since depends on it."),
        ("25 °C", "Corrected. Nothing done since depends on it."),
    ],
)
def test_a_hold_point_that_a_corrected_reading_would_not_have_passed_is_told(desk, air, told):
    air_passed(desk)
    assert Held(work.other(desk), *TO_THE_AIR, air).told == [told]


def test_a_correction_that_looks_odd_is_asked_about_and_may_be_left(desk):
    air_passed(desk)
    held = Held(work.other(desk), *TO_THE_AIR, "33 °C", False)
    assert "33" in held.asked[-1].explain
    assert (held.told, desk.session.run.values["air"].text) == ([], "20 °C")
    Held(work.other(desk), *TO_THE_AIR, "33 °C", True)
    assert desk.session.run.values["air"].text == "33 °C"


def test_a_correction_that_is_no_answer_is_said_and_changes_nothing(desk):
    air_passed(desk)
    [told] = Held(work.other(desk), *TO_THE_AIR, "90 °C").told
    assert "50 °C" in told
    assert not desk.events("corrected")


def test_a_correction_that_is_left_changes_nothing(desk):
    air_passed(desk)
    Held(work.other(desk), *TO_THE_AIR[:2], None)
    Held(work.other(desk), *TO_THE_AIR, None)
    assert not desk.events("corrected")


@pytest.mark.parametrize(
    ("headline", "answer", "name", "wanted"),
    [
        ("Choose the glue", "From a cartridge", "glue", "cartridge"),
        ("Count the coats", "3", "coats", "3"),
        ("Choose the resin", "Epoxy 2:1 by volume, slow", "resin", "epoxy-2to1-slow"),
    ],
)
def test_what_was_chosen_is_chosen_anew(desk, headline, answer, name, wanted):
    air_passed(desk)
    Held(work.other(desk), *TO_THE_AIR[:2], headline, answer)
    [corrected] = desk.events("corrected")
    assert corrected["headline"] == headline
    assert desk.session.run.values[name].text == wanted


@pytest.mark.parametrize(("by_enter", "known"), [(True, []), (False, ["cloth@shop"])])
def test_a_choice_taken_as_it_is_offered_is_remembered_as_no_new_one(desk, by_enter, known):
    session = desk.session
    session.begin(session.add_part("Panel 1", desk.at), find_recipe("fillet"), desk.at)
    while (view := session.view(desk.at)).frame.rows:
        asked = session.view(desk.at, next(row.place for row in view.frame.rows if row.mark == "offered"))
        offered = asked.offered.key if isinstance(asked, ChooseView) else asked.default
        session.answer(offered, desk.at, at=asked.place, is_offered=True)
    assert view.headline == "Cloth for the tape"
    if by_enter:
        [take] = step.keys(desk, view)
        take.act()
    else:
        step.take(desk, view, view.offered)
    assert desk.session.run.values["cloth"].text == view.offered.key
    assert sorted(session.project.facts) == known


def test_before_an_answer_was_given_there_is_none_to_correct(desk):
    begun(desk, "A")
    assert Held(work.other(desk), *TO_THE_AIR[:2]).told == ["No answers in this run yet."]


def test_a_part_is_named_from_words_alone(desk):
    held = Held(work.begin(desk), "New: pick a name from a list", "fillet", "Left wall", "Hatch", "begin")
    assert held.titles[2] == list(WHERE)
    assert [event["name"] for event in desk.events("part")] == ["Left wall, hatch 1"]
    Held(work.begin(desk), "New: pick a name from a list", "fillet", "Left wall", "Hatch", "begin")
    assert desk.session.run.part == "Left wall, hatch 2"


@pytest.mark.parametrize("answers", [(None,), ("Left wall", None)])
def test_a_part_whose_words_are_left_is_not_added(desk, answers):
    Held(work.begin(desk), "New: pick a name from a list", "fillet", *answers)
    assert (desk.events("part"), desk.events("run")) == ([], [])


def test_a_note_that_is_left_is_not_put(desk):
    begun(desk, "A")
    Held(work.other(desk), "Try every kind of step · A", "Write a note", None)
    assert desk.session.run.notes == {}


def test_a_note_with_the_name_of_a_photo_is_put_to_the_step(desk):
    begun(desk, "A")
    held = Held(work.other(desk), "Try every kind of step · A", "Write a note", "dry spot", "IMG_1.jpg")
    assert held.said == ["NOTED"]
    assert desk.session.run.notes[desk.session.run.place] == ("dry spot · IMG_1.jpg",)


# Leaving


def test_leaving_is_asked_about_while_a_clock_runs(desk):
    desk.session.start_clock("Kettle", "DO BEFORE", timedelta(minutes=5), BEGUN)
    held = Held(work.leave(desk), "Stay")
    assert held.asked[0].title.startswith("1 clock is running")
    assert desk.face.left == 0
    Held(work.leave(desk), None)
    assert desk.face.left == 0
    Held(work.leave(desk), "Leave; everything is recorded")
    assert desk.face.left == 1


def test_leaving_is_not_asked_about_while_none_does(desk):
    assert Held(work.leave(desk)).asked == []
    assert desk.face.left == 1


# Clocks


def kettle(desk, minutes=5):
    desk.session.start_clock("Kettle", "DO BEFORE", timedelta(minutes=minutes), desk.at)
    return desk.session.clocks[-1]


def test_a_clock_that_rules_is_ended_once_that_is_confirmed(desk):
    clock = kettle(desk)
    held = Held(clocks.end(desk, clock), False)
    assert held.asked[0].text == "End Kettle (5:00 left)?"
    assert desk.session.clocks == [clock]
    assert Held(clocks.end(desk, clock), True).said == ["ENDED Kettle"]
    assert desk.session.clocks == []


def test_a_clock_that_rules_nothing_any_more_is_ended_unasked(desk):
    desk.session.start_clock("Clamps", "NOT BEFORE", timedelta(minutes=5), BEGUN)
    desk.at += timedelta(minutes=5)
    assert Held(clocks.end(desk, desk.session.clocks[0])).asked == []
    assert desk.session.clocks == []


def test_a_clock_of_ones_own_is_started(desk):
    held = Held(clocks.start_own(desk), "9 min")
    assert (held.asked[0].place, held.said) == ("own-clock", ["STARTED Timer 1"])
    assert [clock.due_at for clock in desk.session.clocks] == [BEGUN + timedelta(minutes=9)]
    Held(clocks.start_own(desk), None)
    assert len(desk.session.clocks) == 1


def test_the_most_urgent_alarm_is_put_off(desk):
    kettle(desk)
    assert Held(clocks.put_off(desk)).asked == []  # no alarm waits
    desk.at += timedelta(minutes=4)
    desk.session.tick(desk.at)
    Held(clocks.put_off(desk), None)
    assert alarms(desk.session.clocks, desk.at)
    held = Held(clocks.put_off(desk), held_first(clocks.put_off(desk)))
    assert held.said[0].startswith("SNOOZED Kettle until ")
    assert not alarms(desk.session.clocks, desk.at)


def held_first(dialogue):
    """Return the key of the first item that a dialogue offers."""
    return next(dialogue).items[0].key


# Sound


def test_a_bell_that_was_heard_is_recorded(desk):
    desk.face.rung = 0
    held = Held(sound.test(desk), "Yes")
    assert desk.face.rung == 1
    assert "respirator" in held.asked[0].explain
    assert [event["heard"] for event in desk.events("sound")] == [True]
    assert desk.watching.heard is True
    Held(sound.test(desk), "No")
    assert desk.watching.heard is False


def test_a_bell_may_be_answered_for_later(desk):
    Held(sound.test(desk), None)
    assert (desk.events("sound"), desk.watching.heard) == ([], None)


def test_without_a_bell_the_alarm_command_alone_is_tried(home):
    desk = Place(draws=False, has_bell=False, settings=Settings(alarm_command=("horn",))).begin()
    held = Held(sound.test(desk))
    assert desk.face.called == ["Sound test"]
    assert "so no bell" in held.said[-1]
    desk.close()


def test_the_sound_is_paused_only_while_an_alarm_waits(desk):
    assert Held(sound.menu(desk), None).titles == [["Sound test"]]
    kettle(desk)
    desk.at += timedelta(minutes=6)
    desk.session.tick(desk.at)
    held = Held(sound.menu(desk), "Quiet for 2 minutes")
    assert held.said == ["SOUND PAUSED 2:00; a new alarm still sounds."]
    assert desk.watching.paused(desk.at)


# Settings


def test_settings_of_the_project_are_recorded(desk):
    Held(settings.change(desk), "Show inch units", "Light theme, for a lit shop", "Shop temperature good for 4 h", "6 h", None)
    assert [(event["name"], event["value"]) for event in desk.events("setting")] == [
        ("system", "inch"), ("theme", "light"), ("reading_holds", "6 h"),
    ]  # fmt: skip
    titles = Held(settings.change(desk), None).titles[0]
    assert {"Show metric units", "Dark theme, for a dark shop", "Shop temperature good for 6 h"} <= set(titles)


def test_settings_of_the_machine_are_kept(desk):
    Held(settings.change(desk), "Plain characters only", "Decimal comma", "Turn terminal notifications on", None)
    assert settings_.load() == desk.settings == Settings(plain_signs=True, decimal_mark=",", notify=True)
    Held(settings.change(desk), "Use all characters again", "Decimal point", "Turn terminal notifications off", None)
    assert settings_.load() == Settings()


def test_in_lines_enter_is_set_to_wait(in_lines):
    Held(settings.change(in_lines), "Second Enter ignored for 0.7 s", "1.5 s", None)
    assert settings_.load().hold_ms == 1500


def test_a_screen_measures_the_keyboard(desk):
    assert Held(settings.change(desk), "Test this keyboard", None, None).asked[1] == Show("keys")


def test_settings_that_could_not_be_read_hold_for_now_and_are_never_written(home):
    desk = Place(trouble="Line 1.").begin()
    held = Held(settings.change(desk), "Decimal comma", None)
    assert held.told == ["For this session only. Default settings in use. Line 1."]
    assert desk.settings.decimal_mark == ","
    assert not paths.settings().exists()
    desk.close()


def test_a_full_disk_is_told_and_the_settings_asked_for_again(desk, monkeypatch):
    monkeypatch.setattr(desk.session.log, "append", full)
    held = Held(settings.change(desk), "Show inch units", None)
    assert held.told == ["the disk is full"]
    assert desk.session.project.system == "metric"


def test_what_makes_no_sound_is_not_offered_to_be_tried(home):
    desk = Place(draws=False, has_bell=False).begin()
    assert "Sound test" not in Held(settings.change(desk), None).titles[0]
    desk.settings = replace(desk.settings, alarm_command=("horn",))
    [item] = [item for item in Held(settings.change(desk), None).asked[0].items if item.title == "Sound test"]
    assert item.note == "the alarm command"
    desk.close()


# The desk


def test_a_project_that_another_window_works_on_is_only_shown(desk):
    second = Place()
    second.open(desk.session.log.path)
    held = Held(temperature.read(second), "20 °C")
    assert held.said == ["READ ONLY: another window has this project open; work there, or close it"]
    second.close()


def test_opening_a_project_closes_the_one_before(desk):
    before = desk.session
    desk.create(project_path("Shed"), "Shed", "metric")
    assert Session.open(before.log.path, BEGUN, shelf()).read_only is False
