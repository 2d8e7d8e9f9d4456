"""The screen of all clocks: ending one takes two different keys, an own one is started by its length, none moves."""

from datetime import timedelta
from pathlib import Path

import pytest
from tui_bench import SIZES, opened

from shopmate import recipe as recipes
from shopmate import session as sessions
from shopmate import times
from shopmate.project.events.clocks import ClockStarted, Limit
from shopmate.session import Session
from shopmate.session.demo import demo_project, follow
from shopmate.tui.screens.clocks import ClocksScreen
from shopmate.tui.widgets import block, clock_band


@pytest.fixture
def clocks(small, now):
    """Return the file of a project with so many own clocks, of 5 min, 10 min and so on."""

    def make(count):
        for number in range(1, count + 1):
            small.start_clock(f"Kettle {number}", "DO BEFORE", timedelta(minutes=5 * number), now())
        small.close()
        return small.log.path

    return make


async def test_each_clock_says_its_kind_its_time_and_what_to_do(clocks, now):
    async with opened(now, clocks(2)) as at:
        await at.press("+")
        assert isinstance(at.app.screen, ClocksScreen)
        lines = at.text.splitlines()
        (row,) = [index for index, line in enumerate(lines) if "Kettle 1" in line]
        assert "5:00" in lines[row]
        assert "DO BEFORE" in lines[row]
        assert "running" in lines[row]
        assert "Check the job. If late: It is overdue." in lines[row + 1]
        await at.tick(minutes=3)
        assert "2:00" in at.text
        assert "soon" in at.text
        await at.tick(minutes=3)
        assert "+1:00" in at.text
        assert "DUE" in at.text
        await at.press("+")
        assert at.app.screen is at.app.bench


async def test_ending_a_clock_takes_another_key_than_the_one_that_chose_it(clocks, now):
    async with opened(now, clocks(3)) as at:
        await at.press("+2")
        assert "End Kettle 2 (10:00 left)?" in at.text
        assert at.shown == [("enter", "end Kettle 2"), ("minus", "keep it")]
        await at.press("2")
        assert len(at.session.clocks) == 3
        await at.press("-")
        assert "End Kettle" not in at.text
        assert len(at.session.clocks) == 3
        await at.press("2E")
        assert [clock.title for clock in at.session.clocks] == ["Kettle 1", "Kettle 3"]
        assert at.said == "ENDED Kettle 2"
        await at.press("2")  # the number of the one that is ended; the others keep theirs
        assert len(at.session.clocks) == 2
        assert "End Kettle" not in at.text
        await at.press("3")
        assert "End Kettle 3 (15:00 left)?" in at.text
        await at.press("-")
        await at.press("+-")
        assert "Undo: Kettle 2 ended?" in at.text
        await at.press("E")
        assert at.said == "UNDONE Kettle 2"
        assert len(at.session.clocks) == 3


async def test_a_clock_of_ones_own(clocks, now):
    async with opened(now, clocks(0)) as at:
        await at.press("+")
        assert "No clock is running." in at.text
        assert ("1", "end one") not in at.shown
        await at.press("0E")
        assert at.said == "Enter: does nothing now"
        assert not at.session.clocks
        await at.press("0E")
        assert "above" in at.text
        await at.press("+")
        assert at.entry.text == ""
        assert ("full_stop", "unit") in at.shown
        await at.press(".1.5E")
        (clock,) = at.session.clocks
        assert (clock.kind, clock.length) == ("DO BEFORE", timedelta(minutes=90))
        assert "1h30" in at.text or "90:00" in at.text
        await at.press("012E")
        assert [clock.title for clock in at.session.clocks] == ["Timer 1", "Timer 2"]
        await at.press("0/")
        assert len(at.session.clocks) == 2
        await at.press("+-")
        assert at.said == "nothing to undo"  # a clock is ended by its number
        assert len(at.session.clocks) == 2


async def test_a_text_half_typed_stays_when_an_alarm_comes(clocks, now):
    async with opened(now, clocks(1)) as at:
        await at.press("+0 1")
        await at.tick(minutes=6)
        assert "Kettle 1" in at.text
        assert at.entry.text == "1"
        await at.press("*5E")
        assert at.session.clocks[-1].length == timedelta(minutes=15)
        assert not at.app.alarm_waits


@pytest.mark.parametrize("size", SIZES, ids=lambda size: "x".join(map(str, size)))
async def test_six_clocks_and_an_alarm_are_on_the_screen_at_once(clocks, now, size):
    async with opened(now, clocks(6), size) as at:
        await at.press("+")
        await at.tick(minutes=6)
        for number in range(1, 7):
            assert f"Kettle {number}" in at.text
        assert "NOW · Kettle 1" in at.text
        assert "your timer" in at.text
        await at.press("6")
        assert "End Kettle 6" in at.text
        assert "keep it" in at.text


