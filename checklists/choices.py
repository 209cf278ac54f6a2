"""The choices that answers put in the books, for whoever reads them there: set-aside, the quarter, the fit.

Each is a dated row of `choice`, written by `ledger.actions.answers`; the latest up to a day holds. An empty value takes
the choice back. Two kinds of answer are not here, since `ledger.taxes.rules` has them: which classes are taxed
(`answers_on`), and how often she files and by which day (`filing_frequency`, `filing_due_day`).

| key | value | item |
| --- | --- | --- |
| structure | sole proprietor, one-owner LLC, something else | structure |
| sales tax permit | its number, as printed | sales_tax_permit |
| sales tax permit expires | its last day, ISO 8601; empty: it does not run out | sales_tax_permit |
| business account | the bank and the last four digits | business_account |
| insurance limit | amount in the books' currency, 25000.00; 0.00: nothing is insured | insurance_limit |
| visits a day | whole number, the most that her zoning office named | visits_a_day |
| income tax percent | percent of net profit, 15 | income_tax_percent |
| income tax percent includes self-employment | yes or no | income_tax_percent |
| income tax percent includes state | yes or no | income_tax_percent |
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Final

from ledger.books.books import Books
from ledger.books.settings import chosen
from ledger.money import read_amount, read_percent

STRUCTURE: Final = "structure"
PERMIT: Final = "sales tax permit"
PERMIT_EXPIRES: Final = "sales tax permit expires"
BUSINESS_ACCOUNT: Final = "business account"
INSURANCE_LIMIT: Final = "insurance limit"
VISITS_A_DAY: Final = "visits a day"
INCOME_TAX_PERCENT: Final = "income tax percent"
INCOME_TAX_HAS_SELF_EMPLOYMENT: Final = "income tax percent includes self-employment"
INCOME_TAX_HAS_STATE: Final = "income tax percent includes state"


@dataclass(frozen=True)
class Permit:
    """Her sales tax permit. expires: its last day, None where it does not run out."""

    number: str
    expires: date | None

    def holds(self, day: date) -> bool:
        return self.expires is None or day <= self.expires


@dataclass(frozen=True)
class IncomeTaxShare:
    """Her accountant's percentage of net profit, and what it includes."""

    percent: Decimal
    includes_self_employment: bool
    includes_state: bool


def held_choice(books: Books, key: str, on: date) -> str | None:
    """The value of a choice on a day, None where there is none or it was taken back."""
    return chosen(books, key, on) or None


def sales_tax_permit(books: Books, on: date) -> Permit | None:
    """The permit recorded by a day; whether it still holds is `Permit.holds`."""
    number, expires = held_choice(books, PERMIT, on), held_choice(books, PERMIT_EXPIRES, on)
    if number is None:
        return None
    return Permit(number, date.fromisoformat(expires) if expires else None)


def insurance_limit_cents(books: Books, on: date) -> int | None:
    """The limit for other people's pieces in her care."""
    limit = held_choice(books, INSURANCE_LIMIT, on)
    return None if limit is None else read_amount(limit, books.currency, zero=True)


def visits_a_day(books: Books, on: date) -> int | None:
    """The most visits a day that her zoning office named."""
    most = held_choice(books, VISITS_A_DAY, on)
    return None if most is None else int(most)


def income_tax_share(books: Books, on: date) -> IncomeTaxShare | None:
    percent = held_choice(books, INCOME_TAX_PERCENT, on)
    if percent is None:
        return None
    return IncomeTaxShare(
        read_percent(percent),
        includes_self_employment=held_choice(books, INCOME_TAX_HAS_SELF_EMPLOYMENT, on) == "yes",
        includes_state=held_choice(books, INCOME_TAX_HAS_STATE, on) == "yes",
    )
