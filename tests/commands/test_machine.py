"""The machine at the command line: costs, a loan as it runs, what pays it off, depreciation, the rate of return."""

from __future__ import annotations

import pytest

from tests.commands.desk import Desk

NEW = ("new", "--name", "Lantern", "--machine-price", "18500", "--machine-date", "2025-11-03", "--opening", "5000")
BEGUN, FIRST = "2026-01-05", "2026-02-05"
LOAN = ("machine", "loan", "--amount", "10000", "--percent", "8", "--months", "60", "--first", FIRST)


@pytest.fixture
def machine_desk(empty_desk: Desk) -> Desk:
    empty_desk.data(*NEW, on=BEGUN)
    return empty_desk


def test_a_loan_has_its_schedule_in_cents(machine_desk: Desk) -> None:
    said = machine_desk.data(*LOAN, on=BEGUN)
    assert (said["payment"], said["last_payment"], said["interest_total"]) == ("202.76", "203.08", "2165.92")
    rows = said["schedule"]
    assert {"number", "date", "payment", "interest", "principal", "balance"} <= set(rows[0])
    assert [row["number"] for row in rows] == [*range(1, 61)]
    assert (rows[0]["date"], rows[0]["interest"], rows[0]["principal"]) == (FIRST, "66.67", "136.09")
    assert rows[-1]["balance"] == "0.00"
    assert machine_desk.balances(on=BEGUN)["machine loan"] == "-10000.00"
    assert machine_desk.data("machine", "schedule", on=BEGUN)["schedule"] == rows


def test_a_payment_is_booked_with_its_interest_and_the_schedule_goes_on(machine_desk: Desk) -> None:
    before = machine_desk.data(*LOAN, on=BEGUN)["schedule"]
    paid = machine_desk.data("machine", "pay", "202.76", on=FIRST)
    assert (paid["interest"], paid["principal"], paid["balance"]) == ("66.67", "136.09", "9863.91")
    assert (paid["payment"], paid["last_payment"], paid["interest_total"]) == ("202.76", "203.08", "2165.92")
    assert [row["balance"] for row in paid["schedule"]] == [row["balance"] for row in before]
    balances = machine_desk.balances(on=FIRST)
    assert (balances["loan interest"], balances["checking"]) == ("66.67", "4797.24")
    assert machine_desk.data("payback", on=FIRST)["cost"] == "18566.67"


def test_a_payment_below_the_interest_says_so(machine_desk: Desk) -> None:
    machine_desk.data(*LOAN, on=BEGUN)
    said = machine_desk.lines("machine", "pay", "10", on=FIRST)
    assert "below the interest of 66.67" in said
    assert "56.67 of interest is still to pay" in said
    assert machine_desk.balances(on=FIRST)["machine loan"] == "-10000.00"


def test_a_loan_without_interest_works(machine_desk: Desk) -> None:
    line = ("machine", "loan", "--amount", "1000", "--percent", "0", "--months", "7", "--first", FIRST)
    said = machine_desk.data(*line, on=BEGUN)
    assert (said["payment"], said["last_payment"], said["interest_total"]) == ("142.86", "142.84", "0.00")
    assert machine_desk.data("machine", "pay", "142.86", on=FIRST)["interest"] == "0.00"


def test_an_offer_tells_what_it_costs_if_it_is_late(machine_desk: Desk) -> None:
    line = ("machine", "loan", "--amount", "1200", "--percent", "0", "--first", FIRST, "--charged-back", "24")
    in_time = machine_desk.lines(*line, "--months", "11", "--paid-by", "2026-12-31", on=BEGUN)
    assert "Paid off by 2026-12-31 it costs no interest" in in_time
    late = machine_desk.lines(*line, "--months", "12", "--paid-by", "2026-12-31", on=BEGUN)
    assert "154.00 of interest is charged back" in late


