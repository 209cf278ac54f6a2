"""The work of a job as a form asks for it: a field for each price, in which an x stands, or how many."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal
from functools import partial

from ledger.actions.take_in import WantedLine
from ledger.errors import NotUnderstood
from ledger.jobs.pricing import Price
from ledger.money import read_quantity
from ledger.screens.forms.field import Asked
from ledger.screens.forms.form import Form
from ledger.screens.reading import with_points


def field_of(price: Price) -> str:
    return f"line-{price.id}"


def work_asked(prices: Sequence[Price]) -> Iterator[Asked]:
    """A field for each price."""
    for each in prices:
        yield Asked(field_of(each), each.name, hint="how many hours" if each.by == "hour" else "x or how many")


def read_work(form: Form, prices: Sequence[Price]) -> Iterator[WantedLine]:
    """The lines that something stands beside; what is wrong with one is told beside it."""
    locale = form.books.settings.locale
    for each in prices:
        if form.text(field_of(each)).casefold() not in ("", "n", "no"):
            yield WantedLine(each.name, form.read(field_of(each), partial(_how_many, each, locale), None))


def _how_many(price: Price, locale: str, text: str) -> Decimal | None:
    """None where it is measured from the piece."""
    if text.casefold() not in ("x", "y", "yes"):
        return read_quantity(with_points(text, locale), field_of(price))
    if price.by == "hour":
        raise NotUnderstood("This is priced by the hour.", "Type how many.", field_of(price))
    return None
