"""Alarms in the running application: their row, the key that has seen them, the bell, the command, the sound test, the pause."""

import shutil
from dataclasses import replace
from datetime import timedelta

import pytest
from test_app import choose
from tui_bench import SIZES, UNGUARDED, opened
from tui_stage import inks

from shopmate import clock as clocks_
from shopmate import recipe as recipes
from shopmate import settings as settings_
from shopmate import times
from shopmate.clock import State
from shopmate.project.events.clocks import ClockStarted, Limit
from shopmate.session import events_of, recipe_files
from shopmate.session.demo import follow
from shopmate.tui.screen import KeyedScreen
from shopmate.tui.screens.bench import BenchScreen
from shopmate.tui.screens.choose import ChooseScreen
from shopmate.tui.sound import ScreenSounder
from shopmate.tui.widgets import alarm_line
from shopmate.tui.widgets.alarm_line import AlarmLine
from shopmate.tui.widgets.notice_line import NoticeLine
from shopmate.tui.widgets.numbered import Numbered
from shopmate.tui.widgets.step_panel import StepPanel

SMALL_AND_USUAL = pytest.mark.parametrize("size", [(40, 12), (80, 24)], ids=["40x12", "80x24"])


@pytest.fixture
def kettles(small, now):
    """Return the file of a project with own clocks that many minutes long."""

    def make(*minutes):
        for number, length in enumerate(minutes, 1):
            small.start_clock(f"Kettle {number}", "DO BEFORE", timedelta(minutes=length), now())
        small.close()
        return small.log.path

    return make


class Bells:
    """Takes the place of the application's timers: what was to ring when, and what was stopped."""

    def __init__(self, at, monkeypatch):
        self.app, self.all = at.app, []
        monkeypatch.setattr(at.app, "set_timer", self.set_timer)

    def set_timer(self, after, act):
        self.all.append(Bell(round(after, 1), act, self))
        return self.all[-1]

    @property
    def rung(self):
        """When the bells of the last burst ring, those stopped left out."""
        return [bell.after for bell in self.all if bell.act == self.app.bell and not bell.stopped]

    def forget(self):
        self.all.clear()


class Bell:
    def __init__(self, after, act, owner):
        self.after, self.act, self.owner, self.stopped = after, act, owner, False

    def stop(self):
        self.stopped = True


def row(at):
    region = at.app.screen.query_one(AlarmLine).region
    return "\n".join(at.text.splitlines()[region.y : region.bottom])


# The row


@pytest.mark.parametrize(("width", "most"), [(40, 2), (60, 4), (80, 4)])
def test_what_to_do_is_whole_in_the_row_for_every_alarm_of_the_shipped_recipes(now, width, most):
    for recipe in [file.recipe for file in recipe_files() if file.recipe is not None]:
        for act in starts(recipe):
            planned = clocks_.Clock(
                key="1", name=act.clock, title=act.title, kind=act.kind, started_at=now() - timedelta(hours=2), due_at=now(),
                action=act.action, if_late=act.if_late, time_to_act=timedelta(minutes=2), consequence=act.consequence,
                raised={"due": now()},
            )  # fmt: skip
            others = [replace(planned, key=str(number), due_at=now() + timedelta(seconds=1)) for number in range(2, 9)]
            late = now() + timedelta(minutes=3)
            lines = [line.plain for line in alarm_line.rows([planned, *others], late, width, most)]
            assert all(len(line) == width for line in lines)
            said = " ".join(" ".join(lines).split())
            assert f"1 of 8 · rang first · NOW · {act.title} +3:00 · {act.action}" in said, said


def starts(recipe):
    return [step.act for section in recipe.sections for step in section.steps if isinstance(step.act, recipes.Start)]


@SMALL_AND_USUAL
async def test_the_alarm_says_priority_clock_time_action_and_due_time_in_that_order(kettles, now, size):
    async with opened(now, kettles(5), size) as at:
        await at.tick(minutes=6)
        said = " ".join(row(at).split())
        due = times.wall(at.session.clocks[0].due_at, now())
        assert f"● NOW · Kettle 1 +1:00 · Check the job · DO BEFORE {due}" in said


