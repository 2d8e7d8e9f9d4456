"""What is read before a run on screens of all sizes: nothing of it is cut, Enter begins it, 1 plans it, - goes back."""

import pytest
from conftest import EVERY_STEP
from tui_bench import SIZES, opened

from shopmate.session import find_recipe
from shopmate.tui.screens.ready import ReadyScreen


@pytest.fixture
def path(small, home):
    (home / "recipes").mkdir(parents=True)
    (home / "recipes" / EVERY_STEP.name).write_bytes(EVERY_STEP.read_bytes())
    small.close()
    return small.log.path


async def to_the_page(at, recipe):
    """Go from the bench to what is read before a recipe is begun on a new panel."""
    await at.press("/.")
    for words in ("Start a recipe", "New: Panel", recipe):
        items = at.app.screen.items
        (found,) = [number for number, item in enumerate(items, 1) if words in item.title]
        await at.press(f"{found:0{len(str(len(items)))}d}")
    assert isinstance(at.app.screen, ReadyScreen)


@pytest.mark.parametrize("size", SIZES)
async def test_every_word_of_it_is_on_one_of_its_pages(path, now, size):
    recipe = find_recipe("glassing")
    async with opened(now, path, size) as at:
        await to_the_page(at, recipe.title)
        told = at.session.before("Panel 2", recipe, {}, now())
        pages = len(at.app.screen.pages())
        read = []
        for _ in range(pages):
            read += at.text.split()
            if pages > 1:
                await at.press("+")
        assert at.app.screen.page == 0
        for line in told:
            assert " ".join(line.split()) in " ".join(read) or all(word in read for word in line.split()), line


async def test_minus_goes_back_and_records_nothing(path, now):
    async with opened(now, path) as at:
        events = len(at.session.log.events())
        await to_the_page(at, "Sheathe")
        await at.press("-")
        assert at.app.screen is at.app.bench
        assert len(at.session.log.events()) == events


async def test_a_run_is_planned_by_digits_and_begun_from_the_list_by_two_keys(path, now):
    async with opened(now, path) as at:
        await to_the_page(at, "Try every kind")
        # Plan it; the glue and the resin used as a rule; 3 coats of 1.2 m.
        for keys in ("1", "1", "1", "3E", "1200E"):
            await at.press(keys)
        assert at.app.screen is at.app.bench
        (plan,) = at.session.project.plans.values()
        assert (plan.part, plan.answers["coats"]) == ("Panel 2", "3")
        await at.press("/.")
        (number,) = [number for number, item in enumerate(at.app.screen.items, 1) if item.note == "planned"]
        assert len(at.app.screen.items) <= 9
        await at.press(f"{number}E")
        assert (at.session.run.part, at.session.run.offered["coats"]) == ("Panel 2", "3")
        assert at.session.project.plans == {}
