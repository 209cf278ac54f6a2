"""A return that was filed: what it owes, what was settled of it, and what is left."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from ledger.periods import Period
from ledger.taxes.return_of_entry import FiledThrough


@dataclass(frozen=True)
class FiledReturn:
    """Amounts in cents. sales_tax and use_tax: owed by it. allowance: what is left to her if she pays on time too.

    carried: credit of returns before that it used. is_claimed: below zero, and claimed back instead of carried forward.
    paid, allowance_kept and use_tax_paid: what was settled of it by today. worksheet: as it was filed.
    """

    id: int
    period: Period
    sequence: int
    due_on: date
    through: FiledThrough
    sales_tax_cents: int
    use_tax_cents: int
    allowance_cents: int
    carried_cents: int
    is_claimed: bool
    worksheet: str
    digest: str
    entry: int | None
    paid_cents: int
    allowance_kept_cents: int
    use_tax_paid_cents: int

    @property
    def owed_cents(self) -> int:
        """Sales and use tax, before credit and allowance."""
        return self.sales_tax_cents + self.use_tax_cents

    @property
    def left_cents(self) -> int:
        """What is not settled yet, without any allowance; below zero where there is a credit."""
        return self.owed_cents - self.carried_cents - self.paid_cents - self.allowance_kept_cents

    def allowance_on(self, day: date) -> int:
        """What of the allowance can still be kept by paying on a day."""
        return self.allowance_cents if day <= self.due_on and not self.allowance_kept_cents else 0

    def to_pay_on(self, day: date) -> int:
        """What settles it on a day; below zero it is the state that pays, where it was claimed back."""
        return self.left_cents - self.allowance_on(day)
