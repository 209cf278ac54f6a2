"""Forms: what is wrong is said beside the field, and nothing that was typed is lost unasked."""

from __future__ import annotations

from datetime import date

import pytest

from ledger.books.books import Books
from ledger.books.entries import read_page
from ledger.spending.habits import known_shops
from tests.screens.small_books import TODAY
from tests.screens.window import opened
from tests.workshop import lines_of, reopened, spent

HALF_FILLED = {"who": "A new shop", "amount": "12.50+3", "why": "for the blue one"}


async def test_escape_asks_where_something_is_typed_and_n_goes_back_to_it(books: Books) -> None:
    async with opened(books) as window:
        await window.press("s")
        await window.type(**HALF_FILLED)
        for stay in ("n", "escape"):
            await window.press("escape")
            assert window.place == "Leaving"
            await window.press(stay)
            assert window.place == "SpendForm"
            assert HALF_FILLED.items() <= window.values().items()
        await window.press("escape", "y")
        assert window.place == "HomeRoom"


@pytest.mark.parametrize("way_out", ["ctrl+q", "ctrl+p"])
async def test_neither_quitting_nor_the_palette_leaves_a_half_filled_form_unasked(books: Books, way_out: str) -> None:
    async with opened(books) as window:
        await window.press("s")
        await window.type(**HALF_FILLED)
        await window.press(way_out)
        assert not window.app._exit
        if way_out == "ctrl+q":
            assert window.place == "Leaving"
            await window.press("ctrl+q", "n")
            assert not window.app._exit
        assert window.place == "SpendForm"
        assert HALF_FILLED.items() <= window.values().items()
        await window.press("ctrl+q", *(["y"] if way_out == "ctrl+q" else []))
        if way_out == "ctrl+p":
            await window.press("y")
        assert window.app._exit


async def test_another_windows_entry_a_small_window_and_an_error_lose_nothing_that_is_typed(books: Books) -> None:
    async with opened(books) as window:
        await window.press("s")
        await window.type(**HALF_FILLED)
        other = reopened(books.folder, TODAY)
        spent(other, "1.00", "thread", "checking")
        other.close()
        window.app.look_around()  # type: ignore[attr-defined]
        await window.resize(40, 10)
        assert "This window is too small" in window.text()
        await window.press("ctrl+s")
        await window.resize(80, 24)
        await window.press("ctrl+s")
        assert window.place == "SpendForm"
        assert HALF_FILLED.items() <= window.values().items()
        assert window.screen.focused is not None


async def test_nothing_is_saved_unseen_in_a_window_too_small_for_the_form(books: Books) -> None:
    async with opened(books) as window:
        await window.press("p", "enter", "c")
        await window.resize(40, 10)
        before = read_page(books, 1)
        await window.press("enter", "ctrl+s")
        assert window.place == "PickupForm"
        assert read_page(books, 1) == before
        await window.resize(80, 24)
        await window.press("enter")
        assert window.place == "ReceiptPage"


async def test_every_fault_is_told_at_once_beside_its_field_and_only_where_something_was_typed(books: Books) -> None:
    async with opened(books) as window:
        await window.press("s")
        assert window.faults() == {}
        await window.type(amount="12x", home="-1", owed="perhaps", on="14/14")
        assert set(window.faults()) == {"amount", "home", "owed", "on"}
        await window.press("ctrl+s")
        assert set(window.faults()) == {"who", "amount", "category", "from", "home", "owed", "on"}
        assert window.faults()["amount"] == "This is no amount. Write it like 42.50 or 12.50+3."
        assert window.screen.focused is window.field("who").input, "the first of them has the focus"


async def test_what_would_be_booked_stands_in_the_form_while_one_types(books: Books) -> None:
    async with opened(books) as window:
        await window.press("s")
        await window.type(who="Mill outlet", amount="40", category="batting", **{"from": "household checking"})
        assert "Workshop $40.00, household $0.00" in window.text()
        assert "Between the purses: contribution, $40.00" in window.text()
        await window.type(owed="y")
        assert "Between the purses: owed to owner, $40.00" in window.text()


async def test_the_first_letters_are_enough_where_only_a_known_name_can_stand(books: Books) -> None:
    async with opened(books) as window:
        await window.press("s")
        await window.type(who="Corner", amount="5")
        await window.press("enter")
        await window.type(category="NEED")
        await window.press("enter")
        assert window.values()["category"] == "needles and parts"
        assert window.values()["who"] == "Corner", "a shop may be a new one"
        await window.type(**{"from": "cash"})
        await window.press("ctrl+s")
        assert lines_of(books, read_page(books, 1)[0].number) == [("cash box", -5_00), ("needles and parts", 5_00)]


