"""Card money on its way: which payments no payout has covered yet, and what a payout of some days should come to."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from ledger.books.books import Books


@dataclass(frozen=True)
class CardMoney:
    """A card payment that is not settled. cents: what is still to come of it, below zero after a chargeback."""

    payment: int
    day: date
    job: int | None
    cents: int


# What a payment put on the card account, less what a chargeback took from it, less what payouts covered.
_OPEN = """
    select payment.id, entry.date, payment.job,
        payment.cents - payment.fee
        + coalesce((select sum(posting.cents) from returned_payment
            join posting on posting.entry = returned_payment.entry
            join account on account.id = posting.account
            where returned_payment.payment = payment.id and account.role = 'card_settlements'
            and not exists (select 1 from entry as mirror where mirror.reverses = returned_payment.entry)), 0)
        - coalesce((select sum(payout_line.cents) from payout_line where payout_line.payment = payment.id), 0) as open
    from payment join entry on entry.number = payment.entry
    where how = 'card' and entry.date <= ? and entry.reverses is null
    and not exists (select 1 from entry as mirror where mirror.reverses = entry.number)
    order by entry.date, payment.id
"""


def card_money(books: Books, through: date) -> tuple[CardMoney, ...]:
    """The card payments up to a day that no payout has covered, oldest first."""
    rows = books.rows(_OPEN, (through.isoformat(),))
    return tuple(CardMoney(row[0], date.fromisoformat(row[1]), row[2], row[3]) for row in rows if row[3])
