"""What stood there on the day the books began, for a workshop that was open before: one form, all of it optional."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from datetime import date
from decimal import Decimal
from typing import TypeVar

from textual import events
from textual.containers import VerticalScroll
from textual.widget import Widget
from textual.widgets import Static

from ledger.actions import opening as act
from ledger.actions import opening_written as written
from ledger.actions.opening_figures import income_accounts
from ledger.actions.opening_request import OpeningRequest
from ledger.actions.opening_told import opening_told
from ledger.books.balances import read_accounts
from ledger.jobs.customers import customer_names
from ledger.money import read_percent, read_quantity
from ledger.screens.forms.field import Asked, Field
from ledger.screens.forms.form import Form
from ledger.screens.forms.receipt_parts import PartSuggester
from ledger.screens.reading import typed_amount, typed_date, typed_future_date, with_points
from ledger.screens.showing import counted, paired, plain_text
from ledger.taxes.rules import rates_on

Read = TypeVar("Read")
_LISTS = ("debts", "deposits", "certificates", "sales_tax", "income", "expenses", "estimated")
# From so many rows on the whole of it is shown; below them so many lines, and fewer in the smallest window.
_TALL, _USUAL = 45, 24
_LINES, _FEWEST_LINES = 6, 4

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
            Asked("debts", "They owe", hint=f"such as {written.DEBTS}"),
            Asked("deposits", "Deposits held", hint=f"such as {written.DEPOSITS}"),
            Asked("certificates", "Certificates out", hint=f"such as {written.CERTIFICATES}"),
        ),
    ),
    (
        "Sales tax that no return has yet",
        (
            Asked("sales_tax", "Collected", hint=f"such as {written.TAXES}"),
            Asked("taxable", "Taxable sales", hint="without the tax"),
            Asked("gross", "All sales", hint="the taxable ones"),
        ),
    ),
    (
        "This year before the books: figures, booked nowhere",
        (
            Asked("income", "Received", hint=f"such as {written.INCOME}"),
            Asked("expenses", "Spent", hint=f"such as {written.EXPENSES}"),
            Asked("estimated", "Estimated tax", hint=f"such as {written.ESTIMATED}"),
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
    OpeningForm Field > Input.list {
        width: 1fr;
        max-width: 46;
    }
    OpeningForm .group {
        color: $primary;
        text-style: bold;
    }
    OpeningForm #fields {
        max-height: 40vh;
    }
    OpeningForm.tall #fields {
        max-height: 60vh;
    }
    """

    def asks(self) -> Sequence[Asked]:
        return tuple(asked for _, group in self._groups() for asked in group)

    def _groups(self) -> Iterator[tuple[str, tuple[Asked, ...]]]:
        """The groups, with what was told of a field already where its hint stands."""
        told = {name: self.showing.plain(cents) for name, cents in act.told_cents(self.books).items()}
        for words, group in GROUPS:
            yield words, tuple(_with_told(each, told.get(each.name)) for each in group)

    def lay_out(self) -> Iterator[Widget]:
        names = self._names()
        with VerticalScroll(id="fields", can_focus=False):
            for words, group in self._groups():
                yield Static(plain_text(words), classes="group")
                for each in group:
                    field = Field(each)
                    field.input.set_class(each.name in _LISTS, "list")
                    if each.name in names:
                        field.input.suggester = PartSuggester(names[each.name])
                    yield field

    def _names(self) -> dict[str, list[str]]:
        """What the parts of a list can be called, to be completed as one types."""
        accounts = read_accounts(self.books)
        return {
            "debts": customer_names(self.books),
            "sales_tax": [each.jurisdiction for each in rates_on(self.books, self.books.settings.begun_on)],
            "income": [each.name for each in income_accounts(accounts)],
            "expenses": [each.name for each in accounts.of_kind("expense")],
        }

    def on_resize(self, event: events.Resize) -> None:
        super().on_resize(event)
        self.set_class(event.size.height >= _TALL, "tall")

    def on_descendant_focus(self, event: events.DescendantFocus) -> None:
        """What stands below goes with the group that one is in."""
        self.check()

    def preview(self) -> Sequence[str]:
        """In a tall window all that it would do; else that of the group one is in, and how much it is in all."""
        request = self._request()
        begun = self.showing.day(self.books.settings.begun_on)
        if not self._faults and request.is_empty:
            return [f"As it was at the beginning of {begun}. Leave empty what there was none of."]
        whole = act.preview(self.books, self.sound(request))
        if self.size.height >= _TALL:
            return list(self._lines(whole))
        part = opening_told(_Typed(self, self._group()))
        lines = list(self._lines(act.preview(self.books, part))) if not part.is_empty else []
        most = _LINES if self.size.height >= _USUAL else _FEWEST_LINES
        if len(lines) > most:
            lines = [*lines[: most - 1], "..."]
        return [
            *lines,
            f"In all: {counted(len(whole.drafts), 'entry', 'entries')}, {counted(len(whole.figures), 'figure')}.",
        ]

    def _group(self) -> frozenset[str]:
        """The fields of the group that has the cursor."""
        at = self.focused.id if self.focused is not None else None
        groups = [frozenset(each.name for each in group) for _, group in GROUPS]
        return next((group for group in groups if at in group), groups[0])

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


def _with_told(asked: Asked, told: str | None) -> Asked:
    """A field with what was told of it; to a list more can be added, so its example stays."""
    if told is None:
        return asked
    more = f"; {asked.hint}" if asked.name in _LISTS else ""
    return replace(asked, hint=f"told: {told}{more}")


class _Typed:
    """The fields as they are typed in the rooms."""

    def __init__(self, form: OpeningForm, only: frozenset[str] | None = None) -> None:
        """only: the fields that are looked at, every one unless given."""
        self.form = form
        self.only = only
        self.books = form.books
        self.locale = form.books.settings.locale

    def text(self, field: str) -> str:
        return self.form.text(field) if self.only is None or field in self.only else ""

    def read(self, field: str, reader: Callable[[str], Read], instead: Read) -> Read:
        if self.only is not None and field not in self.only:
            return instead
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
