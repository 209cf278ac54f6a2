"""What untaxed stock leaves open, and what was spent before the workshop was open."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from ledger.books.books import Books
from ledger.money import plain_amount
from ledger.taxes.own_certificate import read_holders
from ledger.taxes.start_up_records import opened_on, read_start_up, spent_before_first_sale
from ledger.taxes.untaxed_stock import Lot
from ledger.taxes.untaxed_stock_records import open_work_uses, read_lots

OPENED = (
    "On which day was the workshop open and ready for paid work? What was spent before it may be start-up costs: "
    "record the day with «twopurse start-up»."
)


def use_tax_questions(books: Books, start: date, end: date) -> Iterator[str]:
    """The questions of the days from start to end, both included."""
    waiting = open_work_uses(books, end)
    if waiting:
        of = ", ".join(dict.fromkeys(each.category.name for each in waiting))
        cost = plain_amount(sum(each.cents for each in waiting), books.currency)
        yield (
            f"Does stock used up in the work count as sold, or as used? It was bought untaxed ({of}, {cost} at cost): "
            "ask the revenue office."
        )
    lots = read_lots(books, end)
    holders = {each.name for each in read_holders(books, end)}
    yield from _without_certificate([each for each in lots if each.bought.on >= start], holders)
    old = sum(each.left_cents for each in lots if each.bought.on < start)
    if old:
        yield (
            f"Of stock bought untaxed before this period {plain_amount(old, books.currency)} is left by the books: "
            "what was sold, used up or kept since?"
        )


def start_up_questions(books: Books, start: date, end: date) -> Iterator[str]:
    """Whether the day of the opening is known, and in the period that has it or comes before it, the costs."""
    opened = opened_on(books)
    if opened is None:
        if spent_before_first_sale(books):
            yield OPENED
        return
    found = read_start_up(books) if start <= opened else None
    if found is None or not found.cost_cents:
        return
    said = f"{plain_amount(found.cost_cents, books.currency)} was spent before the workshop was open on {opened}"
    if found.rule is None:
        yield f"{said}: are these start-up costs?"
        return
    first = plain_amount(found.rule.at_once_cents, books.currency)
    rest = plain_amount(found.rule.rest_cents, books.currency)
    yield (
        f"{said}, and stands among the expenses: are these start-up costs? By IRC 195 {first} in the first year, "
        f"{rest} over {found.rule.months} months."
    )


def _without_certificate(lots: list[Lot], holders: set[str]) -> Iterator[str]:
    """Shops that sold stock untaxed and have no resale certificate of hers."""
    for name in dict.fromkeys(each.bought.who or "a shop" for each in lots if each.bought.who not in holders):
        yield f"Stock was bought untaxed from {name}: has it your resale certificate? See «twopurse tax resale show»."
