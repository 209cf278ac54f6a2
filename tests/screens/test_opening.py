"""The form for what stood there when the books began: groups of fields, and what they book below them."""

from __future__ import annotations

from ledger.books.before_books import read_year_before
from ledger.books.books import Books
from ledger.books.entries import read_page
from tests.screens.window import LARGE, opened


async def test_it_opens_in_set_up_and_from_the_lists_of_money(books: Books) -> None:
    async with opened(books) as window:
        await window.press("6", "b")
        assert window.place == "OpeningForm"
        await window.press("escape", "2", "y", "a")
        assert window.place == "OpeningForm"
        assert "As it was at the beginning of Jan 5, 2026." in window.text()


async def test_in_a_small_window_what_stands_below_goes_with_the_group_one_is_in(books: Books) -> None:
    async with opened(books) as window:
        await window.press("6", "b")
        await window.type(cash_box="60", income="tips 20")
        assert "A figure: income, tips" in window.text()
        assert "In all: 1 entry, 1 figure." in window.text()
        assert "opening balance" not in window.text()
        window.field("cash_box").input.focus()
        await window.settle()
        assert "In the cash box when the books began" in window.text()
        assert "opening balance                     -60.00" in window.text()


async def test_in_a_tall_window_all_of_it_stands_below_and_is_saved_at_once(books: Books) -> None:
    async with opened(books, LARGE) as window:
        await window.press("6", "b")
        await window.type(tax_savings="300", certificates="17 50", income="tips 20")
        for words in ("In tax savings when", "Gift certificate 17, out when", "A figure: income, tips"):
            assert words in window.text()
        await window.press("ctrl+s")
        assert window.told()[-1] == "2 entries and figures kept: as the books began."
        assert read_year_before(books, 2026).income_cents == 20_00
        assert [each.text for each in read_page(books, 20) if each.kind == "opening"][:2] == [
            "Gift certificate 17, out when the books began",
            "In tax savings when the books began",
        ]


async def test_names_in_a_list_are_offered_as_one_types(books: Books) -> None:
    async with opened(books, LARGE) as window:
        await window.press("6", "b")
        window.field("expenses").input.focus()
        await window.press(*"thread 3; bat", "right", *" 5", "home")
        assert window.field("expenses").value == "thread 3; batting 5"


async def test_what_was_told_stands_in_the_empty_fields(books: Books) -> None:
    async with opened(books, LARGE) as window:
        await window.press("6", "b")
        assert window.field("checking").asked.hint == "told: 2,000.00"
        await window.type(debts="Ada Brook 105.30; Ben Okoro 40", earned="5")
        await window.press("ctrl+s", "b")
        hints = {name: window.field(name).asked.hint for name in ("taken_in", "earned", "cash_box")}
        assert hints == {"taken_in": "told: 5.00", "earned": "told: 5.00", "cash_box": ""}
        assert window.field("debts").asked.hint == "told: 145.30; such as Ada Brook 120.50; Ben Okoro 40"


async def test_what_is_wrong_stands_beside_its_field_and_nothing_is_kept(books: Books) -> None:
    async with opened(books, LARGE) as window:
        await window.press("6", "b")
        before = read_page(books, 1)
        await window.type(cash_box="60", debts="Ada Brook", estimated="9 400")
        await window.press("ctrl+s")
        assert window.place == "OpeningForm"
        assert "was not understood" in window.field("debts").message.content.plain  # type: ignore[union-attr]
        assert read_page(books, 1) == before
