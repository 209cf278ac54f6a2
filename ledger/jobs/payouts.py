"""Card money on its way: which payments no payout has covered yet, and what a payout of some days should come to."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from ledger.books.books import Books
from ledger.books.transaction import Writing


@dataclass(frozen=True)
class CardMoney:
    """A card payment that is not settled. cents: what is still to come of it, below zero after a chargeback."""

    payment: int
    day: date
    job: int | None
    cents: int


# What a payment put on the card account, less what a chargeback took from it, less what payouts covered; ?1 is the
# last day of the payments, ?2 the day at whose end they are looked at.
_OPEN = """
    select payment.id, entry.date, payment.job,
        payment.cents - payment.fee
        + coalesce((select sum(posting.cents) from returned_payment
            join posting on posting.entry = returned_payment.entry
            join account on account.id = posting.account
            join entry as back on back.number = returned_payment.entry
            where returned_payment.payment = payment.id and account.role = 'card_settlements' and back.date <= ?2
            and not exists
            (select 1 from entry as mirror where mirror.reverses = back.number and mirror.date <= ?2)), 0)
        - coalesce((select sum(payout_line.cents) from payout_line
            join entry as payout on payout.number = payout_line.entry
            where payout_line.payment = payment.id and payout.date <= ?2), 0) as open
    from payment cross join entry on entry.number = payment.entry
    where how = 'card' and entry.date <= ?1 and entry.reverses is null
    and not exists (select 1 from entry as mirror where mirror.reverses = entry.number and mirror.date <= ?2)
    order by entry.date, payment.id
"""


def cover_oldest(books: Books, write: Writing, entry: int, cents: int) -> None:
    """Let an entry that moved card money by hand cover the oldest payments that are not paid out, as far as it goes."""
    for each in card_money(books, books.today):
        part = min(each.cents, cents)
        if part > 0:
            write.add("payout_line", entry=entry, payment=each.payment, cents=part)
            cents -= part


def card_money(books: Books, through: date, as_of: date = date.max) -> tuple[CardMoney, ...]:
    """The card payments up to a day that no payout had covered by the end of another day, oldest first."""
    rows = books.rows(_OPEN, (through.isoformat(), as_of.isoformat()))
    return tuple(CardMoney(row[0], date.fromisoformat(row[1]), row[2], row[3]) for row in rows if row[3])
