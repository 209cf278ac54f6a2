"""The entry of a payment of her own income and self-employment tax, from either purse: never a workshop expense."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from ledger.books.accounts import Account, Accounts
from ledger.books.drafts import Draft, postings
from ledger.errors import NotPossible, NotUnderstood
from ledger.periods import next_estimated_tax_due

_PAID_FROM = {"checking", "cash_box", "tax_savings", "workshop_card", "household_checking", "personal_card"}
_PERIODS = 4


@dataclass(frozen=True)
class TaxFor:
    """What a payment is for: a tax year, and which of its four dates, None with the return."""

    tax_year: int
    period: int | None

    def __str__(self) -> str:
        if self.period is None:
            return f"Income tax with the return of {self.tax_year}"
        return f"Estimated tax {self.tax_year}, period {self.period} of {_PERIODS}"


def tax_for(today: date, tax_year: int | None, period: int | None, *, with_return: bool) -> TaxFor:
    """What a payment is for; unless said, the estimated tax that is due next, or last year's return.

    Raises NotUnderstood for a period that there is not, NotPossible for a year that has not begun, or is not over.
    """
    if period is not None and not 1 <= period <= _PERIODS:
        raise NotUnderstood(f"There is no period {period}.", "Estimated tax has the periods 1 to 4.", "period")
    following = next_estimated_tax_due(today)
    usual_year = today.year - 1 if with_return else following.tax_year
    year = usual_year if tax_year is None else tax_year
    if year > today.year:
        raise NotPossible(f"The tax year {year} has not begun.", "Check the year.", "year")
    if with_return and year == today.year:
        raise NotPossible(f"The tax year {year} is not over.", "Its return is made when it is.", "year")
    if with_return:
        return TaxFor(year, None)
    if period is None:
        period = following.number if year == following.tax_year else _PERIODS
    return TaxFor(year, period)


def settle_payment(paid_from: Account, cents: int, paid_for: TaxFor, accounts: Accounts, today: date) -> Draft:
    """From the workshop a draw, which the household spends; from the household its own spending alone."""
    if paid_from.role not in _PAID_FROM:
        raise NotPossible(
            f"Nothing is paid from «{paid_from.name}».",
            "Pay from tax savings, checking, the cash box, a card, or household checking.",
            "from",
        )
    spending = accounts["household_spending"]
    if paid_from.purse == "personal":
        lines = postings((spending, cents), (paid_from, -cents))
    else:
        lines = postings(
            (accounts["owners_draws"], cents),
            (paid_from, -cents),
            (spending, cents),
            (accounts["workshop_mirror"], -cents),
        )
    return Draft(on=today, kind="own tax", text=str(paid_for), postings=lines)
