"""The machine's loan: its terms, a month skipped, a new rate, and the schedule as a page."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from decimal import Decimal

from ledger.actions import change_loan, set_loan
from ledger.books.balances import read_accounts
from ledger.books.books import Books
from ledger.machine.cost_entry import TAKING_ROLES
from ledger.machine.loan import read_months
from ledger.machine.loan_record import Loan, loan_numbered, read_loans
from ledger.machine.record import read_machines
from ledger.machine.schedule import Row, payoff, schedule
from ledger.money import read_percent
from ledger.screens.forms.field import Asked
from ledger.screens.forms.form import Form
from ledger.screens.forms.paper_page import PaperPage
from ledger.screens.reading import typed_date, typed_future_date
from ledger.screens.showing import Showing, paired

LENDER_WINS = "The lender's figures win where they differ."


class LoanForm(Form):
    """The terms; the payment and what the loan costs stand below while they are typed."""

    title_words = "A loan for the machine"

    def __init__(self, books: Books) -> None:
        super().__init__(books)
        self.machines = [each.name for each in read_machines(books)]
        accounts = read_accounts(books).all
        self.taking = [each.name for each in accounts if each.role in TAKING_ROLES and each.purse == "business"]

    def asks(self) -> Sequence[Asked]:
        several = len(self.machines) > 1
        machine = Asked("machine", "Machine", value=self.machines[0], known=self.machines, only_known=True)
        return (
            Asked("amount", "Amount", hint="or what is left of it"),
            Asked("percent", "Percent a year", hint="0 for none"),
            Asked("months", "Months"),
            Asked("first", "First payment", hint="such as 2026-04-05"),
            Asked("payment", "Payment", hint="if the lender set it"),
            Asked("charged_back", "Percent if late", hint="of a zero-percent offer"),
            Asked("paid_by", "Offer ends on"),
            Asked("lender", "Lender"),
            Asked("into", "Paid into", hint="or it was there before", known=self.taking, only_known=True),
            *([machine] if several else []),
            Asked("on", "Date", value="today"),
        )

    def preview(self) -> Sequence[str]:
        if not (self.text("amount") and self.text("percent") and self.text("months") and self.text("first")):
            return [LENDER_WINS]
        entered = set_loan.preview(self.books_on(), self.sound(self._request()))
        found, amount = schedule(entered.terms), self.showing.amount
        lines = [
            f"{amount(found.payment_cents)} a month, the last {amount(found.last_payment_cents)}; "
            f"interest {amount(found.interest_cents)} in all."
        ]
        if entered.terms.offer is not None:
            ends = self.showing.day(entered.terms.offer.ends_on)
            lines.append(f"{amount(found.charged_back_cents)} is charged back if it is not paid off by {ends}.")
        booked = entered.draft.postings if entered.draft is not None else ()
        lines += [paired(each.account.name, self.showing.plain(each.cents), 44) for each in booked]
        return [*lines, LENDER_WINS]

    def save(self) -> str:
        loan, sealed = set_loan.perform(self.books_on(), self.sound(self._request()))
        booked = f"Entry {sealed.number}. " if sealed is not None else ""
        return f"{booked}Kept as {loan.words}: {self.showing.amount(loan.schedule.payment_cents)} a month."

    def _request(self) -> set_loan.LoanRequest:
        return set_loan.LoanRequest(
            cents=self.amount("amount"),
            percent=self._percent("percent"),
            months=self.read("months", read_months, 1),
            first_on=self._day("first"),
            payment_cents=self.amount("payment") if self.text("payment") else None,
            offer_percent=self._percent("charged_back") if self.text("charged_back") else None,
            offer_ends_on=self._day("paid_by") if self.text("paid_by") else None,
            lender=self.text_or_none("lender"),
            machine=self.text_or_none("machine") if "machine" in self.fields else None,
            into=self.text_or_none("into"),
        )

    def _percent(self, name: str) -> Decimal:
        return self.read(name, lambda text: read_percent(text, name), Decimal(0))

    def _day(self, name: str) -> date:
        locale = self.books.settings.locale
        return self.read(name, lambda text: typed_future_date(text, self.books.today, locale, name), self.books.today)


class SkipForm(Form):
    """A month that is not paid, with the lender's leave."""

    title_words = "Skip a payment"

    def asks(self) -> Sequence[Asked]:
        return (*which_loan(self.books), Asked("on", "Date", value="today"))

    def preview(self) -> Sequence[str]:
        loan = loan_numbered(self.books_on(), self.sound(chosen_loan(self)))
        first = next(iter(loan.schedule.to_come), None)
        if first is None:
            return ["The loan is paid off."]
        return [
            f"The payment of {self.showing.day(first.day)} is put at the end.",
            f"Its interest, {self.showing.amount(first.interest_cents)}, comes with the next one.",
            LENDER_WINS,
        ]

    def save(self) -> str:
        loan = change_loan.skip(self.books_on(), change_loan.SkipRequest(self.sound(chosen_loan(self))))
        return f"A month of {loan.words} is skipped."


