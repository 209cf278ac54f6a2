"""What the household has when its side of the books begins: it stands against its own opening balance, and crosses
nothing."""

from __future__ import annotations

from dataclasses import dataclass

from ledger.books.accounts import Account
from ledger.books.balances import read_accounts
from ledger.books.books import Books
from ledger.books.drafts import Draft, postings
from ledger.books.entries import Sealed, seal
from ledger.errors import NotPossible

OPENED = ("household_checking", "personal_card")


@dataclass(frozen=True)
class HouseholdOpeningRequest:
    """cents: what is in household checking, or what is owed on the personal card. account: by name."""

    cents: int
    account: str = "household checking"


def preview(books: Books, request: HouseholdOpeningRequest) -> Draft:
    """What it would book. Raises NotFound for the account, NotPossible for one of another kind or opened before."""
    accounts = read_accounts(books)
    account = accounts.named(request.account, "account")
    if account.role not in OPENED:
        raise NotPossible(
            f"«{account.name}» is not opened so.", "Name household checking or the personal card.", "account"
        )
    before = _opened_by(books, account)
    if before is not None:
        raise NotPossible(
            f"«{account.name}» was opened by entry {before}.", f"Undo entry {before} if it was wrong.", "account"
        )
    owed = account.role == "personal_card"
    cents = -request.cents if owed else request.cents
    text = "Owed on the personal card" if owed else "In household checking"
    lines = postings((account, cents), (accounts["household_opening_balance"], -cents))
    return Draft(on=books.today, kind="opening", text=f"{text} to begin with", postings=lines)


def perform(books: Books, request: HouseholdOpeningRequest) -> Sealed:
    """Raises as `preview` does."""
    with books.writing() as write:
        return seal(books, write, preview(books, request))


def _opened_by(books: Books, account: Account) -> int | None:
    """The entry that opened an account and was not undone."""
    found = books.value(
        "select entry.number from entry join posting on posting.entry = entry.number where kind = 'opening' "
        "and account = ? and reverses is null "
        "and not exists (select 1 from entry as mirror where mirror.reverses = entry.number)",
        (account.id,),
    )
    return None if found is None else int(found)
