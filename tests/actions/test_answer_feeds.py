"""What each answer of the set-up list feeds the books, and that the next figure goes by it."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from checklists import choices
from checklists.catalogue import shipped_catalogue
from ledger.actions import answers
from ledger.actions.answers import AnswerRequest, SettledAnswer, TaxClass, perform
from ledger.books.books import Books
from ledger.taxes import filing_rules, rules
from tests import workshop

DAY = date(2026, 2, 10)
OFFICE = "Ms Vance, revenue office"


@pytest.fixture(scope="module")
def begun(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder of books with rates, and no answer on any class."""
    books = workshop.begin(tmp_path_factory.mktemp("begun") / "books")
    workshop.add_rate(books, "Kansas state", "4.3")
    workshop.add_rate(books, "Riley county", "1.0")
    books.close()
    return books.folder


@pytest.fixture
def books(begun: Path, tmp_path: Path) -> Iterator[Books]:
    """A copy of these books, on a day in February."""
    copy = workshop.reopened(Path(shutil.copytree(begun, tmp_path / "books")), DAY)
    yield copy
    copy.close()


def answered(books: Books, item: str, value: str | None = None, **more: Any) -> SettledAnswer:
    return perform(books, AnswerRequest(item, value, **{"asked": OFFICE, **more}))


@pytest.mark.parametrize(
    ("item", "class_name"), [("goods_taxed", "goods"), ("work_taxed", "work"), ("delivery_taxed", "delivery")]
)
def test_an_answer_on_a_class_sets_the_tax_of_the_next_pickup(books: Books, item: str, class_name: str) -> None:
    """At 5.3 %, 185.44 is taxed with 9.83, not at all before the answer nor after the opposite one."""
    workshop.add_to_price_list(books, "Line", "flat", "185.44", class_name)
    job = workshop.job_for(books, lines=["Line"])
    assert workshop.previewed(books, job, "cash").slip.tax.unanswered == (class_name,)
    answered(books, item, "yes")
    assert workshop.previewed(books, job, "cash").slip.tax_cents == 983
    assert workshop.picked_up(books, job, "cash").settlement.total_cents == 195_27
    tomorrow = workshop.on_day(books, date(2026, 2, 11))
    answered(tomorrow, item, "no")
    second = workshop.job_for(tomorrow, lines=["Line"])
    assert workshop.previewed(tomorrow, second, "cash").slip.tax_cents == 0
    assert workshop.previewed(tomorrow, second, "cash").slip.tax.unanswered == ()


def test_an_answer_on_a_class_is_kept_with_whom_she_asked_and_from_the_day(books: Books) -> None:
    settled = answered(books, "work_taxed", "yes")
    assert settled.fed == (TaxClass("work", True),)
    row = books.row("select * from class_answer")
    assert row is not None
    assert (row["class"], row["taxed"], row["asked"], row["from_date"]) == ("work", 1, OFFICE, "2026-02-10")
    assert rules.answers_on(books, date(2026, 2, 9)) == {}


def test_a_permit_is_held_with_its_last_day(books: Books) -> None:
    answered(books, "sales_tax_permit", "004-1234", expires=date(2026, 12, 31))
    permit = choices.sales_tax_permit(books, DAY)
    assert permit == choices.Permit("004-1234", date(2026, 12, 31))
    assert (permit.holds(date(2026, 12, 31)), permit.holds(date(2027, 1, 1))) == (True, False)
    assert choices.sales_tax_permit(books, date(2026, 2, 9)) is None


def test_a_new_permit_without_a_last_day_does_not_keep_the_old_one(books: Books) -> None:
    answered(books, "sales_tax_permit", "004-1234", expires=date(2026, 12, 31))
    answered(books, "sales_tax_permit", "004-9999")
    assert choices.sales_tax_permit(books, DAY) == choices.Permit("004-9999", None)


def test_how_often_she_files_sets_the_filing_period_and_its_due_day(books: Books) -> None:
    answered(books, "filing_frequency", "monthly, 25")
    assert (filing_rules.filing_frequency(books, DAY), filing_rules.filing_due_day(books, DAY)) == ("monthly", 25)
    workshop.answer(books, "work", True)
    workshop.picked_up(books, workshop.job_for(books, "100.00"), "cash")
    assert workshop.choose_method(books, "line") == date(2026, 3, 1)


def test_the_business_account_is_held_with_the_bank_that_told_it(books: Books) -> None:
    answered(books, "business_account", "County Bank, ending 4417", asked="County Bank")
    assert choices.held_choice(books, choices.BUSINESS_ACCOUNT, DAY) == "County Bank, ending 4417"
    assert books.value("select asked from choice where key = ?", (choices.BUSINESS_ACCOUNT,)) == "County Bank"


