"""What each answer of the set-up list feeds the books: one function an answer, named by the item.

A function is handed the values by the names of their parts, and the last day on which the answer holds.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Final

from checklists import choices
from checklists.home_rules import read_area
from ledger.errors import NotUnderstood


@dataclass(frozen=True)
class TaxClass:
    """Her state's answer on a class of line."""

    class_name: str
    taxed: bool

    def __str__(self) -> str:
        return f"«{self.class_name}» is {'taxed' if self.taxed else 'not taxed'}"


@dataclass(frozen=True)
class Filing:
    """How often she files, and by which day of the month after."""

    frequency: str
    due_day: int

    def __str__(self) -> str:
        return f"returns are {self.frequency}, due on day {self.due_day} of the month after"


@dataclass(frozen=True)
class Choice:
    """A choice of `checklists.choices`; an empty value takes it back."""

    key: str
    value: str

    def __str__(self) -> str:
        return f"{self.key}: {self.value}" if self.value else f"{self.key}: none"


Fed = TaxClass | Filing | Choice
Feed = Callable[[Mapping[str, str], date | None], tuple[Fed, ...]]


def structure(values: Mapping[str, str], expires: date | None) -> tuple[Fed, ...]:
    return (Choice(choices.STRUCTURE, values["value"]),)


def visits_a_day(values: Mapping[str, str], expires: date | None) -> tuple[Fed, ...]:
    return (Choice(choices.VISITS_A_DAY, values["value"]),)


def floor_share(values: Mapping[str, str], expires: date | None) -> tuple[Fed, ...]:
    return (Choice(choices.FLOOR_SHARE, values["value"]),)


def people_working(values: Mapping[str, str], expires: date | None) -> tuple[Fed, ...]:
    return (Choice(choices.PEOPLE_WORKING, values["value"]),)


def sign_size(values: Mapping[str, str], expires: date | None) -> tuple[Fed, ...]:
    return (Choice(choices.SIGN_SIZE, values["value"]),)


def customer_hours(values: Mapping[str, str], expires: date | None) -> tuple[Fed, ...]:
    return (Choice(choices.CUSTOMER_HOURS, values["value"]),)


def rooms_measured(values: Mapping[str, str], expires: date | None) -> tuple[Fed, ...]:
    """Raises NotUnderstood where a part is larger than what it is a part of."""
    for part, whole in (("workshop", "floor"), ("floor", "house"), ("workshop_in_garage", "garage")):
        if read_area(values[part]).square_feet > read_area(values[whole]).square_feet:
            raise NotUnderstood(
                f"The {part.replace('_', ' ')} with {values[part]} is larger than the {whole} with {values[whole]}.",
                f"Measure both again: the {part.replace('_', ' ')} is a part of the {whole}.",
                part,
            )
    return (
        Choice(choices.WORKSHOP_AREA, values["workshop"]),
        Choice(choices.FLOOR_AREA, values["floor"]),
        Choice(choices.HOUSE_AREA, values["house"]),
        Choice(choices.GARAGE_WORKSHOP_AREA, values["workshop_in_garage"]),
        Choice(choices.GARAGE_AREA, values["garage"]),
    )


def how_you_work(values: Mapping[str, str], expires: date | None) -> tuple[Fed, ...]:
    return (
        Choice(choices.PEOPLE_HERE, values["people"]),
        Choice(choices.OWN_SIGN, values["sign"]),
        Choice(choices.OWN_HOURS, values["hours"]),
    )


def sales_tax_permit(values: Mapping[str, str], expires: date | None) -> tuple[Fed, ...]:
    last_day = expires.isoformat() if expires else ""
    return (Choice(choices.PERMIT, values["value"]), Choice(choices.PERMIT_EXPIRES, last_day))


def goods_taxed(values: Mapping[str, str], expires: date | None) -> tuple[Fed, ...]:
    return (TaxClass("goods", values["value"] == "yes"),)


