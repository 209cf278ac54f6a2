"""Keys that arrive in one burst are taken one after the other.

A slow connection delivers several keystrokes at once. Left alone, each would go to whatever has the focus on arrival,
so that the Enter after a letter is lost while the letter's form is still being made.
"""

from __future__ import annotations

import asyncio
import contextlib
from collections import deque
from typing import Any

from textual import events
from textual.app import App
from textual.message import Message
from textual.message_pump import MessagePump

# Longest wait for one key to have had its effect; a form that reads the disk may take as long.
_LONGEST_WAIT_SECONDS = 1.0
_ROUNDS = 3


class KeysInOrder(App[Any]):
    """An app that hands on a key only when the one before it has had its effect."""

    def __init__(self, *arguments: Any, **settings: Any) -> None:
        super().__init__(*arguments, **settings)
        self._waiting_keys: deque[events.Key] = deque()
        self._settling: asyncio.Task[None] | None = None

    def post_message(self, message: Message) -> bool:
        if not isinstance(message, events.Key) or message.is_forwarded or self.is_headless:
            return super().post_message(message)
        if self._settling is not None:
            self._waiting_keys.append(message)
            return True
        sent = super().post_message(message)
        self._settling = asyncio.create_task(self._hand_on())
        return sent

    async def _hand_on(self) -> None:
        try:
            while True:
                with contextlib.suppress(TimeoutError):
                    await asyncio.wait_for(self._settled(), _LONGEST_WAIT_SECONDS)
                if not self._waiting_keys:
                    return
                super().post_message(self._waiting_keys.popleft())
        finally:
            self._settling = None

    async def _settled(self) -> None:
        """Until the app, the screen and what has the focus have worked off what they were sent."""
        for _ in range(_ROUNDS):
            for pump in (self, self.focused, self.screen):
                if pump is not None:
                    await _worked_off(pump)


async def _worked_off(pump: MessagePump) -> None:
    done = asyncio.Event()
    if pump.call_later(done.set):
        await done.wait()
