"""The pictures in the rooms: a key shows each, `g` its table, beside the page where it is wide; and the commands say
every figure that they have."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from textual.containers import VerticalScroll

from ledger.actions.registry import acts_of_room
from ledger.books.books import Books
from ledger.cli import main
from ledger.periods import parse_period
from ledger.results.by_month import IncomeByMonth, MonthIncome
from ledger.results.by_month_record import read_income_by_month
from ledger.screens.ahead_picture import AheadLines
from ledger.screens.columns_painting import SOLID
from ledger.screens.income_picture import BEFORE, IncomeLines
from ledger.screens.showing import Showing
from ledger.set_aside.owed import read_set_aside
from ledger.set_aside.year_ahead import year_ahead, year_ahead_of
from tests.screens.conftest import OpenBooks
from tests.screens.small_books import begin_in_yen
from tests.screens.window import LARGE, SMALL, Window, opened
from tests.workshop_example import open_example

SIZES = pytest.mark.parametrize("size", [SMALL, LARGE], ids=["80x24", "200x60"])
AMOUNT = re.compile(r"(?<![\d.-])-?\d[\d,]*\.\d\d\b")


@pytest.fixture
def example(tmp_path: Path) -> Iterator[Books]:
    books = open_example(tmp_path / "example")
    yield books
    books.close()


def said_plainly(books: Books, capsys: pytest.CaptureFixture[str], *words: str) -> str:
    capsys.readouterr()
    line = [*words, "--plain", "--books", str(books.folder), "--on", books.today.isoformat()]
    assert main(line) == 0
    return capsys.readouterr().out


def amounts(text: str) -> set[str]:
    return {each.replace(",", "") for each in AMOUNT.findall(text)}


def fits(window: Window, selector: str) -> bool:
    """Whether nothing of it is out of sight."""
    page = window.screen.query_one(selector, VerticalScroll)
    return (page.max_scroll_y, page.max_scroll_x) == (0, 0)


@SIZES
async def test_income_by_month_is_a_key_away_and_g_turns_it_into_its_table_and_back(
    example: Books, capsys: pytest.CaptureFixture[str], size: tuple[int, int]
) -> None:
    plain = said_plainly(example, capsys, "by-month")
    async with opened(example, size) as window:
        await window.press("5")
        page = window.said_by("#figures")
        await window.press("i")
        picture = window.said_by("#figures")
        assert all(sign in picture for sign in (SOLID, BEFORE, "━ 2026-Q4"))
        assert "Nov is still running: so far, up to Nov 25." in " ".join(picture.split())
        assert fits(window, "#page")
        assert amounts(picture) <= amounts(plain)
        await window.press("g")
        table = window.said_by("#figures")
        assert "Nov, so far" in table
        assert len(amounts(table)) > 20
        assert amounts(table) <= amounts(plain)
        await window.press("g")
        assert window.said_by("#figures") == picture
        await window.press("i")
        assert window.said_by("#figures") == page


@SIZES
async def test_expenses_by_category_are_a_key_away_and_g_turns_them_into_their_table(
    example: Books, capsys: pytest.CaptureFixture[str], size: tuple[int, int]
) -> None:
    plain = "".join(said_plainly(example, capsys, "by-category", period) for period in ("2026-Q4", "2026"))
    async with opened(example, size) as window:
        await window.press("5", "b")
        picture = window.said_by("#figures")
        first, _, year = picture.partition("\n\n")
        assert first.startswith("Expenses of 2026-Q4: $")
        assert year.startswith("Expenses of 2026, up to the end of 2026-Q4: $")
        largest = [float(each) for each in (line.split()[-3].replace(",", "") for line in first.splitlines()[1:])]
        assert largest == sorted(largest, reverse=True)
        assert amounts(picture) <= amounts(plain)
        await window.press("g")
        table = window.said_by("#figures")
        assert amounts(table) == amounts(picture)
        assert all(f"{share} percent" in plain for share in re.findall(r"([\d.]+) %", table))
        await window.press("left")
        assert window.said_by("#figures").startswith("Expenses of 2026-Q3")


async def test_in_a_wide_window_both_stand_beside_the_page_and_are_turned_there(example: Books) -> None:
    async with opened(example, LARGE) as window:
        await window.press("5")
        beside = window.said_by("#pictures")
        assert "Income by month 2026, beside 2025" in beside
        assert "Expenses of 2026-Q4: $" in beside
        assert fits(window, "#beside")
        assert "2026-Q4, so far, on the cash method" in window.said_by("#figures")
        await window.press("g")
        assert "The year" in window.said_by("#pictures")
        await window.resize(110, 24)
        assert all(len(each) <= 110 for each in window.lines())
        await window.resize(*SMALL)
        assert not window.screen.query_one("#beside").display


async def test_where_no_picture_is_shown_g_says_which_keys_show_one(example: Books) -> None:
    async with opened(example) as window:
        await window.press("5", "g")
        assert window.told()[-1].startswith("i shows income by month, b expenses by category.")
        await window.press("4", "g")
        assert window.told()[-1].startswith("y shows the year ahead")


@SIZES
async def test_the_year_ahead_is_a_key_away_and_g_turns_it_into_its_table_and_back(
    example: Books, capsys: pytest.CaptureFixture[str], size: tuple[int, int]
) -> None:
    plain = said_plainly(example, capsys, "set-aside", "ahead")
    assert plain.strip() in said_plainly(example, capsys, "set-aside")
    async with opened(example, size) as window:
        await window.press("4")
        before = window.text()
        await window.press("y")
        picture = window.said_by("#strip")
        assert all(sign in picture for sign in (f"{SOLID} left in tax savings", "? not known yet"))
        assert fits(window, "#strip-frame")
        assert not window.screen.query_one("#figures").display
        assert amounts(picture) <= amounts(plain)
        await window.press("g")
        table = window.said_by("#strip")
        assert len(amounts(table)) > 5
        assert amounts(table) <= amounts(plain)
        await window.press("g")
        assert window.said_by("#strip") == picture
        await window.press("y")
        assert window.text() == before


async def test_in_a_wide_window_the_year_ahead_stands_under_the_strip_and_is_turned_there(example: Books) -> None:
    async with opened(example, LARGE) as window:
        await window.press("4")
        assert "Due within a year" in window.said_by("#strip")
        assert "Tax savings against what falls due, month by month" in window.said_by("#strip")
        await window.press("g")
        assert "Held in tax savings" in window.said_by("#strip")
        assert window.screen.query_one("#figures").has_focus, "the figures can still be gone through"


def test_wages_have_a_key_of_their_own_in_the_set_aside() -> None:
    keys = {each.id: each.key for each in acts_of_room("set_aside")}
    assert keys["say_wages"] == "a"


async def test_in_empty_books_a_sentence_stands_for_each_picture(empty_books: Books) -> None:
    async with opened(empty_books) as window:
        await window.press("5", "i")
        assert window.said_by("#figures").startswith("No income is in the books, of this year or the one before.")
        await window.press("g")
        assert window.said_by("#figures").startswith("No income is in the books")
        await window.press("b")
        assert window.said_by("#figures").startswith("No expense is in the books of 2026-Q1.")
        await window.press("4", "y")
        assert "Nothing is known to fall due within a year" in " ".join(window.said_by("#strip").split())


async def test_months_are_named_and_measured_in_the_books_own_locale(open_copy: OpenBooks) -> None:
    async with opened(open_copy(begin_in_yen)) as window:
        await window.press("p", "enter", "c", "enter", "enter", "5", "i")
        picture = window.said_by("#figures")
        assert "3月" in picture
        assert SOLID in picture
        assert all(len(line) <= 76 for line in picture.splitlines())


def test_one_month_alone_and_a_month_below_zero_are_painted_and_told(books: Books) -> None:
    showing, found = Showing(books.settings), read_income_by_month(books, parse_period("2026"))
    months = [replace(each, cents=None, is_running=False) for each in found.months]
    months[2] = MonthIncome(months[2].first_day, -31_50, None, is_running=True)
    lines = IncomeLines(showing, IncomeByMonth(tuple(months), books.today), parse_period("2026-Q1"))
    picture = "\n".join(map(str, lines.picture(60, 18)))
    assert len(picture.splitlines()) == 18
    assert "Below zero, more given back than taken: Mar." in " ".join(picture.split())
    base = picture.splitlines().index(next(line for line in picture.splitlines() if "├" in line))
    assert SOLID in picture.splitlines()[base + 1]
    assert BEFORE not in picture, "there is no year before"
    assert "-31.50" in "\n".join(lines.table(60))


@pytest.mark.parametrize("width", [40, 56, 76, 196])
def test_what_tax_savings_do_not_reach_hangs_under_the_line_and_is_told(example: Books, width: int) -> None:
    found = read_set_aside(example)
    known = [replace(each, cents=each.cents or 250_00) for each in found.dues]
    lines = AheadLines(Showing(example.settings), year_ahead(known, 400_00, 300_00, example.today))
    picture = list(map(str, lines.picture(width, 30)))
    words = " ".join(" ".join(picture).split())
    assert all(f"{sign} {meaning}" in words for sign, meaning in (("░", "not set aside, but there"), ("▓", "short")))
    assert max(map(len, picture)) <= width
    base = next(place for place, line in enumerate(picture) if "├" in line)
    assert any("▓" in line for line in picture[base + 1 : 28])
    assert "Short by" in words
    table = list(lines.table(width))
    assert max(map(len, table)) <= width
    assert any(" held, " in line and " there" in line for line in table), "one is covered in two ways"


def test_the_picture_of_the_example_holds_what_the_books_say(example: Books) -> None:
    found = year_ahead_of(read_set_aside(example))
    assert found.held_cents - found.due_cents == found.months[-1].left_cents
