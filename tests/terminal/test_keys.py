"""Raw bytes as keypads, multiplexers and broken lines send them, fed to the real program while a value is asked for.

The sequences: the keyboard protocol's specification for the functional keys of a keypad (read), and what a terminal and a
multiplexer were seen to send (measured through a pseudo-terminal).
"""

from __future__ import annotations

import json
import os
import random
import re
import shlex
import shutil
import subprocess
import sys
import time
from collections.abc import Callable
from contextlib import suppress
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from small_recipe import small_recipe

from shopmate import recipe as recipes
from shopmate.log import Log
from shopmate.session import Session
from terminal.builder import Deed, deeds
from terminal.conftest import ROOT, Open
from terminal.screen import ENTER, QUIT, Terminal

# Newer interpreters warn of a fork beside threads of other tests; the child at once becomes another program.
pytestmark = [pytest.mark.slow, pytest.mark.filterwarnings("ignore:.*multi-threaded.*fork:DeprecationWarning")]

ASKED = "Give the bond length"

RECIPE = small_recipe(
    "keys",
    """
asks:
- {ask: Choose the piece, into: piece, choices: {bar: Metal bar, skin: Plywood skin}, default: bar}
sections:
- section: Length
  mode: read-do
  steps:
  - {ask: Give the bond length, into: length, unit: m, low: 50 mm, high: 6 m, default: 2 m}
  - {do: Choose the glue, detail: [Adhesive from a cartridge]}
  - {do: Choose the adhesive}
""",
)
"""A length that is asked by itself, with a step after it."""

LENGTH = ("done", ASKED, "2.5 m")


def newer(key: str) -> str:
    """Return what a key of the keypad sends under the newer keyboard protocol, Num Lock on."""
    if key == ENTER:
        return "\x1b[57414;129u"
    number = {".": 57409, "/": 57410, "*": 57411, "-": 57412, "+": 57413}.get(key) or 57399 + int(key)
    return f"\x1b[{number};129;{ord(key)}u"


NUM_LOCK_OFF = {
    "7": "\x1b[H", "8": "\x1b[A", "9": "\x1b[5~",
    "4": "\x1b[D", "5": "\x1b[E", "6": "\x1b[C",
    "1": "\x1b[F", "2": "\x1b[B", "3": "\x1b[6~",
    "0": "\x1b[2~", ".": "\x1b[3~",
}  # fmt: skip

MEANINGLESS = {
    "an unknown sequence": b"\x1b[999z",
    "an answer nobody asked for": b"\x1b[?1;2c",
    "a report of a colour": b"\x1b]11;rgb:0000/0000/0000\x1b\\",
    "a comma of an application keypad": b"\x1bOl",
    "an event type nobody asked for": b"\x1b[97;1:2;97u",
    "a number over all characters": b"\x1b[9999999999;1u",
    "a byte that is no text": b"\xff",
    "half a character": b"\xc3\x28",
    "a key that was let go": b"\x1b[57401;129:3u",
}


@pytest.fixture
def project(home: Path) -> Path:
    """The file of a project whose run asks for a length."""
    path, now = home / "projects" / "project-1.shopmate", datetime.now(UTC)
    session = Session.create(path, "Project 1", now, recipes.load_shelf(recipes.typical_shelf()))
    session.begin(session.add_part("Bar 1", now), recipes.read(RECIPE, "keys.yaml", "keys"), now)
    session.answer("bar", now)
    session.close()
    return path


def asking(terminal: Open) -> Terminal:
    """Return the program with the length asked for."""
    opened = terminal()
    opened.until(lambda: opened.headline([ASKED]), ASKED)
    return opened


def typed(opened: Terminal, *sent: str | bytes, shows: str) -> None:
    """Send keys one by one, and wait until the entry holds a text."""
    for key in sent:
        opened.send(key)
        opened.look()
    opened.until(lambda: any(re.fullmatch(rf" ?{re.escape(shows)}  \S+", row) for row in opened.rows), f"'{shows}' in the entry")


def new_deeds(project: Path) -> list[Deed]:
    """Return what the log holds beyond the fixture's, the opening aside."""
    with Log(project, read_only=True) as log:
        events = [{"kind": event.kind, "data": event.data} for event in log.events()]
    return [deed for deed in deeds(json.dumps({"events": events[5:]})) if deed[0] != "opened"]


def leave(opened: Terminal) -> None:
    """Leave the program where no clock runs: at once and without complaint."""
    opened.send(QUIT)
    assert opened.wait() == 0
    assert "Traceback" not in opened.picture


