"""OFX as banks write it, cut short in every place, and with what a parser lets through."""

from __future__ import annotations

from contextlib import suppress
from datetime import date

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ledger.errors import NotPossible, NotUnderstood, Refused
from tests.bank.files import HEADER, SIGNED_ON, ofx, ofx_line, read

COFFEE = ofx_line("20260113", "-4.50", "Coffee", "1")


def test_the_day_is_the_one_that_the_bank_wrote_whatever_its_zone() -> None:
    lines = [ofx_line(day, "-1.00", "x", day) for day in ("20261005230000[-5:EST]", "20261006", "20261007040000.123")]
    assert [each.day.day for each in read(ofx(lines)).lines] == [5, 6, 7]


def test_a_line_says_who_what_for_its_check_number_and_the_banks_own_name() -> None:
    more = "<CHECKNUM>1021<MEMO>Block &amp; border"
    line = read(ofx([ofx_line("20260113", "-4.50", "Caf\u00e9 &lt;North&gt;", "F-1", more)])).lines[0]
    assert (line.text, line.memo, line.number, line.bank_id, line.kind) == (
        "Café <North>",
        "Block & border",
        "1021",
        "F-1",
        "DEBIT",
    )


def test_an_empty_leaf_without_its_end_hides_nothing() -> None:
    line = ofx_line("20260113", "-4.50", "Shop", "1", "<MEMO>\r\n<CHECKNUM>\r\n")
    assert [each.text for each in read(ofx([line, COFFEE])).lines] == ["Shop", "Coffee"]


def test_a_decimal_comma_is_read_where_no_point_stands() -> None:
    assert read(ofx([ofx_line("20260113", "-1204,50", "x", "1")], ending="7,25")).lines[0].cents == -1_204_50


def test_the_file_says_its_currency_its_account_and_its_balance() -> None:
    file = read(ofx([COFFEE], number="12-345 4417", ending="100.29"))
    assert (file.account_ending, file.currency) == ("4417", "USD")
    assert file.ending is not None
    assert (file.ending.cents, file.ending.day) == (100_29, date(2026, 1, 31))


def test_utf8_under_a_header_that_says_something_else_is_read() -> None:
    content = ofx([ofx_line("20260113", "-4.50", "Caf\u00e9", "1")])
    utf8 = content.decode("cp1252").replace("CHARSET:1252", "CHARSET:NONE").encode("cp1252")
    assert read(utf8).lines[0].text == "Café"


@pytest.mark.parametrize(
    "header",
    [
        "<?xml version='1.0'?><?OFX OFXHEADER='200' VERSION='220' SECURITY='NONE'?>",
        "OFXHEADER:100\nDATA:OFXSGML\nVERSION:102\n",
        "\ufeffOFXHEADER:100\nDATA:OFXSGML\nVERSION:151\nSECURITY:NONE\nENCODING:UTF-8\nCHARSET:CSUNICODE\n"
        "COMPRESSION:NONE\nOLDFILEUID:NONE\nNEWFILEUID:NONE\n\n",
    ],
)
def test_a_header_that_the_standard_does_not_know_hides_no_statement(header: str) -> None:
    body = ofx([ofx_line("20260113", "-4.50", "Caf\u00e9", "1")]).decode("cp1252").removeprefix(HEADER)
    assert read((header + body).encode()).lines[0].text == "Café"


@pytest.mark.parametrize("amount", ["NaN", "1E+999", "Infinity", "9" * 40, "1.234", "", "--1", "1_000"])
def test_an_amount_that_is_none_refuses_the_file(amount: str) -> None:
    with pytest.raises(NotUnderstood):
        read(ofx([COFFEE, ofx_line("20260113", amount, "x", "2")]))


@pytest.mark.parametrize("day", ["", "2026", "20260230", "13/01/2026", "today", "20260113x", "00000000"])
def test_a_day_that_is_none_refuses_the_file(day: str) -> None:
    with pytest.raises(NotUnderstood):
        read(ofx([ofx_line(day, "-1.00", "x", "1")]))


