"""The rules that answers gave, beside rooms, practice and the log of jobs, all read from the books."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest

from checklists.fit import Finding
from checklists.home_records import read_not_told
from ledger.actions.answers import AnswerRequest, perform
from ledger.books.books import Books
from ledger.jobs.home_fit import read_care, read_fit
from tests import workshop

MONDAY, TUESDAY = date(2026, 1, 5), date(2026, 1, 6)
OFFICE = "zoning office of the town or county"


@pytest.fixture(scope="module")
def begun(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Books with three pieces worth 900.00 that came on Monday, two of them by one customer."""
    books = workshop.begin_taxed(tmp_path_factory.mktemp("begun") / "books", MONDAY)
    for customer in ("Ada", "Ada", "Ben"):
        workshop.job_for(books, "80.00", customer=customer, value=900_00)
    books.close()
    return books.folder


@pytest.fixture
def books(begun: Path) -> Iterator[Books]:
    with workshop.copied(begun, MONDAY) as copy:
        yield copy


def told(books: Books, item: str, value: str | None, **more: str | date) -> None:
    perform(books, AnswerRequest(item, value, **{"asked": "Mr Hale", **more}))  # type: ignore[arg-type]


def by_rule(books: Books) -> dict[str, Finding]:
    return {each.rule: each for each in read_fit(books)}


def test_nothing_told_is_nothing_found_and_says_whom_to_ask(books: Books) -> None:
    assert read_fit(books) == ()
    assert {each.item: each.ask for each in read_not_told(books)} == {
        "floor_share": OFFICE,
        "visits_a_day": OFFICE,
        "customer_hours": OFFICE,
        "people_working": OFFICE,
        "sign_size": OFFICE,
        "insurance_limit": "insurance agent",
    }


def test_the_log_of_jobs_gives_the_busiest_day(books: Books) -> None:
    told(books, "visits_a_day", "2", reference="15.04.020")
    workshop.picked_up(workshop.on_day(books, TUESDAY), 1, "cash")
    finding = by_rule(workshop.on_day(books, TUESDAY))["visits a day"]
    assert (finding.limit, finding.fact, finding.above_by, finding.when) == (2, 3, 1, MONDAY)
    assert (finding.told.by, finding.told.on, finding.told.reference) == ("Mr Hale", MONDAY, "15.04.020")
    assert finding.told.decides == OFFICE
    assert "They were by 2 customers" in finding.words


def test_custody_gives_what_is_here_and_the_most_that_ever_was(books: Books) -> None:
    told(books, "insurance_limit", "2500", asked="Ms Ray", expires=date(2026, 12, 31))
    tuesday = workshop.on_day(books, TUESDAY)
    workshop.picked_up(tuesday, 1, "cash")
    care = read_care(tuesday)
    assert (care.pieces, care.value_cents, care.highest_cents, care.highest_on) == (2, 1800_00, 2700_00, MONDAY)
    finding = by_rule(tuesday)["insurance limit"]
    assert (finding.fact, finding.above_by, finding.when) == ("2700.00", "200.00", MONDAY)
    assert finding.told.decides == "insurance agent"
    assert "ran out" in by_rule(workshop.on_day(books, date(2027, 1, 1)))["insurance limit"].words


def test_rooms_and_practice_are_the_ones_that_she_gave_last(books: Books) -> None:
    told(books, "floor_share", "25 % of the house and 0 % of the garage")
    told(books, "people_working", "0")
    told(books, "sign_size", "1")
    told(books, "customer_hours", "8 am to 6 pm")
    assert {each.within for each in read_fit(books)} == {None}
    told(books, "rooms_measured", "180, 900, 1800, 0, 400")
    told(books, "how_you_work", "0, 1, 9 am to 5 pm")
    assert {each.within for each in read_fit(books)} == {True}
    tuesday = workshop.on_day(books, TUESDAY)
    told(tuesday, "rooms_measured", "500, 900, 1800, 0, 400")
    told(tuesday, "how_you_work", "1, 1, 9 am to 7 pm")
    above = [each.rule for each in read_fit(tuesday) if each.is_above]
    assert above == ["floor share of the house", "hours of customers", "people who live elsewhere"]
    assert {each.within for each in read_fit(books)} == {True}, "Monday is as it was"


def test_a_rule_that_does_not_apply_any_more_is_no_finding(books: Books) -> None:
    told(books, "visits_a_day", "2")
    told(books, "visits_a_day", None, state="does not apply")
    assert read_fit(books) == ()
    not_told = {each.item: each.does_not_apply for each in read_not_told(books)}
    assert (not_told["visits_a_day"], not_told["sign_size"]) == (True, False)


def test_a_rule_stands_with_whom_it_was_heard_from_while_she_asks_again(books: Books) -> None:
    told(books, "visits_a_day", "2")
    told(books, "visits_a_day", None, state="asked", asked="Ms Orr")
    finding = by_rule(books)["visits a day"]
    assert (finding.limit, finding.told.by) == (2, "Mr Hale")
