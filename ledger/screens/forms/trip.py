"""A trip for the workshop: miles, where, why."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

from ledger.actions import log_trip
from ledger.money import read_quantity
from ledger.screens.forms.field import Asked
from ledger.screens.forms.form import Form


class TripForm(Form):
    title_words = "A trip for the workshop"

    def asks(self) -> Sequence[Asked]:
        return (
            Asked("miles", "Miles"),
            Asked("where", "Where"),
            Asked("why", "Why", hint="to post a quilt"),
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
