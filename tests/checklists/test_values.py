"""Answers are read strictly by their kind, and what is refused names the part that it concerns."""

from __future__ import annotations

import pytest

from checklists.item import AnswerPart, Item
from checklists.values import example_of, form_of, read_open_text, read_value, read_values
from ledger.errors import NotUnderstood
from ledger.money import Currency

USD, JPY = Currency("USD", 2), Currency("JPY", 0)
FILING = (
    AnswerPart("frequency", "choice", ("monthly", "quarterly")),
    AnswerPart("due_day", "day of the month"),
)


def item_with(*parts: AnswerPart) -> Item:
    return Item("filing", "", "", "", ("",), "", "", parts, None, None, (), (), ())


def kept(kind: str, text: str, currency: Currency = USD, choices: tuple[str, ...] = ()) -> str:
    return read_value(AnswerPart("value", kind, choices), text, currency)


@pytest.mark.parametrize(
    ("kind", "text", "value"),
    [
        ("yes/no", "yes", "yes"),
        ("yes/no", " NO ", "no"),
        ("amount", "2500", "2500.00"),
        ("amount", "0", "0.00"),
        ("percent", "15.50%", "15.5"),
        ("percent", "0", "0"),
        ("date", "2026-03-14", "2026-03-14"),
        ("count", "04", "4"),
        ("count", "0", "0"),
        ("day of the month", "31", "31"),
        ("text", "  they will   write ", "they will   write"),
        ("account", "County Bank, ending 4417", "County Bank, ending 4417"),
    ],
)
def test_an_answer_is_kept_in_one_form(kind: str, text: str, value: str) -> None:
    assert kept(kind, text) == value


def test_an_amount_has_the_decimals_of_the_currency() -> None:
    assert kept("amount", "250000", JPY) == "250000"
    with pytest.raises(NotUnderstood):
        kept("amount", "2500.50", JPY)


def test_a_choice_is_spelled_as_in_the_list() -> None:
    assert kept("choice", "ONE-OWNER  llc", choices=("sole proprietor", "one-owner LLC")) == "one-owner LLC"


@pytest.mark.parametrize(
    ("kind", "text"),
    [
        ("yes/no", "perhaps"),
        ("yes/no", ""),
        ("amount", "1,204.10"),
        ("amount", "-5"),
        ("amount", "NaN"),
        ("percent", "101"),
        ("date", "14 March"),
        ("date", "2026-02-30"),
        ("count", "four"),
        ("count", "-1"),
        ("count", "\N{ARABIC-INDIC DIGIT FOUR}"),
        ("count", "10000"),
        ("day of the month", "0"),
        ("day of the month", "32"),
        ("text", "   "),
        ("account", "County Bank 004417123"),
        ("account", "County Bank 4417 1234"),
    ],
)
def test_an_answer_of_the_wrong_kind_names_its_field(kind: str, text: str) -> None:
    with pytest.raises(NotUnderstood) as refused:
        kept(kind, text)
    assert refused.value.field == "value"


def test_the_parts_of_an_answer_stand_with_commas_between() -> None:
    item = item_with(*FILING)
    assert read_values(item, " quarterly ,25", USD) == {"frequency": "quarterly", "due_day": "25"}
    assert form_of(item) == "frequency (monthly | quarterly), due day (day of the month)"
    assert example_of(item) == "monthly, 20"


@pytest.mark.parametrize(
    ("text", "field"),
    [
        ("quarterly", "due_day"),
        ("quarterly, 25, 26", "due_day"),
        ("weekly, 25", "frequency"),
        ("quarterly, x", "due_day"),
        ("25, quarterly", "frequency"),
    ],
)
def test_a_part_that_is_missing_or_wrong_is_named(text: str, field: str) -> None:
    with pytest.raises(NotUnderstood) as refused:
        read_values(item_with(*FILING), text, USD)
    assert refused.value.field == field


# The check digit of ISO/IEC 7812-1: numbers that card makers print as examples pass it, one digit off does not.
@pytest.mark.parametrize(
    "text", ["my number is 123-45-6789", "4111 1111 1111 1111", "378282246310005", "a 5500-0000-0000-0004"]
)
def test_no_social_security_or_card_number_is_kept(text: str) -> None:
    with pytest.raises(NotUnderstood, match="none is kept") as refused:
        read_open_text(text, "note")
    assert refused.value.field == "note"


@pytest.mark.parametrize(
    "text", ["permit 123-456789", "4111 1111 1111 1112", "12-3456789", "call 555-123-4567", "77 2026-01-02"]
)
def test_other_numbers_are_kept(text: str) -> None:
    assert read_open_text(text, "note") == text
