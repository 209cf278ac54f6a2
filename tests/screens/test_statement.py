"""The page of statements: a month of the example read, matched, placed and agreed with keys alone, and its parts."""

from __future__ import annotations

import os
from collections import Counter
from datetime import date
from pathlib import Path

import pytest
from textual.binding import Binding

from ledger.bank.agreements import read_agreements
from ledger.bank.standing import StandingLine, read_standing
from ledger.books.books import Books
from ledger.books.prove import prove
from ledger.example.statement import as_csv, as_ofx, month_statement
from ledger.periods import parse_period
from ledger.screens.household_statement import HouseholdPage
from ledger.screens.statement import StatementPage
from tests.actions.bank_desk import read_rows
from tests.bank.files import csv
from tests.screens.small_books import OWING
from tests.screens.window import LARGE, SMALL, Window, opened
from tests.workshop import balance_of, entries_of, lines_of
from tests.workshop_example import open_example

DAY = date(2026, 11, 25)
OCTOBER = parse_period("2026-10")


@pytest.fixture
def example(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Books:
    """The example on its last day, with October's statement in both forms where the rooms are opened."""
    books = open_example(tmp_path / "books", DAY)
    statement = month_statement(books, OCTOBER)
    (tmp_path / "oct.ofx").write_bytes(as_ofx(statement))
    (tmp_path / "oct.csv").write_bytes(as_csv(statement))
    monkeypatch.chdir(tmp_path)
    return books


def standing(books: Books) -> list[StandingLine]:
    """The lines that were read beside those of the statements which the example has agreed already."""
    return [each for each in read_standing(books) if each.line.day >= OCTOBER.start]


async def read(window: Window, name: str, account: str = "checking") -> None:
    """Read a file from the page of statements, typing its name."""
    await window.press("r", *name, "tab")
    if account != "checking":
        await window.type(account=account)
    await window.press("ctrl+s")


async def test_the_files_beside_the_books_are_offered_the_latest_first(books: Books) -> None:
    folder = books.folder.parent
    for age, name in enumerate(("new.QFX", "old.csv", "note.txt")):
        (folder / name).write_text("x")
        os.utime(folder / name, (1_000_000 - age, 1_000_000 - age))
    async with opened(books) as window:
        await window.press("2", "r", "r", "f2", "down", "enter")
        assert window.field("file").known == [str(folder / "new.QFX"), str(folder / "old.csv")]
        assert window.values()["file"] == str(folder / "new.QFX")
        await window.type(file=str(folder))
        assert "Choose the file that your bank gave you." in window.faults()["file"]


@pytest.mark.slow
@pytest.mark.parametrize("name", ["oct.ofx", "oct.csv"])
async def test_a_month_of_the_example_is_done_with_keys_alone(example: Books, name: str) -> None:
    async with opened(example) as window:
        await window.press("2", "r")
        assert "No line is open" in window.text()
        await window.press("r", *name)
        assert "22 lines, Oct 1, 2026 to Oct 31, 2026" in window.text()
        assert standing(example) == [], "nothing is kept before she saves"
        await window.press("ctrl+s")
        assert window.told()[-1] == "22 lines: 19 matched, 3 open."
        assert "3 open lines of 57" in window.text()
        # One key each and the next line comes up: a purchase, something of the household's, the bank's charge.
        await window.press("c", *"batt", "enter")
        assert window.screen.selected().line.text == "Greengrocer on the square"  # type: ignore[attr-defined]
        await window.press("h")
        await window.press("c", *"bank", "enter")
        assert "No line is open" in window.text()
        booked = [each.number for each in entries_of(example)][-3:]
        assert [lines_of(example, each)[0][0] for each in booked] == ["batting", "checking", "bank charges"]
        # The balance and the day of the last statement stand in the form already.
        await window.press("a")
        assert "Difference" in window.text()
        await window.press("ctrl+s")
        assert window.told()[-1] == "checking agrees. On paper: agreed-checking-2026-10-31.pdf."
        await window.press("escape")
        assert window.place == "MoneyRoom"
        agreed = read_agreements(example)[-1]
        assert (agreed.account, agreed.day, agreed.changed) == ("checking", OCTOBER.end, ())
        assert prove(example).ok


async def test_enter_takes_what_is_suggested_and_digits_choose_a_candidate(example: Books, tmp_path: Path) -> None:
    (tmp_path / "a.csv").write_bytes(csv("2026-11-02,POS MILL 0043,-12.00", "2026-11-03,POS MILL 0051,-19.00"))
    async with opened(example, LARGE) as window:
        await window.press("2", "r")
        await read(window, "a.csv")
        await window.press("c", *"batt", "enter")
        assert "batting, as before" in window.text()
        await window.press("enter")
        assert "No line is open" in window.text()
        await window.press("v", "down", "u")
        assert window.told()[-1] == "Line 2 is open again."


async def test_later_and_set_aside_and_undo_are_one_key_each(example: Books, tmp_path: Path) -> None:
    (tmp_path / "a.csv").write_bytes(csv("2026-11-02,A,-7.77", "2026-11-03,B,-8.88"))
    async with opened(example) as window:
        await window.press("2", "r")
        await read(window, "a.csv")
        await window.press("l", "down", "i")
        assert [each.state for each in standing(example)] == ["later", "ignored"]
        await window.press("u")
        assert [each.state for each in standing(example)] == ["later", "new"]


async def test_a_household_statement_is_looked_through_and_only_a_picked_line_is_kept(
    example: Books, tmp_path: Path
) -> None:
    rows = csv("2026-11-02,Pharmacy on the hill,-77.01", "2026-11-03,Thimble shop,-12.34")
    (tmp_path / "home.csv").write_bytes(rows)
    async with opened(example) as window:
        await window.press("2", "r")
        await read(window, "home.csv", "household checking")
        assert window.place == "HouseholdPage"
        assert "Pharmacy on the hill" in window.text()
        await window.press("down", "c", *"thread", "tab", "tab", "tab", "enter")
        assert window.told()[-1].endswith("Nothing else of the file was kept.")
        await window.press("escape")
    stored = b"".join(path.read_bytes() for path in example.folder.rglob("*") if path.is_file())
    assert b"Thimble shop" in stored
    assert b"Pharmacy" not in stored


async def test_the_cash_box_is_counted_with_its_difference_shown_before(example: Books) -> None:
    held = balance_of(example, "cash box")
    async with opened(example) as window:
        await window.press("2", "r", "k", *f"{(held - 2_00) // 100}", ".", *f"{(held - 2_00) % 100:02d}")
        assert "Short" in window.text()
        await window.press("enter")
        assert "$2.00 short" in window.told()[-1]
        assert balance_of(example, "cash box") == held - 2_00


async def test_what_is_wrong_with_a_file_stands_in_the_form_and_nothing_is_kept(example: Books, tmp_path: Path) -> None:
    (tmp_path / "a.csv").write_bytes(csv("01/02/2026,A,-7.77"))
    async with opened(example) as window:
        await window.press("2", "r")
        await read(window, "a.csv")
        assert window.place == "ReadForm"
        assert "month first" in window.faults()["dates"]
        await window.type(dates="mdy")
        await window.press("ctrl+s")
        assert window.place == "StatementPage"


async def test_a_balance_that_differs_stays_in_the_form_with_what_may_be_behind_it(example: Books) -> None:
    async with opened(example) as window:
        await window.press("2", "r")
        await read(window, "oct.ofx")
        await window.press("a", "ctrl+s")
        assert window.place == "AgreeForm"
        assert "3 lines of the bank are not in the books yet" in window.text().replace("\n", " ")
        assert len(read_agreements(example)) == 2, "those of the example itself"


@pytest.mark.parametrize("page", [StatementPage, HouseholdPage])
def test_no_key_has_two_meanings_on_a_page(page: type[StatementPage | HouseholdPage]) -> None:
    keys = Counter(key for each in page.BINDINGS if isinstance(each, Binding) for key in each.key.split(","))
    assert [key for key, meanings in keys.items() if meanings > 1] == []


async def test_the_keys_of_the_page_can_be_clicked_and_the_palette_opens_it(example: Books) -> None:
    async with opened(example) as window:
        await window.press("2")
        await window.click("r Statements")
        assert window.place == "StatementPage"
        await window.click("k Count cash")
        assert window.place == "CountForm"
        await window.press("escape", "escape")
        await window.press("slash", *"Place lines", "enter")
        assert window.place == "StatementPage"


@pytest.mark.slow
async def test_a_long_statement_shows_its_progress_and_is_kept_whole(example: Books, tmp_path: Path) -> None:
    rows = [f"2026-11-{place % 20 + 1:02d},Shop {place},-{place + 1}.13" for place in range(1100)]
    (tmp_path / "long.csv").write_bytes(csv(*rows))
    async with opened(example) as window:
        await window.press("2", "r")
        await read(window, "long.csv")
        await window.settle()
        assert window.place == "StatementPage"
        assert "of 1135" in window.text()
        assert len(standing(example)) == 1100


@pytest.mark.slow
async def test_a_long_statement_that_is_stopped_leaves_nothing(
    example: Books, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from ledger.screens.statement_reading import ReadingPage

    rows = [f"2026-11-{place % 20 + 1:02d},Shop {place},-{place + 1}.13" for place in range(1100)]
    (tmp_path / "long.csv").write_bytes(csv(*rows))
    # Stopped as soon as it is there, so that no test depends on how fast the machine is.
    monkeypatch.setattr(ReadingPage, "on_mount", lambda page: (page.action_stop(), page.read()))
    async with opened(example) as window:
        await window.press("2", "r")
        await read(window, "long.csv")
        await window.settle()
        assert "Stopped. Nothing of the statement was kept." in window.told()
        assert standing(example) == []


@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_hostile_words_of_a_bank_stand_there_as_text(
    example: Books, tmp_path: Path, size: tuple[int, int]
) -> None:
    (tmp_path / "a.csv").write_bytes(csv('2026-11-02,"[@click=app.quit]x[/] \x1b[31m\u202eevil",-7.77'))
    async with opened(example, size) as window:
        await window.press("2", "r")
        await read(window, "a.csv")
        assert "[@click=app.quit]x[/]" in window.text()
        assert "\x1b" not in window.text()
        await window.press("c")
        assert window.place == "CategoryForm"


async def test_the_job_that_a_line_pays_is_chosen_by_whose_it_is(books: Books) -> None:
    read_rows(books, "2026-03-16,Deposit,20.00")
    async with opened(books) as window:
        await window.press("2", "r", "j", *"Gia", "down", "enter")
        assert window.values()["job"] == f"{OWING} Gia Moreno: Nine patch"
        await window.press("ctrl+s")
        assert window.place == "StatementPage"
        assert lines_of(books, entries_of(books)[-1].number) == [("checking", 20_00), ("owed by customers", -20_00)]
