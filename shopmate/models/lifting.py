"""How far a panel keeps the hands from the body, what its reach leaves of a lift, and what a team may lift together."""

from __future__ import annotations

import math
from collections.abc import Sequence

from shopmate.calculator import Source
from shopmate.models.constants import LOAD_CONSTANT

TEAM_SOURCE = Source(
    "National safety body's guidance on manual handling, paras 119 and 120: two people two thirds of the sum of what each may, "
    "three people half of it, teams above four rarely work; a railway page works 20 kg each to about 26.6 kg",
    "read",
)
REACH_SOURCE = Source("NIOSH manual: hands before the ankles 20 + W/2 cm, or 25 + W/2 below 25 cm of height", "memory")
EDGES_SOURCE = Source("Two people at opposite edges: 25 to 30 cm each, whatever the width", "computed")

NEAR = 25.0
"""Distance of the hands in cm under which nothing is gained: NIOSH 94-110 [memory]. No threshold: HM stays 1 there."""

FAR = 63.0
"""Distance of the hands in cm beyond which the limit is 0: NIOSH 94-110 [memory]."""

AT_AN_EDGE = 30.0
"""Distance of the hands in cm of people at opposite edges of a panel, the farther end of 25 to 30 [computed]."""

_BODY, _BODY_LOW = 20.0, 25.0
"""What the body adds to half the depth of a panel in cm: hands at 25 cm or more over the floor, and below [memory]."""

LOW = 25.0
"""Height of the hands in cm below which the knees are in the way: NIOSH manual [memory]. No threshold: the reach turns there."""

BARE_EDGE = 0.95
"""Coupling multiplier of an edge that fingers close round, as of a panel: NIOSH 94-110 table 7 [memory]."""

TEAM_FACTORS = {1: 1.0, 2: 2 / 3, 3: 1 / 2, 4: 1 / 2}
"""Part of the sum of the single limits by people: guidance of a national safety body [read]; none is published for four, who
get that of three [ours]. No threshold: larger teams are refused."""

OTHER_WAYS = "use a hoist, or move it without lifting: slide it on battens, tilt it over one edge, roll it on pipes or a trolley"
"""What is left where people are not enough."""


def horizontal(distance: float) -> float:
    """Return HM for hands that many cm before the ankles: 25/H, at most 1, and 0 beyond 63 cm (NIOSH 94-110) [read]."""
    return 0.0 if distance > FAR else NEAR / max(NEAR, distance)


def reach_alone(depth: float, height: float) -> tuple[float, float]:
    """Return how many cm before the ankles one person's hands are, and what of it is the body.

    The panel is `depth` cm deep, held flat by its near edge and from beneath, the hands `height` cm over the floor.
    """
    body = _BODY_LOW if height < LOW else _BODY
    return body + depth / 2, body


def team_limit(limits: Sequence[float]) -> float | None:
    """Return what people may lift together of whom each may lift one of `limits` alone; None for teams without a factor."""
    factor = TEAM_FACTORS.get(len(limits))
    return None if factor is None else factor * math.fsum(limits)


def fewest(mass: float, alone: float, each: float) -> int | None:
    """Return how many people it takes for `mass`, of whom one may lift `alone`, and in a team `each`; None where four cannot.

    All three are in one unit.
    """
    for people in TEAM_FACTORS:
        together = alone if people == 1 else team_limit([each] * people)
        if together is not None and mass <= together:
            return people
    return None


def flat_panel(depth: float) -> tuple[float, float]:
    """Return what one person may lift of a flat panel that is `depth` cm deep, and each of several at opposite edges, in kg.

    At best otherwise: from 75 cm, no more than 25 cm up, seldom.
    """
    reach, _ = reach_alone(depth, LOW)
    best = LOAD_CONSTANT * BARE_EDGE
    return best * horizontal(reach), best * horizontal(AT_AN_EDGE)
