"""Every mistake that a file of figures can have is refused, with the file, the figure and the key.

`bad/` holds tiny files with one mistake each; the name of a file says which.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ledger.errors import Refused
from ledger.figures import FiguresNotUsable, Library, read_library

BAD = Path(__file__).parent / "bad"
GOOD = """
[[figure.wage_base]]
value = "176100"
unit = "USD"
from = "2025-01-01"
until = "2025-12-31"
source = { title = "A notice", section = "1", year = 2024 }
read = "the source's own text (a stored copy)"
status = "official"
"""
NEW_YEAR = """
[[figure.wage_base]]
value = "184500"
unit = "USD"
from = "2026-01-01"
known_through = "2026-12-31"
source = { title = "A notice", year = 2025 }
read = "a text about it"
status = "second_hand"
"""

# The figure, which of its tables, the key, and the words by which the fault is known.
FAULTS = {
    "day_that_there_is_not": ("wage_base", 1, "until", "no day 2026-02-30"),
    "day_that_there_is_not_without_quotes": ("wage_base", 0, "from", "line 4"),
    "day_without_quotes": ("wage_base", 1, "from", "in quotes"),
    "day_written_otherwise": ("wage_base", 1, "from", "cannot be read as a date"),
    "days_overlap": ("wage_base", 0, "from", "2026-12-31 lies within"),
    "empty_title": ("wage_base", 1, "title", "write some text"),
    "key_given_twice": ("wage_base", 0, "value", "line 9 gives a key a second time"),
    "key_given_twice_in_source": ("wage_base", 0, "source", "line 6 gives a key a second time"),
    "last_day_before_first": ("wage_base", 1, "until", "2025-12-31 is before 2026-01-01"),
    "line_not_confirmed_that_there_is_not": ("form", 1, "not_confirmed", "suplies"),
    "line_number_in_words": ("form", 1, "supplies", "no line number"),
    "lines_not_confirmed_as_text": ("form", 1, "not_confirmed", "write a list"),
    "lines_as_text": ("form", 1, "line", "a table of keys"),
    "name_in_capitals": ("Wage_Base", 0, "", "small letters"),
    "name_of_two_kinds": ("wage_base", 0, "", "is taken by another table"),
    "no_first_day": ("wage_base", 1, "from", "is missing"),
    "no_last_day": ("wage_base", 1, "until", "either until or known_through"),
    "no_percents": ("five_years", 1, "percents", "write a list"),
    "no_reading": ("wage_base", 1, "read", "is missing"),
    "no_source": ("wage_base", 1, "source", "is missing"),
    "no_source_title": ("wage_base", 1, "title", "is missing"),
    "no_value": ("wage_base", 1, "value", "is missing"),
    "no_year_of_source": ("wage_base", 1, "year", "is missing"),
    "not_utf_8": ("", 0, "", "no text in UTF-8"),
    "number_below_zero": ("wage_base", 1, "value", "«-5»"),
    "number_in_words": ("wage_base", 1, "value", "«many»"),
    "number_not_finite": ("wage_base", 1, "value", "«NaN»"),
    "number_with_exponent": ("wage_base", 1, "value", "«1e5»"),
    "number_without_quotes": ("wage_base", 1, "value", "«184500» is no number such as 184500 or 57.5, in quotes"),
    "official_from_memory": ("wage_base", 1, "status", "does not fit what was read"),
    "one_bracket": ("wage_base", 0, "", "[[figure.wage_base]]"),
    "percent_in_words": ("five_years", 1, "percents", "«rest»"),
    "percents_as_text": ("five_years", 1, "percents", "write a list"),
    "source_as_text": ("wage_base", 1, "source", "title = ..."),
    "table_begun_twice": ("wage_base", 0, "[figure.wage_base]", "line 10"),
    "text_not_closed": ("wage_base", 0, "unit", "line 3"),
    "two_last_days": ("wage_base", 1, "until", "and not both"),
    "unknown_key": ("wage_base", 1, "valeu", "did you mean value?"),
    "unknown_key_in_source": ("wage_base", 1, "page", "no key here"),
    "unknown_kind": ("", 0, "figures", "did you mean figure?"),
    "unknown_reading": ("wage_base", 1, "read", "begin with one of"),
    "unknown_status": ("wage_base", 1, "status", "«sure»"),
    "unknown_unit": ("wage_base", 1, "unit", "«dollars»"),
    "year_as_text": ("wage_base", 1, "year", "the year of the edition"),
}


def bad_file(name: str) -> dict[str, bytes]:
    return {f"{name}.toml": (BAD / f"{name}.toml").read_bytes()}


def test_every_bad_file_has_its_expectation() -> None:
    assert {path.stem for path in BAD.iterdir()} == set(FAULTS)


@pytest.mark.parametrize("name", sorted(FAULTS))
def test_the_one_mistake_of_a_file_is_the_one_fault(name: str) -> None:
    figure, table, key, words = FAULTS[name]
    with pytest.raises(FiguresNotUsable) as refused:
        read_library(bad_file(name))
    (fault,) = refused.value.faults
    assert (fault.file, fault.figure, fault.table, fault.key) == (f"{name}.toml", figure, table, key)
    assert words in fault.what
    assert all(part in str(refused.value) for part in (fault.file, figure, key, words))


def test_every_fault_of_every_file_is_named_in_one_run() -> None:
    with pytest.raises(FiguresNotUsable) as refused:
        read_library(
            {name: content for each in FAULTS for name, content in bad_file(each).items()} | {"good.toml": b""}
        )
    named = {fault.file.removesuffix(".toml") for fault in refused.value.faults}
    assert named >= set(FAULTS)
    assert isinstance(refused.value, Refused)
    assert "ledger/figures" in refused.value.do


def test_several_faults_of_one_file_are_named_in_one_run() -> None:
    worst = GOOD.replace("2025-01-01", "2025-02-30").replace("USD", "dollars").replace('value = "176100"\n', "")
    worst += 'until = "2025-11-30"\nvalu = "176100"\n' + NEW_YEAR.replace("184500", "many")
    with pytest.raises(FiguresNotUsable) as refused:
        read_library({"worst.toml": worst.encode()})
    found = [(fault.table, fault.key) for fault in refused.value.faults]
    assert sorted(found) == [(0, "until"), (1, "from"), (1, "unit"), (1, "valu"), (1, "value"), (2, "value")]


def test_a_file_of_nothing_but_faults_is_given_up_after_twenty() -> None:
    with pytest.raises(FiguresNotUsable) as refused:
        read_library({"lost.toml": b"no toml\n" * 1000})
    assert len(refused.value.faults) == 21
    assert refused.value.faults[-1].what == "the rest was not read"


def test_a_table_without_a_head_is_not_read_into_the_one_before() -> None:
    text = GOOD + "[[figure.medicare\n" + GOOD.split("\n", 2)[2] + NEW_YEAR.replace("184500", "many")
    with pytest.raises(FiguresNotUsable) as refused:
        read_library({"heads.toml": text.encode()})
    assert [(fault.figure, fault.key) for fault in refused.value.faults] == [
        ("medicare", "[[figure.medicare"),
        ("wage_base", "value"),
    ]


def test_a_name_belongs_to_one_file() -> None:
    with pytest.raises(FiguresNotUsable, match=r"taken by another table in a\.toml"):
        read_library({"a.toml": GOOD.encode(), "b.toml": NEW_YEAR.encode()})


def test_a_figure_for_a_new_year_is_one_table_more() -> None:
    library = read_library({"a.toml": (NEW_YEAR + GOOD).encode()})
    assert [(str(each.value), each.from_date.year) for each in library.figures["wage_base"]] == [
        ("176100", 2025),
        ("184500", 2026),
    ]


def test_line_ends_of_windows_are_read_alike() -> None:
    windows = GOOD.replace("\n", "\r\n").encode()
    assert read_library({"a.toml": windows}) == read_library({"a.toml": GOOD.encode()})


TOML_VALUES = st.sampled_from(
    [
        "1",
        "-1",
        "1.5",
        "nan",
        "true",
        '""',
        '"x"',
        "[]",
        "[[]]",
        '["20.00"]',
        "{}",
        "{ a = [] }",
        "1979-05-27",
        "07:32:00",
    ]
)


@given(st.integers(0, 7), TOML_VALUES)
def test_any_value_in_place_of_a_good_one_is_read_or_named(place: int, value: str) -> None:
    lines = GOOD.strip().split("\n")
    lines[place] = f"{lines[place].split(' = ')[0]} = {value}"
    try:
        found = read_library({"a.toml": "\n".join(lines).encode()})
    except FiguresNotUsable as refused:
        found = refused
    assert isinstance(found, Library) or found.faults


@given(st.binary(max_size=60))
def test_any_bytes_are_read_or_named(content: bytes) -> None:
    try:
        found = read_library({"a.toml": content})
    except FiguresNotUsable as refused:
        found = refused
    assert isinstance(found, Library) or found.faults
