"""The commands of sales tax returns: the keys of the contract, what is refused, and what a person reads."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.commands.desk import Desk

AMOUNTS = ("gross", "taxable", "tax_due", "tax_collected", "use_tax", "allowance", "total_due")
FIRST_DAY, FEBRUARY, APRIL, LATE, JULY = "2026-01-05", "2026-02-10", "2026-04-10", "2026-05-10", "2026-07-06"
RULES = (
    "new --name Lantern --opening 5000",
    "tax rate state 4.3 --from 2026-01-01",
    "tax rate county 1.0 --from 2026-01-01",
    "tax class work yes --asked Office",
    "tax class delivery no --asked Office",
    "tax period quarterly --due-day 31",
    "tax allowance --percent 2.5 --first 1200 --cap 30",
    "price quilting --by flat --rate 185.44 --class work",
    "price postage --by flat --rate 12 --class delivery",
)
QUILT = ("--piece", "Star", "--width", "50", "--length", "60", "--value", "300", "--line", "quilting")


@pytest.fixture
def desk(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Desk:
    made = Desk(tmp_path / "books", capsys, day=APRIL)
    for line in RULES:
        made.data(*line.split(), on=FIRST_DAY)
    made.data("job", "new", "--customer", "Ada", *QUILT, "--line", "postage", on=FEBRUARY)
    made.data("pickup", "1", "--paid", "check", on=FEBRUARY)
    return made


def test_a_worksheet_has_the_keys_of_the_contract(desk: Desk) -> None:
    data = desk.data("tax", "worksheet", "2026-Q1")
    assert {key: data[key] for key in AMOUNTS} == {
        "gross": "197.44",
        "taxable": "185.44",
        "tax_due": "9.82",
        "tax_collected": "9.83",
        "use_tax": "0.00",
        "allowance": "0.25",
        "total_due": "9.58",
    }
    assert data["exempt"] == [{"reason": "not taxed", "amount": "12.00"}]
    state, county = data["by_jurisdiction"]
    assert {key: state[key] for key in ("jurisdiction", "level", "percent", "taxable", "tax")} == {
        "jurisdiction": "state",
        "level": "state",
        "percent": "4.30",
        "taxable": "185.44",
        "tax": "7.97",
    }
    assert (county["percent"], county["tax"], county["collected"]) == ("1.00", "1.85", "1.86")
    assert (data["due_date"], data["unanswered"], data["filed_on"]) == ("2026-04-30", [], None)


def test_without_a_period_it_is_the_one_that_runs(desk: Desk) -> None:
    assert desk.data("tax", "worksheet")["period"] == "2026-Q2"


def test_it_is_filed_and_paid_and_told_by_the_same_keys(desk: Desk) -> None:
    filed = desk.data("tax", "file", "2026-Q1")
    assert (filed["filed_on"], filed["total_due"], filed["left"]) == (APRIL, "9.58", "9.58")
    assert len(filed["digest"]) == 64
    paid = desk.data("tax", "paid", "2026-Q1")
    assert (paid["paid"], paid["allowance_kept"], paid["left"], paid["total_due"]) == ("9.58", "0.25", "0.00", "9.58")
    entry = desk.data("entries")["entries"][-1]
    assert entry["number"] == paid["entry"]
    assert {each["account"]: each["amount"] for each in entry["postings"]} == {
        "sales tax payable": "9.83",
        "checking": "-9.58",
        "sales tax allowance": "-0.25",
    }
    assert desk.balances()["sales tax payable"] == "0.00"
    assert desk.data("prove")["ok"]


def test_paying_too_much_is_kept_as_a_credit_and_said(desk: Desk) -> None:
    desk.data("tax", "file", "2026-Q1")
    assert "3.00 is kept as a credit" in desk.lines("tax", "paid", "2026-Q1", "--amount", "12.58")
    assert desk.data("tax", "worksheet", "2026-Q2")["carried"] == "3.00"


def test_a_part_of_what_is_owed_leaves_the_rest(desk: Desk) -> None:
    desk.data("tax", "file", "2026-Q1")
    assert desk.data("tax", "paid", "2026-Q1", "--amount", "5", "--from", "cash box")["left"] == "4.58"
    assert "Paid after the due date: 0.25 is not kept" in desk.lines("tax", "paid", "2026-Q1", on=LATE)


def test_what_comes_late_is_named_where_it_came_from_and_where_it_goes(desk: Desk) -> None:
    desk.data("tax", "file", "2026-Q1")
    desk.data("job", "new", "--customer", "Ben", *QUILT, on=FEBRUARY)
    entry = desk.data("pickup", "2", "--paid", "check", on=FEBRUARY)["entry"]
    (late,) = desk.data("tax", "worksheet", "2026-Q1")["late"]
    assert late == {"entry": entry, "date": FEBRUARY, "tax": "9.83", "goes_to": "2026-Q2", "amended": False}
    after = desk.data("tax", "worksheet", "2026-Q2")
    assert (after["from_earlier"], after["gross"]) == ([entry], "185.44")


def test_amended_where_the_state_says_so(desk: Desk) -> None:
    desk.data("tax", "corrections", "amended", "--asked", "Office", on=FIRST_DAY)
    desk.data("tax", "file", "2026-Q1")
    desk.data("job", "new", "--customer", "Ben", *QUILT, on=FEBRUARY)
    desk.data("pickup", "2", "--paid", "check", on=FEBRUARY)
    shown = desk.data("tax", "worksheet", "2026-Q1", "--amended")
    filed = desk.data("tax", "file", "2026-Q1", "--amended")
    assert (shown["filed_before"], shown["total_due"]) == (filed["filed_before"], filed["total_due"])
    assert (filed["sequence"], filed["gross"]) == (1, "382.88")


def test_taken_back_it_is_open_again(desk: Desk) -> None:
    desk.data("tax", "file", "2026-Q1")
    assert desk.data("tax", "unfile", "2026-Q1", "--why", "typed twice")["filed_on"] is None
    desk.data("tax", "file", "2026-Q1")


@pytest.mark.parametrize(
    ("words", "field", "said"),
    [
        ("worksheet 2026-02", "period", "no filing period"),
        ("worksheet 2026", "period", "no filing period"),
        ("worksheet 2026-Q5", "period", "cannot be read as a period"),
        ("worksheet 2026-02..2026-01", "period", "ends before it starts"),
        ("file 2026-Q2", "period", "runs until 2026-06-30"),
        ("file 2025-Q4", "period", "the day these books began"),
        ("file 2026-Q1 --amended", "amended", "not filed yet"),
        ("paid 2026-Q1", "period", "not filed yet"),
        ("unfile 2026-Q1 --why typed", "period", "No return"),
        ("period quarterly --due-day 32", "due_day", "no day 32"),
        ("period quarterly --due-day 0", "due_day", "no day 0"),
        ("period quarterly --due-day 20 --state ZZ", "state", "no state"),
        ("period own --due-day 20 --months 5 --first-month 1", "months", "do not fill a year"),
        ("period own --due-day 20 --months 6 --first-month 13", "first_month", "no month 13"),
        ("allowance --percent 101", "percent", "more than 100"),
        ("allowance --percent -1", "percent", "below zero"),
        ("allowance --percent 2 --then 1", "then", "rest of what"),
        ("allowance --percent 2 --first 0", "first", "zero"),
        ("allowance --percent 2 --cap 1e3", "cap", "cannot be read"),
        ("holiday goods --name W --from 2026-08-09 --until 2026-08-07 --asked O", "until", "before it begins"),
        ("holiday goods --name W --from 2026-08-07 --until 2026-08-09 --percent 2 --asked O", "percent", "somebody"),
        ("holiday good --name W --from 2026-08-07 --until 2026-08-09 --asked O", "class", "no class"),
        ("class work no --asked O --over 10", "over", "Say yes"),
        ("class work yes --asked O --apart", "over", "belong to --over"),
        ("basis sale --asked O --from 2026-02-30", "from", "no day 2026-02-30"),
        ("rate state 5 --from 2025-01-01 --until 2026-03-01", "from", "overlaps"),
    ],
)
def test_what_cannot_be_is_refused_and_nothing_is_written(desk: Desk, words: str, field: str, said: str) -> None:
    refusal = desk.refused("tax", *words.split())
    assert refusal["field"] == field
    assert said in f"{refusal['what']} {refusal['do']}"


def test_filing_twice_is_refused(desk: Desk) -> None:
    desk.data("tax", "file", "2026-Q1")
    assert "was filed on 2026-04-10" in desk.refused("tax", "file", "2026-Q1")["what"]


@pytest.mark.parametrize("words", ["--amount -5", "--amount 0", "--amount 5.001", "--from chequing"])
def test_no_amount_and_no_account_is_refused(desk: Desk, words: str) -> None:
    desk.data("tax", "file", "2026-Q1")
    desk.refused("tax", "paid", "2026-Q1", *words.split())


def test_a_change_into_a_filed_period_is_refused(desk: Desk) -> None:
    desk.data("tax", "file", "2026-Q1")
    refusal = desk.refused("tax", "period", "monthly", "--due-day", "20", "--from", "2026-02-01")
    assert (refusal["field"], "2026-04-01" in refusal["do"]) == ("from", True)


def test_a_change_without_a_day_begins_with_the_first_period_that_is_not_filed(desk: Desk) -> None:
    desk.data("tax", "file", "2026-Q1")
    desk.data("tax", "period", "monthly", "--due-day", "20", on=LATE)
    assert desk.data("tax", "worksheet", "2026-04", on=LATE)["due_date"] == "2026-05-20"
    assert desk.data("tax", "worksheet", "2026-Q1", on=LATE)["filed_on"] == APRIL


def test_periods_of_her_own(desk: Desk) -> None:
    desk.data("tax", "period", "own", "--due-day", "20", "--months", "6", "--first-month", "2", on=FIRST_DAY)
    data = desk.data("tax", "worksheet", "2025-08..2026-01")
    assert (data["end"], data["due_date"]) == ("2026-01-31", "2026-02-20")
    assert desk.data("tax", "worksheet")["period"] == "2026-02..2026-07"


@pytest.mark.parametrize("words", ["own --due-day 20", "quarterly --due-day 20 --months 3 --first-month 1"])
def test_months_go_with_periods_of_her_own_alone(desk: Desk, words: str) -> None:
    assert "go with own" in desk.refused("tax", "period", *words.split())["what"]


def test_a_gap_between_two_rates_is_said(desk: Desk) -> None:
    desk.data("tax", "rate", "district", "0.5", "--from", "2026-05-01", "--until", "2026-05-31")
    said = desk.lines("tax", "rate", "district", "0.6", "--from", "2026-07-01")
    assert "«district» has no rate from 2026-06-01 to 2026-06-30" in said


def test_a_holiday_of_the_states_office_moves_the_due_date(desk: Desk) -> None:
    """Patriots' Day, Monday 20 April 2026, is a legal holiday in Massachusetts and not a federal one."""
    desk.data("tax", "period", "quarterly", "--due-day", "20", "--state", "ma", on=FIRST_DAY)
    assert desk.data("tax", "worksheet", "2026-Q1")["due_date"] == "2026-04-21"


def test_a_worksheet_and_a_payment_read_well(desk: Desk) -> None:
    page = desk.lines("tax", "worksheet", "2026-Q1")
    assert page.splitlines()[0] == "Sales tax return 2026-Q1: not filed yet, due 2026-04-30."
    assert "held in trust" in page
    assert "Kept for filing and paying on time" in page
    desk.data("tax", "file", "2026-Q1")
    assert "0.25, which is income" in desk.lines("tax", "paid", "2026-Q1")
    assert "filed on 2026-04-10" in desk.lines("tax", "worksheet", "2026-Q1")


def test_what_the_state_said_stands_in_what_is_in_force(desk: Desk) -> None:
    desk.data("tax", "basis", "payment", "--asked", "Office")
    desk.data("tax", "below-zero", "claim", "--asked", "Office")
    data = desk.data("tax", "class", "work", "yes", "--over", "10", "--materials", "4", "--apart", "--asked", "Office")
    assert (data["reported_by"], data["below_zero"], data["corrections"]) == ("payment", "claim", None)
    assert data["allowance"] == {"percent": "2.50", "first": "1200.00", "then_percent": "0.00", "cap": "30.00"}
    assert next(each for each in data["classes"] if each["class"] == "work")["rule"] == "materials"