def test_what_pays_a_loan_off_on_a_day_and_then_it_is_paid_off(machine_desk: Desk) -> None:
    machine_desk.data(*LOAN, on=BEGUN)
    machine_desk.data("machine", "pay", "202.76", on=FIRST)
    quote = machine_desk.data("machine", "payoff", on="2026-02-19")
    assert (quote["balance"], quote["interest"], quote["payoff"]) == ("9863.91", "32.88", "9896.79")
    said = machine_desk.lines(
        "machine", "pay", quote["payoff"], "--paid-off", "--from", "household checking", on="2026-02-19"
    )
    assert "The loan is paid off." in said
    assert machine_desk.balances(on="2026-02-19")["machine loan"] == "0.00"
    assert machine_desk.data("prove", on="2026-02-19")["ok"] is True


def test_a_skipped_month_a_new_rate_and_both_taken_back(machine_desk: Desk) -> None:
    before = machine_desk.data(*LOAN, on=BEGUN)["schedule"]
    skipped = machine_desk.data("machine", "skip", on=FIRST)
    assert (skipped["schedule"][0]["what"], len(skipped["schedule"])) == ("skipped", 61)
    assert machine_desk.data("machine", "rate", "6", on=FIRST)["payment"] != "202.76"
    machine_desk.data("machine", "rate", "--back", on=FIRST)
    assert machine_desk.data("machine", "skip", "--back", on=FIRST)["schedule"] == before


def test_costs_and_their_two_figures(machine_desk: Desk) -> None:
    machine_desk.data("tax", "rate", "state", "4.3", "--from", "2026-01-01", on=BEGUN)
    line = ("machine", "cost", "500", "--what", "Table", "--kind", "table", "--from", "checking", "--untaxed")
    said = machine_desk.data(*line, on=FIRST)
    assert (said["use_tax"], said["cost"], said["basis"]) == ("21.50", "19021.50", "19021.50")
    assert (said["payment"], said["last_payment"], said["interest_total"], said["schedule"]) == (None, None, None, [])
    figure = machine_desk.data("machine", "cost", "300", "--what", "Class", "--kind", "training", on=FIRST)
    assert (figure["entry"], figure["cost"], figure["basis"]) == (None, "19321.50", "19021.50")
    machine_desk.data("machine", "strike", "4", on=FIRST)
    (machine,) = machine_desk.data("machine", "list", on=FIRST)["machines"]
    assert (machine["cost"], machine["basis"], machine["placed"]) == ("19021.50", "19021.50", "2025-11-03")
    assert machine_desk.data("payback", on=FIRST)["cost"] == "19021.50"


def test_a_machine_sold_before_it_is_paid_off_leaves_what_is_left_to_be_seen(machine_desk: Desk) -> None:
    machine_desk.data(*LOAN, on=BEGUN)
    assert "Still to pay on its loan: 10000.00" in machine_desk.lines("machine", "sell", "7000", on=FIRST)
    found = machine_desk.data("payback", on=FIRST)
    assert (found["cost"], found["left"]) == ("11500.00", "11500.00")


def test_a_second_machine_has_its_own_costs_and_the_first_is_given_in_for_it(machine_desk: Desk) -> None:
    machine_desk.data("machine", "add", "Second", on=BEGUN)
    line = ("machine", "cost", "9000", "--what", "Frame", "--from", "checking", "--machine", "second")
    machine_desk.data(*line, "--given-in", "Machine=7000", on=FIRST)
    first, second = machine_desk.data("machine", "list", on=FIRST)["machines"]
    assert (first["cost"], first["came_back"], second["cost"]) == ("11500.00", "7000.00", "9000.00")
    machine_desk.data(
        "machine", "share", "30", "--of", "jobs", "--machine", "Second", "--reason", "log", "--from", FIRST
    )
    shares = [each["jobs_percent"] for each in machine_desk.data("machine", "list", on=FIRST)["machines"]]
    assert shares == ["70.00", "30.00"]


def test_depreciation_by_the_tables_with_books_and_without(
    machine_desk: Desk, tmp_path_factory: pytest.TempPathFactory
) -> None:
    line = ("depreciation", "8000", "--class", "5", "--placed", "2026-03-14")
    said = machine_desk.data(*line, on=BEGUN)
    assert said["convention"] == "half-year"
    assert [(each["year"], each["percent"], each["amount"]) for each in said["years"]][:2] == [
        (2026, "20.00", "1600.00"),
        (2027, "32.00", "2560.00"),
    ]
    nowhere = str(tmp_path_factory.mktemp("none") / "books")
    assert machine_desk.data(*line, "--books", nowhere)["years"] == said["years"]


