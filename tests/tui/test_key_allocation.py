"""Every state of every screen: its keys are those of the key line, six at most, each once; * acknowledges, letters do nothing."""

from typing import get_args

import pytest
from test_app import number
from test_bench import states
from tui_bench import opened
from tui_stage import key

from shopmate import calc
from shopmate.dialogue.step import answers, row, said
from shopmate.session import ChooseView, View, WaitView
from shopmate.session.demo import follow
from shopmate.tui.keys import KEYPAD, label
from shopmate.tui.screens.bench import MOST_OFFERS
from shopmate.tui.screens.name import NameScreen
from shopmate.tui.widgets.entry import Entry
from shopmate.tui.widgets.numbered import Numbered

EACH = {**{digit: digit for digit in "0123456789"}, "full_stop": ".", "slash": "/", "minus": "-", "plus": "+", "enter": "E"}
"""Every key of a keypad but *, by name, as it is pressed."""

LETTERS = [chr(code) for code in (*range(ord("a"), ord("z") + 1), *range(ord("A"), ord("Z") + 1))]

BROKEN = "EXq"
"""Last bytes of sequences of an application keypad, that arrive as letters (its comma, l, is a comma)."""

PLACES = {
    "the work list": ["/."],
    "the settings": ["/.", "Settings"],
    "a setting": ["/.", "Settings", "Shop temperature good"],
    "a setting being typed": ["/.", "Settings", "Shop temperature good", "=12"],
    "the shop temperature": ["/.", "Shop temperature"],
    "below zero": ["/.", "Shop temperature", "=-"],
    "the projects": ["/.", "Another project"],
    "a new project": ["/.", "Another project", "New project"],
    "which part": ["/.", "Start a recipe"],
    "a part's name": ["/.", "Start a recipe", "type a name", "Sheathe"],
    "which recipe": ["/.", "Start a recipe", "New: Panel"],
    "what is read before a run": ["/.", "Start a recipe", "New: Panel", "Fillet an inside"],
    "the shelf": ["/.", "Shelf, tables, guide", "Shelf"],
    "a material": ["/.", "Shelf, tables, guide", "Shelf", "by volume, medium"],
    "a ratio": ["/.", "Shelf, tables, guide", "Shelf", "by volume, medium", "ratio"],
    "a ratio being typed": ["/.", "Shelf, tables, guide", "Shelf", "by volume, medium", "ratio", "=2"],
    "a figure": ["/.", "Shelf, tables, guide", "Shelf", "by volume, medium", "pot mass"],
    "the tables": ["/.", "Shelf, tables, guide", "Tables"],
    "a table": ["/.", "Shelf, tables, guide", "Tables", "wood screws"],
    "the guide": ["/.", "Shelf, tables, guide", "Guide"],
    "a topic": ["/.", "Shelf, tables, guide", "Guide", "Keys"],
    "the keyboard": ["/.", "Settings", "Test this keyboard"],
    "its keys": ["/.", "Settings", "Test this keyboard", "=+"],
    "the calculators": ["/"],
    "a first digit": ["/6"],
    "a form": ["/", "fillet"],
    "a form being typed": ["/", "fillet", "=8"],
    "a form's names": ["/", "drill"],
    "the end of a form": ["/", "dewpoint", "=20E50E15E"],
    "the clocks": ["+"],
    "a clock of one's own": ["+0"],
    "its length being typed": ["+05"],
    "the end of a clock": ["+1"],
    "a curve": ["+."],
    "leaving": ["/.", "Leave shopmate"],
}
"""Where it is shown, and the way there from the bench: keys, words of a choice, or a calculator."""


@pytest.fixture
def path(small, now):
    now.at = follow(small, now(), {}, until=lambda view: view.headline == "Stir two full minutes")
    small.close()
    return small.log.path


async def go(at, way):
    for part in way:
        if part in calc.names():
            await at.press(f"{calc.names().index(part) + 1:02d}")
        elif part[0] in "/+=":
            await at.press(part.removeprefix("="))
        else:
            await at.press(number(at, part))


async def ring(at):
    """Let an alarm wait that can be put off."""
    at.session.start_clock("Heater", "NOT BEFORE", at.now.at - at.now.at, at.now())
    await at.tick(seconds=2)
    assert at.app.alarm_waits


def state(at):
    """What a key could change: the log, the screen, what is typed and what is shown beside the alarm and what the key did."""
    screen = at.app.screen
    typed = [(entry.text, entry.unit) for entry in screen.query(Entry)]
    chosen = [(item.typed, item.chosen, item.page) for item in screen.query(Numbered)]
    view = at.view and (at.view.place, type(at.view), said(at.view).go)
    return screen, typed, chosen, view, [event.kind for event in at.session.log.events() if event.kind != "alarm"]


