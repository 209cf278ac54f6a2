"""Books begun in the middle of the year: what stood there is told once, crosses nothing, and counts as it should."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from ledger.actions import add_work, card_payout, opening, pay_loan, pick_up
from ledger.actions.opening_request import (
    CertificateBefore,
    DebtBefore,
    DepositBefore,
    LoanBefore,
    MachineBefore,
    OpeningRequest,
    TaxBefore,
)
from ledger.actions.reverse import ReverseRequest
from ledger.actions.reverse import perform as reverse
from ledger.actions.take_in import WantedLine
from ledger.actions.take_owed import OwedMoneyRequest
from ledger.actions.take_owed import perform as take_owed
from ledger.books.before_books import read_year_before
from ledger.books.books import Books
from ledger.books.closing import close_period
from ledger.books.prove import prove
from ledger.errors import NotFound, NotPossible, NotUnderstood, Refused
from ledger.jobs.gift_certificates import read_certificates
from ledger.jobs.job import Job
from ledger.jobs.records import read_custody, read_job, read_visit_days
from ledger.machine.loan_record import read_loans
from ledger.machine.payback_record import PaybackRecord
from ledger.quarter.checks import run_checks
from ledger.results.period import read_statement
from ledger.spending.crossings import read_crossings
from tests import workshop as w
from tests.set_aside.checks import check_set_aside

BEGUN = date(2026, 6, 15)
TOLD = date(2026, 6, 20)
LATER = date(2026, 8, 3)

EVERYTHING = OpeningRequest(
    balances=(
        ("cash_box", 60_00),
        ("tax_savings", 300_00),
        ("card_settlements", 45_20),
        ("workshop_card", 88_10),
        ("owed_to_owner", 40_00),
    ),
    debts=(DebtBefore("Ada Brook", 105_30, 5_30),),
    deposits=(DepositBefore(50_00, None, "Cara Lind", "Fan", Decimal(60), Decimal(80), 400_00),),
    certificates=(CertificateBefore("17", 25_00),),
    tax=TaxBefore((("Kansas state", 43_00), ("riley county", 10_00)), 1_000_00, 1_100_00),
    income=(("job income", 8_200_00), ("tips", 120_00), ("returns and allowances", 20_00)),
    expenses=(("thread", 310_00), ("batting", 1_200_00)),
    estimated=((1, 400_00), (2, 400_00)),
    machine=MachineBefore(18_500_00, date(2025, 2, 1), 9_000_00, 6_500_00),
    loan=LoanBefore(9_400_00, Decimal(5), 202_76, date(2026, 7, 1)),
)


@pytest.fixture
def books(tmp_path: Path) -> Iterator[Books]:
    opened = w.begin_taxed(tmp_path / "books", BEGUN, opening_cents=1_250_00)
    w.add_to_price_list(opened, "Edge-to-edge", "area", "0.02", from_date=BEGUN)
    yield w.on_day(opened, TOLD)
    for day in (BEGUN, TOLD, LATER):
        check_everything(w.on_day(opened, day))
    opened.close()


def check_everything(books: Books) -> None:
    """Each purse at zero, the crossing accounts too, the books whole, every check passed, every part adding up."""
    assert w.purse_sums(books) == {"business": 0, "personal": 0}
    assert w.crossing_sum(books) == 0
    assert prove(books).findings == ()
    assert [each for each in run_checks(books, BEGUN, books.today) if not each.ok] == []
    check_set_aside(books)


def told(books: Books, **parts: Any) -> list[int]:
    """The entries of an opening."""
    return [each.number for each in opening.perform(books, OpeningRequest(**parts))[1]]


def fifty(books: Books) -> Job:
    """A job that comes to 50.00, and 2.65 of tax."""
    return w.job_for(books, lines=["Edge-to-edge"], customer="Dee", width="50", length="50")


def picked_up_with(books: Books, job: Job, certificate: str) -> None:
    pick_up.perform(books, replace(w.pickup_request(job, "cash"), gifts=(certificate,)))


def net(books: Books, start: date = date(2026, 1, 1), end: date = date(2026, 12, 31)) -> int:
    return read_statement(books, start, end).net_cents()


def test_each_amount_is_one_entry_of_the_first_day_against_the_opening_balance(books: Books) -> None:
    done, sealed = opening.perform(books, EVERYTHING)
    entries = {each.number: w.lines_of(books, each.number) for each in sealed}
    assert list(entries.values()) == [
        w.written("cash box +60.00", "opening balance -60.00"),
        w.written("tax savings +300.00", "opening balance -300.00"),
        w.written("card settlements +45.20", "opening balance -45.20"),
        w.written("workshop card -88.10", "opening balance +88.10"),
        w.written("owed to owner -40.00", "opening balance +40.00"),
        w.written("opening balance +53.00", "sales tax payable -43.00", "sales tax payable -10.00"),
        w.written("machine +18,500.00", "opening balance -18,500.00"),
        w.written("opening balance +25.00", "gift certificates -25.00"),
        w.written("owed by customers +105.30", "opening balance -105.30"),
        w.written("opening balance +50.00", "customer deposits -50.00"),
        w.written("opening balance +9,400.00", "machine loan -9,400.00"),
    ]
    owed_to_owner = sealed[4].number
    assert w.lines_of(books, owed_to_owner, "personal") == w.written(
        "workshop mirror +40.00", "household opening balance -40.00"
    )
    assert {each.on for each in w.entries_of(books)} == {BEGUN}
    assert [each.draft.text for each in done.entries][0] == "In the cash box when the books began"
    # Nothing of it is income, an expense, or anything else of the quarter.
    assert (net(books), net(books, date(2026, 4, 1), date(2026, 6, 30))) == (0, 0)


def test_what_customers_owe_is_income_of_the_day_on_which_they_pay_without_its_tax(books: Books) -> None:
    told(books, debts=(DebtBefore("Ada Brook", 105_30, 5_30), DebtBefore("Ben Okoro", 40_00, 0)))
    later = w.on_day(books, LATER)
    assert (net(later), w.balance_of(later, "owed by customers")) == (0, 145_30)
    take_owed(later, OwedMoneyRequest("Ada Brook", 52_65, "check"))
    assert net(later, LATER, LATER) == 50_00
    take_owed(later, OwedMoneyRequest("Ada Brook", 52_65, "check"))
    take_owed(later, OwedMoneyRequest("Ben Okoro", 40_00, "cash"))
    assert net(later, LATER, LATER) == 140_00
    assert net(later, date(2026, 4, 1), date(2026, 6, 30)) == 0
    assert w.balance_of(later, "owed by customers") == 0
    with pytest.raises(NotPossible, match="owes 0.00"):
        take_owed(later, OwedMoneyRequest("Ada Brook", 1, "cash"))


def test_the_tax_in_a_debt_comes_from_the_rates_of_the_first_day_where_work_is_taxed(books: Books) -> None:
    done, _ = opening.perform(books, OpeningRequest(debts=(DebtBefore("Ada Brook", 105_30),)))
    assert done.entries[0].parts is not None
    # 105.30 / 1.053 is 100.00
    assert (done.entries[0].parts.charge_cents, done.entries[0].parts.tax_cents) == (100_00, 5_30)


def test_a_deposit_is_used_at_pickup_and_was_income_when_it_came(books: Books) -> None:
    told(books, deposits=EVERYTHING.deposits)
    job = read_job(books, 1)
    assert (job.status, job.deposit_cents, job.customer.name) == ("in-hand", 50_00, "Cara Lind")
    # The piece is in the house from the first day on, and nobody came with it that day.
    assert read_custody(books, BEGUN).value_cents == 400_00
    assert read_visit_days(books, TOLD) == ()
    later = w.on_day(books, LATER)
    with pytest.raises(NotPossible, match="no line of work"):
        w.picked_up(later, 1, "cash")
    add_work.perform(later, add_work.AddWorkRequest(1, (WantedLine("Edge-to-edge"),)))
    # 60 x 80 at 0.02 is 96.00, tax 5.09: 51.09 is left to pay, of which 46.00 is income now.
    w.picked_up(later, 1, "cash")
    assert w.balance_of(later, "cash box") == 51_09
    assert net(later) == 46_00


def test_a_deposit_is_attached_to_a_job_that_was_taken_in_here(books: Books) -> None:
    job = fifty(books)
    entry = told(books, deposits=(DepositBefore(25_00, job=job.id),))[0]
    assert read_job(books, job.id).deposit_cents == 25_00
    with pytest.raises(NotPossible, match=f"told with entry {entry}"):
        told(books, deposits=(DepositBefore(25_00, job=job.id),))
    reverse(books, ReverseRequest(entry, "never paid"))
    assert read_job(books, job.id).deposit_cents == 0
    told(books, deposits=(DepositBefore(20_00, job=job.id),))
    w.picked_up(w.on_day(books, LATER), job, "cash")
    # 50.00 of work and 2.65 of tax, less the 20.00
    assert w.balance_of(w.on_day(books, LATER), "cash box") == 32_65


def test_a_certificate_is_used_under_the_number_that_stands_on_it(books: Books) -> None:
    told(books, certificates=(CertificateBefore("Gift 17", 25_00),))
    job = fifty(books)
    picked_up_with(books, job, "gift 17")
    assert w.balance_of(books, "cash box") == 27_65
    assert [(each.code, each.sold_cents, each.left_cents) for each in read_certificates(books)] == [
        ("Gift 17", 25_00, 0)
    ]
    # The 25.00 were income when the certificate was sold, before the books.
    assert net(books) == 25_00


def test_a_certificate_told_wrong_is_undone_and_told_again(books: Books) -> None:
    entry = told(books, certificates=(CertificateBefore("17", 25_00),))[0]
    with pytest.raises(NotPossible, match="in the books already"):
        told(books, certificates=(CertificateBefore("17", 30_00),))
    reverse(books, ReverseRequest(entry, "typed wrong"))
    again = told(books, certificates=(CertificateBefore("17", 30_00),))[0]
    assert [(each.code, each.left_cents) for each in read_certificates(books)] == [("17", 30_00)]
    job = fifty(books)
    picked_up_with(books, job, "17")
    with pytest.raises(NotPossible, match="Gift certificate 17 was used since"):
        reverse(books, ReverseRequest(again, "typed wrong"))


def test_card_money_on_its_way_is_paid_out_like_any_other(books: Books) -> None:
    told(books, balances=(("card_settlements", 45_20),))
    card_payout.perform(w.on_day(books, LATER), card_payout.PayoutRequest(45_20))
    assert w.balance_of(w.on_day(books, LATER), "card settlements") == 0


def test_owed_to_the_owner_is_no_passage_of_that_day_and_is_paid_back(books: Books) -> None:
    told(books, balances=(("owed_to_owner", 40_00),))
    assert read_crossings(books, BEGUN, TOLD).owed_to_owner_cents == 40_00
    w.transferred(books, "pay-back", "40.00", "checking", "household checking")
    assert w.balance_of(books, "owed to owner") == 0
    assert w.balance_of(books, "household checking") == 40_00


def test_an_account_told_anew_takes_the_place_of_what_was_told(books: Books) -> None:
    first = told(books, balances=(("cash_box", 60_00), ("tax_savings", 10_00)))[0]
    done, _ = opening.perform(books, OpeningRequest(balances=(("cash_box", 70_00), ("checking", 1_300_00))))
    assert first in done.undone
    assert len(done.undone) == 2
    standing = {name: w.balance_of(books, name) for name in ("cash box", "tax savings", "checking")}
    assert standing == {"cash box": 70_00, "tax savings": 10_00, "checking": 1_300_00}
    told(books, balances=(("cash_box", 0),))
    assert w.balance_of(books, "cash box") == 0
    assert w.balance_of(books, "opening balance") == -1_310_00


def test_the_machine_is_told_once_whoever_told_it(books: Books) -> None:
    told(books, machine=MachineBefore(18_500_00))
    told(books, machine=MachineBefore(19_000_00, date(2025, 2, 1), 9_000_00, 6_500_00))
    found = PaybackRecord(books).payback
    assert (found.cost_cents, found.taken_in_cents, found.earned_cents) == (19_000_00, 9_000_00, 6_500_00)
    assert w.balance_of(books, "machine") == 19_000_00
    told(books, machine=MachineBefore(None, None, 9_000_00, 7_000_00))
    assert PaybackRecord(books).payback.earned_cents == 7_000_00


def test_work_of_the_books_adds_to_what_the_machine_had_earned(books: Books) -> None:
    told(books, machine=EVERYTHING.machine)
    job = fifty(books)
    w.picked_up(books, job, "cash")
    record = PaybackRecord(books)
    assert (record.payback.taken_in_cents, record.payback.earned_cents) == (9_050_00, 6_550_00)
    assert [each.earned_cents for each in record.points] == [6_550_00]
    assert sum(each.cents for each in record.payback.subtractions) == 2_500_00
    # A quarter of the cost was earned when the books began, and half is ahead.
    assert [each.reached_on for each in record.milestones] == [BEGUN, None, None]


def test_the_loan_runs_on_from_what_is_left_of_it(books: Books) -> None:
    told(books, loan=EVERYTHING.loan)
    loan = read_loans(books)[0]
    assert (loan.terms.cents, loan.terms.first_on, loan.balance_cents) == (9_400_00, date(2026, 7, 1), 9_400_00)
    later = w.on_day(books, date(2026, 7, 1))
    entry = pay_loan.perform(later, pay_loan.LoanPaymentRequest(202_76, "checking"))[1].number
    # A twelfth of 5 % of 9,400.00 is 39.17.
    assert w.lines_of(later, entry) == w.written("loan interest +39.17", "machine loan +163.59", "checking -202.76")
    with pytest.raises(NotPossible, match="Loan 1 is in the books already"):
        told(books, loan=EVERYTHING.loan)


def test_figures_told_anew_take_the_place_of_those_before_and_zero_takes_them_back(books: Books) -> None:
    assert (
        told(books, income=(("job income", 8_000_00),), expenses=(("thread", 300_00),), estimated=((1, 400_00),)) == []
    )
    told(books, income=(("job income", 8_200_00), ("returns and allowances", 20_00)))
    found = read_year_before(books, 2026)
    assert (found.income_cents, found.expenses_cents, found.net_cents) == (8_180_00, 300_00, 7_880_00)
    told(books, expenses=(("thread", 0),), estimated=((1, 0), (2, 5_00)))
    found = read_year_before(books, 2026)
    assert found.expenses == ()
    assert [(each.period, each.cents) for each in found.estimated] == [(2, 5_00)]
    assert read_year_before(books, 2025).figures == ()


@pytest.mark.parametrize(
    ("parts", "error", "field"),
    [
        ({}, NotUnderstood, None),
        ({"debts": (DebtBefore("Ada", 5_00, 5_00),)}, NotPossible, "debts"),
        ({"deposits": (DepositBefore(5_00, job=7),)}, NotFound, "job"),
        ({"certificates": (CertificateBefore("1", 1), CertificateBefore("1", 2))}, NotUnderstood, "certificates"),
        ({"tax": TaxBefore(((None, 5_00),), None)}, NotPossible, "taxable"),
        ({"tax": TaxBefore(((None, 5_00),), 100_00, 99_00)}, NotPossible, "gross"),
        ({"tax": TaxBefore((("Shire", 5_00),), 100_00)}, NotFound, "sales_tax"),
        ({"income": (("balances written off", 1),)}, NotFound, "income"),
        ({"expenses": (("checking", 1),)}, NotFound, "expenses"),
        ({"estimated": ((5, 1),)}, NotPossible, "estimated"),
        ({"machine": MachineBefore(None, None, 5_00, 6_00)}, NotPossible, "earned"),
        ({"machine": MachineBefore(None, None, 5_00)}, NotPossible, "earned"),
        ({"loan": LoanBefore(9_400_00, Decimal(5), 20_00, date(2026, 7, 1))}, NotPossible, "payment"),
    ],
)
def test_what_cannot_be_is_refused_with_its_field_and_nothing_is_written(
    books: Books, parts: dict[str, Any], error: type[Refused], field: str | None
) -> None:
    before = books.value("select count(*) from record")
    with pytest.raises(error) as refused:
        opening.perform(
            books, replace(OpeningRequest(balances=(("cash_box", 1_00),)) if parts else OpeningRequest(), **parts)
        )
    assert refused.value.field == field
    assert (w.balance_of(books, "cash box"), books.value("select count(*) from record")) == (0, before)


def test_a_closed_first_day_takes_no_entry_and_still_figures(books: Books) -> None:
    close_period(w.on_day(books, LATER), date(2026, 4, 1), date(2026, 6, 30))
    with pytest.raises(NotPossible, match="Reopen it first"):
        told(w.on_day(books, LATER), balances=(("cash_box", 1_00),))
    told(w.on_day(books, LATER), income=(("tips", 1_00),))
    assert read_year_before(books, 2026).income_cents == 1_00


def test_books_that_begin_with_the_year_have_nothing_of_it_before_them(tmp_path: Path) -> None:
    books = w.begin(tmp_path / "others", date(2026, 1, 1))
    with pytest.raises(NotPossible, match="nothing of the year was before them"):
        told(books, income=(("tips", 1_00),))
    books.close()