async def test_a_shop_seen_before_brings_its_last_category_and_account(books: Books) -> None:
    async with opened(books) as window:
        await window.press("s")
        await window.type(who="mill OUTLET")
        await window.press("tab")
        assert (window.values()["category"], window.values()["from"]) == ("batting", "household checking")
        await window.type(category="thread", who="Corner shop")
        await window.press("enter")
        assert window.values()["category"] == "thread", "what was typed is kept"


async def test_a_new_shop_is_told_with_one_that_begins_like_it(books: Books) -> None:
    async with opened(books) as window:
        known = known_shops(books)[0]
        await window.press("s")
        await window.type(who=known[:3], amount="12", category="thread", **{"from": "workshop card"})
        assert f"New: {known[:3]}; not {known}?" in window.text()
        await window.type(who=known)
        assert "New:" not in window.text()


async def test_a_list_that_drops_down_says_how_an_answer_is_taken(books: Books) -> None:
    async with opened(books) as window:
        await window.press("s", *known_shops(books)[0][:3])
        assert " Down, Enter " in window.text()
        await window.press("down", "enter")
        assert " Down, Enter " not in window.text()
        assert window.field("who").value == known_shops(books)[0]


async def test_enter_goes_from_field_to_field_and_saves_from_the_last_one(books: Books) -> None:
    async with opened(books) as window:
        await window.press("2", "i", "3", "0", *["enter"] * 5)
        assert window.place == "MoneyRoom"
        assert window.told()[-1] == "Entry 10: from household checking to checking."


async def test_a_receipt_dated_yesterday_goes_into_the_books_on_that_day(books: Books) -> None:
    async with opened(books) as window:
        await window.press("s")
        await window.type(who="X", amount="5", category="thread", **{"from": "checking"}, on="last fri")
        await window.press("ctrl+s")
        assert read_page(books, 1)[0].on == date(2026, 3, 13)


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("tomorrow", "This is no date."),
        ("3/19/2026", "2026-03-19 is in the future."),
        ("1/4", "lies before 2026-01-05"),
    ],
)
async def test_a_day_that_nothing_can_be_booked_on_is_refused_beside_it(books: Books, typed: str, said: str) -> None:
    async with opened(books) as window:
        await window.press("s")
        await window.type(who="X", amount="5", category="thread", **{"from": "checking"}, on=typed)
        await window.press("ctrl+s")
        assert window.place == "SpendForm"
        assert said in window.faults()["on"]


async def test_the_quote_of_a_new_job_grows_while_one_types(with_prices: Books) -> None:
    async with opened(with_prices, (100, 30)) as window:
        await window.press("n")
        await window.type(customer="Ada", piece="Star", width="56 56.5 56", length="72", line_1="x", line_2="66")
        quote = window.said_by("#lines")
        assert "4,044.0024 sq in at 0.02" in quote
        assert "66 in at 0.35" in quote
        assert "Total" in quote
        await window.type(rush="25")
        assert "Rush" in window.said_by("#lines")


async def test_pasted_lines_are_kept_in_one_line(books: Books) -> None:
    from textual import events

    async with opened(books) as window:
        await window.press("s")
        window.screen.post_message(events.Paste("Corner\n shop\x1b[31m"))
        await window.settle()
        window.field("who").input.post_message(events.Paste("Corner\r\n shop \x1b[31m"))
        await window.settle()
        assert "Corner shop" in window.values()["who"]
        assert "\x1b" not in window.values()["who"]


async def test_a_reversal_shows_the_mirror_before_it_is_booked_and_the_pair_afterwards(books: Books) -> None:
    async with opened(books) as window:
        await window.press("2", "u")
        assert "Entry 9, Mar 16, 2026, Owner's draw" in window.text()
        await window.type(why="entered twice")
        await window.press("ctrl+s")
        assert window.table(0)[0] == "10"
        assert window.table(0)[4].startswith("x ")
        assert window.table(1)[4].startswith("x ")
        assert "Undone by entry 10" in window.said_by("#detail")


async def test_a_price_is_put_on_the_list_and_stands_in_the_next_jobs_form(empty_books: Books) -> None:
    async with opened(empty_books, (100, 30)) as window:
        await window.press("n")
        assert window.told() == ["The price list is empty. Put the first one on it with «Price» (Bench, m)."]
        await window.press("1", "m")
        await window.type(name="Binding by hand", by="le")
        assert "the way round the piece" in window.said_by("#preview")
        await window.type(rate="0.3o", **{"class": "wor"})
        await window.press("ctrl+s")
        assert set(window.faults()) == {"rate"}
        await window.type(rate="0.30", allowance="-1")
        await window.press("ctrl+s")
        assert set(window.faults()) == {"allowance"}
        await window.type(allowance="10", minimum="5")
        await window.press("ctrl+s")
        assert window.told()[-1] == "Binding by hand: 0.3 by length, work, from Mar 18, 2026."
        await window.press("n")
        await window.type(customer="Ada", piece="Star", width="50", length="60", line_1="x")
        assert "230 in at 0.3" in window.said_by("#lines")
        assert "Total" in window.said_by("#lines")
