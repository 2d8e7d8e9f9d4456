"""A recipe followed to its end by keypad as it asks, with nothing known of it beforehand."""

from __future__ import annotations

from contextlib import closing
from pathlib import Path

import pytest

from shopmate.session import FinishedView, find_recipe
from terminal.follower import Follower

pytestmark = [pytest.mark.slow, pytest.mark.filterwarnings("ignore:.*multi-threaded.*fork:DeprecationWarning")]


def test_a_recipe_is_followed_to_its_end_by_what_it_asks(home: Path) -> None:
    with closing(Follower(home, {})) as follower:
        follower.begin(find_recipe("surface-prep").title)
        follower.follow()
        assert isinstance(follower.view, FinishedView)
        follower.terminal.until_shown("other work")
        assert follower.session.run.finished_at is not None
        assert not follower.session.run.for_later
        assert "DO BEFORE" not in {clock.kind for clock in follower.session.clocks}, "a clock is left to ring for nothing"
        assert len(follower.screens) > 1
