"""What the eyes need: sizes at two metres, all that matters on every screen, contrast, shapes, one switch of the theme."""

from dataclasses import replace
from datetime import timedelta
from itertools import pairwise
from typing import get_args

import pytest
from conftest import BEGAN, materials
from test_bench import nothing_cut, states
from test_themes import contrast
from textual.color import Color
from tui_bench import UNGUARDED, opened
from tui_stage import inks, picture

from shopmate import clock as clocks_
from shopmate import settings, times
from shopmate.clock import Clock, State
from shopmate.session import EnterView, FinishedView, Session, View
from shopmate.session.demo import demo_project
from shopmate.tui.lines import plain
from shopmate.tui.themes import DARK, DARK_16, LIGHT, LIGHT_16, MARK, TEXT
from shopmate.tui.widgets import block, clock_band
from shopmate.tui.widgets.clock_band import ClockBand
from shopmate.tui.widgets.key_line import KeyLine

SIZES = [(40, 12), (60, 18), (80, 24), (100, 30), (120, 35), (200, 60)]
SCREEN_MM = 174.3
"""Height of a screen of 14 inches, 16:9: the computation of the table of the sizes [computed: 355.6 mm × 9/√(16²+9²)]."""
LEAST_MM = 11.6
"""20 minutes of arc at 2 m [computed: 2000 mm × tan 20'; the angle: human-factors text quoting ISO 9241-3, read]."""


def size_name(size):
    return "x".join(map(str, size))


@pytest.mark.parametrize("size", SIZES, ids=size_name)
async def test_the_digits_of_the_governing_clock_are_read_from_two_metres(begun, now, size):
    async with opened(now, begun("Stir two full minutes"), size) as at:
        band = at.app.screen.query_one(ClockBand).region
        rows = at.text.splitlines()[band.y + 1 : band.bottom]
        face = times.face(at.session.clocks[0], now())
        drawn = next(glyphs for double in (True, False) if (glyphs := block.rows(face, double))[0].rstrip() in rows[0])
        assert [row[1 : 1 + len(drawn[0])].rstrip() for row in rows[: len(drawn)]] == [row.rstrip() for row in drawn]
        # The last half row of four, the last row of eight, is blank.
        ink = 3.5 if len(drawn) == 4 else 7
        assert ink * SCREEN_MM / size[1] >= LEAST_MM


async def test_a_headline_of_full_length_is_drawn_twice_as_large_where_there_is_room(begun, now):
    async with opened(now, begun("Stir two full minutes"), (200, 60)) as at:
        lines = at.text.splitlines()
        for words in block.wrap("STIR TWO FULL MINUTES", at.app.bench.columns - 1, double=True):
            glyphs = block.rows(words, double=True)
            assert any(line.startswith(f" {glyphs[0].rstrip()}") for line in lines)


# What is typed on a screen of 40 by 12


def draws(at, text):
    """Whether a text stands on the screen in block digits, four rows one under the other."""
    rows, lines = [row.rstrip() for row in block.rows(text)], at.text.splitlines()
    shown = (lines[y : y + len(rows)] for y in range(len(lines)))
    return any(all(row in line for row, line in zip(rows, four, strict=False)) for four in shown if len(four) == len(rows))


@pytest.fixture
def small_screen(begun, now):
    """The bench on 40 by 12 at a step that asks, a clock running that ends in 25 min."""

    def open_(headline, **more):
        path = begun(headline)
        session = Session.open(path, now(), materials())
        session.start_clock("Kettle", "DO BEFORE", timedelta(minutes=25), now())
        session.close()
        return opened(now, path, (40, 12), **more)

    return open_


