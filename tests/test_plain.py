"""The bench in lines: all of it by typed lines alone, the same events as on the screen, and lines any reader can follow."""

import os
import re
import threading
from datetime import timedelta

import pytest
from conftest import every_step, materials, reach
from every_field import offer_sample
from plain_talk import NEW_PROJECT, Talk, talk
from terminal.test_bonding import RECIPE

from shopmate import calc, paths, settings
from shopmate import recipe as recipes
from shopmate import session as sessions
from shopmate.characters import is_fit
from shopmate.cli import signs
from shopmate.plain import Lines, reader
from shopmate.plain.sound import in_thread
from shopmate.session import Session, events_of
from shopmate.session.demo import follow
from shopmate.settings import Settings

KEYPAD = frozenset("0123456789./*-+")


@pytest.fixture(autouse=True)
def sample(monkeypatch):
    offer_sample(monkeypatch)


@pytest.fixture
def opened_small(small, now):
    """The file of a project with the recipe of every kind of step just begun, shut again."""
    small.close()
    return small.log.path


def at(path, now, headline, **answers):
    """Work a project as far as a step, and shut it again; returns its file."""
    session = Session.open(path, now(), materials())
    reach(session, now, headline, {name.replace("_", " "): answer for name, answer in answers.items()})
    session.close()
    return path


def kinds(path):
    return [event.kind for event in events_of(path)]


def answered(path, headline):
    """What was recorded last of a step."""
    return [event.data for event in events_of(path) if event.data.get("headline") == headline][-1]


def last(path):
    return events_of(path)[-1]


# The whole


def test_every_kind_of_step_is_done_with_the_keys_of_a_keypad_alone(opened_small, now):
    typed = []

    def answer(said):
        assert len(typed) < 200, said
        typed.append(line(re.sub(r" *\n +", " ", said).removesuffix("\n> ").rpartition("\n")[2]))
        return None if "[Enter] other work" in said else typed[-1]

    def line(keys):
        if "[*]" in keys:
            return "*"
        if "[Enter]" in keys:
            return ""
        if keys.startswith("[0] override"):
            return "0"
        return {"type °C": "21", "type g": "100"}.get(keys.partition(",")[0], "1")

    said = Talk(now, answer, opened_small).run()
    assert "FINISHED: Recipe complete." in said
    assert {"done", "seen", "section", "finished"} <= set(kinds(opened_small))
    assert set("".join(typed)) <= KEYPAD


def test_nothing_is_coloured_moved_or_longer_than_the_line(opened_small, now):
    said = talk(now, "/", "1", "3", "/", "help", "+", "0", "10", "/", "/", "7", "1", "", "/", "/", "where", path=opened_small)
    assert max(map(len, said.splitlines())) <= 80
    assert {sign for sign in said if not sign.isprintable()} == {"\n"}


def test_a_wider_terminal_gets_longer_lines_and_an_old_encoding_signs_it_knows(opened_small, now):
    signs.spell_out()
    now.on(hours=1)
    path = at(opened_small, now, "Pass the air", Read_the_air="12")
    said = talk(now, "/", "7", "1", "/", path=path, width=lambda: 120, encoding="ascii", errors="spell-out")
    assert 80 < max(map(len, said.splitlines())) <= 120
    assert said.isascii()
    assert "limits 18 degC to 35 degC" in said


# The first time, leaving


def test_the_first_time_a_new_project_or_the_demo_is_chosen(home, now):
    said = talk(now)
    assert re.search(r"^1 New project\n2 Demo: .*invented", said, re.MULTILINE)
    assert not home.exists()
    said = talk(now, "2", "1")
    assert said.index("Things to try:") < said.index("YOU WERE HERE")
    assert [path.parent for path in paths.demo().iterdir()] == [paths.demo()]
    said = talk(now, *NEW_PROJECT)
    assert "Project created: Project 1, metric units." in said
    assert [event.data["system"] for event in events_of(sessions.project_path("Project 1")) if event.kind == "project"] == [
        "metric"
    ]


def test_what_cannot_be_done_in_a_project_just_made_is_said(home, now):
    said = talk(now, *NEW_PROJECT, "13", "")
    assert "Give up this run" not in said
    assert "'13' is not one of them" in said


def test_the_numbers_of_what_is_done_to_a_run_stay_unused_while_none_is_under_way(small, now):
    path = small.log.path
    small.begin("Panel 1", every_step(), now())
    assert small.give_up(now()) == "GIVEN UP"
    small.close()
    said = talk(now, "/", "13", "16", "", path=path)
    assert "\n16 Try every kind of step on Panel 1: " in said
    assert not re.search(r"^1[345] ", said, re.MULTILINE)
    assert "'13' is not one of them" in said


def test_what_is_offered_is_marked_in_the_list_and_the_end_says_first_what_it_is(opened_small, now):
    said = talk(now, "1", "/", "13", "", path=opened_small)
    assert "\n  1 Choose the glue: Thickened epoxy\n  2 Choose the resin: Epoxy 2:1 by volume, slow\n" in said
    assert "\n[Enter] use all, [1-4] change one, " in said
    assert said.count("Recipe every-step, version 1") == 2  # once with all of them, once with the one that was chosen
    assert "\n1 Thickened epoxy (offered)\n2 From a cartridge\n[Enter] use it, [1 to 2] choose, " in said
    assert "\nRun given up: its clocks keep running until you end them\n" in said


def test_a_project_and_a_part_are_named_by_typing(home, now):
    talk(now, "new project", " Shed  2 ", "inch", "start a recipe on a part", "6", "1", "Long roof", "")
    session = Session.open(sessions.project_path("Shed 2"), now(), materials())
    assert (session.project.name, session.project.system, list(session.project.parts)) == ("Shed 2", "inch", ["Long roof"])
    assert session.run.part == "Long roof"
    session.close()


