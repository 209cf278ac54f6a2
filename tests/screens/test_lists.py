"""What can be done in a list, in two rooms and a page over one: filtered, ordered, gone through, copied, saved."""

from __future__ import annotations

import base64
import csv
from datetime import date
from pathlib import Path

import pytest

from ledger.books.books import Books
from ledger.cli import main
from ledger.screens.arranged_list import ArrangedList, FilterLine
from ledger.screens.painted_list import PaintedList
from tests import workshop as w
from tests.screens.conftest import OpenBooks
from tests.screens.hostile import STRINGS, clickable_actions, links, what_a_terminal_would_obey
from tests.screens.small_books import OWING, TODAY, begin_long
from tests.screens.window import LARGE, SMALL, Window, opened

MONEY, BENCH, GONE, CATEGORIES = ("2",), ("1",), ("1", "h"), ("2", "y", "c")
PLACES = pytest.mark.parametrize("keys", [MONEY, BENCH, GONE, CATEGORIES], ids=["money", "bench", "gone", "page"])


def rows(window: Window) -> list[tuple[str, ...]]:
    """Every row of the list on top, as it is painted."""
    painted = window.screen.query_one(PaintedList)
    return [painted.get_row_at(row) for row in range(painted.count)]


def said(window: Window) -> str:
    """How the list says that it stands."""
    words = window.screen.query_one(ArrangedList).said
    return str(words.render()) if words.display else ""


@PLACES
async def test_a_filter_narrows_as_one_types_enter_keeps_it_and_escape_takes_it_away(
    books: Books, keys: tuple[str, ...]
) -> None:
    async with opened(books) as window:
        await window.press(*keys)
        place, whole = window.place, rows(window)
        await window.press("full_stop", "f", "b")
        some = [row for row in whole if any("b" in cell.casefold() for cell in row)]
        assert rows(window) == some
        await window.press("a", "enter")
        fewer = [row for row in some if any("ba" in cell.casefold() for cell in row)]
        assert rows(window) == fewer
        assert f"{len(fewer)} of {len(whole)}" in said(window)
        assert "«ba»" in said(window)
        assert window.place == place
        for away in (("escape",), ("full_stop", "f", "b", "escape")):
            await window.press(*away)
            assert rows(window) == whole
            assert said(window) == ""
            assert window.place == place, "Esc took the filter away, and no more"
        await window.press("escape")
        assert window.place != place, "and left once there was none"


@PLACES
async def test_a_column_orders_the_list_the_same_again_turns_it_and_w_brings_it_back(
    books: Books, keys: tuple[str, ...]
) -> None:
    async with opened(books) as window:
        await window.press(*keys)
        whole = rows(window)
        # The last digit that the page offers is that of a column with words.
        last = {MONEY: "5", CATEGORIES: "1"}.get(keys, "6")
        at = {MONEY: 4, CATEGORIES: 0}.get(keys, 4)
        await window.press("full_stop", "o", last)
        ordered = rows(window)
        assert [row[at] for row in ordered] == sorted((row[at] for row in whole), key=str.casefold)
        assert "A first" in said(window)
        assert window.screen.query_one(PaintedList).cursor_row == 0
        await window.press("full_stop", "o", last)
        assert [row[at] for row in rows(window)] == [row[at] for row in reversed(ordered)]
        assert "Z first" in said(window)
        await window.press("full_stop", "w")
        assert rows(window) == whole
        assert said(window) == ""


async def test_money_stands_in_the_order_of_its_entries_and_says_so_when_it_does_not(books: Books) -> None:
    late = w.on_day(books, date(2026, 3, 2))
    w.transferred(late, "move", "3.00", "checking", "cash box")
    async with opened(books) as window:
        await window.press(*MONEY)
        numbers = [int(row[0]) for row in rows(window)]
        assert numbers == sorted(numbers, reverse=True)
        assert said(window) == ""
        await window.press("full_stop", "o", "2")
        assert said(window) == "by date, newest first"
        assert int(rows(window)[0][0]) == numbers[0] - 1
        await window.press("full_stop", "o", "0")
        assert [int(row[0]) for row in rows(window)] == numbers


@PLACES
async def test_a_click_on_the_head_of_a_column_orders_by_it(books: Books, keys: tuple[str, ...]) -> None:
    async with opened(books, LARGE) as window:
        await window.press(*keys)
        head = {MONEY: "Who", CATEGORIES: "Category"}.get(keys, "Whose")
        await window.click(head)
        assert said(window) == f"by {head.casefold()}, A first"
        await window.click(head)
        assert said(window) == f"by {head.casefold()}, Z first"


