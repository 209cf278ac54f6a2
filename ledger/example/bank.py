"""The bank's statements of checking: read, placed and agreed in the months before the last one."""

from __future__ import annotations

import hashlib

from ledger.actions import agree, place_line, read_statement
from ledger.actions.book_line import PlaceRequest
from ledger.bank.standing import StandingLine, read_standing
from ledger.bank.statements import add_statement, statement_account
from ledger.books.balances import read_accounts
from ledger.books.books import Books
from ledger.books.documents import attach
from ledger.example.data_files import read
from ledger.example.diary import Act, Diary
from ledger.example.statement import ExampleStatement, as_ofx, as_read, month_statement
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


def _read(books: Books, statement: ExampleStatement) -> list[StandingLine]:
    """The statement kept with its file, and matched; its lines."""
    content, label = as_ofx(statement), f"checking-{statement.month.label}.ofx"
    account = statement_account(read_accounts(books), read("bank")["account"])
    with books.writing() as write:
        digest = hashlib.sha256(content).hexdigest()
        kept = add_statement(books, write, account, as_read(statement), label, digest)
        attach(books, write, content, label, item=f"statement {kept.id}")
        read_statement.look_again(books, account.name)
    return read_standing(books, account, kept.lines)


def _placed(line: int, text: str) -> PlaceRequest:
    told = next(each for each in read("bank")["placed"] if each["words"] == text)
    return PlaceRequest(line, told["way"], told.get("name", ""))
