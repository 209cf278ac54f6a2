"""Look-ups by date: a figure answers within its dates, raises outside them, and slides forward only when marked."""

from __future__ import annotations

import subprocess
import sys
from datetime import date, timedelta
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

import ledger.figures
from ledger.errors import FigureNotKnown
from ledger.figures import (
    STATUS_WORDS,
    NoFigure,
    column,
    depreciation_column_name,
    figure,
    latest_column,
    latest_figure,
    latest_schedule_c_line,
    schedule_c_keys,
    schedule_c_line,
    shipped_library,
)
from tests.structure.tree import CHECKOUT

FOLDER = Path(ledger.figures.__file__).parent
DAY = timedelta(days=1)
WAGE_BASE = "social_security_wage_base"


def test_a_figure_carries_its_dates_source_and_how_sure_it_is() -> None:
    found = figure("business_mileage_rate", date(2022, 7, 1), asked_by="the mileage memo")
    assert (found.name, found.value, found.unit) == ("business_mileage_rate", Decimal("62.5"), "US cents a mile")
    assert (found.from_date, found.until, found.known_through) == (date(2022, 7, 1), date(2022, 12, 31), None)
    assert (found.status, found.file, found.beyond_known, found.notes) == ("official", "mileage.toml", False, ())
    assert str(found.source) == "Internal Revenue Service, Announcement 2022-13, business; IR-2022-124, 2022"
    assert found.read.startswith("the source's own text")


@pytest.mark.parametrize("day", [date(2018, 12, 31), date(2027, 1, 1)])
def test_outside_its_dates_a_figure_is_refused_with_who_asked_and_where_to_add_it(day: date) -> None:
    with pytest.raises(FigureNotKnown) as refused:
        figure(WAGE_BASE, day, asked_by="the self-employment tax")
    error = refused.value
    assert isinstance(error, NoFigure)
    assert (error.figure, error.on, error.asked_by) == (WAGE_BASE, day, "the self-employment tax")
    assert error.what == (
        f"The self-employment tax needs «social security wage base» for {day}, "
        "but published figures are kept from 2019-01-01 through 2026-12-31."
    )
    assert f"the one for {day.year} to ledger/figures/self_employment.toml" in error.do


def test_the_set_aside_gets_last_years_figure_and_the_words_to_put_beside_it() -> None:
    found = latest_figure(WAGE_BASE, date(2027, 1, 15))
    assert (found.value, found.beyond_known) == (Decimal("184500"), True)
    assert found.notes[-1] == "no published figure for 2027 yet"


def test_the_latest_figure_within_its_dates_is_the_figure() -> None:
    day = date(2024, 3, 1)
    assert latest_figure(WAGE_BASE, day) == figure(WAGE_BASE, day, asked_by="a test")


def test_on_its_last_day_a_figure_is_not_marked_yet() -> None:
    assert [latest_figure(WAGE_BASE, date(2026, 12, 31) + days * DAY).beyond_known for days in (0, 1)] == [False, True]


def test_not_even_the_set_aside_gets_a_figure_from_before_the_first() -> None:
    with pytest.raises(NoFigure, match="The set-aside needs"):
        latest_figure(WAGE_BASE, date(2018, 12, 31))


def test_a_gap_between_two_tables_is_no_figure(monkeypatch: pytest.MonkeyPatch) -> None:
    before, *_, after = shipped_library().figures["business_mileage_rate"]
    gap = ledger.figures.Library({"rate": (before, after)}, {}, {})
    monkeypatch.setattr("ledger.figures.look_up.shipped_library", lambda: gap)
    for look_up in (figure, latest_figure):
        with pytest.raises(NoFigure, match="there is a gap"):
            look_up("rate", before.last_day + DAY, asked_by="a test")


def test_a_name_that_there_is_not_is_a_defect() -> None:
    with pytest.raises(AssertionError, match="wage_bas"):
        figure("wage_bas", date(2026, 1, 1), asked_by="a test")
    with pytest.raises(AssertionError, match="suplies"):
        schedule_c_line("suplies", 2025, asked_by="a test")


@given(st.sampled_from(sorted(shipped_library().figures)), st.dates(date(2000, 1, 1), date(2040, 12, 31)))
def test_a_figure_answers_on_its_own_days_alone(name: str, day: date) -> None:
    values = shipped_library().figures[name]
    holding = [value for value in values if value.from_date <= day <= value.last_day]
    try:
        answer = [figure(name, day, asked_by="a test")]
    except NoFigure:
        answer = []
    assert answer == holding


@given(st.sampled_from(sorted(shipped_library().figures)), st.dates(date(2000, 1, 1), date(2040, 12, 31)))
def test_the_latest_figure_is_marked_just_where_it_is_beyond_its_dates(name: str, day: date) -> None:
    values = shipped_library().figures[name]
    try:
        found = latest_figure(name, day)
    except NoFigure:
        assert day < values[0].from_date
    else:
        assert found.beyond_known == (day > values[-1].last_day)
        assert found.value in {value.value for value in values}


def test_the_tables_of_a_shipped_figure_follow_each_other_without_a_gap() -> None:
    library = shipped_library()
    for values in [*library.figures.values(), *library.columns.values(), *library.lines.values()]:
        for earlier, later in zip(values, values[1:], strict=False):
            assert later.from_date == earlier.last_day + DAY, later.name


