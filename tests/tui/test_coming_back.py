"""Coming back to the bench: after a restart, an alarm or a pause it says where it was left, and hinders nobody."""

from datetime import timedelta
from typing import get_args

import pytest
from conftest import every_step, materials
from test_bench import nothing_cut, states
from tui_bench import SIZES, opened

from shopmate import session as sessions
from shopmate.dialogue.step import answers
from shopmate.project.events.steps import LeftForLater
from shopmate.project.place import Place
from shopmate.session import FinishedView, Session, View
from shopmate.session.demo import follow

STOP = "YOU WERE HERE"
PASSING = "You were here"


def count(at):
    return len(at.session.log.events())


@pytest.mark.parametrize("size", SIZES, ids=lambda size: "x".join(map(str, size)))
async def test_after_a_restart_it_says_where_it_was_and_enter_goes_on_and_does_nothing_else(begun, now, size):
    path = begun("Spread the pot")
    now.on(minutes=12)
    async with opened(now, path, size, back=False) as at:
        before, events = at.view, count(at)
        nothing_cut(at)
        assert STOP in at.text
        assert "12 min ago" in at.text
        assert f"✓ Stir two full minutes  {(now() - timedelta(minutes=12)).astimezone():%H:%M}" in at.text
        assert "Pot life" in at.text
        assert at.shown == [("enter", "continue"), ("plus", "clocks"), ("slash", "look up")]
        await at.press("017.-")
        assert (at.view.place, count(at)) == (before.place, events)
        await at.press("E")
        assert STOP not in at.text
        assert PASSING not in at.text
        assert (at.view.place, count(at)) == (before.place, events)
        nothing_cut(at)
        await at.press("E")
        assert at.view.headline == "Start the window"


async def test_neither_of_them_hides_a_figure_on_a_small_screen(begun, now):
    path = begun("Stir two full minutes")
    async with opened(now, path, (40, 12), back=False) as at:
        assert STOP in at.text
        assert "Hardener to 142.2 g" in at.text
        nothing_cut(at)
        await at.press("E")
        await at.tick(minutes=2)
        assert "Hardener to 142.2 g" in at.text
        assert "Length 1.2 m, scale at 142.2 g." in at.text  # what is said in passing takes no row that is needed
        nothing_cut(at)


async def test_the_value_last_given_and_the_step_begun_are_said(begun, now):
    path = begun("Work out the pot")
    now.on(hours=3)
    async with opened(now, path, back=False) as at:
        assert "✓ Weigh the resin  100 g · " in at.text
        assert "180 min ago" not in at.text
        assert "3 h ago" in at.text
        nothing_cut(at)


async def test_behind_a_caution_the_step_begun_is_named(begun, now):
    path = begun("WARNING")
    async with opened(now, path, back=False) as at:
        assert "▸ Weigh the resin" in at.text
        assert STOP in at.text


@pytest.mark.parametrize("size", SIZES, ids=lambda size: "x".join(map(str, size)))
async def test_the_first_digit_of_a_reading_is_not_lost(begun, now, size):
    async with opened(now, begun("Read the air"), size, back=False) as at:
        assert STOP in at.text
        await at.press("2")
        assert STOP not in at.text
        assert at.entry.text == "2"
        nothing_cut(at)
        await at.press("1E")
        assert at.session.run.values["air"].quantity.value == 21


async def test_nothing_of_the_kind_at_the_start_of_a_run_and_after_its_end(home, now):
    session = Session.create(sessions.project_path("new"), "new", now(), materials())
    session.begin(session.add_part("Panel 1", now()), every_step(), now())
    session.close()
    now.on(hours=1)
    async with opened(now, session.log.path, back=False) as at:
        assert (STOP in at.text, PASSING in at.text) == (False, False)
        now.at = follow(at.session, now(), {}, until=lambda view: isinstance(view, FinishedView))
    async with opened(now, session.log.path, back=False) as at:
        await at.tick(hours=1)
        assert (STOP in at.text, PASSING in at.text) == (False, False)


