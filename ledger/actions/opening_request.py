"""What can be told of the day on which the books began, where the work had been going on before. All may stay empty."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Final

# What stood on an account, by its role, and the words of its entry. What is owed is told above zero too.
BALANCES: Final[dict[str, str]] = {
    "checking": "In the bank",
    "cash_box": "In the cash box",
    "tax_savings": "In tax savings",
    "card_settlements": "Card money on its way",
    "workshop_card": "Owed on the workshop card",
    "owed_to_owner": "Owed to the owner",
}
OWED_ROLES: Final = ("workshop_card", "owed_to_owner")


@dataclass(frozen=True)
class DebtBefore:
    """What a customer owes for work that was handed over. tax_cents: the sales tax in it, None by the rates."""

    customer: str
    cents: int
    tax_cents: int | None = None


@dataclass(frozen=True)
class DepositBefore:
    """A deposit that is held: for a job that was taken in here, by its number, or for one that is made of the rest.

    Lengths in the units of the books. is_booked: the piece is not in the house yet.
    """

    cents: int
    job: int | None = None
    customer: str = ""
    piece: str = ""
    width: Decimal = Decimal(0)
    length: Decimal = Decimal(0)
    value_cents: int = 0
    is_booked: bool = False


@dataclass(frozen=True)
class CertificateBefore:
    """A gift certificate that is out: the number that stands on it, and what is left on it."""

    code: str
    cents: int


@dataclass(frozen=True)
class TaxBefore:
    """Sales tax of sales that no return has yet, in cents. taxes: by jurisdiction, or one sum with None for the name.

    gross_cents: None where everything was taxed.
    """

    taxes: tuple[tuple[str | None, int], ...]
    taxable_cents: int | None
    gross_cents: int | None = None

    @property
    def cents(self) -> int:
        return sum(cents for _, cents in self.taxes)


@dataclass(frozen=True)
class MachineBefore:
    """cost_cents: what the workshop paid for it. earned_cents: what work had earned towards it, of what it took in."""

    cost_cents: int | None = None
    came_on: date | None = None
    taken_in_cents: int | None = None
    earned_cents: int | None = None


@dataclass(frozen=True)
class LoanBefore:
    """The machine's loan as it stands: what is left of it, percent a year, the monthly payment and its next day."""

    cents: int
    percent: Decimal
    payment_cents: int
    next_on: date
    lender: str | None = None


@dataclass(frozen=True)
class OpeningRequest:
    """balances: role of an account and cents, zero to take it back. income and expenses: of the year before the books,
    by name. estimated: period 1 to 4 and what was paid for it."""

    balances: tuple[tuple[str, int], ...] = ()
    debts: tuple[DebtBefore, ...] = ()
    deposits: tuple[DepositBefore, ...] = ()
    certificates: tuple[CertificateBefore, ...] = ()
    tax: TaxBefore | None = None
    income: tuple[tuple[str, int], ...] = ()
    expenses: tuple[tuple[str, int], ...] = ()
    estimated: tuple[tuple[int, int], ...] = ()
    machine: MachineBefore = MachineBefore()
    loan: LoanBefore | None = None

    @property
    def is_empty(self) -> bool:
        return self == OpeningRequest()
