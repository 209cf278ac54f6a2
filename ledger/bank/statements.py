"""Statements in the books: their lines, each kept once however often a file is read, and the map of a CSV."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import date

from ledger.bank.bank_file import BankFile, BankLine, Ending
from ledger.bank.csv_map import CsvMap, map_as_json, map_from_json
from ledger.bank.identity import Identity, identities
from ledger.bank.text_keys import text_key
from ledger.books.accounts import Account, Accounts
from ledger.books.books import Books
from ledger.books.transaction import Writing
from ledger.errors import NotPossible

# Accounts that a bank or a card company sends a statement of; the cash box is counted.
STATEMENT_ROLES = ("checking", "tax_savings", "workshop_card", "household_checking", "personal_card")
# How often progress is told while lines are kept.
_TELL_EVERY = 200

Progress = Callable[[int, int], None]


@dataclass(frozen=True)
class KeptStatement:
    """A statement as it was added. lines: the ids of those that were new. repeats: how many may be lines of before."""

    id: int
    lines: tuple[int, ...]
    already: int
    repeats: int


def statement_account(accounts: Accounts, name: str, field: str = "account") -> Account:
    """An account that has statements, by its name. Raises NotFound, NotPossible."""
    account = accounts.named(name, field)
    if account.role in STATEMENT_ROLES:
        return account
    if account.role == "cash_box":
        raise NotPossible("The cash box has no statement.", "Count it, with «twopurse statement count».", field)
    raise NotPossible(
        f"No bank sends a statement of «{account.name}».",
        "Choose checking, tax savings, the workshop card, household checking or the personal card.",
        field,
    )


def remembered_map(books: Books, account: Account) -> CsvMap | None:
    kept = books.value("select map from statement_map where account = ? order by id desc limit 1", (account.id,))
    return None if kept is None else map_from_json(kept)


def remember_map(books: Books, write: Writing, account: Account, csv_map: CsvMap) -> None:
    """Keep a map for the account's next files, where it is another one than before."""
    kept = map_as_json(csv_map)
    if (known := remembered_map(books, account)) is None or map_as_json(known) != kept:
        write.add("statement_map", account=account.id, map=kept, on_date=books.today.isoformat())


def remembered_number(books: Books, account: Account) -> str:
    """The last signs of the account's number as its latest file had them, empty where none had."""
    return str(
        books.value(
            "select number_ending from statement where account = ? and number_ending is not null "
            "order by id desc limit 1",
            (account.id,),
        )
        or ""
    )


def new_lines(books: Books, account: Account, file: BankFile) -> list[tuple[BankLine, Identity]]:
    """The lines of a file that are not in the books yet."""
    known = {
        (row["bank_id"], row["digest"], row["occurrence"])
        for row in books.rows(
            "select bank_id, digest, occurrence from statement_line where account = ? and date between ? and ?",
            (account.id, min(each.day for each in file.lines).isoformat(), file.last_day.isoformat()),
        )
    }
    named = zip(file.lines, identities(file.lines), strict=True)
    return [(line, each) for line, each in named if (each.bank_id, each.digest, each.occurrence) not in known]


def add_statement(
    books: Books,
    write: Writing,
    account: Account,
    file: BankFile,
    label: str,
    document: str | None,
    progress: Progress | None = None,
) -> KeptStatement:
    """Keep a file's new lines. Where every line is known already nothing is written: the id is then 0."""
    fresh = new_lines(books, account, file)
    already = len(file.lines) - len(fresh)
    if not fresh:
        return KeptStatement(0, (), already, 0)
    ending = file.ending
    statement = write.add(
        "statement",
        account=account.id,
        form=file.form,
        label=label,
        document=document,
        number_ending=file.account_ending or None,
        first_date=file.first_day.isoformat(),
        last_date=file.last_day.isoformat(),
        ending=ending.cents if ending else None,
        ending_date=(ending.day or file.last_day).isoformat() if ending else None,
        on_date=books.today.isoformat(),
    )
    repeated = _Repeated(books, account, file)
    ids: list[int] = []
    for place in range(0, len(fresh), _TELL_EVERY):
        part = fresh[place : place + _TELL_EVERY]
        rows = [_row(statement, account, line, each, repeated.line_like(line)) for line, each in part]
        ids += write.add_all("statement_line", rows)
        if progress is not None:
            progress(len(ids), len(fresh))
    return KeptStatement(statement, tuple(ids), already, repeated.found)


