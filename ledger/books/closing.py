"""Closing a period, after which the database refuses entries in it, and opening it again with the reason."""

from __future__ import annotations

from datetime import date, timedelta

from ledger.books.books import Books
from ledger.books.chain import head
from ledger.books.entries import closed_through
from ledger.books.prove import prove
from ledger.errors import BooksDamaged, NotPossible


def close_period(books: Books, start: date, end: date) -> None:
    """Close everything through the end of a period that is over, once the books are proved whole.

    Raises NotPossible where the period still runs, is closed, or follows one that still is open.
    """
    closed = closed_through(books)
    if end >= books.today:
        raise NotPossible(f"The period runs until {end}.", "Close it when it is over.", "period")
    if closed is not None and closed >= end:
        raise NotPossible(f"The period is closed already, through {closed}.", "There is nothing to do.", "period")
    begins = closed + timedelta(days=1) if closed else books.settings.begun_on
    if start > begins:
        raise NotPossible(
            f"The period before this one is still open, from {begins}.",
            "Close the earlier one first: closing goes in order.",
            "period",
        )
    proof = prove(books)
    if not proof.ok:
        raise BooksDamaged(
            f"The books are not whole: {proof.findings[0].sentence}.",
            "Run «twopurse prove» and see to it first.",
            "period",
        )
    with books.writing() as write:
        write.add(
            "closing",
            through=end.isoformat(),
            reopened=0,
            why=None,
            head=str(head(books.connection)),
            at=books.today.isoformat(),
        )


def reopen_period(books: Books, start: date, why: str) -> None:
    """Open a closed period and everything after it again. Raises NotPossible where it is open."""
    closed = closed_through(books)
    if closed is None or closed < start:
        raise NotPossible("The period is not closed.", "There is nothing to reopen.", "period")
    with books.writing() as write:
        write.add(
            "closing",
            through=(start - timedelta(days=1)).isoformat(),
            reopened=1,
            why=why,
            head=str(head(books.connection)),
            at=books.today.isoformat(),
        )
