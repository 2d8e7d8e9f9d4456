"""What keys arrive as and what they are made into; Num Lock off; the terminal that loses the keys."""

import pytest
from tui_bench import opened
from tui_stage import key

from shopmate.tui.keys import KEYPAD, NAVIGATION, Normaliser, NumLock

ARRIVES = {
    "ctrl+j": ("enter", "\r"), "add": ("plus", "+"), "subtract": ("minus", "-"), "multiply": ("asterisk", "*"),
    "divide": ("slash", "/"), "decimal": ("full_stop", "."), "separator": ("comma", ","),
}  # fmt: skip
"""Names measured in a multiplexer and under the newer keyboard protocol, and the key of the main keyboard."""


def read(*events):
    normaliser = Normaliser()
    return [(event.key, event.character, event.time) for event in map(normaliser.read, events)]


@pytest.mark.parametrize("name", ARRIVES)
def test_every_name_of_a_keypad_is_that_of_the_main_keyboard(name):
    assert read(key(name, at=7.5)) == [(*ARRIVES[name], 7.5)]


@pytest.mark.parametrize("name", KEYPAD)
def test_the_keys_of_the_main_keyboard_stay(name):
    assert read(key(name, at=7.5))[0][::2] == (name, 7.5)


@pytest.mark.parametrize(
    ("letter", "meant"),
    [("E", ("kp_begin", None)), ("l", ("comma", ",")), ("X", ("equal", None)), ("q", ("unknown", None))],
)
def test_the_end_of_a_broken_sequence_is_no_letter(letter, meant):
    assert read(key("alt+shift+o", "O", 70.0), key(letter, letter, 70.01)) == [("alt+shift+o", None, 70.0), (*meant, 70.01)]
    assert read(key("alt+shift+o", "O", 70.0), key(letter, letter, 70.2))[1] == (letter, letter, 70.2)


def seen(*keys, wanted=True):
    lock = NumLock()
    for name, at in keys:
        lock.see(key(name, at=at), wanted)
    return lock.off


@pytest.mark.parametrize("first", sorted(NAVIGATION))
def test_two_navigation_keys_within_two_seconds_mean_num_lock(first):
    assert seen((first, 10.0), ("down", 12.0))
    assert not seen((first, 10.0), ("down", 12.01))
    assert not seen((first, 10.0), ("down", 10.1), wanted=False)


def test_the_middle_key_alone_means_num_lock_and_a_digit_that_it_is_on_again():
    assert seen(("kp_begin", 10.0))
    assert not seen(("kp_begin", 10.0), ("5", 11.0))
    assert not seen(("down", 10.0), ("5", 10.5), ("down", 11.0))


# In the program


@pytest.mark.parametrize("typed", ["", "86"])
@pytest.mark.parametrize("names", [["kp_begin"], ["home", "left"], ["insert", "delete"]])
async def test_num_lock_off_is_said_while_a_number_is_asked_for_and_goes_with_a_digit(begun, now, typed, names):
    async with opened(now, begun("Give the length")) as at:
        await at.press(typed)
        count = len(at.session.log.events())
        for name in names:
            await at.hands.press(name)
        assert "NUM LOCK OFF?" in at.text
        assert (at.entry.text, len(at.session.log.events())) == (typed, count)
        await at.press("4")
        assert "NUM LOCK OFF?" not in at.text
        assert at.entry.text == f"{typed}4"


@pytest.mark.parametrize("way", ["/.", "/", "/01"], ids=["a numbered list", "the calculators", "a form"])
async def test_num_lock_off_is_said_in(begun, now, way):
    async with opened(now, begun("Stir two full minutes")) as at:
        await at.press(way)
        screen, texts = at.app.screen, at.text
        await at.hands.press("end", "down", "pagedown")
        assert "NUM LOCK OFF?" in at.text
        assert at.app.screen is screen
        before = [line for line in texts.splitlines() if "  " in line][:6]
        assert all(line in at.text for line in before)
        await at.press("9")
        assert "NUM LOCK OFF?" not in at.text


async def test_arrows_in_a_table_mean_no_num_lock(begun, now):
    async with opened(now, begun("Stir two full minutes")) as at:
        await at.press("/.")
        for words in ("Shelf, tables, guide", "Tables"):
            (index,) = [index for index, item in enumerate(at.app.screen.items, 1) if item.title == words]
            await at.press(f"{index:0{len(str(len(at.app.screen.items)))}d}")
        await at.press("01" if len(at.app.screen.items) > 9 else "1")
        await at.hands.press("pagedown", "pagedown", "pageup")
        assert "NUM LOCK OFF?" not in at.text


async def test_a_terminal_that_loses_the_keys_says_so_at_once_until_it_has_them_again(begun, now):
    from textual import events

    async with opened(now, begun("Stir two full minutes")) as at:
        at.app.post_message(events.AppBlur())
        await at.pilot.pause()
        assert "KEYS ARE GOING" in at.text
        await at.press("+")
        assert at.app.screen is not at.app.bench
        at.app.post_message(events.AppBlur())
        await at.pilot.pause()
        assert "KEYS ARE GOING" in at.text
        at.app.post_message(events.AppFocus())
        await at.pilot.pause()
        assert "KEYS ARE GOING" not in at.text
