"""Exemption certificates of customers: which one is valid on a day, what it says, and which run out next.

The fields are those of the uniform form, Streamlined Sales Tax Governing Board, Form F0003 (revised 21 December 2021).
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from ledger.books.books import Books, Row
from ledger.books.documents import attach
from ledger.books.parties import read_party
from ledger.books.transaction import Writing
from ledger.errors import NotPossible
from ledger.taxes.certificate_form import CertificateForm, read_reason
from ledger.text import read_text


@dataclass(frozen=True)
class Certificate:
    """state: whose certificate it is. document: the name of the scan that is kept with it. form: what else it says.

    used_on: the day of the first sale that stands on it, for one that is good for a single purchase.
    """

    id: int
    reason: str
    number: str | None
    from_date: date
    expires: date | None
    state: str | None = None
    document: str | None = None
    form: CertificateForm | None = None
    used_on: date | None = None

    def is_valid(self, day: date) -> bool:
        """Whether it has a number, the day lies within its dates, and it is not used up by an earlier purchase."""
        return self.number is not None and self.from_date <= day <= (self.expires or day) and not self.is_used_up(day)

    def is_used_up(self, day: date) -> bool:
        """Whether it was for a single purchase, and that was made before a day."""
        return self.used_on is not None and self.used_on < day


@dataclass(frozen=True)
class Scan:
    """A document on its way into the books: its bytes and the name of its file."""

    content: bytes
    label: str


@dataclass(frozen=True)
class HeldCertificate:
    """A customer's certificate that counts on a day, with the customer's name."""

    party: int
    name: str
    certificate: Certificate


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
    form: CertificateForm | None = None,
) -> int:
    """Keep what a customer showed; its id. It holds from today, or from the day that is said.

    reason: in words, or as a letter of the uniform form. Raises NotPossible where it has run out already, ends before
    it begins, or was signed on a day that has not come.
    """
    if expires is not None and expires < (from_date or books.today):
        raise NotPossible(f"The certificate ran out on {expires}.", "Ask the customer for a valid one.", "expires")
    if form is not None and form.signed_on is not None and form.signed_on > books.today:
        raise NotPossible(f"It cannot have been signed on {form.signed_on}.", "Give the day on it.", "signed")
    read = read_reason(reason)
    certificate = write.add(
        "certificate",
        party=party,
        reason=read.words,
        number=read_text(number, "certificate") if number is not None else None,
        from_date=(from_date or books.today).isoformat(),
        expires=expires.isoformat() if expires else None,
    )
    if state is not None:
        write.add("certificate_detail", certificate=certificate, state=read_text(state, "state", limit=60))
    if form is not None or read.letter is not None:
        _keep_form(write, certificate, form or CertificateForm(), read.letter)
    if scan is not None:
        attach(books, write, scan.content, scan.label, certificate=certificate)
    return certificate


def newest_certificate(books: Books, party: int, on: date | None = None) -> Certificate | None:
    """The certificate of a party that begins last by a day, today unless given; valid or not.

    One for a single purchase that is used up gives way to the one before it.
    """
    day = on or books.today
    rows = books.rows(
        f"{_CERTIFICATES} where party = ? and from_date <= ? order by from_date desc, certificate.id desc",
        (party, day.isoformat()),
    )
    found = [_certificate(row) for row in rows]
    return next((each for each in found if not each.is_used_up(day)), found[0] if found else None)


def read_certificates(books: Books, on: date) -> tuple[HeldCertificate, ...]:
    """The certificate that counts for each customer on a day, the one that runs out first before the others.

    Those without a last day come last.
    """
    parties = books.rows(
        "select distinct party from certificate where from_date <= ? order by party", (on.isoformat(),)
    )
    held = [(row["party"], newest_certificate(books, row["party"], on)) for row in parties]
    found = [HeldCertificate(party, read_party(books, party).name, each) for party, each in held if each is not None]
    return tuple(sorted(found, key=lambda each: (each.certificate.expires or date.max, each.name)))


def _keep_form(write: Writing, certificate: int, form: CertificateForm, letter: str | None) -> None:
    write.add(
        "certificate_form",
        certificate=certificate,
        letter=letter,
        signed_on=form.signed_on.isoformat() if form.signed_on else None,
        **{name: read_text(text, name) if text is not None else None for name, text in form.texts().items()},
    )


# The first sale that stands on a certificate and was not undone.
_USED_ON = (
    "(select min(entry.date) from slip_line join entry on entry.number = slip_line.entry "
    "where slip_line.certificate = certificate.id and slip_line.cents > 0 "
    "and not exists (select 1 from entry as mirror where mirror.reverses = entry.number))"
)
_CERTIFICATES = (
    "select certificate.*, state, address, single_purchase, business, letter, signed_by, title, signed_on, "
    f"case when single_purchase is not null then {_USED_ON} end as used_on, "
    "(select label from attachment where attachment.certificate = certificate.id order by id desc limit 1) as document "
    "from certificate left join certificate_detail on certificate_detail.certificate = certificate.id "
    "left join certificate_form as form on form.certificate = certificate.id"
)


def _certificate(row: Row) -> Certificate:
    form = CertificateForm(
        address=row["address"],
        single_purchase=row["single_purchase"],
        business=row["business"],
        signed_by=row["signed_by"],
        title=row["title"],
        signed_on=_day(row["signed_on"]),
        letter=row["letter"],
    )
    return Certificate(
        id=row["id"],
        reason=row["reason"],
        number=row["number"],
        from_date=date.fromisoformat(row["from_date"]),
        expires=_day(row["expires"]),
        state=row["state"],
        document=row["document"],
        form=form if form != CertificateForm() else None,
        used_on=_day(row["used_on"]),
    )


def _day(text: str | None) -> date | None:
    return date.fromisoformat(text) if text else None
