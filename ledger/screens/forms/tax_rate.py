"""A rate of sales tax, from a day on."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from decimal import Decimal

from ledger.actions import set_rate
from ledger.books.books import Books
from ledger.money import read_percent
from ledger.screens.forms.field import Asked
from ledger.screens.forms.form import Form
from ledger.screens.reading import typed_future_date, with_points
from ledger.taxes.rules import rates_on
from ledger.taxes.sales_tax import LEVELS

_ADDED_UP = "Rates in force are added up. Ask your state's revenue office which hold at your address."


class TaxRateForm(Form):
    """Who levies it, how much, and from which day."""

    title_words = "Sales tax rate"

    def __init__(self, books: Books) -> None:
        super().__init__(books)
        self.in_force = rates_on(books, books.today)

    def asks(self) -> Sequence[Asked]:
        known = dict.fromkeys((*(each.jurisdiction for each in self.in_force), *LEVELS))
        return (
            Asked("name", "Who levies it", hint="such as state", known=tuple(known)),
            Asked("percent", "Percent", hint="such as 4.3"),
            Asked("from", "From", value="today"),
            Asked("place", "For a place", hint="only where taxed there"),
        )

    def preview(self) -> Sequence[str]:
        now = ", ".join(f"{each.jurisdiction} {self.showing.percent(each.percent)}" for each in self.in_force)
        told = [f"In force today: {now or 'no rate'}.", _ADDED_UP]
        if self.text("name") or self.text("percent"):
            self.sound(self._request())
        return told

    def save(self) -> str:
        request = self.sound(self._request())
        set_rate.perform(self.books, request)
        return f"{request.name}: {self.showing.percent(request.percent)} from {self.showing.day(request.from_date)}."

    def _request(self) -> set_rate.RateRequest:
        return set_rate.RateRequest(
            name=self.text("name"),
            percent=self.read("percent", self._percent, Decimal(0)),
            from_date=self.read("from", self._from, self.books.today),
            place=self.text_or_none("place"),
        )

    def _percent(self, text: str) -> Decimal:
        return read_percent(with_points(text, self.books.settings.locale).removesuffix("%").strip(), "percent")

    def _from(self, text: str) -> date:
        return typed_future_date(text, self.books.today, self.books.settings.locale, "from")
