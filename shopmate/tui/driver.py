"""The terminal's driver: it outlives bytes that mean no key, goes on well after a stop, and says when its terminal is gone."""

from __future__ import annotations

import asyncio
import os
import select
import signal
import termios
from codecs import getincrementaldecoder
from contextlib import suppress
from typing import Any, Protocol, cast

from textual._xterm_parser import XTermParser
from textual.app import App
from textual.drivers.linux_driver import LinuxDriver

_MOST = 4096
"""Bytes read at once."""

_TICK = 0.1
"""Seconds after which the parser is asked whether an escape by itself was the key of that name."""


class AtTerminal(Protocol):
    """The application, as the driver of its terminal knows it."""

    def terminal_gone(self) -> None:
        """End: nobody is there any more who could see or type."""


class SturdyDriver(LinuxDriver):
    """Reads keys and draws; what befalls its terminal is told to the application or mended."""

    def __init__(self, app: App[Any], *, debug: bool = False, mouse: bool = True, size: tuple[int, int] | None = None) -> None:
        super().__init__(app, debug=debug, mouse=mouse, size=size)
        self._stopped = False
        """Whether the terminal was handed back before a stop."""
        # Between two callbacks, not in the midst of one: the writer's queue cannot be entered twice.
        loop = asyncio.get_running_loop()
        loop.add_signal_handler(signal.SIGTSTP, self._stop)
        loop.add_signal_handler(signal.SIGCONT, self._continue)

    def _stop(self) -> None:
        """Hand the terminal back as it was and stop."""
        self.suspend_application_mode()
        self._stopped = True
        os.kill(os.getpid(), signal.SIGSTOP)

    def _continue(self) -> None:
        """Take the terminal up again after a stop and draw all anew; somebody else had it meanwhile.

        After a stop that nobody could foresee it is handed back first, so that what is put back at the end is not our own.
        """
        if not os.isatty(self.fileno):
            return  # the system continues who is stopped when it takes the terminal away
        if not self._stopped:
            self.suspend_application_mode()
        self._stopped = False
        self.resume_application_mode()
        self._app.refresh(layout=True)

    def write(self, data: str) -> None:
        """Draw, unless what draws has found the terminal gone: its queue would fill and never empty."""
        if self._writer_thread is not None and self._writer_thread.is_alive():
            super().write(data)

    def put_back(self) -> None:
        """Let the terminal treat what is typed as it did before, drawing nothing."""
        if self.attrs_before is not None:
            with suppress(termios.error):
                termios.tcsetattr(self.fileno, termios.TCSANOW, self.attrs_before)

    def run_input_thread(self) -> None:
        """Read keys until told to end, or until the terminal is gone."""
        decode = getincrementaldecoder("utf-8")("ignore").decode
        parser = XTermParser(self._debug)
        while not self.exit_event.is_set():
            try:
                if select.select([self.fileno], [], [], _TICK)[0]:
                    read = self._read()
                    if read is None:
                        self._loop.call_soon_threadsafe(cast(AtTerminal, self._app).terminal_gone)
                        return
                    if text := decode(read):  # no text at all is the end of it to a parser
                        for event in parser.feed(text):
                            self.process_message(event)
                for event in parser.tick():
                    self.process_message(event)
            except (ValueError, OverflowError):  # of the parser, by bytes that mean no key
                parser = XTermParser(self._debug)

    def _read(self) -> bytes | None:
        """Return what was typed, None where the terminal is gone; an empty read of one that is there is a control-D."""
        try:
            read = os.read(self.fileno, _MOST)
        except OSError:
            read = b""
        return read if read or os.isatty(self.fileno) else None
