"""What stood there when the books began, told by one command: what it answers, and how its lists are refused."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.commands.desk import Desk

BEGUN, LATER = "2026-06-15", "2026-08-03"


@pytest.fixture
def desk(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Desk:
    begun = Desk(tmp_path / "books", capsys, BEGUN)
    for words in (
        "new --name Lantern --opening 1250.00",
        "tax rate state 4.3 --from 2026-06-15",
        "tax rate county 1.0 --from 2026-06-15",
        "tax class work yes --asked Office",
    ):
        begun.data(*words.split())
    return begun


def test_it_answers_with_its_entries_and_its_figures(desk: Desk) -> None:
    told = desk.data(
        *("opening", "--cash-box", "60.00", "--debts", "Ada Brook 105.30", "--income", "job income 8200; tips 120"),
        *("--estimated", "2 400", "--taken-in", "9000", "--earned", "6500"),
        on=LATER,
    )
    assert (told["date"], told["undone"]) == (BEGUN, [])
    assert [(each["entry"], each["text"]) for each in told["entries"]] == [
        (2, "In the cash box when the books began"),
        (3, "Owed when the books began: Ada Brook"),
    ]
    assert told["entries"][1]["postings"] == [
        {"account": "owed by customers", "purse": "business", "amount": "105.30"},
        {"account": "opening balance", "purse": "business", "amount": "-105.30"},
    ]
    assert [(each["what"], each["account"], each["period"], each["amount"]) for each in told["figures"]] == [
        ("income", "job income", None, "8200.00"),
        ("income", "tips", None, "120.00"),
        ("estimated tax", None, 2, "400.00"),
        ("taken in", None, None, "9000.00"),
        ("earned", None, None, "6500.00"),
    ]
    assert desk.data("tax", "income", on=LATER)["years"][0]["profit"] == "8320.00"
    assert desk.data("owed", "pay", "Ada Brook", "105.30", "--paid", "cash", on=LATER)["entries"]
    quarter = desk.data("quarter", "2026-Q3", on=LATER)
    assert (quarter["net"], quarter["cash_bridge"]["owed_before"]) == ("100.00", "100.00")


def test_a_person_reads_what_was_booked_kept_and_undone(desk: Desk) -> None:
    said = desk.lines("opening", "--checking", "1300", "--expenses", "thread 310", "--estimated", "1 400")
    assert said.splitlines() == [
        "Entry 1 is undone: what it told is told anew.",
        "Entry 3: In the bank when the books began, 1300.00.",
        "Kept as a figure: expenses, thread, 310.00.",
        "Kept as a figure: estimated tax, period 1, 400.00.",
    ]
    assert desk.balances()["checking"] == "1300.00"


def test_without_options_it_tells_what_was_told_and_stands(desk: Desk) -> None:
    desk.data("opening", "--cash-box", "60", "--debts", "Ada Brook 105.30", "--income", "tips 20")
    desk.data("opening", "--cash-box", "70", "--income", "tips 25")
    told = desk.data("opening")
    assert [each["text"].removesuffix(" when the books began") for each in told["entries"]] == [
        *("In the bank", "Owed when the books began: Ada Brook", "In the cash box")
    ]
    assert [each["amount"] for each in told["figures"]] == ["25.00"]
    assert "Nothing is told" not in desk.lines("opening")


def test_the_worksheet_has_its_own_lines_for_what_was_before(desk: Desk) -> None:
    desk.data("opening", "--sales-tax", "state 43; county 10", "--taxable", "1000", "--gross", "1100")
    said = desk.lines("tax", "worksheet", "2026-Q2")
    assert [line.split() for line in said.splitlines()[1:5]] == [
        ["Gross", "sales", "1100.00"],
        ["of", "it", "before", "these", "books", "1100.00"],
        ["taxable", "before", "these", "books", "1000.00"],
        ["sales", "tax", "before", "these", "books", "53.00"],
    ]
    data = desk.data("tax", "worksheet", "2026-Q2")
    assert data["before_these_books"] == {"gross": "1100.00", "taxable": "1000.00", "tax": "53.00"}
    assert desk.data("tax", "worksheet", "2026-Q3", on=LATER)["before_these_books"] is None


def test_a_job_from_before_the_books_has_no_receipt_nothing_to_void_and_an_account(desk: Desk) -> None:
    desk.data("opening", "--debts", "Ada Brook 105.30")
    assert desk.data("job", "show", "1")["status"] == "gone"
    assert "before the books began" in desk.refused("receipt", "1")["what"]
    assert desk.refused("job", "void", "1", "--why", "x")["field"] == "job"
    assert desk.refused("refund", "1", "--paid", "cash")["field"] == "job"
    assert [each["owed"] for each in desk.data("owed", "list")["jobs"]] == ["105.30"]
    assert desk.data("owed", "statement", "Ada Brook")["owed"] == "105.30"


@pytest.mark.parametrize(
    ("words", "field"),
    [
        (("--debts", "Ada Brook"), "debts"),
        (("--debts", "Ada Brook 12.345"), "debts"),
        (("--deposits", "Cara 50"), "deposits"),
        (("--deposits", "Cara, Fan, 60xwide, 50"), "deposits"),
        (("--certificates", "17"), "certificates"),
        (("--sales-tax", "53"), "taxable"),
        (("--estimated", "first 400"), "estimated"),
        (("--income", "tip 5"), "income"),
        (("--loan", "9400"), "loan_percent"),
        (("--machine-came", "soon"), "machine_came"),
    ],
)
def test_what_is_not_understood_is_refused_with_its_option(desk: Desk, words: tuple[str, ...], field: str) -> None:
    assert desk.refused("opening", *words)["field"] == field


def test_lists_take_what_a_person_writes(desk: Desk) -> None:
    told = desk.data(
        *("opening", "--debts", "Ada Brook 1204.10, Ben Okoro = 40 tax 0; Cy 7"),
        *("--deposits", "Cara Lind, Fan, small 60.5 x 80, 50, value 400; Dee, Star 40x40 25 booked"),
    )
    assert [each["postings"][0]["amount"] for each in told["entries"]] == ["1204.10", "40.00", "7.00", "50.00", "25.00"]
