"""The figures of a receipt add up as they stand on it, whatever was agreed at the counter."""

from __future__ import annotations

import re
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from ledger.books.accounts import Account, Accounts
from ledger.books.books import Settings
from ledger.books.chart import BEGINNING_ACCOUNTS
from ledger.books.entries import Sealed
from ledger.books.parties import Party
from ledger.errors import NotPossible
from ledger.jobs.charged import SalesTax, charged, work_table
from ledger.jobs.customers import Customer
from ledger.jobs.job import Job, JobLine
from ledger.jobs.payments import PaidPart
from ledger.jobs.pickup import PickupFacts, PickupRequest, settle
from ledger.jobs.pricing import Pricing, Size, price_job
from ledger.jobs.receipts import describe_receipt, receipt_sheet
from ledger.jobs.sales import read_receipt
from ledger.money import cents_of, round_half_up
from ledger.paper.locales import LocalForms
from ledger.paper.sheet import Sheet, Table, Totals
from ledger.taxes.sales_tax import Charge, Rate, TaxRules
from tests.jobs.receipts_of_one_day import PICKUPS
from tests.workshop import FIRST_DAY, USD

FORMS = LocalForms("en_US", USD)
SETTINGS = Settings("Alder Lane", USD, "en_US", "in", FIRST_DAY)
RATES = (Rate(1, "state", "state", Decimal("4.3")), Rate(2, "county", "county", Decimal("1.125")))
SEALED = Sealed(3, "3f9a0c12ab34" + "0" * 52)
ACCOUNTS = Accounts(
    Account(number, each.name, each.role, each.purse, each.kind, each.crosses)
    for number, each in enumerate(BEGINNING_ACCOUNTS, start=1)
)
SOME_JOB = Job(
    id=1,
    customer=Customer(1, Party(1, "Ada Holm", None)),
    piece="Log cabin top",
    size=Size(Decimal(60), Decimal(72), "in"),
    value_cents=400_00,
    promised=None,
    taken_on=FIRST_DAY,
    status="ready",
    lines=(),
    pricing=Pricing((), 0, 0),
    rush_percent=Decimal(0),
    deposit_cents=0,
    owed_cents=0,
    sale=None,
)

MONEY = st.integers(0, 900_00)
LINES = st.lists(
    st.tuples(MONEY, st.sampled_from(["goods", "work", "delivery", "other"]), st.booleans()), min_size=1, max_size=4
)
ANSWERS = st.dictionaries(st.sampled_from(["goods", "work", "delivery"]), st.booleans())


@given(
    lines=LINES,
    answers=ANSWERS,
    method=st.sampled_from(["slip", "line"]),
    minimum=MONEY,
    rush=st.sampled_from(["0", "20", "12.5"]),
    discount=st.integers(0, 200_00),
    tip=st.integers(0, 50_00),
    deposit=MONEY,
    ways=st.sampled_from(
        [("cash",), ("check", "owed"), ("card", "cash"), ("owed",), ("card", "check", "cash", "owed")]
    ),
    tendered=st.booleans(),
)
def test_the_figures_add_up_as_they_stand(
    lines: list[tuple[int, str, bool]],
    answers: dict[str, bool],
    method: str,
    minimum: int,
    rush: str,
    discount: int,
    tip: int,
    deposit: int,
    ways: tuple[str, ...],
    tendered: bool,
) -> None:
    job = replace(job_of(lines, minimum, rush), deposit_cents=deposit)
    facts = PickupFacts(job, TaxRules(RATES, answers, "line" if method == "line" else "slip"), ACCOUNTS, USD)
    request = PickupRequest(job.id, (PaidPart("owed"),), tip_cents=tip, discount_cents=discount)
    try:
        due = settle(facts, request, FIRST_DAY).due_cents
        paid = parts_of(due, ways)
        cash = sum(part.cents or 0 for part in paid if part.how == "cash")
        handed = cash + 500 if tendered and cash else None
        settlement = settle(facts, replace(request, paid=paid, tendered_cents=handed), FIRST_DAY)
    except NotPossible:
        assume(False)
    receipt = describe_receipt(SETTINGS, settlement, None, SEALED, FIRST_DAY)
    check_face(receipt_sheet(receipt, FORMS))
    assert receipt.total_cents == settlement.total_cents
    assert receipt.due_cents == settlement.due_cents