@pytest.mark.parametrize("notice", [False, True], ids=["quiet", "a notice stands"])
@pytest.mark.parametrize("alarm", [False, True], ids=["no alarm", "an alarm waits"])
async def test_what_is_typed_is_large_on_the_smallest_screen_with_all_that_must_stay(small_screen, now, alarm, notice):
    async with small_screen("Give the length", heard=not notice) as at:
        at.app.watching.show_silence()
        await at.press("750")
        await at.tick(minutes=21 if alarm else 0, seconds=1)
        assert at.app.alarm_waits == alarm
        assert draws(at, "750"), at.text
        assert "mm" in at.text
        assert "29 17/32 in" in at.text
        assert "step 4 of 4" in at.text.splitlines()[0]
        assert "Give the length" in at.text
        (clock,) = [line for line in at.text.splitlines() if "Kettle · DO BEFORE 08:2" in line]
        assert times.face(at.session.clocks[0], now()) in clock
        assert ("NOW · Kettle" in at.text) == alarm
        assert ("▲ NO SOUND" in at.text) == notice
        assert all(word in at.text for _, word in at.shown)
        nothing_cut(at)
        await at.press("-")
        assert "'750-' stops after '-'" in at.text
        assert "type the rest" in at.text
        assert not draws(at, "750")
        nothing_cut(at)
        await at.press("+")
        assert draws(at, "750")


async def test_the_figure_to_be_poured_to_stays_on_the_smallest_screen_while_the_scale_is_typed(home, now):
    async with opened(now, demo_project(now()), (40, 12)) as at:
        await at.press("1")  # what the demo invites to
        assert at.view.headline == "Pour the hardener"
        (figure,) = at.view.frame.figures
        for text in ("", "8", "86"):
            assert at.entry.text == text
            assert f"{figure.label} {figure.shown}" in at.text, at.text
            assert "Pour the hardener" in at.text
            nothing_cut(at)
            await at.press("86"[len(text) : len(text) + 1] or "+")


async def test_the_clock_is_large_on_the_smallest_screen_until_something_is_typed(small_screen, now):
    async with small_screen("Give the length") as at:
        face = times.face(at.session.clocks[0], now())
        assert draws(at, face), at.text
        await at.press("7")
        assert not draws(at, face)
        await at.press("+")
        assert draws(at, face)


async def test_a_fraction_too_wide_for_large_digits_is_large_as_a_decimal(small_screen, now):
    async with small_screen("Give the length") as at:
        await at.press("750-2/5")
        assert draws(at, "750.4"), at.text
        assert "750-2/5" in at.text


async def test_the_other_system_beside_the_text_has_the_decimal_mark_of_the_setting(small_screen, now):
    settings_ = replace(UNGUARDED, decimal_mark=",")
    async with small_screen("Read the air", settings=settings_, heard=False) as at:
        at.app.watching.show_silence()
        await at.press("20.5")
        await at.tick(minutes=21, seconds=1)
        (row,) = [line for line in at.text.splitlines() if "°F" in line]
        assert row.split() == ["20.5", "°C", "=", "68,9", "°F"]
        assert draws(at, "20,5")


ELSEWHERE = {"a form": "/1839", "the shop temperature": "/.39", "a figure of the shelf": "/.41030819", "an own clock": "+09"}
"""The way to an entry from the bench at a step, and what is typed into it, a 9 at last."""


@pytest.mark.parametrize("alarm", [False, True], ids=["no alarm", "an alarm waits"])
@pytest.mark.parametrize("place", ELSEWHERE)
async def test_what_is_typed_elsewhere_is_large_and_whole_on_the_smallest_screen(small_screen, now, place, alarm):
    async with small_screen("Stir two full minutes") as at:
        await at.press(ELSEWHERE[place])
        if alarm:
            await at.tick(minutes=21)
            assert "NOW · " in at.text
        assert at.entry.text.endswith("9")
        assert draws(at, at.entry.text), at.text
        assert at.entry.region.bottom <= at.size[1] - 1 - 2 * alarm


async def test_what_is_wrong_about_a_ratio_is_whole_on_the_smallest_screen(small_screen, now):
    async with small_screen("Stir two full minutes") as at:
        await at.press("/.41 03 04 2")
        said = " ".join(at.text.split())
        assert f"{at.entry.problem.what} {at.entry.problem.fix}" in said


async def test_words_of_a_caution_and_of_a_no_go_come_before_large_digits_of_a_clock(small_screen, now):
    async with small_screen("WARNING", heard=False) as at:
        at.app.watching.show_silence()
        await at.tick(minutes=21)
        for text in at.view.frame.detail:
            assert text in " ".join(at.text.split())
        await at.to("Wait for the clamps")
        assert "NO GO" in at.text


# Everything on every screen