def test_only_the_last_table_of_a_shipped_figure_is_known_through_a_day() -> None:
    library = shipped_library()
    for values in [*library.figures.values(), *library.columns.values(), *library.lines.values()]:
        assert [value.name for value in values if value.known_through] in ([], [values[0].name])
        assert all(value.until for value in values[:-1])


@pytest.mark.parametrize(
    ("class_years", "placed", "mid_quarter", "name", "first"),
    [
        (5, date(2026, 11, 3), False, "depreciation_5_year_half_year", "20.00"),
        (5, date(2026, 11, 3), True, "depreciation_5_year_mid_quarter_4", "5.00"),
        (7, date(2026, 1, 31), True, "depreciation_7_year_mid_quarter_1", "25.00"),
        (7, date(2026, 6, 30), True, "depreciation_7_year_mid_quarter_2", "17.85"),
        (7, date(2026, 7, 1), True, "depreciation_7_year_mid_quarter_3", "10.71"),
    ],
)
def test_a_column_is_found_by_class_and_day(
    class_years: int, placed: date, mid_quarter: bool, name: str, first: str
) -> None:
    assert depreciation_column_name(class_years, placed, mid_quarter=mid_quarter) == name
    assert column(name, placed, asked_by="the depreciation memo").percents[0] == Decimal(first)


def test_a_column_beyond_its_dates_is_refused_to_a_memo_and_marked_for_a_plan() -> None:
    name, day = "depreciation_7_year_half_year", date(2027, 2, 1)
    with pytest.raises(NoFigure, match="The depreciation memo needs"):
        column(name, day, asked_by="the depreciation memo")
    assert latest_column(name, day).beyond_known


def test_a_class_that_is_not_kept_is_a_defect() -> None:
    with pytest.raises(AssertionError):
        depreciation_column_name(10, date(2026, 1, 1), mid_quarter=False)


def test_a_line_says_whether_its_number_was_seen_in_that_years_form() -> None:
    seen = schedule_c_line("supplies", 2024, asked_by="the packet")
    assert (seen.number, seen.confirmed, seen.words) == ("22", True, "22")
    unseen = schedule_c_line("supplies", 2026, asked_by="the packet")
    assert (unseen.number, unseen.confirmed, unseen.words) == ("22", False, "22 (not confirmed)")
    assert unseen.table.status == "estimate"


def test_a_line_of_a_year_that_is_not_kept_is_refused_to_a_packet_and_unconfirmed_for_a_plan() -> None:
    with pytest.raises(NoFigure, match="The packet needs «schedule c» for 2027-01-01"):
        schedule_c_line("supplies", 2027, asked_by="the packet")
    late = latest_schedule_c_line("advertising", 2027)
    assert (late.number, late.confirmed, late.table.beyond_known) == ("8", False, True)
    with pytest.raises(NoFigure):
        latest_schedule_c_line("supplies", 2022)


def test_a_line_seen_in_the_last_form_is_not_confirmed_for_the_year_after(monkeypatch: pytest.MonkeyPatch) -> None:
    seen = next(table for table in shipped_library().lines["schedule_c"] if not table.not_confirmed)
    only = ledger.figures.Library({}, {}, {"schedule_c": (seen,)})
    monkeypatch.setattr("ledger.figures.look_up.shipped_library", lambda: only)
    year = seen.from_date.year
    assert [latest_schedule_c_line("supplies", each).confirmed for each in (year, year + 1)] == [True, False]


def test_every_line_is_there_in_every_year_that_is_kept() -> None:
    for table in shipped_library().lines["schedule_c"]:
        assert set(table.numbers) == schedule_c_keys()
        assert len(set(table.numbers.values())) == len(table.numbers)


def test_every_status_has_its_words() -> None:
    library = shipped_library()
    everything = [*library.figures.values(), *library.columns.values(), *library.lines.values()]
    assert {value.status for values in everything for value in values} == set(STATUS_WORDS)
    for values in everything:
        for value in values:
            assert bool(value.notes) == (value.status != "official")


def test_every_file_of_the_folder_is_read() -> None:
    library = shipped_library()
    read = {
        value.file
        for kind in (library.figures, library.columns, library.lines)
        for each in kind.values()
        for value in each
    }
    assert read == {path.name for path in FOLDER.glob("*.toml")}


def test_no_file_is_read_before_the_first_look_up_and_each_only_once() -> None:
    code = """
import sys
opened = []
def watch(event, details):
    if event == "open" and str(details[0]).endswith(".toml"):
        opened.append(details[0])
sys.addaudithook(watch)
from ledger.figures import figure
from datetime import date
print(len(opened), "tomllib" in sys.modules)
figure("home_simplified_rate", date(2026, 1, 1), asked_by="a test")
print(len(opened))
figure("business_mileage_rate", date(2026, 1, 1), asked_by="a test")
print(len(opened))
"""
    ran = subprocess.run([sys.executable, "-c", code], cwd=CHECKOUT, capture_output=True, text=True, check=False)
    files = len(list(FOLDER.glob("*.toml")))
    assert ran.stdout.split() == ["0", "False", str(files), str(files)], ran.stderr
