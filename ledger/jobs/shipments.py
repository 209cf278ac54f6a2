"""Pieces sent home by post: carrier, tracking, insured value, and the place where the sale is taxed."""

from __future__ import annotations

from ledger.books.books import Books
from ledger.books.transaction import Writing
from ledger.jobs.pickup import Sending


def add_shipment(books: Books, write: Writing, job: int, entry: int | None, sending: Sending) -> None:
    write.add(
        "shipment",
        job=job,
        entry=entry,
        place=sending.place,
        carrier=sending.carrier,
        tracking=sending.tracking,
        insured=sending.insured_cents,
        on_date=books.today.isoformat(),
    )


def read_shipment(books: Books, job: int) -> Sending | None:
    """How a job went home by post at its last pickup, None where somebody fetched it."""
    row = books.row(
        "select * from shipment where job = ?1 and on_date <= ?2 and entry is (select entry from job_event "
        "where job = ?1 and what = 'picked up' and on_date <= ?2 order by id desc limit 1) order by id desc limit 1",
        (job, books.today.isoformat()),
    )
    return None if row is None else Sending(row["place"], row["carrier"], row["tracking"], row["insured"])