async def test_a_clock_keeps_its_place_when_another_ends_or_begins(clocks, now):
    async with opened(now, clocks(3)) as at:
        await at.press("+")
        await at.tick(minutes=6)
        rows = [line.split()[2:4] for line in at.text.splitlines() if "DO BEFORE" in line and "NOW" not in line]
        assert rows == [["Kettle", "1"], ["Kettle", "2"], ["Kettle", "3"]]


@pytest.mark.parametrize("size", SIZES, ids=lambda size: "x".join(map(str, size)))
async def test_number_time_left_kind_and_limit_of_each_of_many_clocks_are_read_page_by_page(small, now, size):
    for number in range(1, 13):
        small.start_clock(f"Structural bond {number}", "DO BEFORE", timedelta(hours=7 * number), now())
    small.close()
    async with opened(now, small.log.path, size) as at:
        await at.press("+")
        read, left = {}, 12
        while isinstance(at.app.screen, ClocksScreen):
            rows = [line for line in at.text.splitlines() if "DO BEFORE" in line]
            left -= len(rows)
            (word,) = [word for key, word in at.shown if key == "plus"]
            assert word == (f"{left} more" if left else "back")
            assert ("page" in at.text.splitlines()[0]) == (len(rows) < 12)
            for row, clock in zip(rows, at.session.clocks[len(read) :], strict=False):
                assert times.face(clock, now()) in row
                due = clock.due_at.astimezone()
                assert f"{due:%H:%M}" in row
                assert due.date() == now().astimezone().date() or f"{due:%a}" in row or f"{due:%d %b}" in row
                assert "Str" in row
                read[row.split()[0]] = clock.key
            await at.press("+")
        assert at.app.screen is at.app.bench
    assert list(read) == [f"{number:02d}" for number in range(1, 13)]


@pytest.mark.parametrize("count", [4, 6])
async def test_what_matters_of_a_clock_is_not_cut_at_forty_columns(small, now, count):
    for number in range(count):
        small.start_clock(f"Structural bond {number}", "NOT BEFORE", timedelta(hours=11 * number + 1), now())
    small.close()
    async with opened(now, small.log.path, (40, 12)) as at:
        await at.press("+")
        lines = at.text.splitlines()
        for clock in at.session.clocks:
            limit = f"NOT BEFORE {clock.due_at.astimezone():%a %H:%M}".replace(f"{now().astimezone():%a} ", "")
            (row,) = [line for line in lines if f"{times.face(clock, now())} {limit}" in line]
            # With two rows a clock the second has the name whole, else what room there is.
            named = lines[lines.index(row) + 1] if count == 4 else row
            assert (clock.title if count == 4 else clock.title[:4]) in named


async def test_clocks_from_the_tenth_on_are_ended_by_two_digits(clocks, now):
    async with opened(now, clocks(11), (40, 12)) as at:
        await at.tick(minutes=1)
        await at.press("+1")
        assert ("plus", "erase 1") in at.shown
        await at.press("1")
        assert "End Kettle 11" in at.text
        await at.press("E")
        assert at.said == "ENDED Kettle 11"
        await at.press("2")
        assert "2: does nothing now" in at.said
        await at.press("1+12")
        assert "End Kettle" not in at.text
        await at.press("02E")
        assert at.said == "ENDED Kettle 2"
        assert [clock.title for clock in at.session.clocks] == [f"Kettle {number}" for number in (1, *range(3, 11))]
        await at.press("00 45E")
        assert at.session.clocks[-1].length == timedelta(minutes=45)
        await at.press("10E")
        assert at.said == "ENDED Kettle 10"
        await at.press("3E")
        assert at.said == "ENDED Kettle 3"


async def test_the_length_of_an_own_clock_is_typed_large_on_the_smallest_screen(clocks, now):
    async with opened(now, clocks(12), (40, 12)) as at:
        await at.press("+0045")
        rows = [row.rstrip() for row in block.rows("45")]
        assert all(any(row in line for line in at.text.splitlines()) for row in rows)
        assert "min" in at.text


POT = Path(__file__).parents[1] / "recipes" / "good" / "pot-and-window.yaml"


@pytest.fixture
def coated(home, now):
    """Return the file of a project with a pot in hand or, past it, a recoat window running."""

    def make(headline):
        session = Session.create(sessions.project_path("Coat"), "Coat", now(), sessions.shelf())
        session.begin(session.add_part("Panel 1", now()), recipes.load(POT), now())
        session.answer("epoxy-2to1-slow", now())
        session.answer("25.0 °C", now())
        follow(session, now(), {}, until=lambda view: view.headline == headline, pace=timedelta())
        session.close()
        return session.log.path

    return make


