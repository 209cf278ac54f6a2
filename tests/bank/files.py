"""Files as banks write them, made from a few lines."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from pathlib import Path

from ledger.bank.bank_file import BankFile
from ledger.bank.csv_file import CsvSaid
from ledger.bank.csv_map import CsvMap
from ledger.bank.read_file import Expected, read_bank_file
from ledger.money import Currency

USD = Currency("USD", 2)
LATE = date(2027, 12, 31)
HEADER = (
    "OFXHEADER:100\r\nDATA:OFXSGML\r\nVERSION:102\r\nSECURITY:NONE\r\nENCODING:USASCII\r\nCHARSET:1252\r\n"
    "COMPRESSION:NONE\r\nOLDFILEUID:NONE\r\nNEWFILEUID:NONE\r\n\r\n"
)
SIGNED_ON = (
    "<OFX><SIGNONMSGSRSV1><SONRS><STATUS><CODE>0<SEVERITY>INFO</STATUS><DTSERVER>20260131"
    "<LANGUAGE>ENG</SONRS></SIGNONMSGSRSV1>"
)


def ofx_line(day: str, amount: str, words: str, bank_id: str = "", more: str = "") -> str:
    named = f"<FITID>{bank_id}" if bank_id else ""
    return f"<STMTTRN><TRNTYPE>DEBIT<DTPOSTED>{day}<TRNAMT>{amount}{named}{more}<NAME>{words}</STMTTRN>"


def ofx(
    lines: Iterable[str],
    *,
    number: str = "00004417",
    currency: str = "USD",
    ending: str = "",
    ends_on: str = "20260131",
) -> bytes:
    """A statement of a bank account in OFX 1.0.2, its leaves unclosed as SGML has them."""
    balance = f"<LEDGERBAL><BALAMT>{ending}<DTASOF>{ends_on}</LEDGERBAL>" if ending else ""
    body = (
        f"<BANKMSGSRSV1><STMTTRNRS><TRNUID>0<STATUS><CODE>0<SEVERITY>INFO</STATUS><STMTRS><CURDEF>{currency}"
        f"<BANKACCTFROM><BANKID>1<ACCTID>{number}<ACCTTYPE>CHECKING</BANKACCTFROM>"
        f"<BANKTRANLIST>{''.join(lines)}</BANKTRANLIST>{balance}</STMTRS></STMTTRNRS></BANKMSGSRSV1></OFX>\r\n"
    )
    return (HEADER + SIGNED_ON + body).encode("cp1252")


def csv(*rows: str, headings: str = "Date,Description,Amount") -> bytes:
    return "\n".join([headings, *rows, ""]).encode()


def read(
    content: bytes,
    *,
    csv_map: CsvMap | None = None,
    said: CsvSaid | None = None,
    known: str = "",
    number: str | None = None,
    today: date = LATE,
    currency: Currency = USD,
) -> BankFile:
    """The file as the program understands it."""
    return read_bank_file(content, currency, said or CsvSaid(csv_map), Expected("checking", known, number), today)[0]


def written(folder: Path, name: str, content: bytes) -> Path:
    path = folder / name
    path.write_bytes(content)
    return path
