"""Log a trip for the workshop. Nothing is posted: it is a figure for the accountant."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from ledger.books.books import Books
from ledger.spending.mileage import RatedTrips, Trip, add_trip, rated, take_trip_back


@dataclass(frozen=True)
class TripRequest:
    miles: Decimal
    place: str
    why: str


@dataclass(frozen=True)
class StrikeRequest:
    """trip: its number in the log."""

    trip: int


def preview(books: Books, request: TripRequest) -> RatedTrips:
    """What the trip comes to at the rate of its day."""
    return rated([Trip(0, books.today, request.miles, request.place, request.why)])[0]


def perform(books: Books, request: TripRequest) -> int:
    """The number of the trip. Raises NotUnderstood for text that says nothing."""
    with books.writing() as write:
        return add_trip(books, write, request.miles, request.place, request.why)


def strike(books: Books, request: StrikeRequest) -> None:
    """Strike a trip that was never made. Raises NotFound, and NotPossible where it is struck already."""
    with books.writing() as write:
        take_trip_back(books, write, request.trip)
