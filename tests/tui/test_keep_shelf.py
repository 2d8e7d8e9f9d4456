"""The shelf in the program: a material and a figure are chosen, its value typed, and the user's file has it at once."""

import pytest
from conftest import materials
from tui_bench import SIZES, opened

from shopmate import paths
from shopmate import recipe as recipes
from shopmate.dialogue import work
from shopmate.tui.screens.choose import ChooseScreen
from shopmate.tui.screens.name import NameScreen
from shopmate.tui.screens.value import ValueScreen

SLOW = "epoxy-2to1-slow"


@pytest.fixture
def path(small):
    small.close()
    return small.log.path


async def choose(at, words):
    """Press the digits that choose the item with these words in the list on the screen."""
    items = at.app.screen.items
    (index,) = [index for index, item in enumerate(items, 1) if item.title == words]
    await at.press(f"{index:0{len(str(len(items)))}d}")


async def to_shelf(at):
    at.app.start_dialogue(work.other(at.app.desk))
    await at.pilot.pause()
    await choose(at, "Shelf, tables, guide")
    await choose(at, "Shelf")
    await at.pilot.pause()
    assert at.app.screen.heading == "Shelf: which material?"


async def to_material(at, name):
    await to_shelf(at)
    await choose(at, materials()[name].title)
    await at.pilot.pause()
    assert at.app.screen.heading == materials()[name].title


def kept():
    return recipes.read_shelf(recipes.read_file(paths.shelf()), str(paths.shelf()))


@pytest.mark.parametrize("size", SIZES, ids=lambda size: "x".join(map(str, size)))
async def test_a_figure_is_typed_on_the_keypad_and_saved_at_once(path, now, size):
    async with opened(now, path, size=size) as at:
        await to_material(at, SLOW)
        await choose(at, "pot life")
        assert isinstance(at.app.screen, ValueScreen)
        assert "now 40 min" in " ".join(at.text.split())
        await at.press("35E")
        await at.pilot.pause()
        assert kept()[SLOW].figures["pot_life"] == "35 min"
        assert kept()[SLOW].sheet.endswith("; own: pot_life")
        assert at.session.shelf[SLOW] == kept()[SLOW]
        words = " ".join(at.text.split())
        assert "Saved: pot life 35 min; also removed: pot life, second + pot temperature, second" in words
        told = [event.data for event in at.session.log.events() if event.kind == "shelf"]
        assert [(item["material"], item["figure"], item["was"], item["now"]) for item in told] == [
            (SLOW, "pot_life", "40 min", "35 min"),
            (SLOW, "pot_life_2", "61 min", None),
            (SLOW, "pot_temperature_2", "20 °C", None),
        ]
        await at.press("//")
        await at.pilot.pause()
        assert at.app.screen is at.app.bench
        await at.press("-")
        assert at.said == "nothing to undo"
        assert kept()[SLOW].figures["pot_life"] == "35 min"


async def test_an_odd_figure_is_asked_about_and_an_impossible_one_refused(path, now):
    async with opened(now, path) as at:
        await to_material(at, SLOW)
        await choose(at, "pot life")
        await at.press("2E")
        assert isinstance(at.app.screen, ValueScreen)
        assert "is that right?" in at.text
        await at.press("+0E")
        assert isinstance(at.app.screen, ValueScreen)
        assert "is not above 0 min" in at.text
        assert not paths.shelf().exists()
        await at.press("+/")
        await at.pilot.pause()
        assert at.app.screen.heading == materials()[SLOW].title
        assert not paths.shelf().exists()


async def test_a_ratio_is_typed_on_the_keypad(path, now):
    async with opened(now, path) as at:
        await to_material(at, SLOW)
        await choose(at, "ratio")
        assert isinstance(at.app.screen, ValueScreen)
        await at.press("100E")
        assert isinstance(at.app.screen, ValueScreen)
        assert "is not a ratio" in at.text
        await at.press("+++")
        await at.press(".100-41E")
        await at.pilot.pause()
        assert kept()[SLOW].figures["ratio"] == "100:41 by weight"


async def test_limits_the_wrong_way_round_are_told_and_not_saved(path, now):
    async with opened(now, path) as at:
        await to_material(at, SLOW)
        await choose(at, "recoat closes")
        await at.press("3E")
        await at.pilot.pause()
        words = " ".join(at.text.split())
        assert "Not saved: recoat_closes 3 h is below recoat_opens 4 h" in words
        assert not [event for event in at.session.log.events() if event.kind == "shelf"]
        assert not paths.shelf().exists()
        assert at.session.shelf[SLOW] == materials()[SLOW]


async def test_a_figure_is_taken_out_and_the_step_that_misses_it_told(path, now):
    async with opened(now, path, size=(120, 35)) as at:
        await to_material(at, SLOW)
        await choose(at, "Remove a figure")
        await at.pilot.pause()
        assert "pot life" not in [item.title for item in at.app.screen.items]
        await choose(at, "recoat closes")
        await at.pilot.pause()
        assert "recoat_closes" not in kept()[SLOW].figures
        words = " ".join(at.text.split())
        assert "Saved: recoat closes is now blank" in words
        assert "No figure yet for fillet: " in words
        assert "(recoat_closes)" in words