def every_key(opened: Terminal, sent: Callable[[str], str]) -> None:
    """Press the digits and the signs of the keypad, as `sent` spells them; each does what it does at an entry."""
    typed(opened, *map(sent, "1234567890."), shows="1234567890.")
    typed(opened, *[sent("+")] * 10, shows="1")
    opened.send(sent("+"))
    opened.until_shown("Enter uses 2 m")
    opened.send(sent("*"))
    opened.until_shown("nothing to ack")
    opened.send(sent("/"))
    opened.until_shown("type a number to open one")
    opened.send(sent("/"))
    opened.until_shown("Enter uses 2 m")


def test_every_key_of_the_keypad_works_under_the_newer_protocol(terminal: Open, project: Path) -> None:
    opened = asking(terminal)
    every_key(opened, newer)
    opened.send(newer("."))
    opened.until_shown(" in   Enter uses 2 m")
    typed(opened, *map(newer, "98-1/4"), shows="98-1/4")
    opened.send(newer(ENTER))
    opened.until(lambda: opened.headline(["Choose the glue"]), "the next question")
    opened.send(newer("-"))
    opened.until_shown("Undo: ")
    opened.send(newer(ENTER))
    opened.until(lambda: opened.headline([ASKED]), "the question again")
    assert new_deeds(project) == [("done", ASKED, "98-1/4 in"), ("undone", "", "")]
    leave(opened)


def test_enter_of_the_keypad_is_a_line_feed_in_a_multiplexer(terminal: Open, project: Path) -> None:
    opened = asking(terminal)
    typed(opened, "2", ".", "5", shows="2.5")
    opened.send("\n")
    opened.until(lambda: opened.headline(["Choose the glue"]), "the next question")
    opened.send("\n")
    opened.until(lambda: opened.headline(["Choose the adhesive"]), "the question after it")
    assert new_deeds(project) == [LENGTH, ("done", "Choose the glue", "")]
    leave(opened)


@pytest.mark.parametrize("before", ["", "2"])
def test_num_lock_off_changes_nothing_and_says_so(before: str, terminal: Open, project: Path) -> None:
    opened = asking(terminal)
    if before:
        typed(opened, before, shows=before)
    for sequence in NUM_LOCK_OFF.values():
        opened.send(sequence)
    opened.until_shown("NUM LOCK OFF?", "delete: does nothing now")
    assert new_deeds(project) == []
    typed(opened, *"2.5"[len(before) :], shows="2.5")
    opened.send(ENTER)
    opened.until(lambda: opened.headline(["Choose the glue"]), "the next question")
    assert new_deeds(project) == [LENGTH]
    leave(opened)


def test_the_middle_key_of_an_application_keypad_without_num_lock_types_nothing(terminal: Open, project: Path) -> None:
    opened = asking(terminal)
    typed(opened, "2", ".", shows="2.")
    opened.send("\x1bOE")
    opened.until_shown("NUM LOCK OFF?")
    typed(opened, "5", shows="2.5")
    assert new_deeds(project) == []
    leave(opened)


def test_acknowledging_within_a_number_types_nothing(terminal: Open, project: Path) -> None:
    began = datetime.now(UTC) - timedelta(minutes=6)
    with Log(project) as log:
        Session(log, {}).start_clock("Glue tin open", "DO BEFORE", timedelta(minutes=5), began)
    opened = asking(terminal)
    opened.until_shown("MISSED", "Glue tin open")
    opened.a_second_on("Glue tin open · DO BEFORE")  # an alarm is acknowledged once it was in sight for a while
    typed(opened, "2", ".", shows="2.")
    opened.send("*")
    opened.until_shown("due, seen")
    typed(opened, "5", shows="2.5")
    opened.send(ENTER)
    opened.until(lambda: opened.headline(["Choose the glue"]), "the next question")
    done = new_deeds(project)
    assert [kind for kind, _, _ in done] == ["clock", "alarm", "acknowledged", "done"]
    assert done[-1] == LENGTH


@pytest.mark.parametrize("sent", MEANINGLESS.values(), ids=MEANINGLESS)
def test_bytes_that_mean_no_key_record_nothing_and_end_nothing(sent: bytes, terminal: Open, project: Path) -> None:
    opened = asking(terminal)
    typed(opened, "2", shows="2")
    opened.send(sent)
    opened.look(0.2)  # longer than an escape sequence may pause
    # What stands in the entry by now is on the screen and can be erased; the program listens, and nothing was recorded.
    opened.send("7")
    opened.until(lambda: any(re.match(r" ?2\S*7(  m)?$", row) for row in opened.rows), "the key after it")
    assert new_deeds(project) == []
    while " erase" in opened.rows[-1]:
        before = opened.picture
        opened.send("+")
        opened.until(lambda before=before: opened.picture != before, "a character less")
    typed(opened, "2", ".", "5", shows="2.5")
    opened.send(ENTER)
    opened.until(lambda: opened.headline(["Choose the glue"]), "the next question")
    assert new_deeds(project) == [LENGTH]
    leave(opened)


