"""What an opening books, worked out: each amount against the opening balance, so that it is no income and no expense.

What is owed to the owner stands between the purses, so the household's side of it stands against the household's own
opening balance: nothing passes between them that day.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from fractions import Fraction

from ledger.actions.opening_request import BALANCES, OWED_ROLES, DebtBefore, TaxBefore
from ledger.books.accounts import Accounts
from ledger.books.before_books import BEFORE_WORDS, OPENING
from ledger.books.drafts import Draft, SlipLine, TaxLine, postings
from ledger.errors import NotPossible, unknown_name
from ledger.machine.loan import MOST_MONTHS, month_of_interest
from ledger.money import plain_decimal, round_half_up, split_in_proportion
from ledger.taxes.sales_tax import Rate, percent_sum
from ledger.text import name_key

_BEGAN = "when the books began"


@dataclass(frozen=True)
class DebtParts:
    """A debt in cents: the charge, and the sales tax in it. is_reported: its tax was told when the work was sold."""

    charge_cents: int
    tax_cents: int
    is_reported: bool


def balance_entry(role: str, cents: int, accounts: Accounts, day: date) -> Draft:
    """What stood on an account."""
    signed = -cents if role in OWED_ROLES else cents
    lines = [(accounts[role], signed), (accounts["opening_balance"], -signed)]
    if role == "owed_to_owner":
        lines += [(accounts["workshop_mirror"], cents), (accounts["household_opening_balance"], -cents)]
    return Draft(on=day, kind=OPENING, text=f"{BALANCES[role]} {_BEGAN}", postings=postings(*lines))


def machine_entry(cents: int, came_on: date, accounts: Accounts, day: date) -> Draft:
    lines = postings((accounts["machine"], cents), (accounts["opening_balance"], -cents))
    text = "Machine bought before the books began"
    return Draft(on=day, kind=OPENING, text=text, postings=lines, belongs_on=came_on)


def certificate_entry(code: str, cents: int, accounts: Accounts, day: date) -> Draft:
    lines = postings((accounts["opening_balance"], cents), (accounts["gift_certificates"], -cents))
    return Draft(on=day, kind=OPENING, text=f"Gift certificate {code}, out {_BEGAN}", postings=lines)


def deposit_entry(words: str, cents: int, accounts: Accounts, day: date) -> Draft:
    lines = postings((accounts["opening_balance"], cents), (accounts["customer_deposits"], -cents))
    return Draft(on=day, kind=OPENING, text=f"Deposit held {_BEGAN}: {words}"[:500], postings=lines)


def debt_parts(debt: DebtBefore, rates: Sequence[Rate], *, is_taxed: bool, is_reported: bool) -> DebtParts:
    """Charge and tax of a debt. is_taxed: her state taxes the work. Raises NotPossible for nothing, or tax alone."""
    if not debt.cents:
        raise NotPossible(f"{debt.customer} owed nothing.", "Leave it out, or give what is owed.", "debts")
    tax = debt.tax_cents
    if tax is None:
        percent = Fraction(percent_sum(rates)) if is_taxed else Fraction(0)
        tax = debt.cents - round_half_up(Fraction(debt.cents * 100) / (100 + percent))
    if tax >= debt.cents:
        raise NotPossible(
            f"What {debt.customer} owes cannot be sales tax alone.", "Give what is owed in all, tax included.", "debts"
        )
    if tax and not is_reported and not rates:
        raise NotPossible(
            "No sales tax rate was in force on the day the books began.",
            "Enter your rates from that day on first, with «twopurse tax rate».",
            "debts",
        )
    return DebtParts(debt.cents - tax, tax, is_reported)


def debt_entry(debt: DebtBefore, parts: DebtParts, rates: Sequence[Rate], accounts: Accounts, day: date) -> Draft:
    """Where tax goes by payment no return has the sale yet, so the entry has its slip, and its tax is owed to the
    state; else the tax was told when it was sold, and is a part of what the return of that time came to."""
    tax = 0 if parts.is_reported else parts.tax_cents
    lines = postings(
        (accounts["owed_by_customers"], debt.cents),
        (accounts["opening_balance"], tax - debt.cents),
        *((accounts["sales_tax_payable"], -cents) for cents in _by_rate(tax, rates)),
    )
    text = f"Owed {_BEGAN}: {debt.customer}"[:500]
    draft = Draft(on=day, kind=OPENING, text=text, postings=lines)
    if parts.is_reported:
        return draft
    return _with_sales(draft, parts.charge_cents, parts.charge_cents if tax else 0, _by_rate(tax, rates), rates)


def tax_entry(before: TaxBefore, rates: Sequence[Rate], accounts: Accounts, day: date) -> Draft:
    """Sales tax that no return has yet, with the sales behind it. Raises NotPossible, NotFound for a jurisdiction."""
    if not rates:
        raise NotPossible(
            "No sales tax rate was in force on the day the books began.",
            "Enter your rates from that day on first, with «twopurse tax rate».",
            "sales_tax",
        )
    shares = _shares(before, rates)
    taxable = before.taxable_cents
    if not taxable:
        raise NotPossible(
            "The return will ask for the taxable sales behind this tax.", "Give them, without the tax.", "taxable"
        )
    gross = taxable if before.gross_cents is None else before.gross_cents
    if gross < taxable:
        raise NotPossible("The taxable sales are more than the gross sales.", "Check both amounts.", "gross")
    lines = postings(
        (accounts["opening_balance"], before.cents), *((accounts["sales_tax_payable"], -each) for each in shares)
    )
    draft = Draft(on=day, kind=OPENING, text=f"Sales tax collected and not filed {_BEGAN}", postings=lines)
    return _with_sales(draft, gross, taxable, shares, rates)


def months_left(cents: int, percent: Decimal, payment_cents: int) -> int:
    """How many monthly payments a loan still takes, the last one a smaller one; the most there can be where the payment
    does not even pay the interest, which its terms refuse."""
    months = 0
    while cents > 0 and months < MOST_MONTHS:
        cents += month_of_interest(cents, percent) - payment_cents
        months += 1
    return months


def _shares(before: TaxBefore, rates: Sequence[Rate]) -> list[int]:
    """The tax of each rate: as it was told, or the sum split by percent. Raises NotFound, NotPossible."""
    if len(before.taxes) == 1 and before.taxes[0][0] is None:
        return _by_rate(before.cents, rates)
    places = {name_key(each.jurisdiction): place for place, each in enumerate(rates)}
    shares = [0] * len(rates)
    for name, cents in before.taxes:
        if name is None:
            raise NotPossible(
                "Tax stands there by jurisdiction, and beside it without one.",
                "Name who each part is for, or give one sum.",
                "sales_tax",
            )
        if name_key(name) not in places:
            raise unknown_name("jurisdiction", name, [each.jurisdiction for each in rates], "sales_tax")
        shares[places[name_key(name)]] += cents
    return shares


def _by_rate(cents: int, rates: Sequence[Rate]) -> list[int]:
    if not cents:
        return [0] * len(rates)
    return split_in_proportion(cents, [Fraction(each.percent) for each in rates])


def _with_sales(draft: Draft, gross: int, taxable: int, taxes: Sequence[int], rates: Sequence[Rate]) -> Draft:
    """The entry with the sales that its tax is on, so that a return has them."""
    slip = (SlipLine(BEFORE_WORDS, taxable, "taxed"), SlipLine(BEFORE_WORDS, gross - taxable, "not taxed"))
    lines = zip(rates, taxes, strict=True)
    return replace(
        draft,
        slip=tuple(each for each in slip if each.cents),
        taxes=tuple(
            TaxLine(rate.id, plain_decimal(rate.percent), taxable, cents) for rate, cents in lines if cents or taxable
        ),
    )