async def test_a_new_material_is_copied_named_and_edited_with_the_keypad_alone(path, now):
    async with opened(now, path) as at:
        await to_shelf(at)
        await choose(at, "New")
        await at.pilot.pause()
        await choose(at, materials()["foam-2lb"].title)
        await at.pilot.pause()
        assert isinstance(at.app.screen, NameScreen)
        await at.press("E")
        await at.pilot.pause()
        assert at.app.screen.heading == "Own foam 1"
        assert kept()["own-foam-1"].figures == materials()["foam-2lb"].figures
        await choose(at, "packing")
        await at.press("1.15E")
        await at.pilot.pause()
        assert kept()["own-foam-1"].figures["packing"] == "1.15"
        assert at.session.shelf["foam-2lb"] == materials()["foam-2lb"]
        await at.press("/")
        await at.pilot.pause()
        assert "Own foam 1" in [item.title for item in at.app.screen.items]


async def test_a_name_that_is_taken_is_told(path, now):
    async with opened(now, path) as at:
        await to_shelf(at)
        await choose(at, "New")
        await at.pilot.pause()
        await choose(at, materials()[SLOW].title)
        await at.pilot.pause()
        for key in "foam":
            await at.hands.press(key)
        await at.press("-2lbE")
        await at.pilot.pause()
        assert isinstance(at.app.screen, ChooseScreen)
        assert "There is already a material foam-2lb" in " ".join(at.text.split())
        assert not paths.shelf().exists()


async def test_the_sheet_is_typed_as_text_and_what_is_typical_stays_marked(path, now):
    async with opened(now, path) as at:
        await to_material(at, SLOW)
        await choose(at, "Data sheet and its date")
        await at.press("can,")
        await at.hands.post("space", " ")
        await at.press("2026-05-04E")
        await at.pilot.pause()
        assert kept()[SLOW].sheet == "typical but for own figures by can, 2026-05-04"
        await at.press("/")
        await at.pilot.pause()
        (item,) = [item for item in at.app.screen.items if item.key == SLOW]
        assert item.note.startswith("typical")


async def test_the_inch_system_begins_with_its_units_and_a_bar_takes_a_material_by_number(path, now):
    async with opened(now, path) as at:
        at.session.set("system", "inch", now())
        await to_material(at, "aluminium-25-x-3-mm")
        await choose(at, "width")
        assert at.entry.unit == "mm"
        await at.press("...")
        assert at.entry.unit == "in"
        await at.press("3/4E")
        await at.pilot.pause()
        await choose(at, "material")
        await at.pilot.pause()
        await choose(at, "brass")
        await at.pilot.pause()
        assert kept()["aluminium-25-x-3-mm"].figures["width"] == "3/4 in"
        assert kept()["aluminium-25-x-3-mm"].figures["material"] == "brass"


async def test_comments_that_cannot_stay_are_told_of_before_the_first_save(path, now, home):
    flow = (
        "# mine\nshelf: mine\nmaterials:\n  - {material: cloth-own, kind: cloth, title: Own cloth, sheet: made up,"
        " figures: {areal_weight: 200 g/m²}}\n"
    )
    (home / "shelf.yaml").write_text(flow, encoding="utf-8")
    async with opened(now, path) as at:
        for keys, after in (("2", flow), ("1", None)):
            await to_shelf(at)
            await choose(at, "Own cloth")
            await at.pilot.pause()
            await choose(at, "areal weight")
            await at.press("300E")
            await at.pilot.pause()
            assert "loses its comments" in " ".join(at.text.split())
            assert (home / "shelf.yaml").read_text(encoding="utf-8") == flow
            await at.press(keys)
            await at.pilot.pause()
            if after is not None:
                assert "Not saved" in at.text
                assert (home / "shelf.yaml").read_text(encoding="utf-8") == after
                assert not (home / "shelf.yaml.before").exists()
            await at.press("//")
            await at.pilot.pause()
        assert kept()["cloth-own"].figures["areal_weight"] == "300 g/m²"
        assert (home / "shelf.yaml.before").read_text(encoding="utf-8") == flow


@pytest.mark.parametrize("size", SIZES, ids=lambda size: "x".join(map(str, size)))
async def test_a_copy_is_marked_and_enter_confirms_one_figure_after_another(path, now, size):
    async with opened(now, path, size=size) as at:
        await to_shelf(at)
        await choose(at, "New")
        await at.pilot.pause()
        await choose(at, materials()["glass-200-plain"].title)
        await at.pilot.pause()
        await at.press("E")
        await at.pilot.pause()
        assert "borrowed from" in " ".join(at.text.split())
        await choose(at, "Check against your data sheet")
        await at.pilot.pause()
        assert isinstance(at.app.screen, ValueScreen)
        words = " ".join(at.text.split())
        assert f"now 200 g/m², borrowed from {materials()['glass-200-plain'].title}" in words
        assert "Enter keeps 200 g/m²" in words
        await at.press("E")
        await at.pilot.pause()
        assert "roll width" in at.text
        assert kept()["own-cloth-1"].borrowed == {"roll_width": "glass-200-plain"}
        await at.press("E")
        await at.pilot.pause()
        assert at.app.screen.heading == "Own cloth 1"
        assert kept()["own-cloth-1"].borrowed == {}
        assert "borrowed" not in at.text