def test_the_end_of_the_input_leaves_with_everything_recorded(opened_small, now):
    said = talk(now, "1", "2", path=opened_small)
    assert said.endswith("\nClosed. Everything is recorded.\n")
    assert (last(opened_small).kind, last(opened_small).data["shown"]) == ("done", "From a cartridge")
    assert last(opened_small).data["values"]["glue"]["text"] == "cartridge"


def test_leaving_is_guarded_while_a_clock_runs(opened_small, now):
    said = talk(now, "leave", "never asked", path=opened_small)
    assert "Closed." in said
    assert "never asked" not in said
    said = talk(now, "+", "0", "10", "/", "leave", "1", "quit", "2", "never asked", path=opened_small)
    assert said.count("1 clock is running and cannot ring") == 2
    assert "never asked" not in said


def test_a_file_that_is_no_project_is_said_and_another_asked_for(home, now, tmp_path):
    (tmp_path / "note.shopmate").write_text("not a project", encoding="utf-8")
    said = talk(now, "/", path=tmp_path / "note.shopmate")
    assert "cannot be opened as a project" in " ".join(said.split())  # broken to the width, wherever the folder is
    assert "1 New project" in said


def test_it_says_where_the_work_was_left(opened_small, now):
    path = at(opened_small, now, "Read the humidity")
    now.on(hours=3)
    said = talk(now, path=path)
    assert re.search(r"YOU WERE HERE, 3 h ago: Try every kind of step on Panel 1\n  Last done: Pass the air, .*, 08:0\d\n", said)
    assert "\n  Started: Read the humidity\n" in said


# Steps


def test_a_caution_is_passed_only_by_its_own_key(opened_small, now):
    path = at(opened_small, now, "WARNING")
    said = talk(now, "", "1", "*", "*", path=path)
    assert "read the caution, then press *" in said
    assert "'1' does nothing here" in said
    read = said.index("READ WARNING.")
    assert read < said.index(": Weigh the resin\n", read) < said.index("NOTICE: A wrong ratio never cures.")
    assert "nothing to acknowledge" in said, "what hurts nobody has no key of its own"
    assert [event.kind for event in events_of(path)][-2:] == ["opened", "seen"]


def test_a_closed_hold_point_is_measured_again_or_passed_for_a_reason(opened_small, now):
    path = at(opened_small, now, "Pass the air", Read_the_air="12")
    said = talk(now, "", "1", "", "21", path=path)
    assert "NO GO: too low: 12 °C, limits 18 °C to 35 °C\n  Warm the shop first." in said
    assert "hold point: too low" in said
    assert said.count("Read the air") >= 2
    assert "RECORDED: Read the air, 21 °C." in said
    assert (last(path).data["headline"], last(path).data["by_itself"]) == ("Pass the air", True)


@pytest.mark.parametrize(("surface", "word"), [("9", "NO GO"), ("25", "GO")])
def test_a_verdict_that_says_no_more_is_said_once(opened_small, now, surface, word):
    path = at(opened_small, now, "Pass the dew point", Read_the_surface=surface)
    assert f"\n{word}\n" in talk(now, path=path)


def test_a_reason_is_another_key_and_is_kept(opened_small, now):
    path = at(opened_small, now, "Pass the dew point", Read_the_surface="9")
    said = talk(now, "0", "/", path=path)
    assert "Why override 'Pass the dew point'?\n1 The meter is wrong\n2 The sheet allows it\n" in said
    assert last(path).kind == "opened"
    assert "OVERRIDDEN: Pass the dew point, The sheet allows it." in talk(now, "0", "2", "", path=path)
    assert last(path).data["reason"] == "The sheet allows it"


def test_a_hold_point_is_judged_by_the_number_of_what_is_seen(opened_small, now):
    path = at(opened_small, now, "Judge the film")
    said = talk(now, "2", "1", path=path)
    assert "NO GO: Film broken\n  Clean it again." in said
    assert [event.kind for event in events_of(path)][-3:] == ["refused", "done", "section"]


def test_a_value_that_looks_odd_is_asked_about_and_another_may_be_typed(opened_small, now):
    path = at(opened_small, now, "Read the air")
    said = talk(now, "35", "3x", "34", "", path=path)
    assert "35 °C is above the usual 30 °C; is that right?" in said
    assert "[Enter] yes, it's right" in said
    assert "Not accepted: 'x' is not a unit shopmate knows" in said
    assert answered(path, "Read the air")["typed"] == "34 °C"


def test_a_bare_number_is_in_the_units_of_the_project(opened_small, now):
    path = at(opened_small, now, "Read the air")
    said = talk(now, "/", "10", "1", "/", "70", path=path)
    assert "type °F, " in said
    assert answered(path, "Read the air")["typed"] == "70 °F"


def test_steps_are_taken_back(opened_small, now):
    said = talk(now, "", "-", "", "back", "", "-", "", "-", "", "-", path=opened_small)
    # One key took four answers, of which each is taken back alone, the last with the end of its section.
    assert [event.kind for event in events_of(opened_small)][-9:] == ["done"] * 4 + ["section"] + ["undone"] * 4
    assert said.count("UNDONE: ") == 4
    assert said.count("1 Choose the glue: Thickened epoxy\n") == 1
    assert "Choose the glue: was Thickened epoxy\n" in said
    assert "nothing to undo" in said


def test_a_section_ends_and_is_repeated_by_words(opened_small, now):
    path = at(opened_small, now, "Leave it flat")
    talk(now, "", path=path)
    path = at(path, now, "Leave it flat")
    said = talk(now, "1", path=path)
    assert "[Enter] done, [1] done, 1 more coat" in said
    assert "ONE MORE COAT" in said
    assert re.search(r"coat 3 of 3\W+section 4 of 5: Spread the coat", said)