async def test_one_goes_to_a_day_or_to_the_last_before_it(books: Books) -> None:
    async with opened(books) as window:
        await window.press(*MONEY, "full_stop", "g", *"3/12", "enter")
        assert window.table()[1] == "Mar 12, 2026"
        assert window.told() == []
        await window.press("full_stop", "g", *"last mon", "enter")
        assert window.table()[1] == "Mar 16, 2026"
        await window.press("full_stop", "g", *"3/1", "enter")
        assert window.told()[-1].startswith("Nothing is dated Mar 1, 2026. Here is Feb ")
        await window.press("full_stop", "g", *"soon", "enter")
        assert window.faults() == {"day": "This is no date. Write today, yesterday, 3/14 or 2026-03-14."}


async def test_what_is_promised_is_gone_to_as_a_day_to_come(books: Books) -> None:
    async with opened(books) as window:
        await window.press(*BENCH, "full_stop", "g", *"4/2", "enter")
        assert window.table()[2] == "Thu, Apr 2"


async def test_a_page_without_days_does_not_offer_to_go_to_one(books: Books) -> None:
    async with opened(books) as window:
        await window.press(*CATEGORIES, "full_stop", "g")
        assert window.place == "ListKeysPage"
        assert "Go to a day" not in window.text()


@PLACES
async def test_a_line_is_copied_and_nobody_is_told_that_it_surely_was(books: Books, keys: tuple[str, ...]) -> None:
    async with opened(books) as window:
        await window.press(*keys, "down")
        sent: list[str] = []
        window.app._driver.write = sent.append  # type: ignore[union-attr, method-assign]
        await window.press("full_stop", "c")
        copied = next(each for each in sent if each.startswith("\x1b]52;c;"))
        assert base64.b64decode(copied.removeprefix("\x1b]52;c;").removesuffix("\a")).decode() == "\t".join(
            window.screen.query_one(PaintedList).get_row_at(1)
        )
        assert "Not every terminal takes it" in window.told()[-1]
        assert "saves the list as a file" in window.told()[-1]


@PLACES
async def test_the_whole_list_is_saved_as_it_is_filtered_and_ordered(books: Books, keys: tuple[str, ...]) -> None:
    async with opened(books) as window:
        await window.press(*keys, "full_stop", "f", "a", "enter", "full_stop", "o", "1", "full_stop", "v", "enter")
        name = {MONEY: "entries", CATEGORIES: "categories"}.get(keys, "jobs")
        file = books.folder / "lists" / f"{name}-{TODAY}.csv"
        assert window.told()[-1].endswith(f"saved: {file}")
        written = list(csv.reader(file.read_text(encoding="utf-8").splitlines()))
        painted = window.screen.query_one(ArrangedList)
        assert painted.lines is not None
        assert written[0] == [each.label for each in painted.lines.columns]
        assert len(written) == len(rows(window)) + 1
        at = {MONEY: 0, CATEGORIES: 0}.get(keys, 1)
        seen = [row[0 if keys in (MONEY, CATEGORIES) else 1] for row in rows(window)]
        assert [row[at] for row in written[1:]] == seen


async def test_a_file_that_is_there_is_left_alone_and_she_may_name_another(books: Books, tmp_path: Path) -> None:
    hers = tmp_path / "hers.csv"
    hers.write_text("hers")
    async with opened(books) as window:
        await window.press(*MONEY, "full_stop", "v")
        await window.type(csv=str(hers))
        await window.press("enter")
        assert "is there already" in window.faults()["csv"]
        assert hers.read_text() == "hers"
        await window.type(csv=str(tmp_path))
        await window.press("enter")
        assert (tmp_path / f"entries-{TODAY}.csv").is_file()


async def test_letters_go_to_the_filter_while_it_has_the_focus_and_act_again_after_it(books: Books) -> None:
    async with opened(books) as window:
        await window.press(*MONEY, "full_stop", "f", *"spq/?1")
        assert window.place == "MoneyRoom"
        assert window.screen.query_one(FilterLine).value == "spq/?1"
        assert rows(window) == []
        assert "No entry has that." in window.said_by("#detail")
        await window.press("escape", "s")
        assert window.place == "SpendForm"


async def test_a_filter_finds_accents_and_capitals(books: Books) -> None:
    w.spent(books, "4.00", "thread", "checking", why="Crème Zöpfe")
    async with opened(books) as window:
        await window.press(*MONEY, "full_stop", "f", *"ZOPFE creme")
        assert [row[4] for row in rows(window)] == ["Crème Zöpfe"]


