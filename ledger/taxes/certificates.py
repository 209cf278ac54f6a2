"""Exemption certificates of customers: which one is valid on a day."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from ledger.books.books import Books
from ledger.books.transaction import Writing
from ledger.errors import NotPossible
from ledger.text import read_text


@dataclass(frozen=True)
class Certificate:
    id: int
    reason: str
    number: str | None
    from_date: date
    expires: date | None

    def is_valid(self, day: date) -> bool:
        """Whether it has a number and the day lies within its dates."""
        return self.number is not None and self.from_date <= day and (self.expires is None or day <= self.expires)


def keep_certificate(
    books: Books, write: Writing, party: int, reason: str, number: str | None, expires: date | None
) -> None:
    """Keep what a customer showed. Raises NotPossible where it has run out already."""
    if expires is not None and expires < books.today:
        raise NotPossible(f"The certificate ran out on {expires}.", "Ask the customer for a valid one.", "expires")
    write.add(
        "certificate",
        party=party,
        reason=read_text(reason, "exempt"),
        number=read_text(number, "certificate") if number is not None else None,
        from_date=books.today.isoformat(),
        expires=expires.isoformat() if expires else None,
    )


def newest_certificate(books: Books, party: int) -> Certificate | None:
    """The certificate of a party that was kept last by today, valid or not."""
    row = books.row(
        "select * from certificate where party = ? and from_date <= ? order by from_date desc, id desc limit 1",
        (party, books.today.isoformat()),
    )
    if row is None:
        return None
    expires = date.fromisoformat(row["expires"]) if row["expires"] else None
    return Certificate(row["id"], row["reason"], row["number"], date.fromisoformat(row["from_date"]), expires)
