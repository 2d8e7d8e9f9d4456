"""The bench, worked with a keypad alone: what is on the screen at each size, what each key does, nothing typed lost."""

import re
import shutil
from datetime import timedelta
from itertools import pairwise
from typing import get_args

import pytest
from conftest import every_step, materials
from small_recipe import small_recipe
from tui_bench import SIZES, opened

from shopmate import clock as clocks_
from shopmate import recipe as recipes
from shopmate import session as sessions
from shopmate.clock import State
from shopmate.dialogue.step import reasons
from shopmate.project.place import Place
from shopmate.session import CautionView, EndView, FinishedView, Session, View
from shopmate.session.demo import follow
from shopmate.tui.keys import label
from shopmate.tui.screens.bench import BenchScreen
from shopmate.tui.screens.clocks import ClocksScreen
from shopmate.tui.screens.form import FormScreen
from shopmate.tui.widgets.alarm_line import AlarmLine
from shopmate.tui.widgets.clock_band import ClockBand
from shopmate.tui.widgets.entry import Entry
from shopmate.tui.widgets.key_line import KeyLine
from shopmate.tui.widgets.numbered import Numbered
from shopmate.tui.widgets.step_panel import StepPanel


@pytest.fixture
def path(begun):
    return begun()


def nothing_cut(at):
    """Check that all that must be seen lies whole inside the screen, no part over another."""
    screen = at.app.screen
    width, height = at.size
    rows = [widget for widget in (*screen.query_one(StepPanel).parent.children, *screen.children) if widget.display]
    rows.remove(screen.query_one(StepPanel).parent.parent)  # in which those beside and under the step lie
    for upper, lower in pairwise(sorted(rows, key=lambda widget: widget.region.y)):
        assert upper.region.bottom <= lower.region.y, (upper, lower)
    for kind in (StepPanel, Numbered, Entry, ClockBand, AlarmLine, KeyLine):
        widget = screen.query_one(kind)
        if not widget.display:
            continue
        region = widget.region
        assert region.bottom <= height, f"{widget} ends under the screen\n{at.text}"
        assert region.right <= width
        assert region.height >= widget.get_content_height(region.size, screen.size, region.width), f"{widget}\n{at.text}"
    lines = at.text.splitlines()
    if at.view.frame.section:
        assert lines[0].startswith(at.view.frame.where.partition(" · ")[0])
        # On a small screen the headline stands there while a value is typed that is shown large.
        assert at.view.frame.section[:9] in lines[0] or at.view.headline in lines[0]
    words = at.view.headline if not isinstance(at.view, CautionView) else at.view.signal
    small = [line for line in lines if words in line]
    assert small or any(line.count("▀") + line.count("█") > 4 for line in lines[1:]), f"no headline\n{at.text}"
    for clock in at.session.clocks:
        if clock == clocks_.governing(at.session.clocks, at.now()):
            # Where one row is left to all clocks, its name takes turns with how many there are; the alarm names it too.
            told = [f"{line}\n{below}" for line, below in zip(lines, [*lines[1:], ""], strict=True)]  # two rows beside the step
            assert any((clock.title[:8] in two or "more: +" in two) and clock.kind in two for two in told), at.text


async def states(at):
    """Yield every view of a run: two of several questions answered by themselves, a NO GO, a step left for later."""
    rows, cold, later = iter(["1", "1", "3", "1E"]), iter(["12EE"]), iter(["0"])
    while not isinstance(at.view, FinishedView):
        yield at.view
        if (keys := next(rows, "")) or (at.view.headline == "Read the air" and (keys := next(cold, ""))):
            await at.press(keys)
        elif at.view.headline == "Scrape the joint" and next(later, ""):
            await at.press("0")
        elif isinstance(at.view, EndView) and at.view.frame.for_later:
            await at.press("1")
        else:
            await at.step()


