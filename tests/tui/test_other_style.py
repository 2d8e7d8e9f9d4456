"""A recipe in another style than the shipped ones: all of it can be read and worked, at every size."""

from pathlib import Path

import pytest
from tui_bench import SIZES, opened

from shopmate import recipe as recipes
from shopmate import session as sessions
from shopmate.session import CautionView, Session

OTHER_STYLE = Path(__file__).parents[1] / "recipes" / "good" / "other-style.yaml"


@pytest.mark.parametrize("size", SIZES, ids=lambda size: "x".join(map(str, size)))
async def test_what_the_style_would_have_shorter_is_shown_and_done_all_the_same(home, now, size):
    session = Session.create(sessions.project_path("Frame"), "Frame", now(), sessions.shelf())
    session.begin(session.add_part("Panel 1", now()), recipes.load(OTHER_STYLE), now())
    session.close()
    async with opened(now, session.log.path, size) as at:
        await at.step()
        await at.step()
        while isinstance(at.view, CautionView):
            await at.step()
        shown = " ".join(at.text.split())
        assert "whatever comes out of it" in shown
        assert "Two." in shown
        await at.to("Recipe complete")