@pytest.mark.parametrize("name", [name for name in PICKUPS if name not in ("in_yen", "in_euro")])
def test_the_receipts_of_one_day_add_up_as_they_stand(name: str, tmp_path: Path) -> None:
    books, _ = PICKUPS[name](tmp_path / "books")
    check_face(receipt_sheet(read_receipt(books, 1), FORMS))
    books.close()


@given(
    quantity=st.fractions(Fraction(1, 1000), 500, max_denominator=3600),
    rate=st.decimals(0, 1000, places=4, allow_nan=False),
)
def test_quantity_times_rate_comes_to_the_amount_beside_it(quantity: Fraction, rate: Decimal) -> None:
    line = JobLine(1, "Backing", quantity, "yd", rate, cents_of(quantity, rate, USD), "goods", False)
    job = replace(SOME_JOB, lines=(line,), pricing=price_job([Charge("goods", line.cents)], 0, Decimal(0)))
    check_arithmetic(work_table(charged(job, SalesTax(line.cents, 0, 0, (), None), USD), FORMS))


def check_face(sheet: Sheet) -> None:
    """Every sum on a receipt, worked out again from nothing but what is printed on it."""
    (table,) = (block for block in sheet.blocks if isinstance(block, Table))
    (totals,) = (block for block in sheet.blocks if isinstance(block, Totals))
    cents = {each.label: read_back(each.amount) for each in totals.totals}
    check_arithmetic(table)
    lines = sum(read_back(row.cells[-1]) for row in table.rows)
    assert lines + cents.get("Sales tax in these prices", 0) == cents["Subtotal"]
    before_tip = cents["Subtotal"] + cents.get("Discount", 0) + cents.get("Sales tax", 0)
    assert before_tip + cents.get("Tip", 0) == cents["Total"]
    due = cents["Total"] + cents.get("Deposit", 0)
    assert cents.get("Due", due) == due
    paid = [(each.label, read_back(each.amount)) for each in totals.totals if each.label.startswith("Paid ")]
    assert sum(amount for _, amount in paid) + cents.get("Still owed", 0) == due
    if "Cash handed over" in cents:
        cash = sum(amount for label, amount in paid if label == "Paid in cash")
        assert cents["Cash handed over"] - cents.get("Change", 0) == cash
    check_tax(totals)


def check_tax(totals: Totals) -> None:
    for total in totals.totals:
        if total.label == "Sales tax":
            whole = re.fullmatch(r"(?:.*, )?([0-9.]+)%(?: of (\S+))?", total.details[0])
            assert whole is not None
            if whole[2]:
                assert round_half_up(Fraction(whole[1]) / 100 * read_back(whole[2])) == read_back(total.amount)
            parts = [detail.rpartition(": ")[2] for detail in total.details[1:]]
            assert not parts or sum(map(read_back, parts)) == read_back(total.amount)


def check_arithmetic(table: Table) -> None:
    """Each line with arithmetic under it: quantity times rate, rounded once, is the amount, or says what raised it."""
    for row in table.rows:
        for detail in row.details:
            assert (found := re.fullmatch(r"([0-9.,]+) .*?at ([0-9.,]+)(?: each)?(, raised to .*)?", detail))
            quantity, rate = (Fraction(each.replace(",", "")) for each in (found[1], found[2].rstrip(",")))
            worked_out, printed = round_half_up(quantity * rate * 100), read_back(row.cells[-1])
            assert worked_out < printed if found[3] else worked_out == printed


def read_back(amount: str) -> int:
    """The cents of an amount such as -$1,204.10."""
    assert (found := re.fullmatch(r"(-?)\$([0-9,]+)\.([0-9]{2})", amount)), amount
    return int(found[1] + found[2].replace(",", "") + found[3])


def job_of(lines: list[tuple[int, str, bool]], minimum: int, rush: str) -> Job:
    """A job with flat lines of these cents, classes, and prices with the tax in them or not."""
    made = tuple(
        JobLine(number, f"Line {number}", Fraction(1), "flat", Decimal(cents) / 100, cents, name, includes)
        for number, (cents, name, includes) in enumerate(lines, start=1)
    )
    charges = [Charge(each.class_name, each.cents, each.includes_tax) for each in made]
    return replace(SOME_JOB, lines=made, pricing=price_job(charges, minimum, Decimal(rush)), rush_percent=Decimal(rush))


def parts_of(due: int, ways: tuple[str, ...]) -> tuple[PaidPart, ...]:
    """What is due in about equal parts, one for each way of paying."""
    share = due // len(ways)
    return (*(PaidPart(way, share) for way in ways[1:]), PaidPart(ways[0], due - share * (len(ways) - 1)))
