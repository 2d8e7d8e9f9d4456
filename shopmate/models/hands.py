"""How hard one person can push and pull by hand: the limits for moving a roof or a lid."""

from __future__ import annotations

from shopmate.calculator import Source

PUSH = 100.0
"""Maximum push upwards for one person standing, N: two arms at 50 N each [read; doubling it is our own choice]."""

PULL = 145.0
"""Maximum pull for one person standing, with the whole body, N [read]."""

PUSH_SOURCE = Source(
    "EN 1005-3, basic force, one arm up 50 N: from a page that lists it; twice that for two arms is an assumption", "read"
)
PULL_SOURCE = Source("EN 1005-3, basic force, whole body standing, level pull 145 N: from a page that lists it", "read")
