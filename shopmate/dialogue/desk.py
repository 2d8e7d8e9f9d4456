"""What a dialogue needs of the place it is held at: the open project and the time."""

from __future__ import annotations

from datetime import datetime
from typing import Protocol

from shopmate.session import Session


class Desk(Protocol):
    """Where a dialogue is held."""

    @property
    def session(self) -> Session:
        """The open project."""

    def now(self) -> datetime:
        """Return the time, aware."""
