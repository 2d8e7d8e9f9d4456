"""Files of the user's that are none, too large, or hold what no text may: refused at once, at their place, in few words."""

import os
import socket
import time
from pathlib import Path

import pytest

from shopmate import paths, phrases, recipe, settings
from shopmate.errors import FileProblems
from shopmate.recipe.compose import compose
from shopmate.text_file import LARGEST, MOST_OF_A_KIND, read_text


def refused(read, *given):
    with pytest.raises(FileProblems) as raised:
        read(*given)
    return raised.value


DOORS = {
    "recipes/own.yaml": lambda path: recipe.load(path),
    "shelf.yaml": lambda path: recipe.load_shelf(path),
    "settings.json": lambda path: settings.load(),
    "words.csv": lambda path: phrases.use_own(),
}
"""The files that are read, in the folder of shopmate's files, with what reads each."""


@pytest.fixture(params=DOORS)
def door(request, home):
    path = paths.home() / request.param
    path.parent.mkdir(parents=True, exist_ok=True)
    return path, lambda: DOORS[request.param](path)


def test_a_folder_is_refused_for_what_it_is(door):
    path, read = door
    path.mkdir()
    assert [problem.what for problem in refused(read).problems] == ["is a folder"]


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no named pipes")
def test_a_pipe_is_refused_without_waiting_for_who_writes_it(door):
    path, read = door
    os.mkfifo(path)
    assert [problem.what for problem in refused(read).problems] == ["is a pipe"]


@pytest.mark.skipif(not hasattr(socket, "AF_UNIX"), reason="this system has no sockets among its files")
def test_a_socket_is_refused(door, monkeypatch):
    path, read = door
    monkeypatch.chdir(path.parent)  # the path of a socket may not be long
    with socket.socket(socket.AF_UNIX) as listening:
        listening.bind(path.name)
        assert [problem.what for problem in refused(read).problems] == ["is a socket"]


@pytest.mark.skipif(not Path("/dev/zero").is_char_device(), reason="this system has no device without an end")
def test_a_device_is_refused_also_where_a_link_leads_to_it(door):
    path, read = door
    path.symlink_to("/dev/zero")
    assert [problem.what for problem in refused(read).problems] == ["is a device"]


def test_no_more_than_a_byte_over_the_limit_is_read(door, monkeypatch):
    path, read = door
    with path.open("wb") as file:
        file.truncate(1 << 40)  # a file of a tebibyte that takes no room
    assert "over 1 MiB" in refused(read).problems[0].what
    path.write_bytes(b"#" * LARGEST)
    assert len(read_text(path, "")) == LARGEST


def test_a_character_is_named_at_its_place_however_it_is_written():
    assert [str(problem) for problem in refused(compose, 'a: b\nc: ["x", "y\\e[31m\\u202e"]\n"\\a": d\n', "f").problems] == [
        "f:2:10: the text has the character U+001B in it; remove it, also where it is escaped",
        "f:2:10: the text has the character U+202E in it; remove it, also where it is escaped",
        "f:3:1: the text has the character U+0007 in it; remove it, also where it is escaped",
    ]
    assert [str(problem) for problem in refused(compose, "a: b\nc: d\u2066 # \u200b\n", "f").problems] == [
        "f:2:5: the character U+2066 is not allowed in a text; remove it",
        "f:2:9: the character U+200B is not allowed in a text; remove it",
    ]


def test_a_text_that_the_log_keeps_is_read_with_them():
    assert dict(compose('a: "\\e[31m"', "kept", kept=True).entries or {})["a"][1].text == "\x1b[31m"


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ('{\n"hold_ms": 700, "alarm_command": ["ring", "\\u001b[31m"]}', "2:43: the text has the character U+001B in it"),
        ('{"notify\\u202e": true}', "1:2: the text has the character U+202E in it"),
        ('{"alarm_command": ["\u009b"]}', "1:21: the character U+009B is not allowed in a text"),
    ],
)
def test_settings_are_held_to_it_too(home, text, said):
    paths.settings().parent.mkdir(parents=True)
    paths.settings().write_text(text, encoding="utf-8")
    assert f"settings.json:{said}" in str(refused(settings.load))


def test_own_words_are_held_to_it_too(home):
    paths.words().parent.mkdir(parents=True)
    paths.words().write_text("place,text,own\nkey,back,\u202ekcab\n", encoding="utf-8")
    assert "words.csv:2:10: the character U+202E is not allowed in a text" in str(refused(phrases.use_own))


def test_of_many_problems_of_one_kind_the_first_are_told_and_the_others_counted():
    found = refused(compose, "a: " + "\x01\x02" * 5000 + "\n", "f")
    assert len(found.problems) == MOST_OF_A_KIND
    assert str(found.problems[-1]) == "f:1:23: the character U+0002 is not allowed in a text (and 9,980 more); remove it"
    assert found.count == 10_000
    found = refused(recipe.read, "".join(f"key{number}: 1\n" for number in range(1000)), "f")
    assert [problem.more for problem in found.problems if "is not a key of" in problem.what] == [0] * 19 + [980]
    assert any("has no 'recipe'" in problem.what for problem in found.problems)


HOSTILE = {
    "control characters": "\x07" * LARGEST,
    "on lines of their own": "\x07\n" * (LARGEST // 2),
    "escaped": 'a: ["' + "\\e" * (LARGEST // 2 - 6) + '"]',
    "texts with one each": "[" + '"\\e",' * (LARGEST // 5 - 2) + "]",
    "unknown keys": "".join(f"k{number}: 1\n" for number in range(90_000)),
    "one key again and again": "a: 1\n" * (LARGEST // 5),
    "anchors": "- &a x\n" * (LARGEST // 7),
    "aliases": "- *a\n" * (LARGEST // 5),
    "empty items": "-\n" * (LARGEST // 2),
    "a long key": "a" * LARGEST,
    "a long text": "a: '" + "b " * (LARGEST // 2 - 3) + "'",
    "quotes": '"' * LARGEST,
    "brackets": "[" * LARGEST,
    "braces": "{" * LARGEST,
    "question marks": "? " * (LARGEST // 2),
    "dashes": "- " * (LARGEST // 2),
    "tabs": "\t" * LARGEST,
    "line ends": "\n" * LARGEST,
    "blanks": " " * LARGEST,
    "directives": "%YAML 1.2\n" * (LARGEST // 10),
    "documents": "---\n" * (LARGEST // 4),
    "references": "recipe: '" + "{a}" * (LARGEST // 3 - 4) + "'",
    "a block": "a: |\n" + " x\n" * (LARGEST // 3 - 2),
    "joiners": "\u200d" * (LARGEST // 3),
}
"""Texts of the greatest size made to take long."""


@pytest.mark.parametrize("name", HOSTILE)
def test_no_text_takes_long_to_refuse(name):
    began, problems = time.process_time(), ()
    try:
        recipe.is_shelf(HOSTILE[name], "f.yaml")
        recipe.read(HOSTILE[name], "f.yaml")
    except FileProblems as error:
        problems = error.problems
    # Work that grows with the square of the size takes minutes; a slow machine under load does this in a few seconds.
    assert time.process_time() - began < 10
    assert sum(len(str(problem)) for problem in problems) < 40_000
