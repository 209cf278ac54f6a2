"""The allowance that some states leave to a seller who files and pays on time: percent by steps, with a cap.

Every figure is hers, as her state told her; none is shipped. For example Florida, form DR-15: 2.5 percent of the first
1,200.00 of tax, at most 30.00, only filed and paid on time. What is kept is income (IRS Publication 583).
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from decimal import Decimal

from ledger.errors import NotPossible
from ledger.money import percent_of, plain_decimal, round_half_up


@dataclass(frozen=True)
class Allowance:
    """percent of the first `first_cents` of tax (None: of all of it), then_percent of the rest, at most cap_cents."""

    percent: Decimal
    first_cents: int | None = None
    then_percent: Decimal = Decimal(0)
    cap_cents: int | None = None

    def __post_init__(self) -> None:
        if self.first_cents is None and self.then_percent:
            raise NotPossible(
                "A percent of the rest needs to know of the rest of what.", "Say --first, the first step.", "then"
            )

    def of(self, tax_cents: int) -> int:
        """What is left to her of so much tax, in cents, rounded once; nothing of none or less."""
        if tax_cents <= 0:
            return 0
        first = tax_cents if self.first_cents is None else min(self.first_cents, tax_cents)
        exact = percent_of(first, self.percent) + percent_of(tax_cents - first, self.then_percent)
        cents = round_half_up(exact)
        return cents if self.cap_cents is None else min(cents, self.cap_cents)


NO_ALLOWANCE = Allowance(Decimal(0))


def allowance_as_text(allowance: Allowance) -> str:
    """As it is kept in the books."""
    return json.dumps(
        {
            "percent": plain_decimal(allowance.percent),
            "first": allowance.first_cents,
            "then": plain_decimal(allowance.then_percent),
            "cap": allowance.cap_cents,
        }
    )


def allowance_from_text(text: str) -> Allowance:
    kept = json.loads(text)
    return Allowance(Decimal(kept["percent"]), kept["first"], Decimal(kept["then"]), kept["cap"])
