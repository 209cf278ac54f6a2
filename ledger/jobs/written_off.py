"""A debt given up, worked out, and what is paid on it after all.

On the cash method the charge was never income, so giving it up is no deduction. Whether the tax that was paid over on
it may be claimed back is her state's answer; if the customer pays later, it is due again (for example California,
Sales and Use Tax Annotations 495.0672 and 130.0005, and Code of Maryland Regulations 03.06.03.07 C).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from ledger.books.accounts import Accounts
from ledger.books.drafts import Draft, Posting, TaxLine, postings
from ledger.money import round_half_up, split_in_proportion

NO_DEDUCTION = "On the cash method what was never paid was no income, so ask your accountant before you take it off."


@dataclass(frozen=True)
class Debt:
    """What is owed on a job, or was given up, in cents: the charge, and the tax by the rates of its sale.

    claimed_cents: how much of the tax is claimed back, or was; the rest is hers to bear.
    """

    job: int
    piece: str
    party: int
    charge_cents: int
    tax_cents: int
    taxes: tuple[TaxLine, ...]
    claimed_cents: int

    @property
    def is_tax_claimed(self) -> bool:
        return self.claimed_cents > 0


def settle_write_off(debt: Debt, accounts: Accounts, why: str, today: date) -> Draft:
    """The whole debt given up; without her state's answer its tax stays hers to pay."""
    shares = _by_rate(debt, debt.claimed_cents)
    lines = postings(
        (accounts["balances_written_off"], debt.charge_cents),
        *((accounts["sales_tax_payable"], each) for each in shares),
        (accounts["licenses_and_taxes"], debt.tax_cents - debt.claimed_cents),
        (accounts["owed_by_customers"], -(debt.charge_cents + debt.tax_cents)),
    )
    return _draft(debt, "write-off", f"Given up: {why}", lines, [-each for each in shares], today)


def settle_recovery(
    debt: Debt, accounts: Accounts, money: Sequence[Posting], parts: tuple[int, int], today: date
) -> Draft:
    """Money on a debt that was given up: its charge is income after all, its tax is due again where it was claimed.

    parts: what of the money pays charge and tax.
    """
    charge, tax = parts
    claimed, borne = split_in_proportion(tax, [debt.claimed_cents, debt.tax_cents - debt.claimed_cents])
    shares = _by_rate(debt, claimed)
    lines = postings(
        *((each.account, each.cents) for each in money),
        (accounts["balances_written_off"], -charge),
        *((accounts["sales_tax_payable"], -each) for each in shares),
        (accounts["licenses_and_taxes"], -borne),
    )
    return _draft(debt, "recovery", f"Paid after all: {debt.piece}", lines, shares, today)


def _by_rate(debt: Debt, tax_cents: int) -> list[int]:
    """Tax of the debt by the rates of its sale, in the proportion in which they were taken."""
    return split_in_proportion(tax_cents, [each.cents for each in debt.taxes]) if debt.taxes else []


def _draft(debt: Debt, kind: str, text: str, lines: tuple[Posting, ...], taxes: Sequence[int], today: date) -> Draft:
    """Where the tax is claimed, or due again, tax lines tell the worksheet of the day, on the charge behind them."""
    part = Fraction(sum(taxes), sum(each.cents for each in debt.taxes) or 1)
    return Draft(
        on=today,
        kind=kind,
        text=text[:500],
        postings=lines,
        who=debt.party,
        job=debt.job,
        taxes=tuple(
            TaxLine(each.rate, each.percent, round_half_up(each.base * part), cents)
            for each, cents in zip(debt.taxes, taxes, strict=True)
            if cents
        ),
    )
