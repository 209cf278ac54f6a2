"""Every mistake that a file of items can have is refused, with the file, the item and the field.

`bad/` holds tiny files with one mistake each; the name of a file says which.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checklists.catalogue import read_catalogue
from checklists.faults import CatalogueNotUsable
from checklists.item import Catalogue
from ledger.errors import Refused

BAD = Path(__file__).parent / "bad"
GOOD = """
title = "Before"
order = 1

[[item]]
id = "power"
title = "Power"
why = "Old circuits are weak."
ask = "licensed electrician"
questions = ["What does the machine want?"]
proof = "The invoice."
caution = "The electrician decides."
answer = [{ kind = "text" }]
recurs = "FREQ=YEARLY"
feeds = "power"
differs = ["Here: two.", "There: three."]
sources = [{ title = "A booklet", section = "2", year = 2018, second_hand = true }]
"""
LATER = GOOD.replace("order = 1", "order = 2").replace('"power"\ntitle', '"lease"\ntitle')

# The item, the field, and the words by which the fault is known.
FAULTS = {
    "answer_as_text": ("power", "answer", "write a list such as"),
    "answer_of_no_part": ("power", "answer", "at least one kind"),
    "answer_unknown_key": ("power", "answer", "most is no key here"),
    "choice_with_comma": ("power", "answer", "without commas"),
    "choice_without_choices": ("power", "answer", "give choices"),
    "choices_of_another_kind": ("power", "answer", "to no other"),
    "common_practice_as_number": ("power", "common_practice", "write true"),
    "common_practice_denied": ("power", "common_practice", "write true"),
    "empty_question": ("power", "questions", "write some text"),
    "empty_why": ("power", "why", "write some text"),
    "feeds_in_words": ("power", "feeds", "small letters"),
    "id_as_of_her_own": ("own_power", "id", "items that she adds herself"),
    "id_given_twice": ("power", "id", "is taken by an item in id_given_twice.toml"),
    "id_in_capitals": ("item no. 1", "id", "small letters"),
    "key_given_twice": ("power", "proof", "at line 11"),
    "kind_as_list": ("power", "answer", "is none of: text"),
    "no_answer": ("power", "answer", "is missing"),
    "no_ask": ("power", "ask", "is missing"),
    "no_caution": ("power", "caution", "is missing"),
    "no_id": ("item no. 1", "id", "is missing"),
    "no_items": ("", "item", "[[item]]"),
    "no_kind": ("power", "answer", "kind is missing"),
    "no_order": ("", "order", "a whole number from 1"),
    "no_proof": ("power", "proof", "is missing"),
    "no_questions": ("power", "questions", "is missing"),
    "no_questions_in_list": ("power", "questions", "write a list"),
    "no_source": ("power", "sources", "either sources or common_practice"),
    "no_title": ("power", "title", "is missing"),
    "no_title_of_stage": ("", "title", "the title of the stage"),
    "no_why": ("power", "why", "is missing"),
    "not_utf_8": ("", "", "no text in UTF-8"),
    "one_bracket": ("", "item", "in two brackets"),
    "one_example_alone": ("power", "differs", "at least two"),
    "order_as_text": ("", "order", "a whole number from 1"),
    "order_of_zero": ("", "order", "a whole number from 1"),
    "part_without_name": ("power", "answer", "a name in small letters"),
    "questions_as_text": ("power", "questions", "write a list"),
    "ring_of_two": ("lease", "blocked_by", "lease after power after lease"),
    "rule_by_the_hour": ("power", "recurs", "DAILY, WEEKLY, MONTHLY, YEARLY"),
    "rule_in_words": ("power", "recurs", "«every year»"),
    "rule_of_a_day_that_never_comes": ("power", "recurs", "does not come within 10 years"),
    "rule_of_no_interval": ("power", "recurs", "from 1 to 999"),
    "rule_of_no_weekday": ("power", "recurs", "no recurrence rule of RFC 5545"),
    "rule_of_a_date_by_the_day": ("power", "recurs", "BYMONTH cannot stand beside DAILY"),
    "rule_that_ends": ("power", "recurs", "COUNT cannot stand beside YEARLY"),
    "rule_without_frequency": ("power", "recurs", "write FREQ"),
    "source_as_text": ("power", "sources", "write a list"),
    "source_second_hand_as_text": ("power", "sources", "second_hand = true"),
    "source_unknown_key": ("power", "sources", "page is no key here"),
    "source_without_title": ("power", "sources", "title is missing"),
    "source_year_as_text": ("power", "sources", "the year of the edition"),
    "text_among_parts": ("power", "answer", "a text stands alone"),
    "text_not_closed": ("power", "proof", "no TOML"),
    "two_parts_of_one_name": ("power", "answer", "a name of its own"),
    "two_sources": ("power", "sources", "either sources or common_practice"),
    "unknown_key": ("power", "proofs", "did you mean proof?"),
    "unknown_key_of_file": ("", "items", "did you mean item?"),
    "unknown_kind": ("power", "answer", "«sum»"),
    "waits_for_itself": ("power", "blocked_by", "power after power"),
    "waits_for_unknown_item": ("power", "blocked_by", "no item powr; did you mean power?"),
    "why_as_number": ("power", "why", "write some text"),
    "why_of_two_lines": ("power", "why", "one line"),
    "why_with_escape": ("power", "why", "that can be shown"),
}


def bad_file(name: str) -> dict[str, bytes]:
    return {f"{name}.toml": (BAD / f"{name}.toml").read_bytes()}


def faults_of(files: dict[str, str]) -> list[tuple[str, str, str]]:
    with pytest.raises(CatalogueNotUsable) as refused:
        read_catalogue({name: content.encode() for name, content in files.items()})
    return [(fault.file, fault.item, fault.field) for fault in refused.value.faults]


def test_every_bad_file_has_its_expectation() -> None:
    assert {path.stem for path in BAD.iterdir()} == set(FAULTS)


@pytest.mark.parametrize("name", sorted(FAULTS))
def test_the_one_mistake_of_a_file_is_the_one_fault(name: str) -> None:
    item, field, words = FAULTS[name]
    with pytest.raises(CatalogueNotUsable) as refused:
        read_catalogue(bad_file(name))
    (fault,) = refused.value.faults
    assert (fault.file, fault.item, fault.field) == (f"{name}.toml", item, field)
    assert words in fault.what
    assert all(part in str(refused.value) for part in (fault.file, item, field, words))


def test_every_fault_of_every_file_is_named_in_one_run() -> None:
    every = {name: content for each in FAULTS for name, content in bad_file(each).items()}
    with pytest.raises(CatalogueNotUsable) as refused:
        read_catalogue(every | {"good.toml": LATER.replace('"lease"', '"fine"').encode()})
    assert {fault.file.removesuffix(".toml") for fault in refused.value.faults} >= set(FAULTS)
    assert isinstance(refused.value, Refused)
    assert "checklists/items" in refused.value.do


def test_several_faults_of_one_item_are_named_in_one_run() -> None:
    worst = GOOD.replace('"Power"', '""').replace("FREQ=YEARLY", "YEARLY").replace("proof =", "prof =")
    found = faults_of({"worst.toml": worst})
    assert [field for _, _, field in found] == ["prof", "proof", "title", "recurs"]


def test_a_good_item_is_read_as_it_stands() -> None:
    (item,) = read_catalogue({"before.toml": GOOD.encode()})
    assert (item.id, item.ask, item.feeds, item.recurs) == ("power", "licensed electrician", "power", "FREQ=YEARLY")
    assert item.questions == ("What does the machine want?",)
    assert [(part.name, part.kind) for part in item.parts] == [("value", "text")]
    assert item.source_words == "A booklet, 2, 2018 (read in a text about it)"


def test_an_item_without_source_says_that_it_is_common_practice() -> None:
    plain = GOOD.split("sources =", maxsplit=1)[0] + "common_practice = true\n"
    (item,) = read_catalogue({"before.toml": plain.encode()})
    assert item.source_words == "common practice, no source"


def test_stages_stand_in_their_order_whatever_their_files_are_called() -> None:
    catalogue = read_catalogue({"a.toml": LATER.encode(), "b.toml": GOOD.encode()})
    assert [(stage.id, stage.order) for stage in catalogue.stages] == [("b", 1), ("a", 2)]


def test_an_id_belongs_to_one_file() -> None:
    again = LATER.replace('"lease"', '"power"')
    assert faults_of({"a.toml": GOOD, "b.toml": again}) == [("b.toml", "power", "id")]


def test_a_place_belongs_to_one_stage() -> None:
    assert faults_of({"a.toml": GOOD, "b.toml": LATER.replace("order = 2", "order = 1")}) == [("b.toml", "", "order")]


def test_a_ring_across_files_is_one_fault() -> None:
    first = GOOD + 'blocked_by = ["lease"]\n'
    assert faults_of({"a.toml": first, "b.toml": LATER + 'blocked_by = ["power"]\n'}) == [
        ("b.toml", "lease", "blocked_by")
    ]


def test_what_waits_for_an_item_with_a_fault_of_its_own_is_not_blamed() -> None:
    faulty = GOOD.replace('"Power"', '""')
    assert faults_of({"a.toml": faulty, "b.toml": LATER + 'blocked_by = ["power"]\n'}) == [("a.toml", "power", "title")]


def test_what_waits_for_an_item_of_an_unreadable_file_is_not_blamed() -> None:
    found = faults_of({"a.toml": GOOD + "nonsense\n", "b.toml": LATER + 'blocked_by = ["power"]\n'})
    assert [file for file, _, _ in found] == ["a.toml"]


def test_line_ends_of_windows_are_read_alike() -> None:
    windows = GOOD.replace("\n", "\r\n").encode()
    assert read_catalogue({"a.toml": windows}) == read_catalogue({"a.toml": GOOD.encode()})


TOML_VALUES = st.sampled_from(
    [
        "1",
        "-1",
        "1.5",
        "nan",
        "true",
        "false",
        '""',
        '"x"',
        "[]",
        "[[]]",
        '["a"]',
        "[{}]",
        "{}",
        "1979-05-27",
        '[{ kind = "choice", choices = [1] }]',
    ]
)


@given(st.integers(0, 14), TOML_VALUES)
def test_any_value_in_place_of_a_good_one_is_read_or_named(place: int, value: str) -> None:
    lines = GOOD.strip().split("\n")
    lines[place] = f"{lines[place].split(' = ')[0]} = {value}"
    assert is_read_or_named("\n".join(lines).encode())


@given(st.binary(max_size=60))
def test_any_bytes_are_read_or_named(content: bytes) -> None:
    assert is_read_or_named(content)


@given(st.text(alphabet="FREQINTVALBYMODHSWK=;,-+0123456789", max_size=30))
def test_any_rule_is_read_or_named(rule: str) -> None:
    assert is_read_or_named(GOOD.replace("FREQ=YEARLY", f"FREQ=YEARLY;{rule}").encode())


def is_read_or_named(content: bytes) -> bool:
    try:
        found = read_catalogue({"a.toml": content})
    except CatalogueNotUsable as refused:
        return bool(refused.faults)
    return isinstance(found, Catalogue)