def work_taxed(values: Mapping[str, str], expires: date | None) -> tuple[Fed, ...]:
    return (TaxClass("work", values["value"] == "yes"),)


def delivery_taxed(values: Mapping[str, str], expires: date | None) -> tuple[Fed, ...]:
    return (TaxClass("delivery", values["value"] == "yes"),)


def business_account(values: Mapping[str, str], expires: date | None) -> tuple[Fed, ...]:
    return (Choice(choices.BUSINESS_ACCOUNT, values["value"]),)


def resale_certificate(values: Mapping[str, str], expires: date | None) -> tuple[Fed, ...]:
    last_day = expires.isoformat() if expires else ""
    return (
        Choice(choices.RESALE_CERTIFICATE, values["value"]),
        Choice(choices.RESALE_CERTIFICATE_EXPIRES, last_day),
    )


def insurance_limit(values: Mapping[str, str], expires: date | None) -> tuple[Fed, ...]:
    last_day = expires.isoformat() if expires else ""
    return (Choice(choices.INSURANCE_LIMIT, values["value"]), Choice(choices.INSURANCE_RENEWAL, last_day))


def filing_frequency(values: Mapping[str, str], expires: date | None) -> tuple[Fed, ...]:
    return (Filing(values["frequency"], int(values["due_day"])),)


def income_tax_percent(values: Mapping[str, str], expires: date | None) -> tuple[Fed, ...]:
    return (
        Choice(choices.INCOME_TAX_PERCENT, values["percent"]),
        Choice(choices.INCOME_TAX_HAS_SELF_EMPLOYMENT, values["includes_self_employment"]),
        Choice(choices.INCOME_TAX_HAS_STATE, values["includes_state"]),
    )


_FUNCTIONS: tuple[Feed, ...] = (
    structure,
    visits_a_day,
    floor_share,
    people_working,
    sign_size,
    customer_hours,
    rooms_measured,
    how_you_work,
    sales_tax_permit,
    resale_certificate,
    goods_taxed,
    work_taxed,
    delivery_taxed,
    business_account,
    insurance_limit,
    filing_frequency,
    income_tax_percent,
)
# An item names its function; a test holds that each item finds one, and each function an item.
FEEDS: Final[Mapping[str, Feed]] = {function.__name__: function for function in _FUNCTIONS}
# What «does not apply» takes back.
TAKEN_BACK: Final[Mapping[str, tuple[str, ...]]] = {
    "structure": (choices.STRUCTURE,),
    "visits_a_day": (choices.VISITS_A_DAY,),
    "floor_share": (choices.FLOOR_SHARE,),
    "people_working": (choices.PEOPLE_WORKING,),
    "sign_size": (choices.SIGN_SIZE,),
    "customer_hours": (choices.CUSTOMER_HOURS,),
    "rooms_measured": (
        choices.WORKSHOP_AREA,
        choices.FLOOR_AREA,
        choices.HOUSE_AREA,
        choices.GARAGE_WORKSHOP_AREA,
        choices.GARAGE_AREA,
    ),
    "how_you_work": (choices.PEOPLE_HERE, choices.OWN_SIGN, choices.OWN_HOURS),
    "sales_tax_permit": (choices.PERMIT, choices.PERMIT_EXPIRES),
    "resale_certificate": (
        choices.RESALE_CERTIFICATE,
        choices.RESALE_CERTIFICATE_EXPIRES,
        choices.RESALE_CERTIFICATE_STATE,
    ),
    "business_account": (choices.BUSINESS_ACCOUNT,),
    "insurance_limit": (choices.INSURANCE_LIMIT, choices.INSURANCE_RENEWAL),
    "income_tax_percent": (
        choices.INCOME_TAX_PERCENT,
        choices.INCOME_TAX_HAS_SELF_EMPLOYMENT,
        choices.INCOME_TAX_HAS_STATE,
    ),
}
