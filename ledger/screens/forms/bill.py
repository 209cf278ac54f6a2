"""Shared bills: one that came, split by the share that holds, and how a bill is shared from a day on."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

from ledger.actions import share_bill, spend
from ledger.books.balances import read_accounts
from ledger.books.books import Books
from ledger.money import read_percent
from ledger.screens.forms.field import Asked
from ledger.screens.forms.form import Form
from ledger.screens.reading import typed_date
from ledger.spending.bill_records import read_bills
from ledger.spending.bills import EVERY
from ledger.spending.spend import PAYING_ROLES

_YES_NO = ("no", "yes")


class BillForm(Form):
    """A bill that came: the whole of it."""

    title_words = "A shared bill came"

    def __init__(self, books: Books) -> None:
        super().__init__(books)
        self.bills = read_bills(books)
        self.paying = [each.name for each in read_accounts(books).all if each.role in PAYING_ROLES]

    def asks(self) -> Sequence[Asked]:
        due = next((each.name for each in self.bills if each.next_due and each.next_due <= self.books.today), "")
        return (
            Asked("name", "Bill", value=due, known=[each.name for each in self.bills], only_known=True),
            Asked("amount", "Whole bill"),
            Asked("from", "Paid from", known=self.paying, only_known=True),
            Asked("owed", "Owed back?", hint="yes if you paid", known=_YES_NO, only_known=True),
            Asked("on", "Date", value="today"),
        )

    def preview(self) -> Sequence[str]:
        if not self.bills:
            return ["No bill is shared yet: / and «Share bill» sets one up."]
        books, request = self.books_on(), self._request()
        bill, share, receipt = share_bill.preview_payment(books, self.sound(request))
        spent = spend.preview(books, receipt)
        amount = self.showing.amount
        workshop, household = amount(spent.business_cents), amount(spent.personal_cents)
        return [
            f"{self.showing.percent(share.percent)} of it is the workshop's: {share.reason}",
            f"Workshop {workshop} to {bill.category.name}, household {household}",
        ]

    def save(self) -> str:
        spent, sealed = share_bill.perform_payment(self.books_on(), self.sound(self._request()))
        return f"Entry {sealed.number}: {self.showing.amount(spent.business_cents)} of the bill is the workshop's."

    def _request(self) -> share_bill.BillPaymentRequest:
        return share_bill.BillPaymentRequest(
            name=self.text("name"),
            cents=self.amount("amount"),
            paid_from=self.text("from"),
            owed=bool(self.text("owed")) and self.choice("owed", _YES_NO, "Yes or no?") == "yes",
        )


class ShareBillForm(Form):
    """How a bill is shared, from a day on."""

    title_words = "Share a bill"

    def __init__(self, books: Books) -> None:
        super().__init__(books)
        self.categories = [each.name for each in read_accounts(books).of_kind("expense")]

    def asks(self) -> Sequence[Asked]:
        return (
            Asked("name", "Bill", hint="such as internet", known=[each.name for each in read_bills(self.books)]),
            Asked("category", "Its share goes to", known=self.categories, only_known=True),
            Asked("of_the_home", "Of the home?", hint="yes: rent, power, heat", known=_YES_NO, only_known=True),
            Asked("share", "Workshop's %"),
            Asked("reason", "Why so much", hint="such as floor share"),
            Asked("every", "Comes every", hint="such as month", known=EVERY, only_known=True),
            Asked("from", "Holds from", value="today"),
        )

    def preview(self) -> Sequence[str]:
        if self.text("share"):
            self.sound(self._request())
        return [
            "Of the home: its share is home cost, for the form's home line alone.",
            "Whether the share holds, your accountant decides: keep how you reckoned it.",
        ]

    def save(self) -> str:
        bill = share_bill.perform(self.books, self.sound(self._request()))
        return f"Kept: {bill.name}, its share to {bill.category.name}."

    def _request(self) -> share_bill.BillRequest:
        books = self.books
        return share_bill.BillRequest(
            name=self.text("name"),
            category=self.text("category") or "home cost",
            percent=self.read("share", lambda text: read_percent(text, "share"), Decimal(0)),
            reason=self.text("reason"),
            from_date=self.read(
                "from", lambda text: typed_date(text, books.today, books.settings.locale, "from"), books.today
            ),
            of_the_home=bool(self.text("of_the_home")) and self.choice("of_the_home", _YES_NO, "Yes or no?") == "yes",
            every=self.choice("every", EVERY, "How often?") if self.text("every") else None,
        )
