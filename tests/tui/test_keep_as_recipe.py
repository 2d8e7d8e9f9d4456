"""A finished run kept as a recipe of one's own by the keys of a keypad."""

from conftest import BEGAN
from tui_bench import opened

from shopmate import recipe as recipes
from shopmate.session import FinishedView
from shopmate.session.demo import follow


async def test_a_finished_run_is_kept_as_a_recipe_on_the_screen(small, now, home):
    now.at = follow(small, BEGAN, {"Give the length": "4 ft"}, until=lambda view: isinstance(view, FinishedView))
    small.close()
    async with opened(now, small.log.path) as at:
        assert "save as recipe" in at.text
        await at.press("0E")
        assert "Written to" in at.text
    kept = recipes.load(home / "recipes" / "every-step.yaml")
    assert {act.into: act.default for act in kept.acts if isinstance(act, recipes.Ask)}["length"] == "4 ft"