@pytest.mark.parametrize("size", SIZES, ids=lambda size: "x".join(map(str, size)))
async def test_all_that_matters_is_on_the_screen_in_every_state_of_a_run(path, now, size):
    kinds = set()
    async with opened(now, path, size) as at:
        async for view in states(at):
            kinds.add(type(view))
            nothing_cut(at)
            assert at.shown == [(offer.key, offer.word) for offer in at.app.screen.offers() if offer.word]
            assert all(label(key) in at.text for key, _ in at.shown)
        nothing_cut(at)
    assert kinds == {*get_args(View)} - {FinishedView}


@pytest.mark.parametrize("size", SIZES, ids=lambda size: "x".join(map(str, size)))
async def test_all_of_it_with_alarms_and_a_no_go(begun, now, size):
    async with opened(now, begun("Read the air"), size) as at:
        at.session.start_clock("Kettle", "DO BEFORE", timedelta(minutes=5), now())
        at.session.start_clock("Heater", "NOT BEFORE", timedelta(minutes=60), now())
        await at.tick(minutes=6)
        nothing_cut(at)
        assert "Kettle" in at.text
        await at.press("12")
        nothing_cut(at)
        await at.press("EE")
        assert at.view.go is False
        nothing_cut(at)
        assert "NO GO" in at.text
        assert "too low: 12 °C" in at.text
        assert "Warm the shop first." in at.text
        closed = at.view
        await at.press("0")
        assert "Why override 'Pass the air'" in at.text
        assert all(reason[:25] in at.text for reason in reasons(closed)), at.text
        assert "Kettle" in at.text


async def test_each_key_of_the_key_line_does_something_in_every_state(path, now, tmp_path):
    """What a key did is judged by the screen and the log; then the project goes on from a copy made before."""
    tried = set()
    async with opened(now, path) as at:
        async for view in states(at):
            for key, word in at.shown:
                if (type(view), key, word) in tried:
                    continue
                tried.add((type(view), key, word))
                await does_something(at, key, tmp_path / f"{len(tried)}.shopmate")
    assert len(tried) > 40


async def does_something(at, key, copy):
    at.app.bench.go_on()  # what a pause says in passing is gone with any key
    await at.pilot.pause()
    shutil.copy(at.session.log.path, copy)
    before, count, asked = at.text, len(at.session.log.events()), at.app.bench.asked
    await at.press({"enter": "E", "minus": "-", "plus": "+", "slash": "/", "asterisk": "*", "full_stop": "."}.get(key, key))
    assert "does nothing now" not in at.said
    assert at.text != before or len(at.session.log.events()) != count, f"{key} at {type(at.view)}\n{before}"
    while at.app.screen is not at.app.bench:
        at.app.screen.dismiss(None)
        await at.pilot.pause()
    at.app.desk.open(copy)
    at.app.bench.asked = asked
    at.app.bench.go_on()
    await at.pilot.pause()
    assert at.text.splitlines()[:6] == before.splitlines()[:6]


async def test_a_key_without_a_use_says_so_and_does_nothing(begun, now):
    async with opened(now, begun("Stir two full minutes")) as at:
        count = len(at.session.log.events())
        await at.press("5")
        assert at.said == "5: does nothing now"
        for letter in ("E", "l", "x", "q"):  # what broken keypad sequences arrive as
            await at.hands.post(letter, letter)
        assert len(at.session.log.events()) == count


# Choosing, typing, taking back


async def test_choosing_by_number(path, now):
    async with opened(now, path) as at:
        await at.press("12")
        assert at.session.run.values["glue"].text == "cartridge"
        await at.press("9")
        assert at.said.endswith("9: does nothing now")
        assert at.asked[0] == "Choose the resin"
        await at.press("29")
        assert at.view.headline == "Choose the resin"
        await at.press("2")
        assert at.session.run.values["resin"].text == "epoxy-2to1-medium"


async def test_a_temperature_below_zero(begun, now):
    async with opened(now, begun("Read the air")) as at:
        await at.press("-5.5")
        assert at.entry.text == "-5.5"
        await at.press("E")
        assert "is that right?" in at.entry.note
        assert at.view.headline == "Read the air"
        await at.press("E")
        assert at.session.run.values["air"].quantity.value_in("°C") == -5.5
        assert at.view.go is False


