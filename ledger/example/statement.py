"""The bank's word on the example: a month's statement, made from its entries, with what only the bank knows.

Checks take some days to reach the bank, checks of one day are paid in together, and the bank has a charge, a purchase
that was never entered and one of the household's.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from pathlib import Path

from ledger.bank.bank_file import BankFile, BankLine, Ending
from ledger.bank.matches import open_postings
from ledger.bank.matching import OpenPosting
from ledger.books.balances import balance, read_accounts
from ledger.books.books import Books
from ledger.money import Currency, plain_amount
from ledger.periods import Period, month_holding

_CHECK_DAYS = 3
_ELECTRONIC_DAYS = 1
_ACCOUNT_NUMBER = "000123454417"
# Day of the month, cents, words: what the bank has and the books do not.
_ONLY_THE_BANK = (
    (11, -23_75, "Thimble and Co web shop"),
    (19, -41_20, "Greengrocer on the square"),
    (28, -8_00, "Monthly service charge"),
)


@dataclass(frozen=True)
class ExampleStatement:
    """A month of checking. ending_cents: on its last day."""

    month: Period
    lines: tuple[BankLine, ...]
    ending_cents: int
    currency: Currency


def write_last_month(folder: Path, books: Books) -> list[Path]:
    """The last whole month's statement as the bank gives it, in OFX and in CSV; the books stay untouched."""
    month = month_holding(books.today.replace(day=1) - timedelta(days=1))
    statement = month_statement(books, month)
    folder.mkdir(parents=True, exist_ok=True)
    paths = [folder / f"checking-{month.label}.{ending}" for ending in ("ofx", "csv")]
    # OFX last: it wants no questions, and of two files the later one is offered first.
    paths[1].write_bytes(as_csv(statement))
    paths[0].write_bytes(as_ofx(statement))
    return paths


def month_statement(books: Books, month: Period) -> ExampleStatement:
    """What the bank sends for a month of the example's checking, from the entries that no line was matched with yet."""
    checking = read_accounts(books)["checking"]
    since = max(books.settings.begun_on, month.start - timedelta(days=_CHECK_DAYS))
    entered = [*_as_the_bank_has_it(open_postings(books, checking, since, month.end))]
    own = [BankLine(month.start.replace(day=day), cents, words, kind="OTHER") for day, cents, words in _ONLY_THE_BANK]
    lines = sorted(
        (each for each in (*entered, *own) if month.start <= each.day <= month.end),
        key=lambda each: (each.day, -each.cents, each.text),
    )
    late = sum(each.cents for each in entered if each.day > month.end)
    ending = balance(books, "checking", month.end) - late + sum(each.cents for each in own)
    named = tuple(
        BankLine(each.day, each.cents, each.text, each.memo, each.number, f"{month.start:%Y%m}{place:04d}", each.kind)
        for place, each in enumerate(lines, start=1)
    )
    return ExampleStatement(month, named, ending, books.currency)


def _as_the_bank_has_it(postings: Sequence[OpenPosting]) -> Iterator[BankLine]:
    """Checks of one day in one line, what a day's entry moved in one line, everything some days later."""
    paid_in: dict[date, list[OpenPosting]] = defaultdict(list)
    by_entry: dict[int, list[OpenPosting]] = defaultdict(list)
    for each in postings:
        if each.number and each.cents > 0:
            paid_in[each.day].append(each)
        else:
            by_entry[each.entry].append(each)
    for day, checks in paid_in.items():
        number = checks[0].number if len(checks) == 1 else ""
        words = "Deposit" if len(checks) == 1 else f"Deposit of {len(checks)} checks"
        yield BankLine(
            day + timedelta(days=_CHECK_DAYS), sum(each.cents for each in checks), words, number=number, kind="DEP"
        )
    for parts in by_entry.values():
        first, cents = parts[0], sum(each.cents for each in parts)
        if cents:
            kind = "CREDIT" if cents > 0 else "DEBIT"
            yield BankLine(first.day + timedelta(days=_ELECTRONIC_DAYS), cents, _words(first), kind=kind)


def _words(posting: OpenPosting) -> str:
    return (posting.who or posting.text).upper()[:32]


def as_read(statement: ExampleStatement) -> BankFile:
    """What is understood of it in OFX, without the library that reads it, which takes long to load."""
    ending = Ending(statement.ending_cents, statement.month.end)
    number, currency = _ACCOUNT_NUMBER[-4:], statement.currency.code
    return BankFile("ofx", statement.lines, number, currency, statement.month.start, statement.month.end, ending)


def as_csv(statement: ExampleStatement) -> bytes:
    """The statement as a bank writes it in CSV."""
    rows = ["Date,Description,Check Number,Amount,Balance"]
    running = statement.ending_cents - sum(each.cents for each in statement.lines)
    for each in statement.lines:
        running += each.cents
        amounts = (plain_amount(each.cents, statement.currency), plain_amount(running, statement.currency))
        quoted = each.text.replace('"', "'")
        rows.append(f'{each.day:%m/%d/%Y},"{quoted}",{each.number},{amounts[0]},{amounts[1]}')
    return ("\r\n".join(rows) + "\r\n").encode()


def as_ofx(statement: ExampleStatement) -> bytes:
    """The statement in OFX 1.0.2: a header of lines, then SGML."""
    head = (
        "OFXHEADER:100\r\nDATA:OFXSGML\r\nVERSION:102\r\nSECURITY:NONE\r\nENCODING:USASCII\r\nCHARSET:1252\r\n"
        "COMPRESSION:NONE\r\nOLDFILEUID:NONE\r\nNEWFILEUID:NONE\r\n\r\n"
    )
    month, ending = statement.month, plain_amount(statement.ending_cents, statement.currency)
    body = (
        "<OFX><SIGNONMSGSRSV1><SONRS><STATUS><CODE>0<SEVERITY>INFO</STATUS>"
        f"<DTSERVER>{month.end:%Y%m%d}<LANGUAGE>ENG</SONRS></SIGNONMSGSRSV1>\r\n"
        "<BANKMSGSRSV1><STMTTRNRS><TRNUID>0<STATUS><CODE>0<SEVERITY>INFO</STATUS><STMTRS>"
        f"<CURDEF>{statement.currency.code}<BANKACCTFROM><BANKID>000000000<ACCTID>{_ACCOUNT_NUMBER}"
        "<ACCTTYPE>CHECKING</BANKACCTFROM>\r\n"
        f"<BANKTRANLIST><DTSTART>{month.start:%Y%m%d}<DTEND>{month.end:%Y%m%d}\r\n"
        + "".join(_ofx_line(each, statement.currency) for each in statement.lines)
        + f"</BANKTRANLIST><LEDGERBAL><BALAMT>{ending}<DTASOF>{month.end:%Y%m%d}</LEDGERBAL>"
        "</STMTRS></STMTTRNRS></BANKMSGSRSV1></OFX>\r\n"
    )
    return (head + body).encode("cp1252", "replace")


def _ofx_line(line: BankLine, currency: Currency) -> str:
    name = line.text.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")
    number = f"<CHECKNUM>{line.number}" if line.number else ""
    return (
        f"<STMTTRN><TRNTYPE>{line.kind}<DTPOSTED>{line.day:%Y%m%d}120000[-6:CST]"
        f"<TRNAMT>{plain_amount(line.cents, currency)}<FITID>{line.bank_id}{number}<NAME>{name}</STMTTRN>\r\n"
    )
