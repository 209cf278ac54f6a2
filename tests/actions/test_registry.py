"""The table of acts: rooms, palette, help and commands all read these rows, so they must agree with what there is."""

from __future__ import annotations

import subprocess
import sys
from dataclasses import is_dataclass
from importlib import import_module
from itertools import combinations

import click
import pytest

from ledger.actions.act import Act
from ledger.actions.registry import ACTS, ROOMS, act, act_of_verb, acts_of_room
from ledger.cli import twopurse
from tests.structure.tree import CHECKOUT

BY_ID = pytest.mark.parametrize("row", ACTS, ids=[each.id for each in ACTS])


def command_of(row: Act) -> click.Command:
    """The command that a row's verb calls."""
    found: click.Command = twopurse
    for word in row.verb.split():
        assert isinstance(found, click.Group), row.verb
        command = found.get_command(click.Context(found), word)
        assert command is not None, f"there is no command «{row.verb}»"
        found = command
    return found


@BY_ID
def test_an_act_is_found_by_its_id_and_by_its_verb(row: Act) -> None:
    assert act(row.id) is row
    assert act_of_verb(row.verb) is row


@BY_ID
def test_a_command_of_the_acts_verb_begins_its_help_with_the_acts_words(row: Act) -> None:
    said = command_of(row).help
    assert said is not None
    assert said.startswith(row.help)


@BY_ID
def test_the_request_of_an_act_is_a_frozen_dataclass_where_the_table_says(row: Act) -> None:
    module, name = row.request.split(":")
    request = getattr(import_module(module), name)
    assert is_dataclass(request)
    assert request.__dataclass_params__.frozen  # type: ignore[attr-defined]


@BY_ID
def test_the_words_of_an_act_fit_a_line_of_keys_and_its_help_is_a_sentence(row: Act) -> None:
    assert 0 < len(row.words) <= 12
    assert row.words[0].isupper()
    assert row.help.endswith(".")
    assert not row.help.startswith(row.words + ".")
    assert set(row.rooms) <= set(ROOMS)


def test_no_two_acts_share_an_id_a_verb_or_their_words() -> None:
    for name in ("id", "verb", "words"):
        values = [getattr(each, name) for each in ACTS]
        assert len(set(values)) == len(values), name


@pytest.mark.parametrize("room", ROOMS)
def test_no_key_has_two_meanings_in_one_room(room: str) -> None:
    both = [(a.id, b.id, a.key) for a, b in combinations(acts_of_room(room), 2) if a.key and a.key == b.key]
    assert both == []


@BY_ID
def test_the_key_of_an_act_is_one_small_letter_so_that_every_terminal_sends_it(row: Act) -> None:
    assert row.key is None or (len(row.key) == 1 and row.key.isascii() and row.key.islower())
    assert row.key != "q", "q leaves at home and closes pages"


@pytest.mark.parametrize("room", ROOMS)
def test_a_room_lists_its_acts_in_the_order_of_the_table(room: str) -> None:
    listed = acts_of_room(room)
    assert [each for each in ACTS if each in listed] == list(listed)
    assert {"pick_up", "take_in", "spend"} <= {each.id for each in listed}, "at the counter one may be in any room"


def test_reading_the_table_imports_no_act_and_no_terminal_library() -> None:
    code = (
        "import sys, ledger.actions.registry; "
        "print(*sorted(each for each in sys.modules if each.startswith(('ledger.', 'textual', 'babel', 'sqlite'))))"
    )
    loaded = subprocess.run([sys.executable, "-c", code], cwd=CHECKOUT, capture_output=True, text=True, check=True)
    rows = {each for each in loaded.stdout.split() if each.startswith("ledger.actions.act")}
    assert set(loaded.stdout.split()) - rows == {"ledger.actions", "ledger.actions.registry"}
