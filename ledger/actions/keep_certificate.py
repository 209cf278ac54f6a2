"""Keep a customer, and the exemption certificate that the customer showed."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from pathlib import Path

from ledger.books.books import Books
from ledger.books.documents import read_document
from ledger.jobs.customers import Customer, ensure_customer
from ledger.taxes.certificate_form import CertificateForm, Reason, read_reason
from ledger.taxes.certificates import Scan, keep_certificate
from ledger.text import read_text


@dataclass(frozen=True)
class CertificateRequest:
    """reason: why no tax is taken, None for a customer without a certificate. document: a scan of it."""

    name: str
    reason: str | None = None
    number: str | None = None
    state: str | None = None
    from_date: date | None = None
    expires: date | None = None
    document: Path | None = None
    contact: str | None = None
    form: CertificateForm | None = None


def preview(request: CertificateRequest) -> Reason | None:
    """The reason as it is kept. Raises NotUnderstood."""
    return read_reason(request.reason) if request.reason is not None else None


def perform(books: Books, request: CertificateRequest) -> Customer:
    """Keep both. Raises NotPossible, NotUnderstood, and NotFound for a scan that is no file."""
    contact = read_text(request.contact, "contact") if request.contact is not None else None
    path = request.document
    scan = Scan(read_document(path), path.name) if path is not None else None
    with books.writing() as write:
        kept = ensure_customer(books, write, request.name, contact)
        if request.reason is not None:
            keep_certificate(
                books,
                write,
                kept.party.id,
                request.reason,
                request.number,
                request.expires,
                state=request.state,
                from_date=request.from_date,
                scan=scan,
                form=request.form,
            )
        return kept