def test_a_file_cut_off_anywhere_is_refused() -> None:
    whole = ofx([COFFEE, ofx_line("20260114", "-5.00", "Tea", "2")], ending="5.00")
    last = whole.rindex(b"</OFX>")
    for cut in range(0, last + 5, 3):
        with pytest.raises(Refused):
            read(whole[:cut])


def test_a_statement_in_another_currency_is_refused() -> None:
    with pytest.raises(NotPossible, match="in CAD"):
        read(ofx([COFFEE], currency="CAD"))


def test_an_account_number_that_does_not_fit_is_refused_until_it_is_said() -> None:
    with pytest.raises(NotPossible) as refused:
        read(ofx([COFFEE], number="0009999"), known="4417")
    assert (refused.value.field, "9999" in refused.value.what) == ("account", True)
    assert read(ofx([COFFEE], number="0009999"), known="4417", number="9999").account_ending == "9999"


def test_a_file_of_two_accounts_asks_which() -> None:
    both = ofx([COFFEE]).replace(
        b"<BANKMSGSRSV1>",
        b"<BANKMSGSRSV1><STMTTRNRS><TRNUID>1<STMTRS><CURDEF>USD<BANKACCTFROM><BANKID>1<ACCTID>7777<ACCTTYPE>SAVINGS"
        b"</BANKACCTFROM><BANKTRANLIST><STMTTRN><TRNTYPE>INT<DTPOSTED>20260131<TRNAMT>0.12<FITID>9<NAME>Interest"
        b"</STMTTRN></BANKTRANLIST></STMTRS></STMTTRNRS>",
    )
    with pytest.raises(NotPossible) as refused:
        read(both)
    assert refused.value.field == "number"
    assert [each.text for each in read(both, number="7777").lines] == ["Interest"]
    with pytest.raises(NotPossible):
        read(both, number="1111")


def test_a_file_without_a_bank_statement_is_refused() -> None:
    with pytest.raises(NotPossible, match="no statement"):
        read((HEADER + SIGNED_ON + "</OFX>").encode())


def test_a_line_dated_after_the_day_refuses_the_file() -> None:
    with pytest.raises(NotPossible) as refused:
        read(ofx([COFFEE]), today=date(2026, 1, 12))
    assert refused.value.field == "on"


def test_text_that_stands_as_it_is_is_read_and_one_without_an_end_refused() -> None:
    line = ofx_line("20260113", "-4.50", "<![CDATA[A & B <C>]]>", "1")
    assert read(ofx([line])).lines[0].text == "A & B <C>"
    with pytest.raises(NotUnderstood):
        read(ofx([ofx_line("20260113", "-4.50", "<![CDATA[A", "1")]))


@pytest.mark.parametrize("filling", [b"<A>" * 2_000_000, b"<A><![CDATA[" * 500_000, b"<" * 4_000_000, b" " * 4_000_000])
def test_a_file_made_to_take_long_is_refused_at_once(filling: bytes) -> None:
    with pytest.raises(Refused):
        read(HEADER.encode() + b"<OFX>" + filling + b"</OFX>")


def test_more_lines_than_a_workshop_has_are_refused() -> None:
    with pytest.raises(NotPossible, match="20001 lines"):
        read(ofx([COFFEE] * 20_001))


@settings(max_examples=150)
@given(st.data())
def test_a_damaged_file_is_read_or_refused_and_never_a_defect(data: st.DataObject) -> None:
    """Some bytes replaced, cut or doubled."""
    content = bytearray(ofx([COFFEE, ofx_line("20260114", "5.00", "Tea", "2")], ending="0.50"))
    for _ in range(data.draw(st.integers(1, 4))):
        place = data.draw(st.integers(0, len(content) - 1))
        length = data.draw(st.integers(0, 40))
        content[place : place + length] = data.draw(st.binary(max_size=12)) + content[place : place + length // 2]
    with suppress(Refused):
        assert read(bytes(content)).lines
