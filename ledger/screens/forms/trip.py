"""A trip for the workshop: miles, where, why; and one struck that was never made."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from typing import Any

from ledger.actions import log_trip
from ledger.books.books import Books
from ledger.errors import NotUnderstood
from ledger.money import read_quantity
from ledger.screens.forms.field import Asked
from ledger.screens.forms.form import Form
from ledger.spending.mileage import Trip, read_trips


class TripForm(Form):
    title_words = "A trip for the workshop"

    def asks(self) -> Sequence[Asked]:
        return (
            Asked("miles", "Miles"),
            Asked("where", "Where"),
            Asked("why", "Why", hint="such as to the post"),
            Asked("on", "Date", value="today"),
        )

    def preview(self) -> Sequence[str]:
        note = "A figure for your accountant: nothing is posted, and money taken for mileage is a draw."
        if not self.text("miles"):
            return [note]
        found = log_trip.preview(self.books_on(), self.sound(self._request()))
        known = "" if found.is_known else " (no published rate for that year yet)"
        return [f"{self.showing.amount(found.cents)} at {self.showing.number(found.rate)} cents a mile{known}", note]

    def save(self) -> str:
        request = self._request()
        trip = log_trip.perform(self.books_on(), self.sound(request))
        return f"Trip {trip}: {self.showing.number(request.miles)} miles."

    def _request(self) -> log_trip.TripRequest:
        miles = self.read("miles", lambda text: read_quantity(text, "miles"), Decimal(1))
        return log_trip.TripRequest(miles, self.text("where"), self.text("why"))


class StrikeTripForm(Form):
    """A trip that was never made; the log still shows that it was there."""

    title_words = "Strike a trip"

    def __init__(self, books: Books, subject: Any) -> None:
        super().__init__(books)
        self.trip = str(subject.id) if isinstance(subject, Trip) else ""

    def asks(self) -> Sequence[Asked]:
        return (Asked("trip", "Trip", self.trip, hint="its number in the log"),)

    def preview(self) -> Sequence[str]:
        trips = read_trips(self.books, self.books.settings.begun_on, self.books.today)
        found = next((each for each in trips if str(each.id) == self.text("trip")), None)
        if found is None:
            return []
        return [f"{self.showing.day(found.day)}: {self.showing.number(found.miles)} miles, {found.place}, {found.why}"]

    def save(self) -> str:
        typed = self.text("trip")
        if not (typed.isascii() and typed.isdigit() and len(typed) <= 12):
            raise NotUnderstood("This is no number of a trip.", "See the list of trips.", "trip")
        log_trip.strike(self.books, log_trip.StrikeRequest(int(typed)))
        return f"Trip {typed} is struck."
