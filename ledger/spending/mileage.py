"""The mileage log: date, where, why, miles, and what they come to at the published rate of each day.

The log and its deduction are figures for the accountant: nothing is posted, and no money moves. What a log should hold:
IRS Publication 463, chapter 5 (from memory).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from fractions import Fraction

from ledger.books.books import Books
from ledger.books.entries import check_date
from ledger.books.transaction import Writing
from ledger.errors import NotFound, NotPossible
from ledger.figures.look_up import latest_figure
from ledger.money import plain_decimal, round_half_up
from ledger.text import read_text

RATE = "business_mileage_rate"


@dataclass(frozen=True)
class Trip:
    id: int
    day: date
    miles: Decimal
    place: str
    why: str


@dataclass(frozen=True)
class RatedTrips:
    """Trips at one published rate. rate: US cents a mile. cents: what they come to, rounded once.

    is_known: the rate was published for that time; else the last one known is used.
    """

    rate: Decimal
    miles: Decimal
    cents: int
    is_known: bool


def add_trip(books: Books, write: Writing, miles: Decimal, place: str, why: str) -> int:
    """The number of the trip. Raises NotUnderstood for text that says nothing, NotPossible in a closed period."""
    check_date(books, books.today)
    return write.add(
        "mileage",
        on_date=books.today.isoformat(),
        miles=plain_decimal(miles),
        place=read_text(place, "where"),
        why=read_text(why, "why"),
        takes_back=None,
    )


def take_trip_back(books: Books, write: Writing, trip: int) -> None:
    """Strike a trip that was never made. Raises NotFound, and NotPossible where it is struck, or its period closed."""
    row = books.row("select * from mileage where id = ? and takes_back is null", (trip,))
    if row is None:
        raise NotFound(f"There is no trip {trip}.", "See them with «twopurse mileage list».", "trip")
    if books.value("select 1 from mileage where takes_back = ?", (trip,)):
        raise NotPossible(f"Trip {trip} is struck already.", "There is nothing left to strike.", "trip")
    check_date(books, date.fromisoformat(row["on_date"]), "trip")
    values = {name: row[name] for name in ("on_date", "miles", "place", "why")}
    write.add("mileage", **values, takes_back=trip)


def read_trips(books: Books, start: date, end: date) -> tuple[Trip, ...]:
    """The trips of the days from start to end, both included, without those that were struck."""
    rows = books.rows(
        "select * from mileage where takes_back is null and on_date between ? and ? "
        "and id not in (select takes_back from mileage where takes_back is not null) order by on_date, id",
        (start.isoformat(), end.isoformat()),
    )
    return tuple(
        Trip(row["id"], date.fromisoformat(row["on_date"]), Decimal(row["miles"]), row["place"], row["why"])
        for row in rows
    )


def rated(trips: Sequence[Trip]) -> tuple[RatedTrips, ...]:
    """Trips by the rate of their day, in the order of the rates: a year can have two (2022 had)."""
    sums: dict[tuple[Decimal, bool], Decimal] = {}
    for each in trips:
        figure = latest_figure(RATE, each.day, asked_by="the mileage log")
        key = (figure.value, not figure.beyond_known)
        sums[key] = sums.get(key, Decimal(0)) + each.miles
    return tuple(
        RatedTrips(rate, miles, round_half_up(Fraction(miles) * Fraction(rate)), is_known)
        for (rate, is_known), miles in sums.items()
    )
