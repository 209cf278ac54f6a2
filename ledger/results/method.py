"""What her accountant chose for the figures of the return, kept as dated choices with whom she asked."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Final, Literal

from ledger.books.books import Books
from ledger.books.settings import choose, chosen
from ledger.books.transaction import Writing
from ledger.errors import NotUnderstood
from ledger.money import plain_amount, read_amount
from ledger.results.home import METHODS, Method

HOME_METHOD: Final = "home cost method"
HOME_FIGURE: Final = "home cost of the year"
COST_OF_GOODS: Final = "cost of goods sold"
TAX_LAID_ON: Final = "sales tax is laid on"
LaidOn = Literal["buyer", "seller"]


@dataclass(frozen=True)
class ReturnMethod:
    """home: None while nobody was asked. home_figure_cents: her accountant's, for the year.

    tax_laid_on: the seller's tax is a receipt and an expense, the buyer's is neither.
    """

    home: Method | None
    home_figure_cents: int
    wants_cost_of_goods: bool
    tax_laid_on: LaidOn


def read_method(books: Books, on: date) -> ReturnMethod:
    """The choices in force on a day."""
    home = chosen(books, HOME_METHOD, on)
    figure = chosen(books, HOME_FIGURE, on)
    return ReturnMethod(
        home=next((each for each in METHODS if each == home), None),
        home_figure_cents=read_amount(figure, books.currency) if figure else 0,
        wants_cost_of_goods=chosen(books, COST_OF_GOODS, on) == "yes",
        tax_laid_on="seller" if chosen(books, TAX_LAID_ON, on) == "seller" else "buyer",
    )


def keep_home_method(books: Books, write: Writing, method: str, figure: str | None, asked: str, since: date) -> None:
    """How the home's part is worked out from a day on. Raises NotUnderstood."""
    cents = read_amount(figure, books.currency, "figure") if figure is not None else 0
    if (method == "figure") != (figure is not None):
        raise NotUnderstood(
            "An accountant's figure for the year goes with the method «figure».",
            "Give both, or another method alone.",
            "figure",
        )
    if method not in METHODS:
        raise NotUnderstood(f"«{method}» is no method for the home.", f"Write one of {', '.join(METHODS)}.", "home")
    choose(write, HOME_METHOD, method, since, books.today, asked)
    if figure is not None:
        choose(write, HOME_FIGURE, plain_amount(cents, books.currency), since, books.today, asked)


def keep_cost_of_goods(books: Books, write: Writing, wanted: bool, asked: str, since: date) -> None:
    choose(write, COST_OF_GOODS, "yes" if wanted else "no", since, books.today, asked)


def keep_tax_laid_on(books: Books, write: Writing, laid_on: str, asked: str, since: date) -> None:
    """Raises NotUnderstood for anything but buyer and seller."""
    if laid_on not in ("buyer", "seller"):
        raise NotUnderstood(
            f"«{laid_on}» is neither buyer nor seller.", "Ask your accountant on whom the law lays it.", "tax_laid_on"
        )
    choose(write, TAX_LAID_ON, laid_on, since, books.today, asked)