@pytest.mark.parametrize("size", SIZES, ids=lambda size: "x".join(map(str, size)))
async def test_of_eight_alarms_none_is_dropped_and_the_first_up_stays_marked(kettles, now, size):
    async with opened(now, kettles(*(5 + number / 600 for number in range(8))), size) as at:
        await at.tick(minutes=6)
        assert "1 of 8 · rang first" in at.text
        for left in range(7, 1, -1):
            await at.press("*")
            assert f"1 of {left}" in at.text
        await at.press("**")
        assert not at.app.alarm_waits
        assert {clocks_.state(clock, now()) for clock in at.session.clocks} == {State.DUE_ACKNOWLEDGED}


async def test_the_first_up_is_marked_below_a_more_urgent_one(small, now):
    small.close()
    async with opened(now, small.log.path) as at:
        at.session.start_clock("Kettle", "DO BEFORE", timedelta(minutes=10), now())
        later = {**at.session.log.events()[-1].data["clock"], "title": "Glue", "seconds": 300.0, "time_to_act_s": 900.0}
        at.session._record(ClockStarted(Limit(**later), "Glue"), now())
        await at.tick(minutes=6)
        await at.tick(minutes=5)
        lines = row(at).splitlines()
        assert "1 of 2 · NOW · Kettle" in lines[0]
        assert "rang first · SOON · Glue" in lines[1]


@pytest.mark.parametrize("keys", ["", "+", "/", "/03", "/."], ids=["bench", "clocks", "calculators", "form", "choose"])
@SMALL_AND_USUAL
async def test_what_was_seen_stays_steady_on_every_screen_until_it_is_done(kettles, now, keys, size):
    async with opened(now, kettles(5), size) as at:
        await at.press(keys)
        await at.tick(minutes=6)
        await at.press("*")
        before = at.text
        assert " ◉ NOW · Kettle 1" in before
        assert not at.app.flash.goes
        await at.tick(hours=2)
        assert "Kettle 1 +2h01" in at.text
        at.session.end_clock(at.session.clocks[0].key, now())
        await at.tick(seconds=1)
        assert " ◉ " not in at.text


async def test_a_reminder_is_marked_in_the_row(kettles, now):
    async with opened(now, kettles(5)) as at:
        await at.tick(minutes=6)
        await at.press("*")
        await at.tick(minutes=4, seconds=59)
        assert "STILL DUE" not in at.text
        await at.tick(seconds=1)
        assert " ◉ STILL DUE · NOW · Kettle 1 +6:00" in at.text
        await at.tick(seconds=30)
        assert "STILL DUE" not in at.text


@SMALL_AND_USUAL
async def test_what_is_put_off_is_counted_and_comes_back_by_itself_also_after_a_kill(kettles, now, size, tmp_path):
    path = kettles(50, 52)
    async with opened(now, path, size) as at:
        await at.tick(minutes=42)
        assert "1 of 2" in at.text
        await at.press(".2")
        assert "1 snoozed · NOW · Kettle 2" in " ".join(at.text.split())
        await at.press("*")
        assert " ◌ 1 snoozed · Kettle 1 until" in at.text
        await at.press("/03")
        assert " ◌ 1 snoozed · Kettle 1 until" in at.text
        copy = shutil.copy(path, tmp_path / "copy.shopmate")
    async with opened(now, copy, size) as at:
        assert " ◌ 1 snoozed · Kettle 1 until" in at.text
        await at.tick(minutes=5)
        assert " ● NOW · Kettle 1" in at.text
        assert ("full_stop", "later") not in at.shown  # the most urgent once
        assert [event.kind for event in events_of(copy)].count("returned") == 1
        await at.tick(minutes=1)
        assert [event.kind for event in events_of(copy)].count("returned") == 1


