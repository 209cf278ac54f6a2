"""A year that began before its books: what was told of it counts in the year, and in no quarter of the books."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from ledger.actions import add_work, opening
from ledger.actions.opening_request import (
    CertificateBefore,
    DebtBefore,
    DepositBefore,
    LoanBefore,
    MachineBefore,
    OpeningRequest,
    TaxBefore,
)
from ledger.actions.take_in import WantedLine
from ledger.books.books import Books
from ledger.books.prove import prove
from ledger.books.settings import choose
from ledger.periods import Period, parse_period
from ledger.quarter.checks import run_checks
from ledger.quarter.questions import find_questions
from ledger.quarter.reports import read_report
from ledger.quarter.span import PacketChoice, span_of
from ledger.quarter.year_tables import quarters_in, quarters_table
from ledger.results.by_month_record import read_income_by_month
from ledger.results.filled import read_form
from ledger.results.period import read_statement
from ledger.set_aside.estimated import read_estimated
from ledger.set_aside.own_tax import read_own_tax
from tests import workshop as w
from tests.set_aside.checks import check_set_aside
from tests.taxes.filings import file, pay_return

BEGUN, JULY, AUGUST, NOVEMBER = date(2026, 6, 15), date(2026, 7, 5), date(2026, 8, 3), date(2026, 11, 30)
YEAR = parse_period("2026")
QUARTERS = [parse_period(f"2026-Q{number}") for number in (1, 2, 3, 4)]


def begun(folder: Path) -> Books:
    books = w.begin_taxed(folder, BEGUN, opening_cents=1_250_00)
    w.add_to_price_list(books, "Edge-to-edge", "area", "0.02", from_date=BEGUN)
    return books


@pytest.fixture
def books(tmp_path: Path) -> Iterator[Books]:
    """The worked example, told on the first day and worked on until November.

    Before the books: job income 8,200.00, tips 120.00, given back 20.00, thread 310.00, batting 1,150.00, meals 50.00;
    800.00 of estimated tax. Since: a job of 200.00 in July, thread for 40.00; in August Ada pays what she owed, 100.00
    and its tax, and Cara fetches work of 96.00 on which she had paid a deposit of 50.00 before the books.
    """
    opened = begun(tmp_path / "books")
    opening.perform(
        opened,
        OpeningRequest(
            debts=(DebtBefore("Ada Brook", 105_30, 5_30),),
            deposits=(DepositBefore(50_00, None, "Cara Lind", "Fan", Decimal(60), Decimal(80)),),
            income=(("job income", 8_200_00), ("tips", 120_00), ("returns and allowances", 20_00)),
            expenses=(("thread", 310_00), ("batting", 1_150_00), ("meals", 50_00)),
            estimated=((1, 400_00), (2, 400_00)),
        ),
    )
    july, august = w.on_day(opened, JULY), w.on_day(opened, AUGUST)
    w.picked_up(july, w.job_for(july, "200.00", customer="Dee"), "cash")
    w.spent(july, "40.00", "thread", "checking")
    w.pay(august, 1, "105.30")
    add_work.perform(august, add_work.AddWorkRequest(2, (WantedLine("Edge-to-edge"),)))
    w.picked_up(august, 2, "cash")
    yield w.on_day(opened, NOVEMBER)
    opened.close()


def net(books: Books, period: Period) -> int:
    return read_statement(books, period.start, period.end).net_cents()


def test_the_profit_of_the_year_is_that_of_the_books_and_what_was_before_them(books: Books) -> None:
    # In the books: 200.00 - 40.00 + 100.00 + (96.00 - 50.00) = 306.00, all in the third quarter.
    assert [net(books, each) for each in QUARTERS] == [0, 0, 306_00, 0]
    found = read_own_tax(books, 2026, NOVEMBER)
    # Before: 8,200.00 + 120.00 - 20.00 - 310.00 - 1,150.00 - 50.00 = 6,790.00; the year 7,096.00.
    assert found.profit_cents == 7_096_00
    # Times 0.9235 is 6,553.156; 12.4 % of it 812.591344, 2.9 % of it 190.041524: together 1,002.632868.
    assert found.tax.self_employment_cents == 1_002_63
    assert (found.paid_cents, found.left.self_employment_cents) == (800_00, 202_63)
    assert read_estimated(books, found, NOVEMBER).paid_cents == 800_00
    assert check_set_aside(books).owed.self_employment == 202_63
    assert read_own_tax(books, 2025, NOVEMBER).profit_cents == 0


def test_income_by_month_has_the_months_of_the_books_and_tells_the_rest_beside_them(books: Books) -> None:
    found = read_income_by_month(books, YEAR)
    # What was owed and what was held before the books is in no month: August is 100.00 and 46.00.
    assert [each.cents for each in found.months] == [*[None] * 5, 0, 200_00, 146_00, 0, 0, 0, None]
    assert (found.total_cents, found.before_books_cents) == (346_00, 8_300_00)
    assert read_income_by_month(books, QUARTERS[2]).before_books_cents == 0


def test_the_form_of_the_year_has_both_parts_and_that_of_a_quarter_the_books_alone(books: Books) -> None:
    year = read_form(books, YEAR.start, YEAR.end, whole_year=True)
    assert year.before is not None
    # Meals count by half: 25.00 of the 50.00.
    assert (year.before.cents["gross_receipts"], year.before.cents["returns"]) == (8_320_00, 20_00)
    assert (year.before.cents["meals"], year.before.net_profit_cents) == (25_00, 6_815_00)
    assert (year.form.cents["gross_receipts"], year.form.cents["supplies"]) == (8_666_00, 1_500_00)
    assert year.form.net_profit_cents == 7_121_00
    third = read_form(books, QUARTERS[2].start, QUARTERS[2].end)
    assert (third.form.cents["gross_receipts"], third.form.net_profit_cents, third.before) == (346_00, 306_00, None)
    assert read_form(books, QUARTERS[0].start, QUARTERS[0].end).form.net_profit_cents == 0


def test_the_tables_of_the_year_show_both_parts(books: Books) -> None:
    table = quarters_table(books, quarters_in(YEAR), PacketChoice())
    assert table.rows[0] == ("before these books", 8_300_00, 1_510_00, 6_790_00)
    assert table.sum_of(3) == 7_096_00
    form = read_report(books, "form-lines", YEAR)[0]
    assert [each.head for each in form.fields][2:] == ["Before these books", "In these books", "Year"]
    last = form.rows[-1]
    assert last[1:] == ("net profit", 6_815_00, 306_00, 7_121_00)
    assert [each.head for each in read_report(books, "form-lines", QUARTERS[2])[0].fields][2:] == ["Amount"]
    assert span_of(books, YEAR).so_far


def test_tax_that_is_laid_on_the_seller_was_received_before_and_is_paid_since(tmp_path: Path) -> None:
    books = begun(tmp_path / "others")
    with books.writing() as write:
        choose(write, "sales tax is laid on", "seller", BEGUN, BEGUN, "accountant")
    w.choose_filing(books, "quarterly")
    opening.perform(books, OpeningRequest(tax=TaxBefore(((None, 53_00),), 1_000_00)))
    file(books, JULY, "2026-Q2")
    pay_return(books, JULY, "2026-Q2")
    then = w.on_day(books, NOVEMBER)
    second, third = (read_form(then, each.start, each.end).form.cents for each in QUARTERS[1:3])
    assert (second["gross_receipts"], second.get("taxes_and_licenses", 0)) == (0, 0)
    assert (third["gross_receipts"], third["taxes_and_licenses"]) == (0, 53_00)
    books.close()


def test_the_accountant_is_asked_about_the_year_before_in_the_period_in_which_the_books_begin(books: Books) -> None:
    asked = "Of 2026 before these books the owner told income of 8300.00 and expenses of 1510.00"
    for period, is_asked in ((QUARTERS[1], True), (YEAR, True), (QUARTERS[2], False)):
        found = find_questions(books, period.start, period.end)
        assert any(each.startswith(asked) for each in found) is is_asked


def test_a_room_of_the_home_counts_its_months_from_the_books_on_and_says_so(books: Books) -> None:
    with books.writing() as write:
        choose(write, "workshop area", "120 square feet", BEGUN, BEGUN)
        choose(write, "home cost method", "simplified", BEGUN, BEGUN, "accountant")
    notes = read_form(books, YEAR.start, YEAR.end, whole_year=True).notes
    assert "home: months before these books are not counted" in notes


CENTS = st.integers(1, 9_000_00)
NAMES = st.sampled_from(["Ada", "Ben", "Cara"])
INCOME = st.sampled_from(["job income", "tips", "other income", "returns and allowances"])
SPENT = st.sampled_from(["thread", "batting", "meals", "home cost", "licenses and taxes"])
ROLES = st.sampled_from(["checking", "cash_box", "tax_savings", "card_settlements", "workshop_card", "owed_to_owner"])
DEBTS = st.builds(lambda name, cents: DebtBefore(name, cents + 1), NAMES, CENTS)
DEPOSITS = st.builds(
    lambda name, cents: DepositBefore(cents, None, name, "Fan", Decimal(60), Decimal(80)), NAMES, CENTS
)
REQUESTS = st.builds(
    OpeningRequest,
    balances=st.lists(st.tuples(ROLES, CENTS), max_size=4, unique_by=lambda each: each[0]).map(tuple),
    debts=st.lists(DEBTS, max_size=2, unique=True).map(tuple),
    deposits=st.lists(DEPOSITS, max_size=2, unique=True).map(tuple),
    certificates=st.lists(CENTS, max_size=2, unique=True).map(
        lambda several: tuple(CertificateBefore(str(each), each) for each in several)
    ),
    tax=st.none() | st.builds(lambda cents: TaxBefore(((None, cents),), cents * 20), CENTS),
    income=st.lists(st.tuples(INCOME, CENTS), max_size=3).map(tuple),
    expenses=st.lists(st.tuples(SPENT, CENTS), max_size=3).map(tuple),
    estimated=st.lists(st.tuples(st.integers(1, 4), CENTS), max_size=2, unique_by=lambda each: each[0]).map(tuple),
    machine=st.builds(lambda taken, part: MachineBefore(None, None, taken + part, taken), CENTS, CENTS),
    loan=st.none() | st.builds(lambda cents: LoanBefore(cents + 500_00, Decimal(5), 60_00, JULY), CENTS),
)


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    opened = begun(tmp_path_factory.mktemp("mid_year") / "books")
    opened.close()
    return opened.folder


@given(
    requests=st.lists(REQUESTS.filter(lambda each: not each.is_empty), min_size=1, max_size=2), choices=st.booleans()
)
@settings(max_examples=8, suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large])
def test_after_any_opening_the_books_are_whole_and_the_quarters_with_what_was_before_make_the_year(
    folder: Path, requests: list[OpeningRequest], choices: bool
) -> None:
    with w.copied(folder, BEGUN) as books:
        if choices:
            with books.writing() as write:
                choose(write, "cost of goods sold", "yes", BEGUN, BEGUN, "accountant")
                choose(write, "sales tax is laid on", "seller", BEGUN, BEGUN, "accountant")
        opening.perform(books, requests[0])
        if len(requests) > 1:  # told anew, but for what is added
            opening.perform(books, OpeningRequest(balances=requests[1].balances, income=(("tips", 1),)))
        work(w.on_day(books, JULY))
        then = w.on_day(books, NOVEMBER)
        assert prove(then).findings == ()
        assert (w.purse_sums(then), w.crossing_sum(then)) == ({"business": 0, "personal": 0}, 0)
        assert [each for each in run_checks(then, BEGUN, NOVEMBER) if not each.ok] == []
        check_set_aside(then)
        year = read_form(then, YEAR.start, YEAR.end, whole_year=True)
        parts = [read_form(then, each.start, each.end).form.cents for each in QUARTERS]
        before = year.before.cents if year.before is not None else {}
        levels = {"opening_inventory", "closing_inventory", "cost_of_goods_sum"}
        for key in {*year.form.cents, *before, *(key for part in parts for key in part)} - levels:
            assert before.get(key, 0) + sum(part.get(key, 0) for part in parts) == year.form.cents.get(key, 0), key
        assert read_own_tax(then, 2026, NOVEMBER).profit_cents == net(then, YEAR) + _told(then)


def work(books: Books) -> None:
    """Something of the books' own, in the third quarter."""
    w.picked_up(books, w.job_for(books, lines=["Edge-to-edge"], customer="Dee"), "cash")
    w.spent(books, "40.00", "batting", "checking")


def _told(books: Books) -> int:
    rows = books.rows("select what, account, cents from before_books where what in ('income', 'expenses') order by id")
    latest = {(row["what"], row["account"]): row["cents"] for row in rows}
    return sum(cents if what == "income" else -cents for (what, _), cents in latest.items())