SEQUENCES = {
    ENTER: "M",
    "*": "j",
    "+": "k",
    "-": "m",
    ".": "n",
    "/": "o",
    **{str(digit): chr(ord("p") + digit) for digit in range(10)},
}
"""Last byte of what each key of an application keypad sends, Num Lock on: the control sequences of common terminals (read)."""


def application(key: str) -> str:
    """Return what a key of an application keypad sends."""
    return f"\x1bO{SEQUENCES[key]}"


def test_every_key_of_an_application_keypad_works(terminal: Open, project: Path) -> None:
    opened = asking(terminal)
    every_key(opened, application)
    typed(opened, *map(application, "2-1/5"), shows="2-1/5")
    opened.send(application(ENTER))
    opened.until(lambda: opened.headline(["Choose the glue"]), "the next question")
    assert new_deeds(project) == [("done", ASKED, "2-1/5 m")]
    leave(opened)


def test_enter_held_is_taken_once_with_the_guards_as_they_come(terminal: Open, project: Path) -> None:
    opened = terminal(guarded=True)
    opened.until_shown("YOU WERE HERE", "continue")
    for shows, deeds_so_far in (("Enter uses 2 m", []), ("Adhesive from a cartridge", [("done", ASKED, "2 m")])):
        opened.look(0.8)  # the screen settles, and what was held before is over
        opened.send(ENTER)
        opened.until_shown(shows)
        for _ in range(5):
            opened.send(ENTER * 30)
            opened.look()
        opened.until_shown("still held")
        assert shows in opened.picture
        assert new_deeds(project) == deeds_so_far
    leave(opened)


def test_the_mouse_is_not_asked_for(terminal: Open, project: Path) -> None:
    opened = asking(terminal)
    assert not re.search(rb"\x1b\[\?(9|100[0-356]|1015|1016)h", opened.drawn)
    leave(opened)


def test_the_terminal_says_that_it_lost_the_keys_and_has_them_again(terminal: Open, project: Path) -> None:
    opened = asking(terminal)
    assert b"\x1b[?1004h" in opened.drawn
    opened.send("\x1b[O")
    opened.until_shown("KEYS ARE GOING")
    opened.send("\x1b[I")
    opened.until(lambda: "KEYS ARE GOING" not in opened.picture, "the notice to go")
    leave(opened)


@pytest.mark.parametrize("sent", ["\x1a", "\x13", "\x1c", "\x04", "\x10"], ids=["Z", "S", "backslash", "D", "P"])
def test_keys_that_stop_programs_do_nothing(sent: str, terminal: Open, project: Path) -> None:
    opened = asking(terminal)
    typed(opened, "2", shows="2")
    opened.send(sent)
    typed(opened, "5", shows="25")
    assert new_deeds(project) == []
    leave(opened)


@pytest.mark.parametrize("way", ["ctrl+c", "ctrl+q", "an interrupt from outside"])
def test_leaving_asks_while_a_clock_runs(way: str, terminal: Open, project: Path) -> None:
    with Log(project) as log:
        Session(log, {}).start_clock("Glue tin open", "DO BEFORE", timedelta(minutes=50), datetime.now(UTC))
    opened = asking(terminal)
    if way == "an interrupt from outside":
        opened.interrupt()
    else:
        opened.send({"ctrl+c": "\x03", "ctrl+q": "\x11"}[way])
    opened.until_shown("1 clock is running", "1  Stay")
    opened.send("1")
    opened.until(lambda: opened.headline([ASKED]), "the question again")
    opened.send(QUIT)
    opened.choose("Leave")
    assert opened.wait() == 0


@pytest.mark.skipif(shutil.which("tmux") is None, reason="tmux is not installed")
def test_every_key_works_in_a_multiplexer(terminal: Open, project: Path) -> None:
    name = f"shopmate-{os.getpid()}"
    try:
        program = f"PYTHONPATH={shlex.quote(str(ROOT))} {shlex.quote(sys.executable)} -m shopmate"
        opened = terminal("tmux", "-f", "/dev/null", "-L", name, "new-session", program, rows=25)
        opened.until(lambda: opened.headline([ASKED]), ASKED)
        typed(opened, *map(application, "98"), shows="98")
        opened.send(application("+"))
        opened.send(application("+"))
        opened.until_shown("Enter uses 2 m")
        typed(opened, *map(application, "2.5"), shows="2.5")
        opened.send(application("*"))
        opened.until_shown("nothing to ack")
        opened.send(NUM_LOCK_OFF["5"])
        opened.until_shown("NUM LOCK OFF?")
        opened.send(application(ENTER))
        opened.until(lambda: opened.headline(["Choose the glue"]), "the next question")
        opened.send(application("-"))
        opened.until_shown("Undo: ")
        opened.send(application(ENTER))
        opened.until(lambda: opened.headline([ASKED]), "the question again")
        assert new_deeds(project) == [LENGTH, ("undone", "", "")]
    finally:
        subprocess.run(["tmux", "-L", name, "kill-server"], check=False, capture_output=True, timeout=10)


