"""Preferences: one small file of hers, and nothing lost or stopped where it cannot be read or written."""

from __future__ import annotations

from pathlib import Path

import pytest

from ledger.colours import keep_colours
from ledger.errors import NotPossible, NotUnderstood
from ledger.preferences import keep_preference, preferences_file, read_preference
from tests.commands.desk import Desk


def test_what_is_kept_is_read_again_and_lies_in_her_own_folder(nobodys_machine: Path) -> None:
    assert read_preference("colours") is None
    keep_preference("colours", "chalk")
    keep_preference("other", "x")
    assert (read_preference("colours"), read_preference("other")) == ("chalk", "x")
    assert preferences_file().is_relative_to(nobodys_machine)


@pytest.mark.parametrize("content", [b"", b"{", b"[]", b"\xff\xfe", b'{"colours": 3}', b"[" * 20_000])
def test_a_broken_file_is_as_none_and_the_next_choice_mends_it(content: bytes) -> None:
    keep_preference("colours", "ink")
    preferences_file().write_bytes(content)
    assert read_preference("colours") is None
    keep_preference("colours", "ink")
    assert read_preference("colours") == "ink"


def test_a_folder_that_takes_nothing_is_a_sentence_and_not_a_crash() -> None:
    preferences_file().parent.parent.mkdir(parents=True, exist_ok=True)
    preferences_file().parent.write_bytes(b"")
    with pytest.raises(NotPossible, match="cannot be kept") as refused:
        keep_preference("colours", "ink")
    assert str(preferences_file()) in refused.value.do
    assert read_preference("colours") is None


def test_nothing_is_left_beside_a_file_that_could_not_be_replaced() -> None:
    preferences_file().mkdir(parents=True)
    with pytest.raises(NotPossible, match="cannot be kept"):
        keep_preference("colours", "ink")
    assert list(preferences_file().parent.iterdir()) == [preferences_file()]


def test_the_command_chooses_tells_and_names_what_decides(empty_desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    assert empty_desk.data("colours")["colours"] == "lamplight"
    assert empty_desk.data("colours", "chalk")["colours"] == "chalk"
    assert empty_desk.data("colours") == empty_desk.data("colours", "CHALK")
    monkeypatch.setenv("NO_COLOR", "1")
    told = empty_desk.data("colours", "ink")
    assert (told["colours"], told["decided_by"]) == ("plain", "NO_COLOR")
    monkeypatch.delenv("NO_COLOR")
    assert empty_desk.data("colours")["colours"] == "ink"


def test_colours_that_there_are_not_are_refused_with_those_that_there_are() -> None:
    with pytest.raises(NotUnderstood, match=r"daylight, lamplight, ink, chalk, terminal, plain"):
        keep_colours("mauve")
