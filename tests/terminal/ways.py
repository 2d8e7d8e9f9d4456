"""How each shipped recipe is followed by keys, and the most keys that it may take."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import timedelta

from shopmate.records import dataclass, field
from terminal.follower import PACE


@dataclass(frozen=True)
class Way:
    """How a recipe is followed, and the most keys that it may take."""

    most: int = 300
    """About a quarter more than it takes; of a recipe that is not in the table, what the longest ones take."""
    answers: Mapping[str, str] = field(default_factory=dict)
    """What is answered otherwise than offered or expected, by the name the value is kept under."""
    pace: timedelta = PACE


WAYS = {
    "assembly": Way(200),
    "bonding": Way(75),
    "door": Way(150),
    "edges": Way(40),
    "end-of-day": Way(50),
    "fillet": Way(140),
    "foam-core": Way(310, pace=timedelta(seconds=20)),  # the cup is poured within 45 s
    "foam-tape": Way(75),
    "frame": Way(115),
    "glassing": Way(245),
    "holes": Way(105),
    "latches": Way(105),
    "opening": Way(190),
    "overhead": Way(310),
    "paint": Way(275),
    "proving": Way(115),
    "repair": Way(85),
    "roof-glass": Way(210),
    "seal": Way(100),
    "seam": Way(145),
    "sections": Way(195),
    "skins": Way(115),
    "slides": Way(125),
    "struts": Way(160, {"stroke": "400", "long": "850", "prop": "2500", "latch": "500"}),
    "surface-prep": Way(40),
    "yearly-check": Way(55),
}
