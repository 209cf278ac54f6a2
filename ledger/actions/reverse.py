"""Reverse an entry made in error: its exact mirror, and everything that stood beside it undone with it."""

from __future__ import annotations

from dataclasses import dataclass

from ledger.books.books import Books
from ledger.books.entries import Entry, Sealed, read_entry, reverse
from ledger.books.transaction import Writing
from ledger.errors import NotPossible
from ledger.jobs.records import add_event, read_job_to_act
from ledger.text import read_text

# What stands beside an entry and is undone by a row with its sign turned.
_BESIDE = {
    "owed_part": ("charge", "tax"),
    "payment": ("cents", "fee"),
    "untaxed_stock": ("cents",),
    "machine_cost": ("cents",),
}


@dataclass(frozen=True)
class ReverseRequest:
    entry: int
    why: str


def perform(books: Books, request: ReverseRequest) -> Sealed:
    """Reverse an entry today. Raises NotFound, NotPossible: reversed already, or a sale paid for afterwards."""
    number, reason = request.entry, read_text(request.why, "why", limit=300)
    with books.writing() as write:
        entry = read_entry(books, number)
        if entry.job is not None:
            _check_job(books, entry)
        sealed = reverse(books, write, number, reason, books.today)
        for table, amounts in _BESIDE.items():
            _undo_rows(books, write, table, amounts, number, sealed.number)
        if entry.kind == "pickup" and entry.job is not None:
            add_event(books, write, entry.job, "pickup undone", sealed.number)
        return sealed


def _check_job(books: Books, entry: Entry) -> None:
    assert entry.job is not None
    job = read_job_to_act(books, entry.job)
    if entry.kind == "pickup" and job.sale == entry.number:
        later = books.value(
            "select min(number) from entry where job = ? and number > ? and kind in ('payment', 'refund') "
            "and not exists (select 1 from entry as mirror where mirror.reverses = entry.number)",
            (entry.job, entry.number),
        )
        if later is not None:
            raise NotPossible(
                f"Entry {later} took money for this pickup afterwards.",
                f"Reverse entry {later} first if it was a mistake too; money handed back to the customer is a refund.",
                "entry",
            )
    if entry.kind == "deposit" and job.status == "gone":
        raise NotPossible(
            f"The deposit was used at the pickup of job {job.id}, entry {job.sale}.",
            f"Reverse entry {job.sale} first if the pickup was a mistake too.",
            "entry",
        )


def _undo_rows(books: Books, write: Writing, table: str, amounts: tuple[str, ...], number: int, mirror: int) -> None:
    for row in books.rows(f"select * from {table} where entry = ? order by id", (number,)):
        values = {name: value for name, value in dict(row).items() if name != "id"}
        values |= {name: -row[name] for name in amounts}
        write.add(table, **(values | {"entry": mirror}))
