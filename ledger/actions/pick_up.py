"""Pickup: the piece goes home, the money comes in, the receipt is on disk."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from ledger.actions.take_money import add_payments
from ledger.books.balances import read_accounts
from ledger.books.books import Books
from ledger.books.entries import Sealed, check_date, seal
from ledger.books.transaction import Writing
from ledger.jobs.pickup import PickupFacts, PickupRequest, Settlement, settle
from ledger.jobs.printing import printed_receipt, receipts_folder
from ledger.jobs.receipts import Receipt, describe_receipt
from ledger.jobs.records import add_event, read_job_to_act
from ledger.taxes.certificates import newest_certificate
from ledger.taxes.rules import rules_on


@dataclass(frozen=True)
class PickedUp:
    """entry: None where the work was given away and no money moved. receipt: as text, pdf: for paper."""

    settlement: Settlement
    entry: Sealed | None
    receipt: Path
    pdf: Path


def preview(books: Books, request: PickupRequest) -> Settlement:
    """What a pickup would come to. Raises NotFound, NotPossible, NotUnderstood."""
    return settle(read_facts(books, request.job), request, books.today)


def perform(books: Books, request: PickupRequest) -> PickedUp:
    """Book the pickup and write its receipt. Raises as `preview` does, and whatever keeps the books from writing."""
    with books.writing() as write:
        settlement, sealed, told = _book(books, write, request)
        printed, folder = printed_receipt(told, books.settings), receipts_folder(books)
        write.add_file(printed.text_in(folder), printed.text.encode())
        write.add_file(printed.pdf_in(folder), printed.pdf)
    return PickedUp(settlement, sealed, printed.text_in(folder), printed.pdf_in(folder))


def perform_without_receipt(books: Books, request: PickupRequest) -> tuple[Settlement, Sealed | None]:
    """Book the pickup alone, where nobody waits for paper; its receipt can be printed from the books at any time."""
    with books.writing() as write:
        settlement, sealed, _ = _book(books, write, request)
    return settlement, sealed


def _book(books: Books, write: Writing, request: PickupRequest) -> tuple[Settlement, Sealed | None, Receipt]:
    facts = read_facts(books, request.job)
    settlement = settle(facts, request, books.today)
    job = settlement.job
    check_date(books, books.today)
    sealed = seal(books, write, settlement.draft) if settlement.draft else None
    if sealed is not None:
        add_payments(write, sealed, job.id, list(settlement.paid.payments))
    if sealed is not None and settlement.paid.owed_cents:
        charge, tax = settlement.owed_charge_cents, settlement.owed_tax_cents
        write.add("owed_part", entry=sealed.number, job=job.id, charge=charge, tax=tax)
    add_event(books, write, job.id, "picked up", sealed.number if sealed else None)
    return settlement, sealed, describe_receipt(books.settings, settlement, facts.certificate, sealed, books.today)


def read_facts(books: Books, job_number: int) -> PickupFacts:
    """What the books know of a job about to be picked up. Raises NotFound."""
    job = read_job_to_act(books, job_number)
    return PickupFacts(
        job=job,
        rules=rules_on(books, books.today),
        accounts=read_accounts(books),
        currency=books.currency,
        certificate=newest_certificate(books, job.customer.party.id),
    )
