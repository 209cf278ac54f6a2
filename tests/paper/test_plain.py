"""A sheet as text keeps within its columns, whatever is written on it."""

from __future__ import annotations

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ledger.paper.plain import WIDTH, sheet_text
from ledger.paper.sheet import (
    Column,
    Facts,
    Heading,
    Notes,
    Questions,
    Row,
    Sheet,
    Signatures,
    Table,
    Title,
    Total,
    Totals,
)
from ledger.paper.wrapping import terminal_columns

_BEFORE_QUESTIONS = 30


def sheet_of(word: str) -> Sheet:
    """A sheet with every block, and one text in every place for text."""
    amounts = Table(
        (Column(word), Column("What"), Column("Amount", True), Column("Balance", True)),
        (Row(("Mar 1", word, "$1.00", "$1.00"), (word,)), Row((word, "", "$2.00", "$3.00"), is_sum=True)),
    )
    work = Table((Column("Work"), Column("Amount", True)), (Row((word, "$12.00"), (word, "4 at 3.00")),))
    return Sheet(
        (word, word),
        word,
        (
            Title(word, "Mar 18, 2026"),
            Facts(((word, word), ("Piece", word)), (("Size", word),)),
            Heading(word),
            work,
            amounts,
            Totals((Total(word, "$12.00", (word,)), Total("Total", "$12.00", is_sum=True))),
            Notes((word, "Thank you.")),
            Signatures((word, "Date")),
            Questions(((word, (word, "What does it cost?")),)),
            Questions(((word, (word, "Why?")), (word, (word,))), in_columns=True),
        ),
        word,
        "0123456789ab",
    )


def test_a_sheet_is_set_line_by_line() -> None:
    lines = sheet_text(sheet_of("Log cabin")).splitlines()
    assert lines[-1] == "Log cabin                           0123456789ab"
    assert lines[:_BEFORE_QUESTIONS] == [
        "Log cabin",
        "Log cabin",
        "Log cabin                           Mar 18, 2026",
        "-" * 48,
        "Log cabin  Log cabin",
        "Piece      Log cabin",
        "Size       Log cabin",
        "-" * 48,
        "Log cabin",
        "Log cabin                                 $12.00",
        "  Log cabin",
        "  4 at 3.00",
        "-" * 48,
        "Log cabin             What       Amount  Balance",
        "Mar 1                 Log cabin   $1.00    $1.00",
        "  Log cabin",
        "Log cabin                         $2.00    $3.00",
        "-" * 48,
        "Log cabin                                 $12.00",
        "  Log cabin",
        "Total                                     $12.00",
        "-" * 48,
        "Log cabin",
        "Thank you.",
        "-" * 48,
        "",
        "Log cabin       ________________________________",
        "",
        "Date            ________________________________",
        "-" * 48,
    ]


def test_every_question_has_a_line_to_write_on() -> None:
    lines = sheet_text(sheet_of("Log cabin")).splitlines()
    assert lines[_BEFORE_QUESTIONS:-1] == [
        "Log cabin",
        "  Log cabin",
        "",
        "  " + "_" * 46,
        "  What does it cost?",
        "",
        "  " + "_" * 46,
        "",
        "-" * 48,
        "Log cabin",
        "  Log cabin",
        "",
        "  " + "_" * 46,
        "  Why?",
        "",
        "  " + "_" * 46,
        "",
        "Log cabin",
        "  Log cabin",
        "",
        "  " + "_" * 46,
        "",
        "-" * 48,
    ]


@given(st.one_of(st.text(max_size=200), st.text(alphabet="漢a é😀́\x1b\u202e\n ", max_size=200)))
def test_no_line_is_wider_than_the_paper_and_none_can_be_obeyed(word: str) -> None:
    text = sheet_text(sheet_of(word))
    assert max(map(terminal_columns, text.splitlines())) <= WIDTH
    categories = {unicodedata.category(each) for each in text.replace("\n", "").replace("\N{ZERO WIDTH JOINER}", "")}
    assert categories.isdisjoint({"Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"})


@pytest.mark.parametrize("word", ["quilt" * 60, "漢字" * 80, "a very long name " * 20])
def test_amounts_stay_at_the_edge_beside_a_long_text(word: str) -> None:
    lines = sheet_text(sheet_of(word)).splitlines()
    ends = [line for line in lines if line.endswith("$12.00")]
    assert len(ends) == 3
    assert {terminal_columns(line) for line in ends} == {WIDTH}
    assert max(map(terminal_columns, lines)) <= WIDTH


def test_every_amount_of_a_wide_table_is_whole() -> None:
    table = Table(
        (Column("Day"), Column("What"), Column("Amount", True), Column("Balance", True)),
        (Row(("Mar 18, 2026", "Pickup of a log cabin quilt", "$1,234.50", "$12,345.50")),),
    )
    text = sheet_text(Sheet(("Alder Lane",), "", (table,)))
    assert "$1,234.50  $12,345.50" in text


@pytest.mark.parametrize("text", ["\x1b[31m", "a\N{RIGHT-TO-LEFT OVERRIDE}b", "quilt" * 30, "\0"])
def test_what_stands_at_the_right_edge_is_cleaned_and_broken_too(text: str) -> None:
    blocks = (Title("Quote", text), Totals((Total("Total", text),)))
    lines = sheet_text(Sheet(("Alder Lane",), "", blocks, "Job 1", text)).splitlines()
    assert max(map(terminal_columns, lines)) <= WIDTH
    assert {unicodedata.category(each) for each in "".join(lines)}.isdisjoint({"Cc", "Cf"})
    assert [line.split()[0] for line in lines if line[:1].isalpha()][:2] == ["Alder", "Quote"]
