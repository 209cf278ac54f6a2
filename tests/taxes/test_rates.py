"""Rates stand on each other, each jurisdiction's from a day on; a new one ends the one before."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ledger.books.books import Books
from ledger.errors import NotPossible, NotUnderstood
from ledger.money import plain_percent
from ledger.taxes.rules import rates_on
from tests.workshop import add_rate, answer, begin, copied, job_for, on_day, picked_up, reversed_entry

JANUARY, JULY = date(2026, 1, 5), date(2026, 7, 1)


@pytest.fixture
def books(tmp_path: Path) -> Iterator[Books]:
    opened = begin(tmp_path / "books")
    yield opened
    opened.close()


def in_force(books: Books, day: date) -> list[tuple[str, str]]:
    return [(each.jurisdiction, plain_percent(each.percent)) for each in rates_on(books, day)]


def test_rates_stand_on_each_other_state_first_whatever_was_entered_first(books: Books) -> None:
    add_rate(books, "Old Town district", "0.25")
    add_rate(books, "Riley county", "1.0")
    add_rate(books, "Manhattan city", "1.5")
    add_rate(books, "Kansas state", "4.3")
    assert [each.level for each in rates_on(books, JANUARY)] == ["state", "county", "city", "district"]
    assert sum(each.percent for each in rates_on(books, JANUARY)) == Decimal("7.05")


def test_a_rate_holds_from_its_first_day_to_its_last(books: Books) -> None:
    add_rate(books, "Kansas state", "4.3", date(2026, 3, 1), date(2026, 6, 30))
    assert in_force(books, date(2026, 2, 28)) == []
    assert in_force(books, date(2026, 3, 1)) == [("Kansas state", "4.30")]
    assert in_force(books, date(2026, 6, 30)) == [("Kansas state", "4.30")]
    assert in_force(books, date(2026, 7, 1)) == []


def test_a_new_rate_ends_the_one_before_on_its_first_day(books: Books) -> None:
    add_rate(books, "Kansas state", "6.5")
    add_rate(books, "KANSAS  State", "4.3", JULY)
    assert in_force(books, JULY - timedelta(days=1)) == [("Kansas state", "6.50")]
    assert in_force(books, JULY) == [("Kansas state", "4.30")]


def test_a_rate_entered_late_for_an_earlier_day_holds_until_the_one_that_follows(books: Books) -> None:
    add_rate(books, "Kansas state", "4.3", JULY)
    add_rate(books, "Kansas state", "6.5", JANUARY)
    assert in_force(books, date(2026, 5, 1)) == [("Kansas state", "6.50")]
    assert in_force(books, JULY) == [("Kansas state", "4.30")]


def test_between_two_rates_there_may_be_a_gap_in_which_none_is_in_force(books: Books) -> None:
    add_rate(books, "Fair district", "0.5", date(2026, 2, 1), date(2026, 2, 28))
    add_rate(books, "Fair district", "0.75", date(2026, 4, 1))
    assert in_force(books, date(2026, 3, 15)) == []
    assert in_force(books, date(2026, 4, 1)) == [("Fair district", "0.75")]


def test_a_sale_of_a_taxed_class_in_a_gap_is_refused_with_what_to_do(books: Books) -> None:
    add_rate(books, "Kansas state", "4.3", until=date(2026, 1, 31))
    answer(books, "work", True)
    job = job_for(books, "100.00")
    with pytest.raises(NotPossible, match="no rate is in force"):
        picked_up(on_day(books, date(2026, 2, 1)), job, "cash")


@pytest.mark.parametrize(
    ("from_day", "until"),
    [
        (date(2026, 3, 1), None),  # begins inside
        (date(2026, 6, 30), None),  # begins on the last day
        (date(2026, 1, 1), date(2026, 2, 1)),  # ends on the first day
        (date(2026, 1, 1), date(2026, 12, 31)),  # holds the whole of it
    ],
)
def test_rates_that_overlap_one_with_an_end_are_refused(books: Books, from_day: date, until: date | None) -> None:
    add_rate(books, "Kansas state", "4.3", date(2026, 2, 1), date(2026, 6, 30))
    with pytest.raises(NotPossible, match="overlaps"):
        add_rate(books, "Kansas state", "5.0", from_day, until)
    assert in_force(books, date(2026, 6, 30)) == [("Kansas state", "4.30")]


@pytest.mark.parametrize(
    ("from_day", "until"),
    [(date(2026, 7, 1), None), (date(2026, 1, 1), date(2026, 1, 31)), (date(2026, 1, 1), None)],
)
def test_rates_that_only_touch_one_with_an_end_are_taken(books: Books, from_day: date, until: date | None) -> None:
    add_rate(books, "Kansas state", "4.3", date(2026, 2, 1), date(2026, 6, 30))
    add_rate(books, "Kansas state", "5.0", from_day, until)
    assert in_force(books, date(2026, 6, 30)) == [("Kansas state", "4.30")]
    assert in_force(books, from_day) == [("Kansas state", "5.00")]


def test_a_rate_that_no_sale_used_is_put_right_from_the_same_day(books: Books) -> None:
    add_rate(books, "Kansas state", "43", JANUARY, date(2026, 12, 31))
    add_rate(books, "Kansas state", "4.3", JANUARY, date(2026, 6, 30))
    assert in_force(books, JANUARY) == [("Kansas state", "4.30")]
    add_rate(books, "Kansas state", "4.5", JULY)  # what was put right overlaps nothing any more
    assert in_force(books, JULY) == [("Kansas state", "4.50")]


def test_a_rate_that_a_sale_used_stays(books: Books) -> None:
    add_rate(books, "Kansas state", "43")
    answer(books, "work", True)
    sale = picked_up(books, job_for(books, "100.00"), "cash").entry
    with pytest.raises(NotPossible, match="already taken"):
        add_rate(books, "Kansas state", "4.3")
    assert sale is not None


def test_once_the_sale_at_a_wrong_rate_is_reversed_the_rate_is_put_right_and_the_sale_entered_again(
    books: Books,
) -> None:
    add_rate(books, "Kansas state", "43")
    answer(books, "work", True)
    job = job_for(books, "100.00")
    wrong = picked_up(books, job, "cash")
    assert wrong.entry is not None
    reversed_entry(books, wrong.entry.number)
    add_rate(books, "Kansas state", "4.3")
    assert picked_up(books, job, "cash").settlement.slip.tax_cents == 4_30


def test_a_rate_that_ends_before_it_begins_is_refused(books: Books) -> None:
    with pytest.raises(NotPossible, match="ends before it begins"):
        add_rate(books, "Kansas state", "4.3", JULY, JULY - timedelta(days=1))


def test_a_jurisdiction_keeps_its_level(books: Books) -> None:
    add_rate(books, "Kansas", "4.3", level="state")
    with pytest.raises(NotPossible, match="state rate"):
        add_rate(books, "Kansas", "4.3", JULY, level="city")
    add_rate(books, "Kansas", "4.5", JULY, level="state")
    assert [each.level for each in rates_on(books, JULY)] == ["state"]


def test_a_jurisdiction_without_a_name_is_refused(books: Books) -> None:
    with pytest.raises(NotUnderstood):
        add_rate(books, " ", "4.3")


days = st.dates(date(2026, 1, 5), date(2026, 3, 31))
spans = st.tuples(days, st.none() | st.integers(min_value=0, max_value=40))


@pytest.fixture(scope="module")
def begun(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("begun") / "books"
    begin(folder).close()
    return folder


@settings(max_examples=30)
@given(st.lists(spans, min_size=2, max_size=8))
def test_on_every_day_the_rate_in_force_is_the_last_that_began_unless_it_has_ended(
    begun: Path, wanted: list[tuple[date, int | None]]
) -> None:
    with copied(begun) as books:
        taken: dict[date, tuple[str, date | None]] = {}
        for number, (start, length) in enumerate(wanted, start=1):
            until = start + timedelta(days=length) if length is not None else None
            others = {day: each for day, each in taken.items() if day != start}
            if any(overlaps(start, until, day, end) for day, (_, end) in others.items()):
                with pytest.raises(NotPossible):
                    add_rate(books, "Kansas state", str(number), start, until)
                continue
            add_rate(books, "Kansas state", str(number), start, until)
            taken[start] = (f"{number}.00", until)
        for offset in range(0, 130, 3):
            day = date(2026, 1, 1) + timedelta(days=offset)
            begun_by_then = [start for start in taken if start <= day]
            percent, until = taken[max(begun_by_then)] if begun_by_then else ("", None)
            held = begun_by_then and (until is None or day <= until)
            assert in_force(books, day) == ([("Kansas state", percent)] if held else [])


def overlaps(start: date, until: date | None, other: date, other_until: date | None) -> bool:
    """A rate without an end gives way to the next; one with an end does not, nor may it run into the next."""
    earlier_end, later = (other_until, start) if other < start else (until, other)
    return earlier_end is not None and earlier_end >= later
