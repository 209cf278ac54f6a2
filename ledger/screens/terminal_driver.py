"""The terminal as it is: letters in its own codec, and left in order when the program is ended from outside."""

from __future__ import annotations

import asyncio
import contextlib
import os
import selectors
import signal
from codecs import getincrementaldecoder
from collections.abc import Callable

from textual._parser import ParseError
from textual._xterm_parser import XTermParser
from textual.drivers.linux_driver import LinuxDriver

from ledger.signs import terminal_encoding

_LOOK_SECONDS = 0.1
_MOST_BYTES = 4096


class TerminalDriver(LinuxDriver):
    """The library reads UTF-8 alone, and one byte that is none would end the program."""

    def run_input_thread(self) -> None:
        """Keys and pastes until the rooms are left; what is no letter in the terminal's codec is a question mark."""
        parser = XTermParser(self._debug)
        decoder = getincrementaldecoder(terminal_encoding(os.environ))("replace")
        with selectors.SelectSelector() as selector:
            selector.register(self.fileno, selectors.EVENT_READ)
            while not self.exit_event.is_set():
                if selector.select(_LOOK_SECONDS):
                    read = os.read(self.fileno, _MOST_BYTES)
                    if not read:  # the terminal is gone
                        break
                    for event in parser.feed(decoder.decode(read)):
                        self.process_message(event)
                for event in parser.tick():
                    self.process_message(event)
        with contextlib.suppress(EOFError, ParseError):
            for _ in parser.feed(""):
                pass


def leave_when_told(leave: Callable[[], object]) -> None:
    """When the system ends the program, or its window is closed, it leaves as with its own key."""
    loop = asyncio.get_running_loop()
    for each in (signal.SIGTERM, signal.SIGHUP):
        # Only the main thread is told.
        with contextlib.suppress(RuntimeError, ValueError):
            loop.add_signal_handler(each, leave)
