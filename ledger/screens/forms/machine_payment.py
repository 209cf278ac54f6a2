"""A payment on the machine's loan: what of it is interest, and what is left then."""

from __future__ import annotations

from collections.abc import Sequence

from ledger.actions import pay_loan
from ledger.books.balances import read_accounts
from ledger.books.books import Books
from ledger.errors import NotPossible
from ledger.machine.loan_record import loan_due, read_loans
from ledger.money import plain_amount
from ledger.screens.forms.field import Asked
from ledger.screens.forms.form import Form
from ledger.screens.forms.machine_loan import LENDER_WINS, chosen_loan, which_loan
from ledger.screens.showing import paired
from ledger.spending.spend import PAYING_ROLES

_LOOK_AHEAD_DAYS = 31
_WHAT: tuple[pay_loan.Paying, ...] = ("payment", "extra", "paid off")


class LoanPaymentForm(Form):
    """NotPossible where there is no loan."""

    title_words = "A payment on the loan"

    def __init__(self, books: Books) -> None:
        super().__init__(books)
        if not read_loans(books):
            raise NotPossible("There is no loan in the books.", "Enter its terms with t first.", None)
        self.paying = [each.name for each in read_accounts(books).all if each.role in PAYING_ROLES]
        self.due = next(iter(loan_due(books, books.today, _LOOK_AHEAD_DAYS)), None)

    def asks(self) -> Sequence[Asked]:
        due = plain_amount(self.due.cents, self.books.currency) if self.due is not None else ""
        return (
            *which_loan(self.books),
            Asked("amount", "Amount", value=due, hint="as the lender has it"),
            Asked("from", "Paid from", value="checking", known=self.paying, only_known=True),
            Asked("interest", "Interest in it", hint="if empty: as scheduled"),
            Asked("what", "What it is", value="payment", known=_WHAT, only_known=True),
            Asked("on", "Date", value="today"),
        )

    def preview(self) -> Sequence[str]:
        if not self.text("amount"):
            return ["Interest is an expense, the rest of a payment is not.", LENDER_WINS]
        found, plain = pay_loan.preview(self.books_on(), self.sound(self._request())), self.showing.plain
        lines = [
            paired("Interest", plain(found.paid.interest_cents), 44),
            paired("Off the loan", plain(found.principal_cents), 44),
            paired("Left of it then", plain(found.left_cents), 44),
        ]
        if found.is_below_interest:
            lines.append(
                f"That is below the interest of {plain(found.expected_interest_cents)}: nothing goes off the loan."
            )
        return [*lines, LENDER_WINS]

    def save(self) -> str:
        found, sealed = pay_loan.perform(self.books_on(), self.sound(self._request()))
        left = self.showing.amount(found.left_cents)
        return f"Entry {sealed.number}: {self.showing.amount(found.principal_cents)} off the loan, {left} is left."

    def _request(self) -> pay_loan.LoanPaymentRequest:
        return pay_loan.LoanPaymentRequest(
            cents=self.amount("amount"),
            paid_from=self.text("from"),
            what=self.choice("what", _WHAT, "What is it?"),
            interest_cents=self.amount("interest", zero=True) if self.text("interest") else None,
            loan=chosen_loan(self),
        )
