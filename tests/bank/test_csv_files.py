"""CSV as banks write it: columns by heading or map, orders and signs, encodings, and files that are refused whole."""

from __future__ import annotations

from datetime import date

import pytest

from ledger.bank.bank_file import preview_of
from ledger.bank.csv_file import CsvSaid, read_csv
from ledger.bank.csv_map import CsvMap, map_as_json, map_from_json, map_from_toml
from ledger.errors import NotPossible, NotUnderstood, Refused
from tests.bank.files import USD, csv, read

GERMAN = "Buchung;Text;Soll;Haben\n13.01.2026;Garn für die Küche;1.204,50;\n12.01.2026;Scheck;;3,00\n"
GERMAN_MAP = map_from_toml(b'date = "Buchung"\ntext = "Text"\nout = "Soll"\nin = "Haben"')


def cents_of(content: bytes, csv_map: CsvMap | None = None) -> list[int]:
    return [each.cents for each in read(content, csv_map=csv_map).lines]


def test_usual_headings_need_no_map() -> None:
    file = read(csv("01/13/2026,Corner shop,-4.50", '01/14/2026,"Guild, of quilters","1,200.00"'))
    assert [(each.day, each.cents, each.text) for each in file.lines] == [
        (date(2026, 1, 13), -4_50, "Corner shop"),
        (date(2026, 1, 14), 1_200_00, "Guild, of quilters"),
    ]


def test_what_is_shown_before_anything_is_kept_counts_rows_days_and_both_signs() -> None:
    shown = preview_of(read(csv("01/13/2026,A,-4.50", "01/20/2026,B,10.00", "01/14/2026,C,-1.00")))
    assert (shown.rows, shown.first_day, shown.last_day) == (3, date(2026, 1, 13), date(2026, 1, 20))
    assert (shown.in_rows, shown.in_cents, shown.out_rows, shown.out_cents) == (1, 10_00, 2, 5_50)


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "cp1252", "utf-16", "utf-16-le"])
def test_every_encoding_that_banks_use_is_read(encoding: str) -> None:
    lines = read(GERMAN.encode(encoding), csv_map=GERMAN_MAP).lines
    assert [(each.cents, each.text) for each in lines] == [(-1_204_50, "Garn für die Küche"), (3_00, "Scheck")]


def test_two_columns_are_what_went_out_and_what_came_in_with_or_without_a_minus() -> None:
    headings = "Date,Description,Debit,Credit"
    assert cents_of(csv("2026-01-02,A,5.00,", "2026-01-03,B,-6.00,", "2026-01-04,C,,7.00", headings=headings)) == [
        -5_00,
        -6_00,
        7_00,
    ]


def test_a_word_beside_the_amount_gives_the_sign() -> None:
    csv_map = map_from_toml(b'date="D"\ntext="T"\namount="A"\ndirection="W"\nout_words=["debit"]')
    assert cents_of(csv("2026-01-02,x,5.00,Debit", "2026-01-03,y,6.00,Credit", headings="D,T,A,W"), csv_map) == [
        -5_00,
        6_00,
    ]


def test_a_column_of_debit_and_credit_is_known_by_what_stands_in_it() -> None:
    headings = "Date,Description,Type,Amount"
    assert cents_of(csv("2026-01-02,x,Debit,5.00", "2026-01-03,y,credit,6.00", headings=headings)) == [-5_00, 6_00]
    assert cents_of(csv("2026-01-02,x,DR,-5.00", "2026-01-03,y,CR,6.00", headings=headings)) == [-5_00, 6_00]
    assert cents_of(csv("2026-01-02,x,POS,-5.00", "2026-01-03,y,Debit,6.00", headings=headings)) == [-5_00, 6_00]


def test_a_card_that_shows_purchases_above_zero_is_turned() -> None:
    csv_map = map_from_toml(b'date="Date"\ntext="Description"\namount="Amount"\nturned=true')
    assert cents_of(csv("2026-01-02,x,5.00"), csv_map) == [-5_00]


def test_columns_are_named_by_number_below_lines_to_skip() -> None:
    csv_map = map_from_toml(b'date = 1\ntext = [3, 2]\namount = 4\nskip = 1\nheadings = false\ndelimiter = ";"')
    lines = read(b"My bank;;;\n2026-01-02;memo;shop;5.00\n", csv_map=csv_map).lines
    assert [(each.text, each.memo, each.cents) for each in lines] == [("shop", "memo", 5_00)]


def test_a_map_may_use_other_words_and_a_group() -> None:
    csv_map = map_from_toml(
        b'[columns]\ndate="D"\ndescription="T"\ndebit="O"\ncredit="I"\n[format]\ndate_format="DD.MM.YYYY"\ndecimal_mark=","'
    )
    assert (csv_map.dates, csv_map.decimal, csv_map.out, csv_map.in_) == ("dmy", ",", "O", "I")


def test_a_map_is_remembered_with_what_the_file_showed() -> None:
    settled = read_csv(csv("01/13/2026,A,-4.50"), USD, CsvSaid())[1]
    assert (settled.dates, settled.decimal) == ("mdy", ".")
    assert map_from_json(map_as_json(settled)) == settled
    # The next file by itself would leave the order open.
    assert read(csv("01/02/2026,A,-4.50"), csv_map=settled).lines[0].day == date(2026, 1, 2)


