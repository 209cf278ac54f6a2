"""Build the example: two years of an invented workshop, written into a diary and kept day by day by the real acts."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from ledger.books.books import Books
from ledger.books.clock import Clock
from ledger.example.accountant import accountants_visits
from ledger.example.answers import set_up_list
from ledger.example.bank import statements
from ledger.example.card_company import card_company
from ledger.example.courses import write_job
from ledger.example.diary import Diary
from ledger.example.filing import returns
from ledger.example.gifts import gifts_sold
from ledger.example.hours import with_hours
from ledger.example.machine import plan_and_opening
from ledger.example.ordinary_jobs import ordinary_jobs
from ledger.example.own_tax import own_taxes
from ledger.example.rounds import monthly_round, weekly_round
from ledger.example.seasons import working_days
from ledger.example.set_up import begin_the_books, first_day, later_changes
from ledger.example.spending import put_in_by_the_owner, regular_spending, single_receipts
from ledger.example.told_jobs import bench_of_the_last_day, special_cases
from ledger.example.untaxed import untaxed_stock
from ledger.example.working_days import WorkingDays

JOBS = 300
# Printing a receipt takes some 20 ms: those of the last weeks are printed, as if the older ones had been cleared away.
_PRINTED_DAYS = 14


def build_example(folder: Path, clock: Clock) -> Books:
    """The invented workshop's books in `folder`, from two years before the clock's day through that day.

    The same day gives the same books, digest by digest. Everything after the first day is one transaction: what stops
    it half-way leaves books that have only begun. Raises NotPossible where books already stand there, BooksNotUsable
    where the folder cannot be written.
    """
    days = working_days(clock.today)
    diary = two_years(days)
    books = begin_the_books(folder, days)
    try:
        with books.all_or_nothing() as together:
            diary.keep(together)
    except BaseException:
        books.close()
        raise
    return replace(books, clock=clock)


def two_years(days: WorkingDays) -> Diary:
    """Everything that happens, from the first day to the last."""
    diary = Diary()
    company = card_company(days)
    set_up_list(diary, days)
    first_day(diary, days)
    later_changes(diary, days)
    gifts_sold(diary, days, company)
    told = [*special_cases(diary, days), *bench_of_the_last_day(days)]
    for job in (*with_hours(ordinary_jobs(days, JOBS - len(told)), days), *told):
        printed = job.gone_on is not None and job.gone_on >= days.before_today(_PRINTED_DAYS)
        write_job(diary, replace(job, printed=printed), company)
    put_in_by_the_owner(diary, days)
    regular_spending(diary, days)
    single_receipts(diary, days)
    weekly_round(diary, days, company)
    monthly_round(diary, days)
    plan_and_opening(diary, days)
    untaxed_stock(diary, days)
    returns(diary, days)
    own_taxes(diary, days)
    statements(diary, days)
    accountants_visits(diary, days)
    return diary
