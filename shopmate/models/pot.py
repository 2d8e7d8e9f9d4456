"""A pot of mixed epoxy: what is too big for one."""

from __future__ import annotations

from shopmate.calculator import Source

BIG_POT = 500.0
"""Mass of mixed epoxy in g over which one pot warms itself noticeably and goes off early [common practice]."""

BIG_POT_SOURCE = Source("500 g of mixed epoxy as a big pot: over it one warms itself and goes off early", "common practice")
