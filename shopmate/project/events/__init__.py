"""The kinds of events that the log of a project holds, each a class in the file of what changes with it."""

from shopmate.project.events import clocks, noted, planned, steps, work
from shopmate.project.events.event import KINDS, Happened, Lost, Recorded, Unknown, read

__all__ = ["KINDS", "Happened", "Lost", "Recorded", "Unknown", "clocks", "noted", "planned", "read", "steps", "work"]