def test_a_step_is_left_for_later_and_the_run_ends_only_without_one(opened_small, now):
    path = at(opened_small, now, "Scrape the joint")
    said = talk(now, "0", "", "", "", "1", "0", "2", "", path=path)
    assert "[0] do later" in said
    assert "step 5 of 5, section 5 of 5, 1 for later: Wash your hands" in said
    assert "1 left for later: do each, or say why it is not needed" in said
    assert "[1] choose" in said
    assert "Why is 'Scrape the joint' not needed?" in said
    assert "NOT NEEDED: Scrape the joint, Done another way." in said
    assert kinds(path)[-6:] == ["deferred", "done", "section", "taken up", "dropped", "finished"]


def test_the_steps_of_the_section_are_said_with_what_became_of_them(opened_small, now):
    path = at(opened_small, now, "Pass the dew point")
    said = re.sub(r"\n +", " ", talk(now, "where", "/", "2", path=path))
    for _ in range(2):
        head, _, said = said.partition("1 Read the air: done, 20 °C, 08:")
        assert head.endswith("Judge, step 5 of 7, section 2 of 5:\n")
    assert (
        "5 Pass the dew point: started\n6 Judge the film: not started\n"
        "7 for Choose the glue: From a cartridge, Cut the cartridge: not applicable" in said
    )


def test_what_is_typed_by_mistake_does_nothing(opened_small, now):
    said = talk(now, "9", "bogus", "\x1b[A", path=opened_small)
    assert "'9' does nothing here; type help." in said
    assert "\x1b" not in said
    assert last(opened_small).kind == "opened"


def test_a_hold_point_that_opens_while_nothing_is_typed_is_said(opened_small, now):
    path = at(opened_small, now, "Wait for the clamps")
    said = talk(now, lambda: now.on(days=3), "*", "", path=path)
    assert said.index("NO GO: NOT BEFORE") < said.index("ALARM READY, Clamps off from") < said.index("GO: open since")
    assert "DONE: Wait for the clamps." in said


# Clocks and alarms


def test_clocks_are_listed_started_and_ended_by_another_key(opened_small, now):
    said = talk(now, "+", "0", "20", "1", "1", "-", "1", "", "/", path=opened_small)
    assert "No clock is running." in said
    assert "1 Timer 1: DO BEFORE 08:20, 20 min left, running. Check the job. If late:" in said
    assert "ENDED Timer 1." in said
    assert [event.kind for event in events_of(opened_small)][-2:] == ["clock", "ended"]


def with_clock(path, now, minutes=10):
    session = Session.open(path, now(), materials())
    session.start_clock("Kettle", "DO BEFORE", timedelta(minutes=minutes), now())
    session.close()
    return path


def test_an_alarm_is_said_once_when_it_comes_and_asked_to_be_seen(opened_small, now):
    path = with_clock(opened_small, now)
    said = talk(now, lambda: now.on(minutes=8), lambda: now.on(seconds=1), lambda: now.on(seconds=70), "*", path=path)
    assert re.findall(r"ALARM NOW, Kettle ([\d:]+), Check the job, DO BEFORE 08:10", said) == ["2:00", "0:49"]
    assert re.sub(r"\n +", " ", said).count("[*] seen: Kettle, [.] later\n> ") == 3 - 1
    assert "SEEN Kettle." in said
    assert [event.kind for event in events_of(path)][-2:] == ["alarm", "acknowledged"]


def test_an_alarm_is_acknowledged_and_put_off_in_any_question_and_the_question_stays(opened_small, now):
    path = with_clock(opened_small, now)
    said = talk(now, "/", lambda: now.on(minutes=8), ".", "1", "*", "2", path=path)
    assert "SNOOZED Kettle until 08:09." in said
    assert "Nothing to acknowledge." in said
    assert "Choose the glue: started" in said
    talked = talk(now, "/", lambda: now.on(minutes=1, seconds=5), lambda: now.on(seconds=1), "*", ".", path=path)
    assert "SEEN Kettle." in talked
    assert "No alarm can be snoozed now." in talked


def test_an_alarm_missed_while_shut_is_said(opened_small, now):
    path = with_clock(opened_small, now)
    now.on(minutes=30)
    assert "ALARM MISSED 08:10, 20 min ago, Kettle" in talk(now, path=path)


def test_the_bell_rings_in_the_rhythm_of_the_priority_until_seen(opened_small, now):
    path = with_clock(opened_small, now)
    rings = []

    def count():
        rings.append(session.said.count("\a"))

    def on(**length):
        return lambda: now.on(**length)

    steps = [on(minutes=8), count, *[on(seconds=0.4)] * 4, count, on(seconds=5), count, on(seconds=4), *[on(seconds=0.4)] * 4]
    session = Talk(now, [*steps, count, "*", on(seconds=20), count], path, bell=True)
    session.run()
    # After the first beep of the start, five bells 0.4 s apart, again 10 s after the first, and none once it is seen.
    assert rings == [2, 6, 6, 11, 11]


def test_between_bells_the_clocks_are_looked_at_in_time_for_the_next(opened_small, now):
    path = with_clock(opened_small, now)
    waits = []

    def typed(_):
        now.on(minutes=8)
        waits.extend([talked._meanwhile(), talked._meanwhile()])

    talked = Talk(now, typed, path, bell=True)
    talked.run()
    assert waits == [0.4, 0.4]


def test_without_a_terminal_nothing_rings_and_nothing_is_said_of_the_sound(opened_small, now):
    path = with_clock(opened_small, now)
    said = talk(now, lambda: now.on(minutes=8), "/", "10", path=path)
    assert "\a" not in said
    assert "sound" not in said.casefold().replace("age of readings, sound", "")


def test_at_the_start_it_beeps_three_times_and_says_that_the_sound_is_not_tested(opened_small, now):
    said = talk(now, *[lambda: now.on(seconds=0.6)] * 9, path=opened_small, bell=True)
    assert said.count("\a") == 3
    assert re.findall(r".*(?:SOUND|COMMAND FAILED).*", said) == [
        "SOUND NOT TESTED: type / and Settings at a step, then Sound test."
    ]
    assert said.index("SOUND NOT TESTED") < said.index("Choose the glue")


