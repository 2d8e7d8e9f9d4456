"""The kinds of events that the log of a project holds, each a class in the file of what changes with it."""

from shopmate.project.events import clocks, noted, steps, work
from shopmate.project.events.event import KINDS, Happened, Lost, Recorded, Unknown, read

__all__ = ["KINDS", "Happened", "Lost", "Recorded", "Unknown", "clocks", "noted", "read", "steps", "work"]
