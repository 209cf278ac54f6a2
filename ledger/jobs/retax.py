"""Wrong tax put right, worked out: the tax that a standing sale should have had, beside the tax that was taken.

The sale's charge stays. One entry of its own day takes every tax line of the sale back and enters the right ones. It
belongs to the return of the sale's day; where that was filed, to the next one or to an amended one. What the customer
did not pay she owes, or the workshop bears it. What was taken too much goes back to her; where it cannot, the tax is
left as it was taken, and is paid over to the state.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date
from typing import Literal

from ledger.books.accounts import Account, Accounts
from ledger.books.drafts import Draft, SlipLine, TaxLine, postings
from ledger.errors import NotPossible
from ledger.jobs.payments import ACCOUNT_OF
from ledger.jobs.standing_sale import StandingSale
from ledger.money import Currency, plain_amount, plain_decimal
from ledger.taxes.sales_tax import Charge, SlipTax, TaxRules, tax_on

# Who makes the difference good: the customer owes it or gets it back this way, or the workshop bears it.
Borne = Literal["owed", "workshop", "cash", "check", "card", "transfer"]
BORNE: tuple[Borne, ...] = ("owed", "workshop", "cash", "check", "card", "transfer")


@dataclass(frozen=True)
class RetaxRequest:
    """borne: how the difference is settled; any way but `owed` and `workshop` hands money over or takes it in."""

    job: int
    why: str
    borne: Borne = "owed"


@dataclass(frozen=True)
class RetaxFacts:
    """rules: what holds for the sale's own day and place, as the books know it now. certificate: valid on that day.

    borne_cents: tax of this sale that the workshop has borne so far.
    """

    sale: StandingSale
    rules: TaxRules
    certificate: int | None
    borne_cents: int
    currency: Currency
    job: int
    piece: str
    party: int
    accounts: Accounts


@dataclass(frozen=True)
class Retaxed:
    """difference_cents: above zero where too little was taken."""

    tax: SlipTax
    difference_cents: int
    draft: Draft


def settle(facts: RetaxFacts, request: RetaxRequest, today: date) -> Retaxed:
    """Work the right tax out. Raises NotPossible where the tax that was taken is right, or cannot be settled so."""
    sale = facts.sale
    lines_sold = _lines_sold(sale)
    charges = [Charge(each.class_name, each.cents) for each in lines_sold]
    tax = tax_on(charges, facts.rules, exempt=facts.certificate is not None)
    back = tuple(replace(each, base=-each.base, cents=-each.cents) for each in sale.taxes)
    right = tuple(
        TaxLine(each.rate.id, plain_decimal(each.rate.percent), each.base_cents, each.tax_cents) for each in tax.taxes
    )
    if _sums(back) == {rate: -cents for rate, cents in _sums(right).items()}:
        raise NotPossible(
            "The tax of this sale is what the rates and answers in the books make it.",
            "Put the rate or the answer right first, with «twopurse tax».",
            "job",
        )
    difference = tax.tax_cents - sale.tax_cents
    _check_bearer(facts, request, difference)
    lines = postings(
        *((facts.accounts["sales_tax_payable"], -each.cents) for each in (*back, *right)),
        (_bearer(request, facts.accounts), difference),
    )
    draft = Draft(
        on=today,
        kind="retax",
        text=f"Sales tax put right: {request.why}"[:500],
        postings=lines,
        who=facts.party,
        job=facts.job,
        slip=_slip_lines(facts, lines_sold, tax),
        taxes=(*back, *right),
    )
    return Retaxed(tax, difference, draft)


def _check_bearer(facts: RetaxFacts, request: RetaxRequest, difference: int) -> None:
    """What was taken too much goes to whoever paid it: never to the workshop, nor to a customer who has not paid it."""
    over = -difference
    if over <= 0:
        return
    shown, sale = plain_amount(over, facts.currency), facts.sale
    if request.borne == "workshop" and over > facts.borne_cents:
        raise NotPossible(
            f"{shown} was taken too much, and that is the customer's or the state's, never the workshop's.",
            "Hand it back with --borne cash, check, card or transfer; where you cannot, leave the tax as it is.",
            "borne",
        )
    if request.borne == "owed" and over > sale.owed_cents:
        raise NotPossible(
            f"{shown} was taken too much, and {plain_amount(sale.owed_cents, facts.currency)} is owed on the job.",
            "Hand it back with --borne cash, check, card or transfer.",
            "borne",
        )
    if request.borne in ACCOUNT_OF and over > sale.paid_cents:
        raise NotPossible(
            f"{shown} was taken too much, and {plain_amount(max(0, sale.paid_cents), facts.currency)} was paid.",
            "Take it off what is owed with --borne owed.",
            "borne",
        )


def _lines_sold(sale: StandingSale) -> list[SlipLine]:
    """The lines of the job as they were sold: one that was split into taxed and untaxed parts is one line again."""
    sums: dict[tuple[int | None, str], int] = {}
    for each in sale.slip:
        sums[each.job_line, each.class_name] = sums.get((each.job_line, each.class_name), 0) + each.cents
    return [SlipLine(class_name, cents, "", job_line) for (job_line, class_name), cents in sums.items()]


def _slip_lines(facts: RetaxFacts, lines_sold: list[SlipLine], tax: SlipTax) -> tuple[SlipLine, ...]:
    """The sale's lines taken back and entered again with the treatment that is right."""
    back = tuple(replace(each, cents=-each.cents) for each in facts.sale.slip)
    right = tuple(
        SlipLine(
            each.charge.class_name,
            each.base_cents,
            each.treatment,
            lines_sold[each.place].job_line,
            facts.certificate if each.treatment == "exempt" else None,
        )
        for each in tax.charges
    )
    return (*back, *right)


def _sums(lines: tuple[TaxLine, ...]) -> dict[int, int]:
    sums: dict[int, int] = {}
    for each in lines:
        sums[each.rate] = sums.get(each.rate, 0) + each.cents
    return {rate: cents for rate, cents in sums.items() if cents}


def _bearer(request: RetaxRequest, accounts: Accounts) -> Account:
    """What the difference stands against."""
    if request.borne == "owed":
        return accounts["owed_by_customers"]
    if request.borne == "workshop":
        return accounts["licenses_and_taxes"]
    return accounts[ACCOUNT_OF[request.borne]]
