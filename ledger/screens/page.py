"""A page over a room: a frame in the middle of the window, with its title in the border and its keys below."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar, cast

from textual.binding import Binding, BindingType
from textual.screen import ModalScreen, ScreenResultType

if TYPE_CHECKING:
    from ledger.screens.app import TwopurseApp


# What every frame has, whatever stands in it: of a page, a form, the first questions.
FRAME = """
        max-width: 100%;
        height: auto;
        max-height: 100%;
        border: round $primary;
        border-title-color: $primary;
        border-title-style: bold;
        background: $surface;
        padding: 0 1;
"""


class Page(ModalScreen[ScreenResultType]):
    """What a page lays out in one `Vertical` stands in the frame; a page says how wide it is, where it is not 78."""

    DEFAULT_CSS: ClassVar[str] = f"""
    Page {{
        align: center middle;
    }}
    Page > Vertical {{
        width: 78;
        {FRAME}
    }}
    Page KeyLine {{
        background: $surface;
        padding: 0;
    }}
    """

    BINDINGS: ClassVar[list[BindingType]] = [Binding("question_mark,f1", "app.explain_page", "Help", show=False)]

    @property
    def twopurse(self) -> TwopurseApp:
        return cast("TwopurseApp", self.app)