@pytest.mark.parametrize("size", SIZES, ids=lambda size: "x".join(map(str, size)))
async def test_a_pause_is_said_in_passing_and_the_next_key_does_its_work(begun, now, size):
    async with opened(now, begun("Spread the pot"), size) as at:
        await at.tick(seconds=59)
        assert PASSING not in at.text
        await at.tick(minutes=2)
        assert f"{PASSING} · 2 min ago · ✓ Stir" in at.text
        assert STOP not in at.text
        nothing_cut(at)
        await at.press("E")
        assert at.view.headline == "Start the window"
        assert PASSING not in at.text


async def test_a_pause_in_the_middle_of_typing_is_said_and_takes_nothing(begun, now):
    async with opened(now, begun("Give the length")) as at:
        await at.press("12")
        await at.tick(minutes=5)
        assert PASSING in at.text
        assert at.entry.text == "12"
        await at.press("3")
        assert (PASSING in at.text, at.entry.text) == (False, "123")


async def test_after_an_alarm_was_seen_it_says_where_it_was(begun, now):
    async with opened(now, begun("Judge the film")) as at:
        at.session.start_clock("Heater", "NOT BEFORE", timedelta(minutes=5), now())
        await at.tick(minutes=6)
        assert STOP not in at.text
        await at.press("*")
        assert STOP in at.text
        assert "✓ Pass the dew point" in at.text
        assert "6 min ago" in at.text
        events = count(at)
        await at.press("1")
        assert count(at) == events
        await at.press("E")
        assert (STOP in at.text, count(at)) == (False, events)
        await at.press("1")
        assert at.view.headline == "WARNING"


async def test_an_alarm_of_the_pot_in_hand_does_not_come_between_the_hands_and_enter(begun, now):
    async with opened(now, begun("Spread the pot")) as at:
        await at.tick(minutes=32)
        assert ("asterisk", "seen") in at.shown
        await at.press("*")
        assert STOP not in at.text
        await at.press("E")
        assert at.view.headline == "Start the window"


async def test_the_alarm_that_opens_the_hold_point_in_hand_is_no_interruption(begun, now):
    async with opened(now, begun("Wait for the clamps")) as at:
        await at.tick(hours=25)
        await at.press("*")
        assert STOP not in at.text
        assert at.view.headline == "Take the clamps off"


async def test_an_alarm_while_a_value_is_typed_does_not_come_between_its_digits(begun, now):
    async with opened(now, begun("Give the length")) as at:
        at.session.start_clock("Heater", "NOT BEFORE", timedelta(minutes=5), now())
        await at.press("12")
        await at.tick(minutes=6)
        await at.press("*00E")
        assert at.session.run.values["length"].text == "1200 mm"


async def test_time_alone_never_moves_a_step(begun, now):
    """In every state of a run, over two days and past every clock."""
    async with opened(now, begun()) as at:
        seen = set()
        async for _view in states(at):
            if type(at.view) not in seen:
                seen.add(type(at.view))
                place, events = at.view.place, [e.kind for e in at.session.log.events()]
                at_start = now()
                for hours in (1, 1, 46):
                    await at.tick(hours=hours)
                    assert at.view.place == place
                now_kinds = [e.kind for e in at.session.log.events()]
                assert set(now_kinds[len(events) :]) <= {"alarm"}
                now.at = at_start
            for _ in range(9):
                if not at.app.alarm_waits:
                    break
                await at.press("*")
        assert {*get_args(View)} - seen == {FinishedView}


# Steps for later


