"""A statement in CSV, read by its map: rows into lines, all or none."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from ledger.bank.amounts import Mark, bank_cents
from ledger.bank.bank_file import NUMBER_LETTERS, TEXT_LETTERS, BankFile, BankLine, Ending
from ledger.bank.csv_guess import day_in, guessed_map, shown_mark, shown_order
from ledger.bank.csv_map import Column, CsvMap, DateOrder
from ledger.bank.csv_rows import Rows, rows_of
from ledger.bank.file_text import text_of
from ledger.errors import NotPossible, NotUnderstood
from ledger.money import Currency
from ledger.text import clean, name_key


@dataclass(frozen=True)
class CsvSaid:
    """What was said of a CSV or is remembered of the account. known: None goes by the headings.

    is_remembered: the map is from an earlier file, and yields to the headings where this one has other columns.
    """

    known: CsvMap | None = None
    is_remembered: bool = False
    dates: DateOrder | None = None
    decimal: Mark | None = None

    def over(self, found: CsvMap) -> CsvMap:
        """A map with what was said beside it."""
        return replace(found, dates=self.dates or found.dates, decimal=self.decimal or found.decimal)


def read_csv(content: bytes, currency: Currency, said: CsvSaid) -> tuple[BankFile, CsvMap]:
    """The statement in a CSV file, and the map with everything settled that it was read by.

    Raises NotUnderstood or NotPossible.
    """
    known = said.known
    if known is not None and said.is_remembered and not _fits(content, known):
        known = None
    text = text_of(content, known.encoding if known else None)
    rows = rows_of(text, skip=known.skip if known else 0, delimiter=known.delimiter if known else None)
    if not rows:
        raise NotPossible("The file has no rows.", "Ask the bank for the file again.", "file")
    csv_map = said.over(known or guessed_map(rows[0], rows[1:]))
    reader = _Reader(rows, csv_map, currency)
    if not reader.body:
        raise NotPossible("The file has headings and no line.", "Choose a span of days with lines in it.", "file")
    lines = tuple(reader.lines())
    file = BankFile(
        form="csv",
        lines=tuple(each for each in lines if each.cents),
        ending=reader.ending(lines),
        without_amount=sum(not each.cents for each in lines),
    )
    return file, csv_map.settled(reader.order, reader.mark)


def _fits(content: bytes, csv_map: CsvMap) -> bool:
    """Whether a file has the columns that a map names."""
    try:
        rows = rows_of(text_of(content, csv_map.encoding), skip=csv_map.skip, delimiter=csv_map.delimiter)
    except (NotPossible, NotUnderstood):
        return False
    first = [name_key(each) for each in rows[0]] if rows else []
    return all(
        each <= len(first) if isinstance(each, int) else first.count(name_key(each)) == 1 for each in csv_map.columns
    )


class _Reader:
    """The cells of a file by what the map says they are."""

    def __init__(self, rows: Rows, csv_map: CsvMap, currency: Currency) -> None:
        self.map, self.currency = csv_map, currency
        self.headings = rows[0] if csv_map.headings else None
        self.body = rows[1:] if csv_map.headings else rows
        self.width = len(rows[0])
        self.order: DateOrder = csv_map.dates or shown_order(self.column(csv_map.date))
        self.mark: Mark = csv_map.decimal or shown_mark([each for each in self._amounts() if each])

    def column(self, column: Column | None) -> list[str]:
        """The cells of a column; empty ones where the map has no such column."""
        if column is None:
            return [""] * len(self.body)
        place = self._place(column)
        return [row[place].strip() for row in self.body]

    def lines(self) -> Iterator[BankLine]:
        texts = list(zip(*(self.column(each) for each in self.map.text), strict=True))
        cells = zip(
            self.column(self.map.date),
            self._cents(),
            texts,
            self.column(self.map.number),
            self.column(self.map.id),
            strict=True,
        )
        for place, (said, cents, words, number, bank_id) in enumerate(cells, start=1):
            day = day_in(said, self.order)
            if day is None:
                raise NotUnderstood(
                    f"«{clean(said)[:40]}» in line {place} is no date in the order {self.order}.",
                    "Check in the map which column holds the date, and its order.",
                    "map",
                )
            text, *others = [each for each in map(_kept, words) if each] or ["Without words"]
            memo = " ".join(others)[:TEXT_LETTERS]
            yield BankLine(day, cents, text, memo, _kept(number)[:NUMBER_LETTERS].lstrip("0"), _kept(bank_id), "")

    def ending(self, lines: Sequence[BankLine]) -> Ending | None:
        """The last balance, once every balance follows from the one before. Raises NotUnderstood where one does not."""
        if self.map.balance is None:
            return None
        balances = [bank_cents(each, self.currency, self.mark) for each in self.column(self.map.balance)]
        downwards, upwards = _first_break(balances, lines), _first_break(balances[::-1], lines[::-1])
        # The days say which way the file goes; where they do not, either way may hold.
        if downwards is None and lines[0].day <= lines[-1].day:
            return Ending(balances[-1], lines[-1].day)
        if upwards is None and lines[0].day >= lines[-1].day:
            return Ending(balances[0], lines[0].day)
        raise NotUnderstood(
            f"The balance in line {(downwards or 0) + 1} is not the one before with that line's amount.",
            "A row is missing, or the signs are the wrong way round; or leave the balance out of the map.",
            "file",
        )

    def _cents(self) -> list[int]:
        if self.map.amount is None:
            outs, ins = self.column(self.map.out), self.column(self.map.in_)
            # Some banks write what went out with a minus in its own column, some without.
            found = [abs(self._read(into)) - abs(self._read(out)) for out, into in zip(outs, ins, strict=True)]
        else:
            words = self.column(self.map.direction)
            signs = [-1 if word.casefold() in self.map.out_words else 1 for word in words]
            # An amount that has its own sign too keeps it.
            amounts = [self._read(text) for text in self.column(self.map.amount)]
            found = [-abs(each) if sign < 0 else each for each, sign in zip(amounts, signs, strict=True)]
        return [-each for each in found] if self.map.turned else found

    def _read(self, text: str) -> int:
        return bank_cents(text, self.currency, self.mark) if text else 0

    def _amounts(self) -> list[str]:
        columns = (self.map.amount, self.map.out, self.map.in_)
        return [text for each in columns if each is not None for text in self.column(each)]

    def _place(self, column: Column) -> int:
        if isinstance(column, int):
            if column <= self.width:
                return column - 1
            raise NotPossible(f"The file has {self.width} columns and no column {column}.", "Check the map.", "map")
        named = [place for place, each in enumerate(self.headings or ()) if name_key(each) == name_key(column)]
        if len(named) != 1:
            how_many = "no column" if not named else "several columns"
            raise NotPossible(
                f"The file has {how_many} «{clean(column)[:40]}».",
                "Name it as it stands in the first row, or by its number from 1.",
                "map",
            )
        return named[0]


def _first_break(balances: Sequence[int], lines: Sequence[BankLine]) -> int | None:
    """The first place whose balance does not follow from the one before, None where all do."""
    for place in range(1, len(balances)):
        if balances[place] != balances[place - 1] + lines[place].cents:
            return place
    return None


def _kept(text: str) -> str:
    return " ".join(clean(text).split())[:TEXT_LETTERS]
