"""People who were paid to help (binding, backings): how much in a year, and whether a return about it may be due."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from ledger.books.balances import read_accounts
from ledger.books.books import Books
from ledger.books.parties import read_party
from ledger.books.transaction import Writing
from ledger.figures.look_up import latest_figure
from ledger.text import read_text

THRESHOLD = "contractor_payments_reported_from"


@dataclass(frozen=True)
class PersonPaid:
    """cents: paid in the year. tax_form: what she has of them, such as a W-9; None where she has nothing."""

    name: str
    cents: int
    tax_form: str | None


@dataclass(frozen=True)
class Threshold:
    """From how much on a return may be due, in whole dollars; is_known: published for that year."""

    dollars: Decimal
    is_known: bool


def keep_tax_form(books: Books, write: Writing, party: int, tax_form: str) -> None:
    write.add("helper", party=party, tax_form=read_text(tax_form, "form"), on_date=books.today.isoformat())


def read_people_paid(books: Books, year: int) -> tuple[PersonPaid, ...]:
    """Everyone paid under the category of paid helpers in a calendar year, the most first."""
    category = read_accounts(books)["paid_helpers"]
    rows = books.rows(
        "select entry.who, sum(posting.cents) as paid from posting join entry on entry.number = posting.entry "
        "where posting.account = ? and entry.who is not null and entry.date between ? and ? "
        "group by entry.who having sum(posting.cents) <> 0 order by paid desc, entry.who",
        (category.id, f"{year}-01-01", min(date(year, 12, 31), books.today).isoformat()),
    )
    return tuple(
        PersonPaid(read_party(books, row["who"]).name, row["paid"], _tax_form(books, row["who"])) for row in rows
    )


def threshold(year: int) -> Threshold:
    """The published threshold of a year, or the last one known. Raises FigureNotKnown before the first."""
    figure = latest_figure(THRESHOLD, date(year, 12, 31), asked_by="the paid helpers")
    return Threshold(figure.value, not figure.beyond_known)


def _tax_form(books: Books, party: int) -> str | None:
    form = books.value("select tax_form from helper where party = ? order by id desc limit 1", (party,))
    return None if form is None else str(form)
