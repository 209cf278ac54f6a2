"""Every passage between the purses in a period: what, why, and whether what is owed to the owner was settled."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Literal

from ledger.books.balances import balance, movements, read_accounts
from ledger.books.books import Books

Kind = Literal["contribution", "draw", "owed to owner", "paid back", "let go"]


@dataclass(frozen=True)
class Passage:
    """cents: above zero as its kind says, below zero where it is taken back. settled: nothing is left of it."""

    entry: int
    day: date
    kind: Kind
    cents: int
    why: str
    settled: bool = True


@dataclass(frozen=True)
class Crossings:
    """Amounts in cents. owed_to_owner: at the end of the period."""

    items: tuple[Passage, ...]
    contributed_cents: int
    drawn_cents: int
    owed_to_owner_cents: int

    @property
    def sentence(self) -> str:
        """How apart the purses were, in plain words."""
        mixed = sum(1 for each in self.items if each.kind in ("contribution", "draw", "owed to owner"))
        if not mixed:
            return "Nothing passed between the purses."
        still = "nothing is owed back" if not self.owed_to_owner_cents else "something is still owed back to you"
        often = "Once" if mixed == 1 else f"{mixed} times"
        return f"{often} something passed between the purses, each with its reason; {still}."


def read_crossings(books: Books, start: date, end: date) -> Crossings:
    """The passages of the days from start to end, both included; a corrected pair that lies within is left out."""
    accounts = read_accounts(books)
    moved = movements(books, start, end)
    every = settle_owed(_passages(books, books.settings.begun_on, end))
    return Crossings(
        items=tuple(each for each in every if each.day >= start),
        contributed_cents=-moved[accounts["owners_contributions"].id],
        drawn_cents=moved[accounts["owners_draws"].id],
        owed_to_owner_cents=-balance(books, "owed_to_owner", end),
    )


def settle_owed(passages: Sequence[Passage]) -> list[Passage]:
    """Mark what is owed to the owner as settled as far as what was paid back or let go reaches, the oldest first."""
    paid = sum(each.cents for each in passages if each.kind in ("paid back", "let go"))
    marked = []
    for each in passages:
        if each.kind == "owed to owner":
            marked.append(replace(each, settled=paid >= each.cents))
            paid -= min(paid, each.cents)
        else:
            marked.append(each)
    return marked


def _passages(books: Books, start: date, end: date) -> list[Passage]:
    rows = books.rows(
        "select entry.number, entry.date, entry.text, account.role, sum(posting.cents) as cents, "
        "max(case account.role when 'owed_to_owner' then 0 else 1 end) over (partition by entry.number) as other "
        "from posting join entry on entry.number = posting.entry join account on account.id = posting.account "
        "where account.role in ('owners_contributions', 'owners_draws', 'owed_to_owner') "
        "and entry.date between ?1 and ?2 and not exists (select 1 from entry as pair where pair.date <= ?2 "
        "and (pair.reverses = entry.number or pair.number = entry.reverses)) "
        "group by entry.number, account.role having sum(posting.cents) <> 0 order by entry.number",
        (start.isoformat(), end.isoformat()),
    )
    return [
        Passage(row["number"], date.fromisoformat(row["date"]), kind, cents, row["text"])
        for row in rows
        for kind, cents in [_kind(row["role"], row["cents"], bool(row["other"]))]
    ]


def _kind(role: str, cents: int, beside_another: bool) -> tuple[Kind, int]:
    """Debit positive in, the kind and its size out."""
    if role == "owners_contributions":
        return "contribution", -cents
    if role == "owners_draws":
        return "draw", cents
    if cents > 0:
        return ("let go" if beside_another else "paid back"), cents
    return "owed to owner", -cents