def test_an_alarm_that_waits_at_the_start_sounds_in_its_own_rhythm(opened_small, now):
    path = with_clock(opened_small, now)
    now.on(minutes=9)
    said = talk(now, *[lambda: now.on(seconds=0.4)] * 9, path=path, bell=True)
    assert said.count("\a") == 5
    assert "SOUND NOT TESTED" in said


@pytest.mark.parametrize(
    ("number", "heard", "says"),
    [("1", True, []), ("2", False, ["NO SOUND: watch the screen. Turn the bell up, or set alarm_command."])],
)
def test_the_answer_of_the_sound_test_is_recorded(opened_small, now, number, heard, says):
    typed = ["/", "settings", "sound test", *[lambda: now.on(seconds=0.6)] * 5, number, "/"]
    said = talk(now, *typed, path=opened_small, bell=True, width=lambda: 120)
    asked = said.partition("Did you hear 3 beeps?")[2]
    assert asked.count("\a") == 3
    assert (last(opened_small).kind, last(opened_small).data["heard"]) == ("sound", heard)
    assert re.findall(r"NO SOUND.*", asked) == says
    # Another project is not asked about the sound once more.
    assert "SOUND" not in said.partition("RECORDED: 3 beeps")[2].replace("NO SOUND", "")


def test_the_alarm_command_runs_with_each_burst_also_without_a_terminal(opened_small, now):
    path = with_clock(opened_small, now)
    called = []

    def run_command(command, words):
        called.append((command, words))
        return ""

    steps = [lambda: now.on(minutes=8), lambda: now.on(seconds=5), lambda: now.on(seconds=5), "*", lambda: now.on(seconds=30)]
    said = talk(now, *steps, path=path, command=("horn", "{words}"), run_command=run_command)
    first, again = (f"NOW · Kettle {left} · Check the job · DO BEFORE 08:10" for left in ("2:00", "1:50"))
    assert called == [(("horn", "{words}"), first), (("horn", "{words}"), again)]
    assert "SOUND" not in said


def test_an_alarm_command_that_fails_is_said_once_until_it_works(opened_small, now):
    path = with_clock(opened_small, now)
    faults = iter(["horn was not found", "horn was not found", "", "horn took more than 5 s"])
    steps = [lambda: now.on(minutes=8), *[lambda: now.on(seconds=10)] * 3]
    said = talk(now, *steps, path=path, command=("horn",), run_command=lambda command, words: next(faults))
    assert re.findall(r".*(?:SOUND|COMMAND FAILED).*", said) == [
        "NO SOUND: alarms are only printed.",
        "COMMAND FAILED: horn was not found.",
        "NO SOUND: alarms are only printed.",
        "COMMAND FAILED: horn took more than 5 s.",
    ]


def test_work_beside_the_bench_is_not_waited_for():
    may_end, ended = threading.Event(), threading.Event()
    in_thread(lambda: may_end.wait(5) and ended.set())
    assert not ended.is_set()
    may_end.set()
    assert ended.wait(5)


def test_what_was_seen_and_is_not_done_is_reminded_of(opened_small, now):
    path = with_clock(opened_small, now)
    called = []
    run = {"command": ("horn",), "run_command": lambda command, words: called.append(words) or ""}
    on = [lambda: now.on(minutes=10), lambda: now.on(seconds=1), "*", lambda: now.on(minutes=4, seconds=59)]
    said = talk(now, *on, *[lambda: now.on(seconds=1)] * 3, path=path, **run)
    assert re.findall(r"STILL DUE (.*), Check the job", said) == ["NOW, Kettle +5:01"]
    assert [words.partition(" · Check")[0] for words in called] == ["NOW · Kettle 0:00", "NOW · Kettle +5:01"]


def test_the_sound_is_paused_for_two_minutes_which_is_said_and_a_new_alarm_ends_it(opened_small, now):
    path = with_clock(opened_small, now)
    called = []
    run = {"command": ("horn",), "run_command": lambda command, words: called.append(now.at) or ""}
    start = now()
    quiet = [lambda: now.on(minutes=8), "/", "settings", "quiet for 2 minutes", "/"]
    said = talk(now, *quiet, lambda: now.on(seconds=70), *[lambda: now.on(seconds=25)] * 2, path=path, **run)
    assert "SOUND PAUSED 2:00; a new alarm still sounds." in said
    assert "[*] seen: Kettle, [.] later (sound paused 0:50)" in re.sub(r"\n +", " ", said)
    # The end of the Kettle itself, at ten minutes, is a new alarm.
    assert [(at - start).total_seconds() for at in called] == [480, 600]


def test_the_sound_is_paused_by_a_word_in_any_question_while_an_alarm_calls(opened_small, now):
    path = with_clock(opened_small, now)
    run = {"command": ("horn",), "run_command": lambda command, words: ""}
    said = talk(now, "quiet", lambda: now.on(minutes=8), "/", "Quiet", "quiet", "/", "quiet", "help", path=path, **run)
    assert said.index("No alarm is sounding.") < said.index("ALARM NOW, Kettle")
    assert "[*] seen: Kettle, [.] later, [quiet] no sound for 2 min" in " ".join(said.split())
    assert said.count("SOUND PAUSED 2:00") == 1
    assert "'quiet' is not one of them" in said
    assert "Sound paused 2:00." in said
    assert "quiet pauses the sound of an alarm" in said
    # Without a sound there is nothing to pause.
    assert "[quiet]" not in talk(now, lambda: now.on(seconds=1), path=path)


def test_what_is_quiet_is_offered_only_while_an_alarm_waits(opened_small, now):
    assert "Quiet for 2 minutes" not in talk(now, "/", "10", path=opened_small, bell=True)


