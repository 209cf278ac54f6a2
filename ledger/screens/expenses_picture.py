"""Expenses by category as bars, the largest first, with amount and share, and the same as a table."""

from __future__ import annotations

from collections.abc import Iterator
from textwrap import wrap

from textual.content import Content

from ledger.results.by_category import LINES_NOT_CONFIRMED, CategoryShare, ExpensesByCategory
from ledger.screens.bars_painting import Bar, painted_bars
from ledger.screens.showing import Showing, cut, padded

_WORDS, _LINE, _FIGURE, _SHARE = 30, 6, 14, 10


class ExpensesLines:
    """Lines about the expenses of a period. label: what the period is called, in a title."""

    def __init__(self, showing: Showing, found: ExpensesByCategory, label: str) -> None:
        self.showing = showing
        self.found = found
        self.label = label

    def picture(self, width: int) -> Iterator[Content]:
        """A bar for each category, the sum, and what a bar stands for."""
        if not self.found.shares:
            yield from map(Content, [*wrap(self._nothing(), width), *self._before(width)])
            return
        yield Content.styled(cut(self._title(), width), "bold")
        yield from painted_bars([self._bar(each) for each in self.found.shares], width)
        if any(each.cents < 0 for each in self.found.shares):
            yield from map(Content, wrap("Left of the line: more came back than was spent.", width))
        yield from map(Content, self._before(width))

    def table(self, width: int) -> Iterator[str]:
        """Every figure, with the line of the form that the category goes to."""
        if not self.found.shares:
            yield from [*wrap(self._nothing(), width), *self._before(width)]
            return
        words = max(12, min(_WORDS, width - _LINE - _FIGURE - _SHARE))
        yield cut(self._title(), width)
        yield ""
        yield f"{'':{words}}{'line':>{_LINE}}{'amount':>{_FIGURE}}{'share':>{_SHARE}}"
        for each in self.found.shares:
            amount = self.showing.plain(each.cents)
            yield (
                f"{padded(each.category, words - 1)} {each.line.number:>{_LINE}}"
                f"{amount:>{_FIGURE}}{self._share(each):>{_SHARE}}"
            )
        yield f"{'':{words + _LINE}}{'-' * 12:>{_FIGURE}}"
        yield f"{padded('Expenses', words + _LINE)}{self.showing.plain(self.found.total_cents):>{_FIGURE}}"
        yield from self._before(width)
        if any(not each.line.confirmed for each in self.found.shares):
            yield ""
            yield from wrap(LINES_NOT_CONFIRMED, width)

    def _before(self, width: int) -> Iterator[str]:
        before = self.found.before_books_cents
        if before:
            yield from wrap(f"Before these books, and in no sum here: {self.showing.amount(before)}.", width)

    def _title(self) -> str:
        return f"Expenses of {self.label}: {self.showing.amount(self.found.total_cents)}"

    def _nothing(self) -> str:
        return f"No expense is in the books of {self.label}. Press s to enter a receipt, and its category stands here."

    def _bar(self, each: CategoryShare) -> Bar:
        return Bar(each.category, each.cents, (self.showing.plain(each.cents), self._share(each)))

    def _share(self, each: CategoryShare) -> str:
        return "" if each.share_percent is None else self.showing.share(each.share_percent)
