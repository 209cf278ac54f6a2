"""Whatever happens, returns add up: to the sales, to the accounts, and to one total however the periods are cut."""

from __future__ import annotations

import tempfile
from collections.abc import Callable
from datetime import date, timedelta
from decimal import Decimal
from functools import cache
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ledger.actions import give_up, refund, retax, use_untaxed
from ledger.books.balances import read_accounts
from ledger.books.books import Books
from ledger.books.drafts import Draft, postings
from ledger.books.entries import seal
from ledger.books.prove import prove
from ledger.errors import NotPossible, Refused
from ledger.jobs.refund import RefundRequest
from ledger.jobs.retax import RetaxRequest
from ledger.taxes.allowance import Allowance
from ledger.taxes.filing_periods import FilingRule, own_frequency
from ledger.taxes.returns import ReturnsBook
from ledger.taxes.rules import answer_bad_debts
from ledger.taxes.tax_payable import tax_payable_off_cents
from tests.taxes.filings import (
    file,
    pay_return,
    sold,
    told_allowance,
    told_basis,
    told_below_zero,
    told_corrections,
    unfile,
)
from tests.workshop import (
    FIRST_DAY,
    add_rate,
    answer,
    begin_taxed,
    choose_filing,
    copied,
    on_day,
    pay,
    reversed_entry,
    spent,
)

LAST = date(2026, 12, 31)
FREQUENCIES = ["monthly", "quarterly", "yearly", own_frequency(6, 2), own_frequency(4, 3)]


@cache
def year_of_sales(basis: str) -> Path:
    """Books with a sale every nine days, some of them owed, paid, refunded or given up, and a rate that changes."""
    folder = Path(tempfile.mkdtemp(prefix="twopurse-")) / "books"
    books = begin_taxed(folder, opening_cents=9_000_00)
    told_basis(books, basis, FIRST_DAY)
    with books.writing() as write:
        answer_bad_debts(books, write, True, "the revenue office")
    for number in range(36):
        day = FIRST_DAY + timedelta(days=9 * number)
        if number == 20:
            add_rate(books, "Riley county", "1.6", day)
        if number == 28:
            answer(books, "work", False, day)
        job = sold(books, f"{37 + number * 13 % 61}.{number * 7 % 100:02d}", day, ("cash", "owed", "check")[number % 3])
        later = on_day(books, day + timedelta(days=40))
        if number % 9 == 1:
            pay(later, job, "20.00")
        if number % 9 == 4:
            give_up.perform(later, give_up.GiveUpRequest(job, "moved away"))
        if number % 9 == 6:
            refund.perform(later, RefundRequest(job, cents=11_11))
    books.close()
    return folder


@pytest.mark.slow
@pytest.mark.parametrize("basis", ["sale", "payment"])
@settings(deadline=None, derandomize=True, max_examples=12)
@given(
    rules=st.lists(
        st.tuples(st.sampled_from(FREQUENCIES), st.dates(date(2026, 1, 1), date(2026, 11, 30))), min_size=1, max_size=3
    )
)
def test_any_split_over_periods_comes_to_the_same_totals(basis: str, rules: list[tuple[str, date]]) -> None:
    """Base and collected tax of every jurisdiction, however often she files and however often that changes."""
    in_order = tuple(FilingRule(*each) for each in sorted({day: (word, day) for word, day in rules}.values(), key=_day))
    with copied(year_of_sales(basis), date(2027, 3, 1)) as books:
        whole = _totals(ReturnsBook(books, (FilingRule("yearly", FIRST_DAY),)))
        assert _totals(ReturnsBook(books, in_order)) == whole
        collected = sum(tax for _, tax in whole.values())
        taken = books.value("select sum(cents) from tax_line")
        assert collected == taken or basis == "payment"


def _day(rule: tuple[str, date]) -> date:
    return rule[1]


def _totals(book: ReturnsBook) -> dict[tuple[str, Decimal], tuple[int, int]]:
    sums: dict[tuple[str, Decimal], tuple[int, int]] = {}
    for each in book.open_returns():
        sheet = each.worksheet
        assert sheet.collected_cents == sum(line.collected_cents for line in sheet.taxed)
        left = sheet.gross_cents - sheet.unanswered_cents
        left -= sum(each.cents for each in (*sheet.exempt, *sheet.deductions))
        assert left == sheet.taxable_cents
        for line in sheet.taxed:
            base, tax = sums.get((line.levy.name, line.percent), (0, 0))
            sums[line.levy.name, line.percent] = (base + line.taxable_cents, tax + line.collected_cents)
    return {key: each for key, each in sums.items() if any(each)}


Step = Callable[[Books, date, int], object]


def _file_the_oldest(books: Books, day: date, number: int) -> None:
    over = [each for each in ReturnsBook(on_day(books, day)).open_returns() if each.period.is_over(day)]
    if over:
        each = over[number % len(over)]
        file(books, day, each.period.label, is_amended=each.sequence > 0)


