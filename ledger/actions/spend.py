"""Spend: a receipt goes into the books, whoever paid it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

from ledger.books.accounts import Accounts
from ledger.books.balances import read_accounts
from ledger.books.books import Books
from ledger.books.documents import attach, read_document
from ledger.books.entries import Sealed, seal
from ledger.books.parties import ensure_party
from ledger.books.settings import choose, chosen
from ledger.errors import NotPossible, NotUnderstood
from ledger.spending.spend import Part, Receipt, Spent, settle
from ledger.taxes.untaxed_stock_records import check_given_back
from ledger.text import read_name, read_text

HOUSEHOLD_PAYS = "household pays"
OWED_BACK = "owed"
HOUSEHOLD_CHOICES = (OWED_BACK, "contribution")


@dataclass(frozen=True)
class SpendRequest:
    """A receipt as it is said: accounts by name, amounts in cents. document: a file to keep with the entry.

    owed: None goes by her standing choice. also: further categories with their amounts. belongs_on: the receipt's own
    day, where its period is closed and it is entered on a later one.
    """

    amount_cents: int
    category: str
    paid_from: str
    who: str
    home_cents: int = 0
    owed: bool | None = None
    untaxed: bool = False
    why: str | None = None
    document: Path | None = None
    also: tuple[tuple[str, int], ...] = ()
    tax_cents: int = 0
    is_back: bool = False
    belongs_on: date | None = None


@dataclass(frozen=True)
class HouseholdPaysRequest:
    """choice: owed, or contribution."""

    choice: str


def preview(books: Books, request: SpendRequest) -> Spent:
    """What a receipt would book. Raises NotFound for an account, NotPossible, NotUnderstood."""
    accounts = read_accounts(books)
    receipt = Receipt(
        amount_cents=request.amount_cents,
        category=accounts.category(request.category, day=books.today),
        paid_from=accounts.named(request.paid_from, "from"),
        who=read_name(request.who, "who"),
        home_cents=request.home_cents,
        owed=_is_owed(books, request, accounts),
        untaxed=request.untaxed,
        why=read_text(request.why, "why") if request.why is not None else None,
        also=tuple(Part(accounts.category(name, "also", day=books.today), cents) for name, cents in request.also),
        tax_cents=request.tax_cents,
        is_back=request.is_back,
    )
    spent = settle(receipt, accounts, books.today)
    if request.belongs_on is None:
        return spent
    if request.belongs_on >= books.today:
        raise NotPossible(
            f"A receipt of {request.belongs_on} is not late on {books.today}.", "Give the earlier day.", "belongs_on"
        )
    return replace(spent, draft=replace(spent.draft, belongs_on=request.belongs_on))


def _is_owed(books: Books, request: SpendRequest, accounts: Accounts) -> bool:
    """As it is said, or by her standing choice where the household paid."""
    if request.owed is not None:
        return request.owed
    paid_by_household = accounts.named(request.paid_from, "from").purse == "personal"
    return paid_by_household and not request.is_back and household_choice(books) == OWED_BACK


def household_choice(books: Books) -> str:
    """Her standing choice as of today; a contribution where she has made none."""
    return chosen(books, HOUSEHOLD_PAYS, books.today) or "contribution"


def choose_what_household_pays(books: Books, choice: str) -> None:
    """Her standing choice for workshop goods that the household pays: a contribution, or owed back to her.

    Raises NotUnderstood for another word.
    """
    if choice not in HOUSEHOLD_CHOICES:
        raise NotUnderstood("It is one of two.", f"Say {' or '.join(HOUSEHOLD_CHOICES)}.", "choice")
    with books.writing() as write:
        choose(write, HOUSEHOLD_PAYS, choice, books.today, books.today)


def perform(books: Books, request: SpendRequest) -> tuple[Spent, Sealed]:
    """Book a receipt, with its document. Raises as `preview` does."""
    content = read_document(request.document) if request.document is not None else None
    with books.writing() as write:
        spent = preview(books, request)
        for part in spent.parts if request.untaxed and request.is_back else ():
            check_given_back(books, part.category, part.cents)
        draft = spent.draft.by(ensure_party(books, write, request.who))
        sealed = seal(books, write, draft)
        for part in spent.parts if request.untaxed else ():
            cents = -part.cents if request.is_back else part.cents
            write.add("untaxed_stock", entry=sealed.number, account=part.category.id, cents=cents)
        if content is not None and request.document is not None:
            attach(books, write, content, request.document.name, entry=sealed.number)
    return spent, sealed
