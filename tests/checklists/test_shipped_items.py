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
    "machine_room",
    "floor_load",
    "household_support",
    "body",
    "practice_hours",
    "machine_choice",
    "machine_tax",
    "prices_near_you",
    "financing",
    "plan",
    "structure",
    "sales_tax_permit",
    "resale_certificate",
    "goods_taxed",
    "work_taxed",
    "delivery_taxed",
    "business_account",
    "insurance_limit",
    "business_name",
    "tax_number",
    "local_licence",
    "deposits_taxed",
    "out_of_state",
    "home_policy_told",
    "machine_insured",
    "fire_and_smoke",
    "water_and_pets",
    "price_list",
    "intake_form",
    "terms",
    "selling_at_home",
    "cards_and_brochure",
    "pattern_licences",
    "bedding_labels",
    "helper",
    "record_habit",
    "profit_motive",
    "filing_frequency",
    "returns_filed",
    "income_tax_percent",
    "estimated_tax",
    "statements_agreed",
    "second_medium",
    "certificates_kept",
    "permits_renewed",
    "machine_return",
    "gross_receipts_tax",
    "information_forms",
    "year_end",
    "keep_how_long",
}
PROMISES = re.compile("allowed|legal|complian|guarantee|deductib", re.IGNORECASE)
# Nobody's rule, or a federal one: what all others say differs from place to place, or from one designer to the next.
SAME_EVERYWHERE = {
    "rooms_measured",
    "how_you_work",
    "covenants_or_lease",
    "power",
    "machine_room",
    "household_support",
    "body",
    "practice_hours",
    "machine_choice",
    "prices_near_you",
    "financing",
    "plan",
    "structure",
    "tax_number",
    "business_account",
    "home_policy_told",
    "fire_and_smoke",
    "water_and_pets",
    "price_list",
    "intake_form",
    "cards_and_brochure",
    "helper",
    "record_habit",
    "profit_motive",
    "income_tax_percent",
    "estimated_tax",
    "statements_agreed",
    "second_medium",
    "information_forms",
    "year_end",
    "keep_how_long",
}
STATES = (
    *("Alabama", "Alaska", "Arizona", "Arkansas", "California", "Colorado", "Connecticut", "Delaware", "Florida"),
    *("Georgia", "Hawaii", "Idaho", "Illinois", "Indiana", "Iowa", "Kansas", "Kentucky", "Louisiana", "Maine"),
    *("Maryland", "Massachusetts", "Michigan", "Minnesota", "Mississippi", "Missouri", "Montana", "Nebraska"),
    *("Nevada", "New Hampshire", "New Jersey", "New Mexico", "New York", "North Carolina", "North Dakota", "Ohio"),
    *("Oklahoma", "Oregon", "Pennsylvania", "Rhode Island", "South Carolina", "South Dakota", "Tennessee", "Texas"),
    *("Utah", "Vermont", "Virginia", "Washington", "West Virginia", "Wisconsin", "Wyoming"),
)
USD = Currency("USD", 2)
WIDEST_TITLE, WIDEST_ID = 40, 18
LONGEST, MOST_QUESTIONS = 125, 6

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


def test_each_stage_has_as_many_items_as_she_can_get_through() -> None:
    """Some twenty before the machine, some thirty before the first customer, and what comes round."""
    assert [len(stage.items) for stage in shipped_catalogue().stages] == [19, 28, 13]


def test_what_comes_round_is_most_of_the_last_stage_and_little_of_the_first() -> None:
    first, _, last = shipped_catalogue().stages
    assert not any(item.recurs for item in first.items)
    assert all(item.recurs for item in last.items)


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
def test_id_and_title_fit_their_columns(item: Item) -> None:
    assert len(item.id) <= WIDEST_ID
    assert len(item.title) <= WIDEST_TITLE


def test_no_two_items_have_one_title() -> None:
    titles = [item.title for item in ITEMS]
    assert len(titles) == len(set(titles))


@each_item
def test_nothing_is_said_at_length(item: Item) -> None:
    """She reads it with a customer on the way: two short sentences or so, and not more than six questions."""
    assert max(map(len, (item.why, item.proof, item.caution, *item.questions, *item.differs))) <= LONGEST
    assert len(item.questions) <= MOST_QUESTIONS


@each_item
def test_what_comes_first_comes_first(item: Item) -> None:
    """An item never stands before what it waits for."""
    order = [each.id for each in ITEMS]
    assert [name for name in item.blocked_by if order.index(name) > order.index(item.id)] == []


def test_an_office_is_written_alike_wherever_it_is_the_same() -> None:
    offices = {item.ask for item in ITEMS}
    assert len({office.casefold().removesuffix("s") for office in offices}) == len(offices)


@pytest.mark.parametrize("name", sorted(IDS_EVER_SHIPPED - SAME_EVERYWHERE))
def test_a_rule_that_differs_is_told_by_two_places_or_more(name: str) -> None:
    item = shipped_catalogue().item(name)
    assert len({example.split(":")[0] for example in item.differs}) >= 2


@each_item
def test_no_rule_of_a_state_stands_without_that_of_another_place(item: Item) -> None:
    """Outside the examples and the sources no state is named at all."""
    said = (item.title, item.why, item.ask, item.proof, item.caution, *item.questions)
    assert [text for text in said if any(state in text for state in STATES)] == []


@each_item
def test_what_an_example_tells_has_a_source_of_that_place(item: Item) -> None:
    """Each example begins with its place, and some source names the state of it, or the form that it is about."""
    named = [state for example in item.differs for state in STATES if state in example.partition(":")[0]]
    assert [state for state in named if state not in item.source_words and "by state" not in item.source_words] == []


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