def is_allocated(at):
    screen = at.app.screen
    offers = screen.offers()
    live = [(offer.key, offer.word) for offer in offers if offer.word]
    if at.app.alarm_waits and all(name != "asterisk" for name, _ in live):
        live.append(("asterisk", "seen"))
    assert at.shown == live
    assert len(live) <= MOST_OFFERS
    assert {name for name, _ in live} <= set(KEYPAD)
    # A second key of the keypad that is not shown would be a key without a word.
    assert not {name for offer in offers for name in offer.also} & set(KEYPAD)
    names = [name for offer in offers for name in (offer.key, *offer.also)]
    assert sorted(names) == sorted(set(names))
    drawn = " ".join(at.text.splitlines()[-3:])
    for name, word in live:
        assert f" {label(name)}  {word}" in drawn, f"{name}: {word}\n{at.text}"


async def only_these_act(at):
    """Press what the key line does not show: it says so and changes nothing; what is typed or chosen by number is typed."""
    screen = at.app.screen
    typing = any(entry.display for entry in screen.query(Entry))
    choosing = any(item.display for item in screen.query(Numbered))
    shown = {name for name, _ in at.shown}
    for name, pressed in EACH.items():
        chooses = name.isdigit() and (choosing or is_row(at, name))
        if name in shown or chooses or (typing and name not in ("plus", "enter")) or asks_keys(at):
            continue
        before = state(at)
        at.hands.now -= 1  # all at one moment: a question that waits for an answer goes away in time
        await at.press(pressed)
        assert state(at) == before, name
        assert "does nothing now" in at.said, name


def is_row(at, number):
    """Whether a digit chooses one of several steps that are taken together."""
    return at.app.screen is at.app.bench and at.view is not None and row(at.view, number) is not None


def asks_keys(at):
    """Whether keys are only marked as they arrive."""
    return type(at.app.screen).__name__ == "KeysScreen"


async def letters_do_nothing(at):
    if isinstance(at.app.screen, NameScreen):
        return  # a name is made of them
    typing = any(entry.display and entry.text for entry in at.app.screen.query(Entry))
    before = state(at)
    for letter in [] if typing else LETTERS:  # in a number begun they are a unit, seen and erased before it is taken
        at.app.post_message(key(letter, letter, at.hands.now + 50))
    await at.pilot.pause()
    assert state(at) == before
    for letter in BROKEN:
        at.app.post_message(key("alt+shift+o", "O", at.hands.now + 60))
        at.app.post_message(key(letter, letter, at.hands.now + 60))
    await at.pilot.pause()
    assert state(at) == before


async def acknowledges(at):
    """Press * and look that it does that and nothing else."""
    before, view = state(at), at.view
    waiting = at.session.log.events()
    at.hands.now -= 1
    await at.press("*")
    after, passed = state(at), isinstance(view, WaitView) and said(view).go
    # The alarm that opens a wait leads on past it.
    assert after[:3] == before[:3]
    assert (after[3] == before[3]) is not passed
    assert [event.kind for event in at.session.log.events()][len(waiting) :] == ["acknowledged", *(["done"] if passed else [])]


@pytest.mark.parametrize("place", PLACES)
async def test_the_keys_of(path, now, place):
    async with opened(now, path, (120, 35)) as at:
        await go(at, PLACES[place])
        await at.pilot.pause()  # what is laid out anew for its room says so later
        assert at.app.screen is not at.app.bench
        is_allocated(at)
        await letters_do_nothing(at)
        await only_these_act(at)
        is_allocated(at)
        await ring(at)
        is_allocated(at)
        await acknowledges(at)
        is_allocated(at)


@pytest.mark.parametrize("rings", [False, True], ids=["quiet", "an alarm waits"])
async def test_the_keys_of_every_kind_of_step(small, now, rings):
    small.close()
    seen = set()
    async with opened(now, small.log.path, (120, 35)) as at:

        async def look(view):
            offered = isinstance(view, ChooseView) and view.offered is not None
            known = (type(view), said(view).go, bool(answers(view)), offered)
            if known not in seen:
                seen.add(known)
                is_allocated(at)
                if rings:
                    await ring(at)
                    is_allocated(at)
                await letters_do_nothing(at)
                await only_these_act(at)
                while at.app.alarm_waits:
                    await acknowledges(at)
                is_allocated(at)
            while at.app.alarm_waits:
                await at.press("*")

        async for view in states(at):
            await look(view)
        await look(at.view)
    assert {kind for kind, *_ in seen} == {*get_args(View)}
