"""What is still open in a period, found in the books, as sentences for her and her accountant."""

from __future__ import annotations

from datetime import date

from ledger.books.books import Books
from ledger.money import plain_amount
from ledger.quarter.sale_questions import sale_questions
from ledger.quarter.sales_tax import read_sales_tax
from ledger.quarter.spending_questions import spending_questions


def find_questions(books: Books, start: date, end: date) -> tuple[str, ...]:
    """The questions of the days from start to end, both included."""
    tax = read_sales_tax(books, start, end)
    questions = [
        f"Is «{each}» taxed in your state? It was sold and no tax was taken: ask the revenue office."
        for each in tax.unanswered
    ]
    owed = books.value(
        "select coalesce(sum(owed_part.charge + owed_part.tax), 0) from owed_part "
        "join entry on entry.number = owed_part.entry where date <= ?",
        (end.isoformat(),),
    )
    if owed:
        questions.append(f"Customers still owe {plain_amount(owed, books.currency)}.")
    late = books.rows(
        "select number, belongs_on from entry where date between ? and ? and belongs_on < ? and reverses is null "
        "and kind <> 'opening' order by number",
        (start.isoformat(), end.isoformat(), start.isoformat()),
    )
    questions += [f"Entry {row[0]} belongs to {row[1]}, before this period." for row in late]
    return (*questions, *sale_questions(books, start, end), *spending_questions(books, start, end))
