"""What is seen and agreed when a piece comes in: its size on up to three lines, its state, who may collect it.

Common practice, no source: a top is seldom quite square, so it is measured through the middle and near both edges, and
the mean is what is priced.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

from ledger.errors import NotUnderstood
from ledger.money import plain_decimal, read_quantity

LINES_AT_MOST = 3
_STEP = Decimal("0.0001")


@dataclass(frozen=True)
class Intake:
    """Lengths in the units of the books."""

    widths: tuple[Decimal, ...]
    lengths: tuple[Decimal, ...]
    condition: str | None = None
    may_collect: str | None = None


def read_lengths(text: str, field: str) -> tuple[Decimal, ...]:
    """One to three lengths, with spaces, commas or slashes between them. Raises NotUnderstood."""
    words = [word for word in re.split(r"[\s,;/]+", text.strip()) if word]
    if len(words) > LINES_AT_MOST:
        raise NotUnderstood("A side is measured on three lines at most.", "Give one to three lengths.", field)
    return tuple(read_quantity(word, field) for word in words) or (read_quantity(text, field),)


def mean_length(lengths: Sequence[Decimal]) -> Decimal:
    """The mean of the lines measured, to four decimals."""
    mean = sum(lengths, start=Decimal(0)) / len(lengths)
    return Decimal(plain_decimal(mean.quantize(_STEP, rounding=ROUND_HALF_UP)))


def lengths_text(lengths: Sequence[Decimal]) -> str:
    """Lengths as they are kept, with spaces between."""
    return " ".join(plain_decimal(each) for each in lengths)