async def test_the_minus_key_twice_takes_back_where_a_number_may_be_below_zero(begun, now):
    async with opened(now, begun("Read the air")) as at:
        await at.press("-")
        assert ("minus", "back") in at.shown
        await at.press("-E")
        assert at.view.headline == "Give the length"
        assert at.said == "UNDONE Give the length"


async def test_an_odd_value_is_asked_about_once_and_another_is_asked_about_anew(begun, now):
    async with opened(now, begun("Give the length")) as at:
        await at.press("2500E")
        assert "above the usual" in at.entry.note
        assert at.entry.text == "2500"
        await at.press("0E")
        assert "above the maximum" in at.entry.note
        assert at.entry.text == "25000"
        await at.press("+E")
        assert "above the usual" in at.entry.note
        await at.press("E")
        assert at.session.run.values["length"].text == "2500 mm"


async def test_taking_back_with_the_minus_key(begun, now):
    async with opened(now, begun("Spread the pot")) as at:
        await at.press("-E")
        assert (at.said, at.view.headline) == ("UNDONE Stir two full minutes", "Stir two full minutes")
        await at.press("-E")
        assert at.view.headline == "Start the pot life"
        assert at.session.clocks == []
        assert "08:40" not in at.text
        await at.press("-E-E")
        assert (at.said, at.view.headline) == ("UNDONE Weigh the resin", "Weigh the resin")
        await at.press("-E")
        assert isinstance(at.view, CautionView)


async def test_taking_back_comes_to_an_end(begun, now):
    async with opened(now, begun("Choose the resin")) as at:
        await at.press("-E")
        assert at.asked[0] == "Choose the glue"
        await at.press("-")
        assert at.said == "nothing to undo"


async def test_a_hold_point_is_passed_with_a_reason_and_another_key(begun, now):
    async with opened(now, begun("Read the air")) as at:
        await at.press("12EE")
        assert ("enter", "continue") not in at.shown
        await at.press("E")
        assert at.view.headline == "Pass the air"
        await at.press("0")
        assert "Why override" in at.text
        await at.press("/")
        assert "Why override" not in at.text
        await at.press("1")
        assert (at.view.headline, at.entry.text) == ("Read the air", "")
        await at.press("12EE03")
        assert "Reason: The data sheet allows it." in at.text
        assert at.shown == [("enter", "override it"), ("minus", "stay on hold")]
        await at.press("3")
        assert "Reason" in at.text
        await at.press("E")
        assert at.asked[0] == "Read the humidity"
        assert at.session.log.events()[-1].data["reason"] == "The data sheet allows it"


# Alarms and looking things up meanwhile


async def test_an_alarm_during_typing_keeps_the_text_and_is_acknowledged_there(begun, now):
    async with opened(now, begun("Give the length")) as at:
        at.session.start_clock("Kettle", "DO BEFORE", timedelta(minutes=5), now())
        await at.press("1-1/")
        await at.tick(minutes=6)
        assert "Kettle" in at.text
        assert ("asterisk", "seen") in at.shown
        assert at.entry.text == "1-1/"
        await at.press("*")
        assert at.entry.text == "1-1/"
        assert at.said == "SEEN Kettle"
        assert clocks_.state(at.session.clocks[0], now()) is State.DUE_ACKNOWLEDGED
        assert "Kettle" in at.text
        await at.press("*")
        assert (at.said, at.entry.text) == ("nothing to acknowledge", "1-1/")
        await at.press("2")
        assert at.entry.text == "1-1/2"


STEPS = [
    "Choose the glue", "Give the length", "Read the surface", "Judge the film", "WARNING", "Work out the pot",
    "Start the pot life", "Stir two full minutes", "Roll out the coat", "Wait for the clamps", "Recipe complete",
]  # fmt: skip


@pytest.mark.parametrize("headline", STEPS)
async def test_a_calculator_is_three_keys_away_from_every_step_and_the_step_one_key_away(begun, now, headline):
    async with opened(now, begun(headline)) as at:
        await at.tick()  # the time still to do stands there from the first look at the clock on
        before, place = at.text.splitlines()[:20], at.view.place
        await at.press("/03")
        assert isinstance(at.app.screen, FormScreen)
        await at.press("/")
        assert isinstance(at.app.screen, BenchScreen)
        assert (at.view.place, at.text.splitlines()[:20]) == (place, before)


