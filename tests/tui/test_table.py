"""The tables on the screen: from the work list to the last source and back by keypad, at every size."""

import pytest
from textual.geometry import Size
from tui_bench import SIZES, opened
from tui_stage import Hands, Stage, picture

from shopmate import tables
from shopmate.tui.screens.bench import BenchScreen
from shopmate.tui.screens.choose import ChooseScreen
from shopmate.tui.screens.table import TableScreen, pages


@pytest.mark.parametrize("size", SIZES, ids=lambda size: "x".join(map(str, size)))
@pytest.mark.parametrize("name", tables.names())
def test_the_pages_of_a_table_hold_all_of_it_within_the_screen(name, size):
    table = tables.load(name)
    room = Size(size[0] - 2, size[1] - 4)
    found = pages(table, room)
    assert all(0 < len(page) <= room.height for page in found)
    assert all(len(line) <= room.width for page in found for line in page)
    packed = "".join("".join(line.split()) for page in found for line in page)
    for key, source in table.sources.items():
        assert "".join(f"{key}:{source}".split()) in packed
    for row in table.rows:
        assert "".join(row[table.columns[0]].split()) in packed


@pytest.mark.parametrize("size", SIZES, ids=lambda size: "x".join(map(str, size)))
async def test_one_key_goes_through_all_pages_and_comes_round(size):
    app = Stage()
    async with app.run_test(size=size) as pilot:
        screen = TableScreen(tables.load("solvents"))
        app.open(screen)
        await pilot.pause()
        hands = Hands(pilot)
        first = seen = "\n".join(picture(app))
        count = int(first.splitlines()[0].split()[-1])
        assert count > 1
        for number in range(2, count + 1):
            await hands.keypad("+")
            shown = "\n".join(picture(app))
            assert f"page {number} of {count}" in shown
            seen += shown
        await hands.keypad("+")
        assert "\n".join(picture(app)) == first
        for row in tables.load("solvents").rows:
            assert row["solvent"] in seen
            assert row["density_g_ml"] in seen
        await hands.keypad("/")
        assert app.closed_with == [None]


async def test_a_table_of_one_page_offers_no_other():
    app = Stage()
    async with app.run_test(size=(120, 35)) as pilot:
        screen = TableScreen(tables.load("pan_heads"))
        app.open(screen)
        await pilot.pause()
        assert [offer.key for offer in screen.offers()] == ["slash"]
        assert "page 1 of 1" in "\n".join(picture(app))


async def test_a_page_before_the_first_is_the_last_and_a_new_size_stays_near_the_place():
    app = Stage()
    async with app.run_test(size=(40, 12)) as pilot:
        app.open(TableScreen(tables.load("wood_screws")))
        await pilot.pause()
        hands = Hands(pilot)
        await hands.keypad("-")
        await pilot.pause()
        assert tables.load("wood_screws").sources["body"].split()[-1] in "\n".join(picture(app))
        await pilot.resize_terminal(80, 24)
        await pilot.pause()
        await pilot.pause()
        words = picture(app)[0].split()
        assert words[-3] == words[-1]


@pytest.mark.parametrize("size", SIZES, ids=lambda size: "x".join(map(str, size)))
async def test_from_the_work_list_to_a_table_and_back_to_the_bench(small, now, size):
    small.close()
    async with opened(now, small.log.path, size) as at:
        await at.press("/.")
        for words in ("Shelf, tables, guide", "Tables"):
            items = at.app.screen.items
            await at.press(f"{[item.title for item in items].index(words) + 1:0{len(str(len(items)))}d}")
        assert [item.key for item in at.app.screen.items] == list(tables.names())
        await at.press(f"{tables.names().index('woods') + 1:02d}")
        assert isinstance(at.app.screen, TableScreen)
        assert "balsam fir" in at.text
        await at.press("/")
        assert isinstance(at.app.screen, ChooseScreen)
        await at.press("/")
        assert isinstance(at.app.screen, BenchScreen)
