"""Pickup: the piece goes home, the money comes in, the receipt is on disk."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from ledger.actions.take_money import add_payments
from ledger.books.balances import read_accounts
from ledger.books.books import Books
from ledger.books.entries import Sealed, check_date, seal
from ledger.books.transaction import Writing
from ledger.jobs.gift_certificates import certificate_of, certificate_to_use, use_certificate
from ledger.jobs.owed import Owed, owe
from ledger.jobs.payments import Payment
from ledger.jobs.pickup import PickupFacts, PickupRequest, Settlement, settle
from ledger.jobs.printing import print_receipt, receipts_folder
from ledger.jobs.receipts import Receipt, describe_receipt
from ledger.jobs.records import add_event, read_job_to_act
from ledger.jobs.shipments import add_shipment
from ledger.taxes.certificates import newest_certificate
from ledger.taxes.rules import is_taxed_at_destination, rates_on, rules_at, rules_on


@dataclass(frozen=True)
class PickedUp:
    """entry: None where the work was given away and no money moved. receipt: as text, pdf: for paper."""

    settlement: Settlement
    entry: Sealed | None
    receipt: Path
    pdf: Path


def preview(books: Books, request: PickupRequest) -> Settlement:
    """What a pickup would come to. Raises NotFound, NotPossible, NotUnderstood."""
    return settle(read_facts(books, request), request, books.today)


def perform(books: Books, request: PickupRequest) -> PickedUp:
    """Book the pickup and write its receipt. Raises as `preview` does, and whatever keeps the books from writing."""
    with books.writing() as write:
        settlement, sealed, told = _book(books, write, request)
        printed, folder = print_receipt(books, told), receipts_folder(books)
        write.add_file(printed.text_in(folder), printed.text.encode())
        write.add_file(printed.pdf_in(folder), printed.pdf)
    return PickedUp(settlement, sealed, printed.text_in(folder), printed.pdf_in(folder))


def perform_without_receipt(books: Books, request: PickupRequest) -> tuple[Settlement, Sealed | None]:
    """Book the pickup alone, where nobody waits for paper; its receipt can be printed from the books at any time."""
    with books.writing() as write:
        settlement, sealed, _ = _book(books, write, request)
    return settlement, sealed


def _book(books: Books, write: Writing, request: PickupRequest) -> tuple[Settlement, Sealed | None, Receipt]:
    facts = read_facts(books, request)
    settlement = settle(facts, request, books.today)
    job = settlement.job
    check_date(books, books.today)
    sealed = seal(books, write, settlement.draft) if settlement.draft else None
    if sealed is not None:
        add_payments(write, sealed, job.id, list(settlement.paid.payments))
        _add_beside(books, write, sealed, settlement, request)
    if request.sending is not None:
        add_shipment(books, write, job.id, sealed.number if sealed else None, request.sending)
    add_event(books, write, job.id, "picked up", sealed.number if sealed else None)
    told = describe_receipt(books.settings, request, settlement, facts.certificate, sealed, books.today)
    return settlement, sealed, told


def _add_beside(books: Books, write: Writing, sealed: Sealed, settlement: Settlement, request: PickupRequest) -> None:
    """What stands beside the entry: a deposit handed back, what stays owed, certificates used, goods taken for work."""
    job = settlement.job.id
    if request.deposit_back is not None and settlement.deposit_back_cents:
        add_payments(write, sealed, job, [Payment(request.deposit_back, -settlement.deposit_back_cents)])
    owe(books, write, sealed.number, job, Owed(settlement.owed_charge_cents, settlement.owed_tax_cents))
    for used in settlement.gifts:
        use_certificate(write, used.certificate, sealed.number, used.cents)
    if request.barter is not None and settlement.barter_cents:
        write.add(
            "barter",
            entry=sealed.number,
            job=job,
            account=request.barter.account.id,
            cents=settlement.barter_cents,
            what=request.barter.what,
        )


def read_facts(books: Books, request: PickupRequest) -> PickupFacts:
    """What the books know of a job about to be picked up. Raises NotFound, NotPossible, NotUnderstood."""
    job = read_job_to_act(books, request.job)
    sending = request.sending
    place = sending.place if sending is not None else None
    by_destination = sending is not None and is_taxed_at_destination(books, books.today)
    codes = [certificate_of(books, each).code for each in request.gifts]
    return PickupFacts(
        job=job,
        rules=rules_at(books, books.today, place),
        accounts=read_accounts(books),
        currency=books.currency,
        certificate=newest_certificate(books, job.customer.party.id),
        gifts=tuple(certificate_to_use(books, each) for each in dict.fromkeys(codes)),
        quoted_rules=rules_on(books, job.taken_on) if place is None else None,
        is_place_missing=by_destination and place is None,
        is_place_without_rates=by_destination and place is not None and not rates_on(books, books.today, place),
    )