def add_line(write: Writing, statement: int, account: Account, line: BankLine, identity: Identity) -> int:
    """A line of a statement; its id."""
    return write.add("statement_line", **_row(statement, account, line, identity, None))


def _row(
    statement: int, account: Account, line: BankLine, identity: Identity, repeats: int | None
) -> dict[str, str | int | None]:
    return {
        "statement": statement,
        "account": account.id,
        "date": line.day.isoformat(),
        "cents": line.cents,
        "text": line.text,
        "memo": line.memo,
        "check_number": line.number,
        "kind": line.kind,
        "bank_id": identity.bank_id,
        "digest": identity.digest,
        "occurrence": identity.occurrence,
        "text_key": text_key(line.words),
        "repeats": repeats,
    }


def add_picked_statement(write: Writing, books: Books, account: Account, line: BankLine) -> int:
    """What stands above a line that was picked from a household statement: nothing of the rest of the file."""
    day = line.day.isoformat()
    return write.add(
        "statement",
        account=account.id,
        form="picked",
        label="picked from a statement",
        first_date=day,
        last_date=day,
        on_date=books.today.isoformat(),
    )


def gap_before(books: Books, account: Account, file: BankFile, fresh: Iterable[BankLine]) -> str | None:
    """A sentence where a file's balance is not the last one with all lines since: a line is missing, or too many.

    fresh: the lines of the file that are not in the books yet.
    """
    if file.ending is None or file.ending.day is None:
        return None
    until = file.ending.day
    last = books.row(
        "select ending_date, ending from statement where account = ? and ending is not null and ending_date < ? "
        "order by ending_date desc, id desc limit 1",
        (account.id, until.isoformat()),
    )
    if last is None:
        return None
    since = date.fromisoformat(last["ending_date"])
    moved = books.value(
        "select coalesce(sum(cents), 0) from statement_line where account = ? and repeats is null "
        "and date > ? and date <= ?",
        (account.id, since.isoformat(), until.isoformat()),
    )
    moved += sum(each.cents for each in fresh if since < each.day <= until)
    if last["ending"] + moved == file.ending.cents:
        return None
    return (
        f"The balance on {until} is not that of {since} with the lines since: a line is missing, or one is there twice."
    )


class _Repeated:
    """Lines of other files with the same day and amount, so that a month read in two forms is seen."""

    def __init__(self, books: Books, account: Account, file: BankFile) -> None:
        self.found = 0
        self._same: dict[tuple[str, int], list[int]] = {}
        in_this_file = set(identities(file.lines))
        rows = books.rows(
            "select id, date, cents, bank_id, digest, occurrence from statement_line "
            "where account = ? and date between ? and ? order by id",
            (account.id, min(each.day for each in file.lines).isoformat(), file.last_day.isoformat()),
        )
        for row in rows:
            # What this file has too is no other line: it is this very one.
            if Identity(row["bank_id"], row["digest"], row["occurrence"]) not in in_this_file:
                self._same.setdefault((row["date"], row["cents"]), []).append(row["id"])

    def line_like(self, line: BankLine) -> int | None:
        """The line that this one may be once more; each is told of once."""
        same = self._same.get((line.day.isoformat(), line.cents))
        if not same:
            return None
        self.found += 1
        return same.pop(0)


def first_covered_day(books: Books, account: Account) -> date | None:
    """The first day of the account's first statement, None where there is none. What is older has no statement."""
    first = books.value("select min(first_date) from statement where account = ? and form <> 'picked'", (account.id,))
    return None if first is None else date.fromisoformat(first)


def last_ending(books: Books, account: Account) -> Ending | None:
    """The balance that the account's latest statement ended with, None where none has one."""
    row = books.row(
        "select ending, ending_date from statement where account = ? and ending is not null and ending_date <= ? "
        "order by ending_date desc, id desc limit 1",
        (account.id, books.today.isoformat()),
    )
    return None if row is None else Ending(row["ending"], date.fromisoformat(row["ending_date"]))
