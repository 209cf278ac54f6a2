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
| resale certificate | its number or form, as she was told | resale_certificate |
| resale certificate expires | its last day, ISO 8601; empty: it does not run out | resale_certificate |
| resale certificate state | the state that gave it; empty: it was not said | beside resale_certificate |
| insurance limit | amount in the books' currency, 25000.00; 0.00: nothing is insured | insurance_limit |
| insurance renewal | the last day of the policy, ISO 8601; empty: none was given | insurance_limit |
| visits a day | whole number, the most that her zoning office named | visits_a_day |
| floor share | the most that it named, `25 % of the house and 0 square feet of the garage` | floor_share |
| people working | whole number, the most who may work there and live elsewhere | people_working |
| sign size | the most, `2 square feet`; 0: none | sign_size |
| customer hours | when customers may come, `Monday to Saturday 08:00 to 18:00` | customer_hours |
| workshop area | of the house, her own, measured, `180 square feet` | rooms_measured |
| floor area | that of the floor which the workshop is on | rooms_measured |
| house area | that of the whole house | rooms_measured |
| workshop area in the garage | `0 square feet`: none | rooms_measured |
| garage area | that of a garage or an outbuilding | rooms_measured |
| people who work here | whole number of those who live elsewhere | how_you_work |
| own sign | its size, `2 square feet`; 0: none | how_you_work |
| own hours | when she lets customers come, `08:00 to 18:00` | how_you_work |
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
RESALE_CERTIFICATE: Final = "resale certificate"
RESALE_CERTIFICATE_EXPIRES: Final = "resale certificate expires"
RESALE_CERTIFICATE_STATE: Final = "resale certificate state"
INSURANCE_LIMIT: Final = "insurance limit"
INSURANCE_RENEWAL: Final = "insurance renewal"
VISITS_A_DAY: Final = "visits a day"
FLOOR_SHARE: Final = "floor share"
PEOPLE_WORKING: Final = "people working"
SIGN_SIZE: Final = "sign size"
CUSTOMER_HOURS: Final = "customer hours"
WORKSHOP_AREA: Final = "workshop area"
FLOOR_AREA: Final = "floor area"
HOUSE_AREA: Final = "house area"
GARAGE_WORKSHOP_AREA: Final = "workshop area in the garage"
GARAGE_AREA: Final = "garage area"
PEOPLE_HERE: Final = "people who work here"
OWN_SIGN: Final = "own sign"
OWN_HOURS: Final = "own hours"
INCOME_TAX_PERCENT: Final = "income tax percent"
INCOME_TAX_HAS_SELF_EMPLOYMENT: Final = "income tax percent includes self-employment"
INCOME_TAX_HAS_STATE: Final = "income tax percent includes state"


@dataclass(frozen=True)
class Permit:
    """Her sales tax permit, or her own resale certificate. expires: its last day, None where it does not run out."""

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
    return _permit(books, PERMIT, PERMIT_EXPIRES, on)


def resale_certificate(books: Books, on: date) -> Permit | None:
    """Her own resale certificate, as `sales_tax_permit`."""
    return _permit(books, RESALE_CERTIFICATE, RESALE_CERTIFICATE_EXPIRES, on)


def resale_certificate_state(books: Books, on: date) -> str | None:
    """The state that gave her own resale certificate; one that was said before its number was is of an earlier one."""
    said_later = books.value(
        "select max(id) > (select max(id) from choice where key = ?1 and from_date <= ?3) from choice where key = ?2 "
        "and from_date <= ?3",
        (RESALE_CERTIFICATE, RESALE_CERTIFICATE_STATE, on.isoformat()),
    )
    return held_choice(books, RESALE_CERTIFICATE_STATE, on) if said_later else None


def insurance_limit_cents(books: Books, on: date) -> int | None:
    """The limit for other people's pieces in her care."""
    limit = held_choice(books, INSURANCE_LIMIT, on)
    return None if limit is None else read_amount(limit, books.currency, zero=True)


def insurance_renewal(books: Books, on: date) -> date | None:
    """The last day of the policy, also where it has passed."""
    renewal = held_choice(books, INSURANCE_RENEWAL, on)
    return date.fromisoformat(renewal) if renewal else None


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


def _permit(books: Books, number_key: str, expires_key: str, on: date) -> Permit | None:
    number, expires = held_choice(books, number_key, on), held_choice(books, expires_key, on)
    if number is None:
        return None
    return Permit(number, date.fromisoformat(expires) if expires else None)
