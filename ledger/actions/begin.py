"""Begin the books: the accounts, what is in the bank, and the machine."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import Literal

from checklists import choices
from checklists.not_yet_known import Unknown, add_unknown
from ledger.books.accounts import Accounts
from ledger.books.balances import add_accounts, read_accounts
from ledger.books.books import Books, Settings
from ledger.books.chart import BEGINNING_ACCOUNTS
from ledger.books.clock import Clock
from ledger.books.drafts import Draft, postings
from ledger.books.entries import seal
from ledger.books.opening import begin_books
from ledger.books.settings import choose
from ledger.books.transaction import Writing
from ledger.errors import NotPossible, NotUnderstood
from ledger.machine.record import add_cost
from ledger.money import Currency
from ledger.taxes.rules import add_rate
from ledger.text import read_name

UNITS = ("in", "cm")


Owned = Literal["sole proprietor", "one-owner LLC", "something else"]
_FOR_COMPUTERS = "POSIX"
OWNED: tuple[Owned, ...] = ("sole proprietor", "one-owner LLC", "something else")


@dataclass(frozen=True)
class BeginRequest:
    """machine_price_cents: what the workshop paid, all of it before the books begin. opening_cents: in the bank now.

    rates: jurisdiction and percent, as far as they are known. owned: how the business is owned, where it was said.
    unknown: what she said that she does not know yet; each becomes an item of the set-up list.
    """

    name: str
    currency: Currency
    locale: str = "en_US"
    units: str = "in"
    machine_price_cents: int = 0
    machine_date: date | None = None
    opening_cents: int = 0
    rates: tuple[tuple[str, Decimal], ...] = ()
    owned: Owned | None = None
    unknown: tuple[Unknown, ...] = ()


def perform(folder: Path, clock: Clock, request: BeginRequest) -> Books:
    """New books that begin today. Raises NotPossible, NotUnderstood, BooksNotUsable."""
    if request.owned == "something else":
        raise NotPossible(
            "Twopurse is made for a sole proprietor, or a one-owner LLC taxed as one; its figures would mislead you.",
            "Ask an accountant which books a partnership or a corporation needs.",
            "owned",
        )
    if request.machine_date is not None and request.machine_date > clock.today:
        raise NotPossible(
            f"{request.machine_date} is in the future.", "Give the day on which the machine came.", "machine_date"
        )
    settings = Settings(
        name=read_name(request.name, "name"),
        currency=request.currency,
        locale=known_locale(request.locale),
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
        for name, percent in request.rates:
            add_rate(books, write, name, percent, clock.today)
        if request.owned is not None:
            choose(write, choices.STRUCTURE, request.owned, clock.today, clock.today)
        add_unknown(books, write, request.unknown)

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


def known_locale(locale: str, field: str = "locale") -> str:
    """The locale as Babel spells it, without a variant for computers alone. Raises NotUnderstood."""
    from babel import Locale, UnknownLocaleError  # 60 ms, only when books begin

    try:
        known = Locale.parse(locale.replace("-", "_"))
        # The one of the C locale writes $ 4032.00: made for programs, not for a receipt.
        if known.variant == _FOR_COMPUTERS:
            known = Locale(known.language, known.territory)
        return str(known)
    except (UnknownLocaleError, ValueError, TypeError):
        raise NotUnderstood(f"«{locale}» is no locale.", "Give one such as en_US or en_CA.", field) from None
