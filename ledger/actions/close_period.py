"""Close a period after its packet was handed over, and open it again with the reason."""

from __future__ import annotations

from dataclasses import dataclass

from ledger.books.books import Books
from ledger.books.closing import close_period, reopen_period
from ledger.periods import Period
from ledger.text import read_text


@dataclass(frozen=True)
class CloseRequest:
    period: Period


@dataclass(frozen=True)
class ReopenRequest:
    period: Period
    why: str


def close(books: Books, request: CloseRequest) -> str:
    """What was done. Raises NotPossible where it runs still, is closed, or follows an open one; BooksDamaged."""
    with books.all_or_nothing() as together:
        close_period(together, request.period.start, request.period.end)
    return f"Closed: nothing more is entered up to {request.period.end}."


def reopen(books: Books, request: ReopenRequest) -> str:
    """What was done. Raises NotPossible where it is open, NotUnderstood for a reason that says nothing."""
    with books.all_or_nothing() as together:
        reopen_period(together, request.period.start, read_text(request.why, "why"))
    return f"Open again from {request.period.start}: close it again when it is put right."
