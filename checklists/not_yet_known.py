"""What she did not know yet when the books began: an item of the set-up list each, until the books have it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Final, Literal

from checklists.own_acts import ASK_HERSELF
from checklists.own_list import FIRST, Wording
from checklists.own_records import add_change
from checklists.records import add_answer, note_first_look, read_standings
from ledger.books.books import Books
from ledger.books.transaction import Writing

Unknown = Literal["machine_price", "opening", "rates"]
UNKNOWNS: Final[tuple[Unknown, ...]] = ("rates", "machine_price", "opening")
STAGE: Final = "before_the_first_customer"
ITEMS: Final[Mapping[Unknown, str]] = {
    "rates": "own_tax_rates",
    "machine_price": "own_machine_cost",
    "opening": "own_bank_balance",
}
_WORDINGS: Final[Mapping[Unknown, Wording]] = {
    "rates": Wording(
        title="The sales tax rates where you are",
        why="Without a rate no sales tax is taken. «Tax rate» (r, here) enters one, and settles this.",
        ask="state revenue office",
        questions=("Which rates hold at your address: state, county, city, district?", "From which day on?"),
        proof="The rate list or the letter.",
    ),
    "machine_price": Wording(
        title="What the machine cost",
        why="Without its cost nobody can say when it is paid off. «Cost» (Machine, c) enters it, and settles this.",
        ask=ASK_HERSELF,
        questions=("What did you pay for it, and for freight, table and tax?", "When did it come?"),
        proof="The invoice.",
    ),
    "opening": Wording(
        title="What was in the bank on the first day",
        why="Without it the books and the bank disagree from the first day on. «Before books» (b, here) takes it.",
        ask=ASK_HERSELF,
        questions=("What did the workshop's own account hold at the end of the day before the books began?",),
        proof="The statement of that month.",
    ),
}


def add_unknown(books: Books, write: Writing, names: Iterable[Unknown]) -> None:
    """Put each on the list, before everything else that comes before the first customer."""
    wanted, follows = set(names), FIRST
    for name in (each for each in UNKNOWNS if each in wanted):
        note_first_look(books, write)
        add_change(books, write, ITEMS[name], "added", stage=STAGE, follows=follows, wording=_WORDINGS[name])
        follows = ITEMS[name]


def still_unknown(books: Books) -> tuple[Unknown, ...]:
    """Those that stand open on the list, in its order."""
    open_items = {each.id for each in read_standings(books) if each.item is not None and not each.is_settled}
    return tuple(each for each in UNKNOWNS if ITEMS[each] in open_items)


def settle_unknown(books: Books, write: Writing, name: Unknown, value: str) -> None:
    """The books have it now: its item, where it stands open, is done."""
    if name in still_unknown(books):
        add_answer(books, write, ITEMS[name], "done", value=value, asked=ASK_HERSELF)
