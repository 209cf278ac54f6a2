"""What both programs in the terminal share: colours, keys in order, and how a defect of ours ends."""

from __future__ import annotations

import sys
from collections.abc import Mapping, Sequence
from typing import Any, ClassVar

from textual import events
from textual._compositor import CompositorUpdate
from textual.binding import Binding, BindingType
from textual.driver import Driver
from textual.filter import LineFilter
from textual.screen import Screen

from ledger.colours import colours_to_begin_with
from ledger.screens.changed_cells import ChangesOf, PaintedCells
from ledger.screens.key_order import KeysInOrder
from ledger.screens.sixteen_colours import SixteenColours
from ledger.screens.themes import PLAIN, TERMINAL, THEMES
from ledger.screens.without_colour import WithoutColour
from ledger.screens.without_drawing import WithoutDrawing
from ledger.signs import draws, terminal_encoding

# Where a shell can take the terminal back for a while; elsewhere the key is none of ours.
_TO_THE_SHELL = Binding("ctrl+z", "suspend_process", "Shell", show=False, priority=True)


class Program(KeysInOrder):
    """An app in the project's own colours. `run_until_left` raises what escaped, instead of printing its trace."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("ctrl+l", "paint_anew", "Paint anew", show=False, priority=True),
        *(() if sys.platform == "win32" else (_TO_THE_SHELL,)),
    ]

    def __init__(self, environment: Mapping[str, str]) -> None:
        super().__init__(ansi_color=False)
        # What is told at this moment, each sentence with its style.
        self.notices: tuple[tuple[str, str], ...] = ()
        for theme in THEMES:
            self.register_theme(theme)
        self.environment = environment
        self._painted = PaintedCells()
        self.theme = colours_to_begin_with(environment).name
        self._of_theme: dict[str, LineFilter] = {PLAIN.name: WithoutColour(), TERMINAL.name: SixteenColours()}
        encoding = terminal_encoding(environment)
        self._of_terminal = [] if draws(environment, encoding) else [WithoutDrawing(encoding)]

    def get_line_filters(self) -> Sequence[LineFilter]:
        of_theme = self._of_theme.get(self.theme)
        # Colours first: they tell by its signs what is drawn.
        return [*([of_theme] if of_theme else super().get_line_filters()), *self._of_terminal]

    def get_driver_class(self) -> type[Driver]:
        if sys.platform == "win32":
            return super().get_driver_class()
        from ledger.screens.terminal_driver import TerminalDriver

        return TerminalDriver

    def on_load(self) -> None:
        if sys.platform != "win32" and not self.is_headless:
            from ledger.screens.terminal_driver import leave_when_told

            leave_when_told(self.exit)

    async def on_event(self, event: events.Event) -> None:
        # Told when the window has another size, and when the program comes back after a pause.
        if isinstance(event, events.Resize):
            self._painted.forget()
        await super().on_event(event)

    def _display(self, screen: Screen[Any], renderable: Any) -> None:
        """As the library does, but only what changed goes to the terminal."""
        if isinstance(renderable, CompositorUpdate):
            renderable = ChangesOf(renderable, self._painted)
        super()._display(screen, renderable)

    def action_paint_anew(self) -> None:
        """Everything, where another program has written over it."""
        self._painted.forget()
        self.screen.refresh(layout=True)

    def run_until_left(self) -> Any:
        """Run, and give what the program ended with. Whatever escaped in it is raised here."""
        result = self.run()
        if self._exception is not None:
            raise self._exception
        return result

    def _fatal_error(self) -> None:
        # The library would print a trace with the values in it: somebody's name and money, and exit with 0.
        self._close_messages_no_wait()
