"""The depreciation memo and the rate of return, as a page."""

from __future__ import annotations

from ledger.books.books import Books
from ledger.machine.depreciation_record import read_memo
from ledger.machine.depreciation_sheet import memo_lines
from ledger.screens.forms.paper_page import PaperPage
from ledger.screens.showing import Showing


def memo_page(books: Books, showing: Showing) -> PaperPage:
    """This year's memo. Raises NoFigure before the first year of the tables."""
    year = books.today.year
    return PaperPage(
        f"Depreciation memo {year}",
        memo_lines(read_memo(books, year), showing.plain),
        "Other years are told by the command «machine memo YEAR», limits by the command «depreciation».",
    )
