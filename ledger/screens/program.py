"""What both programs in the terminal share: colours, keys in order, and how a defect of ours ends."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from textual.filter import LineFilter

from ledger.screens.key_order import KeysInOrder
from ledger.screens.themes import PLAIN, THEMES, default_theme
from ledger.screens.without_colour import WithoutColour


class Program(KeysInOrder):
    """An app in the project's own colours. `run_until_left` raises what escaped, instead of printing its trace."""

    def __init__(self, environment: Mapping[str, str]) -> None:
        super().__init__(ansi_color=False)
        for theme in THEMES:
            self.register_theme(theme)
        self.theme = default_theme(environment)
        self._without_colour = WithoutColour()

    def get_line_filters(self) -> Sequence[LineFilter]:
        return [self._without_colour] if self.theme == PLAIN.name else super().get_line_filters()

    def run_until_left(self) -> Any:
        """Run, and give what the program ended with. Whatever escaped in it is raised here."""
        result = self.run()
        if self._exception is not None:
            raise self._exception
        return result

    def _fatal_error(self) -> None:
        # The library would print a trace with the values in it: somebody's name and money, and exit with 0.
        self._close_messages_no_wait()