def test_dates_that_fit_both_orders_are_asked_for() -> None:
    with pytest.raises(NotUnderstood) as refused:
        read(csv("01/02/2026,A,-4.50", "03/04/2026,B,1.00"))
    assert refused.value.field == "dates"
    assert read(csv("01/02/2026,A,-4.50"), said=CsvSaid(dates="dmy")).lines[0].day == date(2026, 2, 1)


def test_amounts_that_fit_both_signs_are_asked_for() -> None:
    rows = csv('2026-01-02,A,"1,204"', '2026-01-03,B,"2,500"')
    with pytest.raises(NotUnderstood) as refused:
        read(rows)
    assert refused.value.field == "decimal"
    assert [each.cents for each in read(rows, said=CsvSaid(decimal=".")).lines] == [1_204_00, 2_500_00]


def test_balances_follow_from_line_to_line_in_either_order_and_give_the_ending() -> None:
    headings = "Date,Description,Amount,Balance"
    down = csv("2026-01-02,A,-5.00,95.00", "2026-01-03,B,10.00,105.00", headings=headings)
    up = csv("2026-01-03,B,10.00,105.00", "2026-01-02,A,-5.00,95.00", headings=headings)
    for file in (read(down), read(up)):
        assert file.ending is not None
        assert (file.ending.cents, file.ending.day) == (105_00, date(2026, 1, 3))
    with pytest.raises(NotUnderstood, match="balance in line 2"):
        read(csv("2026-01-02,A,-5.00,95.00", "2026-01-03,B,10.00,100.00", headings=headings))


def test_a_line_without_an_amount_is_counted_and_not_kept() -> None:
    file = read(csv("2026-01-02,A,-5.00", "2026-01-02,A note,0.00"))
    assert (len(file.lines), file.without_amount) == (1, 1)


def test_text_from_a_bank_is_made_safe_and_cut() -> None:
    line = read(csv(f'2026-01-02,"=cmd|\x1b[31m\u202e{"x" * 300}",-5.00')).lines[0]
    assert "\x1b" not in line.text
    assert "\u202e" not in line.text
    assert len(line.text) == 200


@pytest.mark.parametrize(
    "content",
    [
        b"",
        b"\n\n",
        b"Date,Description,Amount\n",
        csv("2026-01-02,A,-5.00", "2026-01-03,B"),
        csv("2026-01-02,A,-5.00", "2026-01-03,B,1.00,more"),
        csv('2026-01-02,"A,-5.00', "2026-01-03,B,1.00"),
        csv("2026-01-02,A,NaN"),
        csv("2026-01-02,A,1E+999"),
        csv("2026-02-30,A,1.00"),
        csv("2026-01-02,A,ten"),
        csv("2026-01-02,A,0.00"),
        csv("A,B", headings="When,What"),
        csv("2026-01-02,A\0,1.00"),
        b"\xff\xfe\xff",
        b"\x81\x8d\x8f" * 20,
        b"PK\x03\x04" + b"\0\1\2" * 50,
        csv("2026-01-02,A,1.00", headings="Date,Date,Amount"),
        csv("2026-01-02,A,1.00", "02/01/2026,B,1.00"),
    ],
)
def test_a_file_that_cannot_be_read_through_is_refused_whole(content: bytes) -> None:
    with pytest.raises(Refused) as refused:
        read(content)
    assert refused.value.what.endswith(".")
    assert refused.value.do.endswith(".")


@pytest.mark.parametrize(
    "toml",
    [
        b"",
        b"date = ",
        b'date = "D"',
        b'date = "D"\ntext = "T"',
        b'date = "D"\ntext = "T"\namount = "A"\nout = "O"',
        b'date = "D"\ntext = "T"\namount = 0',
        b'date = true\ntext = "T"\namount = "A"',
        b'date = "D"\ntext = "T"\namount = "A"\ndates = "mmm"',
        b'date = "D"\ntext = "T"\namount = "A"\nskip = -1',
        b'date = "D"\ntext = "T"\namount = "A"\ncolour = "blue"',
        b'date = "D"\ntext = "T"\namount = "A"\nencoding = "utf-7"',
        b'date = "D"\ntext = "T"\namount = "A"\ndelimiter = "x"',
        b'date = "D"\ntext = "T"\namount = "A"\nout_words = "debit"',
    ],
)
def test_a_map_with_a_mistake_is_refused_by_its_field(toml: bytes) -> None:
    with pytest.raises(NotUnderstood) as refused:
        map_from_toml(toml)
    assert refused.value.field == "map"


def test_a_column_that_is_not_there_is_named() -> None:
    csv_map = map_from_toml(b'date="Date"\ntext="Description"\namount="Sum"')
    with pytest.raises(NotPossible, match="no column «Sum»"):
        read(csv("2026-01-02,A,1.00"), csv_map=csv_map)


def test_too_many_rows_are_refused() -> None:
    with pytest.raises(NotPossible, match="30001 rows"):
        read(b"Date,Description,Amount\n" + b"2026-01-02,A,1.00\n" * 30_000)
