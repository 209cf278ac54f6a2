"""Pickup, the moment that everything else gives way to: the tax right, the receipt there, and what is seldom."""

from __future__ import annotations

import shutil

from ledger.books.books import Books
from ledger.books.entries import Entry, read_page
from ledger.jobs.records import read_job
from tests.screens.small_books import READY, SECOND_READY
from tests.screens.window import opened
from tests.workshop import cents, lines_of, picked_up, reopened

FOUR_KEYS = ("p", "enter", "c", "enter")
# 56 x 72 in at 0.02, batting of the longer side and 8 in at 0.35; 4.3 and 1.0 percent of 108.64 are 5.76 together.
QUILTING, BATTING, STATE, COUNTY, DEPOSIT = 80_64, 28_00, 4_67, 1_09, 50_00


def newest(books: Books) -> Entry:
    return read_page(books, 1)[0]


async def test_a_letter_says_how_it_was_paid_and_another_one_instead(books: Books) -> None:
    async with opened(books) as window:
        await window.press("p", "down", "enter")
        for letter, how in (("c", "cash"), ("k", "check"), ("d", "card"), ("t", "transfer")):
            await window.press(letter)
            assert window.values()["paid"] == how
            assert f"Paid: {how} $166.80. Enter books it." in window.text()
        await window.press("o")
        assert "Paid: still owed $166.80. Enter books it." in window.text()
        await window.press("enter")
        assert read_job(books, SECOND_READY).owed_cents == cents("166.80")


async def test_letters_go_to_whoever_is_here(books: Books) -> None:
    async with opened(books) as window:
        await window.press("p", *"BENx")
        await window.press("enter", "o", "enter")
        assert read_job(books, SECOND_READY).owed_cents == cents("166.80")


async def test_what_is_due_stands_before_a_letter_was_pressed_and_enter_asks_for_one(books: Books) -> None:
    async with opened(books) as window:
        await window.press("p", "enter")
        assert "Due $64.40" in window.text()
        assert "How is it paid?" in window.text()
        before = newest(books).number
        await window.press("enter")
        assert window.place == "PickupForm"
        assert "paid" in window.faults()
        assert newest(books).number == before


async def test_cash_handed_over_tells_the_change_on_the_form_and_afterwards(books: Books) -> None:
    async with opened(books) as window:
        await window.press("p", "enter", "c")
        await window.type(tendered="100")
        assert "change $35.60" in window.text()
        await window.press("enter")
        assert window.told() == ["Job 1 has gone home with Ada Brook. Change $35.60."]


async def test_tip_discount_check_number_and_part_payment_go_into_one_entry(books: Books) -> None:
    async with opened(books) as window:
        await window.press("p", "down", "enter")
        await window.type(paid="card=40 check", number="1021", tip="5", discount="8.40", fee="1.2", amount="100")
        await window.press("ctrl+s")
        assert window.place == "ReceiptPage", window.text()
        # 158.40 less 8.40, with 5.3 percent: 157.95, and the tip.
        assert lines_of(books, newest(books).number) == sorted(
            [
                ("card fees", 1_20),
                ("card settlements", 38_80),
                ("checking", 60_00),
                ("job income", -150_00),
                ("owed by customers", 62_95),
                ("sales tax payable", -6_45),
                ("sales tax payable", -1_50),
                ("tips", -5_00),
            ]
        )


async def test_a_job_picked_up_in_another_window_meanwhile_is_refused_and_nothing_typed_is_lost(books: Books) -> None:
    other = reopened(books.folder, books.today)
    async with opened(books) as window:
        await window.press("p", "enter", "c")
        await window.type(tip="3")
        picked_up(other, READY, "check")
        number = newest(other).number
        other.close()
        await window.press("ctrl+s")
        assert window.place == "PickupForm"
        assert window.said_by("#fault").startswith("Job 1 is picked up already.")
        assert window.values()["tip"] == "3"
        assert newest(books).number == number


async def test_the_bench_picks_up_what_is_selected_there(books: Books) -> None:
    async with opened(books) as window:
        await window.press("1", "down", "p")
        assert "Ben Okoro" in window.said_by("#lines")
        await window.press("c", "enter")
        assert newest(books).job == SECOND_READY


async def test_a_receipts_folder_that_cannot_be_written_is_a_sentence_and_nothing_is_booked(books: Books) -> None:
    async with opened(books) as window:
        # A file stands where the folder should be: refused to every user, root among them.
        shutil.rmtree(books.folder / "receipts")
        (books.folder / "receipts").write_text("in the way", encoding="utf-8")
        before = newest(books).number
        await window.press("p", "enter", "c", "enter")
        assert window.place == "PickupForm"
        assert str(books.folder) in window.said_by("#fault")
        assert newest(books).number == before
        assert read_job(books, READY).status == "ready"
        (books.folder / "receipts").unlink()
        await window.press("enter")
        assert window.place == "ReceiptPage"


async def test_without_a_piece_in_the_house_p_says_so(with_prices: Books) -> None:
    async with opened(with_prices) as window:
        await window.press("p")
        assert window.place == "HomeRoom"
        assert window.told() == ["No piece is here to be picked up. Take one in with n."]


async def test_the_letter_does_too_where_enter_came_first_and_the_field_has_the_focus(books: Books) -> None:
    """From the Bench the slip opens at once, so that the four keys from home are one too many there."""
    async with opened(books) as window:
        await window.press("1", *FOUR_KEYS)
        assert window.place == "ReceiptPage"
        assert ("cash box", QUILTING + BATTING + STATE + COUNTY - DEPOSIT) in lines_of(books, newest(books).number)
        await window.press("enter", "p")
        await window.type(paid="D=40 k")
        assert "Paid: card $40.00, check $126.80. Enter books it." in window.text()