async def test_looking_up_with_a_half_typed_text_keeps_it(begun, now):
    async with opened(now, begun("Give the length")) as at:
        await at.press("12")
        await at.hands.post("escape", None)
        await at.press("03/")
        assert (at.app.screen is at.app.bench, at.entry.text) == (True, "12")
        await at.press("00E")
        assert at.session.run.values["length"].text == "1200 mm"


async def test_what_was_typed_for_one_run_is_not_offered_to_another(small, begun, now):
    first = small.run.key
    small.begin(small.add_part("Panel 2", now()), every_step(), now())
    now.at = follow(small, now(), {}, until=lambda view: view.headline == "Read the air")
    small.choose(first, now())
    async with opened(now, begun("Read the air")) as at:
        await at.press("33")
        other = next(key for key in at.session.project.runs if key != first)
        at.session.choose(other, now())
        at.app.bench.refresh_view()
        assert at.entry.text == ""


async def test_time_alone_opens_a_wait_and_shows_what_is_late(begun, now):
    async with opened(now, begun("Spread the pot")) as at:
        await at.tick(minutes=41)
        assert "LATE" in at.text
        assert "Set the pot outside." in at.text
        await at.press("*")
        await at.to("Wait for the clamps")
        assert "NO GO" in at.text
        await at.tick(hours=25)
        assert ("enter", "continue") in at.shown
        assert "NO GO" not in at.text
        assert at.view.headline == "Wait for the clamps"


async def test_in_inches(small, begun, now):
    small.set("system", "inch", now())
    async with opened(now, begun("Give the length")) as at:
        await at.press("12-1/2E")
        assert at.session.run.values["length"].quantity.value_in("mm") == pytest.approx(317.5)
        assert "12 1/2 in" in at.text


async def test_a_fraction_of_a_rule_is_no_millimetre(begun, now):
    """In a metric project both readings are named, and Enter takes neither."""
    async with opened(now, begun("Give the length")) as at:
        await at.press("12-1/2")
        unit = at.app.bench.query_one(Entry).unit
        said = " ".join(at.text.split())
        assert "'12-1/2' could be 12-1/2 in or 12.5 " + unit in said
        await at.press("E")
        assert at.view.headline == "Give the length"
        assert at.app.bench.query_one(Entry).text == "12-1/2"


# The cautions of a working


def cautions_said(at):
    """The text of the step without blanks and line ends, since lines end within words too."""
    return squeezed(at.step_text)


def squeezed(text):
    return "".join(text.split())


POT = small_recipe(
    "pot",
    """
asks:
- {ask: Say the mass, into: mass, unit: g, default: 1500 g}
sections:
- section: Pot
  mode: read-do
  steps:
  - work out: Work out the pot life
    calculator: potlife
    with: {sheet_time: 20 min, sheet_mass: 100 g, sheet_temperature: 25 °C, mass: "{mass}", temperature: 34 °C, room: 12 °C}
    into: life
    show: [empty_by, use_by]
  - {do: Look at it}
""",
)


@pytest.fixture
def large_pot(home, now):
    """A project whose step in hand works out the life of a pot that there is much to warn of."""
    session = Session.create(sessions.project_path("Pot"), "Pot", now(), materials())
    session.begin(session.add_part("Bar 1", now()), recipes.read(POT, "pot.yaml", "pot"), now())
    session.answer("1500 g", now(), sure=True)
    session.start_clock("Kettle", "DO BEFORE", timedelta(minutes=10), now())
    session.close()
    return session.log.path


