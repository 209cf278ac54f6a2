"""Untaxed stock: what was used or taken with its use tax, what was sold, her state's answer, and the list of it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date

from ledger.actions import use_untaxed
from ledger.actions.use_untaxed import SoldRequest, UseRequest, WorkAnswerRequest
from ledger.books.balances import read_accounts
from ledger.books.books import Books
from ledger.errors import NotUnderstood
from ledger.screens.forms.field import Asked
from ledger.screens.forms.form import Form
from ledger.screens.forms.job_form import LINE
from ledger.screens.forms.paper_page import PaperPage
from ledger.screens.reading import typed_date
from ledger.screens.showing import Showing, cut, paired
from ledger.taxes.untaxed_stock import TAKEN, WORK, Lot, Picked
from ledger.taxes.untaxed_stock_records import WorkAnswer, lots_to_use, read_lots
from ledger.taxes.use_tax_entry import PURPOSES

_ANSWERS: tuple[WorkAnswer, ...] = ("resale", "use")
_DECIDES = "What use tax is owed on, and on which value, your revenue office decides."
_UNANSWERED = "Nobody was asked about stock used up in the work: nothing is booked, and the quarter asks."
_PURPOSES_TOLD = (
    "own, charity: a draw. customer, sample: advertising. work: used up in it.",
    "bought: without tax from out of state or online, such as the machine.",
)
_LISTED = 4


class UseTaxForm(Form):
    title_words = "Use tax"

    def __init__(self, books: Books) -> None:
        super().__init__(books)
        accounts = read_accounts(books)
        self.categories = [accounts["machine"].name, *(each.name for each in accounts.of_kind("expense"))]

    def asks(self) -> Sequence[Asked]:
        return (
            Asked("amount", "Cost", hint="without tax"),
            Asked("what", "What"),
            Asked("for", "What became of it", value="own", known=PURPOSES, only_known=True),
            Asked("category", "Stands under", hint="such as batting", known=self.categories, only_known=True),
            Asked("bought_in", "Bought in entry", hint="if empty: the oldest"),
            Asked("on", "Date", value="today"),
        )

    def preview(self) -> Sequence[str]:
        books = self.books_on()
        if not (self.text("amount") and self.text("what")):
            return [*_left_lines(lots_to_use(books), self.showing), *_PURPOSES_TOLD]
        used = use_untaxed.preview(books, self.sound(self._request()))
        lines = list(_picked_lines([each for _, parts in used.parts for each in parts], self.showing))
        for each in used.booked.draft.postings if used.booked is not None else ():
            lines.append(paired(each.account.name, self.showing.plain(each.cents), LINE))
        return [*lines, _UNANSWERED if used.unanswered_cents else _DECIDES]

    def save(self) -> str:
        request = self._request()
        used, sealed = use_untaxed.perform(self.books_on(), self.sound(request))
        if sealed is None:
            return f"{request.what}: no use tax is booked."
        return f"Entry {sealed.number}: use tax {self.showing.amount(used.tax_cents)}."

    def _request(self) -> UseRequest:
        return UseRequest(
            cents=self.amount("amount"),
            what=self.text("what"),
            purpose=self.choice("for", PURPOSES, "What became of it?"),
            category=self.text_or_none("category"),
            purchase=self.read("bought_in", _entry_number, None),
        )


class StockSoldForm(Form):
    title_words = "Untaxed stock sold"

    def __init__(self, books: Books) -> None:
        super().__init__(books)
        self.categories = list(dict.fromkeys(each.bought.category.name for each in lots_to_use(books)))

    def asks(self) -> Sequence[Asked]:
        return (
            Asked("amount", "Cost", hint="without tax"),
            Asked("is_left", "Still there?", hint="yes if it lies there", known=("yes", "no"), only_known=True),
            Asked("what", "What", value="sold with the work"),
            Asked("category", "Stands under", known=self.categories, only_known=True),
            Asked("bought_in", "Bought in entry", hint="if empty: the oldest"),
            Asked("on", "Date", value="today"),
        )

    def preview(self) -> Sequence[str]:
        books = self.books_on()
        note = "It passed to customers in a taxed charge: nothing is booked."
        if not use_untaxed.is_anything_taxed(books):
            note = "By your answers nothing that you charge is taxed: ask your revenue office."
        if not self.text("amount"):
            return [*_left_lines(lots_to_use(books), self.showing), note]
        return [*_picked_lines(use_untaxed.preview_sold(books, self.sound(self._request())), self.showing), note]

    def save(self) -> str:
        picked = use_untaxed.perform_sold(self.books_on(), self.sound(self._request()))
        return f"Sold, at cost: {self.showing.amount(sum(each.cents for each in picked))}."

    def _request(self) -> SoldRequest:
        is_left = self.text("is_left").casefold().startswith("y")
        return SoldRequest(
            cents=self.amount("amount", zero=is_left),
            what=self.text("what"),
            category=self.text_or_none("category"),
            purchase=self.read("bought_in", _entry_number, None),
            is_left=is_left,
        )


class WorkAnswerForm(Form):
    title_words = "Stock used up in the work"

    def __init__(self, books: Books) -> None:
        super().__init__(books)
        self.categories = [each.name for each in read_accounts(books).of_kind("expense")]

    def asks(self) -> Sequence[Asked]:
        return (
            Asked("answer", "It counts as", hint="resale, use", known=_ANSWERS, only_known=True),
            Asked("asked", "Whom you asked"),
            Asked("category", "For", hint="if empty: all others", known=self.categories, only_known=True),
            Asked("from", "From", hint="if empty: the beginning"),
        )

    def preview(self) -> Sequence[str]:
        return [
            "Thread and the like used up in the work: does your state take that as resale, or as use?",
            "What waited for the answer is booked at the rate of the day on which it was used.",
        ]

    def save(self) -> str:
        request = WorkAnswerRequest(
            answer=self.choice("answer", _ANSWERS, "What does your state say?"),
            asked=self.text("asked"),
            category=self.text_or_none("category"),
            from_date=self.read("from", self._from_day, None),
        )
        booked = use_untaxed.answer(self.books, self.sound(request))
        said = f"Stock used up in the work counts as {'sold' if request.answer == 'resale' else 'used'}."
        return said + (f" Booked: entries {', '.join(str(each.number) for each in booked)}." if booked else "")

    def _from_day(self, text: str) -> date | None:
        return typed_date(text, self.books.today, self.books.settings.locale, "from") if text else None


def stock_page(books: Books, showing: Showing) -> PaperPage:
    """What was bought without sales tax, and what is left of it."""
    lots = read_lots(books, books.today)
    lines = [f"{'Entry':<7}{'Day':<14}{'Category':<17}{'Cost':>9}{'Sold':>9}{'Used':>8}{'Left':>9}"]
    for lot in lots:
        used = lot.cents_of(*WORK, *TAKEN) + lot.returned_cents
        figures = (lot.bought.cents, lot.cents_of("sold"), used, lot.left_cents)
        cost, sold, gone, left = (showing.plain(each) for each in figures)
        name = cut(lot.bought.category.name, 16)
        lines.append(
            f"{lot.bought.entry:<7}{showing.day(lot.bought.on):<14}{name:<17}{cost:>9}{sold:>9}{gone:>8}{left:>9}"
        )
    if not lots:
        lines = ["Nothing was bought without sales tax. Say so when you spend: No sales tax? yes."]
    return PaperPage("Untaxed stock", lines, "Used: in the work, taken, given, shown, or back at the shop. At cost.")


def _left_lines(lots: Sequence[Lot], showing: Showing) -> Iterator[str]:
    """What is left of each purchase, the oldest first."""
    there = [each for each in lots if each.left_cents]
    for each in there[:_LISTED]:
        words = f"Entry {each.bought.entry}, {each.bought.category.name}, left"
        yield paired(words, showing.plain(each.left_cents), LINE)
    if len(there) > _LISTED:
        yield f"and {len(there) - _LISTED} more"
    if not there:
        yield "Nothing that was bought without sales tax is left."


def _picked_lines(picked: Sequence[Picked], showing: Showing) -> Iterator[str]:
    """What it comes off, and what is left there then."""
    for each in picked:
        left = showing.plain(each.lot.left_cents - each.cents)
        words = f"Off entry {each.lot.bought.entry}, {each.lot.bought.category.name}, left then {left}"
        yield paired(words, showing.plain(each.cents), LINE)


def _entry_number(text: str) -> int | None:
    if not text:
        return None
    if not (text.isascii() and text.isdigit()) or len(text) > 9:
        raise NotUnderstood("That is no number of an entry.", "Type it as Money shows it.", "bought_in")
    return int(text)