def test_the_convention_follows_from_what_the_books_placed_in_service_that_year(machine_desk: Desk) -> None:
    line = ("depreciation", "9000", "--class", "7", "--placed", "2026-11-10")
    assert machine_desk.data(*line, on=BEGUN)["convention"] == "mid-quarter"
    machine_desk.data("machine", "cost", "13500", "--what", "Frame", "--from", "household checking", on=FIRST)
    found = machine_desk.data(*line, on=FIRST)
    assert (found["convention"], found["late_percent"]) == ("half-year", "40.00")
    more = machine_desk.data("depreciation", "9000.01", *line[2:], on=FIRST)
    assert (more["convention"], more["years"][0]["percent"]) == ("mid-quarter", "3.57")
    given = machine_desk.data(*line, "--convention", "mid-quarter", on=FIRST)
    assert [each["percent"] for each in given["years"]] == [each["percent"] for each in more["years"]]


def test_the_memo_is_for_the_accountant_and_books_nothing(machine_desk: Desk) -> None:
    said = machine_desk.lines("machine", "memo", "2025", on=BEGUN)
    assert said.startswith("For your accountant. Nothing is posted.")
    assert "925.00" in said
    assert len(machine_desk.data("entries", on=BEGUN)["entries"]) == 2
    assert machine_desk.data("machine", "memo", "2025", on=BEGUN)["total"] == {"class_5": "925.00", "class_7": "660.45"}


def test_the_rate_of_return_is_said_or_that_there_is_none(machine_desk: Desk) -> None:
    assert machine_desk.data("machine", "return", on=BEGUN)["yearly_percent"] is None
    assert "no rate of return" in machine_desk.lines("machine", "return", on=BEGUN)
    machine_desk.data("machine", "sell", "20350", on="2026-11-03")
    assert machine_desk.data("machine", "return", on="2026-11-03")["yearly_percent"] == "10.00"


@pytest.mark.parametrize(
    ("line", "field"),
    [
        ("machine cost 0 --what Frame", "amount"),
        ("machine cost -5 --what Frame", "amount"),
        ("machine cost 5 --what Frame --from nowhere", "from"),
        ("machine cost 5 --what Frame --from checking --given-in Machine", "given_in"),
        ("machine cost 5 --what Frame --placed 2026-02-30", "placed"),
        ("machine loan --amount 0 --percent 8 --months 60 --first 2026-02-05", "amount"),
        ("machine loan --amount 100 --percent 8 --months 0 --first 2026-02-05", "months"),
        ("machine loan --amount 100 --percent 8 --months six --first 2026-02-05", "months"),
        ("machine loan --amount 100 --percent 101 --months 6 --first 2026-02-05", "percent"),
        ("machine loan --amount 100 --percent 8 --months 6 --first 2026-01-04", "first"),
        ("machine loan --amount 1 --percent 24 --months 600 --first 2026-02-05", "months"),
        ("machine loan --amount 10000 --percent 8 --months 60 --first 2026-02-05 --payment 50", "payment"),
        ("machine pay 100", None),
        ("machine payoff", None),
        ("machine schedule", None),
        ("machine skip", None),
        ("machine rate 5", None),
        ("machine share 101 --reason hours --from 2026-01-05", "percent"),
        ("machine strike 9", "part"),
        ("machine memo spring", "year"),
        ("depreciation 0 --class 5 --placed 2026-03-14", "cost"),
        ("depreciation 100 --class 5 --placed 2026-13-01", "placed"),
        ("depreciation 100 --class 5 --placed 1980-03-14", None),
        ("depreciation 100 --class 5 --placed 2026-03-14 --section-179 100.01", "section_179"),
    ],
)
def test_what_cannot_be_is_refused(machine_desk: Desk, line: str, field: str | None) -> None:
    refusal = machine_desk.refused(*line.split(), on=BEGUN)
    assert field is None or refusal["field"] == field
