"""Days and periods: --on in the place of the clock, the forms of a period, and the day that is taken by default."""

from __future__ import annotations

import re
from datetime import date, datetime

import pytest

from tests.commands.desk import Desk
from tests.commands.workshop import FIRST_DAY, NEXT_ENTRY, QUILT, WORKING_LINES


def test_on_dates_an_act_and_ends_a_figure(desk: Desk) -> None:
    assert desk.data("draw", "5.00", on="2026-01-30")["entry"] == NEXT_ENTRY
    assert desk.data("entries")["entries"][-1]["date"] == "2026-01-30"
    assert desk.balances(on="2026-01-29")["household checking"] == "0.00"
    assert desk.balances(on="2026-01-30")["household checking"] == "5.00"
    assert [each["number"] for each in desk.data("entries", on="2026-01-29")["entries"]] == [*range(1, NEXT_ENTRY)]
    assert desk.data("entries", "--since", "2026-01-30")["entries"][0]["number"] == NEXT_ENTRY
    assert desk.data("entries", "--since", "2026-01-06", "--through", "2026-01-11")["entries"] == []


def test_figures_of_a_day_before_something_happened_do_not_know_of_it(desk: Desk) -> None:
    before = "2026-01-11"
    assert desk.data("payback", on=before)["taken_in"] == "0.00"
    assert desk.data("job", "list", on=before)["jobs"] == []
    assert desk.data("quarter", on=before)["income"]["total"] == "0.00"
    for words in ("job show", "quote", "receipt"):
        refusal = desk.refused(*words.split(), "1", on=before)
        assert (refusal["what"], refusal["field"]) == ("On 2026-01-11 there was no job 1.", "on"), words
    desk.data("pickup", "1", "--paid", "cash", on="2026-01-20")
    assert desk.data("job", "show", "1", on="2026-01-19")["status"] == "in-hand"
    assert desk.data("job", "show", "1", on="2026-01-20")["status"] == "gone"


def test_a_day_to_come_is_taken(desk: Desk) -> None:
    assert desk.data("draw", "5.00", on="2031-05-06")["entry"] == NEXT_ENTRY
    assert desk.data("entries", on="2031-05-06")["entries"][-1]["date"] == "2031-05-06"
    assert len(desk.data("entries", on="2031-05-05")["entries"]) == NEXT_ENTRY - 1
    assert desk.data("prove", on="2026-02-01")["ok"] is True


def test_books_begin_on_the_day_of_on_and_take_nothing_from_before(empty_desk: Desk) -> None:
    line = ("new", "--name", "Lantern", "--opening", "500", "--machine-price", "9000", "--machine-date", "2025-11-30")
    empty_desk.data(*line, on="2031-05-06")
    entries = empty_desk.data("entries", on="2031-05-06")["entries"]
    assert [(each["date"], each["belongs_on"]) for each in entries] == [
        ("2031-05-06", None),
        ("2031-05-06", "2025-11-30"),
    ]
    refusal = empty_desk.refused("draw", "5", on="2031-05-05")
    assert refusal["what"] == "2031-05-05 lies before 2031-05-06, the day these books began."


def test_the_future_is_what_comes_after_on(empty_desk: Desk) -> None:
    line = ("new", "--name", "Lantern", "--machine-price", "9000", "--machine-date", "2026-03-02")
    assert empty_desk.refused(*line, on="2026-03-01")["field"] == "machine_date"
    assert empty_desk.data(*line, on="2026-03-02")


def test_what_is_promised_lies_ahead_of_on(desk: Desk) -> None:
    line = ("job", "new", "--customer", "Ada", "--piece", "x", *QUILT, "--line", "binding", "--promised", "2026-02-10")
    assert desk.refused(*line, on="2026-02-11")["field"] == "promised"
    assert desk.data(*line, on="2026-02-10")["promised"] == "2026-02-10"


def test_without_on_it_is_today(empty_desk: Desk) -> None:
    before = date.today()  # noqa: DTZ011 - the day of the person at the desk
    said = empty_desk.type_bare("new", "--name", "Lantern", "--machine-price", "1", "--books", str(empty_desk.folder))
    assert said.code == 0
    day = empty_desk.type_bare("entries", "--json", "--books", str(empty_desk.folder)).data["entries"][0]["date"]
    assert before.isoformat() <= day <= datetime.now().astimezone().date().isoformat()