async def test_a_filter_of_any_text_is_text(books: Books) -> None:
    async with opened(books) as window:
        for keys in (MONEY, BENCH):
            await window.press("escape", "escape", *keys, "full_stop", "f")
            for text in STRINGS:
                window.screen.query_one(FilterLine).value = text
                await window.settle()
                assert what_a_terminal_would_obey(window) == []
                assert links(window) == set()
            assert "app.quit" not in clickable_actions(window)
            await window.press("enter")
            assert window.place in ("MoneyRoom", "BenchRoom")


async def test_the_cursor_stays_on_its_entry_while_another_window_writes_into_a_filtered_list(books: Books) -> None:
    async with opened(books) as window:
        await window.press(*MONEY, "full_stop", "f", *"pickup", "enter", "down")
        before, many = window.table(), len(rows(window))
        other = w.reopened(books.folder, TODAY)
        w.picked_up(other, 1, "cash")
        other.close()
        window.app.look_around()  # type: ignore[attr-defined]
        await window.settle()
        assert window.table() == before
        assert len(rows(window)) == many + 1


async def test_any_entry_can_be_selected_also_an_old_one_that_the_filter_would_hide(open_copy: OpenBooks) -> None:
    async with opened(open_copy(begin_long)) as window:
        window.app.enter("money", 7)  # type: ignore[attr-defined]
        await window.settle()
        assert window.table()[0] == "7"
        assert "Entry 7," in window.said_by("#detail")
        assert any(line.split()[:1] == ["7"] for line in window.lines())
        await window.press("full_stop", "f", *"1999", "enter")
        assert [row[0] for row in rows(window)] == ["1999"]
        window.screen.to_select = 8  # type: ignore[attr-defined]
        window.screen.reload()  # type: ignore[attr-defined]
        await window.settle()
        assert window.table()[0] == "8"
        assert said(window) == ""


async def test_a_click_selects_a_line_and_keys_go_through_a_long_list(open_copy: OpenBooks) -> None:
    async with opened(open_copy(begin_long), SMALL) as window:
        await window.press(*MONEY, "pagedown", "pagedown", "end", "up")
        assert window.table()[0] == "2"
        await window.press("home", "pagedown")
        seen = window.table()[0]
        await window.click(str(int(seen) + 1))
        assert window.table()[0] == str(int(seen) + 1)
        assert f"Entry {int(seen) + 1}," in window.said_by("#detail")


async def test_every_job_that_is_gone_is_listed_however_many_there_are(books: Books) -> None:
    async with opened(books) as window:
        await window.press(*GONE)
        assert {row[1] for row in rows(window)} == {str(OWING), "7", "8"}
        await window.press("full_stop", "f", *"pinwheel", "enter")
        assert [row[4] for row in rows(window)] == ["Pinwheel, king"]
        await window.press("h")
        assert said(window) == "", "the bench is another list"


def command(capsys: pytest.CaptureFixture[str], books: Books, *words: str) -> tuple[int, str]:
    """A command about these books, on the day of the tests: its exit code, and what it said against it."""
    capsys.readouterr()
    code = main([*words, "--books", str(books.folder), "--on", TODAY.isoformat()])
    return code, capsys.readouterr().err


async def test_the_room_and_the_command_save_the_same_entries(
    books: Books, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    w.spent(books, "4.00", "thread", "checking", why="=1+1")
    file = tmp_path / "entries.csv"
    assert command(capsys, books, "entries", "--csv", str(file)) == (0, "")
    async with opened(books) as window:
        await window.press(*MONEY, "full_stop", "o", "1", "full_stop", "o", "1", "full_stop", "v", "enter")
    saved = books.folder / "lists" / f"entries-{TODAY}.csv"
    assert saved.read_bytes() == file.read_bytes()
    assert b",'=1+1," in file.read_bytes()
    code, said = command(capsys, books, "entries", "--csv", str(file))
    assert code == 1
    assert "is there already" in said


async def test_the_command_saves_the_entries_that_it_lists(
    books: Books, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    command(capsys, books, "entries", "--job", "7", "--csv", str(tmp_path / "one.csv"))
    written = list(csv.reader((tmp_path / "one.csv").read_text(encoding="utf-8").splitlines()))
    assert {row[written[0].index("Job")] for row in written[1:]} == {"7"}


async def test_the_room_and_the_command_save_the_same_jobs(
    books: Books, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "jobs.csv"
    gone = ("--status", "gone", "--status", "called-off")
    assert command(capsys, books, "job", "list", *gone, "--csv", str(file)) == (0, "")
    async with opened(books) as window:
        await window.press(*GONE, "full_stop", "o", "2", "full_stop", "o", "2", "full_stop", "v", "enter")
    saved = books.folder / "lists" / f"jobs-{TODAY}.csv"
    assert saved.read_bytes() == file.read_bytes()
    assert len(saved.read_text().splitlines()) == 4
