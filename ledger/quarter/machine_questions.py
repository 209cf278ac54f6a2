"""What is still open about the machines: one that was sold, a share of private use, and an offer that runs out."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from ledger.books.balances import movements, read_accounts
from ledger.books.books import Books
from ledger.machine.cost import COMES_BACK
from ledger.machine.loan_record import read_loans
from ledger.machine.record import read_machines, read_parts, share_on
from ledger.money import plain_amount, plain_percent


def machine_questions(books: Books, start: date, end: date) -> Iterator[str]:
    """The questions of the days from start to end, both included."""
    for part in read_parts(books, end):
        if part.kind in COMES_BACK and part.entry is not None and start <= part.day <= end:
            brought = plain_amount(-part.cents, books.currency)
            yield f"{part.what}, {part.day}, for {brought}: what is the gain or loss, and is sales tax due on it?"
    interest = movements(books, start, end)[read_accounts(books)["loan_interest"].id]
    for machine in read_machines(books):
        percent = share_on(books, machine, "use", end)
        if percent < 100 and interest > 0:
            paid = plain_amount(interest, books.currency)
            yield (
                f"«{machine.name}» is used for the workshop at {plain_percent(percent)} %: how much of the loan "
                f"interest of {paid} counts?"
            )
    for loan in read_loans(books, end):
        offer = loan.terms.offer
        if offer is not None and not loan.is_paid_off and loan.schedule.is_charged_back:
            charged = plain_amount(loan.schedule.charged_back_cents, books.currency)
            yield (
                f"The offer on {loan.words} ends on {offer.ends_on}, and as it runs {charged} of interest is charged "
                "back: can it be paid off before?"
            )
