"""An entry before it is sealed: its postings, and the slip and tax lines of a sale."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date

from ledger.books.accounts import Account


@dataclass(frozen=True)
class Posting:
    """cents: debit positive."""

    account: Account
    cents: int


@dataclass(frozen=True)
class SlipLine:
    """One class of a sale: the charge in cents after discount and before tax, and how the tax treats it."""

    class_name: str
    cents: int
    treatment: str
    job_line: int | None = None
    certificate: int | None = None


@dataclass(frozen=True)
class TaxLine:
    """Tax of one jurisdiction on a base, both in cents. rate: the dated rate's id. percent: as it was then."""

    rate: int
    percent: str
    base: int
    cents: int


@dataclass(frozen=True)
class Draft:
    """An entry before it has a number. belongs_on: the day it belongs to, where that is not its date."""

    on: date
    kind: str
    text: str
    postings: tuple[Posting, ...]
    who: int | None = None
    job: int | None = None
    belongs_on: date | None = None
    reverses: int | None = None
    slip: tuple[SlipLine, ...] = ()
    taxes: tuple[TaxLine, ...] = ()

    def by(self, party: int) -> Draft:
        """The same entry with the party that it concerns."""
        return replace(self, who=party)


def postings(*lines: tuple[Account, int]) -> tuple[Posting, ...]:
    """The lines that move anything, in their order."""
    return tuple(Posting(account, cents) for account, cents in lines if cents)
