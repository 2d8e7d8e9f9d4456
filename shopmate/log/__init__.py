"""The log of a project, append-only, and beside it what is being typed: one SQLite file, on disk before anyone sees it."""

from shopmate.log.chain import LOST, Damage, Event, named
from shopmate.log.file import SUFFIX, Log

__all__ = ["LOST", "SUFFIX", "Damage", "Event", "Log", "named"]