@pytest.mark.parametrize("size", SIZES, ids=lambda size: "x".join(map(str, size)))
async def test_only_a_small_mark_flashes_and_the_words_stand_still(kettles, now, size):
    async with opened(now, kettles(5, 5.1), size) as at:
        await at.tick(minutes=6)
        assert at.app.flash.goes
        lit, lit_inks = at.text, list(inks(at.app))
        now.on(seconds=0.3)
        at.app.flash.turn()
        await at.pilot.pause()
        dark, dark_inks = at.text, list(inks(at.app))
        changed = [index for index, (one, other) in enumerate(zip(lit, dark, strict=True)) if one != other]
        assert [(lit[index], dark[index]) for index in changed] == [("●", "○")]
        # Where the colours differ: the mark of three columns, under 5 % of the screen.
        styles = {ink for ink in lit_inks if ink not in dark_inks}
        assert {text.strip() for text, *_ in styles} == {"●"}
        assert 3 / (size[0] * size[1]) < 0.05
        now.on(seconds=0.3)
        at.app.flash.turn()
        await at.pilot.pause()
        assert at.text == lit
        await at.press("**")
        assert not at.app.flash.goes


@SMALL_AND_USUAL
async def test_an_alarm_answers_no_question_and_takes_no_key(kettles, now, size):
    async with opened(now, kettles(5), size) as at:
        await at.press("/.")
        question = at.app.screen
        await at.tick(minutes=6)
        assert at.app.screen is question
        assert at.app.focused is None
        count = len(at.session.log.events())
        await at.press("*")
        assert at.app.screen is question
        assert [event.kind for event in at.session.log.events()[count:]] == ["acknowledged"]


# Recorded before it is drawn


async def test_every_alarm_is_in_the_file_before_it_is_drawn(kettles, now, monkeypatch):
    """Keys are pressed just after something came due, before the second that looks for it."""
    path, drawn = kettles(5, 30), []
    show = KeyedScreen.show_alarms

    def checked(screen, clocks, at):
        kept = {(event.data["clock"], event.data["stage"]) for event in events_of(path) if event.kind == "alarm"}
        for clock in clocks_.alarms(clocks, at):
            drawn.append((clock.key, clocks_.stage(clock, at)))
            assert drawn[-1] in kept
        show(screen, clocks, at)

    monkeypatch.setattr(KeyedScreen, "show_alarms", checked)
    async with opened(now, path) as at:
        for keys in ("5", "+", "+", "/", "/", "+"):
            now.on(minutes=5)
            await at.press(keys)
        assert len(set(drawn)) == 3


# The key that has seen it


async def test_an_alarm_just_shown_is_not_acknowledged_by_a_key_on_its_way_down(kettles, now):
    async with opened(now, kettles(5, 6)) as at:
        await at.tick(minutes=8)
        now.on(seconds=-0.2)  # the press comes 0.3 s after the alarm
        await at.press("*")
        assert at.said == "NEW ALARM: read it, then * again"
        assert at.app.alarm_waits
        await at.press("*")
        assert at.said == "SEEN Kettle 1"
        now.on(seconds=-0.2)  # so is the one that has just taken its place
        await at.press("*")
        assert at.said == "NEW ALARM: read it, then * again"
        await at.press("*")
        assert at.said == "SEEN Kettle 2"


# The bell


async def test_the_bell_rings_in_its_rhythm_until_it_is_seen(kettles, now, monkeypatch):
    async with opened(now, kettles(5)) as at:
        bells = Bells(at, monkeypatch)
        await at.tick(minutes=2)
        assert bells.rung == []
        await at.tick(minutes=1)
        assert bells.rung == [0.0, 0.4, 0.8, 1.2, 1.6]
        bells.forget()
        await at.tick(seconds=9)
        assert bells.rung == []
        await at.tick(seconds=1)
        assert bells.rung == [0.0, 0.4, 0.8, 1.2, 1.6]
        await at.press("*")
        assert bells.rung == []  # what had not rung yet was stopped
        await at.tick(seconds=11)
        assert bells.rung == []