def test_the_insurance_limit_is_set_beside_what_was_in_her_care(books: Books) -> None:
    workshop.job_for(books, "80.00", value=1_200_00)
    low = answered(books, "insurance_limit", "1000")
    assert choices.insurance_limit_cents(books, DAY) == 1_000_00
    assert low.remarks == ("Pieces worth 1200.00 were in your care on 2026-02-10, above this limit: ask your agent.",)
    assert answered(books, "insurance_limit", "1200").remarks == ()


def test_nothing_insured_is_an_answer(books: Books) -> None:
    answered(books, "insurance_limit", "0")
    assert choices.insurance_limit_cents(books, DAY) == 0


def test_the_accountants_percentage_is_held_with_what_it_includes(books: Books) -> None:
    answered(books, "income_tax_percent", "15.5, no, yes")
    assert choices.income_tax_share(books, DAY) == choices.IncomeTaxShare(
        Decimal("15.5"), includes_self_employment=False, includes_state=True
    )
    later = workshop.on_day(books, date(2026, 7, 1))
    answered(later, "income_tax_percent", "18, yes, yes")
    before, after = choices.income_tax_share(later, date(2026, 6, 30)), choices.income_tax_share(later, later.today)
    assert before is not None
    assert after is not None
    assert (before.percent, after.percent, after.includes_self_employment) == (Decimal("15.5"), Decimal(18), True)


def test_a_policy_is_held_with_the_last_day_of_its_limit(books: Books) -> None:
    answered(books, "insurance_limit", "25000", expires=date(2027, 2, 1))
    assert choices.insurance_renewal(books, DAY) == date(2027, 2, 1)
    answered(books, "insurance_limit", "30000")
    assert (choices.insurance_limit_cents(books, DAY), choices.insurance_renewal(books, DAY)) == (30_000_00, None)


def test_a_resale_certificate_is_held_with_its_last_day(books: Books) -> None:
    answered(books, "resale_certificate", "DR-13, 78-8012", expires=date(2026, 12, 31))
    assert choices.resale_certificate(books, DAY) == choices.Permit("DR-13, 78-8012", date(2026, 12, 31))
    answered(books, "resale_certificate", state="does not apply")
    assert choices.resale_certificate(books, DAY) is None


@pytest.mark.parametrize(
    ("item", "value", "held"),
    [
        ("floor_share", "25% of any one floor", {choices.FLOOR_SHARE: "25 % of one floor"}),
        ("people_working", "1", {choices.PEOPLE_WORKING: "1"}),
        ("sign_size", "2 sq ft", {choices.SIGN_SIZE: "2 square feet"}),
        ("customer_hours", "7 am to 9 pm", {choices.CUSTOMER_HOURS: "07:00 to 21:00"}),
        (
            "rooms_measured",
            "180, 900, 1650.5, 0, 0",
            {
                choices.WORKSHOP_AREA: "180 square feet",
                choices.FLOOR_AREA: "900 square feet",
                choices.HOUSE_AREA: "1650.5 square feet",
                choices.GARAGE_WORKSHOP_AREA: "0 square feet",
                choices.GARAGE_AREA: "0 square feet",
            },
        ),
        (
            "how_you_work",
            "0, 1.5, Mon-Sat 9 am to 5 pm",
            {
                choices.PEOPLE_HERE: "0",
                choices.OWN_SIGN: "1.5 square feet",
                choices.OWN_HOURS: "Monday to Saturday 09:00 to 17:00",
            },
        ),
    ],
)
def test_what_the_zoning_office_said_and_how_she_works_are_held_and_taken_back(
    books: Books, item: str, value: str, held: dict[str, str]
) -> None:
    answered(books, item, value)
    assert {key: choices.held_choice(books, key, DAY) for key in held} == held
    answered(books, item, state="does not apply")
    assert {choices.held_choice(books, key, DAY) for key in held} == {None}


def test_visits_a_day_and_the_structure_are_held(books: Books) -> None:
    answered(books, "visits_a_day", "4")
    answered(books, "structure", "sole proprietor")
    assert choices.visits_a_day(books, DAY) == 4
    assert choices.held_choice(books, choices.STRUCTURE, DAY) == "sole proprietor"


def test_every_function_that_feeds_the_books_is_tried_here() -> None:
    text = Path(__file__).read_text(encoding="utf-8")
    feeding = [item.id for item in shipped_catalogue() if item.feeds is not None]
    assert [name for name in feeding if f'"{name}"' not in text] == []


def test_the_table_of_choices_tells_every_key_that_an_answer_writes() -> None:
    table = choices.__doc__ or ""
    keys = [key for keys in answers.TAKEN_BACK.values() for key in keys]
    assert [key for key in keys if f"| {key} |" not in table] == []
