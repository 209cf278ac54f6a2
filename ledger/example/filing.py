"""The sales tax returns: each quarter filed and paid some days before it is due, and the last one left to be done."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta

from ledger.actions import file_tax, pay_tax
from ledger.books.balances import balance
from ledger.books.books import Books
from ledger.example.data_files import read
from ledger.example.diary import Act, Diary
from ledger.example.working_days import WorkingDays
from ledger.periods import Period, day_in_month, next_period, quarter_holding
from ledger.taxes import filing_rules
from ledger.taxes.filed_returns import read_filed


def returns(diary: Diary, days: WorkingDays) -> None:
    """Write what the state said of returns, and the filing and paying of each, into the diary."""
    diary.write(days.first, _ways_of_the_state)
    for period in quarters(days):
        following = next_period(period).start
        day = day_in_month(following.year, following.month, read("filing")["day"])
        if day <= days.last:
            diary.write(days.on_or_after(day), _file(period))


def quarters(days: WorkingDays) -> Iterator[Period]:
    """Each quarter of the example, the running one with them."""
    period = quarter_holding(days.first)
    while period.start <= days.today:
        yield period
        period = quarter_holding(period.end + timedelta(days=1))


def _ways_of_the_state(books: Books) -> None:
    told = read("filing")
    with books.writing() as write:
        filing_rules.choose_corrections(books, write, told["corrections"], told["corrections_asked"])
        filing_rules.choose_below_zero(books, write, told["below_zero"], told["below_zero_asked"])


def _file(period: Period) -> Act:
    def act(books: Books) -> None:
        file_tax.perform(books, file_tax.FileRequest(period))
        to_pay = read_filed(books)[-1].to_pay_on(books.today)
        if to_pay > 0:
            there = balance(books, "tax_savings", books.today) >= to_pay
            paid_from = read("filing")["first_from" if there else "else_from"]
            pay_tax.perform(books, pay_tax.PayRequest(period, from_name=paid_from))

    return act