async def test_a_more_urgent_alarm_interrupts_the_burst_in_progress(small, now, monkeypatch):
    small.start_clock("Kettle", "NOT BEFORE", timedelta(seconds=301), now())
    slow = {**small.log.events()[-1].data["clock"], "title": "Glue", "seconds": 300.0, "time_to_act_s": 900.0}
    small._record(ClockStarted(Limit(**slow), "Glue"), now())
    small.close()
    async with opened(now, small.log.path) as at:
        bells = Bells(at, monkeypatch)
        await at.tick(seconds=300)
        first = [bell for bell in bells.all if bell.act == at.app.bell]
        assert bells.rung == [0.0, 0.6, 1.2]
        await at.tick(seconds=1)
        assert all(bell.stopped for bell in first)
        assert bells.rung == [0.0, 0.4, 0.8, 1.2, 1.6]


async def test_eight_alarms_in_a_second_ring_one_burst(kettles, now, monkeypatch):
    async with opened(now, kettles(*(20 + number / 600 for number in range(8)))) as at:
        bells = Bells(at, monkeypatch)
        await at.tick(minutes=21)
        assert len(bells.rung) == 5


# The user's command


class Speaker:
    """A command that notes its words and ends as told."""

    def __init__(self, fault=""):
        self.heard, self.fault = [], fault

    def __call__(self, command, words):
        self.heard.append((tuple(command), words))
        return self.fault


async def heard(at):
    """Wait until the command has ended and what it did is shown."""
    running = [worker for worker in at.app.workers if worker.name == "alarm_command"]
    if running:  # of none, all would be waited for
        await at.app.workers.wait_for_complete(running)
    await at.pilot.pause()


async def test_the_command_is_started_with_each_burst(kettles, now):
    async with opened(now, kettles(5), settings=replace(UNGUARDED, alarm_command=("speak", "{words}"))) as at:
        at.app.sounder.run_command = speaker = Speaker()
        await at.tick(minutes=6)
        await heard(at)
        await at.tick(seconds=10)
        await heard(at)
        await at.tick(seconds=1)
        assert [command for command, _ in speaker.heard] == [("speak", "{words}")] * 2
        assert speaker.heard[0][1].startswith("NOW · Kettle 1 +1:00 · Check the job")


async def test_the_command_is_not_started_anew_while_it_runs(kettles, now):
    async with opened(now, kettles(5), settings=replace(UNGUARDED, alarm_command=("speak",))) as at:
        started = []
        at.app.sounder.call = lambda command, words, ended: started.append(ended)
        await at.tick(minutes=6)
        await at.tick(seconds=10)
        assert len(started) == 1
        started[0]("")
        await at.tick(seconds=10)
        assert len(started) == 2


@SMALL_AND_USUAL
async def test_a_command_that_fails_is_said_until_it_works(kettles, now, size):
    async with opened(now, kettles(5), size, settings=replace(UNGUARDED, alarm_command=("speak",))) as at:
        at.app.sounder.run_command = Speaker("speak was not found")
        await at.tick(minutes=6)
        await heard(at)
        assert "COMMAND FAILED: speak was not found" in at.text
        await at.press("*")
        await at.tick(minutes=1)
        assert "COMMAND FAILED" in at.text
        at.app.sounder.run_command = Speaker()
        await at.tick(minutes=5)
        await heard(at)
        assert "COMMAND FAILED" not in at.text


async def test_a_real_command_that_is_not_there_is_said(kettles, now, tmp_path):
    gone = str(tmp_path / "gone")
    async with opened(now, kettles(5), size=(120, 35), settings=replace(UNGUARDED, alarm_command=(gone,))) as at:
        await at.tick(minutes=6)
        await heard(at)
        assert f"COMMAND FAILED: {gone}"[:100] in at.text


# Notifications


async def test_a_notification_is_sent_for_what_is_new_where_the_user_asks_for_it(kettles, now, monkeypatch):
    async with opened(now, kettles(5)) as at:
        sent = []
        monkeypatch.setattr(at.app.sounder, "send_notification", sent.append)
        await at.tick(minutes=3)
        assert sent == []
        await at.press("/.")
        await choose(at, "Settings")
        await choose(at, "Turn terminal notifications on")
        assert settings_.load().notify
        await at.press("/")
        await at.tick(minutes=3)
        await at.tick(seconds=10)
        assert [words[:14] for words in sent] == ["NOW · Kettle 1"]


