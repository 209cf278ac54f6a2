"""Read a bank's file into the books: all of its lines or none, each once, and match what the books have already."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from pathlib import Path

from ledger.bank.amounts import Mark
from ledger.bank.bank_file import BankFile, Preview, preview_of
from ledger.bank.csv_file import CsvSaid
from ledger.bank.csv_map import CsvMap, DateOrder, map_from_toml
from ledger.bank.matches import keep_found, read_lines
from ledger.bank.read_file import Expected, read_bank_file
from ledger.bank.standing import StandingLine, find_matches, read_standing
from ledger.bank.statements import (
    KeptStatement,
    Progress,
    add_statement,
    gap_before,
    new_lines,
    remember_map,
    remembered_map,
    remembered_number,
    statement_account,
)
from ledger.books.accounts import Account
from ledger.books.balances import read_accounts
from ledger.books.books import Books
from ledger.books.documents import attach, read_document
from ledger.books.transaction import Writing
from ledger.errors import NotPossible
from ledger.text import clean


@dataclass(frozen=True)
class ReadRequest:
    """account: by name. map_file, csv_map: which column of a CSV is what, where it was not said before.

    dates, decimal: what a CSV leaves open. number: the end of the account number, where the file has several accounts
    or a new number. keeps_file: its bytes are kept as a document.
    """

    file: Path
    account: str
    map_file: Path | None = None
    dates: DateOrder | None = None
    decimal: Mark | None = None
    number: str | None = None
    keeps_file: bool = True
    csv_map: CsvMap | None = None


@dataclass(frozen=True)
class Looked:
    """A file before anything of it is kept. fresh: how many of its lines the books do not have yet.

    gap: a sentence where its balance does not follow from the last one.
    """

    account: Account
    file: BankFile
    csv_map: CsvMap | None
    content: bytes
    preview: Preview
    fresh: int
    gap: str | None

    @property
    def is_of_the_household(self) -> bool:
        return self.account.purse == "personal"


@dataclass(frozen=True)
class ReadStatement:
    """lines: those that were new, as they stand now."""

    looked: Looked
    kept: KeptStatement
    lines: tuple[StandingLine, ...]


def preview(books: Books, request: ReadRequest) -> Looked:
    """What a file holds. Raises NotFound, NotUnderstood or NotPossible for one that is not read at all."""
    account = statement_account(read_accounts(books), request.account)
    content = read_document(request.file, "file", "Choose the file that your bank gave you.")
    expected = Expected(account.name, remembered_number(books, account), request.number)
    said = _said(books, account, request)
    file, used = read_bank_file(content, books.currency, said, expected, books.today)
    fresh = [line for line, _ in new_lines(books, account, file)]
    gap = gap_before(books, account, file, fresh)
    return Looked(account, file, used, content, preview_of(file), len(fresh), gap)


def perform(books: Books, request: ReadRequest, progress: Progress | None = None) -> ReadStatement:
    """Keep a file's new lines and match them. Raises as `preview` does, and NotPossible for a household account."""
    looked = preview(books, request)
    if looked.is_of_the_household:
        raise NotPossible(
            f"«{looked.account.name}» is the household's: its statement is looked through and not kept.",
            "Pick from it what was for the workshop, with «twopurse statement pick».",
            "account",
        )
    with books.writing() as write:
        document = hashlib.sha256(looked.content).hexdigest() if request.keeps_file else None
        label = clean(request.file.name)[:200] or "statement"
        kept = add_statement(books, write, looked.account, looked.file, label, document, progress)
        if kept.lines and document is not None:
            attach(books, write, looked.content, label, item=f"statement {kept.id}")
        if looked.csv_map is not None:
            remember_map(books, write, looked.account, looked.csv_map)
        if kept.lines:
            _match(books, write, looked.account)
        return ReadStatement(
            looked, kept, tuple(read_standing(books, looked.account, kept.lines)) if kept.lines else ()
        )


def look_again(books: Books, account_name: str | None = None) -> int:
    """Match open lines with what was entered since; how many found their entry. Raises NotFound, NotPossible."""
    accounts = read_accounts(books)
    named = statement_account(accounts, account_name) if account_name is not None else None
    with books.writing() as write:
        open_in = {each.account for each in read_lines(books, named, open_only=True)}
        return sum(_match(books, write, accounts.with_id(number)) for number in sorted(open_in))


def _match(books: Books, write: Writing, account: Account) -> int:
    """Keep what is certain of an account's open lines; how many that are."""
    lines = [each for each in read_lines(books, account, open_only=True) if each.state in ("open", "later")]
    certain = [each for each in find_matches(books, account, lines) if each.certain]
    keep_found(books, write, [(each.line.id, each.certain) for each in certain])
    return len(certain)


def _said(books: Books, account: Account, request: ReadRequest) -> CsvSaid:
    """The map that was given, else the one that is remembered, with what was said beside it."""
    if request.map_file is not None:
        known: CsvMap | None = map_from_toml(read_document(request.map_file, "map"))
    else:
        known = request.csv_map
    remembered = remembered_map(books, account) if known is None else None
    return CsvSaid(known or remembered, remembered is not None, request.dates, request.decimal)
