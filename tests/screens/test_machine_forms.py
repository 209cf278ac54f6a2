"""The machine's forms: what stands below while one types, and the pages of the schedule and the memo."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

from ledger.actions import set_loan, share_machine
from ledger.books.books import Books
from tests.screens.window import opened


def lend(books: Books) -> None:
    set_loan.perform(books, set_loan.LoanRequest(10_000_00, Decimal(8), 60, date(2026, 4, 5), lender="First Bank"))


async def test_a_payment_tells_its_interest_and_what_is_left_before_it_is_booked(books: Books) -> None:
    lend(books)
    async with opened(books) as window:
        await window.press("3", "l")
        assert window.values()["amount"] == "202.76"
        await window.type(amount="202.76")
        assert "66.67" in window.text()
        assert "9,863.91" in window.text()
        await window.type(amount="10")
        assert "below the interest of 66.67" in window.text()
        await window.type(amount="10100")
        assert "10066.67 with the interest" in window.faults()["amount"]


async def test_the_terms_of_a_loan_tell_the_payment_and_what_is_wrong_beside_its_field(books: Books) -> None:
    async with opened(books) as window:
        await window.press("3", "t")
        await window.type(amount="10000", percent="8", months="60", first="2026-04-05")
        assert "$202.76 a month, the last $203.08; interest $2,165.92 in all." in window.text()
        await window.type(first="2026-03-01")
        assert "lies before the loan" in window.faults()["first"]


async def test_the_schedule_and_the_memo_open_as_pages(books: Books) -> None:
    async with opened(books) as window:
        await window.press("3", "d")
        assert "There is no loan in the books." in " ".join(window.told())
        lend(books)
        await window.press("d")
        assert window.place == "PaperPage"
        assert "Loan 1, First Bank" in window.text()
        assert "9,863.91" in window.text()
        await window.press("escape", "m")
        assert "For your accountant. Nothing is posted." in window.text()


async def test_a_second_machine_is_asked_for_once_there_is_one(books: Books) -> None:
    async with opened(books) as window:
        await window.press("3", "c")
        assert "machine" not in window.values()
        await window.press("escape")
        share_machine.add(books, share_machine.MachineRequest("Second frame"))
        await window.press("c")
        await window.type(what="New frame", amount="20000", machine="Second", given_in="Machine=7000")
        await window.type(**{"from": "checking"})
        assert "13,000.00" in window.text()
