"""Every act through the room's form and through its command leaves the same books behind, digest by digest."""

from __future__ import annotations

import sqlite3
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import pytest

from ledger.actions.registry import ACTS
from ledger.books.places import BOOKS_FILE, DOCUMENTS, RECEIPTS
from ledger.cli import main
from tests.screens.case import Case
from tests.screens.conftest import OpenBooks
from tests.screens.quarter_cases import QUARTER_CASES
from tests.screens.small_books import BOOKED, IN_HAND, OWING, READY, SECOND_READY, TODAY, begin_small
from tests.screens.test_endings import ENDINGS
from tests.screens.window import Window, opened

PLAN = str(Path(__file__).parents[1] / "commands" / "worksheets" / "plan.toml")
PICTURE = str(Path(__file__).parents[1] / "paper" / "pictures" / "wide.png")
LOAN = ("machine", "loan", "--amount", "10000", "--percent", "8", "--months", "60", "--first", "2026-04-05")
MOVED = {"amount": "12.50+3", "why": "for the week"}


BILL = (
    *("bill", "set", "internet", "--category", "phone and internet", "--share", "40", "--reason", "hours"),
    *("--every", "month", "--from", "2026-03-01"),
)
UNTAXED = ("spend", "60", "--category", "batting", "--from", "checking", "--who", "Mill", "--untaxed")
CASES: dict[str, Case] = {
    "pick_up": Case("1", ("pickup", "1", "--paid", "cash"), job=READY, keys=("c", "enter")),
    "take_in": Case(
        "1",
        (
            *("job", "new", "--customer", "Jon Kerr", "--piece", "Hexagons", "--width", "50.5", "--length", "60"),
            *("--value", "350", "--line", "Edge-to-edge", "--line", "Batting=66", "--promised", "2026-04-14"),
            *("--rush", "20", "--status", "booked"),
        ),
        {
            "customer": "Jon Kerr",
            "piece": "Hexagons",
            "width": "50.5",
            "length": "60",
            "value": "350",
            "line_1": "x",
            "line_2": "66",
            "promised": "4/14",
            "rush": "20",
            "status": "book",
        },
    ),
    "spend": Case(
        "2",
        (
            *("spend", "46.60", "--category", "thread", "--from", "workshop card", "--who", "Corner shop"),
            *("--home", "9.30", "--untaxed", "--why", "for the blue one"),
        ),
        {
            "who": "Corner shop",
            "amount": "40+6.60",
            "category": "thr",
            "from": "workshop c",
            "home": "9.30",
            "untaxed": "y",
            "why": "for the blue one",
        },
    ),
    "take_deposit": Case(
        "1",
        ("job", "deposit", "4", "40", "--paid", "check", "--number", "1022"),
        {"amount": "40", "paid": "check", "number": "1022"},
        BOOKED,
    ),
    "take_balance": Case(
        "1",
        ("job", "pay", "6", "20", "--paid", "card", "--fee", "0.60"),
        {"amount": "20", "paid": "card", "fee": "0.60"},
        OWING,
    ),
    "bring_in": Case("1", ("job", "in", "4"), job=BOOKED, keys=()),
    "make_ready": Case("1", ("job", "ready", "3"), job=IN_HAND, keys=()),
    "give_back": Case("1", ("job", "back", "2"), job=SECOND_READY, keys=()),
    "set_price": Case(
        "1",
        ("price", "Cotton batting", "--by", "inch", "--rate", "0.4", "--class", "goods", "--minimum", "12"),
        {"name": "Cotton batting", "by": "inch", "rate": "0.4", "class": "goods", "minimum": "12"},
    ),
    "move": Case(
        "2",
        ("move", "15.50", "checking", "cash box", "--why", "for the week"),
        {"from": "checking", "to": "cash box", **MOVED},
    ),
    "draw": Case("4", ("draw", "15.50", "--why", "for the week"), MOVED),
    "put_in": Case("2", ("put-in", "15.50", "--why", "for the week"), MOVED),
    "pay_back": Case("2", ("pay-back",)),
    "reverse": Case("2", ("reverse", "9", "--why", "entered twice"), {"why": "entered twice"}),
    "set_rate": Case(
        "6",
        ("tax", "rate", "city", "0.5", "--from", "2026-03-20"),
        {"name": "city", "percent": "0.5 %", "from": "3/20"},
    ),
    "answer": Case(
        "6",
        (
            "setup",
            "answer",
            "home_occupation",
            "yes, by permit",
            "--asked",
            "the zoning office",
            "--reference",
            "HO-12",
        ),
        {"value": "yes, by permit", "asked": "the zoning office", "reference": "HO-12"},
    ),
    "print_account": Case("1", ("owed", "statement", "Gia Moreno"), job=OWING, keys=()),
    "share_bill": Case(
        "2",
        BILL,
        {
            "name": "internet",
            "category": "phone and internet",
            "of_the_home": "n",
            "share": "40",
            "reason": "hours",
            "every": "month",
            "from": "3/1",
        },
    ),
    "pay_bill": Case(
        "2",
        ("bill", "pay", "internet", "60", "--from", "household checking", "--owed"),
        {"name": "internet", "amount": "60", "from": "household checking", "owed": "y"},
        first=BILL,
    ),
    "log_trip": Case(
        "2",
        ("mileage", "add", "12.5", "--where", "Riley", "--why", "to post a quilt"),
        {"miles": "12.5", "where": "Riley", "why": "to post a quilt"},
    ),
    "use_untaxed": Case(
        "4",
        ("tax", "use", "40", "--what", "a quilt", "--for", "sample", "--category", "batting"),
        {"amount": "40", "what": "a quilt", "for": "s", "category": "bat"},
        first=UNTAXED,
    ),
    "stock_sold": Case(
        "4",
        ("tax", "stock", "sold", "15", "--left", "--what", "for Ada"),
        {"amount": "15", "is_left": "y", "what": "for Ada"},
        first=UNTAXED,
    ),
    "move_to_savings": Case("4", ("set-aside", "move", "15.50"), {"amount": "12.50+3"}),
    "pay_estimated": Case(
        "4",
        ("tax", "estimated", "15.50", "--from", "household checking", "--period", "2"),
        {"amount": "12.50+3", "from": "household c", "period": "2"},
    ),
    "say_income_tax": Case(
        "4",
        ("tax", "income", "--percent", "15", "--with-state", "--asked", "Ann"),
        {"percent": "15", "with_state": "y", "asked": "Ann"},
    ),
    "say_last_year": Case("4", ("tax", "last-year", "4000", "--high-income"), {"amount": "4,000", "high_income": "y"}),
    "say_wages": Case(
        "4",
        ("tax", "wages", "20000", "--withheld", "500", "--filing", "joint"),
        {"amount": "20,000", "withheld": "500", "filing": "j"},
    ),
    "settle_year": Case("4", ("tax", "settled", "2025")),
    "attach": Case("2", ("attach", "FILE", "--entry", "9"), {"file": "FILE"}),
    "print_call_sheet": Case("6", ("setup", "call-sheet", "home_occupation"), keys=("enter",)),
    "print_list": Case("6", ("setup", "print"), keys=("enter",)),
    "set_letterhead": Case(
        "6",
        ("letterhead", "--line", "14 Alder Lane", "--picture", PICTURE),
        {"line0": "14 Alder Lane", "picture": PICTURE},
    ),
    "hear_call": Case(
        "6",
        (
            *("setup", "heard", "home_occupation", "--asked", "Mr Hale", "--reference", "HO-12"),
            *("--answer", "home_occupation=by permit", "--answer", "visits_a_day=4", "--answer", "sign_size=-"),
            *("--answer", "customer_hours=?"),
        ),
        {
            "asked": "Mr Hale",
            "home_occupation": "by permit",
            "visits_a_day": "4",
            "sign_size": "-",
            "customer_hours": "?",
            "reference": "HO-12",
        },
    ),
    "add_item": Case(
        "6",
        (
            *("setup", "add", "A chair", "--question", "How high is it?", "--why", "To rest on.", "--ask", "a friend"),
            *("--keep", "Its bill", "--every", "year", "--after", "home_occupation"),
        ),
        {
            "title": "A chair",
            "question": "How high is it?",
            "why": "To rest on.",
            "ask": "a friend",
            "keep": "Its bill",
            "every": "y",
        },
    ),
    "reword_item": Case(
        "6", ("setup", "reword", "home_occupation", "--title", "Ask the town"), {"title": "Ask the town"}
    ),
    "move_item": Case(
        "6", ("setup", "move", "home_occupation", "--after", "covenants_or_lease"), {"after": "Covenants or lease"}
    ),
    "hide_item": Case("6", ("setup", "hide", "home_occupation"), keys=()),
    "show_item": Case("6", ("setup", "show-again", "power"), first=("setup", "hide", "power")),
    "enter_own": Case(
        "2",
        ("bring-in", "90", "--worth", "40", "--what", "thread", "--category", "thread"),
        {"what": "thread", "cost": "90", "worth": "40", "category": "thread"},
    ),
    "add_machine_cost": Case(
        "3",
        (
            *("machine", "cost", "1200", "--what", "A table", "--kind", "table", "--from", "household checking"),
            *("--untaxed", "--placed", "2026-03-10", "--lent", "200"),
        ),
        {
            "what": "A table",
            "amount": "1000+200",
            "kind": "tab",
            "from": "household",
            "untaxed": "y",
            "placed": "3/10",
            "loan": "200",
        },
    ),
    "sell_machine": Case("3", ("machine", "sell", "7000"), {"amount": "7000"}),
    "add_machine": Case("3", ("machine", "add", "Second frame"), {"name": "Second frame"}),
    "share_machine": Case(
        "3",
        ("machine", "share", "90", "--reason", "hours", "--from", "2026-03-01"),
        {"percent": "90", "reason": "hours", "from": "3/1"},
    ),
    "set_loan": Case(
        "3",
        (
            *("machine", "loan", "--amount", "1200", "--percent", "0", "--months", "12", "--first", "2026-04-05"),
            *("--charged-back", "24", "--paid-by", "2027-03-31", "--lender", "The maker", "--into", "checking"),
        ),
        {
            "amount": "1200",
            "percent": "0",
            "months": "12",
            "first": "4/5",
            "charged_back": "24",
            "paid_by": "2027-03-31",
            "lender": "The maker",
            "into": "check",
        },
    ),
    "pay_loan": Case(
        "3",
        ("machine", "pay", "202.76", "--from", "household checking", "--interest", "66.60"),
        {"amount": "202.76", "from": "household", "interest": "66.60"},
        first=LOAN,
    ),
    "tell_opening": Case(
        "6",
        (
            *(
                "opening",
                "--cash-box",
                "60",
                "--owed-to-owner",
                "12.50",
                "--debts",
                "Ada Brook 120.50; Ben Okoro 40 tax 0",
            ),
            *("--deposits", "Cara, Fan, 60.5x80, 50 value 400; job 3 25", "--certificates", "17 50"),
            *("--sales-tax", "Kansas state 43; Riley county 10", "--taxable", "1000", "--gross", "1100"),
            *("--income", "job income 1200; tips 20", "--expenses", "thread 310", "--estimated", "1 400"),
            *(
                "--machine-cost",
                "19000",
                "--machine-came",
                "2025-11-01",
                "--taken-in",
                "9000",
                "--earned",
                "6500",
                "--loan",
                "9400",
                "--loan-percent",
                "5",
            ),
            *("--loan-payment", "202.76", "--loan-next", "2026-04-01"),
        ),
        {
            "cash_box": "40+20",
            "owed_to_owner": "12.50",
            "debts": "Ada Brook 120.50, Ben Okoro 40 tax 0",
            "deposits": "Cara, Fan, 60.5x80, 50 value 400; job 3 25",
            "certificates": "17 50",
            "sales_tax": "kansas state 43; riley county 10",
            "taxable": "1,000",
            "gross": "1,100",
            "income": "job income 1,200; tips 20",
            "expenses": "thread 310",
            "estimated": "1 400",
            "machine_cost": "19,000",
            "machine_came": "11/1/2025",
            "taken_in": "9000",
            "earned": "6500",
            "loan": "9400",
            "loan_percent": "5",
            "loan_payment": "202.76",
            "loan_next": "4/1",
        },
    ),
    "keep_plan": Case("3", ("plan", "keep", PLAN), {"file": PLAN}),
    "log_hours": Case("1", ("hours", "2", "2.5"), {"hours": "2.5"}, job=2),
    "skip_loan_month": Case("3", ("machine", "skip"), first=LOAN),
    "new_loan_rate": Case(
        "3", ("machine", "rate", "6.5", "--from", "2026-03-01"), {"percent": "6.5", "from": "3/1"}, first=LOAN
    ),
}


