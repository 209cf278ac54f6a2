"""Income by month, expenses by category and the year ahead by command: drawn in plain signs, and to be listened to."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

import pytest

from tests.commands.desk import Desk

DRAWN = (("by-month", "2026"), ("by-category", "2026-Q1"), ("set-aside", "ahead"))
PLAIN = (*DRAWN, ("set-aside",), ("set-aside", "show"), ("payback",), ("payback", "--curve"))


def figures(data: Any) -> Iterator[str]:
    """Every amount in an answer."""
    if isinstance(data, dict):
        for each in data.values():
            yield from figures(each)
    elif isinstance(data, list):
        for each in data:
            yield from figures(each)
    elif isinstance(data, str) and re.fullmatch(r"-?\d+\.\d\d", data):
        yield data


def spoken(text: str) -> set[str]:
    return set(re.findall(r"-?\d+\.\d\d\b", text))


@pytest.mark.parametrize("words", PLAIN, ids=" ".join)
def test_what_is_listened_to_is_a_sentence_a_line_without_columns_or_bars(desk: Desk, words: tuple[str, ...]) -> None:
    lines = desk.lines(*words, "--plain").splitlines()
    assert lines
    for line in lines:
        assert re.fullmatch(r"[A-Z0-9].*[^.]\.", line), line
        assert "  " not in line, line
        assert ". " not in line, line
        assert not re.search(r"[#*|\u2500-\u259f]", line), line


@pytest.mark.parametrize("words", DRAWN, ids=" ".join)
def test_every_figure_is_drawn_in_plain_signs_and_told_in_words(desk: Desk, words: tuple[str, ...]) -> None:
    data = desk.data(*words)
    drawn, plain = desk.lines(*words), desk.lines(*words, "--plain")
    assert drawn.isascii()
    assert all(len(line) <= 80 for line in drawn.splitlines())
    shares = {each["share"] for each in data.get("categories", [])}
    # What one due takes in one way is told in a word.
    covered = {each[way] for each in data.get("due", []) for way in ("held", "there", "short")}
    # What was before the books is told where there was something.
    in_the_books = {name: told for name, told in data.items() if name != "before_books"}
    wanted = set(figures(in_the_books)) - shares - covered
    assert len(wanted) > 1
    assert wanted <= spoken(drawn)
    assert {each.lstrip("-") for each in wanted} <= {each.lstrip("-") for each in spoken(plain)}
    assert all(f"{share[:-1]} percent" in plain for share in shares)


def test_months_have_their_income_and_that_of_the_year_before(desk: Desk) -> None:
    said = desk.data("by-month", "2026-01..2026-03")
    assert [each["month"] for each in said["months"]] == ["2026-01", "2026-02", "2026-03"]
    assert [each["so_far"] for each in said["months"]] == [False, True, False]
    assert said["months"][2] == {"month": "2026-03", "income": None, "year_before": None, "so_far": False}
    assert said["total"] == desk.data("quarter", "2026-Q1")["income"]["total"]
    plain = desk.lines("by-month", "2025-12..2026-03", "--plain")
    assert "December 2025 was before these books began.\n" in plain
    assert "February 2026, so far: " in plain
    assert "March 2026 is still to come.\n" in plain


def test_categories_add_up_to_the_expenses_of_the_quarter_with_the_lines_it_has(desk: Desk) -> None:
    said, quarter = desk.data("by-category", "2026-Q1"), desk.data("quarter", "2026-Q1")
    assert said["total"] == quarter["expenses_total"]
    lines = {each["category"]: (each["line"], each["amount"]) for each in quarter["expenses"]}
    assert {each["category"]: (each["line"], each["amount"]) for each in said["categories"]} == lines
    assert sum(float(each["share"]) for each in said["categories"]) == pytest.approx(100)


def test_the_set_aside_tells_of_each_due_what_is_held_for_it(desk: Desk) -> None:
    said = desk.data("set-aside", "ahead")
    assert said["due"] == desk.data("set-aside")["dues"]
    known = [each for each in said["due"] if each["amount"] is not None]
    assert known
    for each in known:
        parts = sum(float(each[way]) for way in ("held", "there", "short"))
        assert parts == pytest.approx(float(each["amount"]))


def test_without_income_and_expenses_a_sentence_says_so(with_rules: Desk) -> None:
    assert with_rules.lines("by-month") == "No income is in the books of 2026, or of the year before.\n"
    assert with_rules.lines("by-category", "--plain") == "No expense is in the books of 2026-Q1.\n"
    assert with_rules.data("by-category")["categories"] == []


def test_more_than_ten_years_are_refused_and_plain_stands_after_the_last_word(desk: Desk) -> None:
    assert desk.refused("by-month", "1990..2026")["field"] == "period"
    assert desk.type("set-aside", "--plain", "ahead").code == 2


def test_what_was_before_the_books_stands_beside_income_and_expenses_of_its_year(desk: Desk) -> None:
    desk.lines("opening", "--income", "tips 120", "--expenses", "thread 310; batting 90")
    for words, told in (("by-month", "120.00"), ("by-category", "400.00")):
        without = desk.data(words, "2026-Q2")
        assert (desk.data(words, "2026")["before_books"], without["before_books"]) == (told, "0.00")
        for plain in ((), ("--plain",)):
            line = f"Before these books, and in no sum here: {told}."
            assert line in desk.lines(words, "2026", *plain).splitlines()
            assert line not in desk.lines(words, "2026-Q2", *plain).splitlines()
