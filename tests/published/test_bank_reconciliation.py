"""A published bank reconciliation entered line by line, and published OFX files read value by value."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest

from ledger.actions import agree, place_line, read_statement, reverse
from ledger.actions.book_line import PlaceRequest
from ledger.bank.bank_file import BankLine, Ending
from ledger.books.books import Books
from ledger.books.prove import prove
from ledger.money import Currency, plain_amount
from tests.bank.files import USD, csv, read
from tests.workshop import balance_of, begin, lines_of, on_day, spent, transferred, written

pytestmark = pytest.mark.published

# IRS Publication 583, Starting a Business and Keeping Records, sample record system, «Bank Reconciliation as of January
# 31» (edition of 2006, where the figure is set out in words; other editions print the same values): closing balance
# 1,458.12; deposits not credited 1/28 701.33 and 1/31 516.08; checks outstanding 90 66.70, 91 9.80, 94 150.00,
# 95 300.00, in all 526.50; adjusted 2,149.03. Checkbook 2,153.03; deposit of 600.40 for 1/8 entered as 594.40; bank
# charge 10.00; adjusted 2,149.03. The days of the checks are not printed there: they are ours.
CLOSING, ADJUSTED, CHECKBOOK = "1458.12", 2_149_03, 2_153_03
IN_TRANSIT = ((28, "701.33"), (31, "516.08"))
OUTSTANDING = (("90", "66.70"), ("91", "9.80"), ("94", "150.00"), ("95", "300.00"))
FIRST, LAST = date(2026, 1, 1), date(2026, 1, 31)


@pytest.fixture
def books(tmp_path: Path) -> Iterator[Books]:
    """The checkbook as it stood: what stands there from before January makes its balance up."""
    others = 594_40 + 701_33 + 516_08 - 526_50
    books = begin(tmp_path / "books", FIRST, opening_cents=CHECKBOOK - others)
    transferred(on_day(books, date(2026, 1, 8)), "put-in", "594.40", "household checking", "checking")
    for number, amount in OUTSTANDING:
        spent(on_day(books, date(2026, 1, 25)), amount, "thread", "checking", why=f"Check {number}")
    for day, amount in IN_TRANSIT:
        transferred(on_day(books, date(2026, 1, day)), "put-in", amount, "household checking", "checking")
    yield on_day(books, LAST)
    books.close()


def test_the_published_reconciliation_agrees_at_2149_03(books: Books, tmp_path: Path) -> None:
    assert balance_of(books, "checking") == CHECKBOOK
    statement = tmp_path / "january.csv"
    statement.write_bytes(csv("2026-01-08,Deposit,600.40", "2026-01-31,Service charge,-10.00"))
    read_statement.perform(books, read_statement.ReadRequest(statement, "checking"))
    request = agree.AgreeRequest("checking", 1_458_12, day=LAST)
    before = agree.perform(books, request)
    # Neither line of the bank is in the books yet, and the mistaken deposit is one that the bank never saw.
    assert (before.number, before.found.difference_cents) == (None, 600_40 - 10_00)
    assert any("Entry 2 and line 1" in each for each in before.behind), "the digit that is wrong is pointed at"
    # The transposition: the entry is reversed and entered again, 6.00 more; then the charge.
    reverse.perform(books, reverse.ReverseRequest(2, "600.40 entered as 594.40"))
    again = transferred(on_day(books, date(2026, 1, 8)), "put-in", "600.40", "household checking", "checking")
    assert balance_of(books, "checking") == CHECKBOOK + 6_00
    place_line.perform(books, PlaceRequest(1, "entry", entries=(again,)))
    charge = place_line.perform(books, PlaceRequest(2, "category", "bank charges"))
    assert lines_of(books, charge.booked[0]) == written("bank charges 10.00", "checking -10.00")
    after = agree.perform(books, request)
    found = after.found
    assert [each.cents for each in found.in_transit] == [701_33, 516_08]
    assert [each.cents for each in found.outstanding] == [-66_70, -9_80, -150_00, -300_00]
    assert (found.in_transit_cents, found.outstanding_cents) == (1_217_41, 526_50)
    assert (found.adjusted_cents, found.balance_cents, found.difference_cents) == (ADJUSTED, ADJUSTED, 0)
    assert after.number is not None
    assert after.text is not None
    assert "2,149.03" in after.text.read_text(encoding="utf-8")
    assert prove(books).ok


# Open Financial Exchange 2, section 11.14.1, the response of the first example, as ofxtools prints it in
# tests/test_spec_bank.py and, without a header, in tests/stmtrs.ofx. Written here in our own layout.
SPEC = (
    "<OFX><SIGNONMSGSRSV1><SONRS><STATUS><CODE>0</CODE><SEVERITY>INFO</SEVERITY></STATUS>"
    "<DTSERVER>20051029101003.000[+0:UTC]</DTSERVER><LANGUAGE>ENG</LANGUAGE><FI><ORG>NCH</ORG><FID>1001</FID></FI>"
    "</SONRS></SIGNONMSGSRSV1><BANKMSGSRSV1><STMTTRNRS><TRNUID>1001</TRNUID><STATUS><CODE>0</CODE>"
    "<SEVERITY>INFO</SEVERITY></STATUS><STMTRS><CURDEF>USD</CURDEF><BANKACCTFROM><BANKID>121099999</BANKID>"
    "<ACCTID>999988</ACCTID><ACCTTYPE>CHECKING</ACCTTYPE></BANKACCTFROM><BANKTRANLIST>"
    "<DTSTART>20051001000000.000[+0:UTC]</DTSTART><DTEND>20051028000000.000[+0:UTC]</DTEND>"
    "<STMTTRN><TRNTYPE>CHECK</TRNTYPE><DTPOSTED>20051004000000.000[+0:UTC]</DTPOSTED><TRNAMT>-200.00</TRNAMT>"
    "<FITID>00002</FITID><CHECKNUM>1000</CHECKNUM></STMTTRN>"
    "<STMTTRN><TRNTYPE>ATM</TRNTYPE><DTPOSTED>20051020000000.000[+0:UTC]</DTPOSTED>"
    "<DTUSER>20051020000000.000[+0:UTC]</DTUSER><TRNAMT>-300.00</TRNAMT><FITID>00003</FITID></STMTTRN></BANKTRANLIST>"
    "<LEDGERBAL><BALAMT>200.29</BALAMT><DTASOF>20051029112000.000[+0:UTC]</DTASOF></LEDGERBAL>"
    "<AVAILBAL><BALAMT>200.29</BALAMT><DTASOF>20051029112000.000[+0:UTC]</DTASOF></AVAILBAL>"
    "</STMTRS></STMTTRNRS></BANKMSGSRSV1></OFX>"
)
XML_HEADER = (
    '<?xml version="1.0" encoding="UTF-8"?>'
    '<?OFX OFXHEADER="200" VERSION="211" SECURITY="NONE" OLDFILEUID="NONE" NEWFILEUID="NONE"?>'
)
# ofxtools, tests/data/br_nubank_cc.ofx: six lines of a card in SGML, in Brazilian reals, whose list of lines has no
# end. Its days and amounts; the balance is -1280.91 at 25 March 2024.
CARD_LINES = (("23", "13.00"), ("23", "162.90"), ("23", "33.46"), ("22", "9.02"), ("22", "103.53"), ("22", "959.00"))


@pytest.mark.parametrize("header", ["", XML_HEADER])
def test_the_example_of_the_specification_is_read_value_by_value(header: str) -> None:
    file = read((header + SPEC).encode())
    assert file.lines == (
        BankLine(date(2005, 10, 4), -200_00, "CHECK", "", "1000", "00002", "CHECK"),
        BankLine(date(2005, 10, 20), -300_00, "ATM", "", "", "00003", "ATM"),
    )
    assert (file.account_ending, file.currency) == ("9988", "USD")
    assert (file.start, file.end) == (date(2005, 10, 1), date(2005, 10, 28))
    assert file.ending == Ending(200_29, date(2005, 10, 29))


def test_a_card_statement_of_the_librarys_tests_is_read_value_by_value() -> None:
    lines = "\n".join(
        f"<STMTTRN>\n<TRNTYPE>DEBIT\n<DTPOSTED>202403{day}000000[-3:GMT]\n<TRNAMT>-{amount}\n<FITID>{place}\n"
        "<MEMO>-memo-message-\n</STMTTRN>\n"
        for place, (day, amount) in enumerate(CARD_LINES)
    )
    content = (
        "OFXHEADER:100\nDATA:OFXSGML\nVERSION:102\nSECURITY:NONE\nENCODING:USASCII\nCHARSET:1252\nCOMPRESSION:NONE\n"
        "OLDFILEUID:NONE\nNEWFILEUID:NONE\n<OFX>\n<SIGNONMSGSRSV1>\n<SONRS>\n<STATUS>\n<CODE>0\n<SEVERITY>INFO\n"
        "</STATUS>\n\n<DTSERVER>20240402000000[-3:GMT]\n<LANGUAGE>POR\n</SONRS>\n</SIGNONMSGSRSV1>\n\n"
        "<CREDITCARDMSGSRSV1>\n<CCSTMTTRNRS>\n<TRNUID>1001\n<STATUS>\n<CODE>0\n<SEVERITY>INFO\n</STATUS>\n\n<CCSTMTRS>\n"
        "<CURDEF>BRL\n<CCACCTFROM>\n<ACCTID>11111111-UUID-UUID-UUID-111111111111\n</CCACCTFROM>\n\n<BANKTRANLIST>\n"
        f"<DTSTART>20240224000000[-3:GMT]\n<DTEND>20240326000000[-3:GMT]\n{lines}<LEDGERBAL>\n<BALAMT>-1280.91\n"
        "<DTASOF>20240325000000[-3:GMT]\n</LEDGERBAL>\n</CCSTMTRS>\n</CCSTMTTRNRS>\n</CREDITCARDMSGSRSV1>\n</OFX>\n"
    )
    file = read(content.encode("cp1252"), currency=Currency("BRL", 2))
    assert [(f"{each.day:%d}", plain_amount(-each.cents, USD)) for each in file.lines] == list(CARD_LINES)
    assert sum(each.cents for each in file.lines) == -1_280_91
    assert file.ending == Ending(-1_280_91, date(2024, 3, 25))
    assert {each.text for each in file.lines} == {"-memo-message-"}
