"""The bank's statements of checking: read, placed and agreed in the months before the last one."""

from __future__ import annotations

import tempfile
from pathlib import Path

from ledger.actions import agree, place_line, read_statement
from ledger.actions.book_line import PlaceRequest
from ledger.bank.standing import StandingLine
from ledger.books.books import Books
from ledger.example.data_files import read
from ledger.example.diary import Act, Diary
from ledger.example.statement import ExampleStatement, as_ofx, month_statement
from ledger.example.working_days import WorkingDays
from ledger.periods import Period


def statements(diary: Diary, days: WorkingDays) -> None:
    """Write the evenings with a statement into the diary."""
    told = read("bank")
    for month in told["months"]:
        diary.write(days.in_month(month + 1, told["read_on_day"]), _evening(days.month(month)))


def _evening(month: Period) -> Act:
    def act(books: Books) -> None:
        statement = month_statement(books, month)
        for line in _read(books, statement):
            if line.state == "new":
                place_line.perform(books, _placed(line.line.id, line.line.text))
        request = agree.AgreeRequest(read("bank")["account"], statement.ending_cents, day=month.end)
        agreed = agree.perform(books, request)
        assert agreed.number is not None, f"checking agrees with its statement of {month.label}"

    return act


def _read(books: Books, statement: ExampleStatement) -> tuple[StandingLine, ...]:
    with tempfile.TemporaryDirectory(prefix="twopurse-") as scratch:
        file = Path(scratch) / f"checking-{statement.month.label}.ofx"
        file.write_bytes(as_ofx(statement))
        return read_statement.perform(books, read_statement.ReadRequest(file, read("bank")["account"])).lines


def _placed(line: int, text: str) -> PlaceRequest:
    told = next(each for each in read("bank")["placed"] if each["words"] == text)
    return PlaceRequest(line, told["way"], told.get("name", ""))
