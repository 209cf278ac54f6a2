"""Bank reconciliation: the statement's balance with what the bank has not seen yet, against the balance of the books.

Balance on the statement, plus deposits in transit, less checks outstanding, is the adjusted balance; it agrees when the
books have the same. The form of it: IRS Publication 583, Starting a Business and Keeping Records, sample record system.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date

# Within a twentieth: two amounts that near each other are worth a look. Common sense, no source.
_NEAR_PART = 20
_NEAR_DAYS = 10


@dataclass(frozen=True)
class BookItem:
    """A posting on the account, debit positive. seal: of its entry. is_open: the bank has not seen it on that day."""

    entry: int
    posting: int
    day: date
    cents: int
    words: str
    seal: str
    is_open: bool = False


@dataclass(frozen=True)
class BankItem:
    """A line of the bank's that the books do not have yet."""

    line: int
    day: date
    cents: int
    words: str


@dataclass(frozen=True)
class Reconciliation:
    """ending_cents: the bank's balance at the end of the day, as the account holder sees it, below zero on a card.

    to_enter: charges and the like that the bank booked and the books did not.
    """

    account: str
    day: date
    ending_cents: int
    items: tuple[BookItem, ...]
    to_enter: tuple[BankItem, ...] = ()

    @property
    def in_transit(self) -> tuple[BookItem, ...]:
        return tuple(each for each in self.items if each.is_open and each.cents > 0)

    @property
    def outstanding(self) -> tuple[BookItem, ...]:
        return tuple(each for each in self.items if each.is_open and each.cents < 0)

    @property
    def in_transit_cents(self) -> int:
        return sum(each.cents for each in self.in_transit)

    @property
    def outstanding_cents(self) -> int:
        """Above zero."""
        return -sum(each.cents for each in self.outstanding)

    @property
    def adjusted_cents(self) -> int:
        return self.ending_cents + self.in_transit_cents - self.outstanding_cents

    @property
    def balance_cents(self) -> int:
        """Of the books, at the end of the day."""
        return sum(each.cents for each in self.items)

    @property
    def difference_cents(self) -> int:
        """What the bank has more than the books; zero where they agree."""
        return self.adjusted_cents - self.balance_cents

    @property
    def unexplained_cents(self) -> int:
        """The difference without what is still to enter."""
        return self.difference_cents - sum(each.cents for each in self.to_enter)

    @property
    def agrees(self) -> bool:
        return self.difference_cents == 0 and not self.to_enter


def covered_digest(found: Reconciliation) -> str:
    """SHA-256 over all that an agreement rests on: each posting with its entry's seal, and what was open."""
    items = [[each.entry, each.posting, each.cents, each.seal, int(each.is_open)] for each in found.items]
    said = json.dumps([found.account, found.day.isoformat(), found.ending_cents, items], ensure_ascii=False)
    return hashlib.sha256(said.encode("utf-8", "surrogatepass")).hexdigest()


def explanations(found: Reconciliation) -> Iterator[str]:
    """What may be behind a difference, the likeliest first; no figure of it is booked by itself."""
    open_items = [each for each in found.items if each.is_open]
    swapped = list(_swapped(open_items, found.to_enter))
    yield from swapped
    if found.to_enter:
        many = len(found.to_enter)
        yield f"{many} line{'s' if many > 1 else ''} of the bank {'are' if many > 1 else 'is'} not in the books yet."
    off = found.unexplained_cents
    if off == 0 or swapped:
        return
    for each in open_items:
        if each.cents == off:
            yield f"Entry {each.entry} has just that amount: the bank may have seen it already."
    for each in found.items:
        if each.cents * 2 == -off and not each.is_open:
            yield f"Twice entry {each.entry} is just that amount: it may be on the wrong side."
    if off % 9 == 0:
        yield "The difference can be divided by nine: two digits may be swapped somewhere."


def _swapped(items: Sequence[BookItem], lines: Iterable[BankItem]) -> Iterator[str]:
    """Pairs of an entry and a line that differ by two digits that changed places, or by one digit."""
    for line in lines:
        for each in items:
            if abs((each.day - line.day).days) <= _NEAR_DAYS and _is_slip(each.cents, line.cents):
                yield f"Entry {each.entry} and line {line.line} may be the same: one of them has a digit wrong."


def _is_slip(one: int, other: int) -> bool:
    """Whether two amounts have the same sign and length and differ in two digits at most, as a slip does."""
    if (one > 0) != (other > 0) or one == other:
        return False
    first, second = str(abs(one)), str(abs(other))
    if len(first) != len(second):
        return False
    off = [place for place in range(len(first)) if first[place] != second[place]]
    is_swap = len(off) == 2 and first[off[0]] == second[off[1]] and first[off[1]] == second[off[0]]
    # 594.40 for 600.40 is one digit told twice as another: near each other, and most digits the same.
    is_near = len(off) <= 3 and abs(one - other) * _NEAR_PART < abs(one)
    return is_swap or len(off) == 1 or is_near
