"""The bench in words of the user's own: what still reads as English is content of a recipe, a calculator or the shelf."""

import ast
import csv
import io
import re
from pathlib import Path

import pytest
from conftest import EVERY_STEP, every_step, materials
from plain_talk import talk
from test_phrases import literals
from tui_bench import opened

from shopmate import calc, models, phrases, tables, units
from shopmate import session as sessions
from shopmate.plain.saying import HELP
from shopmate.session import FinishedView, Session
from shopmate.tui.keys import label
from shopmate.tui.screens.calculators import FAR
from shopmate.tui.widgets.key_line import KeyLine

LETTER = re.compile(r"[A-Za-z](?![^{]*\})")
"""A letter of a phrase, outside the names of what is filled in."""

WORD = re.compile(r"[A-Za-z]{2,}")

KIND = re.compile(r"^ *(?:- )?\w[\w ]*:|\b(?:DO|NOT) BEFORE\b", re.MULTILINE)
"""What a recipe names with words of ours, and its parts."""


@pytest.fixture
def disguised(own_words):
    """A table of own words with another letter for every letter, so that each phrase is as long as before."""
    text = io.StringIO()
    table = csv.writer(text)
    table.writerow(("place", "text", "own"))
    table.writerows((place, text, LETTER.sub("ж", text)) for text, place in phrases.english().items())
    own_words(text.getvalue())


@pytest.fixture
def small(disguised, now):
    """A project with the recipe of every kind of step begun on one part, its names without a letter of ours."""
    session = Session.create(sessions.project_path("77"), "77", now(), materials())
    session.begin(session.add_part("9", now()), every_step(), now())
    session.close()
    return session.log.path


def content(*calculators):
    """Return the words that the recipe, its materials, calculators and the units bring; keys are called as they are printed."""
    shared = Path(models.__file__).parent.glob("*.py") if calculators else ()
    files = [*(Path(calc.__file__).parent / f"{name}.py" for name in calculators), *shared]
    texts = ["Enter shopmate", KIND.sub("", EVERY_STEP.read_text(encoding="utf-8"))]
    texts += [text for path in files for _, text in literals(ast.parse(path.read_text(encoding="utf-8")))]
    texts += [f"{item.title} {item.sheet} {' '.join(item.figures.values())}" for item in materials().values()]
    texts += [" ".join(units.units_of(unit)) for unit in ("mm", "g", "mL", "min", "°C", "kPa")]
    return {word for text in texts for word in WORD.findall(text)}


def listed():
    """Return the words of the lists of tables and recipes."""
    texts = [f"{name.replace('_', ' ')} {tables.load(name).title}" for name in tables.names()]
    recipes = [file.recipe for file in sessions.recipe_files() if file.recipe is not None]
    texts += [f"{one.title} {one.about} {one.makes} {' '.join(one.after)}" for one in recipes]
    return {word for text in texts for word in WORD.findall(text)}


def english(text, *calculators):
    """Return the words in a text that neither the table of own words nor any content has brought."""
    whole = re.sub(r"\w+…", "", text)
    return sorted(set(WORD.findall(whole)) - content(*calculators))


async def test_no_english_word_of_ours_is_left_on_the_bench(small, now):
    async with opened(now, small) as at:
        while not isinstance(at.view, FinishedView):
            assert not english(at.text, "mix", "dewpoint"), at.text
            await at.step()
        assert not english(at.text), at.text


async def choose(at, key):
    """Choose an item of the list on the screen by its key."""
    keys = [item.key for item in at.app.screen.items]
    number = str(keys.index(key) + 1)
    await at.press(number if len(keys) < 10 else number.zfill(2))


@pytest.mark.parametrize("size", [(80, 24), (40, 12)], ids=lambda size: "x".join(map(str, size)))
async def test_no_english_word_of_ours_is_left_on_the_other_screens(small, now, size):
    async with opened(now, small, size) as at:
        await at.to("Stir two full minutes")
        # Clocks, curve, sound, its test, an own clock, the bench.
        for keys in ("+", ".", "/", "E", "1", "1", "0", "12", "E", "+"):
            await at.press(keys)
            assert not english(at.text, "potlife"), (keys, at.text)
        for ways in (
            ["settings"],
            ["materials", "shelf", ".new", "epoxy-2to1-slow"],
            ["materials", "tables"],
            ["begin", "name"],
            ["project"],
        ):
            await at.press("/.")
            for way in ways:
                await choose(at, way)
                assert not set(english(at.text)) - listed(), (ways, at.text)
            while at.app.screen is not at.app.bench:
                await at.press("/")


async def test_no_english_word_of_ours_is_left_in_a_calculator(small, now):
    async with opened(now, small) as at:
        await at.press("/")
        assert not english(at.text, *calc.names())
        await at.press(str(FAR + calc.names().index("fillet")))
        for keys in ("4800E", "1200E", "+" * 5, "-", "12E", "4000E", "-", "+", "EEEEEEE", ".", ".", ".", "-", "/"):
            await at.press(keys)
            assert not english(at.text, "fillet", "mix"), (keys, at.text)


def test_no_english_word_of_ours_is_left_in_lines(small, now):
    said = talk(now, "help", "where", "+", "/", "1", "/", "/", "/", "9", "/", "1", "E", "", "", "22", "", path=small)
    assert not set(english(said, *calc.names())) - set(phrases.blanks(" ".join(HELP))), said


async def test_with_the_longest_words_a_small_screen_still_shows_the_time_of_a_limit(own_words, now):
    longest = ["place;text;own"]
    for text, place in phrases.english().items():
        if place in ("day", "key", "state", "headline"):
            longest.append(f"{place};{text};{text}{'ж' * (phrases.LONGEST[place] - phrases.length(text))}")
    own_words("\n".join(longest))
    session = Session.create(sessions.project_path("77"), "77", now(), materials())
    session.begin(session.add_part("9", now()), every_step(), now())
    session.close()
    async with opened(now, session.log.path, (40, 12)) as at:
        await at.to("Wait for the clamps")
        assert re.search(r"^ ○ 24h00 .*NOT BEFOREж+ Tueжж 08:00$", at.text, re.MULTILINE), at.text
        keys = {offer.key for offer in at.app.screen.query_one(KeyLine).offers if offer.word}
        assert all(f" {label(key)} " in at.text for key in keys)