CASES |= QUARTER_CASES
# Acts that open a page or make a folder, and write nothing to the books.
PAGES = {"print_quote", "show_loan", "show_memo", "worksheet", "build_packet"}


def test_there_is_a_case_for_every_act_that_the_rooms_do() -> None:
    """Here, or among the endings of jobs, unless it writes nothing."""
    ended = {each.id for each in ACTS for one in ENDINGS if " ".join(one.command).startswith(f"{each.verb} ")}
    assert set(CASES) | ended == {each.id for each in ACTS if each.rooms} - PAGES


@pytest.mark.parametrize("act_id", CASES)
async def test_the_form_and_the_command_write_the_same(open_copy: OpenBooks, act_id: str, tmp_path: Path) -> None:
    case, key = CASES[act_id], next(each.key for each in ACTS if each.id == act_id)
    (tmp_path / "scan.pdf").write_bytes(b"a receipt")
    file = str(tmp_path / "scan.pdf")
    by_form, by_command = open_copy(begin_small), open_copy(begin_small)
    by_command.close()
    for folder in (by_form.folder, by_command.folder) if case.first else ():
        assert command_on(folder, case.first) == 0
    before = contents(by_form.folder)
    async with opened(by_form) as window:
        await window.press(case.room)
        await select_job(window, case.job)
        await window.press(str(key))
        await window.type(**{name: value.replace("FILE", file) for name, value in case.values.items()})
        await window.press(*case.keys)
        assert window.place.endswith("Room") or window.place in ("ReceiptPage", "PaperPage"), window.text()
    assert command_on(by_command.folder, [each.replace("FILE", file) for each in case.command]) == 0
    assert contents(by_form.folder) == contents(by_command.folder)
    assert contents(by_form.folder) != before


def command_on(folder: Path, words: Sequence[str]) -> int:
    return main(["--books", str(folder), "--on", TODAY.isoformat(), *words])


async def select_job(window: Window, job: int | None) -> None:
    if job is not None:
        window.app.enter("bench", job)  # type: ignore[attr-defined]
        await window.settle()
        assert window.screen.selected().id == job  # type: ignore[attr-defined]


def contents(folder: Path) -> tuple[dict[str, list[Any]], dict[str, bytes]]:
    """Every row of every table, digests included, and what was printed as text or attached."""
    connection = sqlite3.connect(folder / BOOKS_FILE)
    try:
        names = [row[0] for row in connection.execute("select name from sqlite_schema where type = 'table' order by 1")]
        rows = {name: connection.execute(f"select * from {name} order by 1, 2").fetchall() for name in names}
    finally:
        connection.close()
    files = (path for name in (RECEIPTS, DOCUMENTS) for path in (folder / name).iterdir() if path.suffix != ".pdf")
    return rows, {path.name: path.read_bytes() for path in files}
