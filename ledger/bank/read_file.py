"""Read a bank's file, whichever it is, and hold it against the account that it is said to be of."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from ledger.bank.bank_file import MOST_BYTES, BankFile
from ledger.bank.csv_file import CsvSaid, read_csv
from ledger.bank.csv_map import CsvMap
from ledger.bank.file_text import is_ofx
from ledger.bank.ofx import read_ofx
from ledger.errors import NotPossible
from ledger.money import Currency


@dataclass(frozen=True)
class Expected:
    """What is known of the account. number_ending: as its last file had it, empty where none had.

    number: the end of the account number that she says the file has.
    """

    name: str
    number_ending: str = ""
    number: str | None = None


def read_bank_file(
    content: bytes, currency: Currency, said: CsvSaid, expected: Expected, today: date
) -> tuple[BankFile, CsvMap | None]:
    """The file, and the map where it is CSV. Raises NotUnderstood or NotPossible, and then nothing of it is kept."""
    used: CsvMap | None = None
    if len(content) > MOST_BYTES:
        raise NotPossible(
            f"The file is larger than {MOST_BYTES // 1024 // 1024} MB.", "Ask the bank for fewer days.", "file"
        )
    if is_ofx(content):
        file = read_ofx(content, currency, expected.number)
    else:
        file, used = read_csv(content, currency, said)
    _check(file, expected, today)
    return file, used


def _check(file: BankFile, expected: Expected, today: date) -> None:
    if not file.lines:
        raise NotPossible("The file has no line with an amount.", "Choose a span of days with lines in it.", "file")
    late = next((each for each in file.lines if each.day > today), None)
    if late is not None:
        raise NotPossible(
            f"A line is dated {late.day}, which is after {today}.",
            "Check the order of day and month, or give a later day with --on.",
            "on",
        )
    known, found = expected.number_ending, file.account_ending
    if known and found and known != found and expected.number != found:
        raise NotPossible(
            f"The file is of an account that ends in {found}; «{expected.name}» ends in {known}.",
            f"Choose another account, or say --number {found} if the bank gave it a new number.",
            "account",
        )
