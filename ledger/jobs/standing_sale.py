"""A sale as it stands: what was charged and taxed, line by line and rate by rate, less what was given back since."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from ledger.books.drafts import SlipLine, TaxLine


@dataclass(frozen=True)
class StandingSale:
    """entry: the pickup. slip and taxes: what is left of them, refunds taken off, in cents. tip_cents: likewise.

    owed_cents: what the customer still owes on the job. written_off_cents: what was given up of it, tax included.
    """

    entry: int
    slip: tuple[SlipLine, ...]
    taxes: tuple[TaxLine, ...]
    tip_cents: int
    owed_cents: int
    written_off_cents: int = 0

    @property
    def charge_cents(self) -> int:
        return sum(each.cents for each in self.slip)

    @property
    def tax_cents(self) -> int:
        return sum(each.cents for each in self.taxes)

    @property
    def total_cents(self) -> int:
        """Charge and tax, without the tip."""
        return self.charge_cents + self.tax_cents

    @property
    def paid_cents(self) -> int:
        """What the customer has paid and not got back, the tip included."""
        return self.total_cents + self.tip_cents - self.owed_cents - self.written_off_cents


def merged_slip(lines: Sequence[SlipLine]) -> tuple[SlipLine, ...]:
    """Lines of a sale and of its refunds, added up line by line; the sale's come first and give the order."""
    sums: dict[tuple[int | None, str, str, int | None], int] = {}
    for each in lines:
        key = (each.job_line, each.class_name, each.treatment, each.certificate)
        sums[key] = sums.get(key, 0) + each.cents
    return tuple(
        SlipLine(class_name, cents, treatment, job_line, certificate)
        for (job_line, class_name, treatment, certificate), cents in sums.items()
        if cents
    )


def merged_taxes(lines: Sequence[TaxLine]) -> tuple[TaxLine, ...]:
    """Tax lines of a sale and of its refunds, added up rate by rate."""
    sums: dict[tuple[int, str], tuple[int, int]] = {}
    for each in lines:
        base, cents = sums.get((each.rate, each.percent), (0, 0))
        sums[each.rate, each.percent] = (base + each.base, cents + each.cents)
    return tuple(
        TaxLine(rate, percent, base, cents) for (rate, percent), (base, cents) in sums.items() if base or cents
    )
