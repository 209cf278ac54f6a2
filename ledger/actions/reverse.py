"""Reverse an entry made in error: its exact mirror, and everything that stood beside it undone with it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from ledger.actions.what_rests import check_job_holds, check_nothing_rests
from ledger.books.before_books import OPENING
from ledger.books.books import Books
from ledger.books.entries import (
    Entry,
    Sealed,
    check_can_be_reversed,
    check_date,
    closed_through,
    read_entry,
    reverse,
)
from ledger.books.transaction import Writing
from ledger.jobs.job import Job
from ledger.jobs.owed import NOTHING, owe
from ledger.jobs.records import add_event, read_job_to_act, status_before_calling_off
from ledger.text import read_text

# What stands beside an entry and is undone by a row with its sign turned.
_BESIDE = {
    "owed_part": ("charge", "tax"),
    "payment": ("cents", "fee"),
    "untaxed_stock": ("cents",),
    "machine_cost": ("cents",),
    "gift_movement": ("cents",),
    "barter": ("cents",),
    "payout_line": ("cents",),
    "bill_payment": ("cents",),
    "stock_use": ("cents",),
    "use_tax_line": ("base", "cents"),
    "untaxed_purchase": ("cents",),
}
# The events that put a job called off by mistake back where it was.
_EVENTS_BACK_TO = {"asked": ("asked",), "booked": ("booked",), "in-hand": ("in",), "ready": ("in", "ready")}


@dataclass(frozen=True)
class ReverseRequest:
    entry: int
    why: str


def check(books: Books, number: int) -> tuple[Entry, Job | None]:
    """The entry with its job, once nothing stands in the way of undoing it today. Raises NotFound, NotPossible."""
    check_date(books, books.today)
    entry = read_entry(books, number)
    job = read_job_to_act(books, entry.job) if entry.job is not None else None
    check_can_be_reversed(entry, books.today)
    check_nothing_rests(books, entry, job)
    if job is not None:
        check_job_holds(books, entry, job)
    return entry, job


def perform(books: Books, request: ReverseRequest) -> Sealed:
    """Reverse an entry. Raises NotFound, and NotPossible where something rests on it, naming what to do."""
    number, reason = request.entry, read_text(request.why, "why", limit=300)
    with books.writing() as write:
        entry, job = check(books, number)
        sealed = reverse(books, write, number, reason, _day_of(books, entry))
        for table, amounts in _BESIDE.items():
            _undo_rows(books, write, table, amounts, number, sealed.number)
        if job is not None:
            _undo_events(books, write, entry, job, sealed)
            owe(books, write, sealed.number, job.id, NOTHING)
        return sealed


def _day_of(books: Books, entry: Entry) -> date:
    """Today; but what never stood there when the books began goes on its own day, unless that is closed."""
    closed = closed_through(books)
    is_open = closed is None or entry.on > closed
    return entry.on if entry.kind == OPENING and is_open else books.today


def _undo_events(books: Books, write: Writing, entry: Entry, job: Job, sealed: Sealed) -> None:
    if entry.kind == "pickup":
        add_event(books, write, job.id, "pickup undone", sealed.number)
    if entry.kind == "called off":
        for event in _EVENTS_BACK_TO[status_before_calling_off(books, job.id)]:
            add_event(books, write, job.id, event, sealed.number)


def _undo_rows(books: Books, write: Writing, table: str, amounts: tuple[str, ...], number: int, mirror: int) -> None:
    for row in books.rows(f"select * from {table} where entry = ? order by id", (number,)):
        values = {name: value for name, value in dict(row).items() if name != "id"}
        values |= {name: -row[name] for name in amounts}
        write.add(table, **(values | {"entry": mirror}))
