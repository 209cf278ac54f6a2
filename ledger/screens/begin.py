"""The first minutes: six questions, then the books begin."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from decimal import Decimal
from pathlib import Path
from typing import ClassVar, TypeVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical, VerticalScroll
from textual.widgets import Input, Static

from ledger.actions import begin
from ledger.books.clock import Clock
from ledger.errors import NotUnderstood, Refused
from ledger.money import Currency, currency_from_code, read_percent
from ledger.screens.forms.field import Asked, Field
from ledger.screens.forms.leaving import Leaving
from ledger.screens.keys import KeyLine
from ledger.screens.program import Program
from ledger.screens.reading import typed_amount
from ledger.screens.showing import plain_lines, plain_text
from ledger.text import read_name

NOT_YET_KNOWN = ("", "?", "not yet known", "unknown")
_OWNED: dict[str, begin.Owned] = {"1": "sole proprietor", "2": "one-owner LLC", "3": "something else"}
_RATE = re.compile(r"\s*(?P<name>[^\d]*?)\s*(?P<percent>\d+(?:\.\d+)?)\s*%?\s*")

QUESTIONS = (
    Asked("name", "1 Workshop", hint="the name on your receipts"),
    Asked("place", "2 Money, place", value="USD en_US"),
    Asked("machine_price", "3 Machine cost", hint="0 if it is not here yet"),
    Asked("opening", "4 In the bank", hint="the workshop's own account"),
    Asked("rates", "5 Sales tax", hint="not yet known"),
    Asked("owned", "6 Owned as", hint="1, 2 or 3"),
)
WELCOME = (
    "Two purses, one machine, and books that cannot be mixed up. Six questions, then you can take in a job.",
    "Whatever you do not know yet can wait: leave it empty.",
)
EXPLAINED = (
    "2  The currency and the place, such as USD en_US or CAD en_CA.",
    "5  Such as: state 4.3, county 1.0. What is taxed is asked later, in Set-up. Collect none without a permit.",
    "6  1 by me alone   2 an LLC with one owner, taxed as one   3 anything else",
)

Read = TypeVar("Read")


class BeginApp(Program):
    """Asks, begins the books, and ends with True; False where nothing was begun."""

    CSS_PATH = "app.tcss"
    ENABLE_COMMAND_PALETTE = False
    KEYS: ClassVar[tuple[Binding, ...]] = (
        Binding("enter", "app.next", "next", key_display="Enter"),
        Binding("ctrl+s", "app.begin", "begin", key_display="Ctrl+S"),
        Binding("escape", "app.leave", "leave", key_display="Esc"),
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        *KEYS,
        Binding("ctrl+q", "leave", "Leave", show=False, priority=True),
        Binding("down", "app.focus_next", show=False),
        Binding("up", "app.focus_previous", show=False),
    ]
    DEFAULT_CSS: ClassVar[str] = """
    BeginApp VerticalScroll {
        padding: 1 2;
    }
    BeginApp .part {
        height: auto;
        margin-bottom: 1;
    }
    BeginApp #fault {
        color: $error;
        height: auto;
    }
    """

    def __init__(self, folder: Path, clock: Clock, environment: Mapping[str, str]) -> None:
        super().__init__(environment)
        self.folder = folder
        self.clock = clock
        self._faults: dict[str, str] = {}

    def compose(self) -> ComposeResult:
        yield Static(" Twopurse", id="room-title", markup=False)
        with VerticalScroll(can_focus=False):
            yield Static(plain_lines(WELCOME), classes="part")
            with Vertical(classes="part"):
                for each in QUESTIONS:
                    yield Field(each)
            yield Static(plain_lines(EXPLAINED), classes="part quiet")
            yield Static("", id="fault", markup=False)
            yield Static(plain_text(f"The books will be in {self.folder}."), classes="quiet")
        yield KeyLine(self.KEYS)

    def on_input_submitted(self, event: Input.Submitted) -> None:
        self.action_next()

    def action_next(self) -> None:
        """The next question; from the last one, begin."""
        if self.focused is not None and self.focused.id == QUESTIONS[-1].name:
            self.action_begin()
        else:
            self.action_focus_next()

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

    def action_begin(self) -> None:
        """Begin the books, or say beside each question what is wrong with its answer."""
        self._faults = {}
        request = self._request()
        if request is not None and not self._faults:
            try:
                begin.perform(self.folder, self.clock, request).close()
                self.exit(True)
                return
            except Refused as refused:
                self._faults[refused.field or ""] = str(refused)
        fields = list(self.query(Field))
        for field in fields:
            field.say(self._faults.get(field.asked.name, ""))
        self.query_one("#fault", Static).update(plain_text(self._faults.get("", "") or self._faults.get("books", "")))
        wrong = next((field for field in fields if field.asked.name in self._faults), None)
        if wrong is not None:
            wrong.input.focus()

    def _request(self) -> begin.BeginRequest | None:
        name = self._read("name", lambda text: read_name(text, "name"))
        place = self._read("place", _place)
        owned = self._read("owned", _owned)
        rates = self._read("rates", _rates)
        if place is None:
            return None
        currency, locale = place
        amounts = [self._read(each, self._amount(each, currency, locale)) for each in ("machine_price", "opening")]
        if name is None or owned is None or rates is None:
            return None
        return begin.BeginRequest(
            name=name,
            currency=currency,
            locale=locale,
            machine_price_cents=amounts[0] or 0,
            opening_cents=amounts[1] or 0,
            rates=rates,
            owned=owned,
        )

    def _read(self, name: str, reader: Callable[[str], Read]) -> Read | None:
        field = next(each for each in self.query(Field) if each.asked.name == name)
        try:
            return reader(field.value)
        except Refused as refused:
            self._faults[name] = str(refused)
            return None

    def _amount(self, name: str, currency: Currency, locale: str) -> Callable[[str], int]:
        def read(text: str) -> int:
            return typed_amount(text, currency, locale, name, zero=True) if text not in NOT_YET_KNOWN else 0

        return read


def _place(text: str) -> tuple[Currency, str]:
    words = text.split()
    if len(words) != 2:
        raise NotUnderstood("Give the currency, then the place.", "Such as USD en_US.", "place")
    return currency_from_code(words[0], "place"), begin.known_locale(words[1], "place")


def _owned(text: str) -> begin.Owned:
    if text not in _OWNED:
        raise NotUnderstood("How is it owned?", "Type 1, 2 or 3.", "owned")
    return _OWNED[text]


def _rates(text: str) -> tuple[tuple[str, Decimal], ...]:
    """Jurisdictions and percents from `state 4.3, county 1.0`; one percent alone is called state."""
    if text.casefold() in NOT_YET_KNOWN:
        return ()
    parts = text.split(",")
    rates = []
    for part in parts:
        found = _RATE.fullmatch(part)
        if found is None or (len(parts) > 1 and not found["name"]):
            raise NotUnderstood("This is no rate.", "Such as: state 4.3, county 1.0", "rates")
        rates.append((read_name(found["name"] or "state", "rates"), read_percent(found["percent"], "rates")))
    return tuple(rates)
