"""A refund, worked out: on its own day, returns and allowances plus the tax at the sale's own rates.

What is handed back has its tax in it. It is spread over the charge and each jurisdiction's tax in proportion to what is
left of the sale, so that several refunds never give back more than was taken. The tip stays unless she says so; what
was paid counts towards the tip first, as at pickup.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction

from ledger.books.accounts import Accounts
from ledger.books.drafts import Draft, Posting, SlipLine, TaxLine, postings
from ledger.errors import NotPossible
from ledger.jobs.payments import ACCOUNT_OF, OWED
from ledger.jobs.standing_sale import StandingSale
from ledger.money import Currency, largest_remainder, plain_amount, round_half_up, split_in_proportion


@dataclass(frozen=True)
class RefundRequest:
    """cents: with the tax in it; None is all that can be given back. how: cash, check, card or transfer, or `owed` to
    take it off what the customer still owes. tip_cents: what of the tip goes back beside it."""

    job: int
    cents: int | None = None
    how: str = "check"
    tip_cents: int = 0
    why: str | None = None


@dataclass(frozen=True)
class RefundFacts:
    sale: StandingSale
    job: int
    piece: str
    party: int
    accounts: Accounts
    currency: Currency


@dataclass(frozen=True)
class Refunded:
    """Amounts in cents. charge and tax add to what goes back without the tip."""

    charge_cents: int
    tax_cents: int
    tip_cents: int
    draft: Draft

    @property
    def cents(self) -> int:
        return self.charge_cents + self.tax_cents + self.tip_cents


def settle(facts: RefundFacts, request: RefundRequest, today: date) -> Refunded:
    """Work a refund out. Raises NotPossible for more than was paid, than is owed, or than is left of the sale."""
    sale = facts.sale
    cents = _amount(facts, request)
    charge, *taxes = _spread(sale, cents)
    slip = _slip_lines(sale, charge)
    return Refunded(
        charge_cents=charge,
        tax_cents=sum(taxes),
        tip_cents=request.tip_cents,
        draft=Draft(
            on=today,
            kind="refund",
            text=(request.why or f"Refund: {facts.piece}")[:500],
            postings=_postings(facts, request, charge, taxes),
            who=facts.party,
            job=facts.job,
            slip=slip,
            taxes=_tax_lines(sale, slip, taxes),
        ),
    )


def _amount(facts: RefundFacts, request: RefundRequest) -> int:
    """What goes back beside the tip, in cents."""
    sale, shown, tip = facts.sale, facts.currency, request.tip_cents
    most_tip = min(sale.tip_cents, max(0, sale.owed_cents if request.how == OWED else sale.paid_cents))
    if tip > most_tip:
        raise NotPossible(
            f"Of the tip, {plain_amount(most_tip, shown)} can go back that way.", "Give back that much or less.", "tip"
        )
    if request.how == OWED:
        most, said = min(sale.owed_cents - tip, sale.total_cents), "still owed on the job"
    else:
        most, said = min(sale.paid_cents - sale.tip_cents, sale.total_cents), "paid and not given back yet, tip apart"
    most = max(0, most)
    wanted = most if request.cents is None else request.cents
    if wanted > most or (wanted <= 0 and not tip):
        raise NotPossible(
            f"{plain_amount(most, shown)} is {said}.",
            "Give back that much or less." if most else "There is nothing to give back that way.",
            "amount",
        )
    return wanted


def _spread(sale: StandingSale, cents: int) -> list[int]:
    """The charge's part, then each jurisdiction's tax, adding to the refund."""
    weights = [sale.charge_cents, *(each.cents for each in sale.taxes)]
    if not cents:
        return [0] * len(weights)
    return largest_remainder(cents, [Fraction(cents * each, sale.total_cents) for each in weights])


def _slip_lines(sale: StandingSale, charge: int) -> tuple[SlipLine, ...]:
    """The charge that goes back, spread over what is left of the sale's lines."""
    if not charge:
        return ()
    parts = split_in_proportion(charge, [each.cents for each in sale.slip])
    return tuple(replace(line, cents=-part) for line, part in zip(sale.slip, parts, strict=True) if part)


def _tax_lines(sale: StandingSale, slip: Sequence[SlipLine], taxes: Sequence[int]) -> tuple[TaxLine, ...]:
    """Of each jurisdiction what it levied on: of all that was taxed, or of one class with a rate of its own."""
    back = sum(each.cents for each in slip if each.treatment == "taxed")
    taxed = sum(each.cents for each in sale.slip if each.treatment == "taxed")
    bases = [round_half_up(Fraction(back * each.base, taxed)) if taxed else back for each in sale.taxes]
    return tuple(
        replace(each, base=base, cents=-part)
        for each, base, part in zip(sale.taxes, bases, taxes, strict=True)
        if base or part
    )


def _postings(facts: RefundFacts, request: RefundRequest, charge: int, taxes: list[int]) -> tuple[Posting, ...]:
    accounts = facts.accounts
    back = charge + sum(taxes) + request.tip_cents
    from_account = accounts["owed_by_customers"] if request.how == OWED else accounts[ACCOUNT_OF[request.how]]
    return postings(
        (accounts["returns_and_allowances"], charge),
        *((accounts["sales_tax_payable"], each) for each in taxes),
        (accounts["tips"], request.tip_cents),
        (from_account, -back),
    )