def test_a_key_meant_for_something_else_does_not_acknowledge_an_alarm_that_just_came(opened_small, now):
    path = with_clock(opened_small, now)
    said = talk(now, lambda: now.on(minutes=8), "*", lambda: now.on(seconds=0.6), "*", path=path)
    assert said.index("NEW ALARM: read it, then * again") < said.index("SEEN Kettle.")
    assert kinds(path).count("acknowledged") == 1


def test_enter_held_down_counts_once(opened_small, now):
    held = [lambda: now.on(seconds=0.5), "", *[lambda: now.on(seconds=0.03), ""] * 60]
    before = kinds(at(opened_small, now, "Stir two full minutes")).count("done")
    said = talk(now, "", *held, path=opened_small, by_hand=True)
    assert kinds(opened_small).count("done") == before + 1
    assert said.count("Enter came again too soon: ignored.") == 1
    assert said.rpartition("ignored.\n")[2].count("\n> ") == 1
    talk(now, lambda: now.on(seconds=1), "", path=opened_small, by_hand=True)
    assert kinds(opened_small).count("done") == before + 2


def test_after_an_alarm_the_step_is_said_anew_with_what_was_done_before_it(opened_small, now):
    path = with_clock(opened_small, now)
    said = talk(now, "", lambda: now.on(minutes=8), lambda: now.on(seconds=1), "*", path=path)
    after = said.partition("SEEN Kettle.\n")[2]
    assert after.startswith("YOU WERE HERE, 8 min ago: Try every kind of step on Panel 1\n  Last done: Give the length, ")
    assert "\n  Started: Read the air\n" in after
    assert ": Read the air\n" in after.partition("Started: Read the air\n")[2]


def test_the_end_of_a_recipe_is_said_once_however_long_it_is_read(opened_small, now):
    path = at(opened_small, now, "Recipe complete")
    said = talk(now, *[lambda: now.on(minutes=1)] * 5, path=path)
    assert said.count("Recipe complete: ") == 1


def test_a_run_is_given_up_by_another_key_than_its_number(opened_small, now):
    said = talk(now, "/", "13", "-", "/", "13", "", path=opened_small)
    assert "Nothing done.\n" in said
    assert "GIVEN UP." in said
    assert kinds(opened_small).count("given up") == 1


def end_the_kettle(path, now):
    return with_clock(path, now, minutes=60), ["+", "1"], "ended"


def pass_the_hold(path, now):
    return at(path, now, "Pass the dew point", Read_the_surface="9"), ["0", "2"], "done"


def give_up(path, now):
    return path, ["/", "13"], "given up"


CONFIRMED = pytest.mark.parametrize("asking", [end_the_kettle, pass_the_hold, give_up])


@CONFIRMED
def test_what_is_not_simply_taken_back_is_confirmed_by_another_text_within_its_time(opened_small, now, asking):
    path, typed, kind = asking(opened_small, now)
    before = kinds(path).count(kind)
    said = talk(now, *typed, typed[-1], lambda: now.on(seconds=59), "x", path=path)
    assert "does nothing here." in said
    assert kinds(path).count(kind) == before
    talk(now, *typed, lambda: now.on(seconds=59), "", path=path)
    assert kinds(path).count(kind) == before + 1


@CONFIRMED
def test_a_question_that_nobody_answers_goes_away_and_takes_the_enter_meant_for_it_along(opened_small, now, asking):
    path, typed, _ = asking(opened_small, now)
    said = talk(now, *typed, lambda: now.on(seconds=61), "", path=path)
    assert "Within 60 s: [Enter] " in said
    assert said.index("No answer within 60 s: nothing done.") < said.index("Enter came after the question closed: ignored.")
    assert kinds(path)[-1] == "opened"


@CONFIRMED
def test_a_clock_that_is_set_while_it_is_asked_confirms_nothing(opened_small, now, asking):
    path, typed, _ = asking(opened_small, now)
    talk(now, *typed, lambda: now.on(minutes=-1), "", path=path)
    assert kinds(path)[-1] == "opened"


@CONFIRMED
def test_at_a_terminal_a_key_held_down_confirms_nothing_and_lines_through_a_pipe_do(opened_small, now, asking):
    path, typed, kind = asking(opened_small, now)
    before = kinds(path).count(kind)
    said = talk(now, *typed, "", path=path, by_hand=True)
    assert "Enter came again too soon: ignored." in said
    assert kinds(path).count(kind) == before
    talk(now, *typed, lambda: now.on(seconds=0.7), "", path=path, by_hand=True)
    talk(now, "-", "", *typed, "", path=path)
    assert kinds(path).count(kind) == before + 2


def test_an_alarm_is_seen_while_something_is_confirmed(opened_small, now):
    path = with_clock(opened_small, now)
    said = talk(now, "/", "13", lambda: now.on(minutes=8), lambda: now.on(seconds=1), "*", "", path=path)
    assert "No answer within 60 s" in said
    now.on(seconds=80)
    said = talk(now, "/", "13", lambda: now.on(seconds=40), lambda: now.on(seconds=1), "*", "", path=path)
    assert kinds(path)[-2:] == ["acknowledged", "given up"]


def test_a_clock_that_rules_nothing_any_more_ends_at_once(opened_small, now):
    path = at(opened_small, now, "Wait for the clamps")
    said = talk(now, "+", "1", "-", lambda: now.on(days=3), "1", path=path)
    assert "[Enter] end Clamps off from" in said
    assert "ENDED Clamps off from." in said
    assert said.count("Within 60 s") == 1


def test_a_clock_set_back_does_not_shut_enter_out(opened_small, now):
    before = kinds(at(opened_small, now, "Stir two full minutes")).count("done")
    talk(now, "", lambda: now.on(hours=-1), "", path=opened_small, by_hand=True)
    assert kinds(opened_small).count("done") == before + 2


# Other work


def test_another_run_comes_back_under_its_own_number(opened_small, now):
    said = talk(now, "/", "3", "3", "1", "", "/", "16", path=opened_small)
    assert "16 Try every kind of step on Panel 1: Start, just now" in said
    assert [event.kind for event in events_of(opened_small)][-3:] == ["part", "run", "chosen"]


