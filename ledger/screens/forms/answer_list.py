"""The list of answers that drops down from a field: what matches as one types, or all of them."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar

from rich.cells import cell_len
from textual.geometry import Offset, Region
from textual.widgets import OptionList
from textual.widgets.option_list import Option

from ledger.screens.showing import plain_text

# Of a long list, as much as can be gone through; letters find the rest.
MOST_LISTED = 200
_MOST_ROWS = 8
# Words and not arrows: where a terminal has no arrows, ↓ is painted as a letter.
_HOW_TO_TAKE = "Down, Enter"
# Cells that the frame and the scroll bar take.
_FRAME = 5


class AnswerList(OptionList, can_focus=False):
    """Stands over what is below its field, and takes no key itself: the field keeps the focus and hands them on."""

    DEFAULT_CSS: ClassVar[str] = """
    AnswerList {
        overlay: screen;
        constrain: inside inflect;
        display: none;
        height: auto;
        background: $panel;
        border: round $primary;
        padding: 0;
    }
    AnswerList > .option-list--option-highlighted {
        background: $primary;
        color: $background;
    }
    """

    def __init__(self) -> None:
        super().__init__(markup=False)
        self.answers: tuple[str, ...] = ()

    @property
    def is_open(self) -> bool:
        return bool(self.display)

    @property
    def chosen(self) -> str | None:
        """The answer under the cursor; None where nobody went down into the list."""
        return self.answers[self.highlighted] if self.is_open and self.highlighted is not None else None

    def open_below(self, place: Region, answers: Sequence[str]) -> None:
        """List answers below a place on the screen."""
        self.answers = tuple(answers[:MOST_LISTED])
        self.set_options(Option(plain_text(each)) for each in self.answers)
        self.highlighted = None
        self.border_subtitle = _HOW_TO_TAKE
        self.styles.max_height = _MOST_ROWS + 2
        widest = max((cell_len(each) for each in self.answers), default=0)
        self.styles.width = min(max(place.width, widest + _FRAME), self.screen.size.width)
        self.absolute_offset = Offset(place.x, place.bottom)
        self.display = True

    def close(self) -> None:
        self.display = False

    def go(self, down: bool) -> None:
        """To the next answer, or the one before."""
        if self.highlighted is None:
            self.highlighted = 0 if down else len(self.answers) - 1
        elif down:
            self.action_cursor_down()
        else:
            self.action_cursor_up()


def matching(known: Sequence[str], typed: str) -> list[str]:
    """The answers that begin with what was typed, then those that have it elsewhere."""
    wanted = typed.casefold()
    begins = [each for each in known if each.casefold().startswith(wanted)]
    return begins + [each for each in known if wanted in each.casefold() and each not in begins]