@pytest.mark.parametrize("size", [(80, 24), (120, 35), (40, 12)], ids=lambda size: "x".join(map(str, size)))
async def test_the_shop_s_temperature_lies_over_the_window_or_is_said(coated, now, size):
    async with opened(now, coated("Coat it"), size) as at:
        await at.press("+")
        assert ("full_stop", "curve") in at.shown
        await at.tick(hours=1)
        at.session.log_temperature("16 °C", now())
        await at.press(".")
        opens, closes = (clock.due_at.astimezone() for clock in at.session.clocks)
        said = " ".join(at.text.split())
        assert "Shop temperature" in at.text
        assert f"Recoat opens: NOT BEFORE {opens:%H:%M}" in said
        assert "Recoat closes: DO BEFORE" in said
        assert f"{closes:%H:%M}" in said
        assert "assumed until the next reading" in said
        assert ("░░░" in at.text) == (size[1] > 12)
        assert ("slash", "list") in at.shown
        assert ("full_stop", "pot") not in at.shown
        await at.press("/")
        assert "Shop temperature" not in at.text
        assert isinstance(at.app.screen, ClocksScreen)
        await at.press(".+")
        assert at.app.screen is at.app.bench


@pytest.mark.parametrize("size", [(80, 24), (120, 35), (40, 12)], ids=lambda size: "x".join(map(str, size)))
async def test_the_pot_in_hand_is_the_second_curve(coated, now, size):
    async with opened(now, coated("Spread it"), size) as at:
        (pot,) = at.session.clocks
        await at.press("+.")
        assert "No running clock depends on shop temp" in " ".join(at.text.split())
        assert ("full_stop", "pot") in at.shown
        await at.press(".")
        assert f"Pot life: DO BEFORE {pot.due_at.astimezone():%H:%M}" in " ".join(at.text.split())
        assert ("now" in at.text) == (size[1] > 12)
        assert ("full_stop", "shop") in at.shown
        await at.press(".")
        assert "No running clock depends on shop temp" in " ".join(at.text.split())
        await at.press(".")
        await at.tick(hours=5)
        assert "It has gelled." in " ".join(at.text.split())
        await at.press("/1E")
        assert at.session.clocks == []
        assert ("full_stop", "curve") not in at.shown


@pytest.mark.parametrize("hour", [8, 14])
async def test_what_moved_a_limit_and_why_is_said_on_the_bench_of_the_demo_at_80_columns(home, now, hour):
    now.at = now.at.replace(hour=hour)
    async with opened(now, demo_project(now())) as at:
        await at.press("/")  # past what can be tried
        (clamps,) = [clock for clock in at.session.clocks if clock.moved_from is not None]
        (row,) = [line for line in at.text.splitlines() if clamps.title in line]
        assert "was " in row
        assert f"{clamps.moved_from.astimezone():%H:%M}: {clamps.moved_by}" in row.replace("shop at ", "")


def test_what_moved_a_limit_and_why_stands_beside_the_digits_where_the_screen_is_small(small, now):
    start = {
        "name": "opens", "title": "Recoat opens", "kind": "NOT BEFORE", "seconds": 7200.0, "sheet_celsius": 25.0,
        "action": "Coat", "if_late": "No harm.", "time_to_act_s": 3600.0, "consequence": "None",
    }  # fmt: skip
    small.log_temperature("25 °C", now())
    small._record(ClockStarted(Limit(**start), "Recoat opens"), now())
    was = small.clocks[0].due_at
    small.log_temperature("18 °C", now.on(minutes=10))
    (clock,) = small.clocks
    shown = [row.plain for row in clock_band.rows([clock], {clock.key: 0}, now(), 40, 12, waited=clock.key)]
    assert any(row.endswith(f"was {was.astimezone():%H:%M}") for row in shown)
    assert any(row.endswith(" 18 °C") for row in shown)
    said = [clock_band.rows([clock], {clock.key: 0}, now.on(seconds=1), 40, 12, brief=True) for _ in range(12)]
    told = {row.plain for (row,) in said}
    limit = f"NOT BEFORE {clock.due_at.astimezone():%H:%M}"
    assert all(row.endswith(limit) and times.face(clock, now())[:2] in row for row in told)
    for words in ("Recoat opens", f"was {was.astimezone():%H:%M}", "18 °C"):
        assert any(words in row for row in told), told
    (wide,) = clock_band.rows([clock], {clock.key: 0}, now(), 60, 18, brief=True)
    assert f"{limit} · was {was.astimezone():%H:%M}: 18 °C" in wide.plain


