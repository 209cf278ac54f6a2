"""What is told: sentences above the line of keys, in a place of their own, so that they cover nothing.

A sentence stays until a key is pressed after the time that it takes to read, or the next act begins; so nothing is gone
before somebody who was at the machine has seen it. What was told lately can be read again by its page.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Mapping
from typing import Any

from textual import events
from textual.notifications import Notification, SeverityLevel
from textual.widgets import DataTable

from ledger.screens.keys import KeyLine
from ledger.screens.program import Program
from ledger.screens.room_words import acts_for_commands
from ledger.text import shown

_LEAST_SECONDS = 4.0
# A long sentence stays long enough to be read beside a customer.
_READING_SECONDS_A_LETTER = 0.08
# The library forgets a notice by the clock; ours go by the keys.
_A_DAY_SECONDS = 86_400.0
_REMEMBERED = 50
# Black letters on it are read in every set of colours; the mark says the same without colour.
_LOOKS: Mapping[SeverityLevel, tuple[str, str]] = {
    "information": ("", "$background on $success"),
    "warning": ("! ", "$background on $warning"),
    "error": ("!! ", "$background on $error"),
}


class TellingProgram(Program):
    """An app that tells in the line of keys of whatever is on top."""

    def __init__(self, *arguments: Any, **settings: Any) -> None:
        super().__init__(*arguments, **settings)
        self.told_lately: deque[str] = deque(maxlen=_REMEMBERED)

    def tell(self, sentence: str, severity: SeverityLevel = "information") -> None:
        """A sentence above the keys. Text in it is text. What stands there already is not told twice."""
        words = shown(sentence if severity == "information" else acts_for_commands(sentence))
        if severity == "error" and any(each.message == words for each in self._notifications):
            return
        self.told_lately.append(words)
        self.notify(words, severity=severity, markup=False, timeout=_A_DAY_SECONDS)

    async def on_event(self, event: events.Event) -> None:
        if isinstance(event, events.Key) and not event.is_forwarded:
            self._let_go_of_what_was_read()
        await super().on_event(event)

    def _let_go_of_what_was_read(self) -> None:
        read = [each for each in self._notifications if each.timeout - each.time_left >= reading_seconds(each)]
        for each in read:
            self._unnotify(each, refresh=False)
        if read:
            self._refresh_notifications()

    def _refresh_notifications(self) -> None:
        """In place of the library's boxes over the room."""
        self.notices = tuple(_look(each) for each in self._notifications)
        if not self.is_running or not self.screen_stack:
            return
        has_changed = [line.tell(self.notices) for line in self.screen.query(KeyLine)]
        if any(has_changed):
            self.call_after_refresh(self._keep_in_sight)

    def _keep_in_sight(self) -> None:
        """A list may have become shorter: what is selected there stays in sight."""
        for table in self.screen.query(DataTable):
            table.move_cursor(row=table.cursor_row)


def reading_seconds(notice: Notification) -> float:
    return max(_LEAST_SECONDS, len(notice.message) * _READING_SECONDS_A_LETTER)


def _look(notice: Notification) -> tuple[str, str]:
    mark, style = _LOOKS[notice.severity]
    return f"{mark}{notice.message}", style
