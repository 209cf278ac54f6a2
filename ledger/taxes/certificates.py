"""Exemption certificates of customers: which one is valid on a day."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from ledger.books.books import Books, Row
from ledger.books.documents import attach
from ledger.books.transaction import Writing
from ledger.errors import NotPossible
from ledger.text import read_text


@dataclass(frozen=True)
class Certificate:
    """state: whose certificate it is. document: the name of the scan that is kept with it."""

    id: int
    reason: str
    number: str | None
    from_date: date
    expires: date | None
    state: str | None = None
    document: str | None = None

    def is_valid(self, day: date) -> bool:
        """Whether it has a number and the day lies within its dates."""
        return self.number is not None and self.from_date <= day and (self.expires is None or day <= self.expires)


@dataclass(frozen=True)
class Scan:
    """A document on its way into the books: its bytes and the name of its file."""

    content: bytes
    label: str


def keep_certificate(
    books: Books,
    write: Writing,
    party: int,
    reason: str,
    number: str | None,
    expires: date | None,
    *,
    state: str | None = None,
    from_date: date | None = None,
    scan: Scan | None = None,
) -> int:
    """Keep what a customer showed; its id. It holds from today, or from the day that is said.

    Raises NotPossible where it has run out already, or ends before it begins.
    """
    if expires is not None and expires < (from_date or books.today):
        raise NotPossible(f"The certificate ran out on {expires}.", "Ask the customer for a valid one.", "expires")
    certificate = write.add(
        "certificate",
        party=party,
        reason=read_text(reason, "exempt"),
        number=read_text(number, "certificate") if number is not None else None,
        from_date=(from_date or books.today).isoformat(),
        expires=expires.isoformat() if expires else None,
    )
    if state is not None:
        write.add("certificate_detail", certificate=certificate, state=read_text(state, "state", limit=60))
    if scan is not None:
        attach(books, write, scan.content, scan.label, certificate=certificate)
    return certificate


def newest_certificate(books: Books, party: int, on: date | None = None) -> Certificate | None:
    """The certificate of a party that begins last by a day, today unless given; valid or not."""
    row = books.row(
        f"{_CERTIFICATES} where party = ? and from_date <= ? order by from_date desc, certificate.id desc limit 1",
        (party, (on or books.today).isoformat()),
    )
    return None if row is None else _certificate(row)


_CERTIFICATES = (
    "select certificate.*, state, (select label from attachment where attachment.certificate = certificate.id "
    "order by id desc limit 1) as document from certificate "
    "left join certificate_detail on certificate_detail.certificate = certificate.id"
)


def _certificate(row: Row) -> Certificate:
    return Certificate(
        id=row["id"],
        reason=row["reason"],
        number=row["number"],
        from_date=date.fromisoformat(row["from_date"]),
        expires=date.fromisoformat(row["expires"]) if row["expires"] else None,
        state=row["state"],
        document=row["document"],
    )
