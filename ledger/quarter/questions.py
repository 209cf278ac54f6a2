"""What is still open in a period, found in the books, as sentences for her and her accountant."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from ledger.books.books import Books
from ledger.money import plain_amount
from ledger.quarter.bank_tables import bank_questions
from ledger.quarter.late import late_question, read_late
from ledger.quarter.machine_questions import machine_questions
from ledger.quarter.own_questions import answers_to, own_questions
from ledger.quarter.return_questions import return_questions
from ledger.quarter.sale_questions import sale_questions
from ledger.quarter.sales_tax import read_sales_tax
from ledger.quarter.spending_questions import spending_questions
from ledger.quarter.use_tax_questions import start_up_questions, use_tax_questions


def find_questions(books: Books, start: date, end: date) -> tuple[str, ...]:
    """The questions of the days from start to end, both included, then her own; none that was answered."""
    said = answers_to(books)
    every = (
        *_of_sales(books, start, end),
        *(late_question(each, books) for each in read_late(books, start, end)),
        *bank_questions(books, start, end),
        *sale_questions(books, start, end),
        *spending_questions(books, start, end),
        *return_questions(books, start, end),
        *use_tax_questions(books, start, end),
        *start_up_questions(books, start, end),
        *machine_questions(books, start, end),
        *own_questions(books),
    )
    return tuple(each for each in dict.fromkeys(every) if each not in said)


def _of_sales(books: Books, start: date, end: date) -> Iterator[str]:
    for each in read_sales_tax(books, start, end).unanswered:
        yield f"Is «{each}» taxed in your state? It was sold and no tax was taken: ask the revenue office."
    owed = books.value(
        "select coalesce(sum(owed_part.charge + owed_part.tax), 0) from owed_part "
        "join entry on entry.number = owed_part.entry where date <= ?",
        (end.isoformat(),),
    )
    if owed:
        yield f"Customers still owe {plain_amount(owed, books.currency)}."
