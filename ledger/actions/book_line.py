"""What placing a line books, each way through the act that books it elsewhere too."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date
from typing import Literal

from ledger.actions import card_payout, pay_loan, returned_payment, spend, take_money, transfer
from ledger.bank.income import settle_income
from ledger.bank.matches import Line
from ledger.books.accounts import Account, Accounts
from ledger.books.balances import read_accounts
from ledger.books.books import Books
from ledger.books.entries import seal
from ledger.books.transaction import Writing
from ledger.errors import NotPossible, NotUnderstood
from ledger.jobs.records import read_job
from ledger.jobs.returned import ReturnedRequest
from ledger.money import plain_amount
from ledger.text import NAME_LENGTH, name_key

Way = Literal[
    "suggested", "category", "entry", "job", "home", "transfer", "payout", "returned", "loan", "ignored", "later"
]
# The most that a bank takes for a check that came back; above that the line is another thing. Common sense, no source.
_MOST_RETURN_FEE_PART = 2


@dataclass(frozen=True)
class PlaceRequest:
    """line: its number. way: what it was; `suggested` takes what the program suggests.

    name: the category, or the other account of a transfer. entries: what it is in the books. who: None takes the
    line's own words. home_cents: the household's part. also: further categories with their amounts. interest_cents: of
    a loan payment, as the lender says. through: the last day of the card payments that a payout covers.
    """

    line: int
    way: Way
    name: str = ""
    entries: tuple[int, ...] = ()
    job: int | None = None
    who: str | None = None
    home_cents: int = 0
    also: tuple[tuple[str, int], ...] = ()
    interest_cents: int | None = None
    through: date | None = None


# The most that a bank takes for a check that came back; above that the line is another thing. Common sense, no source.
_MOST_RETURN_FEE_PART = 2


def who_of(line: Line) -> str:
    """A name from the words of a line, as the books keep names."""
    name = " ".join(line.text.replace("=", " ").split())[:NAME_LENGTH].strip()
    return name if any(each.isalnum() for each in name) else "The bank"


def _book_category(books: Books, write: Writing, line: Line, account: Account, asked: PlaceRequest) -> tuple[int, ...]:
    accounts = read_accounts(books)
    income = _income(accounts, asked.name)
    if income is not None:
        if line.cents < 0:
            raise NotPossible(
                f"«{income.name}» is income, and this line went out.", "Choose an expense category.", "category"
            )
        draft = settle_income(account, income, line.cents, line.words, books.today)
        return (seal(books, write, draft).number,)
    request = spend.SpendRequest(
        amount_cents=abs(line.cents),
        category=asked.name,
        paid_from=account.name,
        who=asked.who or who_of(line),
        home_cents=asked.home_cents,
        owed=False,
        also=asked.also,
        is_back=line.cents > 0,
    )
    return (spend.perform(books, request)[1].number,)


def _income(accounts: Accounts, name: str) -> Account | None:
    """`other income`, where that is named: interest and the like; job income has its own acts."""
    other = accounts["other_income"]
    return other if name_key(other.name) == name_key(name) else None


def _book_home(books: Books, write: Writing, line: Line, account: Account, asked: PlaceRequest) -> tuple[int, ...]:
    """A household thing: a draw, or money of the household's that came to the workshop."""
    if line.cents > 0:
        request = transfer.TransferRequest(
            "put-in", line.cents, "household checking", account.name, line.words[:500] or None
        )
        return (transfer.perform(books, request).number,)
    # Which category stands there makes no difference: no part of the receipt goes to it.
    receipt = spend.SpendRequest(
        amount_cents=-line.cents,
        category=read_accounts(books)["bank_charges"].name,
        paid_from=account.name,
        who=asked.who or who_of(line),
        home_cents=-line.cents,
    )
    return (spend.perform(books, receipt)[1].number,)


def _book_job(books: Books, write: Writing, line: Line, account: Account, asked: PlaceRequest) -> tuple[int, ...]:
    """A deposit before pickup, or money towards what a job owes after it."""
    if asked.job is None:
        raise NotUnderstood("Which job is not said.", "Give its number.", "job")
    if line.cents < 0 or account.role != "checking":
        raise NotPossible(
            "Only what came into checking is money for a job.",
            "What went back to a customer is a refund; match the line with its entry.",
            "job",
        )
    request = take_money.MoneyRequest(
        asked.job, line.cents, "check" if line.number else "transfer", number=line.number or None
    )
    is_before_pickup = read_job(books, asked.job).status in take_money.DEPOSIT_FROM
    take = take_money.take_deposit if is_before_pickup else take_money.take_balance
    return (take(books, request)[1].number,)


def _book_transfer(books: Books, write: Writing, line: Line, account: Account, asked: PlaceRequest) -> tuple[int, ...]:
    other = read_accounts(books).named(asked.name, "transfer")
    source, target = (account, other) if line.cents < 0 else (other, account)
    act: transfer.Act = "move"
    if source.purse != target.purse:
        act = "draw" if source.purse == "business" else "put-in"
    request = transfer.TransferRequest(act, abs(line.cents), source.name, target.name)
    return (transfer.perform(books, request).number,)


def _book_payout(books: Books, write: Writing, line: Line, account: Account, asked: PlaceRequest) -> tuple[int, ...]:
    if account.role != "checking":
        raise NotPossible("A card payout comes into checking.", "Place this line in another way.", "line")
    through = asked.through or books.today
    request = card_payout.PayoutRequest(abs(line.cents), through, line.cents < 0)
    return (card_payout.perform(books, request)[1].number,)


def _book_returned(books: Books, write: Writing, line: Line, account: Account, asked: PlaceRequest) -> tuple[int, ...]:
    """A check that came back; what the line is above it is the bank's charge."""
    if asked.job is None:
        raise NotUnderstood("Which job the check was for is not said.", "Give its number.", "job")
    if line.cents > 0 or account.role != "checking":
        raise NotPossible("A returned check goes out of checking.", "Place this line in another way.", "line")
    request = ReturnedRequest(asked.job, "check", number=None)
    paid = returned_payment.perform_and_tell(books, replace(request, fee_cents=_return_fee(books, line, request)))
    return (paid.entry.number,)


def _return_fee(books: Books, line: Line, request: ReturnedRequest) -> int:
    undone = returned_payment.preview(books, request).draft
    check = -sum(each.cents for each in undone.postings if each.account.role == "checking")
    fee = -line.cents - check
    if not 0 <= fee <= check // _MOST_RETURN_FEE_PART:
        raise NotPossible(
            f"The check on job {request.job} was over {plain_amount(check, books.currency)}.",
            "Check the job; the bank's charge for it may be a line of its own, under bank charges.",
            "job",
        )
    return fee


def _book_loan(books: Books, write: Writing, line: Line, account: Account, asked: PlaceRequest) -> tuple[int, ...]:
    if line.cents > 0:
        raise NotPossible("A loan payment goes out.", "Place this line in another way.", "line")
    request = pay_loan.LoanPaymentRequest(-line.cents, account.name, interest_cents=asked.interest_cents)
    return (pay_loan.perform(books, request)[1].number,)


BOOKING: dict[str, Callable[[Books, Writing, Line, Account, PlaceRequest], tuple[int, ...]]] = {
    "category": _book_category,
    "home": _book_home,
    "job": _book_job,
    "transfer": _book_transfer,
    "payout": _book_payout,
    "returned": _book_returned,
    "loan": _book_loan,
}
