"""Her own resale certificate: its number is the answer on the set-up list, and suppliers are given it on paper."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from pathlib import Path

from checklists import choices
from checklists.values import read_open_text
from ledger.actions import answers
from ledger.books.books import Books
from ledger.books.settings import choose
from ledger.errors import NotPossible
from ledger.jobs.printing import Printed, print_sheet, receipts_folder
from ledger.paper.locales import LocalForms
from ledger.taxes.own_certificate import (
    CertificateForSupplier,
    Holder,
    certificate_sheet,
    keep_back,
    keep_given,
    read_holders,
    sheet_name,
)
from ledger.text import read_name, read_text

ITEM = "resale_certificate"
USUAL_GOODS = "batting and backing"
USUAL_BUSINESS = "quilting for customers"


@dataclass(frozen=True)
class OwnCertificate:
    """holders: the suppliers that have it. number: None where none is recorded."""

    number: str | None
    state: str | None
    expires: date | None
    holders: tuple[Holder, ...]

    def holds(self, day: date) -> bool:
        return self.number is not None and (self.expires is None or day <= self.expires)

    def is_old(self, holder: Holder) -> bool:
        """Whether a supplier has one with another number than that of today."""
        return self.number is not None and holder.number != self.number


@dataclass(frozen=True)
class OwnRequest:
    """Its number as it is printed, whom she asked, whose it is, and its last day."""

    number: str
    asked: str
    state: str | None = None
    expires: date | None = None


@dataclass(frozen=True)
class GiveRequest:
    """For a supplier. purchase: the order that it is for, None for all. folder: None for that of the receipts."""

    supplier: str
    goods: str = USUAL_GOODS
    business: str = USUAL_BUSINESS
    purchase: str | None = None
    folder: Path | None = None


@dataclass(frozen=True)
class BackRequest:
    supplier: str


def read_own(books: Books) -> OwnCertificate:
    """What is recorded today."""
    held = choices.resale_certificate(books, books.today)
    state = choices.resale_certificate_state(books, books.today)
    holders = read_holders(books, books.today)
    return OwnCertificate(held.number if held else None, state, held.expires if held else None, holders)


def perform(books: Books, request: OwnRequest) -> OwnCertificate:
    """Record it as the answer on the set-up list. Raises NotUnderstood, and NotPossible where it has run out."""
    state = read_open_text(request.state, "state") if request.state is not None else None
    with books.all_or_nothing() as together, together.writing() as write:
        answer = answers.AnswerRequest(ITEM, request.number, request.asked, expires=request.expires)
        asked = answers.perform(together, answer).asked
        if state is not None:
            choose(write, choices.RESALE_CERTIFICATE_STATE, state, books.today, books.today, asked)
    return read_own(books)


def preview_given(books: Books, request: GiveRequest) -> Printed:
    """The sheet for a supplier. Raises NotPossible where none is recorded or it has run out, NotUnderstood."""
    own = read_own(books)
    if own.number is None:
        raise NotPossible(
            "No resale certificate of yours is recorded.",
            "Ask your revenue office for one, then «twopurse tax resale set NUMBER».",
            None,
        )
    if not own.holds(books.today):
        raise NotPossible(f"Your resale certificate ran out on {own.expires}.", "Record the new one first.", None)
    printed = CertificateForSupplier(
        workshop=books.settings.name,
        supplier=read_name(request.supplier, "supplier"),
        number=own.number,
        state=own.state,
        expires=own.expires,
        goods=read_text(request.goods, "goods"),
        business=read_text(request.business, "business"),
        day=books.today,
        purchase=read_text(request.purchase, "purchase") if request.purchase is not None else None,
    )
    forms = LocalForms(books.settings.locale, books.settings.currency)
    return print_sheet(books, sheet_name(printed), certificate_sheet(printed, forms))


def give(books: Books, request: GiveRequest) -> tuple[Printed, Path]:
    """Print it for a supplier, and keep that the supplier has it; the sheet and its folder. Raises as the preview."""
    folder = request.folder or receipts_folder(books)
    with books.writing() as write:
        printed = preview_given(books, request)
        number = read_own(books).number
        assert number is not None, "the preview refuses where there is none"
        if request.purchase is None:
            keep_given(books, write, request.supplier, number)
        write.add_file(printed.pdf_in(folder), printed.pdf)
        write.add_file(printed.text_in(folder), printed.text.encode())
    return printed, folder


def take_back(books: Books, request: BackRequest) -> str:
    """Keep that a supplier has it no more; the supplier's name. Raises NotFound."""
    with books.writing() as write:
        return keep_back(books, write, request.supplier)
