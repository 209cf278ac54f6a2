"""Pickup: the piece goes home, the money comes in, the receipt is on disk."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from ledger.actions.take_money import add_payments
from ledger.books.balances import read_accounts
from ledger.books.books import Books
from ledger.books.entries import Sealed, check_date, seal
from ledger.books.places import RECEIPTS
from ledger.jobs.pickup import PickupFacts, PickupRequest, Settlement, settle
from ledger.jobs.receipts import receipt_name, receipt_text
from ledger.jobs.records import add_event, read_job_to_act
from ledger.taxes.certificates import newest_certificate
from ledger.taxes.rules import rules_on


@dataclass(frozen=True)
class PickedUp:
    """entry: None where the work was given away and no money moved."""

    settlement: Settlement
    entry: Sealed | None
    receipt: Path


def preview(books: Books, request: PickupRequest) -> Settlement:
    """What a pickup would come to. Raises NotFound, NotPossible, NotUnderstood."""
    return settle(read_facts(books, request.job), request, books.today)


def perform(books: Books, request: PickupRequest) -> PickedUp:
    """Book the pickup and write its receipt. Raises as `preview` does, and whatever keeps the books from writing."""
    with books.writing() as write:
        settlement = preview(books, request)
        job = settlement.job
        check_date(books, books.today)
        sealed = seal(books, write, settlement.draft) if settlement.draft else None
        if sealed is not None:
            add_payments(write, sealed, job.id, list(settlement.paid.payments))
        if sealed is not None and settlement.paid.owed_cents:
            charge, tax = settlement.owed_charge_cents, settlement.owed_tax_cents
            write.add("owed_part", entry=sealed.number, job=job.id, charge=charge, tax=tax)
        add_event(books, write, job.id, "picked up", sealed.number if sealed else None)
        receipt = books.folder / RECEIPTS / receipt_name(job, sealed)
        write.add_file(receipt, receipt_text(books.settings, settlement, sealed, books.today).encode())
    return PickedUp(settlement, sealed, receipt)


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
