"""Set-aside: what belongs to others, the money that is there, and what is left before income tax."""

from __future__ import annotations

from collections.abc import Iterator
from typing import ClassVar

from textual.containers import VerticalScroll
from textual.widget import Widget
from textual.widgets import Static

from ledger.screens.room import Room, keys_of
from ledger.screens.showing import paired, plain_lines
from ledger.set_aside.owed import SetAside, read_set_aside


class SetAsideRoom(Room):
    name_of_room = "set_aside"
    BINDINGS = keys_of("set_aside")
    DEFAULT_CSS: ClassVar[str] = """
    SetAsideRoom #figures {
        padding: 1 2;
    }
    """

    def lay_out(self) -> Iterator[Widget]:
        with VerticalScroll():
            yield Static("", id="figures", markup=False)

    def paint(self) -> None:
        lines = list(self._lines(read_set_aside(self.books, self.books.today)))
        self.query_one("#figures", Static).update(plain_lines(lines))

    def _lines(self, found: SetAside) -> Iterator[str]:
        amount = self.showing.amount
        yield "There"
        yield _pair("Checking", amount(found.checking_cents))
        yield _pair("Cash box", amount(found.cash_box_cents))
        yield _pair("Tax savings", amount(found.tax_savings_cents))
        yield from _total("Money", amount(found.money_cents))
        yield ""
        yield "Belongs to others"
        yield _pair("Sales tax taken, held in trust", amount(found.sales_tax_cents))
        yield _pair("Use tax", amount(found.use_tax_cents))
        yield _pair("Deposits of jobs not picked up", amount(found.deposits_cents))
        yield _pair("Gift certificates out", amount(found.certificates_cents))
        yield _pair("Workshop card", amount(found.cards_cents))
        yield _pair("Owed to the owner", amount(found.owed_to_owner_cents))
        yield from _total("Owed", amount(found.owed_cents))
        yield ""
        if found.short_cents:
            yield _pair("Short by", amount(found.short_cents))
        else:
            yield _pair("Left before income tax", amount(found.free_cents))
        if found.card_money_cents:
            yield f"Card money on its way, not counted: {amount(found.card_money_cents)}"
        yield ""
        yield "Income tax and self-employment tax are not in this figure yet. Ask your accountant what to keep back."


def _pair(left: str, right: str) -> str:
    return "  " + paired(left, right, 50)


def _total(left: str, right: str) -> Iterator[str]:
    yield f"{'':38}{'-' * 14}"
    yield _pair(left, right)
