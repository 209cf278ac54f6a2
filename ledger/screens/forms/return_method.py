"""Stock that was counted, and what her accountant chose for the return."""

from __future__ import annotations

from collections.abc import Sequence

from ledger.actions import choose_method, count_stock
from ledger.books.books import Books
from ledger.results.home import METHODS
from ledger.results.method import read_method
from ledger.screens.forms.field import Asked
from ledger.screens.forms.form import Form

_YES_NO = ("no", "yes")
_LAID_ON = ("buyer", "seller")


class StockForm(Form):
    """What all of it cost, and the day of the count."""

    title_words = "Count stock"

    def asks(self) -> Sequence[Asked]:
        return (Asked("amount", "At cost"), Asked("on", "Counted on", value="today"))

    def preview(self) -> Sequence[str]:
        self.sound(self.books_on())
        return ["Batting, backing and thread that you have, at what you paid. Nothing is posted.", _ASK]

    def save(self) -> str:
        books = self.books_on()
        count_stock.perform(books, self.sound(count_stock.StockRequest(self.amount("amount", zero=True))))
        return f"Stock counted on {self.showing.day(books.today)}."


class ReturnMethodForm(Form):
    """The home, cost of goods sold, whose tax the sales tax is, and who said so."""

    title_words = "For the return"

    def __init__(self, books: Books) -> None:
        super().__init__(books)
        self.held = read_method(books, books.today)

    def asks(self) -> Sequence[Asked]:
        goods = "yes" if self.held.wants_cost_of_goods else "no"
        return (
            Asked("home", "The home", self.held.home or "", ", ".join(METHODS), METHODS, only_known=True),
            Asked("figure", "Figure of the year", hint="with «figure» alone"),
            Asked("goods", "Cost of goods sold", goods, known=_YES_NO, only_known=True),
            Asked("tax_laid_on", "Sales tax laid on", self.held.tax_laid_on, known=_LAID_ON, only_known=True),
            Asked("asked", "Who chose it", hint="such as accountant"),
        )

    def preview(self) -> Sequence[str]:
        self.sound(self._request())
        return [
            "Simplified: a published rate for each square foot. Booked: the shares of the bills of the home.",
            "They hold from the beginning of this tax year. Nothing is posted.",
            _ASK,
        ]

    def save(self) -> str:
        choose_method.perform(self.books, self.sound(self._request()))
        return "Kept, from the beginning of this tax year on."

    def _request(self) -> choose_method.MethodRequest:
        wants_goods = self.choice("goods", _YES_NO, "Is a cost of goods sold wanted?") == "yes"
        laid_on = self.choice("tax_laid_on", _LAID_ON, "On whom is it laid?")
        home = self.choice("home", METHODS, "Which method?") if self.text("home") else None
        return choose_method.MethodRequest(
            asked=self.words("asked", limit=120) or "accountant",
            home=home,
            figure=self.text_or_none("figure"),
            cost_of_goods=wants_goods if wants_goods != self.held.wants_cost_of_goods else None,
            tax_laid_on=laid_on if laid_on != self.held.tax_laid_on else None,
        )


_ASK = "Your accountant decides."