@pytest.mark.parametrize("size", SIZES, ids=lambda size: "x".join(map(str, size)))
async def test_no_caution_of_a_working_goes_without_a_word(large_pot, now, size):
    async with opened(now, large_pot, size) as at:
        nothing_cut(at)
        cautions, said = at.view.result.warnings, cautions_said(at)
        assert len(cautions) > 2
        assert squeezed(cautions[0][:30]) in said, at.text
        whole = [caution for caution in cautions if squeezed(caution) in said]
        more = re.search(r"\+(\d+)morecautions?:\.showsall", said)
        assert bool(more) == (len(whole) < len(cautions)), at.text
        if more:
            assert int(more[1]) == len(cautions) - max(1, len(whole)), at.text
        assert ("full_stop", "cautions") in at.shown
        await at.press(".")
        read = []
        for _ in at.app.screen.pages():
            region = at.app.screen.query_one(".page").region
            read += at.text.splitlines()[region.y : region.bottom]
            await at.press(".")
        everything = squeezed("".join(read))
        for number, caution in enumerate(cautions, 1):
            assert squeezed(f"{number}. {caution}") in everything
        await at.press("/")
        assert at.app.screen is at.app.bench


async def test_an_alarm_that_may_be_put_off_has_the_key_first_and_the_count_does_not_promise_it(large_pot, now):
    async with opened(now, large_pot, (60, 18)) as at:
        assert "more cautions: . shows all" in at.text
        await at.tick(minutes=8, seconds=5)
        assert ("full_stop", "later") in at.shown
        assert "more cautions" in at.text
        assert "shows all" not in at.text
        await at.press("*E")
        assert ("full_stop", "cautions") in at.shown
        assert "more cautions: . shows all" in at.text


async def test_a_verdict_that_says_no_more_is_said_once(begun, now):
    async with opened(now, begun("Pass the dew point")) as at:
        assert at.view.verdict == "go"
        assert "GO" in [line.strip() for line in at.text.splitlines()]


async def test_while_a_value_is_asked_plus_is_the_clocks_and_a_point_the_next_unit(begun, now):
    async with opened(now, begun("Give the length")) as at:
        assert [key for key in at.shown if key[0] in ("full_stop", "plus")] == [("full_stop", "unit"), ("plus", "clocks")]
        await at.press(".")
        assert (at.entry.text, at.entry.unit) == ("", "cm")
        await at.press("+")
        assert isinstance(at.app.screen, ClocksScreen)
        await at.press("+12")
        assert (at.entry.text, at.entry.unit) == ("12", "cm")


async def test_a_slash_in_a_number_without_fractions_looks_up_and_keeps_it(begun, now):
    async with opened(now, begun("Read the air")) as at:
        await at.press("2 1")
        assert ("slash", "look up") in at.shown
        await at.press("/")
        assert not isinstance(at.app.screen, BenchScreen)
        await at.press("/")
        assert (at.entry.text, at.view.headline) == ("21", "Read the air")


@pytest.mark.parametrize("headline", ["Give the length", "Stir two full minutes"])
async def test_a_point_at_a_due_alarm_changes_neither_unit_nor_theme(begun, now, headline):
    path = begun(headline)
    async with opened(now, path) as at:
        at.session.start_own("10 min", now())
        await at.tick(minutes=10)
        assert at.app.alarm_waits
        before = at.session.project.theme, at.app.bench.query_one(Entry).unit
        await at.press(".")
        assert (at.session.project.theme, at.app.bench.query_one(Entry).unit) == before


async def test_taking_back_names_what_it_will_and_takes_it_only_when_that_is_meant(begun, now):
    async with opened(now, begun("Give the length")) as at:
        events = len(at.session.log.events())
        await at.press("-")
        assert "Undo: Count the coats: 2?" in at.text
        await at.press("-")
        assert (at.view.headline, len(at.session.log.events())) == ("Give the length", events)
        await at.press("-E")
        assert at.view.place == Place(0, 1, 2)
        assert [(row.value, row.note) for row in at.view.frame.rows] == [("", "was 2"), ("1.2 m", "")]


async def test_taking_back_never_goes_past_the_start_of_the_run_nor_takes_an_own_clock(small, begun, now):
    small.log_temperature("20 °C", now())
    small.begin(small.add_part("Panel 2", now.on(seconds=1)), every_step(), now())
    small.start_own("10 min", now())
    async with opened(now, begun("Choose the resin")) as at:
        await at.press("-E")
        assert at.view.place == Place(0, 1, 0)
        await at.press("-")
        assert at.said == "nothing to undo"
        assert len(at.session.clocks) == 1
        assert at.session.project.readings
