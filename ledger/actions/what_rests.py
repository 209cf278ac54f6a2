"""What rests on an entry, so that it can no longer be undone by its mirror: each refusal names what to do instead."""

from __future__ import annotations

from ledger.books.books import Books
from ledger.books.entries import Entry, closed_through
from ledger.errors import NotPossible
from ledger.jobs.job import Job
from ledger.jobs.owed import read_owed
from ledger.taxes.returns import check_not_filed
from ledger.taxes.untaxed_stock_records import check_not_used

# What on a job comes after its pickup and counts on it.
_AFTER_PICKUP = ("payment", "refund", "returned payment", "charge", "write-off", "recovery", "retax", "deposit back")
# What came on the job after an entry of a kind and was worked out from it.
_RESTS_ON = {"pickup": _AFTER_PICKUP, "write-off": ("recovery",), "retax": ("refund", "retax", "write-off")}
_STANDS = "not exists (select 1 from entry as mirror where mirror.reverses = {entry})"
_UNDO_FIRST = "Undo entry {} first, if it was a mistake too."


def check_nothing_rests(books: Books, entry: Entry, job: Job | None) -> None:
    """Raises NotPossible where something that happened since rests on an entry that is about to be undone."""
    _check_certificates(books, entry)
    check_not_used(books, entry.number)
    check_not_filed(books, entry)
    _check_loan(books, entry)
    if job is not None:
        _check_job(books, entry, job)
    _check_payments(books, entry)
    if job is not None and entry.kind == "pickup" and job.sale == entry.number:
        _check_pickup(books, entry, job)


def check_job_holds(books: Books, entry: Entry, job: Job) -> None:
    """Without it a job neither owes nor holds less than nothing. Raises NotPossible."""
    owed = books.value("select coalesce(sum(charge + tax), 0) from owed_part where entry = ?", (entry.number,))
    held = -sum(each.cents for each in entry.postings if each.account.role == "customer_deposits")
    if read_owed(books, job.id).cents >= owed and job.deposit_cents >= held:
        return
    later = _last_later(books, entry)
    raise NotPossible(
        f"What entry {entry.number} put on job {job.id} was paid, given back or given up since.",
        _UNDO_FIRST.format(later) if later is not None else f"See «twopurse entries --job {job.id}».",
        "entry",
    )


def _check_job(books: Books, entry: Entry, job: Job) -> None:
    if entry.kind == "deposit" and job.status in ("gone", "called-off"):
        what = "used at the pickup of" if job.status == "gone" else "settled when it called off"
        raise NotPossible(f"The deposit was {what} job {job.id}.", "Undo that first, if it was a mistake too.", "entry")
    later = _first_later(books, entry, _RESTS_ON.get(entry.kind, ()))
    if later is not None and entry.kind == "write-off":
        raise NotPossible(
            f"Money came in on this debt after it was given up, entry {later}.", _UNDO_FIRST.format(later), "entry"
        )
    if later is not None:
        raise NotPossible(
            f"Entry {later} rests on this {entry.kind}.",
            f"Undo entry {later} first if it was a mistake too; money given back to the customer is «twopurse refund».",
            "entry",
        )


def _check_payments(books: Books, entry: Entry) -> None:
    """Money that the bank or the card company has moved on is not undone by a mirror."""
    came_back = books.value(
        "select returned_payment.entry from returned_payment join payment on payment.id = returned_payment.payment "
        f"where payment.entry = ? and {_STANDS.format(entry='returned_payment.entry')}",
        (entry.number,),
    )
    if came_back is not None:
        raise NotPossible(
            f"The payment of entry {entry.number} came back with entry {came_back}.",
            _UNDO_FIRST.format(came_back),
            "entry",
        )
    payout = books.value(
        "select min(payout_line.entry) from payout_line join payment on payment.id = payout_line.payment "
        f"where payment.entry = ? and payout_line.entry not in (select number from entry where reverses is not null) "
        f"and {_STANDS.format(entry='payout_line.entry')}",
        (entry.number,),
    )
    if payout is not None:
        of_job = "Charged back it is «twopurse job returned-check --card», money given back is «twopurse refund»."
        raise NotPossible(
            f"The card payment of entry {entry.number} was paid out with entry {payout}.",
            of_job if entry.job is not None else _UNDO_FIRST.format(payout),
            "entry",
        )


def _check_pickup(books: Books, entry: Entry, job: Job) -> None:
    was_paid = books.value("select 1 from payment where entry = ? and cents > 0", (entry.number,))
    if was_paid and books.today > entry.on:
        raise NotPossible(
            f"The pickup of job {job.id} was paid on {entry.on}, so it stands.",
            "A payment that came back is «twopurse job returned-check», money given back is «twopurse refund», "
            "wrong tax is «twopurse job retax».",
            "entry",
        )
    closed = closed_through(books)
    if closed is not None and entry.on <= closed:
        raise NotPossible(
            f"The pickup of job {job.id} lies in a period that was closed through {closed}, so it stands.",
            "What is owed on it is taken off with «twopurse refund --paid owed», wrong tax is «twopurse job retax».",
            "entry",
        )


def _check_certificates(books: Books, entry: Entry) -> None:
    """A gift certificate that was used since cannot be unsold."""
    used = books.value(
        "select code from gift_certificate join gift_movement as put on put.certificate = gift_certificate.id "
        "where put.entry = ? and put.cents > 0 and (select sum(cents) from gift_movement "
        "where certificate = gift_certificate.id) < put.cents",
        (entry.number,),
    )
    if used is not None:
        raise NotPossible(
            f"Gift certificate {used} was used since.",
            "Undo its use first, if it was a mistake.",
            "entry",
        )


def _check_loan(books: Books, entry: Entry) -> None:
    """A loan on which something was paid stands."""
    paid = books.value(
        "select max(loan_event.entry) from loan_event join loan on loan.id = loan_event.loan "
        f"where loan.entry = ? and {_STANDS.format(entry='loan_event.entry')}",
        (entry.number,),
    )
    if paid is not None:
        raise NotPossible(f"A payment was made on this loan with entry {paid}.", _UNDO_FIRST.format(paid), "entry")


def _first_later(books: Books, entry: Entry, kinds: tuple[str, ...]) -> int | None:
    """The first entry of those kinds on the job after this one that still stands."""
    places = ", ".join("?" for _ in kinds)
    found = books.value(
        f"select min(number) from entry where job = ? and number > ? and kind in ({places}) "
        f"and {_STANDS.format(entry='entry.number')}",
        (entry.job, entry.number, *kinds),
    )
    return None if found is None else int(found)


def _last_later(books: Books, entry: Entry) -> int | None:
    """The last entry on the job after this one that still stands and took off what is owed or held."""
    found = books.value(
        "select max(number) from entry join posting on posting.entry = number join account on account.id = account "
        "where job = ?1 and number > ?2 and entry.reverses is null "
        f"and {_STANDS.format(entry='entry.number')} "
        "and ((role = 'owed_by_customers' and cents < 0) or (role = 'customer_deposits' and cents > 0))",
        (entry.job, entry.number),
    )
    return None if found is None else int(found)
