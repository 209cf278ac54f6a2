"""Move what is to be set aside to the tax savings account, as an entry."""

from __future__ import annotations

from dataclasses import dataclass

from ledger.books.balances import balance, read_accounts
from ledger.books.books import Books
from ledger.books.drafts import Draft
from ledger.books.entries import Sealed, seal
from ledger.errors import NotPossible
from ledger.money import plain_amount
from ledger.set_aside.owed import read_set_aside
from ledger.spending.transfers import Transfer, settle_move

_TEXT = "Set aside for what is owed to others"


@dataclass(frozen=True)
class SetAsideRequest:
    """cents: None moves what is to be moved, as far as checking has it."""

    cents: int | None = None


@dataclass(frozen=True)
class SettledMove:
    """cents: what goes to tax savings. lacking: what would still be to move after it."""

    cents: int
    lacking_cents: int
    draft: Draft


def preview(books: Books, request: SetAsideRequest) -> SettledMove:
    """What would be moved. Raises NotPossible where nothing is to be moved, or checking does not have it."""
    to_move = read_set_aside(books).to_move_cents
    checking = balance(books, "checking", books.today)
    cents = request.cents if request.cents is not None else min(to_move, checking)
    if request.cents is None and not to_move:
        raise NotPossible("Everything that is owed is set aside.", "There is nothing to move.", "amount")
    if cents > checking or cents <= 0:
        has = plain_amount(checking, books.currency)
        raise NotPossible(
            f"Checking holds {has}.", "Move that much or less, or carry cash to the bank first.", "amount"
        )
    accounts = read_accounts(books)
    draft = settle_move(Transfer(cents, accounts["checking"], accounts["tax_savings"], _TEXT), books.today)
    return SettledMove(cents, max(0, to_move - cents), draft)


def perform(books: Books, request: SetAsideRequest) -> tuple[SettledMove, Sealed]:
    """Move it. Raises as `preview` does."""
    with books.writing() as write:
        settled = preview(books, request)
        return settled, seal(books, write, settled.draft)
