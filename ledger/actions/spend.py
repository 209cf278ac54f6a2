"""Spend: a receipt goes into the books, whoever paid it."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from ledger.books.balances import read_accounts
from ledger.books.books import Books
from ledger.books.documents import attach, read_document
from ledger.books.entries import Sealed, seal
from ledger.books.parties import ensure_party
from ledger.spending.spend import Receipt, Spent, settle
from ledger.text import read_name, read_text


@dataclass(frozen=True)
class SpendRequest:
    """A receipt as it is said: accounts by name, amounts in cents. document: a file to keep with the entry."""

    amount_cents: int
    category: str
    paid_from: str
    who: str
    home_cents: int = 0
    owed: bool = False
    untaxed: bool = False
    why: str | None = None
    document: Path | None = None


def preview(books: Books, request: SpendRequest) -> Spent:
    """What a receipt would book. Raises NotFound for an account, NotPossible, NotUnderstood."""
    accounts = read_accounts(books)
    receipt = Receipt(
        amount_cents=request.amount_cents,
        category=accounts.category(request.category),
        paid_from=accounts.named(request.paid_from, "from"),
        who=read_name(request.who, "who"),
        home_cents=request.home_cents,
        owed=request.owed,
        untaxed=request.untaxed,
        why=read_text(request.why, "why") if request.why is not None else None,
    )
    return settle(receipt, accounts, books.today)


def perform(books: Books, request: SpendRequest) -> tuple[Spent, Sealed]:
    """Book a receipt, with its document. Raises as `preview` does."""
    content = read_document(request.document) if request.document is not None else None
    with books.writing() as write:
        spent = preview(books, request)
        draft = spent.draft.by(ensure_party(books, write, request.who))
        sealed = seal(books, write, draft)
        if request.untaxed and spent.business_cents:
            category = draft.postings[0].account
            write.add("untaxed_stock", entry=sealed.number, account=category.id, cents=spent.business_cents)
        if content is not None and request.document is not None:
            attach(books, write, content, request.document.name, entry=sealed.number)
    return spent, sealed
