"""Let go of what the workshop owes its owner: it becomes a contribution, and no money moves."""

from __future__ import annotations

from dataclasses import dataclass

from ledger.actions.transfer import owed_back
from ledger.books.balances import read_accounts
from ledger.books.books import Books
from ledger.books.drafts import Draft, postings
from ledger.books.entries import Sealed, seal
from ledger.text import read_text


@dataclass(frozen=True)
class LetGoRequest:
    """cents: None lets go of all that is owed."""

    cents: int | None = None
    why: str | None = None


def preview(books: Books, request: LetGoRequest) -> Draft:
    """What it would book. Raises NotPossible for more than is owed, NotUnderstood."""
    accounts = read_accounts(books)
    cents = owed_back(books, request.cents)
    lines = postings((accounts["owed_to_owner"], cents), (accounts["owners_contributions"], -cents))
    text = read_text(request.why, "why") if request.why is not None else "Let go by the owner"
    return Draft(on=books.today, kind="let-go", text=text, postings=lines)


def perform(books: Books, request: LetGoRequest) -> Sealed:
    """Raises as `preview` does."""
    with books.writing() as write:
        return seal(books, write, preview(books, request))
