import pytest
from tui_stage import Stage, key, picture

from shopmate.tui.keys import Offer, label
from shopmate.tui.widgets.key_line import SAID_SECONDS, KeyLine

BENCH = (
    ("enter", "done"),
    ("minus", "back"),
    ("asterisk", "ack"),
    ("plus", "clocks"),
    ("slash", "list"),
    ("full_stop", "shelve"),
)


def offers(pairs):
    return tuple(Offer(name, word, lambda: None) for name, word in pairs)


@pytest.mark.parametrize("width", [40, 60, 80, 120])
async def test_every_offer_is_drawn_at_every_width(width):
    app = Stage(KeyLine())
    async with app.run_test(size=(width, 12)) as pilot:
        app.query_one(KeyLine).offers = offers(BENCH)
        await pilot.pause()
        rows = [row for row in picture(app) if row.strip()]
        words = " ".join(rows).split()
        assert words == [text for name, word in BENCH for text in (label(name), word)]
        assert len(rows) == (1 if width >= 80 else 2)
        assert picture(app)[-1].strip()


@pytest.mark.parametrize("width", [40, 80])
async def test_an_echo_moves_and_covers_no_key(width):
    app = Stage(KeyLine())
    async with app.run_test(size=(width, 12)) as pilot:
        line = app.query_one(KeyLine)
        line.offers = offers(BENCH)
        await pilot.pause()
        before = picture(app)
        line.say("DONE 4")
        await pilot.pause()
        after = picture(app)
        assert after[-1].rstrip().endswith("DONE 4")
        assert [row.replace("DONE 4", "      ").rstrip() for row in after] == [row.rstrip() for row in before]


async def test_an_echo_stays_a_second_at_least_and_then_goes():
    assert SAID_SECONDS >= 1
    app = Stage(KeyLine())
    async with app.run_test(size=(80, 12)):
        line = app.query_one(KeyLine)
        line.say("DONE 4")
        line.say("DONE 5")
        assert line.said == "DONE 5"
        line._clear()
        assert line.said == ""


async def test_an_ignored_key_is_named():
    app = Stage(KeyLine())
    async with app.run_test(size=(80, 12)) as pilot:
        app.query_one(KeyLine).ignored(key("slash", "/"))
        await pilot.pause()
        assert picture(app)[-1].strip() == "/: does nothing now"


@pytest.mark.parametrize(
    ("width", "shown"),
    [(80, "DONE 4 · Enter: still held"), (22, "DONE 4 · still held"), (18, "DON… · still held"), (12, "still held")],
)
async def test_an_ignored_key_leaves_what_was_done_in_sight(width, shown):
    app = Stage(KeyLine())
    async with app.run_test(size=(width, 12)) as pilot:
        line = app.query_one(KeyLine)
        line.say("DONE 4")
        for _ in range(3):
            line.ignored(key("enter"), "still held")
        await pilot.pause()
        assert picture(app)[-1].strip() == shown
        line._clear()
        line.ignored(key("enter"), "still held")
        assert line.said == "Enter: still held"


async def test_the_key_stands_in_reverse():
    app = Stage(KeyLine())
    async with app.run_test(size=(80, 12)) as pilot:
        app.query_one(KeyLine).offers = offers(BENCH[:1])
        await pilot.pause()
        strip = app.screen._compositor.render_strips()[-1]
        reversed_text = "".join(segment.text for segment in strip if segment.style and segment.style.reverse)
        assert reversed_text == " Enter "