async def test_settings_in_need_of_mending_are_not_written_over(kettles, now, home):
    path = kettles(5)
    (home / "settings.json").write_text("{ mine", encoding="utf-8")
    async with opened(now, path, trouble="settings.json:1:3: no JSON; mend it") as at:
        await at.press("1 /.")
        await choose(at, "Settings")
        await choose(at, "Turn terminal notifications on")
        assert "no JSON; mend it" in " ".join(at.text.split())
        assert (home / "settings.json").read_text(encoding="utf-8") == "{ mine"


# The sound test


@pytest.mark.parametrize("size", SIZES, ids=lambda size: "x".join(map(str, size)))
async def test_the_sound_is_tried_at_the_start_and_not_tested_stands_until_the_user_answers(kettles, now, size, monkeypatch):
    rung = []
    monkeypatch.setattr(ScreenSounder, "ring", lambda sounder, rhythm: rung.append(rhythm.bells))
    async with opened(now, kettles(50), size, heard=None) as at:
        assert rung == [3]
        assert isinstance(at.app.screen, BenchScreen)
        assert "SOUND NOT TESTED: / . Settings" in at.text
        await at.press("+E1")
        assert rung == [3, 3]
        assert "Did you hear 3 beeps?" in at.text
        await at.press("/")
        assert "SOUND NOT TESTED" in at.text
        await at.press("E11")
        assert "SOUND" not in at.text
        assert at.session.log.events()[-1].kind == "sound"
        assert at.session.log.events()[-1].data["heard"] is True


@pytest.mark.parametrize("size", SIZES, ids=lambda size: "x".join(map(str, size)))
async def test_a_sound_not_tested_shrinks_to_a_word_that_takes_no_row_of_the_step(small, now, size):
    small.close()
    async with opened(now, small.log.path, size, heard=None) as at:
        room = at.app.bench.query_one(StepPanel).room
        await at.wait(6)
        assert "SOUND NOT TESTED: / . Settings" in at.text
        await at.press(",")
        await at.tick(seconds=1)
        assert "▲ SOUND NOT TESTED" in at.text
        assert "Settings" not in at.text
        assert at.app.bench.query_one(StepPanel).room == room
        assert not at.app.bench.query_one(NoticeLine).display
        await at.press("+")
        assert "Clocks · SOUND NOT TESTED" in at.text
        await at.press("05E")  # a first clock runs
        await at.tick(seconds=1)
        assert "SOUND NOT TESTED: / . Settings" in at.text
        await at.wait(6)
        await at.press("+")
        await at.tick(seconds=1)
        assert "SOUND NOT TESTED: / . Settings" not in at.text
        await at.press("/.")
        await choose(at, "Settings")
        seen = at.text
        for _ in range(at.app.screen.query_one(Numbered).pages):
            await at.press("+")
            seen += at.text
        assert "not tested yet" in " ".join(seen.split())


@pytest.mark.parametrize("size", SIZES, ids=lambda size: "x".join(map(str, size)))
async def test_no_sound_is_said_for_the_whole_session(kettles, now, size):
    path = kettles(50)
    async with opened(now, path, size, heard=None) as at:
        await at.press("/.")
        await choose(at, "Settings")
        await choose(at, "Sound test")
        await at.press("2/")
        assert at.app.screen is at.app.bench
        assert "NO SOUND: watch the screen." in at.text
        await at.tick(minutes=45)
        assert "NO SOUND" in at.text
        await at.press("+")
        assert "NO SOUND" in at.text
    async with opened(now, path, size, heard=None) as at:
        assert "SOUND NOT TESTED" in at.text  # of the session before


async def test_the_sound_test_tries_the_command_too(kettles, now):
    async with opened(now, kettles(50), heard=None, settings=replace(UNGUARDED, alarm_command=("speak", "{words}"))) as at:
        await heard(at)
        assert "COMMAND FAILED: speak was not found" in at.text
        at.app.sounder.run_command = speaker = Speaker()
        await at.press("+E1")
        await heard(at)
        assert speaker.heard == [(("speak", "{words}"), "Sound test")]
        await at.press("2")
        assert "NO BELL: only the alarm command sounds" in at.text