def _pay_some(books: Books, day: date, number: int) -> None:
    filed = ReturnsBook(on_day(books, day)).filed
    if filed:
        pay_return(books, day, filed[number % len(filed)].period.label, (None, "3.00", "60.00")[number % 3])


def _undo_the_last(books: Books, day: date, number: int) -> None:
    filed = ReturnsBook(on_day(books, day)).filed
    if filed:
        unfile(books, day, filed[-1].period.label)


def _sell(books: Books, day: date, number: int) -> None:
    sold(books, f"{20 + number}.{number:02d}", day - timedelta(days=number % 60), ("cash", "owed")[number % 2])


def _put_right(books: Books, day: date, number: int) -> None:
    answer(books, "work", number % 2 == 0, FIRST_DAY)
    retax.perform(on_day(books, day), RetaxRequest(_job(books, number), "the answer was wrong", "owed"))


def _give_back(books: Books, day: date, number: int) -> None:
    how = ("check", "owed")[number % 2]
    refund.perform(on_day(books, day), RefundRequest(_job(books, number), cents=5_00, how=how))


def _give_up(books: Books, day: date, number: int) -> None:
    give_up.perform(on_day(books, day), give_up.GiveUpRequest(_job(books, number), "moved away"))


def _undo(books: Books, day: date, number: int) -> None:
    reversed_entry(on_day(books, day), 1 + number % int(books.value("select max(number) from entry")))


def _buy_untaxed(books: Books, day: date, number: int) -> None:
    then = on_day(books, day)
    spent(then, "40.00", "batting", "checking", untaxed=True)
    use_untaxed.perform(then, use_untaxed.UseRequest(10_00 + number, "batting for her own quilt", "own", "batting"))


def _pay_later(books: Books, day: date, number: int) -> None:
    pay(on_day(books, day), _job(books, number), "7.77")


def _job(books: Books, number: int) -> int:
    return 1 + number % int(books.value("select max(id) from job") or 1)


STEPS: list[Step] = [
    _sell,
    _sell,
    _file_the_oldest,
    _file_the_oldest,
    _pay_some,
    _undo_the_last,
    _put_right,
    _give_back,
    _give_up,
    _undo,
    _buy_untaxed,
    _pay_later,
]


@pytest.mark.slow
@pytest.mark.parametrize("basis", ["sale", "payment"])
@pytest.mark.parametrize("corrections", ["next", "amended"])
@settings(deadline=None, derandomize=True, max_examples=12)
@given(
    steps=st.lists(st.tuples(st.sampled_from(STEPS), st.integers(0, 59), st.integers(1, 25)), max_size=14),
    below_zero=st.sampled_from(["carry", "claim"]),
)
def test_the_accounts_agree_with_the_returns_whatever_happens(
    basis: str, corrections: str, steps: list[tuple[Step, int, int]], below_zero: str
) -> None:
    """Selling, filing, paying, correcting and undoing in any order, and what is refused changes nothing."""
    with copied(_begun(), FIRST_DAY) as books:
        told_basis(books, basis, FIRST_DAY)
        told_corrections(books, corrections, FIRST_DAY)
        told_below_zero(books, below_zero, FIRST_DAY)
        day = date(2026, 3, 20)
        for step, number, days in steps:
            day += timedelta(days=days)
            before = books.value("select max(number) from entry")
            try:
                step(books, day, number)
            except Refused:
                assert books.value("select max(number) from entry") >= before
            assert tax_payable_off_cents(books, day) == 0
        assert tax_payable_off_cents(books, LAST + timedelta(days=200)) == 0
        assert prove(books).ok


@cache
def _begun() -> Path:
    folder = Path(tempfile.mkdtemp(prefix="twopurse-")) / "books"
    books = begin_taxed(folder, opening_cents=9_000_00)
    choose_filing(books, "monthly", 20)
    told_allowance(books, Allowance(Decimal("2.5"), cap_cents=30_00), FIRST_DAY)
    sold(books, "185.44", date(2026, 2, 2))
    sold(books, "99.99", date(2026, 3, 2), "owed")
    books.close()
    return folder


def test_a_return_that_does_not_agree_is_found(tmp_path: Path) -> None:
    """The check can fail: an entry that moves the account without tax lines is off by its amount."""
    books = begin_taxed(tmp_path / "books")
    sold(books, "100.00", FIRST_DAY)
    accounts = read_accounts(books)
    with books.writing() as write:
        lines = postings((accounts["sales_tax_payable"], 1_00), (accounts["checking"], -1_00))
        seal(books, write, Draft(on=FIRST_DAY, kind="move", text="paid past the return", postings=lines))
    assert tax_payable_off_cents(books, FIRST_DAY) == -1_00
    books.close()


def test_the_period_of_a_span_is_refused_before_a_rule_stands(tmp_path: Path) -> None:
    books = begin_taxed(tmp_path / "books")
    with pytest.raises(NotPossible):
        file(books, LAST, "2026-01..2026-02")
    books.close()
