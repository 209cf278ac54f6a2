"""What is still open in what went out: receipts without proof, what is owed to the owner, helpers, the car twice."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from ledger.books.balances import balance, movements, read_accounts
from ledger.books.books import Books
from ledger.money import plain_amount
from ledger.results.lines import category_keys
from ledger.spending.information_returns import read_people_paid, threshold
from ledger.spending.mileage import read_trips
from ledger.spending.without_document import document_limit_cents, entries_without_document


def spending_questions(books: Books, start: date, end: date) -> Iterator[str]:
    """The questions of the days from start to end, both included."""
    limit = document_limit_cents(books)
    missing = entries_without_document(books, start, end, limit)
    if missing:
        entries = ", ".join(str(each.entry) for each in missing[:6]) + (" ..." if len(missing) > 6 else "")
        above = plain_amount(limit, books.currency)
        what = "1 receipt" if len(missing) == 1 else f"{len(missing)} receipts"
        yield f"Without a document, above {above}: {what}, entries {entries}."
    owed = -balance(books, "owed_to_owner", end)
    if owed:
        yield f"The workshop still owes its owner {plain_amount(owed, books.currency)}."
    least = threshold(end.year)
    for each in read_people_paid(books, end.year):
        if each.cents >= int(least.dollars) * books.currency.minor_units and each.tax_form is None:
            yield f"{each.name} was paid {plain_amount(each.cents, books.currency)} this year: is a W-9 on file?"
    if read_trips(books, date(end.year, 1, 1), end) and _spent_on_a_car(books, date(end.year, 1, 1), end):
        yield "There is a mileage log and there are costs of a car in one year: do both count, or one of them?"


def _spent_on_a_car(books: Books, start: date, end: date) -> bool:
    """Whether a category that goes to the form's line for a car moved."""
    moved = movements(books, start, end)
    keys = category_keys()
    return any(
        moved[each.id] and (each.line_key or keys.get(each.role or "")) == "car"
        for each in read_accounts(books).of_kind("expense")
    )
