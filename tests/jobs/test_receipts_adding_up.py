"""The figures of a receipt add up as they stand on it, whatever was agreed at the counter."""

from __future__ import annotations

import re
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given, reject
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
from ledger.jobs.pickup import PickupFacts, PickupRequest, Settlement, settle
from ledger.jobs.pricing import Pricing, Size, price_job
from ledger.jobs.receipts import describe_receipt, receipt_sheet
from ledger.jobs.sales import read_receipt
from ledger.money import cents_of, round_half_up
from ledger.paper.locales import LocalForms
from ledger.paper.sheet import Sheet, Table, Totals
from ledger.taxes.sales_tax import Charge, Method, Rate, TaxRules
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
METHODS: st.SearchStrategy[Method] = st.sampled_from(["slip", "line"])
CLASSES = st.sampled_from(["goods", "work", "delivery", "other"])
WAYS = st.sampled_from([("cash",), ("check", "owed"), ("card", "cash"), ("owed",), ("card", "check", "cash", "owed")])


@st.composite
def jobs(draw: st.DrawFn) -> Job:
    """Jobs of flat lines of every class, prices with the tax in them or not, a minimum, rush, and a deposit."""
    drawn = draw(st.lists(st.tuples(MONEY, CLASSES, st.booleans()), min_size=1, max_size=4))
    lines = tuple(
        JobLine(number, f"Line {number}", Fraction(1), "flat", Decimal(cents) / 100, cents, name, includes_tax)
        for number, (cents, name, includes_tax) in enumerate(drawn, start=1)
    )
    charges = [Charge(each.class_name, each.cents, each.includes_tax) for each in lines]
    rush = Decimal(draw(st.sampled_from(["0", "20", "12.5"])))
    pricing = price_job(charges, draw(MONEY), rush)
    return replace(SOME_JOB, lines=lines, pricing=pricing, rush_percent=rush, deposit_cents=draw(MONEY))


@st.composite
def settlements(draw: st.DrawFn) -> Settlement:
    """Pickups with some classes answered, a discount and a tip, paid in several ways with cash to give back."""
    answers = draw(st.dictionaries(st.sampled_from(["goods", "work", "delivery"]), st.booleans()))
    facts = PickupFacts(draw(jobs()), TaxRules(RATES, answers, draw(METHODS)), ACCOUNTS, USD)
    tip, discount = draw(st.integers(0, 50_00)), draw(st.integers(0, 200_00))
    request = PickupRequest(1, (PaidPart("owed"),), tip_cents=0, discount_cents=discount)
    try:
        paid = parts_of(settle(facts, request, FIRST_DAY).due_cents + tip, draw(WAYS))
        cash = sum(part.cents or 0 for part in paid if part.how == "cash")
        tendered = cash + 5_00 if cash and draw(st.booleans()) else None
        return settle(facts, replace(request, paid=paid, tip_cents=tip, tendered_cents=tendered), FIRST_DAY)
    except NotPossible:
        reject()


@given(settlements())
def test_the_figures_add_up_as_they_stand(settlement: Settlement) -> None:
    receipt = describe_receipt(SETTINGS, PickupRequest(1, ()), settlement, None, SEALED, FIRST_DAY)
    check_face(receipt_sheet(receipt, FORMS))
    assert receipt.total_cents == settlement.total_cents
    assert receipt.due_cents == settlement.due_cents
    assert receipt.change_cents == settlement.paid.change_cents


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
    cents = {each.label.partition(":")[0]: read_back(each.amount) for each in totals.totals}
    check_arithmetic(table)
    lines = sum(read_back(row.cells[-1]) for row in table.rows)
    assert lines + cents.get("Sales tax in these prices", 0) == cents["Subtotal"]
    before_tip = cents["Subtotal"] + cents.get("Discount", 0) + cents.get("Sales tax", 0)
    assert before_tip + cents.get("Tip", 0) == cents["Total"]
    due = cents["Total"] + cents.get("Deposit", 0)
    assert cents.get("Due", due) == due
    paid = [(each.label, read_back(each.amount)) for each in totals.totals if each.label.startswith(("Paid ", "Gift "))]
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


def parts_of(due: int, ways: tuple[str, ...]) -> tuple[PaidPart, ...]:
    """What is due in about equal parts, one for each way of paying."""
    share = due // len(ways)
    return (*(PaidPart(way, share) for way in ways[1:]), PaidPart(ways[0], due - share * (len(ways) - 1)))
