"""What an office says of a workshop at home is read strictly, and kept in a form that reads back as the same."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checklists.home_rules import (
    MINUTES_OF_A_DAY,
    Area,
    FloorLimit,
    FloorRule,
    VisitHours,
    read_area,
    read_floor_rule,
    read_hours,
)
from ledger.errors import NotUnderstood


@pytest.mark.parametrize(
    ("text", "kept"),
    [
        ("25 % of the house", "25 % of the house"),
        ("25% of the home", "25 % of the house"),
        ("12.5 percent of my residence.", "12.5 % of the house"),
        ("25 per cent of any one floor", "25 % of one floor"),
        ("50 % of the principal structure", "50 % of the house"),
        ("400 sq. ft. of the dwelling", "400 square feet of the house"),
        ("40 m2 of the garage", "40 square metres of the garage"),
        ("0 % of a shed", "0 % of the garage"),
        ("25 % of the house and 25 % of the garage", "25 % of the house and 25 % of the garage"),
        (
            "25 % of one floor; 0 square feet of an accessory building",
            "25 % of one floor and 0 square feet of the garage",
        ),
        (
            "25% of the dwelling or 400 square feet, whichever is less",
            "25 % of the house and 400 square feet of the house",
        ),
        (
            "25% of the dwelling or 250 square feet, whichever is greater",
            "25 % of the house or 250 square feet of the house, whichever is greater",
        ),
        (
            "25 % or 480 square feet of the house whichever is smaller, and 10 % of the garage",
            "25 % of the house and 480 square feet of the house and 10 % of the garage",
        ),
    ],
)
def test_a_share_of_the_floor_is_kept_in_one_form(text: str, kept: str) -> None:
    rule = read_floor_rule(text)
    assert str(rule) == kept
    assert read_floor_rule(kept) == rule


@pytest.mark.parametrize(
    ("text", "kept"),
    [
        ("7 am to 9 pm", "07:00 to 21:00"),
        ("between 7:00 a.m. and 9:00 p.m.", "07:00 to 21:00"),
        ("08:30-18.00", "08:30 to 18:00"),
        ("12 am to 12 pm", "00:00 to 12:00"),
        ("0:00 to 24:00", "00:00 to 24:00"),
        ("8 am to 6 pm, Monday to Saturday", "Monday to Saturday 08:00 to 18:00"),
        ("Mon-Fri 8 am - 8 pm", "Monday to Friday 08:00 to 20:00"),
        ("9 am to noon", None),
        ("9 am to 5 pm on Saturday", "Saturday 09:00 to 17:00"),
        ("Sat to Mon 9 am to 5 pm", "Saturday to Monday 09:00 to 17:00"),
        ("Tuesday to Monday 9 am to 5 pm", "09:00 to 17:00"),
    ],
)
def test_hours_are_kept_in_one_form(text: str, kept: str | None) -> None:
    if kept is None:
        with pytest.raises(NotUnderstood):
            read_hours(text)
        return
    hours = read_hours(text)
    assert str(hours) == kept
    assert read_hours(kept).weekdays == hours.weekdays


def test_days_may_go_past_the_end_of_the_week() -> None:
    assert sorted(read_hours("Sat to Mon 9 am to 5 pm").weekdays) == [0, 5, 6]


@pytest.mark.parametrize(
    ("text", "kept"), [("180", "180 square feet"), (" 16.50 sq  m", "16.5 square metres"), ("0.0", "0 square feet")]
)
def test_an_area_is_in_square_feet_unless_it_says_otherwise(text: str, kept: str) -> None:
    assert str(read_area(text)) == kept
    assert read_area(kept) == read_area(text)


def test_a_square_metre_is_so_many_square_feet() -> None:
    """A foot is 0.3048 m (international yard and pound agreement, 1959): 1 / 0.09290304 square feet."""
    assert Area(Decimal(1), "square metres").square_feet == Fraction(100_000_000, 9_290_304)


@pytest.mark.parametrize(
    ("read", "text"),
    [
        *((read_floor_rule, text) for text in ("", "25", "25 %", "25 of the house", "130 % of the house", "a quarter")),
        *(
            (read_floor_rule, text)
            for text in ("-5 % of the house", "25 % of the moon", "1e3 square feet of the house")
        ),
        *((read_floor_rule, text) for text in ("25 % or 400 square feet of the house", "25 % of the house and", "and")),
        *((read_floor_rule, text) for text in ("NaN % of the house", "25 % of the house " * 40)),
        *((read_area, text) for text in ("", "large", "-1", "1e5", "1,800", "2 acres", "2 feet", "١٨٠", "9" * 600)),
        *((read_hours, text) for text in ("", "always", "7 to 9", "9 pm to 7 am", "25:00 to 26:00", "13 pm to 14 pm")),
        *(
            (read_hours, text)
            for text in ("8:70 to 9:00", "9 am to 9 am", "Monday 8 am to 9 am Tuesday", "0 am to 5 pm")
        ),
    ],
)
def test_what_is_none_is_refused_by_its_field(read: Callable[[str, str], object], text: str) -> None:
    with pytest.raises(NotUnderstood) as refused:
        read(text, "hours")
    assert refused.value.field == "hours"


numbers = st.decimals(0, 99, places=3)
limits = st.builds(
    FloorLimit, numbers, st.sampled_from(["%", "square feet", "square metres"]), st.sampled_from(["house", "floor"])
)


@given(st.lists(st.lists(limits, min_size=1, max_size=3).map(tuple), min_size=1, max_size=3).map(tuple))
def test_any_rule_on_the_floor_reads_back_as_it_was(clauses: tuple[tuple[FloorLimit, ...], ...]) -> None:
    rule = FloorRule(clauses)
    assert read_floor_rule(str(rule)) == rule


@given(st.integers(0, 1438), st.integers(1, MINUTES_OF_A_DAY), st.integers(0, 6), st.integers(0, 6))
def test_any_hours_read_back_as_they_were(opens: int, lasts: int, first: int, last: int) -> None:
    hours = VisitHours(opens, min(MINUTES_OF_A_DAY, opens + lasts), first, last)
    again = read_hours(str(hours))
    assert (again.opens, again.closes, again.weekdays) == (hours.opens, hours.closes, hours.weekdays)


@given(st.text(max_size=60), st.sampled_from([read_area, read_floor_rule, read_hours]))
def test_any_text_is_read_or_refused(text: str, read: Callable[[str], object]) -> None:
    with suppress(NotUnderstood):
        assert read(str(read(text))) is not None
