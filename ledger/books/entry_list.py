"""The list of the entries, however long: counted, filtered and ordered by the database, and read a page at a time."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator, Sequence
from datetime import date
from functools import cached_property

from ledger.books.books import Books, Row
from ledger.books.entries import MOVED, Wanted
from ledger.lists.listing import Arrangement, Column, Line, ShownAs, Word, day_has
from ledger.money import Currency
from ledger.text import shown

ENTRY_COLUMNS = (
    Column("Entry", 6, "number"),
    Column("Date", 12, "day"),
    Column("Amount", 10, "amount"),
    Column("Who", 14),
    Column("What", 26),
    Column("Kind", 0),
    Column("Job", 0, "number"),
    Column("Belongs on", 0, "day"),
    Column("Undoes", 0, "number"),
    Column("Undone by", 0, "number"),
)
_NUMBER, _DATE, _AMOUNT, _WHO, _TEXT = range(5)
_PAGE = 5_000
# The pair of a correction is told by a mark before its words, not by colour.
_PAIR_MARK = "x"
_IS_PAIR = "(entry.reverses is not null or exists (select 1 from entry as other where other.reverses = entry.number))"
# Most texts are ASCII, and the database folds those by itself, without a call for each.
_SOUGHT = "(case when entry.text glob '*[^ -~]*' then folded(entry.text) else lower(entry.text) end)"
_NAMED = (
    "with named (party, name, sought) as materialized (select party, name, folded(name) from party_detail "
    "where id in (select max(id) from party_detail group by party)) "
)
_FROM = "from entry left join named on named.party = entry.who"
_LINES = (
    f"{_NAMED} select entry.number, entry.date, named.name as who, {MOVED} as moved, entry.text, entry.kind, "
    "entry.job, entry.belongs_on, entry.reverses, reversal.number as reversed_by "
    f"{_FROM} left join entry as reversal on reversal.reverses = entry.number "
    "where entry.number in (select value from json_each(?))"
)
_KEYS = {_NUMBER: "entry.number", _DATE: "entry.date", _WHO: "named.sought", _AMOUNT: MOVED, _TEXT: _SOUGHT}


class EntryList:
    """Entries in an arrangement. wanted: which there are to begin with; those up to today where nothing is said.

    In the order of number or day, unfiltered, every page is asked of an index; else the numbers are read once.
    """

    columns: Sequence[Column] = ENTRY_COLUMNS

    def __init__(
        self,
        books: Books,
        arrangement: Arrangement | None = None,
        wanted: Wanted | None = None,
        shown_day: Callable[[date], str] = date.isoformat,
    ) -> None:
        self.books = books
        self.arrangement = arrangement or Arrangement()
        self._wanted = wanted or Wanted(through=books.today)
        self._shown_day = shown_day

    def arranged(self, arrangement: Arrangement) -> EntryList:
        """The same entries in another arrangement."""
        return EntryList(self.books, arrangement, self._wanted, self._shown_day)

    @cached_property
    def count(self) -> int:
        if not self._is_by_index:
            return len(self._numbers)
        where, values = self._wanted.condition()
        return int(self.books.value(f"select count(*) from entry where {where}", values))

    def page(self, first: int, many: int) -> tuple[Line, ...]:
        """The lines from a place on."""
        numbers = self._numbers_at(first, many)
        rows = self.books.rows(_LINES, (json.dumps(numbers),))
        by_number = {row["number"]: _line(row) for row in rows}
        return tuple(by_number[each] for each in numbers)

    def every(self) -> Iterator[Line]:
        """All of them, a page at a time."""
        for first in range(0, self.count, _PAGE):
            yield from self.page(first, _PAGE)

    def place_of(self, number: int) -> int | None:
        """Where an entry stands, None where it is not among them."""
        if not self._is_by_index:
            return self._places.get(number)
        where, values = self._wanted.condition()
        row = self.books.row(f"select date from entry where {where} and number = ?", (*values, number))
        if row is None:
            return None
        before, given = self._before(row["date"], number)
        return int(self.books.value(f"select count(*) from entry where {where} and {before}", (*values, *given)))

    def place_of_day(self, day: date) -> tuple[int, date] | None:
        """The first line of a day, or of the last day before it that has any, or of the first there is."""
        given: tuple[object, ...]
        where, given = self._condition
        days = f"{_NAMED} select {{}}(entry.date) {_FROM} where {where}"
        found = self.books.value(f"{days.format('max')} and entry.date <= ?", (*given, day.isoformat()))
        found = found or self.books.value(days.format("min"), given)
        if found is None:
            return None
        rows = self.books.rows(f"{_NAMED} select entry.number {_FROM} where {where} and date = ?", (*given, found))
        places = (self.place_of(row[0]) for row in _ends(rows) if self._is_by_index)
        if not self._is_by_index:
            places = (self._places[row[0]] for row in rows)
        return min(each for each in places if each is not None), date.fromisoformat(found)

    @property
    def _is_by_index(self) -> bool:
        return not self.arrangement.words and self.arrangement.column in (None, _NUMBER, _DATE)

    @cached_property
    def _places(self) -> dict[int, int]:
        return {number: place for place, number in enumerate(self._numbers)}

    @cached_property
    def _numbers(self) -> list[int]:
        where, values = self._condition
        rows = self.books.rows(f"{_NAMED} select entry.number {_FROM} where {where} order by {self._order}", values)
        return [row[0] for row in rows]

    def _numbers_at(self, first: int, many: int) -> list[int]:
        if not self._is_by_index:
            return self._numbers[first : first + many]
        where, values = self._wanted.condition()
        sql = f"select number from entry where {where} order by {self._order} limit ? offset ?"
        return [row[0] for row in self.books.rows(sql, (*values, many, first))]

    @property
    def _order(self) -> str:
        """Entries without a value come last; equal ones stand newest first."""
        direction = "desc" if self.arrangement.is_descending else "asc"
        match self.arrangement.column:
            case None:
                return "entry.number desc"
            case column if column == _NUMBER:
                return f"entry.number {direction}"
            case column if column == _WHO:
                return f"named.sought is null, named.sought {direction}, entry.number desc"
            case column:
                return f"{_KEYS[column]} {direction}, entry.number desc"

    def _before(self, day: str, number: int) -> tuple[str, tuple[object, ...]]:
        """The condition for standing before an entry, where an index has the order."""
        is_descending = self.arrangement.is_descending
        if self.arrangement.column == _DATE:
            sign = ">" if is_descending else "<"
            return f"(date {sign} ? or (date = ? and number > ?))", (day, day, number)
        return f"number {'>' if is_descending or self.arrangement.column is None else '<'} ?", (number,)

    @cached_property
    def _condition(self) -> tuple[str, tuple[object, ...]]:
        where, values = self._wanted.condition()
        conditions, given = [where], list[object](values)
        for word in self.arrangement.words:
            condition, more = self._has(word)
            conditions.append(condition)
            given += more
        return " and ".join(conditions), tuple(given)

    def _has(self, word: Word) -> tuple[str, list[object]]:
        """The condition for a word in one of the painted columns, as `listing.line_has` would have it."""
        days = [each for each in self._days if day_has(each, word, self._shown_day)]
        conditions = [
            f"instr({_SOUGHT}, ?)",
            "instr(coalesce(named.sought, ''), ?)",
            "entry.date in (select value from json_each(?))",
        ]
        given: list[object] = [word.text, word.text, json.dumps([each.isoformat() for each in days])]
        if word.text == _PAIR_MARK:
            conditions.append(_IS_PAIR)
        if word.number:
            conditions += ["entry.number glob ?", f"{_plain_sql(self.books.currency)} glob ?"]
            given += [f"{word.number}*"] * 2
        return f"({' or '.join(conditions)})", given

    @cached_property
    def _days(self) -> list[date]:
        where, values = self._wanted.condition()
        rows = self.books.rows(f"select distinct date from entry where {where}", values)
        return [date.fromisoformat(row[0]) for row in rows]


def _ends(rows: list[Row]) -> list[Row]:
    """Of the entries of a day the one with the lowest number or with the highest stands first, in either order."""
    in_order = sorted(rows, key=lambda row: row[0])
    return [in_order[0], in_order[-1]]


def _plain_sql(currency: Currency) -> str:
    """What an entry moved as a plain amount."""
    if not currency.decimals:
        return f"cast({MOVED} as text)"
    unit = currency.minor_units
    return (
        f"(select printf('%d.%0{currency.decimals}d', cents / {unit}, cents % {unit}) from (select {MOVED} as cents))"
    )


def _line(row: Row) -> Line:
    text = shown(row["text"])
    is_pair = row["reverses"] is not None or row["reversed_by"] is not None
    return Line(
        row["number"],
        (
            row["number"],
            date.fromisoformat(row["date"]),
            row["moved"],
            row["who"],
            ShownAs(row["text"], f"{_PAIR_MARK} {text}") if is_pair else row["text"],
            row["kind"],
            row["job"],
            date.fromisoformat(row["belongs_on"]) if row["belongs_on"] else None,
            row["reverses"],
            row["reversed_by"],
        ),
    )