def test_the_shop_temperature_moves_the_clocks_and_an_odd_one_is_asked_about(home, now):
    session = Session.create(sessions.project_path("Bar"), "Bar", now(), materials())
    session.begin(session.add_part("Bar 1", now()), recipes.load(RECIPE), now())
    now.at = follow(session, now(), {"Glue": "epoxy"}, until=lambda view: view.headline == "Clean the squeeze-out")
    session.close()
    now.on(hours=5)
    said = talk(now, "/", "5", "3", "", "4", path=session.log.path)
    assert "Shop temperature reading is old" in said
    assert "3 °C is below the usual 5 °C; is that right?" in said
    assert "SHOP 3 °C." in said
    assert re.search(r"Moved: Clamps off, Bar 1: NOT BEFORE .* \(was .*: shop at 3 °C\)", " ".join(said.split()))


def test_settings_of_the_project(opened_small, now):
    talk(now, "/", "10", "1", "2", "90 min", path=opened_small)
    settings = {event.data["name"]: event.data["value"] for event in events_of(opened_small) if event.kind == "setting"}
    assert settings == {"system": "inch", "reading_holds": "90 min"}


def test_settings_of_this_machine_hold_at_once_and_are_kept(opened_small, now):
    signs.spell_out()
    typed = ["/", "settings", "decimal comma", "plain characters only", "second enter ignored for 0.7 s", "4", "1.5", "/"]
    said = talk(now, *typed, "/", "5", "/", *drill("4.5 mm", "", "", "/"), path=opened_small)
    assert "Not accepted: 4 s is above the maximum, 3 s" in said.replace("\n  ", " ")
    assert "Shop temperature good for 4 h" in said
    assert said.count("Saved.") == 3
    assert "type degC, -40" in said
    assert "Drill: 4,5 mm" in said.partition("Result of")[2]
    assert settings.load() == Settings(decimal_mark=",", plain_signs=True, hold_ms=1500)
    said = talk(
        now,
        "/",
        "settings",
        "decimal point",
        "use all characters again",
        "/",
        "/",
        "5",
        path=opened_small,
        settings=settings.load(),
    )
    assert "type °C, -40" in said
    assert settings.load() == Settings(hold_ms=1500)


def test_settings_that_cannot_be_read_are_not_written_over(opened_small, now):
    paths.settings().write_text("{", encoding="utf-8")
    said = talk(now, "/", "settings", "decimal comma", "/", path=opened_small, trouble="Line 1.")
    assert said.count("Default settings in use. Line 1.") == 2
    assert "For this session only." in said
    assert "Decimal point: type a comma or a point" in said
    assert paths.settings().read_text(encoding="utf-8") == "{"


def test_own_words_hold_from_the_first_line_on(opened_small, now, own_words):
    own_words(
        "place,text,own\n"
        "text,shopmate in lines. Type {help} at a step for what can be typed.,shopmate in Zeilen: {help}.\n"
        "line,Default settings in use. {problems},Grundwerte gelten. {problems}\n"
        'line,"[-] back, [+] clocks, [/] more","[-] zurück, [+] Uhren, [/] mehr"\n'
        "key,bench,Arbeit\n"
        "text,Everything is recorded as it is done.,Alles wird mitgeschrieben.\n"
    )
    said = talk(now, "help", "/", path=opened_small, trouble="Line 1.")
    assert said.startswith("shopmate in Zeilen: help.\nGrundwerte gelten. Line 1.\n")
    assert "[-] zurück, [+] Uhren, [/] mehr\n> " in said
    assert "choose, [/] Arbeit\n> " in said
    assert "\nAlles wird mitgeschrieben.\n" in said


def test_own_words_that_cannot_be_used_are_said_first(opened_small, now, own_words):
    own_words("place,text,own\nkey,nothing of ours,x\nkey,bench,Arbeit\n")
    said = " ".join(talk(now, "/", path=opened_small).split())
    assert said.startswith("Built-in words in use. ")
    assert said.index("there is no phrase 'nothing of ours'") < said.index("shopmate in lines.")
    assert "choose, [/] bench" in said


def test_enter_waits_as_long_as_it_is_set_to(opened_small, now):
    waits = ["/", "settings", "second enter ignored for 0.7 s", "0", "/"]
    before = kinds(at(opened_small, now, "Roll out the coat")).count("done")
    talk(now, "", "", path=opened_small, by_hand=True)
    assert kinds(opened_small).count("done") == before + 1
    talk(now, *waits, "", "", path=opened_small, by_hand=True)
    assert kinds(opened_small).count("done") == before + 3


def test_clocks_and_alarms_beside_the_first_are_counted(opened_small, now):
    said = talk(now, "+", "0", "1", "+", "+", "0", "1", "+", "+", "0", "1", "+", lambda: now.on(minutes=2), path=opened_small)
    said = " ".join(said.split())
    assert said.count("; 1 more clock [Enter]") == 1
    assert said.count("; 2 more clocks [Enter]") == 1
    assert "[*] seen, 1 of 3: Timer 1 > " in said


def test_the_log_is_said(opened_small, now):
    said = talk(now, "", "/", "8", path=opened_small)
    assert "2026-05-04 08:00:00 Choose the glue, Thickened epoxy\n" in said


# Looking up


def test_a_calculator_asks_its_fields_one_by_one_and_its_result_is_kept(opened_small, now):
    said = talk(now, "/", "1", "grams of mix for a fillet in a corner", "0", "5 m", "12 mm", "", "", path=opened_small)
    assert "Field 1 of" in said
    assert "Not accepted: 0 mm is below the minimum, 1 mm; enter 1 mm or more" in said
    assert "SAVED to the log." in said
    form, kept = events_of(opened_small)[-2:]
    assert (form.kind, kept.kind) == ("form", "kept")
    assert form.data["texts"] == kept.data["texts"] == {"length": "5 m", "radius": "12 mm"}


