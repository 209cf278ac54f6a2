"""Names are kept as they are typed but for spaces, and compared whole after NFC, trimming, spacing and case folding."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ledger.errors import NotUnderstood, unknown_name
from ledger.text import name_key, read_name

letters = st.text(alphabet=st.characters(categories=["L", "Nd", "Zs", "Mn"]), max_size=30)


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("Ada Holm", "ada  HOLM "),
        ("Zoë", "Zoe\u0308"),
        ("STRASSE", "straße"),
        ("Ada\u00a0Holm", "Ada Holm"),
        ("\u212bngström", "ångström"),
        ("ΣΊΣΥΦΟΣ", "σίσυφος"),
        ("\tAda\nHolm", "Ada Holm"),
    ],
)
def test_two_spellings_of_one_name_are_one(one: str, other: str) -> None:
    assert name_key(one) == name_key(other)


@pytest.mark.parametrize(
    ("one", "other"),
    [("Ada Holm", "Ada Holme"), ("Ada Holm", "AdaHolm"), ("Ada", "Ada Holm"), ("Zoe", "Zoë"), ("thread", "threads")],
)
def test_names_are_compared_whole(one: str, other: str) -> None:
    assert name_key(one) != name_key(other)


@given(letters)
def test_the_key_of_a_key_is_itself_and_spaces_round_it_change_nothing(name: str) -> None:
    assert name_key(name_key(name)) == name_key(name)
    assert name_key(f"  {name}\u2003") == name_key(name)


@given(letters)
def test_a_name_as_it_is_kept_has_the_key_of_the_name_as_it_was_typed(name: str) -> None:
    try:
        kept = read_name(name)
    except NotUnderstood:
        return
    assert name_key(kept) == name_key(name)
    assert read_name(kept) == kept


@pytest.mark.parametrize(
    "name",
    ["", "  ", "---", "=", "thread=3", "Ada\x1b[0m", "Ada\u200b", "Ada\u202e", "Ada\u200dHolm", "x" * 121, "\ufffd"]
    + ["Ada\ufe0f", "Ada\u034f", "\u3164", "Ada\U000e0041", "\N{RAINBOW}", "Ada\x00"],
)
def test_what_is_no_name_is_refused(name: str) -> None:
    with pytest.raises(NotUnderstood) as refused:
        read_name(name, "name")
    assert refused.value.field == "name"


@pytest.mark.parametrize("name", ["80/20 batting", "Ada Holm-O'Neil", "x" * 120, "Shop No. 5 & Sons", "名前"])
def test_what_people_are_called_is_a_name(name: str) -> None:
    assert read_name(f" {name} ") == name


def test_an_unknown_name_is_answered_with_the_three_nearest() -> None:
    known = ["thread", "batting", "backing", "bank charges", "advertising"]
    refused = unknown_name("category", "bating", known, "category")
    assert "«batting»" in refused.do
    assert refused.do.count("«") == 3
    assert unknown_name("category", "bating", []).do == "There is no category in the books yet."
