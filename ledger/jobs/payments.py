"""How a customer pays: in several ways at once, with change, or not yet. Plain arithmetic on what is due."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal, cast

from ledger.books.accounts import Accounts
from ledger.books.drafts import Posting, postings
from ledger.errors import NotPossible, NotUnderstood
from ledger.money import Currency, largest_remainder, plain_amount, split_in_proportion

How = Literal["cash", "check", "card", "transfer"]
WAYS: tuple[How, ...] = ("cash", "check", "card", "transfer")
OWED = "owed"
ACCOUNT_OF = {"cash": "cash_box", "check": "checking", "transfer": "checking", "card": "card_settlements"}


@dataclass(frozen=True)
class PaidPart:
    """One --paid. how: cash, check, card, transfer or owed. cents: None takes what the other parts leave."""

    how: str
    cents: int | None = None


@dataclass(frozen=True)
class Payment:
    """Money that came in, in cents. fee_cents: what the card company keeps, where that is known already."""

    how: How
    cents: int
    fee_cents: int = 0
    reference: str | None = None


@dataclass(frozen=True)
class Paid:
    """What came of it, in cents: each payment, what is handed back in cash, what stays owed."""

    payments: tuple[Payment, ...]
    change_cents: int
    owed_cents: int

    @property
    def cents(self) -> int:
        return sum(each.cents for each in self.payments)


def take_payment(
    due_cents: int,
    parts: Sequence[PaidPart],
    currency: Currency,
    *,
    now_cents: int | None = None,
    tendered_cents: int | None = None,
    fee_cents: int = 0,
    reference: str | None = None,
) -> Paid:
    """Settle what is due. now_cents: what is paid now, the rest stays owed; None is all of it but the owed part.

    Raises NotUnderstood or NotPossible: no way of paying, parts that do not add up, cash below what is due.
    """
    shares = _shares(due_cents, parts, now_cents, currency)
    cash = sum(cents for how, cents in shares if how == "cash")
    if tendered_cents is not None and not any(how == "cash" for how, _ in shares):
        raise NotUnderstood("Money is handed over only where cash is paid.", "Leave --tendered out.", "tendered")
    if tendered_cents is not None and tendered_cents < cash:
        taken_now = tendered_cents + sum(cents for how, cents in shares if how in WAYS) - cash
        raise NotPossible(
            f"{plain_amount(tendered_cents, currency)} handed over is less than {plain_amount(cash, currency)} due.",
            f"Say --amount {plain_amount(taken_now, currency)} to take that much now and leave the rest owed.",
            "tendered",
        )
    card = sum(cents for how, cents in shares if how == "card")
    if fee_cents > card:
        raise NotPossible("The card fee is more than was paid by card.", "Check --fee and --paid.", "fee")
    payments = _payments(shares, fee_cents, reference)
    change = tendered_cents - cash if tendered_cents is not None else 0
    return Paid(payments, change, due_cents - sum(each.cents for each in payments))


def money_in(accounts: Accounts, payments: Sequence[Payment]) -> tuple[Posting, ...]:
    """Where the money went: cash to the cash box, checks and transfers to checking, cards less their fee."""
    lines = [(accounts[ACCOUNT_OF[each.how]], each.cents - each.fee_cents) for each in payments]
    fees = sum(each.fee_cents for each in payments)
    return postings(*lines, (accounts["card_fees"], fees))


def split_payment(paid_cents: int, charge_cents: int, tax_cents: int) -> tuple[int, int]:
    """A payment spread over the charge and the tax that are owed, in proportion."""
    owed = charge_cents + tax_cents
    assert 0 <= paid_cents <= owed, "a payment is at most what is owed"
    if not paid_cents:
        return 0, 0
    parts = largest_remainder(paid_cents, [Fraction(paid_cents * each, owed) for each in (charge_cents, tax_cents)])
    return parts[0], parts[1]


def _payments(shares: Sequence[tuple[str, int]], fee_cents: int, reference: str | None) -> tuple[Payment, ...]:
    """What came in; one fee is spread over the cards in proportion, one reference goes with checks and transfers."""
    came_in = [(how, cents) for how, cents in shares if how in WAYS and cents]
    cards = [cents for how, cents in came_in if how == "card"]
    fees = iter(split_in_proportion(fee_cents, cards) if cards else ())
    return tuple(
        Payment(cast("How", how), cents, next(fees), None)
        if how == "card"
        else Payment(cast("How", how), cents, reference=reference if how != "cash" else None)
        for how, cents in came_in
    )


def _shares(
    due_cents: int, parts: Sequence[PaidPart], now_cents: int | None, currency: Currency
) -> list[tuple[str, int]]:
    """Each way with its cents, `owed` among them; they add to what is due, or to what is paid now."""
    if now_cents is not None and now_cents > due_cents:
        raise NotPossible(
            f"{plain_amount(now_cents, currency)} is more than {plain_amount(due_cents, currency)} due.",
            "Leave --amount out to take all that is due.",
            "amount",
        )
    if not parts:
        if due_cents == 0:
            return []
        raise NotUnderstood("It is not said how it is paid.", f"Say --paid {', '.join(WAYS)} or {OWED}.", "paid")
    if now_cents is not None and any(each.how == OWED for each in parts):
        raise NotUnderstood("--amount already leaves the rest owed.", "Leave --paid owed out.", "paid")
    wanted = due_cents if now_cents is None else now_cents
    fixed = sum(each.cents for each in parts if each.cents is not None)
    open_parts = [each for each in parts if each.cents is None]
    if len(open_parts) > 1:
        raise NotUnderstood(
            "Two ways of paying have no amount.", "Give each but one its amount, such as --paid card=40.", "paid"
        )
    if fixed > wanted or (fixed < wanted and not open_parts):
        raise NotPossible(
            f"The parts add to {plain_amount(fixed, currency)}, but {plain_amount(wanted, currency)} is due.",
            "Make them add up, or leave the rest with --paid owed.",
            "paid",
        )
    return [(each.how, wanted - fixed if each.cents is None else each.cents) for each in parts]
