"""How far a panel keeps your hands from your body, how much that lowers the lifting limit, and what a team may lift."""

from __future__ import annotations

import math
from collections.abc import Sequence

from shopmate.calculator import Source
from shopmate.models.constants import LOAD_CONSTANT

TEAM_SOURCE = Source(
    "National safety body's guidance on manual handling, paras 119 and 120: two people may lift two thirds of the sum of their "
    "own limits, three people half of it, and teams of more than four rarely work; a railway page gives 26.6 kg for 20 kg each",
    "read",
)
REACH_SOURCE = Source(
    "NIOSH manual: hands 20 + W/2 cm in front of the ankles, or 25 + W/2 cm with the hands below 25 cm", "memory"
)
EDGES_SOURCE = Source("Two people at opposite edges: hands 25 to 30 cm in front of the ankles, whatever the width", "computed")

NEAR = 25.0
"""Reach in cm below which a shorter reach makes no difference: NIOSH 94-110 [memory]. No Threshold needed: HM stays 1 there."""

FAR = 63.0
"""Reach in cm beyond which the limit is 0: NIOSH 94-110 [memory]."""

AT_AN_EDGE = 30.0
"""Reach in cm of people at opposite edges of a panel, the upper end of 25 to 30 [computed]."""

_BODY, _BODY_LOW = 20.0, 25.0
"""What the body adds to half the depth of a panel in cm, with the hands 25 cm or more above the floor, and lower down
[memory]."""

LOW = 25.0
"""Height of the hands in cm below which the knees are in the way: NIOSH manual [memory]. No Threshold needed: it selects the
reach."""

BARE_EDGE = 0.95
"""Coupling multiplier for an edge the fingers can close round, such as that of a panel: NIOSH 94-110 table 7 [memory]."""

TEAM_FACTORS = {1: 1.0, 2: 2 / 3, 3: 1 / 2, 4: 1 / 2}
"""Share of the sum of the individual limits by number of people: guidance of a national safety body [read]; none is published for
four, so they get the share for three (our choice). No Threshold needed: larger teams are refused."""

OTHER_WAYS = "use a hoist, or move it without lifting: slide it on battens, tilt it over one edge, roll it on pipes or a trolley"
"""What to do if there are not enough people."""


def horizontal(distance: float) -> float:
    """Return HM for hands `distance` cm in front of the ankles: 25/H, no more than 1, 0 beyond 63 cm (NIOSH 94-110) [read]."""
    return 0.0 if distance > FAR else NEAR / max(NEAR, distance)


def reach_alone(depth: float, height: float) -> tuple[float, float]:
    """Return how far in front of the ankles one person's hands are, and how much of that the body adds, both in cm.

    The panel is `depth` cm deep, held flat by its near edge and from below, with the hands `height` cm above the floor.
    """
    body = _BODY_LOW if height < LOW else _BODY
    return body + depth / 2, body


def team_limit(limits: Sequence[float]) -> float | None:
    """Return what a team may lift together, from each person's own limit; None for a team size without a factor."""
    factor = TEAM_FACTORS.get(len(limits))
    return None if factor is None else factor * math.fsum(limits)


def fewest(mass: float, alone: float, each: float) -> int | None:
    """Return the fewest people who may lift `mass`; None where four may not.

    One person may lift `alone`, or `each` in a team; all in one unit.
    """
    for people in TEAM_FACTORS:
        together = alone if people == 1 else team_limit([each] * people)
        if together is not None and mass <= together:
            return people
    return None


def flat_panel(depth: float) -> tuple[float, float]:
    """Return the kg of a flat panel `depth` cm deep that one person may lift, and that each of several at opposite edges may.

    In everything else the lift is the easiest: from 75 cm, no more than 25 cm up, seldom.
    """
    reach, _ = reach_alone(depth, LOW)
    best = LOAD_CONSTANT * BARE_EDGE
    return best * horizontal(reach), best * horizontal(AT_AN_EDGE)
