"""The lines of a list, asked for a page at a time: whoever paints or saves them need not know where they come from."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from functools import cached_property
from typing import Any, Protocol

from ledger.lists.listing import Arrangement, Column, Line, Manner, arranged, day_column, nearest_day, plain


class Lines(Protocol):
    """Lines in an arrangement. place_of_day: the first line of a day or of the nearest one, and which day that is."""

    columns: Sequence[Column]
    arrangement: Arrangement

    @property
    def count(self) -> int: ...
    def arranged(self, arrangement: Arrangement) -> Lines: ...
    def page(self, first: int, many: int) -> Sequence[Line]: ...
    def every(self) -> Iterator[Line]: ...
    def place_of(self, key: Any) -> int | None: ...
    def place_of_day(self, day: date) -> tuple[int, date] | None: ...


class LinesInMemory:
    """Lines that were read whole, because there are few of them."""

    def __init__(
        self, columns: Sequence[Column], whole: Sequence[Line], manner: Manner, arrangement: Arrangement | None = None
    ) -> None:
        self.columns = columns
        self.whole = whole
        self.manner = manner
        self.arrangement = arrangement or Arrangement()

    def arranged(self, arrangement: Arrangement) -> LinesInMemory:
        return LinesInMemory(self.columns, self.whole, self.manner, arrangement)

    @cached_property
    def lines(self) -> tuple[Line, ...]:
        return arranged(self.whole, self.columns, self.arrangement, self.manner)

    @property
    def count(self) -> int:
        return len(self.lines)

    def page(self, first: int, many: int) -> tuple[Line, ...]:
        return self.lines[first : first + many]

    def every(self) -> Iterator[Line]:
        return iter(self.lines)

    def place_of(self, key: Any) -> int | None:
        return next((place for place, line in enumerate(self.lines) if line.key == key), None)

    def place_of_day(self, day: date) -> tuple[int, date] | None:
        column = day_column(self.columns)
        if column is None:
            return None
        days = [each if isinstance(each := plain(line.values[column]), date) else None for line in self.lines]
        found = nearest_day([each for each in days if each is not None], day)
        return None if found is None else (days.index(found), found)
