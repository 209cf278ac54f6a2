"""Pay a filed sales tax return, or take in what the state pays back of one."""

from __future__ import annotations

from dataclasses import dataclass

from ledger.books.accounts import Account
from ledger.books.balances import read_accounts
from ledger.books.books import Books
from ledger.books.entries import Sealed, seal
from ledger.errors import NotPossible
from ledger.periods import Period
from ledger.spending.spend import PAYING_ROLES
from ledger.taxes.filed_return import FiledReturn
from ledger.taxes.filed_returns import filed_by_start, keep_filing_payment, read_filed
from ledger.taxes.filing_rules import filing_period
from ledger.taxes.return_entries import ReturnPaid, settle_payment

USUAL_ACCOUNT = "checking"


@dataclass(frozen=True)
class PayRequest:
    """cents: None is all that is left. from_name: the account that it is paid from, or comes into."""

    period: Period | None = None
    cents: int | None = None
    from_name: str = USUAL_ACCOUNT


def preview(books: Books, request: PayRequest) -> tuple[FiledReturn, ReturnPaid]:
    """What paying would book. Raises NotFound for an account, NotPossible for a return that is not filed."""
    filed = return_to_pay(books, request.period)
    accounts = read_accounts(books)
    money = accounts.named(request.from_name, "from")
    _check_account(money)
    return filed, settle_payment(filed, accounts, books.currency, money, request.cents, books.today)


def perform(books: Books, request: PayRequest) -> tuple[FiledReturn, ReturnPaid, Sealed]:
    """Book the payment. Raises as `preview` does."""
    with books.writing() as write:
        filed, paid = preview(books, request)
        sealed = seal(books, write, paid.draft)
        keep_filing_payment(write, filed.id, sealed.number, paid.cents, paid.allowance_cents, paid.use_tax_cents)
    return filed, paid, sealed


def return_to_pay(books: Books, period: Period | None) -> FiledReturn:
    """The return of a period on which something is left, the last of it where nothing is. Raises NotPossible.

    Without a period, the oldest return on which something is left.
    """
    filed = read_filed(books)
    if period is None:
        left = [each for each in filed if _is_left(books, each)]
        if left:
            return left[0]
    wanted = filing_period(books, period)
    several = filed_by_start(filed).get(wanted.start)
    if not several:
        raise NotPossible(
            f"The return of {wanted.label} is not filed yet.", "File it first, with «twopurse tax file».", "period"
        )
    return next((each for each in several if _is_left(books, each)), several[-1])


def _is_left(books: Books, filed: FiledReturn) -> bool:
    """Whether something is to be paid on it, or comes back."""
    return filed.to_pay_on(books.today) > 0 or (filed.is_claimed and filed.left_cents < 0)


def _check_account(money: Account) -> None:
    if money.role not in PAYING_ROLES:
        raise NotPossible(
            f"Nothing is paid from «{money.name}».", "Name an account that money lies in, such as checking.", "from"
        )
