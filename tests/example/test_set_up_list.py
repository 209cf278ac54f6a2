"""The set-up list of the example: two thirds answered, with whom and when, and what it feeds agrees with the books."""

from __future__ import annotations

from collections import Counter
from datetime import date, timedelta
from decimal import Decimal

import pytest

from checklists import choices
from checklists.progress import Standing
from checklists.records import read_answers, read_standings
from ledger.books.books import Books
from ledger.jobs.home_fit import read_fit
from ledger.jobs.records import read_custody
from ledger.taxes.filing_rules import filing_due_day, filing_frequency
from ledger.taxes.rules import answers_on
from tests.workshop_example import EXAMPLE_DAY

DONE = {
    "home_occupation", "floor_share", "visits_a_day", "customer_hours", "sign_size", "rooms_measured", "machine_room",
    "household_support", "body", "practice_hours", "machine_choice", "machine_tax", "prices_near_you", "plan",
    "structure", "business_name", "tax_number", "local_licence", "sales_tax_permit", "resale_certificate",
    "goods_taxed", "work_taxed", "delivery_taxed", "deposits_taxed", "out_of_state", "business_account",
    "home_policy_told", "insurance_limit", "machine_insured", "fire_and_smoke", "water_and_pets", "price_list",
    "intake_form", "terms", "selling_at_home", "cards_and_brochure", "helper", "record_habit", "how_you_work",
    "estimated_tax", "statements_agreed", "machine_return", "income_tax_percent",
}  # fmt: skip


@pytest.fixture(scope="module")
def standings(books: Books) -> dict[str, Standing]:
    return {each.id: each for each in read_standings(books)}


def test_some_two_thirds_of_the_items_are_done_and_three_are_asked(standings: dict[str, Standing]) -> None:
    assert {name for name, each in standings.items() if each.state == "done"} == DONE
    assert {name for name, each in standings.items() if each.state == "asked"} == {
        "power", "covenants_or_lease", "people_working",
    }  # fmt: skip
    assert {name for name, each in standings.items() if each.state == "does not apply"} == {
        "bedding_labels", "financing", "floor_load", "gross_receipts_tax",
    }  # fmt: skip
    assert 0.6 < len(DONE) / len(standings) < 0.8


def test_every_answer_says_who_gave_it_and_when(books: Books) -> None:
    answers = read_answers(books)
    assert len(answers) == 56
    assert all(each.asked and books.settings.begun_on <= each.on <= EXAMPLE_DAY for each in answers)


def test_some_come_round_again(standings: dict[str, Standing]) -> None:
    again = {
        name: (each.state, each.due) for name, each in standings.items() if each.due is not None and not each.is_settled
    }
    assert again == {
        "filing_frequency": ("open", date(2026, 10, 21)),
        "second_medium": ("open", date(2026, 11, 3)),
    }


def test_expiries_lie_ahead_and_one_runs_out_soon(standings: dict[str, Standing]) -> None:
    answers = {name: standings[name].answer for name in DONE}
    runs_out = sorted((each.expires, name) for name, each in answers.items() if each is not None and each.expires)
    assert runs_out == [
        (EXAMPLE_DAY + timedelta(days=12), "insurance_limit"),
        (date(2029, 11, 1), "home_occupation"),
        (date(2029, 11, 1), "sales_tax_permit"),
        (date(2029, 11, 4), "business_name"),
    ]
    assert min(each.due for name, each in standings.items() if name in DONE and each.due) >= EXAMPLE_DAY


def test_the_proofs_are_kept(books: Books, standings: dict[str, Standing]) -> None:
    rows = books.rows(
        "select item, label, digest from attachment where item is not null and item not like 'statement %' order by id"
    )
    assert {row["item"]: row["label"] for row in rows} == {
        "structure": "accountants-mail-on-the-form.txt",
        "home_occupation": "town-office-letter.txt",
        "sales_tax_permit": "sales-tax-permit.txt",
        "work_taxed": "revenue-office-letter.txt",
        "insurance_limit": "insurance-declarations.txt",
    }
    for row in rows:
        answer = standings[row["item"]].answer
        assert answer is not None
        assert answer.document == row["digest"]
        assert (books.folder / "documents" / row["digest"]).is_file()


def test_the_answers_feed_what_the_books_go_by(books: Books) -> None:
    fed = answers_on(books, EXAMPLE_DAY)
    assert (fed["goods"], fed["work"], fed["delivery"]) == (True, True, False)
    assert (filing_frequency(books, EXAMPLE_DAY), filing_due_day(books, EXAMPLE_DAY)) == ("quarterly", 20)
    permit = choices.sales_tax_permit(books, EXAMPLE_DAY)
    assert permit == choices.Permit("MR-508-117", date(2029, 11, 1))
    assert choices.held_choice(books, choices.STRUCTURE, EXAMPLE_DAY) == "sole proprietor"
    assert choices.held_choice(books, choices.BUSINESS_ACCOUNT, EXAMPLE_DAY) == "Ferrybank Savings, ending 4417"
    assert choices.income_tax_share(books, EXAMPLE_DAY) == choices.IncomeTaxShare(
        Decimal(12), includes_self_employment=False, includes_state=True
    )


def test_what_happened_lies_within_what_she_was_told(books: Books) -> None:
    within = {each.told.item: each.within for each in read_fit(books)}
    told = ("floor_share", "visits_a_day", "customer_hours", "sign_size", "insurance_limit")
    assert within == dict.fromkeys(told, True)


def test_the_limits_are_kept_by_what_happened(books: Books) -> None:
    most = choices.visits_a_day(books, EXAMPLE_DAY)
    visits = books.rows("select on_date from job_event where what in ('in', 'picked up', 'back')")
    assert most == 8
    assert 4 <= max(Counter(row["on_date"] for row in visits).values()) <= most
    limits = [choices.insurance_limit_cents(books, day) for day in (date(2025, 6, 1), EXAMPLE_DAY)]
    assert limits == [8_000_00, 12_000_00]
    assert read_custody(books, EXAMPLE_DAY).highest_cents <= 12_000_00