@pytest.mark.parametrize(
    "day", ["2026-2-3", "2026-02-30", "02/03/2026", "today", "2026-13-01", "20260203", "0000-01-01", "٢٠٢٦-٠٢-٠٣", " "]
)
def test_what_is_no_day_is_refused(desk: Desk, day: str) -> None:
    assert desk.refused("draw", "5", on=day)["field"] == "on"
    assert desk.refused("entries", "--since", day)["field"] == "since"
    assert desk.refused("entries", "--through", day)["field"] == "through"
    assert desk.refused("tax", "rate", "city", "1", "--from", day)["field"] == "from"
    assert desk.refused("tax", "rate", "city", "1", "--from", "2026-03-01", "--until", day)["field"] == "until"
    assert desk.refused("job", "new", *WORKING_LINES["job new"], "--promised", day)["field"] == "promised"


@pytest.mark.parametrize(
    ("period", "start", "end"),
    [
        ("2026", "2026-01-01", "2026-12-31"),
        ("2026-Q1", "2026-01-01", "2026-03-31"),
        ("2026-q4", "2026-10-01", "2026-12-31"),
        ("2026-02", "2026-02-01", "2026-02-28"),
        ("2028-02", "2028-02-01", "2028-02-29"),
        ("2026-01..2026-05", "2026-01-01", "2026-05-31"),
        ("2025-12..2026-02", "2025-12-01", "2026-02-28"),
    ],
)
def test_a_period_has_its_forms_with_both_ends_in_it(desk: Desk, period: str, start: str, end: str) -> None:
    data = desk.data("quarter", period, on="2028-03-01")
    assert (data["start"], data["end"], data["so_far"]) == (start, end, False)


@pytest.mark.parametrize(
    ("day", "period"), [("2026-01-05", "2026-Q1"), ("2026-03-31", "2026-Q1"), ("2026-04-01", "2026-Q2")]
)
def test_the_period_is_the_one_that_holds_on_unless_given(desk: Desk, day: str, period: str) -> None:
    data = desk.data("quarter", on=day)
    assert data == desk.data("quarter", period, on=day)
    assert (data["period"], data["so_far"]) == (period, True)


@pytest.mark.parametrize(
    "period", ["2026-Q5", "2026-13", "26", "Q1", "2026-05..2026-01", "2026-01..", "..", "", "last"]
)
def test_what_is_no_period_is_refused(desk: Desk, period: str) -> None:
    assert desk.refused("quarter", period)["field"] == "period"


def test_a_period_that_has_not_begun_holds_nothing_not_even_what_is_booked_ahead(desk: Desk) -> None:
    desk.data("pickup", "1", "--paid", "cash", on="2026-06-20")
    data = desk.data("quarter", "2026-Q3", on="2026-02-10")
    assert (data["income"], data["net"], data["expenses"]) == ({"total": "0.00", "by_kind": {}}, "0.00", [])
    assert all(each["ok"] for each in data["checks"])
    assert data["so_far"] is True


def test_a_period_is_closed_and_opened_again_with_a_reason(desk: Desk) -> None:
    assert desk.refused("quarter", "2026-Q1", "--close", on="2026-03-31")["field"] == "period"
    assert desk.data("quarter", "2026-Q1", "--close", on="2026-04-01")["closed"] is True
    assert desk.refused("quarter", "2026-Q1", "--close", on="2026-04-01")["field"] == "period"
    assert desk.refused("quarter", "2026-Q1", "--reopen", "--why", " ", on="2026-04-01")["field"] == "why"
    desk.refused("draw", "5", on="2026-03-31")
    out = desk.lines("quarter", "2026-Q1", "--reopen", "--why", "a late receipt", on="2026-04-01")
    assert out.startswith("Open again from 2026-01-01")
    assert desk.data("draw", "5", on="2026-03-31")["entry"] == NEXT_ENTRY


def test_a_rate_and_a_price_hold_from_their_day_on(desk: Desk) -> None:
    desk.data("tax", "rate", "city", "0.5", "--from", "2026-03-01")
    desk.data("price", "binding", "--by", "length", "--rate", "0.40", "--class", "work", "--from", "2026-03-01")
    line = ("job", "new", "--customer", "Eve", "--piece", "x", *QUILT, "--line", "binding")
    before, after = desk.data(*line, on="2026-02-28"), desk.data(*line, on="2026-03-01")
    assert [(each["subtotal"], each["tax_expected"]) for each in (before, after)] == [
        ("76.80", "4.07"),
        ("102.40", "5.94"),
    ]
    picked_up = desk.data("pickup", str(before["job"]), "--paid", "cash", on="2026-03-01")
    assert (picked_up["subtotal"], picked_up["tax"]) == ("76.80", "4.45")


def test_days_in_answers_are_written_as_they_are_typed(desk: Desk) -> None:
    assert re.search(r"\b2026-01-12\b", desk.lines("entries"))
    assert FIRST_DAY in desk.lines("entries")
