"""How an application ends that was not left: by a signal, with its terminal, by a fault, and what is kept of that."""

from __future__ import annotations

import asyncio
import sys

from rich.console import RenderableType
from textual.app import App
from textual.driver import Driver

from shopmate import channels

if sys.platform != "win32":
    from shopmate.tui.driver import SturdyDriver


class SturdyApp(App[None]):
    """An application that ends when a signal asks or its terminal is gone, and that closes on a fault without a word."""

    fault: Exception | None = None
    """What ended the program though nobody asked to leave."""

    ended_by: int | None = None
    """The signal that asked the program to end."""

    _ends_on: asyncio.AbstractEventLoop | None = None
    """The loop that the end is handed to."""

    def get_driver_class(self) -> type[Driver]:
        """Return the terminal's driver."""
        return super().get_driver_class() if sys.platform == "win32" else SturdyDriver

    def leave(self) -> None:
        """End the program."""
        raise NotImplementedError

    def on_load(self) -> None:
        self._ends_on = asyncio.get_running_loop()
        if self.ended_by is not None:
            self.leave()

    def end_by(self, number: int) -> None:
        """End without asking, as a signal asks for; called in the midst of anything."""
        self.ended_by = number
        if self._ends_on is not None:
            self._ends_on.call_soon_threadsafe(self.leave)

    def terminal_gone(self) -> None:
        """End without asking: nobody is there who could be asked."""
        self.leave()

    def end_at_once(self) -> None:
        """Do the least before an end that waits for nothing: no sound goes on, and the terminal shows again what is typed."""
        channels.end_commands()
        if sys.platform != "win32" and isinstance(self._driver, SturdyDriver):
            self._driver.put_back()

    def _handle_exception(self, error: Exception) -> None:
        """Close on a fault of ours and keep it: the command line writes the report, the terminal shows no traceback."""
        self.fault = self.fault or error
        super()._handle_exception(error)
        self._exit_renderables.clear()

    def panic(self, *renderables: RenderableType) -> None:
        """Close as the framework asks when its own terminal thread fails, and keep that as a fault."""
        self.fault = self.fault or RuntimeError("the terminal's thread failed")
        super().panic(*renderables)
        self._exit_renderables.clear()
