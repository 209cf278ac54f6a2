"""`/` in the rooms: every hit opens its place with the thing selected, and nothing that is typed has to wait."""

from __future__ import annotations

from pathlib import Path

import pytest

from ledger.actions import attach, gift, read_statement
from ledger.books.books import Books
from tests.screens.small_books import OWING, READY
from tests.screens.test_palette_and_help import find, listed
from tests.screens.window import Window, opened


async def go_to(window: Window, words: str, line: str) -> None:
    """Find the words, and choose the line that has these."""
    hits = await find(window, words)
    row = next(place for place, each in enumerate(hits) if line in each)
    await window.press(*["down"] * row, "enter")


async def test_a_job_and_a_customer_stand_on_the_bench_selected_also_gone_ones(books: Books) -> None:
    async with opened(books) as window:
        for words, line, cells in (
            ("brook", "Customer    Ada Brook", ["● ready", str(READY)]),
            ("log cab", "Job 1       Ada Brook: Log cabin, blue", ["● ready", str(READY)]),
            ("pinwheel", "Job 7       Hal Ives: Pinwheel, king", ["  gone", "7"]),
            ("nine patch", f"Job {OWING}       Gia Moreno", ["$ owes", str(OWING)]),
        ):
            await go_to(window, words, line)
            assert (window.place, window.table()[:2]) == ("BenchRoom", cells), words


async def test_an_entry_and_a_shop_stand_in_money_with_the_entry_selected(books: Books) -> None:
    async with opened(books, (110, 30)) as window:
        await go_to(window, "64", "Entry 8     Mill outlet: batting, Mill outlet")
        assert (window.place, window.screen.selected().number) == ("MoneyRoom", 8)  # type: ignore[attr-defined]
        await go_to(window, "corner", "Party       Corner shop")
        assert window.screen.selected().number == 7  # type: ignore[attr-defined]


async def test_an_item_of_the_list_a_certificate_a_document_and_a_bank_line_open_their_places(
    books: Books, tmp_path: Path
) -> None:
    gift.perform(books, gift.GiftRequest(80_00, "cash", "Zora"))
    scan, bank = tmp_path / "corner-shop.pdf", tmp_path / "bank.csv"
    scan.write_bytes(b"%PDF-1.4 x")
    attach.perform(books, attach.AttachRequest(scan, entry=7))
    lines = "".join(f"2026-03-14,UNKNOWN {number},-1.{number}\n" for number in range(10, 40))
    bank.write_text(f"Date,Description,Amount\n{lines}", encoding="utf-8")
    read_statement.perform(books, read_statement.ReadRequest(bank, "checking"))
    async with opened(books) as window:
        await go_to(window, "permit", "Set-up      Sales tax permit before the first sale")
        assert window.screen.selected().id == "sales_tax_permit"  # type: ignore[attr-defined]
        await go_to(window, "g-1001", "Gift        G-1001-05, Zora")
        assert window.place == "PaperPage"
        assert "G-1001-05, sold Mar 18, 2026" in window.text()
        await window.press("escape")
        assert window.place == "MoneyRoom"
        await go_to(window, "corner-shop.pdf", "Document    corner-shop.pdf")
        assert window.screen.selected().number == 7  # type: ignore[attr-defined]
        await go_to(window, "unknown 27", "Bank line   UNKNOWN 27")
        assert window.place == "StatementPage"
        assert window.table()[2] == "UNKNOWN 27"
        await window.press("down")
        assert window.table()[2] == "UNKNOWN 28"


async def test_what_is_looked_for_is_read_once_and_found_again(books: Books) -> None:
    async with opened(books) as window:
        first = await find(window, "brook")
        await window.press("escape")
        assert window.place == "HomeRoom"
        assert await find(window, "brook") == first


async def test_arrows_and_page_keys_go_through_a_long_list_while_one_types_on(books: Books) -> None:
    async with opened(books) as window:
        await window.press("slash", "down", "down", "up", "pagedown")
        assert "Do          Pick up" not in window.text().splitlines()[2]
        row = window.screen.query_one("OptionList").highlighted  # type: ignore[attr-defined]
        assert row > 5
        await window.press("b", "r", "o", "o", "k")
        assert window.screen.query_one("OptionList").highlighted == 0  # type: ignore[attr-defined]
        assert "Ada Brook" in listed(window)[0]


async def test_a_hit_can_be_clicked(books: Books) -> None:
    async with opened(books) as window:
        await find(window, "log cab")
        await window.click("Ada Brook: Log cabin, blue")
        assert window.place == "BenchRoom"


async def test_nothing_found_says_so_and_enter_then_stays(books: Books) -> None:
    async with opened(books) as window:
        assert await find(window, "nowhere at all") == []
        assert window.said_by("#how-many") == "Nothing has all of these words. Fewer letters find more."
        await window.press("enter")
        assert window.place == "FindPage"


@pytest.mark.parametrize("size", [(60, 18), (80, 24), (200, 60)])
async def test_no_line_is_wider_than_the_page_and_what_tells_it_from_its_like_is_not_cut(
    books: Books, size: tuple[int, int]
) -> None:
    async with opened(books, size) as window:
        await find(window, "corner")
        rows = [each for each in window.lines() if "Entry 7 " in each]
        assert "Mar 12, 2026 31.80   │" in rows[0]
        assert all(len(each) <= size[0] for each in window.lines())
