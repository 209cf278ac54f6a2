"""A real terminal: tmux holds it, so that its screen can be read, and a shell is in it before and after."""

from __future__ import annotations

import os
import shlex
import shutil
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

from tests.structure.tree import CHECKOUT

TMUX = shutil.which("tmux")
# How long a slow machine may take for one step; what is waited for is looked at twenty times a second.
LONGEST_WAIT_SECONDS = 60.0
_PROMPT = "counter> "


class Terminal:
    """One tmux session with a shell in it, on a server of its own."""

    def __init__(self, socket: Path, width: int, height: int) -> None:
        self.socket = socket
        # Where these two are set the program believes them, whatever size the window has.
        outside = {name: value for name, value in os.environ.items() if name not in ("COLUMNS", "LINES")}
        environment = {**outside, "LC_ALL": "C.UTF-8", "TERM": "xterm-256color"}
        size = ("-x", str(width), "-y", str(height))
        command = [str(TMUX), "-u", "-S", str(socket), "-f", os.devnull, "new-session", "-d", *size, "exec /bin/sh"]
        subprocess.run(command, env=environment, cwd=CHECKOUT, check=True)
        wait_until(self.screen, lambda screen: bool(screen.strip()), "the shell's own prompt")
        self.type(f"PS1='{_PROMPT}'")
        self.keys("Enter")
        self.wait_for_prompt()

    def tmux(self, *words: str) -> str:
        command = [str(TMUX), "-S", str(self.socket), *words]
        return subprocess.run(command, capture_output=True, encoding="utf-8", check=True).stdout

    def screen(self) -> str:
        return self.tmux("capture-pane", "-p")

    def keys(self, *keys: str) -> None:
        """All of them at once, as a slow line delivers them; names such as Enter and Escape are those of tmux."""
        self.tmux("send-keys", *keys)

    def type(self, text: str) -> None:
        self.tmux("send-keys", "-l", text)

    def command(self, line: str) -> None:
        """A line for the shell, once it waits for one."""
        self.wait_for_prompt()
        self.type(line)
        self.keys("Enter")

    def open_rooms(self, *words: str) -> None:
        """Our program, typed at the prompt, by the Python that runs the tests."""
        self.command(shlex.join([sys.executable, "-m", "ledger.cli", *words]))

    def resize(self, width: int, height: int) -> None:
        self.tmux("resize-window", "-x", str(width), "-y", str(height))

    def wait_for(self, *words: str) -> str:
        """The screen, once all these words stand on it."""
        return wait_until(self.screen, lambda screen: all(each in screen for each in words), words)

    def wait_for_prompt(self) -> str:
        """The screen, once the shell waits for a command again."""
        return wait_until(self.screen, lambda screen: screen.rstrip().endswith(f"\n{_PROMPT.rstrip()}"), "the prompt")

    def state(self) -> dict[str, str]:
        """What a program may leave behind in a terminal."""
        names = ("alternate_on", "cursor_flag", "mouse_any_flag", "keypad_flag", "keypad_cursor_flag", "insert_flag")
        values = self.tmux("display-message", "-p", " ".join(f"#{{{name}}}" for name in names)).split()
        return dict(zip(names, values, strict=True))

    def line_settings(self) -> str:
        """How the shell's line is set: echo, line editing, what Ctrl+C does."""
        mark = f"settings-{time.monotonic_ns()}"
        self.command(f"clear; stty -a; echo {mark}")
        return self.wait_for(f"\n{mark}").rpartition(mark)[0]


def wait_until(read: Callable[[], str], is_there: Callable[[str], bool], what: object) -> str:
    last = time.monotonic() + LONGEST_WAIT_SECONDS
    while not is_there(seen := read()):
        assert time.monotonic() < last, f"{what} did not come:\n{seen}"
        time.sleep(0.05)
    return seen


@contextmanager
def terminal(folder: Path, width: int = 80, height: int = 24) -> Iterator[Terminal]:
    """A terminal with a shell; its server is stopped in the end. folder: for its socket."""
    socket = folder / "tmux"
    try:
        yield Terminal(socket, width, height)
    finally:
        subprocess.run([str(TMUX), "-S", str(socket), "kill-server"], capture_output=True, check=False)