def rubbish(chance: random.Random) -> bytes:
    """Return bytes as a broken line or a terminal of another make sends them, without what means Enter or a key of ours."""
    number = b"%d"
    forms = (
        lambda: bytes(chance.randrange(128, 256) for _ in range(chance.randrange(1, 6))),
        lambda: b"\x1b[" + b";".join(number % chance.randrange(70, 10**9) for _ in range(chance.randrange(1, 9))) + b"z",
        lambda: b"\x1b[97;1:%d:%du" % (chance.randrange(9), chance.randrange(999)),
        lambda: b"\x1b[%d;%d:3u" % (chance.choice([57399, 57414, 13, 10**12]), chance.randrange(1, 300)),
        lambda: b"\x1b[" + b"9" * chance.randrange(1, 400) + b"u",
        lambda: b"\x1b[?" + number % chance.randrange(10**6) + chance.choice([b"c", b"$y", b"u", b"n"]),
        lambda: b"\x1b]%d;" % chance.randrange(200) + b"x" * chance.randrange(0, 300) + chance.choice([b"\x07", b"\x1b\\"]),
        lambda: b"\x1bP" + b"y" * chance.randrange(0, 200) + b"\x1b\\",
        lambda: b"\x1bO" + chance.choice([b"E", b"X", b"z", b"I"]),
        lambda: b"\x1b[M" + bytes(chance.randrange(33, 256) for _ in range(3)),
        lambda: b"\x1b[<%d;%d;%dM" % (chance.randrange(99), chance.randrange(10**5), chance.randrange(10**5)),
    )
    return chance.choice(forms)()


@pytest.mark.parametrize("seed", [1, 2])
def test_a_thousand_broken_sequences_record_nothing_and_end_nothing(seed: int, terminal: Open, project: Path) -> None:
    chance = random.Random(seed)
    opened = asking(terminal)
    for _ in range(40):
        opened.send(b"".join(rubbish(chance) for _ in range(25)))
        opened.look()
    opened.look(0.2)
    assert new_deeds(project) == []
    for _ in range(5):  # what broke off may swallow a key or two; its short answer leaves room for the word beside every key
        opened.send("*")
        with suppress(AssertionError):
            opened.until_shown("nothing to ack", seconds=3)
            break
    assert "nothing to ack" in opened.picture
    while " erase" in opened.picture:
        before = opened.picture
        opened.send("+")
        opened.until(lambda before=before: opened.picture != before, "a character less")
    typed(opened, "2", ".", "5", shows="2.5")
    opened.send(ENTER)
    opened.until(lambda: opened.headline(["Choose the glue"]), "the next question")
    assert new_deeds(project) == [LENGTH]
    leave(opened)


def test_the_keyboard_is_measured_and_the_guards_saved(terminal: Open, home: Path) -> None:
    opened = terminal(words=["keys"])
    opened.until_shown("Hold Enter down")
    opened.send(ENTER)
    opened.look(0.4)
    begun = time.monotonic()
    while time.monotonic() - begun < 3 and "Saved" not in opened.picture:
        opened.send(ENTER)
        opened.glance(0.05)
    opened.until_shown("Saved", "Press each of the 16 keys")
    kept = json.loads((home / "settings.json").read_text(encoding="utf-8"))
    assert 150 < kept["hold_ms"] < 1500
    assert 0 < kept["repeat_ms"] < 500
    assert kept["settle_ms"] == 0  # as it was
    assert f"{kept['hold_ms']} ms" in opened.picture
    opened.look(0.4)
    for key in ["0123456789.*-+", "/"]:
        opened.send("".join(map(newer, key)))
    opened.until_shown("Not pressed yet: Enter", "✓ *")
    opened.send("\n")
    opened.until_shown("All 16 keys get through")
    opened.look(kept["hold_ms"] / 1000)  # the same key sooner would be one still held
    opened.send("/")
    assert opened.wait() == 0


def test_a_keyboard_is_measured_also_where_the_settings_cannot_be_read(home: Path, terminal: Open) -> None:
    """What is wrong with them is said first, and they are not written over."""
    home.mkdir()
    (home / "settings.json").write_text("[[", encoding="utf-8")
    at = terminal(words=["keys"], guarded=True)
    at.until_shown("Default settings in use", "not JSON")
    at.look(0.6)  # no key is taken for half a second after the screen came up
    at.send("1")
    at.until_shown("Hold Enter down for 2 seconds")
    assert (home / "settings.json").read_text(encoding="utf-8") == "[["
