"""What she said of her own tax returns, year by year, and what was paid towards them.

Each thing said is a dated row of `choice`, so that it can be said anew; the latest by a day holds. A payment is a row
beside its entry, and one whose entry was undone no longer counts.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import cast

from ledger.books.before_books import read_year_before
from ledger.books.books import Books
from ledger.books.settings import choose, chosen
from ledger.books.transaction import Writing
from ledger.errors import NotPossible
from ledger.money import plain_amount, read_amount
from ledger.taxes.estimated_tax import LastYear
from ledger.taxes.self_employment import FilingStatus

_STATUS = "filing status"
_BY_LAST_YEAR = "income tax by last year"
_DUE_WITHIN = "due soon days"
USUAL_DUE_WITHIN_DAYS = 30
MOST_DUE_WITHIN_DAYS = 366


@dataclass(frozen=True)
class Payment:
    """A payment of her own income and self-employment tax. period: 1 to 4, None with the return. cents: above zero.

    entry: None for what was paid before the books.
    """

    entry: int | None
    day: date
    tax_year: int
    period: int | None
    cents: int
    text: str


def keep_payment(write: Writing, entry: int, tax_year: int, period: int | None, cents: int) -> None:
    write.add("estimated_payment", entry=entry, tax_year=tax_year, period=period, cents=cents)


def read_payments(books: Books, tax_year: int, on: date) -> tuple[Payment, ...]:
    """The payments for a tax year that stand at the end of a day, from either purse."""
    rows = books.rows(
        "select estimated_payment.*, date, text from estimated_payment "
        "join entry on entry.number = estimated_payment.entry where tax_year = ?1 and date <= ?2 "
        "and not exists (select 1 from entry as mirror where mirror.reverses = entry.number and mirror.date <= ?2) "
        "order by estimated_payment.id",
        (tax_year, on.isoformat()),
    )
    begun_on = books.settings.begun_on
    before = (
        Payment(None, begun_on, tax_year, each.period, each.cents, f"period {each.period}, before these books")
        for each in read_year_before(books, tax_year).estimated
    )
    booked = (
        Payment(
            row["entry"], date.fromisoformat(row["date"]), row["tax_year"], row["period"], row["cents"], row["text"]
        )
        for row in rows
    )
    return (*before, *booked)


def say_total_tax(
    books: Books, write: Writing, tax_year: int, cents: int, *, high_income: bool, part_year: bool
) -> None:
    """What the whole return of a year came to, and the two things that the safe-harbour rule asks about it."""
    check_year_over(books, tax_year)
    _say(books, write, f"total tax {tax_year}", plain_amount(cents, books.currency))
    _say(books, write, f"high income {tax_year}", "yes" if high_income else "no")
    _say(books, write, f"part year {tax_year}", "yes" if part_year else "no")


def total_tax(books: Books, tax_year: int, on: date) -> LastYear | None:
    """What the return of a year came to, None where she has not said it."""
    said = chosen(books, f"total tax {tax_year}", on)
    if not said:
        return None
    return LastYear(
        read_amount(said, books.currency, zero=True),
        has_high_income=chosen(books, f"high income {tax_year}", on) == "yes",
        is_twelve_months=chosen(books, f"part year {tax_year}", on) != "yes",
    )


def say_wages(books: Books, write: Writing, tax_year: int, wages_cents: int, withheld_cents: int) -> None:
    """Her own wages elsewhere in a year, and what of them is withheld towards her own taxes."""
    _say(books, write, f"wages {tax_year}", plain_amount(wages_cents, books.currency))
    _say(books, write, f"withheld {tax_year}", plain_amount(withheld_cents, books.currency))


def wages_cents(books: Books, tax_year: int, on: date) -> int:
    return _amount(books, f"wages {tax_year}", on)


def withheld_cents(books: Books, tax_year: int, on: date) -> int:
    return _amount(books, f"withheld {tax_year}", on)


def say_filing_status(books: Books, write: Writing, status: FilingStatus) -> None:
    _say(books, write, _STATUS, status)


def filing_status(books: Books, on: date) -> FilingStatus | None:
    return cast("FilingStatus | None", chosen(books, _STATUS, on))


def say_settled(books: Books, write: Writing, tax_year: int, *, settled: bool) -> None:
    """Whether a year's return is filed and paid. Raises NotPossible for a year that is not over."""
    check_year_over(books, tax_year)
    _say(books, write, f"return settled {tax_year}", "yes" if settled else "no")


def is_settled(books: Books, tax_year: int, on: date) -> bool:
    return chosen(books, f"return settled {tax_year}", on) == "yes"


def go_by_last_year(books: Books, write: Writing, asked: str | None, *, wanted: bool) -> None:
    """Whether to keep income tax back by last year's total tax, where no percentage holds."""
    choose(write, _BY_LAST_YEAR, "yes" if wanted else "no", books.today, books.today, asked)


def goes_by_last_year(books: Books, on: date) -> bool:
    """Last year's tax is gone by as soon as it is known, unless she said otherwise; a percentage comes before it."""
    return chosen(books, _BY_LAST_YEAR, on) != "no"


def say_due_within(books: Books, write: Writing, days: int) -> None:
    """How many days ahead a bill counts as owed. Raises NotPossible beyond a year."""
    if not 0 <= days <= MOST_DUE_WITHIN_DAYS:
        raise NotPossible(f"{days} days are not within a year.", f"Give 0 to {MOST_DUE_WITHIN_DAYS} days.", "days")
    _say(books, write, _DUE_WITHIN, str(days))


def due_within_days(books: Books, on: date) -> int:
    said = chosen(books, _DUE_WITHIN, on)
    return USUAL_DUE_WITHIN_DAYS if said is None else int(said)


def check_year_over(books: Books, tax_year: int) -> None:
    if tax_year >= books.today.year:
        raise NotPossible(
            f"The tax year {tax_year} is not over on {books.today}.", "Say it once its return is made.", "year"
        )


def _amount(books: Books, key: str, on: date) -> int:
    said = chosen(books, key, on)
    return read_amount(said, books.currency, zero=True) if said else 0


def _say(books: Books, write: Writing, key: str, value: str) -> None:
    choose(write, key, value, books.today, books.today)
