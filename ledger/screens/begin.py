"""The first minutes: six questions, then the books begin."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from pathlib import Path
from typing import ClassVar, TypeVar

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical, VerticalScroll
from textual.widgets import Input, Static

from checklists.not_yet_known import UNKNOWNS
from ledger.actions import begin
from ledger.books.clock import Clock
from ledger.errors import Refused
from ledger.money import Currency
from ledger.screens.first_answers import (
    ABOUT,
    NOT_HERE,
    UNKNOWN_WORDS,
    is_unknown,
    questions,
    read_owned,
    read_place,
    read_rates,
)
from ledger.screens.forms.field import LIST_KEY, Field
from ledger.screens.forms.leaving import Leaving
from ledger.screens.keys import KeyLine
from ledger.screens.page import FRAME
from ledger.screens.program import Program
from ledger.screens.reading import typed_amount
from ledger.screens.showing import plain_lines, plain_text
from ledger.text import read_name

WELCOME = (
    "Two purses, one machine, and books that cannot be mixed up.",
    "Six questions, then a job can come in. Leave empty what you do not know.",
)

# From this height on, the questions stand with a line between them.
_ROOMY_HEIGHT = 36
Read = TypeVar("Read")


class BeginApp(Program):
    """Asks, begins the books, and ends with True; False where nothing was begun."""

    CSS_PATH = "app.tcss"
    ENABLE_COMMAND_PALETTE = False
    KEYS: ClassVar[tuple[Binding, ...]] = (
        Binding("enter", "app.next", "next", key_display="Enter"),
        Binding(LIST_KEY, "app.list_answers", "answers", key_display="F2"),
        Binding("ctrl+s", "app.begin", "begin", key_display="Ctrl+S"),
        Binding("escape", "app.leave", "leave", key_display="Esc"),
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        *KEYS,
        Binding("ctrl+q", "leave", "Leave", show=False, priority=True),
        Binding("down", "app.focus_next", show=False),
        Binding("up", "app.focus_previous", show=False),
    ]
    DEFAULT_CSS: ClassVar[str] = f"""
    BeginApp #begin-body {{
        height: 1fr;
        align: center middle;
    }}
    BeginApp #begin {{
        width: 96;
        {FRAME}
    }}
    BeginApp .part {{
        height: auto;
        margin-bottom: 1;
    }}
    BeginApp #about {{
        height: 3;
        margin-bottom: 1;
    }}
    BeginApp #fault {{
        color: $error;
        height: auto;
    }}
    BeginApp.roomy #begin {{
        padding: 1 3;
    }}
    BeginApp.roomy Field {{
        margin-bottom: 1;
    }}
    """

    def __init__(self, folder: Path, clock: Clock, environment: Mapping[str, str]) -> None:
        super().__init__(environment)
        self.folder = folder
        self.clock = clock
        self.questions = questions(environment)
        self._faults: dict[str, str] = {}
        self._touched: set[str] = set()
        self._has_tried_to_begin = False

    def compose(self) -> ComposeResult:
        yield Static(" Twopurse", id="room-title", markup=False)
        with Vertical(id="begin-body"), VerticalScroll(id="begin", can_focus=False) as frame:
            frame.border_title = " Welcome "
            yield Static(plain_lines(WELCOME), classes="part")
            with Vertical(classes="part"):
                for each in self.questions:
                    yield Field(each)
            yield Static("", id="about", markup=False)
            yield Static("", id="fault", markup=False)
            yield Static("", id="waiting", markup=False)
            yield Static(plain_text(f"The books will be in {self.folder}."), classes="quiet")
        yield KeyLine(self.KEYS)

    def on_mount(self) -> None:
        self.check()

    def on_resize(self, event: events.Resize) -> None:
        self.screen.set_class(event.size.height >= _ROOMY_HEIGHT, "roomy")
        self.set_class(event.size.height >= _ROOMY_HEIGHT, "roomy")

    def on_descendant_focus(self, event: events.DescendantFocus) -> None:
        self._explain(event.widget.id or "")

    def _explain(self, name: str) -> None:
        """What is said of the question that has the focus."""
        for about in self.query("#about").results(Static):
            about.update(plain_text(ABOUT.get(name, "")))

    def on_input_changed(self, event: Input.Changed) -> None:
        if event.input.id is not None and self.field(event.input.id).is_changed:
            self._touched.add(event.input.id)
        self.check()

    def on_input_submitted(self, event: Input.Submitted) -> None:
        self.action_next()

    def field(self, name: str) -> Field:
        return next(each for each in self.screen_stack[0].query(Field) if each.asked.name == name)

    def action_next(self) -> None:
        """The next question; from the last one, begin."""
        if self.focused is not None and self.focused.id == self.questions[-1].name:
            self.action_begin()
        else:
            self.action_focus_next()

    def action_list_answers(self) -> None:
        """The answers that the question offers."""
        if self.focused is not None and isinstance(self.focused.parent, Field):
            self.focused.parent.list_answers()

    def action_leave(self) -> None:
        """Leave without books, after asking where something is typed."""
        if isinstance(self.screen, Leaving):
            return
        if any(each.is_changed for each in self.query(Field)):
            self.push_screen(Leaving(), self._leave)
        else:
            self.exit(False)

    def _leave(self, sure: bool | None) -> None:
        if sure:
            self.exit(False)

    def check(self) -> None:
        """Read every answer anew: what is wrong stands beside it, and what can wait is told."""
        self._faults = {}
        self._request()
        self._show()

    def action_begin(self) -> None:
        """Begin the books, or say beside each question what is wrong with its answer."""
        self._has_tried_to_begin = True
        self._faults = {}
        request = self._request()
        if request is not None and not self._faults:
            try:
                begin.perform(self.folder, self.clock, request).close()
                self.exit(True)
                return
            except Refused as refused:
                self._faults[refused.field or ""] = str(refused)
        self._show()
        wrong = next((each for each in self.questions if each.name in self._faults), None)
        if wrong is not None:
            self.field(wrong.name).input.focus()

    def _show(self) -> None:
        """Beside its question, once something was typed there; what belongs to none stands below."""
        for field in self.screen_stack[0].query(Field):
            name = field.asked.name
            wanted = self._has_tried_to_begin or name in self._touched
            field.say(self._faults.get(name, "") if wanted else "")
        below = self._faults.get("", "") or self._faults.get("books", "")
        self.screen_stack[0].query_one("#fault", Static).update(plain_text(below))
        self.screen_stack[0].query_one("#waiting", Static).update(plain_lines(self._waiting()))

    def _waiting(self) -> Iterator[str]:
        unknown = [words for name, words in UNKNOWN_WORDS.items() if is_unknown(self.field(name).value)]
        if unknown:
            yield f"Can wait, and stands on your list in Set-up until then: {', '.join(unknown)}."
        yield "At work before today? After this, 6 then b takes what stood there."

    def _request(self) -> begin.BeginRequest | None:
        name = self._read("name", lambda text: read_name(text, "name"))
        place = self._read("place", read_place)
        owned = self._read("owned", read_owned)
        rates = self._read("rates", read_rates)
        if place is None:
            return None
        currency, locale = place
        amounts = [self._read(each, self._amount(each, currency, locale)) for each in ("machine_price", "opening")]
        if name is None or rates is None:
            return None
        return begin.BeginRequest(
            name=name,
            currency=currency,
            locale=locale,
            machine_price_cents=amounts[0] or 0,
            opening_cents=amounts[1] or 0,
            rates=rates,
            owned=owned,
            unknown=tuple(each for each in UNKNOWNS if is_unknown(self.field(each).value)),
        )

    def _read(self, name: str, reader: Callable[[str], Read]) -> Read | None:
        try:
            return reader(self.field(name).value)
        except Refused as refused:
            self._faults[name] = str(refused)
            return None

    def _amount(self, name: str, currency: Currency, locale: str) -> Callable[[str], int]:
        def read(text: str) -> int:
            if is_unknown(text) or text.casefold() == NOT_HERE:
                return 0
            return typed_amount(text, currency, locale, name, zero=True)

        return read
