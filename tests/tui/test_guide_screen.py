"""The guide on screens of all sizes: reached by keypad, each word on one of its pages, and the way back."""

import re

import pytest
from test_app import choose
from tui_bench import SIZES, opened

from shopmate import guide
from shopmate.tui.screens.guide import GuideScreen


@pytest.fixture
def path(small):
    small.close()
    return small.log.path


async def to_the_topics(at):
    await at.press("/.")
    for words in ("Shelf, tables, guide", "Guide"):
        await choose(at, words)


async def open_topic(at, name):
    """Go from the list of topics to one of them, by its number."""
    await at.press(str(guide.AT_THE_BENCH.index(name) + 1))
    assert isinstance(at.app.screen, GuideScreen)
    assert at.app.screen.topic.name == name


@pytest.mark.parametrize("size", SIZES)
async def test_each_word_of_each_topic_is_on_one_of_its_pages(path, now, size):
    async with opened(now, path, size) as at:
        await to_the_topics(at)
        for name in guide.AT_THE_BENCH:
            await open_topic(at, name)
            screen, read = at.app.screen, []
            count = len(screen.pages())
            for number in range(count):
                place = f"page {number + 1} of {count}" if count > 1 else guide.load(name).title
                heading, *rows = at.text.splitlines()[: 1 + screen.query_one(".page").content_size.height]
                assert place in heading
                assert rows[0].strip(), "no page begins with a blank row"
                read += rows
                await at.press("." if count > 1 else "")
            assert screen.page == 0
            told = " ".join(guide.load(name).lines(78))
            assert re.findall(r"\w+", " ".join(read)) == re.findall(r"\w+", told)
            await at.press("/")


async def test_minus_turns_back_and_slash_leads_to_the_bench_again(path, now):
    async with opened(now, path, (40, 12)) as at:
        events = len(at.session.log.events())
        await to_the_topics(at)
        await open_topic(at, "ears")
        await at.press("..-")
        assert at.app.screen.page == 1
        await at.press("////")
        assert at.app.screen is at.app.bench
        assert len(at.session.log.events()) == events
