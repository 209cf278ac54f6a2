"""The set-aside and her own taxes by commands: the documented keys, what is refused, and figures that agree."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from tests.commands.conftest import Build
from tests.commands.desk import Desk

OWED = {
    *("sales_tax", "possible_sales_tax", "use_tax", "deposits", "gift_certificates", "self_employment", "income_tax"),
    *("cards", "owed_to_owner", "due_soon"),
}
QUILT = ("job", "new", "--customer", "Ada", "--piece", "Star", "--width", "60", "--length", "72", "--value", "400")


def begin_set_aside(desk: Desk) -> None:
    """10,000 earned, taxed at 5.3 %, and 2,000 in the bank before it."""
    for line in (
        "new --name Lantern --opening 2000.00",
        "tax rate state 5.3 --from 2026-01-01",
        "tax class work yes --asked Office",
        "tax period quarterly --due-day 20",
        "price quilting --by flat --rate 10000 --class work",
    ):
        desk.data(*line.split(), on="2026-01-05")
    desk.data(*QUILT, "--line", "quilting")
    desk.data("pickup", "1", "--paid", "check")


@pytest.fixture
def working(begun: Callable[[Build], Desk]) -> Desk:
    return begun(begin_set_aside)


def cents(text: str) -> int:
    return int(text.replace(".", ""))


def figures(desk: Desk, on: str | None = None) -> dict[str, Any]:
    """The set-aside, after its figures were held against each other and against the accounts."""
    data = desk.data("set-aside", on=on)
    assert set(data["owed"]) >= OWED
    owed = sum(cents(each) for each in data["owed"].values())
    money = sum(cents(each) for each in data["accounts"].values())
    assert cents(data["money"]) == money
    assert cents(data["free_to_draw"]) == max(0, money - owed)
    assert cents(data["short"]) == max(0, owed - money)
    assert cents(data["to_move"]) == max(0, owed - cents(data["held"]))
    balances = {each["name"]: each["balance"] for each in desk.data("chart", on=on)["accounts"]}
    assert data["held"] == balances["tax savings"]
    assert f"-{data['owed']['sales_tax']}" in (balances["sales tax payable"], "-0.00")
    return data


def test_the_figures_stand_under_the_documented_keys(working: Desk) -> None:
    data = figures(working)
    assert (data["owed"]["sales_tax"], data["owed"]["self_employment"]) == ("530.00", "1412.96")
    assert (data["money"], data["free_to_draw"], data["short"]) == ("12530.00", "10587.04", "0.00")
    assert data["before_income_tax"]
    assert data["next_due"] == {"what": "Estimated tax 2026, 1 of 4", "date": "2026-04-15", "amount": "317.92"}
    assert working.data("set-aside", "show") == data


def test_a_percentage_takes_income_tax_out_of_what_is_free(working: Desk) -> None:
    year = working.data("tax", "income", "--percent", "12", "--with-state", "--asked", "Ann")["years"][0]
    assert (year["income_tax"], year["percent"], year["goes_by"]) == ("1200.00", "12.00", "percentage")
    data = figures(working)
    assert (data["owed"]["income_tax"], data["free_to_draw"]) == ("1200.00", "9387.04")
    assert not data["before_income_tax"]


def test_filing_and_paying_a_quarter_takes_the_tax_off_what_is_owed_and_off_the_money(working: Desk) -> None:
    before = figures(working, on="2026-04-02")
    working.data("tax", "file", "2026-Q1", on="2026-04-02")
    assert figures(working, on="2026-04-02")["owed"] == before["owed"]
    working.data("tax", "paid", "2026-Q1", on="2026-04-02")
    after = figures(working, on="2026-04-02")
    assert (before["owed"]["sales_tax"], after["owed"]["sales_tax"]) == ("530.00", "0.00")
    assert after["free_to_draw"] == before["free_to_draw"]
    assert cents(before["money"]) - cents(after["money"]) == 530_00


def test_paying_estimated_tax_from_tax_savings_leaves_what_is_free_as_it_is(working: Desk) -> None:
    working.data("set-aside", "move", "600.00")
    before = figures(working)
    paid = working.data("tax", "estimated", "600.00")
    assert (paid["use_tax"], paid["tax_year"], paid["period"]) == (None, 2026, 1)
    after = figures(working)
    assert (after["held"], after["free_to_draw"]) == ("0.00", before["free_to_draw"])
    assert after["owed"]["self_employment"] == "812.96"


def test_moving_without_an_amount_moves_all_of_it(working: Desk) -> None:
    to_move = figures(working)["to_move"]
    assert working.data("set-aside", "move")["amount"] == to_move
    assert (figures(working)["held"], figures(working)["to_move"]) == (to_move, "0.00")


@pytest.mark.parametrize("name", ["sales_tax", "self-employment", "owed", "money", "held", "to_move", "free_to_draw"])
def test_a_figure_opens_into_parts_that_add_up(working: Desk, name: str) -> None:
    whole = working.data("set-aside", "open", name)
    check_sums(whole)
    assert whole["amount"] is not None


def check_sums(part: dict[str, Any]) -> None:
    adding = [cents(each["amount"]) for each in part["parts"] if each["adds"]]
    assert not adding or sum(adding) == cents(part["amount"]), part["what"]
    for each in part["parts"]:
        check_sums(each)


@pytest.mark.parametrize(
    ("words", "field", "said"),
    [
        (("tax", "income", "--percent", "100.5"), "percent", "more than 100"),
        (("tax", "income", "--percent", "-5"), "percent", "below zero"),
        (("tax", "income", "--by-last-year"), "percent", "not known"),
        (("tax", "last-year", "4000", "--year", "2026"), "year", "not over"),
        (("tax", "settled", "2026"), "year", "not over"),
        (("tax", "wages", "100", "--withheld", "101"), "withheld", "More is withheld"),
        (("tax", "estimated", "0"), "amount", "zero"),
        (("tax", "estimated", "5", "--period", "5"), "period", "no period 5"),
        (("tax", "estimated", "5", "--from", "job income"), "from", "Nothing is paid from"),
        (("set-aside", "move", "99999"), "amount", "Checking holds"),
        (("set-aside", "open", "sails tax"), "figure", "no figure"),
        (("tax", "schedule-se", "2027"), "social_security_wage_base", "Schedule SE needs"),
    ],
)
def test_what_is_refused(working: Desk, words: tuple[str, ...], field: str, said: str) -> None:
    before = working.data("entries")
    answer = working.type(*words, "--json")
    assert answer.code == 1
    assert answer.data["refused"]["field"] == field
    assert said in answer.data["refused"]["what"]
    assert working.data("entries") == before


def test_a_year_that_is_not_kept_names_the_file_to_add_it_to(working: Desk) -> None:
    assert "ledger/figures/self_employment.toml" in working.type("tax", "schedule-se", "2031").err


@pytest.mark.parametrize(
    ("profit", "tax", "half"), [("433.13", "0.00", "0.00"), ("434", "61.32", "30.66"), ("50000", "7064.78", "3532.39")]
)
def test_schedule_se_on_a_given_profit(working: Desk, profit: str, tax: str, half: str) -> None:
    found = working.data("tax", "schedule-se", "2024", "--profit", profit)
    assert (found["self_employment"], found["half"]) == (tax, half)


def test_lines_for_a_person_say_what_to_ask(working: Desk) -> None:
    said = working.type("set-aside").out
    assert "Free, before income tax" in said
    assert "ask your accountant" in said
