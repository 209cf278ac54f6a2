"""The list that comes with the program: whole, sourced, without promises, and with ids that stay."""

from __future__ import annotations

import re

import pytest

from checklists.catalogue import shipped_catalogue
from checklists.item import Item
from checklists.values import KINDS, example_of, read_values
from ledger.actions import answers
from ledger.money import Currency

ITEMS = tuple(shipped_catalogue())
# An id never changes and is never used for something else: the answers in every book hang on it. Only add here.
IDS_EVER_SHIPPED = {
    "home_occupation",
    "visits_a_day",
    "floor_share",
    "people_working",
    "sign_size",
    "customer_hours",
    "rooms_measured",
    "how_you_work",
    "covenants_or_lease",
    "power",
    "structure",
    "sales_tax_permit",
    "resale_certificate",
    "goods_taxed",
    "work_taxed",
    "delivery_taxed",
    "business_account",
    "insurance_limit",
    "filing_frequency",
    "income_tax_percent",
    "second_medium",
}
PROMISES = re.compile("allowed|legal|complian|guarantee|deductib", re.IGNORECASE)
# What differs from place to place is never told without examples of two places.
LOCAL_RULES = IDS_EVER_SHIPPED - {
    "rooms_measured",
    "how_you_work",
    "covenants_or_lease",
    "power",
    "structure",
    "business_account",
    "income_tax_percent",
    "second_medium",
}
USD = Currency("USD", 2)
WIDEST_TITLE = 40

each_item = pytest.mark.parametrize("item", ITEMS, ids=lambda item: item.id)


def texts_of(item: Item) -> tuple[str, ...]:
    whole = (item.title, item.why, item.ask, item.proof, item.caution, item.source_words)
    return (*whole, *item.questions, *item.differs, *(choice for part in item.parts for choice in part.choices))


def test_the_stages_stand_in_the_order_of_her_way() -> None:
    assert [stage.id for stage in shipped_catalogue().stages] == [
        "before_the_machine",
        "before_the_first_customer",
        "every_quarter_and_year",
    ]


def test_no_id_that_was_ever_shipped_is_gone_and_none_is_missing_here() -> None:
    assert {item.id for item in ITEMS} == IDS_EVER_SHIPPED


@each_item
def test_an_item_promises_nothing(item: Item) -> None:
    assert [text for text in texts_of(item) if PROMISES.search(text)] == []


@each_item
def test_an_item_has_a_source_or_says_that_it_is_common_practice(item: Item) -> None:
    assert bool(item.sources) != (item.source_words == "common practice, no source")


@each_item
def test_an_item_asks_somebody_in_whole_sentences(item: Item) -> None:
    assert item.ask[0].islower()
    assert all(question[0].isupper() and question[-1] in "?.:" for question in item.questions)
    assert any("?" in question for question in item.questions)


@each_item
def test_a_title_fits_its_line(item: Item) -> None:
    assert len(item.title) <= WIDEST_TITLE


@pytest.mark.parametrize("name", sorted(LOCAL_RULES))
def test_a_rule_that_differs_is_told_by_two_places_or_more(name: str) -> None:
    item = shipped_catalogue().item(name)
    assert len({example.split(":")[0] for example in item.differs}) >= 2


@each_item
def test_the_example_of_an_answer_is_an_answer(item: Item) -> None:
    assert set(read_values(item, example_of(item), USD)) == {part.name for part in item.parts}


def test_each_item_that_feeds_the_books_finds_its_function_and_each_function_an_item() -> None:
    assert {item.feeds for item in ITEMS if item.feeds is not None} == set(answers.FEEDS)
    assert set(answers.TAKEN_BACK) < set(answers.FEEDS)


@each_item
def test_the_function_of_an_item_takes_its_example(item: Item) -> None:
    if item.feeds is not None:
        assert answers.FEEDS[item.feeds](read_values(item, example_of(item), USD), None)


def test_every_kind_of_answer_has_an_example() -> None:
    assert all(example or kind == "choice" for kind, example in KINDS.items())


def test_the_electrician_and_the_revenue_office_are_named() -> None:
    asked = {item.id: item.ask for item in ITEMS}
    assert asked["power"] == "licensed electrician"
    assert {asked[name] for name in ("goods_taxed", "work_taxed", "delivery_taxed")} == {"state revenue office"}


@pytest.mark.parametrize("word", ["allowed", "Illegal", "compliant", "guaranteed", "tax-deductible"])
def test_a_promise_is_seen(word: str) -> None:
    assert PROMISES.search(f"this is {word} here")
