"""What an application is spared by its terminal, and what is left of a fault once it has closed."""

from __future__ import annotations

from contextlib import suppress

from rich.console import RenderableType
from textual.app import App
from textual.driver import Driver


class SturdyApp(App[None]):
    """An application that bytes which mean no key do not end, and that closes on a fault without a word."""

    fault: Exception | None = None
    """What ended the program though nobody asked to leave."""

    def get_driver_class(self) -> type[Driver]:
        """Return the terminal's driver, made to drop bytes that mean no key, which otherwise end the program."""

        class Steady(super().get_driver_class()):  # type: ignore[misc]
            def run_input_thread(self) -> None:
                while True:
                    with suppress(ValueError, OverflowError):  # of its parser, which begins anew; ValueError also of its decoder
                        super().run_input_thread()
                        return

        return Steady

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
