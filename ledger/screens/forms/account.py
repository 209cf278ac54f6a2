"""What one customer owes over several jobs: money towards all of them, and the account on paper."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence

from ledger.actions import take_owed
from ledger.books.books import Books
from ledger.errors import NotPossible, NotUnderstood
from ledger.jobs.customers import Customer, customer_named, customer_names
from ledger.jobs.debts import OwedJob, read_owed_jobs
from ledger.jobs.payments import WAYS
from ledger.jobs.printing import keep_in, print_account, receipts_folder
from ledger.screens.forms.field import Asked
from ledger.screens.forms.form import Form
from ledger.screens.forms.job_form import LINE, WAYS_HINT
from ledger.screens.forms.paper_page import PaperPage
from ledger.screens.showing import paired

_LISTED = 6


class OwedMoneyForm(Form):
    """Money towards several jobs of one customer, the oldest first. NotPossible where nobody owes anything."""

    title_words = "Pay several jobs"

    def __init__(self, books: Books, customer: str | None) -> None:
        super().__init__(books)
        self.owing = list(dict.fromkeys(each.customer.name for each in read_owed_jobs(books)))
        if not self.owing:
            raise NotPossible("No customer owes anything.", "Money before pickup is a deposit: d on the Bench.", None)
        self.customer = customer if customer in self.owing else ""

    def asks(self) -> Sequence[Asked]:
        return (
            Asked("customer", "Who pays", value=self.customer or "", known=self.owing, only_known=True),
            Asked("amount", "Amount"),
            Asked("paid", "How paid", hint=WAYS_HINT, known=WAYS, only_known=True),
            Asked("number", "Check number"),
            Asked("fee", "Card fee"),
            Asked("on", "Date", value="today"),
        )

    def preview(self) -> Sequence[str]:
        books = self.books_on()
        if not self.text("customer"):
            return list(self._who_owes(self.sound(books)))
        customer = self.read("customer", lambda text: named_customer(books, text), None)
        owed = read_owed_jobs(books, customer.id) if customer else ()
        if not self.text("amount"):
            self.sound(customer)
            return list(self._owed(owed))
        parts = dict(take_owed.shares(books, self.sound(self._request())))
        return [
            paired(f"Job {each.job}: {each.piece}", self.showing.plain(parts[each.job]), LINE)
            for each in owed
            if each.job in parts
        ]

    def save(self) -> str:
        done = take_owed.perform(self.books_on(), self.sound(self._request()))
        return " ".join(f"Entry {sealed.number} for job {job}." for job, sealed in done)

    def _who_owes(self, books: Books) -> Iterator[str]:
        owed = Counter[str]()
        for each in read_owed_jobs(books):
            owed[each.customer.name] += each.cents
        for name, cents in owed.most_common(_LISTED):
            yield paired(f"{name} owes", self.showing.plain(cents), LINE)
        if len(owed) > _LISTED:
            yield f"and {len(owed) - _LISTED} more"

    def _owed(self, owed: tuple[OwedJob, ...]) -> Iterator[str]:
        for each in owed[:_LISTED]:
            words = f"Job {each.job}, since {self.showing.month_day(each.since)}: {each.piece}"
            yield paired(words, self.showing.plain(each.cents), LINE)
        yield paired("Owed in all", self.showing.plain(sum(each.cents for each in owed)), LINE)

    def _request(self) -> take_owed.OwedMoneyRequest:
        return take_owed.OwedMoneyRequest(
            customer=self.text("customer"),
            cents=self.amount("amount"),
            how=self.choice("paid", WAYS, "How is it paid?"),
            fee_cents=self.amount("fee", zero=True),
            number=self.words("number", limit=60),
        )


class AccountForm(Form):
    """Whose account is to be printed."""

    title_words = "Statement of account"

    def __init__(self, books: Books, customer: str | None) -> None:
        super().__init__(books)
        self.customers = customer_names(books)
        self.customer = customer if customer in self.customers else ""

    def asks(self) -> Sequence[Asked]:
        return (Asked("customer", "Whose", value=self.customer or "", known=self.customers, only_known=True),)

    def preview(self) -> Sequence[str]:
        customer = self.sound(self.read("customer", lambda text: named_customer(self.books, text), None))
        owed = sum(each.cents for each in read_owed_jobs(self.books, customer.id)) if customer else 0
        return [f"Owes {self.showing.amount(owed)}."]

    def save(self) -> str:
        page = account_page(self.books, named_customer(self.books, self.text("customer")))
        self.app.call_later(self.app.push_screen, page)
        return f"{page.title_words}, {self.text('customer')}."


def account_page(books: Books, customer: Customer) -> PaperPage:
    """The account printed into the receipts folder, and shown. Raises BooksNotUsable for what the disk reports."""
    printed, folder = print_account(books, customer), receipts_folder(books)
    keep_in(folder, printed)
    return PaperPage("Statement of account", printed.text.splitlines(), f"For paper: {printed.pdf_in(folder)}")


def named_customer(books: Books, name: str) -> Customer:
    """Raises NotUnderstood for no name, NotFound for one that is no customer's."""
    if not name:
        raise NotUnderstood("Whose?", "Type the first letters.", "customer")
    return customer_named(books, name)