async def test_a_clock_of_a_run_names_its_part_in_the_list_and_as_an_alarm(begun, now):
    async with opened(now, begun("Stir two full minutes"), size=(120, 35)) as at:
        (clock,) = at.session.clocks
        assert (clock.title, clock.part) == ("Pot life", "Panel 1")
        await at.press("+")
        assert "Pot life · Panel 1" in at.text
        await at.press("1")
        assert "End Pot life · Panel 1 (" in at.text
        await at.press("-+")
        await at.tick(hours=2)
        assert "Pot life · Panel 1 +" in at.text
        at.session.start_own("10 min", now())
        assert times.line(at.session.clocks[-1], now()).startswith("Timer 1: DO BEFORE")


async def test_the_words_of_a_pot_are_in_the_units_of_the_project(coated, now):
    async with opened(now, coated("Spread it"), (80, 24)) as at:
        await at.press("+..")
        assert "°C" in at.text
        at.session.set("system", "inch", now())
        await at.press("..")  # round once: the curve is drawn anew
        assert "°F" in at.text
        assert "°C" not in at.text


async def test_the_time_to_go_comes_with_the_first_look_after_the_first_paint(home, now):
    session = Session.create(sessions.project_path("Coat"), "Coat", now(), sessions.shelf())
    session.begin(session.add_part("Panel 1", now()), recipes.load(POT), now())
    told = session.view(now()).frame.ahead
    session.close()
    async with opened(now, session.log.path, (120, 35)) as at:
        await at.press("/")
        assert "still to go" not in at.text
        await at.tick(seconds=1)
        assert told.partition(",")[0] in at.text


async def test_a_clock_is_named_from_a_list_by_keypad_or_in_letters(small, now):
    small.close()
    async with opened(now, small.log.path, (80, 24)) as at:
        await at.press("+-620E")
        assert [clock.title for clock in at.session.clocks] == ["Heater"]
        await at.press("-9")
        await at.press("TeaE")
        await at.press("5E")
        assert [clock.title for clock in at.session.clocks] == ["Heater", "Tea"]


@pytest.mark.parametrize(("length", "large"), [(timedelta(hours=3), True), (timedelta(hours=3, seconds=1), False)])
async def test_a_clock_has_large_digits_within_three_hours_or_while_it_is_waited_for(clocks, now, length, large):
    session = Session.open(clocks(0), now(), {})
    session.start_clock("Cure", "NOT BEFORE", length, now())
    ruling, slots = tuple(session.clocks), session.slots
    session.close()
    assert (len(clock_band.rows(ruling, slots, now(), 80, 24)) > 1) == large
    assert len(clock_band.rows(ruling, slots, now(), 80, 24, waited=ruling[0].key)) > 1


async def test_of_clocks_far_off_the_one_that_is_waited_for_has_the_digits_and_the_others_a_row_each(clocks, now):
    session = Session.open(clocks(0), now(), {})
    for title, hours in (("Sealant", 100), ("Cure", 216), ("Paint", 150)):
        session.start_clock(title, "NOT BEFORE", timedelta(hours=hours), now())
    running, slots = tuple(session.clocks), session.slots
    session.close()
    rows = [row.plain for row in clock_band.rows(running, slots, now(), 100, 24)]
    assert [title for row in rows for title in ("Sealant", "Cure", "Paint") if title in row] == ["Sealant", "Cure", "Paint"]
    assert len(rows) == len(running)
    assert clock_band.leading(running, running[1].key, now()) == running[1]
    assert clock_band.leading(running, "", now()) == running[0]
    assert "Cure" in clock_band.rows(running, slots, now(), 100, 24, waited=running[1].key)[0].plain


async def test_a_limit_far_off_gives_the_digits_to_a_timer_that_is_near_and_never_loses_its_row(clocks, now):
    session = Session.open(clocks(0), now(), {})
    for number in range(1, 9):
        session.start_clock(f"Timer {number}", "NOT BEFORE", timedelta(minutes=90 + number), now())
    session.start_clock("Next coat", "DO BEFORE", timedelta(hours=5), now())
    running, slots = tuple(session.clocks), session.slots
    session.close()
    assert clock_band.leading(running, "", now()).title == "Timer 1"
    assert clock_band.leading(running, "", now.on(hours=2, seconds=1)).title == "Next coat"
    rows = [row.plain for row in clock_band.rows(running, slots, now(), 100, 24)]
    assert any("Next coat" in row for row in rows)
