"""What one person's hands push and pull: limits that decide whether a roof or a lid can be moved."""

from __future__ import annotations

from shopmate.calculator import Source

PUSH = 100.0
"""Force in N that one person should push up with at the most, standing: two arms at 50 N each [read; doubling is ours]."""

PULL = 145.0
"""Force in N that one person should pull with at the most, standing, with the whole body [read]."""

PUSH_SOURCE = Source(
    "EN 1005-3, basic force, one arm up 50 N: from a page that tables it; two arms at twice that is an assumption", "read"
)
PULL_SOURCE = Source("EN 1005-3, basic force, whole body standing, level pull 145 N: from a page that tables it", "read")
