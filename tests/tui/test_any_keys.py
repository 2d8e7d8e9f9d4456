"""Keys pressed without sense: nothing breaks, nothing is covered, the key line stays true, and the file tells the same story."""

import random
from itertools import pairwise

import pytest
from tui_bench import SIZES, opened

from shopmate.project.events import read
from shopmate.project.fold import fold
from shopmate.session import FinishedView, events_of
from shopmate.tui.widgets.key_line import KeyLine

KEYS = "0123456789./*-+" + "E" * 10 + "*"


@pytest.mark.parametrize(("seed", "size"), list(enumerate(SIZES)), ids=lambda value: str(value))
async def test_any_keys(small, now, seed, size):
    choose = random.Random(seed)
    small.close()
    async with opened(now, small.log.path, size) as at:
        for _ in range(70):
            if choose.random() < 0.05:
                await at.tick(minutes=choose.choice([1, 5, 30, 600]))
            elif choose.random() < 0.5 and at.app.screen is at.app.bench and at.view and not isinstance(at.view, FinishedView):
                await at.step()
            else:
                await at.press(choose.choice(KEYS))
            if at.app._exit:
                break
            holds(at)
        if at.app.has_session:
            assert fold([read(event) for event in events_of(at.session.log.path)], at.session.log.path.stem) == at.session.project


def holds(at):
    screen = at.app.screen
    assert screen.query_one(KeyLine).region.bottom == at.size[1]
    rows = sorted((widget for widget in screen.children if widget.display and widget.region.height), key=lambda w: w.region.y)
    for upper, lower in pairwise(rows):
        assert upper.region.bottom <= lower.region.y, f"{lower} covers {upper}\n{at.text}"
    offered = [(offer.key, offer.word) for offer in screen.offers() if offer.word]
    acknowledge = [] if any(key == "asterisk" for key, _ in offered) or not at.app.alarm_waits else [("asterisk", "seen")]
    assert at.shown == [*offered, *acknowledge]
