"""Filter and order of a list of any columns: by what is seen, accents and case aside, and equal lines as they stood."""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ledger.lists.lines import LinesInMemory
from ledger.lists.listing import Arrangement, Column, Line, Manner, ShownAs, arranged, day_has, words_of
from ledger.text import folded
from tests.workshop import USD

COLUMNS = (
    Column("Number", 4, "number"),
    Column("Day", 12, "day"),
    Column("Who", 10),
    Column("Amount", 8, "amount"),
    Column("Kind", 0),
)
MANNER = Manner(USD, lambda day: f"{day:%b} {day.day}, {day.year}")
LINES = (
    Line("a", (1, date(2026, 3, 9), "Zoë Müller", 31_80, "spend")),
    Line("b", (2, date(2026, 2, 1), "ada brook", -50_00, "draw")),
    Line("c", (30, None, None, 31_85, "spend")),
    Line("d", (31, date(2026, 3, 9), "Ada Brook", 1_204_10, "spend")),
    Line("e", (32, date(2025, 12, 31), ShownAs("Hal", "x Hal"), None, "spend")),
)


def keys(typed: str = "", column: int | None = None, *, descending: bool = False) -> str:
    wanted = Arrangement(words_of(typed), column, descending)
    return "".join(line.key for line in arranged(LINES, COLUMNS, wanted, MANNER))


@pytest.mark.parametrize(
    ("typed", "found"),
    [
        ("", "abcde"),
        ("zoe", "a"),
        ("MÜLLER", "a"),
        ("brook ada", "bd"),
        ("ada nobody", ""),
        ("x", "e"),
        ("3", "acde"),
        ("31.8", "ac"),
        ("1,204", "d"),
        ("-50", "b"),
        ("50.00", "b"),
        ("mar", "ad"),
        ("2025", "e"),
        ("2026-03", "ad"),
        ("202", ""),
        ("spend", ""),
    ],
)
def test_every_word_stands_in_a_painted_column(typed: str, found: str) -> None:
    assert keys(typed) == found


def test_numbers_are_typed_with_the_signs_of_the_locale() -> None:
    assert [word.number for word in words_of("1.204,10 31,8 3/14", ".", ",")] == ["1204.10", "31.8", ""]


@pytest.mark.parametrize(
    ("column", "descending", "found"),
    [
        (None, False, "abcde"),
        (0, True, "edcba"),
        (1, False, "ebadc"),
        (1, True, "adbec"),
        (2, False, "bdeac"),
        (2, True, "aebdc"),
        (3, False, "bacde"),
        (3, True, "dcabe"),
    ],
)
def test_equal_lines_stand_as_they_stood_and_those_without_a_value_last(
    column: int | None, descending: bool, found: str
) -> None:
    assert keys(column=column, descending=descending) == found


def test_the_same_column_again_turns_the_order_and_another_begins_its_own_way() -> None:
    by_who = Arrangement(words_of("ada")).ordered_by(2, "text")
    assert (by_who.column, by_who.is_descending) == (2, False)
    assert by_who.ordered_by(2, "text").is_descending
    assert by_who.ordered_by(1, "day").is_descending
    assert by_who.ordered_by(1, "day").words == words_of("ada")


def test_how_a_list_stands_is_told_in_words() -> None:
    assert Arrangement().told(COLUMNS, "") == ""
    assert Arrangement(words_of("[b] x"), 1, True).told(COLUMNS, " [b] x ") == (
        "only what has «[b] x»; by day, newest first"
    )
    assert Arrangement((), 3).told(COLUMNS, "") == "by amount, smallest first"


def test_the_nearest_day_is_the_day_itself_or_the_last_before_it_or_the_first() -> None:
    lines = LinesInMemory(COLUMNS, LINES, MANNER)
    assert lines.place_of_day(date(2026, 3, 9)) == (0, date(2026, 3, 9))
    assert lines.place_of_day(date(2026, 3, 8)) == (1, date(2026, 2, 1))
    assert lines.place_of_day(date(2020, 1, 1)) == (4, date(2025, 12, 31))
    assert lines.arranged(Arrangement(words_of("31.85"))).place_of_day(date(2026, 3, 9)) is None
    assert LinesInMemory(COLUMNS[2:], (), MANNER).place_of_day(date(2026, 3, 9)) is None


def test_digits_alone_stand_for_a_day_from_the_year_on() -> None:
    day = date(2026, 3, 9)
    assert [day_has(day, words_of(each)[0], MANNER.shown_day) for each in ("9", "2026", "mar", "2026-04")] == [
        False,
        True,
        True,
        False,
    ]


VALUES = st.tuples(
    st.one_of(st.none(), st.integers(-5, 5), st.decimals(-5, 5, places=1)),
    st.one_of(st.none(), st.integers(0, 3).map(lambda days: date(2026, 1, 1) + timedelta(days))),
    st.one_of(st.none(), st.sampled_from(("Ada", "ADA", "Ádá", "Zoë", "zoe"))),
    st.one_of(st.none(), st.integers(-3, 3)),
    st.just("kind"),
)


@given(st.lists(VALUES, max_size=12), st.sampled_from(range(4)), st.booleans())
def test_an_order_loses_no_line_and_is_stable(values: list[tuple[object, ...]], column: int, descending: bool) -> None:
    lines = tuple(Line(place, each) for place, each in enumerate(values))  # type: ignore[arg-type]
    found = arranged(lines, COLUMNS, Arrangement((), column, descending), MANNER)
    assert sorted(line.key for line in found) == list(range(len(lines)))
    sought = [folded(value) if isinstance(value := line.values[column], str) else value for line in found]
    for (one, this), (other, that) in pairwise(zip(found, sought, strict=True)):
        if this is None or that is None or this == that:
            assert this is not None or that is None
            assert this != that or one.key < other.key
        else:
            assert (this > that) == descending  # type: ignore[operator]


@pytest.mark.parametrize(("text", "found"), [("Zoë", "zoe"), ("STRASSE", "strasse"), ("Straße", "strasse"), ("É", "e")])
def test_text_is_folded_to_be_looked_for(text: str, found: str) -> None:
    assert folded(text) == found
    assert folded(folded(text)) == found


def test_a_quantity_is_found_as_it_is_written_plainly() -> None:
    line = Line("a", (Decimal("12.50"),))
    assert [
        bool(arranged([line], COLUMNS[:1], Arrangement(words_of(typed)), MANNER)) for typed in ("12.5", "12.6", "2")
    ] == [True, False, False]
