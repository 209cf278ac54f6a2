"""The year ahead: month by month what tax savings hold, what falls due from them, and where they do not reach."""

from __future__ import annotations

from collections.abc import Iterator
from textwrap import wrap

from rich.cells import cell_len
from textual.content import Content

from ledger.screens.columns_painting import SOLID, Columns, Part, Pile, Row, Slot
from ledger.screens.showing import Showing, cut, padded, plain_text
from ledger.set_aside.year_ahead import NOT_COUNTED, CoveredDue, DueMonth, YearAhead

FALLS_DUE, THERE, SHORT = "▒", "░", "▓"
_LEFT_STYLE, _DUE_STYLE, _THERE_STYLE, _SHORT_STYLE = "$primary", "$secondary", "$foreground 70%", "$error"
_FEWEST_ROWS, _MOST_ROWS = 6, 22
_DAY, _COVER, _LEAST_WORDS = 8, 7, 18
_NOTHING = "Nothing is known to fall due within a year, and nothing is held in tax savings."


class AheadLines:
    """Lines about the year ahead."""

    def __init__(self, showing: Showing, found: YearAhead) -> None:
        self.showing = showing
        self.found = found

    @property
    def is_empty(self) -> bool:
        return not self.found.due_cents and self.found.held_cents <= 0

    def picture(self, width: int, height: int) -> Iterator[Content]:
        """Title, columns, legend and what it says in words: no more than `height` lines, where that is not too
        little."""
        if self.is_empty:
            yield from map(Content, wrap(_NOTHING, width))
            return
        below = [*map(plain_text, self._legend(width)), *map(plain_text, wrap(self._words(), width))]
        yield Content.styled(cut("Tax savings against what falls due, month by month", width), "bold")
        yield from self._columns(width).painted(min(_MOST_ROWS, max(_FEWEST_ROWS, height - 1 - len(below))))
        yield from below

    def table(self, width: int) -> Iterator[str]:
        """Every due with its day, its amount, how it is covered, and what is left after it."""
        held, other = (self.showing.amount(cents) for cents in (self.found.held_cents, self.found.other_cents))
        yield from wrap(f"Held in tax savings {held}, in checking and cash box {other}", width)
        yield ""
        figure = max([len("amount"), *(len(text) for each in self.found.dues for text in self._figures(each))]) + 1
        words = width - _DAY - 2 * figure - _COVER
        words = words if words >= _LEAST_WORDS else 0
        yield f"{'':{_DAY + words}}{'amount':>{figure}}{'':{_COVER}}{'left':>{figure}}"
        for each in self.found.dues:
            yield from self._due(each, words, figure, width)
            if not each.is_whole:
                yield from wrap(self._parts(each), width, initial_indent=" " * _DAY, subsequent_indent=" " * _DAY)
        if not self.found.dues:
            yield "Nothing is known to fall due within a year."
        yield ""
        yield from wrap(f"{self._words()} Left is what tax savings hold less all that is due up to there.", width)

    def _due(self, each: CoveredDue, words: int, figure: int, width: int) -> Iterator[str]:
        """A line, or two where there is no room for words beside the figures."""
        day = padded("late" if each.due.is_late else self.showing.month_day(each.due.day), _DAY)
        amount, left = self._figures(each)
        figures = f"{amount:>{figure}} {each.word:<{_COVER - 1}}{left:>{figure}}"
        if words:
            what = each.due.what if cell_len(each.due.what) <= words else each.due.short
            yield f"{day}{padded(what, words)}{figures}".rstrip()
        else:
            yield f"{day}{cut(each.due.what, width - _DAY)}"
            yield f"{'':{_DAY}}{figures}".rstrip()

    def _figures(self, each: CoveredDue) -> tuple[str, str]:
        """The amount, and what is left after it."""
        cents, plain = each.due.cents, self.showing.plain
        return ("-" if cents is None else plain(cents)), (plain(each.left_cents) if cents else "")

    def _parts(self, each: CoveredDue) -> str:
        plain = self.showing.plain
        parts = (("held", each.held_cents), ("there", each.there_cents), ("short", each.short_cents))
        return ", ".join(f"{plain(cents)} {word}" for word, cents in parts if cents)

    def _columns(self, width: int) -> Columns:
        whole, months = self.showing.whole, self.found.months
        slots = [self._slot(each) for each in months]
        dues = tuple(self._due_in(each) for each in months)
        lefts = tuple(whole(each.left_cents) if each.due_cents else "" for each in months)
        return Columns(slots, whole, width, [Row("due", dues), Row("left", lefts)])

    def _due_in(self, month: DueMonth) -> str:
        known = self.showing.whole(month.due_cents) if month.due_cents else ""
        return known + ("?" if month.has_unknown else "")

    def _slot(self, month: DueMonth) -> Slot:
        """What is left below what falls due from it; what tax savings do not reach hangs under the line."""
        before = month.left_cents + month.due_cents
        left, taken = max(0, month.left_cents), max(0, before) - max(0, month.left_cents)
        lack = max(0, -month.left_cents)
        there = min(lack, max(0, self.found.other_cents))
        pile = Pile(
            above=(Part(SOLID, _LEFT_STYLE, left), Part(FALLS_DUE, _DUE_STYLE, taken)),
            below=(Part(THERE, _THERE_STYLE, there), Part(SHORT, _SHORT_STYLE, lack - there)),
        )
        name, letter = self.showing.month_name(month.first_day), self.showing.month_letter(month.first_day)
        return Slot(name, letter, (pile,))

    def _legend(self, width: int) -> Iterator[str]:
        """The signs that are there, a few to a line."""
        found = self.found
        parts = [f"{SOLID} left in tax savings"]
        parts += [f"{FALLS_DUE} falls due from it"] if any(each.held_cents for each in found.months) else []
        parts += [f"{THERE} not set aside, but there"] if found.there_cents else []
        parts += [f"{SHORT} short"] if found.short_cents else []
        parts += ["? not known yet"] if any(each.has_unknown for each in found.months) else []
        line = ""
        for each in parts:
            if line and cell_len(f"{line}  {each}") > width:
                yield line
                line = ""
            line += f"  {each}" if line else each
        yield line

    def _words(self) -> str:
        found, amount = self.found, self.showing.amount
        first = found.first_uncovered
        if not found.due_cents:
            return f"Nothing of what falls due within a year has an amount yet. {NOT_COUNTED}"
        if first is None:
            left = amount(found.held_cents - found.due_cents)
            return f"All that is known to fall due, {amount(found.due_cents)}, is held; {left} is left. {NOT_COUNTED}"
        words = [f"Known to fall due: {amount(found.due_cents)}."]
        day = "which is late" if first.due.is_late else self.showing.day(first.due.day)
        words.append(f"Tax savings do not reach for {first.due.what}, {day}.")
        if found.there_cents:
            words.append(f"Not set aside, but in checking or the cash box: {amount(found.there_cents)}.")
        if found.short_cents:
            words.append(f"Short by {amount(found.short_cents)}.")
        return " ".join([*words, NOT_COUNTED])