async def stops(at):
    """Go through every kind of step, each with its keys, and the other screens, with clocks, an alarm and a notice."""
    at.app.watching.heard = False
    at.app.watching.show_silence()
    for number in range(1, 8):
        at.session.start_clock(f"Timer {number}", "NOT BEFORE", timedelta(minutes=100 + number), at.now())
    at.session.start_clock("Kettle", "NOT BEFORE", timedelta(minutes=1), at.now())
    await at.tick(minutes=2)
    yield "an alarm at the start"
    kinds = set()
    async for _view in states(at):
        yield f"{type(at.view)}: {at.view.headline}"
        if isinstance(at.view, EnterView) and EnterView not in kinds:
            await at.press("5")
            yield "a number being typed"
            await at.press("+")
        if ("0", "override") in at.shown and at.view.headline not in kinds:
            kinds.add(at.view.headline)
            await at.press("0")
            yield "a reason"
            await at.press("/")
        kinds.add(type(at.view))
    yield "finished"
    assert kinds >= {*get_args(View)} - {FinishedView}
    for keys, name in OTHERS.items():
        for key in keys:
            await at.press(key)
            await at.pilot.pause()
        await at.tick(seconds=1)
        yield name
        while at.app.screen is not at.app.bench:
            at.app.screen.dismiss(None)
            await at.pilot.pause()


OTHERS = {
    "+": "clocks",
    "+2": "a clock to be ended",
    "+0": "a clock's length",
    "+05": "a clock's length being typed",
    "+.": "a curve",
    "/": "calculators",
    "/03": "a form",
    "/039": "a form being typed",
    "/03.": "a result",
    "/.": "the work list",
}