@pytest.mark.parametrize("size", SIZES, ids=lambda size: "x".join(map(str, size)))
async def test_a_step_is_left_for_later_counted_in_sight_and_done_before_the_end(begun, now, size):
    async with opened(now, begun("Scrape the joint"), size) as at:
        assert ("0", "do later") in at.shown
        await at.press("0")
        assert at.view.headline == "Wash your hands"
        assert "1 for later" in at.text.splitlines()[0]
        nothing_cut(at)
        if size[0] > 40:
            assert "◌ Scrape the joint  (for later)" in at.text
        await at.press("E")
        nothing_cut(at)
        assert "do now: Scrape the joint" in at.text
        await at.press("E")
        assert at.view.headline == "Steps left to do"
        nothing_cut(at)
        assert next(key for key, _ in at.shown) == "1"
        await at.press("E")
        assert at.session.run.finished_at is None
        await at.press("1")
        assert at.view.headline == "Scrape the joint"
        nothing_cut(at)
        await at.press("E")
        assert at.view.headline == "Recipe complete"
        assert "for later" not in at.text
        await at.press("E")
        assert at.session.run.finished_at is not None


async def test_a_step_for_later_that_is_not_needed_after_all_takes_a_reason(begun, now):
    async with opened(now, begun("Scrape the joint")) as at:
        await at.press("0EE1")
        assert ("0", "not needed") in at.shown
        await at.press("0")
        assert "Not needed on this part" in at.text
        await at.press("-")
        assert at.view.headline == "Scrape the joint"
        await at.press("02")
        assert at.view.headline == "Recipe complete"
        assert at.session.log.events()[-1].data["reason"] == "Done another way"
        await at.press("-E-E")
        assert at.view.headline == "Steps left to do"


async def test_a_repeated_section_offers_its_turns_and_what_is_left(begun, now):
    async with opened(now, begun("Leave it flat")) as at:
        assert ("1", "done, 1 more coat") not in at.shown
        await at.press("E")
        assert at.shown[:2] == [("enter", "start clock"), ("1", "this is the last coat")]
        await at.press("EEE")
        assert at.view.headline == "Leave it flat"
        assert at.shown[:2] == [("enter", "done"), ("1", "done, 1 more coat")]
        left = LeftForLater(at.session.run.key, Place(1, 1, 6), next=at.view.place, headline="Cut the cartridge")
        at.session._record(left, now())
        at.app.bench.refresh_view()
        await at.press("E")
        assert at.view.headline == "Coat 2 of 2 complete"
        labels = [option.label for option in answers(at.view)]
        assert labels[-1] == "do now: Cut the cartridge"
        assert labels[-1] in at.text
        await at.press(str(len(labels)))
        assert at.view.headline == "Cut the cartridge"
        await at.press("EE")
        assert at.view.frame.section == "Clamp"


# Shape and place


async def test_the_five_marks_of_steps_differ_without_colour(begun, now):
    async with opened(now, begun("Scrape the joint"), (120, 35)) as at:
        await at.press("0")
        text = at.text
        for mark in ("✓ Take the clamps off", "◌ Scrape the joint  (for later)"):
            assert mark in text
    from shopmate.tui.lines import plain
    from shopmate.tui.widgets.step_panel import MARKS

    assert set(MARKS) == {"not started", "started", "done", "not applicable", "for later"}
    assert len(set(MARKS.values())) == len({plain(mark) for mark in MARKS.values()}) == 5


@pytest.mark.parametrize("size", SIZES, ids=lambda size: "x".join(map(str, size)))
async def test_step_and_turn_stand_always_at_the_same_place(begun, now, size):
    async with opened(now, begun("Roll out the coat"), size) as at:
        assert at.text.splitlines()[0].startswith("step 2 of 5 · coat 1 of 2 · ")
        await at.press("E")
        assert at.text.splitlines()[0].startswith("step 3 of 5 · coat 1 of 2 · ")


async def test_the_condition_of_a_step_and_its_kind_stand_over_it(begun, now):
    async with opened(now, begun("Leave it flat")) as at:
        (row,) = [line for line in at.text.splitlines() if line.endswith(": do")]
        assert row.strip() == "While 'Next coat before' runs: do"
        await at.to("Wait for the clamps")
        assert " wait" in at.text.splitlines()
