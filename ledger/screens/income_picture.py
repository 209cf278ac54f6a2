"""Income by month: the columns of a year beside those of the year before, their table, and what stands out in words."""

from __future__ import annotations

from collections.abc import Iterator
from textwrap import wrap

from textual.content import Content

from ledger.periods import Period
from ledger.results.by_month import IncomeByMonth
from ledger.screens.columns_painting import SOLID, Columns, Row, Slot, pile_of
from ledger.screens.showing import Showing, padded, plain_text

BEFORE = "░"
_NOW_STYLE, _BEFORE_STYLE, _BELOW_ZERO_STYLE = "$primary", "$foreground 70%", "$accent"
_FIGURE = 14
FEWEST_ROWS, _MOST_ROWS = 6, 26
_NOTHING = (
    "No income is in the books, of this year or the one before. Hand a piece over with p, and its month stands here."
)


class IncomeLines:
    """Lines about the income of a year. shown: the quarter whose months are marked."""

    def __init__(self, showing: Showing, found: IncomeByMonth, shown: Period) -> None:
        self.showing = showing
        self.found = found
        self.shown = shown
        self.year = found.months[0].first_day.year

    def picture(self, width: int, height: int) -> Iterator[Content]:
        """Title, columns, legend and a few words: no more than `height` lines, where that is not too little."""
        if self.found.is_empty:
            yield from map(Content, wrap(_NOTHING, width))
            return
        below = list(self._below(width))
        yield Content.styled(self._title(width), "bold")
        yield from self._columns(width).painted(min(_MOST_ROWS, max(FEWEST_ROWS, height - 1 - len(below))))
        yield from below

    def table(self, width: int) -> Iterator[str]:
        """Every figure of the picture, to the cent."""
        if self.found.is_empty:
            yield from wrap(_NOTHING, width)
            return
        yield self._title(width)
        yield ""
        years = f"{self.year:>{_FIGURE}}" + (f"{self.year - 1:>{_FIGURE}}" if self.found.has_year_before else "")
        yield f"{'':14}{years}"
        for each in self.found.months:
            name = padded(self.showing.month_name(each.first_day) + (", so far" if each.is_running else ""), 14)
            yield name + self._amount(each.cents) + self._before(each.year_before_cents)
        yield f"{'':14}" + f"{'-' * 12:>{_FIGURE}}" * (2 if self.found.has_year_before else 1)
        whole_before = sum(each.year_before_cents or 0 for each in self.found.months)
        yield f"{'The year':14}{self._amount(self.found.total_cents)}{self._before(whole_before)}"
        yield ""
        yield from wrap(self._words(), width)

    def _title(self, width: int) -> str:
        before = f", beside {self.year - 1}" if self.found.has_year_before else ""
        title = f"Income by month {self.year}{before}, on the cash method"
        return title if len(title) <= width else f"Income by month {self.year}{before}"[:width]

    def _columns(self, width: int) -> Columns:
        slots = []
        for each in self.found.months:
            now = pile_of(each.cents, SOLID, _NOW_STYLE if (each.cents or 0) > 0 else _BELOW_ZERO_STYLE)
            before = pile_of(each.year_before_cents, BEFORE, _BEFORE_STYLE)
            name, letter = self.showing.month_name(each.first_day), self.showing.month_letter(each.first_day)
            piles = (before, now) if self.found.has_year_before else (now,)
            slots.append(Slot(name, letter, piles, self.shown.holds(each.first_day)))
        rows = [Row(f"{self.year}", tuple(self._whole(each.cents) for each in self.found.months))]
        if self.found.has_year_before:
            befores = tuple(self._whole(each.year_before_cents) for each in self.found.months)
            rows.append(Row(f"{self.year - 1}", befores))
        return Columns(slots, self.showing.whole, width, rows)

    def _below(self, width: int) -> Iterator[Content]:
        """The legend, and what stands out."""
        legend = f"{SOLID} {self.year}"
        legend += f"  {BEFORE} {self.year - 1}, left of it" if self.found.has_year_before else ""
        legend += f"  ━ {self.shown.label}"
        yield Content(legend[:width])
        yield from map(plain_text, wrap(self._words(), width))

    def _words(self) -> str:
        found, amount = self.found, self.showing.amount
        running, best = found.running, found.best
        words = [f"Taken in {self.year}{', so far' if running else ''}: {amount(found.total_cents)}."]
        if found.has_year_before:
            words.append(f"The same months of {self.year - 1}: {amount(found.year_before_cents)}.")
        if found.before_books_cents:
            words.append(f"Before these books, and in no sum here: {amount(found.before_books_cents)}.")
        if running is not None:
            name = self.showing.month_name(running.first_day)
            words.append(f"{name} is still running: so far, up to {self.showing.month_day(found.on)}.")
        if best is not None and best.cents is not None and best.cents > 0:
            words.append(f"The best month is {self.showing.month(best.first_day)}.")
        below = [self.showing.month_name(each.first_day) for each in found.months if (each.cents or 0) < 0]
        if below:
            words.append(f"Below zero, more given back than taken: {', '.join(below)}.")
        return " ".join(words)

    def _whole(self, cents: int | None) -> str:
        return "" if cents is None else self.showing.whole(cents)

    def _amount(self, cents: int | None) -> str:
        return f"{'-' if cents is None else self.showing.plain(cents):>{_FIGURE}}"

    def _before(self, cents: int | None) -> str:
        return self._amount(cents) if self.found.has_year_before else ""
