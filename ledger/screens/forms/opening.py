"""What stood there on the day the books began, for a workshop that was open before: one form, all of it optional."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from datetime import date
from decimal import Decimal
from typing import TypeVar

from textual.containers import VerticalScroll
from textual.widget import Widget
from textual.widgets import Static

from ledger.actions import opening as act
from ledger.actions import opening_written as written
from ledger.actions.opening_request import OpeningRequest
from ledger.actions.opening_told import opening_told
from ledger.money import read_percent, read_quantity
from ledger.screens.forms.field import Asked, Field
from ledger.screens.forms.form import Form
from ledger.screens.reading import typed_amount, typed_date, typed_future_date, with_points
from ledger.screens.showing import paired, plain_text

Read = TypeVar("Read")
_WIDTH = 66

GROUPS: tuple[tuple[str, tuple[Asked, ...]], ...] = (
    (
        "What the workshop had and owed",
        (
            Asked("checking", "In the bank", hint="if it was told wrong"),
            Asked("cash_box", "Cash box"),
            Asked("tax_savings", "Tax savings"),
            Asked("card_settlements", "Card money coming"),
            Asked("workshop_card", "Workshop card owed"),
            Asked("owed_to_owner", "Owed to you"),
        ),
    ),
    (
        "Customers",
        (
            Asked("debts", "They owe", hint=written.DEBTS),
            Asked("deposits", "Deposits held", hint=written.DEPOSITS),
            Asked("certificates", "Certificates out", hint=written.CERTIFICATES),
        ),
    ),
    (
        "Sales tax that no return has yet",
        (
            Asked("sales_tax", "Collected", hint=written.TAXES),
            Asked("taxable", "Taxable sales", hint="without the tax"),
            Asked("gross", "All sales", hint="the taxable ones"),
        ),
    ),
    (
        "This year before the books: figures, booked nowhere",
        (
            Asked("income", "Received", hint=written.INCOME),
            Asked("expenses", "Spent", hint=written.EXPENSES),
            Asked("estimated", "Estimated tax", hint=written.ESTIMATED),
        ),
    ),
    (
        "The machine",
        (
            Asked("machine_cost", "It cost", hint="if it was not told yet"),
            Asked("machine_came", "It came on"),
            Asked("taken_in", "Work took in"),
            Asked("earned", "Of it earned", hint="after the expenses"),
            Asked("loan", "Loan left"),
            Asked("loan_percent", "Its rate, a year"),
            Asked("loan_payment", "Paid each month"),
            Asked("loan_next", "Next on"),
            Asked("lender", "Lender"),
        ),
    ),
)


class OpeningForm(Form):
    """Groups of fields; what each would book stands below, with what it balances against."""

    title_words = "Already begun: what stood there when the books began"
    DEFAULT_CSS = """
    OpeningForm Field > Input {
        width: 40;
    }
    OpeningForm .group {
        color: $primary;
        margin-top: 1;
    }
    OpeningForm #fields {
        max-height: 14;
    }
    OpeningForm.wide #fields {
        max-height: 60vh;
    }
    """

    def asks(self) -> Sequence[Asked]:
        return tuple(asked for _, group in GROUPS for asked in group)

    def lay_out(self) -> Iterator[Widget]:
        with VerticalScroll(id="fields", can_focus=False):
            for words, group in GROUPS:
                yield Static(plain_text(words), classes="group")
                for each in group:
                    yield Field(each)

    def preview(self) -> Sequence[str]:
        request = self._request()
        begun = self.showing.day(self.books.settings.begun_on)
        if not self._faults and request.is_empty:
            return [f"As it was at the beginning of {begun}. Leave empty what there was none of."]
        return list(self._lines(act.preview(self.books, self.sound(request))))

    def save(self) -> str:
        done, sealed = act.perform(self.books, self.sound(self._request()))
        told = [f"Entry {sealed[0].number}" if len(sealed) == 1 else f"{len(sealed)} entries"] if sealed else []
        told += ["figures kept"] if done.figures else []
        return f"{' and '.join(told) or 'Taken back'}: as the books began."

    def _request(self) -> OpeningRequest:
        return opening_told(_Typed(self))

    def _lines(self, opening: act.Opening) -> Iterator[str]:
        for number in opening.undone:
            yield f"Entry {number} is undone: this takes its place."
        for draft in opening.drafts:
            yield draft.text
            yield from (paired(f"  {each.account.name}", self.showing.plain(each.cents), 44) for each in draft.postings)
        for figure in opening.figures:
            yield paired(f"A figure: {figure.words}", self.showing.plain(figure.cents), 44)


class _Typed:
    """The fields as they are typed in the rooms."""

    def __init__(self, form: OpeningForm) -> None:
        self.form = form
        self.books = form.books
        self.locale = form.books.settings.locale

    def text(self, field: str) -> str:
        return self.form.text(field)

    def read(self, field: str, reader: Callable[[str], Read], instead: Read) -> Read:
        return self.form.read(field, reader, instead)

    def amount(self, text: str, field: str, *, zero: bool) -> int:
        return typed_amount(text, self.books.currency, self.locale, field, zero=zero)

    def number(self, text: str, field: str) -> Decimal:
        return read_quantity(with_points(text, self.locale), field)

    def percent(self, text: str, field: str) -> Decimal:
        return read_percent(with_points(text, self.locale), field)

    def day(self, text: str, field: str) -> date:
        reader = typed_future_date if field == "loan_next" else typed_date
        return reader(text, self.books.today, self.locale, field)
