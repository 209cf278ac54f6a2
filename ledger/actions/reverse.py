"""Reverse an entry made in error: its exact mirror, and everything that stood beside it undone with it."""

from __future__ import annotations

from dataclasses import dataclass

from ledger.books.books import Books
from ledger.books.entries import Entry, Sealed, read_entry, reverse
from ledger.books.transaction import Writing
from ledger.errors import NotPossible
from ledger.jobs.job import Job
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
}
# The events that put a job called off by mistake back where it was.
_EVENTS_BACK_TO = {"asked": ("asked",), "booked": ("booked",), "in-hand": ("in",), "ready": ("in", "ready")}


@dataclass(frozen=True)
class ReverseRequest:
    entry: int
    why: str


def perform(books: Books, request: ReverseRequest) -> Sealed:
    """Reverse an entry today. Raises NotFound, and NotPossible where something rests on it, naming what to do."""
    number, reason = request.entry, read_text(request.why, "why", limit=300)
    with books.writing() as write:
        entry = read_entry(books, number)
        job = read_job_to_act(books, entry.job) if entry.job is not None else None
        if entry.reverses is None and entry.reversed_by is None:
            _check_certificates(books, entry)
            if job is not None:
                _check_job(books, entry, job)
        sealed = reverse(books, write, number, reason, books.today)
        for table, amounts in _BESIDE.items():
            _undo_rows(books, write, table, amounts, number, sealed.number)
        if job is not None:
            _undo_events(books, write, entry, job, sealed)
        return sealed


def _check_job(books: Books, entry: Entry, job: Job) -> None:
    """Nothing that happened on the job afterwards may rest on the entry."""
    if entry.kind == "pickup" and job.sale == entry.number:
        _check_pickup(books, entry, job)
    if entry.kind == "deposit" and job.status in ("gone", "called-off"):
        what = "used at the pickup of" if job.status == "gone" else "settled when it called off"
        raise NotPossible(f"The deposit was {what} job {job.id}.", "Undo that first, if it was a mistake too.", "entry")
    recovered = _first_later(books, entry, "'recovery'") if entry.kind == "write-off" else None
    if recovered is not None:
        raise NotPossible(
            f"Money came in on this debt after it was given up, entry {recovered}.",
            "Undo that first, if it was a mistake too.",
            "entry",
        )


def _check_pickup(books: Books, entry: Entry, job: Job) -> None:
    later = _first_later(books, entry, "'payment', 'refund', 'returned payment', 'charge', 'write-off', 'recovery'")
    if later is not None:
        raise NotPossible(
            f"Entry {later} rests on this pickup.",
            f"Undo entry {later} first if it was a mistake too; money given back to the customer is «twopurse refund».",
            "entry",
        )
    paid_out = books.value(
        "select 1 from payout_line join payment on payment.id = payout_line.payment where payment.entry = ? "
        "group by payout_line.payment having sum(payout_line.cents) <> 0",
        (entry.number,),
    )
    was_paid = books.value("select 1 from payment where entry = ? and cents > 0", (entry.number,))
    if paid_out or (was_paid and books.today > entry.on):
        raise NotPossible(
            f"The pickup of job {job.id} was paid on {entry.on}, so it stands.",
            "A payment that came back is «job returned-check», money given back is «refund», wrong tax is «job retax».",
            "entry",
        )


def _check_certificates(books: Books, entry: Entry) -> None:
    """A gift certificate that was used since cannot be unsold."""
    used = books.value(
        "select code from gift_certificate where entry = ? and exists (select 1 from gift_movement "
        "where certificate = gift_certificate.id and entry <> gift_certificate.entry "
        "group by certificate having sum(cents) <> 0)",
        (entry.number,),
    )
    if used is not None:
        raise NotPossible(
            f"Gift certificate {used} was used since.",
            "Undo its use first, if it was a mistake.",
            "entry",
        )


def _first_later(books: Books, entry: Entry, kinds: str) -> int | None:
    """The first entry of those kinds on the job after this one that still stands."""
    found = books.value(
        f"select min(number) from entry where job = ? and number > ? and kind in ({kinds}) "
        "and not exists (select 1 from entry as mirror where mirror.reverses = entry.number)",
        (entry.job, entry.number),
    )
    return None if found is None else int(found)


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