def drill(*typed):
    return "/", "1", "drill", *typed


def test_the_result_says_its_figures_cautions_working_and_sources(opened_small, now):
    said = talk(now, "/", "1", "fillet", "5 m", "12 mm", "", "1", "2", "/", path=opened_small)
    result = calc.run("fillet", {"length": "5 m", "radius": "12 mm"})
    heard = " ".join(said.partition("Result of Grams of mix for a fillet in a corner:")[2].split())
    for line in (*result.working, *result.cautions, *result.doubts, *result.sources):
        assert " ".join(line.replace(" · ", ", ").split()) in heard
    for output in calc.find("fillet").outputs:
        assert (f" {output.title}: " in f" {heard}") is (result.outputs[output.name] is not None)
    assert calc.find("fillet").drawn(result.inputs, result.outputs)[0].words in heard
    assert last(opened_small).kind == "form"


def test_what_was_entered_last_time_is_offered_and_can_be_gone_back_to(opened_small, now):
    talk(now, *drill("4 mm", "/"), path=opened_small)
    said = talk(now, *drill("", "-", "5 mm", "/"), path=opened_small)
    assert "[Enter] 4 mm (last time)" in said
    assert [event.data["texts"]["diameter"] for event in events_of(opened_small) if event.kind == "form"] == ["4 mm", "5 mm"]


@pytest.mark.parametrize(
    ("last", "typed", "question"),
    [
        ("2 mm", "20 mm", "20 mm is 10 times the last, 2 mm; is that right?"),
        ("0.9 in", "0.9 mm", "0.9 mm is 25.4 times smaller than the last, 0.9 in; is that right?"),
    ],
)
def test_a_likely_slip_beside_the_last_entry_of_a_field_is_asked_about(opened_small, now, last, typed, question):
    talk(now, *drill(last, "/"), path=opened_small)
    said = talk(now, *drill(typed, "3 mm", "/"), path=opened_small)
    assert question in said
    assert "[Enter] yes, it's right" in said
    assert last_form(opened_small) == {"diameter": "3 mm"}
    talk(now, *drill(last, "/"), *drill(typed, "", "/"), path=opened_small)
    assert last_form(opened_small) == {"diameter": typed}


def last_form(path):
    return [event for event in events_of(path) if event.kind == "form"][-1].data["texts"]


def test_a_likely_slip_beside_the_last_answer_of_a_step_is_asked_about(small, now):
    now.at = follow(small, now(), {"Give the length": "150 mm"}, until=lambda view: view.headline == "Read the air")
    small.begin(small.add_part("Panel 2", now()), every_step(), now())
    small.close()
    path = at(small.log.path, now, "Give the length")
    said = talk(now, "1500", "", path=path)
    assert said.count("1500 mm is 10 times the last, 150 mm; is that right?") == 1
    assert answered(path, "Give the length")["typed"] == "1500 mm"


def test_a_ratio_is_typed_on_a_keypad_and_asked_for_its_basis(opened_small, now):
    said = talk(now, "/", "1", "mix", "0", "2-1", "1", path=opened_small)
    assert "2:1: by weight or by volume?\n1 by volume\n2 by weight\n" in said
    assert re.search(r"\nField 3 of \d+: ", said)
    assert ": 2:1 by volume\n" in said


def test_what_does_not_go_together_is_said_and_the_field_asked_again(opened_small, now):
    said = talk(now, *drill("4 parsec", "1000 mm", "4 mm"), path=opened_small)
    assert said.count("Not accepted: ") == 2
    assert "'parsec' is not a unit shopmate knows" in said


def test_fields_that_do_not_go_together_are_said_and_the_first_of_them_asked_again(opened_small, now):
    typed = ["/", "1", "sample", "25", "20", "", "hard", "", "6", "", "5", "", "/"]
    said = talk(now, *typed, path=opened_small)
    assert "\nCoats: too many on a hard one; enter 5 or fewer\nField 6 of 7: Coats\n" in said
    assert said.count("Result of A sample of every kind of field:") == 1


def test_a_figure_in_place_of_a_name_is_typed_after_0_and_left_to_the_names(opened_small, now):
    typed = ["/", "1", "sample", "25", "20", "", "7", "0", "/", "0", "9.5", "/"]
    said = talk(now, *typed, path=opened_small)
    assert "Not accepted: 7 is not one of the numbers" in said
    assert said.count("\nField 4 of 7: Stiffness\n") == 4
    assert said.count("\n1 soft\n2 hard\n") == 2
    assert "Stiffness: 9.5 GPa" in said


def test_a_list_without_a_unit_is_in_the_unit_of_the_project(opened_small, now):
    typed = ["/", "settings", "show inch units", "/", "/", "1", "gap", "5/8", "1/2", "1/2", "", "+", "1/16-1/32", "/"]
    said = talk(now, *typed, path=opened_small)
    assert "list such as 1, 0.5, 0.5 in; each in, " in said.replace("\n  ", " ")
    assert last_form(opened_small)["tolerances"] == "1/16;1/32 in"


def test_a_table_is_said_row_by_row_with_its_sources(opened_small, now):
    said = talk(now, "/", "7", "wood screws", "", path=opened_small)
    assert "Row 10 of" in said
    assert re.search(r"^1: gauge", said, re.MULTILINE)
    assert "\nSources:\n" in said


def test_a_figure_of_the_shelf_is_typed_and_saved(opened_small, now):
    said = talk(now, "/", "6", "epoxy 2:1 by volume, slow", "pot life", "35", path=opened_small)
    assert "Saved: pot life 35 min; " in said
    assert sessions.shelf()["epoxy-2to1-slow"].figures["pot_life"] == "35 min"
    # The second point of the typical sheet goes with the first.
    words = " ".join(said.split())
    gone = "; also removed: pot life, second + pot temperature, second. Type your data sheet's figures. A run under way keeps"
    assert gone in words
    recorded = {event.data["figure"]: event.data["now"] for event in events_of(opened_small) if event.kind == "shelf"}
    assert recorded == {"pot_life": "35 min", "pot_life_2": None, "pot_temperature_2": None}


