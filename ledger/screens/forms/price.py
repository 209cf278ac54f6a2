"""A price put on the list, from a day on."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from decimal import Decimal

from ledger.actions import set_price
from ledger.jobs.pricing import MEASURES, Measure
from ledger.money import read_rate
from ledger.screens.forms.field import Asked
from ledger.screens.forms.form import Form
from ledger.screens.reading import typed_future_date, with_points
from ledger.taxes.rules import known_classes

_MEASURED: dict[Measure, str] = {
    "area": "By area: width times length of the piece. The price is that of one sq {units}.",
    "length": "By length: the way round the piece, such as a binding. The price is that of one {units}.",
    "inch": "By {units} off the roll: the longer side, and for a batting the usual allowance.",
    "yard": "By yard off the roll: the longer side, and for a batting the usual allowance.",
    "hour": "By the hour: each job says how many.",
    "each": "Each: as many as the job says, else one.",
    "flat": "Flat: one price for the piece.",
}
_QUOTED = "Jobs keep the prices they were quoted. Whether a class is taxed, your state's answer in Set-up says."
_HOW = "How is it measured?"


class PriceForm(Form):
    """What it is called, how it is measured, the price of one, and its class for the sales tax."""

    title_words = "Price"

    def asks(self) -> Sequence[Asked]:
        return (
            Asked("name", "Called", hint="such as edge-to-edge"),
            Asked("by", "Measured by", hint="such as area", known=MEASURES, only_known=True),
            Asked("rate", "Price of one", hint="such as 0.02"),
            Asked("class", "Class", hint="such as work", known=known_classes(self.books), only_known=True),
            Asked("minimum", "At least", hint="if empty: no minimum"),
            Asked("allowance", "Allowance", hint="if empty: the usual"),
            Asked("includes_tax", "Tax in it?", hint="yes where it is"),
            Asked("from", "From", value="today"),
        )

    def preview(self) -> Sequence[str]:
        if not self.text("by"):
            return ["Measured by " + ", ".join(MEASURES) + "."]
        measured = _MEASURED[self.choice("by", MEASURES, _HOW)]
        told = [measured.format(units=self.books.settings.units), _QUOTED]
        if self.text("name") and self.text("rate") and self.text("class"):
            set_price.preview(self.books, self.sound(self._request()))
        self.sound(None)
        return told

    def save(self) -> str:
        price = set_price.perform(self.books, self.sound(self._request()))
        rate = self.showing.number(price.rate)
        return f"{price.name}: {rate} by {price.by}, {price.class_name}, from {self.showing.day(price.from_date)}."

    def _request(self) -> set_price.PriceRequest:
        return set_price.PriceRequest(
            name=self.text("name"),
            by=self.choice("by", MEASURES, _HOW),
            rate=self.read("rate", lambda text: self._number(text, "rate"), Decimal(0)),
            class_name=self.text("class"),
            minimum_cents=self.amount("minimum", zero=True),
            allowance=self.read("allowance", lambda text: self._number(text, "allowance") if text else None, None),
            includes_tax=bool(self.text("includes_tax"))
            and self.choice("includes_tax", ("yes", "no"), "Is the sales tax in it?") == "yes",
            from_date=self.read("from", self._from, self.books.today),
        )

    def _number(self, text: str, name: str) -> Decimal:
        return read_rate(with_points(text, self.books.settings.locale), name)

    def _from(self, text: str) -> date:
        return typed_future_date(text, self.books.today, self.books.settings.locale, "from")
