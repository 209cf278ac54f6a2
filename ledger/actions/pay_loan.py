"""Pay on a loan: a payment due, an extra payment, or all that is left.

The interest is what the schedule says unless the lender's figure is given, which wins. A payment below the interest
pays interest alone, and the rest of it stays owed.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from ledger.actions.spend import HOUSEHOLD_PAYS, OWED_BACK
from ledger.books.balances import read_accounts
from ledger.books.books import Books
from ledger.books.drafts import Draft
from ledger.books.entries import Sealed, check_date, seal
from ledger.books.settings import chosen
from ledger.errors import NotPossible
from ledger.machine.cost_entry import settle_loan_payment
from ledger.machine.loan_record import Loan, keep_payment, loan_numbered, most_that_can_be_paid
from ledger.machine.schedule import Happened, interest_due
from ledger.money import plain_amount

Paying = Literal["payment", "extra", "paid off"]
_WORDS: dict[Paying, str] = {"payment": "Payment on", "extra": "Extra payment on", "paid off": "Paid off:"}


@dataclass(frozen=True)
class LoanPaymentRequest:
    """paid_from: by name. interest_cents: the lender's figure. loan: its number, None for the only one that runs.

    owed: the household paid and is owed it back; None goes by her standing choice.
    """

    cents: int
    paid_from: str = "checking"
    what: Paying = "payment"
    interest_cents: int | None = None
    loan: int | None = None
    owed: bool | None = None


@dataclass(frozen=True)
class LoanPayment:
    """expected_interest_cents: as the schedule has it. is_below_interest: it pays interest alone, and not all of it."""

    loan: Loan
    paid: Happened
    expected_interest_cents: int
    draft: Draft

    @property
    def principal_cents(self) -> int:
        return self.paid.cents - self.paid.interest_cents

    @property
    def is_below_interest(self) -> bool:
        return (
            self.paid.what == "payment" and self.paid.cents < self.expected_interest_cents and not self.principal_cents
        )

    @property
    def left_cents(self) -> int:
        return self.loan.balance_cents - self.principal_cents


def preview(books: Books, request: LoanPaymentRequest) -> LoanPayment:
    """What a payment would book. Raises NotFound, NotPossible, NotUnderstood."""
    loan = loan_numbered(books, request.loan)
    if loan.is_paid_off and not loan.schedule.interest_owed_cents:
        raise NotPossible(f"Nothing is left of {loan.words}.", "Say which loan is meant with --loan.", "loan")
    accounts = read_accounts(books)
    paid_from = accounts.named(request.paid_from, "from")
    expected = 0 if request.what == "extra" else interest_due(loan.terms, loan.happened, books.today)
    interest = _interest(request, loan, expected)
    _check(books, request, loan, interest, expected)
    owed = request.owed
    if owed is None:
        owed = paid_from.purse == "personal" and chosen(books, HOUSEHOLD_PAYS, books.today) == OWED_BACK
    principal = request.cents - interest
    words = f"{_WORDS[request.what]} {loan.words}"
    draft = settle_loan_payment(words, interest, principal, paid_from, accounts, books.today, owed=owed)
    return LoanPayment(loan, Happened(books.today, request.what, request.cents, interest), expected, draft)


def perform(books: Books, request: LoanPaymentRequest) -> tuple[LoanPayment, Sealed]:
    """Book a payment. Raises as `preview` does."""
    with books.writing() as write:
        check_date(books, books.today)
        payment = preview(books, request)
        sealed = seal(books, write, payment.draft)
        keep_payment(write, payment.loan.id, payment.paid, sealed.number)
        return payment, sealed


def _interest(request: LoanPaymentRequest, loan: Loan, expected: int) -> int:
    if request.interest_cents is not None:
        return request.interest_cents
    if request.what == "paid off":
        return max(0, request.cents - loan.balance_cents)
    return min(expected, request.cents)


def _check(books: Books, request: LoanPaymentRequest, loan: Loan, interest: int, expected: int) -> None:
    amount = request.cents
    if interest > amount:
        raise NotPossible("The interest is more than the payment.", "Check both amounts.", "interest")
    if request.what == "extra" and interest:
        raise NotPossible("An extra payment is principal alone.", "Leave the interest out.", "interest")
    left = most_that_can_be_paid(books, loan)
    shown = plain_amount(left, books.currency)
    if amount - interest > left:
        with_interest = plain_amount(left + expected, books.currency)
        raise NotPossible(
            f"{shown} is left of {loan.words}, {with_interest} with the interest.",
            "Pay that much at most; what pays it off on a day is «twopurse machine payoff».",
            "amount",
        )
    if request.what == "paid off" and amount - interest < left:
        raise NotPossible(
            f"{shown} is left of {loan.words}, so that does not pay it off.",
            "Give what the lender took in all, and his interest with --interest; a part of it is --extra.",
            "amount",
        )
