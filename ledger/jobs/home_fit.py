"""What she was told beside what her jobs show: the facts for `checklists.fit`, read from the books."""

from __future__ import annotations

from checklists.fit import Care, DayOfVisits, Finding, HomeFacts, fit
from checklists.home_records import read_home_rules, read_practice, read_rooms
from ledger.books.books import Books
from ledger.jobs.records import read_custody, read_visit_days


def read_care(books: Books) -> Care:
    """Other people's pieces at the end of today."""
    custody = read_custody(books, books.today)
    return Care(custody.pieces, custody.value_cents, custody.highest_cents, custody.highest_on)


def read_fit(books: Books) -> tuple[Finding, ...]:
    """Every rule that she was told, beside how she works by the end of today."""
    visits = [DayOfVisits(each.day, each.visits, each.customers) for each in read_visit_days(books, books.today)]
    facts = HomeFacts(books.today, read_rooms(books), read_practice(books), visits, read_care(books))
    return fit(read_home_rules(books), facts, books.currency)