async def test_an_alarm_that_waits_at_the_start_sounds_instead_of_the_test(kettles, now, monkeypatch):
    path = kettles(5)
    now.on(minutes=9)
    rung = []
    monkeypatch.setattr(ScreenSounder, "ring", lambda sounder, rhythm: rung.append(rhythm.bells))
    async with opened(now, path, heard=None) as at:
        await at.tick(seconds=1)
        assert rung == [5]
        assert "SOUND NOT TESTED" in at.text


async def test_a_window_that_only_reads_tests_no_sound_until_it_works_alone(small, now, monkeypatch):
    rung = []
    monkeypatch.setattr(ScreenSounder, "ring", lambda sounder, rhythm: rung.append(rhythm.bells))
    async with opened(now, small.log.path, heard=None) as at:
        assert rung == []
        assert "SOUND" not in at.text
        small.close()
        await at.tick(seconds=1)
        assert "SOUND NOT TESTED" in at.text


async def test_the_first_choice_of_a_project_comes_before_the_sound_test(home, now):
    async with opened(now, heard=None) as at:
        assert isinstance(at.app.screen, ChooseScreen)
        assert "SOUND" not in at.text


async def test_a_notice_takes_no_row_from_a_small_screen_while_no_alarm_does(kettles, now):
    async with opened(now, kettles(50), (40, 12)) as at:
        without = at.text.splitlines()
        at.app.watching.heard = False
        at.app.watching.show_silence()
        await at.pilot.pause()
        lines = at.text.splitlines()
        changed = [line for line, other in zip(lines, without, strict=True) if line != other]
        assert [line.strip() for line in changed] == ["▲ NO SOUND: watch the screen. Turn …"]
        assert not at.app.screen.query_one(NoticeLine).display
        await at.tick(minutes=45)
        assert at.app.screen.query_one(NoticeLine).display
        assert "NO SOUND" in at.text
        assert "NOW · Kettle 1" in at.text


# The pause


@SMALL_AND_USUAL
async def test_a_pause_is_said_with_the_time_left_and_a_new_alarm_ends_it(kettles, now, size, monkeypatch):
    async with opened(now, kettles(5, 9.2), size) as at:
        await at.press("+E")
        assert "Quiet for 2 minutes" not in at.text  # nothing sounds
        await at.press("/")
        await at.tick(minutes=5)
        await at.press("E2")
        bells = Bells(at, monkeypatch)
        assert "SOUND PAUSED 2:00" in at.text
        await at.tick(seconds=37)
        assert "SOUND PAUSED 1:23" in at.text
        assert bells.rung == []
        await at.tick(seconds=83)
        assert "SOUND PAUSED" not in at.text
        assert len(bells.rung) == 5
        await at.press("E2")
        assert "SOUND PAUSED 2:00" in at.text
        bells.forget()
        await at.tick(seconds=12)  # the second one is due for its warning
        assert "SOUND PAUSED" not in at.text
        assert len(bells.rung) == 5


# More alarms than one person can serve


async def test_clocks_that_crowd_are_told_quietly_where_they_are_planned(small, now):
    small.close()
    async with opened(now, small.log.path) as at:
        await at.press("+020E")
        assert "hard to handle" not in at.text
        await at.press("021E")
        assert "4 alarms within 10 min from" in at.text
        assert not at.app.alarm_waits


def test_a_clock_about_to_start_tells_that_it_crowds(small, now):
    now.at = follow(small, now(), {}, until=lambda view: view.headline == "Start the pot life")
    assert small.view(now()).note == "It counts from first contact."
    small.start_clock("Kettle", "DO BEFORE", timedelta(minutes=35), now())
    # The kettle warns at 28 min and is due at 35, the pot of 40 min warns at 32.
    at = times.wall(now() + timedelta(minutes=28), now())
    crowd = f"3 alarms within 10 min from {at}: more than 2 are hard to handle alone."
    assert small.view(now()).note == f"It counts from first contact. {crowd}"


async def test_a_mark_that_flashes_while_the_program_is_left_ends_with_it(kettles, now):
    async with opened(now, kettles(5)) as at:
        await at.tick(minutes=6)
    assert at.app.screen_stack == []
    at.app.light(True)