class RateForm(Form):
    """A new rate from a day on."""

    title_words = "A new rate"

    def asks(self) -> Sequence[Asked]:
        return (
            Asked("percent", "Percent a year"),
            Asked("from", "From", value="today"),
            *which_loan(self.books),
        )

    def preview(self) -> Sequence[str]:
        return ["It counts from the first payment after that day, for the months that are left.", LENDER_WINS]

    def save(self) -> str:
        loan = change_loan.set_rate(self.books, self.sound(self._request()))
        return f"{_begun(loan.words)}: {self.showing.amount(loan.schedule.payment_cents)} a month."

    def _request(self) -> change_loan.RateRequest:
        books = self.books
        return change_loan.RateRequest(
            percent=self.read("percent", lambda text: read_percent(text, "percent"), Decimal(0)),
            from_date=self.read(
                "from", lambda text: typed_date(text, books.today, books.settings.locale, "from"), books.today
            ),
            loan=chosen_loan(self),
        )


def which_loan(books: Books) -> tuple[Asked, ...]:
    """The field that says which loan is meant, where there are several."""
    running = [str(each.id) for each in read_loans(books) if not each.is_paid_off]
    return (Asked("loan", "Loan", hint="its number", known=running, only_known=True),) if len(running) > 1 else ()


def chosen_loan(form: Form) -> int | None:
    """The number of the loan that a form names, None for the only one."""
    if "loan" not in form.fields or not form.text("loan"):
        return None
    return form.read("loan", lambda text: read_months(text, "loan"), 1)


def schedule_page(books: Books, showing: Showing) -> PaperPage:
    """What was paid on a loan and what is to come, as a page. Raises NotFound, NotPossible where several run."""
    loan = loan_numbered(books, None)
    quote = payoff(loan.terms, loan.happened, books.today)
    below = f"Paid off today it is {showing.amount(quote.total_cents)}. {LENDER_WINS}"
    return PaperPage(_begun(loan.words), _schedule_lines(loan, showing), below)


def _begun(words: str) -> str:
    """The words at the beginning of a sentence; a lender keeps his capitals."""
    return words[:1].upper() + words[1:]


def _schedule_lines(loan: Loan, showing: Showing) -> Iterator[str]:
    yield f"{'':>3} {'':<10}{'payment':>11}{'interest':>11}{'principal':>11}{'left':>13}"
    for each in loan.schedule.rows:
        yield _schedule_line(each, showing)


def _schedule_line(row: Row, showing: Showing) -> str:
    amounts = (row.payment_cents, row.interest_cents, row.principal_cents)
    columns = "".join(f"{showing.plain(each):>11}" for each in amounts)
    mark = row.what if row.what in ("skipped", "extra", "paid off") else "paid" if row.is_paid else ""
    return f"{row.number or '':>3} {row.day.isoformat():<10}{columns}{showing.plain(row.balance_cents):>13} {mark}"
