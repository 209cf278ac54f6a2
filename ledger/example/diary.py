"""The diary: what happens on which day. It is written in any order, and kept in the order of its days."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date, datetime, time

from ledger.books.books import Books
from ledger.books.clock import Clock

Act = Callable[[Books], object]
_OPENING_HOUR = time(9, 30)


class Diary:
    """Acts by day; those of one day happen in the order in which they were written in."""

    def __init__(self) -> None:
        self._acts: dict[date, list[Act]] = {}

    def write(self, day: date, act: Act) -> None:
        self._acts.setdefault(day, []).append(act)

    def keep(self, books: Books) -> None:
        """Do everything, each act on its own day. Raises what an act raises."""
        for day in sorted(self._acts):
            on_that_day = replace(books, clock=clock_of(day))
            for act in self._acts[day]:
                act(on_that_day)


def clock_of(day: date) -> Clock:
    return Clock(day, datetime.combine(day, _OPENING_HOUR))
