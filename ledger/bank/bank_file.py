"""A bank's file as it was understood: whose it is, its lines, and the balance that it ends with."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Literal

Form = Literal["ofx", "csv"]

# A statement of more than this is none of a workshop's, and reading it would take long. Our own limits.
MOST_LINES = 20_000
MOST_BYTES = 8 * 1024 * 1024
TEXT_LETTERS = 200
NUMBER_LETTERS = 60


@dataclass(frozen=True)
class BankLine:
    """One line, cents as the account holder sees them: above zero came in, below zero went out.

    day: as the bank wrote it, in its own zone. number: the check's. bank_id: the bank's own name for the line, empty
    where it gives none. kind: the bank's word for it, such as CHECK or FEE, empty where it has none.
    """

    day: date
    cents: int
    text: str
    memo: str = ""
    number: str = ""
    bank_id: str = ""
    kind: str = ""

    @property
    def words(self) -> str:
        """All that the bank says of it."""
        return f"{self.text} {self.memo}".strip()


@dataclass(frozen=True)
class Ending:
    """The balance that a statement ends with. day: the day at whose end it held, None where the file does not say."""

    cents: int
    day: date | None


@dataclass(frozen=True)
class BankFile:
    """account_ending: the last four signs of the account number, empty where the file has none.

    currency: its code, empty where the file has none. without_amount: lines of zero, which are told and not kept.
    """

    form: Form
    lines: tuple[BankLine, ...]
    account_ending: str = ""
    currency: str = ""
    start: date | None = None
    end: date | None = None
    ending: Ending | None = None
    without_amount: int = 0

    @property
    def first_day(self) -> date:
        """The first day that it covers."""
        return min(each for each in (self.start, *(line.day for line in self.lines)) if each is not None)

    @property
    def last_day(self) -> date:
        return max(line.day for line in self.lines)


@dataclass(frozen=True)
class Preview:
    """What is shown before anything is kept. Both sums in cents, above zero."""

    rows: int
    first_day: date
    last_day: date
    in_rows: int
    in_cents: int
    out_rows: int
    out_cents: int


def preview_of(file: BankFile) -> Preview:
    """Row count, dates, and what came in and went out. The file has a line at least."""
    came, went = ([each.cents for each in file.lines if (each.cents > 0) is above] for above in (True, False))
    days = [each.day for each in file.lines]
    return Preview(len(file.lines), min(days), max(days), len(came), sum(came), len(went), -sum(went))
