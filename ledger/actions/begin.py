"""Begin the books: the accounts, what is in the bank, and the machine."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from pathlib import Path

from ledger.books.accounts import Accounts
from ledger.books.balances import add_accounts, read_accounts
from ledger.books.books import Books, Settings
from ledger.books.chart import BEGINNING_ACCOUNTS
from ledger.books.clock import Clock
from ledger.books.drafts import Draft, postings
from ledger.books.entries import seal
from ledger.books.opening import begin_books
from ledger.books.transaction import Writing
from ledger.errors import NotPossible, NotUnderstood
from ledger.machine.record import add_cost
from ledger.money import Currency
from ledger.text import read_name

UNITS = ("in", "cm")


@dataclass(frozen=True)
class BeginRequest:
    """machine_price_cents: what the workshop paid, all of it before the books begin. opening_cents: in the bank now."""

    name: str
    currency: Currency
    locale: str = "en_US"
    units: str = "in"
    machine_price_cents: int = 0
    machine_date: date | None = None
    opening_cents: int = 0


def perform(folder: Path, clock: Clock, request: BeginRequest) -> Books:
    """New books that begin today. Raises NotPossible, NotUnderstood, BooksNotUsable."""
    if request.machine_date is not None and request.machine_date > clock.today:
        raise NotPossible(
            f"{request.machine_date} is in the future.", "Give the day on which the machine came.", "machine_date"
        )
    settings = Settings(
        name=read_name(request.name, "name"),
        currency=request.currency,
        locale=_known_locale(request.locale),
        units=request.units,
        begun_on=clock.today,
    )

    def first_rows(books: Books, write: Writing) -> None:
        add_accounts(write, BEGINNING_ACCOUNTS)
        accounts = read_accounts(books)
        for draft in opening_entries(request, accounts, clock.today):
            sealed = seal(books, write, draft)
            if draft.belongs_on is not None:
                add_cost(books, write, "Machine", request.machine_price_cents, draft.belongs_on, sealed.number)

    return begin_books(folder, clock, settings, first_rows)


def opening_entries(request: BeginRequest, accounts: Accounts, today: date) -> tuple[Draft, ...]:
    """What stands there already when the books begin: it stands against the opening balance and crosses nothing."""
    opening = accounts["opening_balance"]
    drafts = []
    if request.opening_cents:
        lines = postings((accounts["checking"], request.opening_cents), (opening, -request.opening_cents))
        drafts.append(Draft(on=today, kind="opening", text="In the bank when the books began", postings=lines))
    if request.machine_price_cents:
        lines = postings((accounts["machine"], request.machine_price_cents), (opening, -request.machine_price_cents))
        drafts.append(
            Draft(
                on=today,
                kind="opening",
                text="Machine bought before the books began",
                postings=lines,
                belongs_on=request.machine_date or today,
            )
        )
    return tuple(drafts)


def _known_locale(locale: str) -> str:
    from babel import Locale, UnknownLocaleError  # 60 ms, only when books begin

    try:
        return str(Locale.parse(locale.replace("-", "_")))
    except (UnknownLocaleError, ValueError, TypeError):
        raise NotUnderstood(f"«{locale}» is no locale.", "Give one such as en_US or en_CA.", "locale") from None