def test_a_new_material_is_copied_named_and_edited(opened_small, now):
    foam = str(list(materials()).index("foam-2lb") + 1)
    new = "1"
    typed = ["/", "6", new, foam, "", "packing", "1.15", "/", "/"]
    said = talk(now, *typed, path=opened_small)
    like = f"Its figures are borrowed from {materials()['foam-2lb'].title} until you check them."
    assert f"Saved: Own foam 1. {like} A run under way keeps the figures it started with." in " ".join(said.split())
    assert sessions.shelf()["own-foam-1"].figures == materials()["foam-2lb"].figures | {"packing": "1.15"}
    assert {event.data["material"] for event in events_of(opened_small) if event.kind == "shelf"} == {"own-foam-1"}
    assert sessions.shelf()["foam-2lb"] == materials()["foam-2lb"]
    said = talk(
        now, "/", "6", "own foam 1", "/", "new", "foam-2lb", "Own  foam 1", "new", "own foam 1", "", "/", path=opened_small
    )
    assert "There is already a material own-foam-1: choose it, or enter another name." in said
    assert "own-foam-2" in sessions.shelf()


def test_what_is_borrowed_is_marked_in_every_list_and_an_empty_line_confirms_it(opened_small, now):
    cloth = materials()["glass-200-plain"].title
    typed = ["/", "6", "1", "glass-200-plain", "", "check against your data sheet", "", "1.05 m", "/", "/"]
    said = " ".join(talk(now, *typed, path=opened_small).split())
    for words in (
        f"areal weight: 200 g/m², borrowed from {cloth}",
        "Check against your data sheet: 2 of 2 to check",
        f"Own cloth 1: areal weight, now 200 g/m², borrowed from {cloth}",
        "[Enter] 200 g/m²",
        "Saved: roll width 1.05 m",
    ):
        assert words in said
    assert sessions.shelf()["own-cloth-1"].borrowed == {}
    typed = ["/", "6", "1", "glass-200-plain", "", "roll width", "1.05 m", "/", "/"]
    said = " ".join(talk(now, *typed, path=opened_small).split())
    assert f"Own cloth 2: 1 of 2 figures borrowed from {cloth}" in said
    assert sessions.shelf()["own-cloth-2"].borrowed == {"areal_weight": "glass-200-plain"}


def test_a_ratio_of_the_shelf_is_typed_on_a_keypad_until_it_is_one(opened_small, now):
    typed = ["/", "6", "epoxy-2to1-slow", "ratio", "100", "/", "nonsense", "100-41", "2", "/", "/"]
    said = talk(now, *typed, path=opened_small)
    assert "Not accepted: 'nonsense' is not a ratio" in said
    assert sessions.shelf()["epoxy-2to1-slow"].figures["ratio"] == "100:41 by weight"


def test_a_figure_of_the_shelf_that_looks_like_a_slip_is_asked_about(opened_small, now):
    said = talk(now, "/", "6", "epoxy-2to1-slow", "pot life", "400", "", path=opened_small)
    assert "400 min is above the usual 240 min; is that right?" in said
    said = talk(now, "/", "6", "epoxy-2to1-slow", "pot life", "40", "", path=opened_small)
    assert "40 min is 10 times smaller than the last, 400 min; is that right?" in said
    assert sessions.shelf()["epoxy-2to1-slow"].figures["pot_life"] == "40 min"


# What is read


def test_lines_are_read_as_they_come_and_the_last_needs_no_end():
    read_end, write_end = os.pipe()
    sent = [b"4 m", b"m\r\n\xb0\n", b"last"]

    def meanwhile():
        os.write(write_end, sent.pop(0)) if sent else os.close(write_end)
        return 0.0

    read_line = reader(read_end, "utf-8")
    assert [read_line(meanwhile) for _ in range(4)] == ["4 mm\r", "\N{REPLACEMENT CHARACTER}", "last", None]
    os.close(read_end)


def test_a_line_without_end_fills_no_memory():
    read_end, write_end = os.pipe()
    os.write(write_end, b"9" * 60_000)
    os.write(write_end, b"\nnext\n")
    os.close(write_end)
    read_line = reader(read_end, "utf-8")
    line = read_line(lambda: 0.0)
    assert line is not None
    assert set(line) == {"9"}
    assert len(line) <= 4096
    assert read_line(lambda: 0.0) == "next"
    os.close(read_end)


@pytest.mark.parametrize("width", range(21, 30))
def test_what_acts_is_named_and_a_joiner_left_over_where_a_line_ends_is_too(now, width):
    said = []
    lines = Lines(lambda meanwhile: None, said.append, now, width=lambda: width)
    lines.say("a\x1b[31m" + "👩\u200d🔧" * 40)
    assert said[0].startswith("a[U+001B][31m")
    assert all(is_fit(line) for line in said)
    assert "👩\u200d🔧" in "".join(said)


def test_giving_up_is_offered_only_with_a_run(opened_small, now):
    assert "Give up this run (the one on the bench)" in talk(now, "/", "", path=opened_small)
    said = talk(now, "/", "13", "", "/", "", path=opened_small)
    assert said.count("Give up this run (the one on the bench)") == 1


def test_a_clock_is_named_from_a_list_or_typed_and_a_long_name_is_kept_to_be_cut(opened_small, now):
    said = talk(
        now, "/", "clocks", "-", "Heater", "20", "-", "another name", "Nineteen signs 2345", "Tea", "5", "/", path=opened_small
    )
    assert "too long for a clock; use 18 characters or fewer" in said
    titles = [event.data["clock"]["title"] for event in events_of(opened_small) if event.kind == "clock"]
    assert titles[-2:] == ["Heater", "Tea"]
