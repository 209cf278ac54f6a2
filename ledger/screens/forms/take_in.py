"""Intake and quote: the piece, what is to be done, and what it comes to while one types."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from decimal import Decimal
from fractions import Fraction
from typing import ClassVar

from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.widget import Widget
from textual.widgets import Static

from ledger.actions import take_in
from ledger.books.books import Books
from ledger.errors import NotPossible, NotUnderstood
from ledger.jobs.customers import customer_names
from ledger.jobs.intake import mean_length, read_lengths
from ledger.jobs.prices import price_list
from ledger.jobs.pricing import PricedLine, Pricing
from ledger.jobs.slip import work_out_slip
from ledger.money import read_percent
from ledger.screens.forms.field import Asked, Field
from ledger.screens.forms.form import Form
from ledger.screens.forms.work_lines import read_work, work_asked
from ledger.screens.reading import typed_future_date, with_points
from ledger.screens.showing import paired, plain_lines, plain_text
from ledger.taxes.rules import rules_on

# Stands for a length that cannot be read, until it can.
_ONE: tuple[Decimal, ...] = (Decimal(1),)
# Cells of a line in the quote.
_QUOTE = 36
_STATUSES = {"": "in-hand", "here": "in-hand", "in-hand": "in-hand", "booked": "booked", "asked": "asked"}


class TakeInForm(Form):
    """The form of a new job; the quote stands beside it. Raises NotPossible while the price list is empty."""

    title_words = "New job"
    DEFAULT_CSS: ClassVar[str] = """
    TakeInForm > #form {
        width: 108;
        height: 100%;
        max-height: 34;
    }
    TakeInForm #form-body {
        height: 1fr;
    }
    TakeInForm #columns {
        height: 1fr;
    }
    TakeInForm #fields {
        width: 1fr;
        height: 100%;
        max-height: 100%;
    }
    TakeInForm #quote {
        width: 39;
        height: 100%;
        padding-left: 1;
        border-left: solid $panel;
    }
    TakeInForm.narrow #columns {
        layout: vertical;
    }
    TakeInForm.narrow #fields {
        width: 100%;
        height: 2fr;
        max-height: 100%;
    }
    TakeInForm.narrow #quote {
        width: 100%;
        height: 1fr;
        border-left: none;
    }
    TakeInForm Field {
        layout: grid;
        grid-size: 2;
        grid-columns: 20 1fr;
        height: auto;
    }
    TakeInForm Field > .label, TakeInForm Field > Input {
        width: 100%;
    }
    TakeInForm Field > .message {
        column-span: 2;
        width: 100%;
        padding-left: 0;
        height: auto;
    }
    """

    def __init__(self, books: Books) -> None:
        super().__init__(books)
        self.prices = price_list(books, books.today)
        if not self.prices:
            raise NotPossible("The price list is empty.", "Put the first one on it with «twopurse price».", None)

    def asks(self) -> Sequence[Asked]:
        units = self.books.settings.units
        return (
            Asked("customer", "Whose", known=customer_names(self.books)),
            Asked("piece", "Piece", hint="such as Star"),
            Asked("width", f"Width, {units}", hint="56, or 56 57 56"),
            Asked("length", f"Length, {units}", hint="such as 72"),
            Asked("value", "Worth", hint="if empty: 0"),
            *work_asked(self.prices),
            Asked("promised", "Promised", hint="such as 3/14"),
            Asked("rush", "Rush %"),
            Asked("minimum", "Minimum"),
            Asked("condition", "Its state", hint="such as stains"),
            Asked("may_collect", "May collect"),
            Asked("status", "Where it is", hint="if empty: here", known=tuple(_STATUSES)[1:], only_known=True),
        )

    def lay_out(self) -> Iterator[Widget]:
        with Horizontal(id="columns"):
            with VerticalScroll(id="fields", can_focus=False):
                for each in self.asks():
                    yield Field(each)
            with Vertical(id="quote"):
                yield Static("", id="lines", markup=False)

    def preview(self) -> Sequence[str]:
        quote = self.query_one("#lines", Static)
        quote.update(plain_text("The quote comes as you type: width, length, and an x beside the work."))
        lines, pricing = take_in.preview(self.books, self.sound(self._request()))
        quote.update(plain_lines(self._quote(lines, pricing)))
        return ()

    def save(self) -> str:
        job = take_in.perform(self.books, self.sound(self._request()))
        return f"Job {job.id} is {job.status.replace('-', ' ')}: {job.piece}, for {job.customer.name}."

    def _request(self) -> take_in.TakeInRequest:
        widths = self.read("width", lambda text: read_lengths(self._numbers(text), "width"), _ONE)
        lengths = self.read("length", lambda text: read_lengths(self._numbers(text), "length"), _ONE)
        return take_in.TakeInRequest(
            customer=self.text("customer"),
            piece=self.text("piece"),
            width=mean_length(widths),
            length=mean_length(lengths),
            value_cents=self.amount("value", zero=True),
            lines=tuple(read_work(self, self.prices)),
            promised=self.read("promised", self._promised, None),
            status=self.read("status", _status, "in-hand"),
            rush_percent=self.read("rush", self._rush, Decimal(0)),
            minimum_cents=self.amount("minimum", zero=True),
            widths=widths,
            lengths=lengths,
            condition=self.text_or_none("condition"),
            may_collect=self.text_or_none("may_collect"),
        )

    def _rush(self, text: str) -> Decimal:
        return read_percent(self._numbers(text), "rush") if text else Decimal(0)

    def _numbers(self, text: str) -> str:
        return with_points(text, self.books.settings.locale)

    def _promised(self, text: str) -> date | None:
        return typed_future_date(text, self.books.today, self.books.settings.locale, "promised") if text else None

    def _quote(self, lines: tuple[PricedLine, ...], pricing: Pricing) -> Iterator[str]:
        amount = self.showing.plain
        for line in lines:
            yield paired(line.price.name, amount(line.cents), _QUOTE)
            yield f"  {_quantity(line.quantity)} {line.unit} at {self.showing.number(line.price.rate)}"
        for name, cents in (("Minimum charge", pricing.top_up_cents), ("Rush", pricing.rush_cents)):
            if cents:
                yield paired(name, amount(cents), _QUOTE)
        slip = work_out_slip(pricing.charges, rules_on(self.books, self.books.today))
        yield "-" * _QUOTE
        yield paired("Subtotal", amount(slip.subtotal_cents), _QUOTE)
        yield paired("Sales tax, as of today", amount(slip.tax_cents), _QUOTE)
        yield paired("Total", amount(slip.total_cents), _QUOTE)
        yield from (f"«{name}» is not answered yet: no tax" for name in slip.tax.unanswered)
        if slip.tax.unanswered:
            yield "  Set-up (6) asks; a keeps the answer."


def _status(text: str) -> str:
    status = _STATUSES.get(text.casefold())
    if status is None:
        raise NotUnderstood("Where is the piece?", "Say here, booked or asked.", "status")
    return status


def _quantity(quantity: Fraction) -> str:
    return f"{float(quantity):,.4f}".rstrip("0").rstrip(".")