def fits(at, name):
    """Check that nothing lies under the screen or over another, that no key is cut, and no more are shown than are read."""
    screen, (width, height) = at.app.screen, at.size
    shown = [widget for widget in screen.children if widget.display and widget.region.height]
    for upper, lower in pairwise(sorted(shown, key=lambda widget: widget.region.y)):
        assert upper.region.bottom <= lower.region.y, f"{name}: {upper} over {lower}\n{at.text}"
    for widget in shown:
        assert widget.region.bottom <= height, f"{name}: {widget}\n{at.text}"
        assert widget.region.right <= width, f"{name}: {widget}\n{at.text}"
    assert not screen.show_vertical_scrollbar
    keys = screen.query_one(KeyLine)
    offers = [offer for offer in keys.offers if offer.word]
    assert len(offers) <= 6, f"{name}: {at.shown}"
    assert keys.region.bottom == height
    for offer in offers:
        assert len(offer.word) <= 18, offer.word
        assert offer.word[: width // 2] in at.text, f"{name}: {offer.word}\n{at.text}"
    assert "▲ NO SOUND" in at.text, f"{name}\n{at.text}"
    if at.app.alarm_waits:
        assert "NOW · " in at.text, f"{name}\n{at.text}"


FEW = [(40, 12), (60, 18), (80, 24), (120, 35), (200, 60)]


@pytest.mark.parametrize("size", FEW, ids=size_name)
async def test_what_matters_is_on_the_screen_with_clocks_an_alarm_and_a_notice(small, now, size):
    small.close()
    async with opened(now, small.log.path, size) as at:
        async for name in stops(at):
            fits(at, name)
            if at.app.screen is at.app.bench:
                nothing_cut(at)


@pytest.mark.parametrize("size", [(80, 24), (40, 12)], ids=size_name)
async def test_every_pair_of_colours_on_every_screen_reads_in_both_themes(small, now, size):
    """Words and digits 7:1, marks 3:1: what has a letter or a digit is words, and block glyphs are."""
    small.close()
    pairs = {}
    async with opened(now, small.log.path, size) as at:
        async for name in stops(at):
            for theme in (LIGHT.name, DARK.name):
                at.app.theme = theme
                await at.pilot.pause()
                for text, front, back in inks(at.app):
                    words = any(sign.isalnum() or sign in "▀▄█" for sign in text)
                    pairs.setdefault((theme, front, back, TEXT if words else MARK), (name, text))
    for (_, front, back, least), where in pairs.items():
        assert contrast(Color.parse(front), Color.parse(back)) >= least, where
    assert len({(front, back) for theme, front, back, _ in pairs if theme == LIGHT.name}) >= 8


async def test_everything_in_seven_bits(small, now):
    small.close()
    async with opened(now, small.log.path, (60, 18), settings=replace(UNGUARDED, plain_signs=True)) as at:
        async for name in stops(at):
            strange = [line for line in picture(at.app) if not line.isascii()]
            assert strange == [], name
            assert "?" not in at.text.replace("?  ", "").replace("? ", "").replace("?\n", ""), f"{name}\n{at.text}"


async def test_plain_signs_are_switched_on_the_settings_and_kept(small, now):
    small.close()
    async with opened(now, small.log.path) as at:
        assert "·" in at.text
        await at.press("/.")
        await choose(at, "Settings")
        await choose(at, "Plain characters only")
        assert at.text.isascii()
        assert settings.load().plain_signs
        await choose(at, "Use all characters again")
        await at.press("/")
        assert "·" in at.text
        assert not settings.load().plain_signs


async def choose(at, words):
    """Press the number of an item of the list on the screen."""
    titles = [item.title for item in at.app.screen.items]
    index = next(number for number, title in enumerate(titles, 1) if title.startswith(words))
    await at.press(f"{index:0{len(str(len(titles)))}d}")
    await at.pilot.pause()


# Shapes, slots, kinds


def test_states_differ_by_word_and_by_shape_also_in_seven_bits():
    for forms in ([state.word for state in State], [state.shape for state in State], [plain(state.shape) for state in State]):
        assert len(set(forms)) == len(State)


def in_state(state, at, **more):
    """Return a clock and a time at which it stands so."""
    clock = Clock(
        key=state.name, name="own", title="Kettle", kind="DO BEFORE", started_at=at, due_at=at + timedelta(minutes=60),
        action="Look", if_late="Look", time_to_act=timedelta(minutes=2), consequence="Late",
    )  # fmt: skip
    soon, due = at + timedelta(minutes=50), at + timedelta(minutes=60)
    return {
        State.ARMED: (clock, at),
        State.PRE_ALARM: (clock, soon),
        State.DUE: (clock, due),
        State.DUE_ACKNOWLEDGED: (replace(clock, acknowledged={"due": due}), due),
        State.MISSED: (replace(clock, raised={"missed": due}), due),
        State.SHELVED: (replace(clock, shelved_until=due), soon),
        State.DONE: (replace(clock, ended_at=soon), soon),
    }[state]


@pytest.mark.parametrize("width", [40, 60, 80])
def test_without_styles_the_band_still_tells_the_states_apart(width):
    rows = {}
    for state in State:
        clock, at = in_state(state, BEGAN)
        if state is State.DONE:
            continue  # an ended clock leaves the band
        drawn = clock_band.rows([clock], {clock.key: 0}, at, width, 12)
        text = "\n".join(row.plain for row in drawn)
        assert clocks_.state(clock, at) is state
        assert state.word in text, text
        assert f"{state.shape} Kettle" in text
        assert "DO BEFORE" in drawn[0].plain
        assert times.wall(clock.due_at, at) in drawn[0].plain
        rows[text.replace(times.face(clock, at), "")] = state
    assert len(rows) == len(State) - 1


async def test_each_clock_says_its_kind_and_its_time_at_every_size(small, now):
    small.start_clock("Longest name there", "NOT BEFORE", timedelta(days=5), now())
    small.close()
    for size in FEW:
        async with opened(now, small.log.path, size) as at:
            await at.tick(seconds=1)
            due = at.session.clocks[0].due_at.astimezone()
            assert "Longest" in at.text
            assert f"NOT BEFORE {due:%a %d %b %H:%M}" in at.text or f"NOT BEFORE {due:%a %H:%M}" in at.text, at.text


async def test_a_clock_keeps_its_slot_whatever_the_others_do(small, now):
    for name in ("A", "B", "C", "D"):
        small.start_clock(f"Clock {name}", "NOT BEFORE", timedelta(minutes=ord(name)), now())
    small.close()

    def rows():
        lines = at.text.splitlines()
        return {name: next((y for y, line in enumerate(lines) if f"Clock {name}" in line), None) for name in "ABCDE"}

    async with opened(now, small.log.path, (120, 35)) as at:
        await at.tick(seconds=1)
        before = rows()
        assert None not in [before[name] for name in "BCD"]
        key = {clock.title[-1]: clock.key for clock in at.session.clocks}
        at.session.end_clock(key["B"], now())
        await at.tick(seconds=1)
        after = rows()
        assert after["B"] is None
        assert [after[name] for name in "CD"] == [before[name] for name in "CD"]
        at.session.start_clock("Clock E", "DO BEFORE", timedelta(minutes=10), now())
        await at.tick(seconds=1)
        assert rows()["C"] == before["C"]
        assert rows()["D"] == before["D"]
        await at.press("+")
        assert [line.split()[0] for line in at.text.splitlines() if " Clock " in line] == ["1", "2", "3", "4"]
        assert "2  ○ Clock E" in at.text


@pytest.mark.parametrize("size", [(40, 12), (80, 24)], ids=size_name)
async def test_more_than_six_clocks_are_counted(small, now, size):
    for number in range(1, 10):
        small.start_clock(f"Clock {number}", "NOT BEFORE", timedelta(minutes=100 + number), now())
    small.close()
    async with opened(now, small.log.path, size) as at:
        # In the one row that several steps leave to the clocks the count takes turns with the name.
        seen = await at.wait(6)
        named = {number for number in range(1, 10) for text in seen if f"Clock {number}" in text}
        assert 1 <= len(named) <= 6
        assert any(f"{9 - len(named)} more: +" in text for text in seen)


def test_slots_are_given_and_freed_in_the_order_of_the_log(small, now):
    def start(title):
        small.start_clock(title, "NOT BEFORE", timedelta(minutes=100), now.on(minutes=1))
        return small.clocks[-1].key

    def again():
        """The slots as they are once the program was shut and opened."""
        small.close()
        return Session.open(small.log.path, now(), materials()).slots

    assert small.slots == {}
    a, b, c = start("a"), start("b"), start("c")
    assert small.slots == {a: 0, b: 1, c: 2}
    small.end_clock(b, now.on(minutes=1))
    d = start("d")
    assert small.slots == {a: 0, d: 1, c: 2}
    small.end_clock(a, now.on(minutes=1))
    assert small.slots == {d: 1, c: 2}
    small.take_back(now())
    assert small.slots == {a: 0, d: 1, c: 2}
    small.end_clock(a, now.on(minutes=1))
    small.end_clock(c, now.on(minutes=1))
    assert again() == {d: 1}


# The switch of the theme


async def test_one_key_switches_the_theme_and_it_is_kept(begun, now):
    path = begun("Stir two full minutes")
    async with opened(now, path) as at:
        assert ("full_stop", "light") in at.shown
        await at.press(".")
        assert (at.said, at.app.theme) == ("LIGHT", LIGHT.name)
        assert ("full_stop", "dark") in at.shown
        assert at.view.headline == "Stir two full minutes"
    async with opened(now, path) as at:
        assert at.app.theme == LIGHT.name
        await at.press(".")
        assert at.app.theme == DARK.name


async def test_the_key_of_the_theme_has_no_second_meaning(begun, now):
    async with opened(now, begun("Stir two full minutes")) as at:
        at.session.start_clock("Kettle", "NOT BEFORE", timedelta(minutes=1), now())
        await at.tick(minutes=2)
        assert [word for key, word in at.shown if key == "full_stop"] == ["later"]
        await at.press("*")
        assert [word for key, word in at.shown if key == "full_stop"] == []
        await at.press("E")  # the bench has said where it was left
        assert [word for key, word in at.shown if key == "full_stop"] == ["light"]


async def test_in_sixteen_colours_the_switch_changes_between_the_two_of_them(begun, now):
    at = opened(now, begun("Stir two full minutes"))
    at.app.few_colours = True
    async with at:
        assert at.app.theme == DARK_16.name
        await at.press(".")
        assert at.app.theme == LIGHT_16.name


# The tick


async def test_a_second_draws_once(begun, now):
    """No timer of the bench runs faster than the second hand."""
    async with opened(now, begun("Stir two full minutes")) as at:
        timers = {*at.app._timers, *(timer for widget in at.app.screen.walk_children() for timer in widget._timers)}
        assert [timer._interval for timer in timers if timer._repeat is None] == [1.0]
