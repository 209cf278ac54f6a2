"""What sales and the ways they ended leave open: certificates that had run out, debts given up, pieces sent away."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from ledger.books.books import Books
from ledger.money import plain_amount
from ledger.taxes.certificates import newest_certificate
from ledger.taxes.rules import bad_debt_answer, is_taxed_at_destination, rates_on


def sale_questions(books: Books, start: date, end: date) -> tuple[str, ...]:
    """The questions of the days from start to end, both included."""
    return (*_certificates(books, start, end), *_given_up(books, start, end), *_sent_away(books, start, end))


def _certificates(books: Books, start: date, end: date) -> Iterator[str]:
    """Sales to customers whose certificate was not valid on the day, unless their tax was put right since."""
    rows = books.rows(
        "select entry.job, entry.date, entry.who from entry "
        f"where kind = 'pickup' and date between ?1 and ?2 and {_STANDS} "
        "and who in (select party from certificate) "
        "and not exists (select 1 from entry as later where later.job = entry.job and later.kind = 'retax' "
        "and later.number > entry.number and later.date <= ?2) order by entry.number",
        (start.isoformat(), end.isoformat()),
    )
    for row in rows:
        day = date.fromisoformat(row["date"])
        certificate = newest_certificate(books, row["who"], day)
        if certificate is None or certificate.is_valid(day):
            continue
        has_run_out = certificate.expires is not None and certificate.expires < day
        why = f"had run out on {certificate.expires}" if has_run_out else "has no number"
        yield (
            f"Job {row['job']} was picked up on {day} by a customer whose certificate {why}, and was not exempt: "
            "ask for a valid one."
        )


def _given_up(books: Books, start: date, end: date) -> Iterator[str]:
    """Tax of balances given up that she bears, while nobody was asked whether it may be claimed back."""
    borne = books.value(
        "select coalesce(sum(cents), 0) from entry join posting on posting.entry = entry.number "
        "join account on account.id = posting.account "
        f"where entry.kind in ('write-off', 'recovery') and date between ?1 and ?2 and {_STANDS} "
        "and account.role = 'licenses_and_taxes'",
        (start.isoformat(), end.isoformat()),
    )
    if borne > 0 and bad_debt_answer(books, end) is None:
        yield (
            f"Sales tax of {plain_amount(borne, books.currency)} was given up with balances that were not paid: may it "
            "be claimed back? Ask the revenue office."
        )


def _sent_away(books: Books, start: date, end: date) -> Iterator[str]:
    """Places that pieces were sent to without tax, because no rate is entered for them."""
    rows = books.rows(
        "select distinct place, on_date from shipment where place is not null and on_date between ?1 and ?2 "
        "and (entry is null or exists (select 1 from entry where number = shipment.entry and "
        f"{_STANDS})) order by id",
        (start.isoformat(), end.isoformat()),
    )
    days = [(row["place"], date.fromisoformat(row["on_date"])) for row in rows]
    places = [place for place, day in days if is_taxed_at_destination(books, day) and not rates_on(books, day, place)]
    for place in dict.fromkeys(places):
        yield f"A piece was sent to {place} without sales tax: do you have to register there? Ask the revenue office."


# Neither undone by the end of the period nor undoing.
_STANDS = (
    "entry.reverses is null "
    "and not exists (select 1 from entry as mirror where mirror.reverses = entry.number and mirror.date <= ?2)"
)
