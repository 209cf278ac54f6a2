"""The forms of a sales tax return: file it, pay it, and take a filing back."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from ledger.actions import file_tax, pay_tax
from ledger.books.balances import balance, read_accounts
from ledger.books.books import Books
from ledger.periods import Period
from ledger.screens.forms.field import Asked
from ledger.screens.forms.form import Form
from ledger.screens.showing import paired
from ledger.spending.spend import PAYING_ROLES
from ledger.taxes.filed_returns import filed_by_start, read_filed
from ledger.taxes.filing_periods import period_holding
from ledger.taxes.filing_rules import filing_period, read_filing_rules
from ledger.taxes.return_entries import ReturnPaid
from ledger.taxes.returns import ReturnsBook
from ledger.text import read_text

_LINE = 54


def _looked_at(books: Books, subject: Any) -> Period | None:
    """The period that is looked at, where that is a filing period."""
    rules = read_filing_rules(books)
    if not isinstance(subject, Period) or not rules:
        return None
    return subject if period_holding(rules, subject.start) == subject else None


def _to_file(books: Books, subject: Any) -> Period:
    """The period that is looked at, or the oldest that is over and not filed, or the one that runs."""
    looked_at = _looked_at(books, subject)
    if looked_at is not None:
        return looked_at
    waiting = [each for each in ReturnsBook(books).open_periods() if each.is_over(books.today)]
    return waiting[0] if waiting else filing_period(books, None)


class FileForm(Form):
    """Files the return as it stands. Raises NotPossible where there is nothing to file."""

    def __init__(self, books: Books, subject: Any) -> None:
        super().__init__(books)
        self.period = _to_file(books, subject)
        self.is_amended = bool(filed_by_start(read_filed(books)).get(self.period.start))
        self.title_words = f"File the return of {self.period.label}" + (", amended" if self.is_amended else "")
        file_tax.preview(books, self._request())

    def asks(self) -> Sequence[Asked]:
        return (Asked("on", "Filed on", value="today"),)

    def preview(self) -> Sequence[str]:
        books = self.books_on()
        self.sound(None)
        return list(self._told(file_tax.preview(books, self._request())))

    def save(self) -> str:
        filed, _ = file_tax.perform(self.sound(self.books_on()), self._request())
        total = self.showing.amount(filed.found.worksheet.total_cents)
        return f"The return of {self.period.label} is filed: {total}, due {self.showing.day(filed.due_on)}."

    def _request(self) -> file_tax.FileRequest:
        return file_tax.FileRequest(self.period, self.is_amended)

    def _told(self, to_file: file_tax.ToFile) -> Iterator[str]:
        sheet = to_file.found.worksheet
        yield self._pair("Tax due on the totals", sheet.due_cents)
        yield self._pair("Tax collected", sheet.collected_cents)
        beside = (
            ("Where more is due than was taken, yours to bear", sheet.borne_cents),
            ("Use tax", sheet.use_tax_cents),
            ("Filed before for this period", sheet.owed_before_cents),
            ("Kept if paid on time too", sheet.allowance_cents),
            ("Credit from before", sheet.carried_cents),
        )
        yield from (self._pair(words, cents) for words, cents in beside if cents)
        yield self._pair("Total", sheet.total_cents)
        yield f"Due {self.showing.day(to_file.due_on)}. The figures are kept as they stand; send them to your state."
        yield from to_file.remarks

    def _pair(self, words: str, cents: int) -> str:
        return paired(words, self.showing.plain(cents), _LINE)


class PayForm(Form):
    """Pays a filed return, or takes in what was claimed back. Raises NotPossible where none is filed."""

    def __init__(self, books: Books, subject: Any) -> None:
        super().__init__(books)
        self.filed = pay_tax.return_to_pay(books, _looked_at(books, subject))
        self.title_words = f"Pay the return of {self.filed.period.label}"
        self.names = [each.name for each in read_accounts(books).all if each.role in PAYING_ROLES]

    def asks(self) -> Sequence[Asked]:
        return (
            Asked("amount", "Amount", hint="if empty: all of it"),
            Asked("from", "From", pay_tax.USUAL_ACCOUNT, known=self.names, only_known=True),
            Asked("on", "Date", value="today"),
        )

    def preview(self) -> Sequence[str]:
        _, paid = pay_tax.preview(self.books_on(), self.sound(self._request()))
        booked = [paired(each.account.name, self.showing.plain(each.cents), _LINE) for each in paid.draft.postings]
        return [*booked, *self._told(paid), *self._set_aside_for_it(paid)]

    def _set_aside_for_it(self, paid: ReturnPaid) -> Iterator[str]:
        """Where tax savings holds the money, and it is about to be paid from elsewhere."""
        savings = read_accounts(self.books)["tax_savings"]
        held = balance(self.books, "tax_savings", self.books.today)
        if 0 < paid.cents <= held and savings.name != self.text("from"):
            yield f"«{savings.name}» holds {self.showing.amount(held)}: name it in From to pay it from there."

    def save(self) -> str:
        filed, paid, sealed = pay_tax.perform(self.books_on(), self.sound(self._request()))
        amount = self.showing.amount(abs(paid.cents))
        what = "paid on" if paid.cents >= 0 else "came back on"
        said = f"Entry {sealed.number}: {amount} {what} the return of {filed.period.label}."
        return " ".join((said, *self._told(paid)))

    def _request(self) -> pay_tax.PayRequest:
        cents = self.amount("amount") if self.text("amount") else None
        return pay_tax.PayRequest(self.filed.period, cents, self.text("from"))

    def _told(self, paid: ReturnPaid) -> Iterator[str]:
        amount = self.showing.amount
        if paid.lost_allowance_cents:
            yield f"After the due date: {amount(paid.lost_allowance_cents)} is not kept."
        if paid.left_cents:
            yield f"Left to pay: {amount(paid.left_cents)}."
        if paid.credit_cents:
            yield f"Above what is owed: {amount(paid.credit_cents)} is kept as a credit for the next return."


class UnfileForm(Form):
    """Takes the last filing back, where it was entered in error and never went out."""

    def __init__(self, books: Books, subject: Any) -> None:
        super().__init__(books)
        filed = read_filed(books)
        last = filed[-1].period if filed else filing_period(books, None)
        self.period = _looked_at(books, subject) or last
        self.title_words = f"Take back the return of {self.period.label}"
        file_tax.check_can_unfile(books, self.period)

    def asks(self) -> Sequence[Asked]:
        return (Asked("why", "Why", hint="what was wrong"), Asked("on", "Date", value="today"))

    def preview(self) -> Sequence[str]:
        file_tax.check_can_unfile(self.books_on(), self.period)
        self.sound(read_text(self.text("why"), "why", limit=300))
        return ["It is open again, and what it booked is undone. If it went out, an amended one is due instead."]

    def save(self) -> str:
        books = self.books_on()
        file_tax.unfile(books, self.sound(file_tax.UnfileRequest(self.period, self.text("why"))))
        return f"The return of {self.period.label} is open again."
