"""The days that the example lasts, told from its end: some two years back, Sundays and a few holidays closed."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta

from ledger.periods import Period, day_in_month, month_holding

MONTHS_BACK = 24
_DAY = timedelta(days=1)
_SUNDAY = 6


@dataclass(frozen=True)
class WorkingDays:
    """The days from the month two years before `today` through `today`. closed: month and day, beside Sundays."""

    today: date
    closed: frozenset[tuple[int, int]] = frozenset()

    @property
    def first(self) -> date:
        """The day on which the books begin."""
        return self._open_from(self.month(0).start)

    @property
    def last(self) -> date:
        """The last day on which anything is done: today, or the working day before it."""
        return self._open_until(self.today)

    def is_open(self, day: date) -> bool:
        return day.weekday() != _SUNDAY and (day.month, day.day) not in self.closed

    def month(self, index: int) -> Period:
        """The whole month with that index, counted from 0; the month of today is the last."""
        count = self.today.year * 12 + self.today.month - 1 - MONTHS_BACK + index
        return month_holding(date(count // 12, count % 12 + 1, 1))

    def month_index(self, day: date) -> int:
        begin = self.month(0).start
        return (day.year - begin.year) * 12 + day.month - begin.month

    def in_month(self, index: int, day_number: int) -> date:
        """That day of a month, or the next working day."""
        month = self.month(index).start
        return self.on_or_after(day_in_month(month.year, month.month, day_number))

    def on_or_after(self, day: date) -> date:
        """The day, or the next working day; what would come after the last one is done on the last one."""
        return min(self._open_from(day), self.last)

    def before_today(self, days: int) -> date:
        """So many days before today, or the working day before that."""
        return self._open_until(self.today - days * _DAY)

    def all(self) -> Iterator[date]:
        day = self.first
        while day <= self.last:
            if self.is_open(day):
                yield day
            day += _DAY

    def last_of_months(self) -> Iterator[tuple[Period, date]]:
        """Each month that is over by the end of today, with its last working day."""
        for index in range(MONTHS_BACK + 1):
            month = self.month(index)
            if month.end <= self.today:
                yield month, self._open_until(month.end)

    def _open_from(self, day: date) -> date:
        while not self.is_open(day):
            day += _DAY
        return day

    def _open_until(self, day: date) -> date:
        while not self.is_open(day):
            day -= _DAY
        return day
