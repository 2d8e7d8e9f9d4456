"""A full face of a panel sheathed in glass from start to end by keypad, in the real program."""

from __future__ import annotations

from contextlib import closing
from pathlib import Path

import pytest

from shopmate.session import FinishedView, find_recipe
from terminal.follower import Follower

pytestmark = [pytest.mark.slow, pytest.mark.filterwarnings("ignore:.*multi-threaded.*fork:DeprecationWarning")]


def test_a_full_face_is_glassed_in_one_seal_coat_and_no_hold_point_is_passed_by(home: Path) -> None:
    with closing(Follower(home, {})) as follower:
        follower.begin(find_recipe("glassing").title)
        follower.follow()
        assert isinstance(follower.view, FinishedView)
        run = follower.session.run
        assert (run.values["length"].text, run.values["width"].text) == ("2.44 m", "1.22 m")
        assert run.overrides == {}, "a hold point was passed with a reason"
        assert follower.turns["Seal coat"] == 1
        poured = run.values["seal_mixed"].quantity
        assert poured is not None
        assert poured.value_in("g") > 300
        assert not [clock.title for clock in follower.session.clocks if clock.kind == "DO BEFORE"]
        follower.terminal.until_shown("other work")
        shown = follower.terminal.picture
        assert "Panel 1 is now sheathed" in shown
        assert "Epoxy 2:1 by volume, slow" in shown.partition("Used:")[2]
        assert " weighed" in shown.partition("Used:")[2]
