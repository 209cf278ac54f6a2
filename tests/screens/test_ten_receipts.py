"""Sunday evening on the example: ten receipts by keyboard, the same by commands, and the purses as they must be."""

from __future__ import annotations

import json
from dataclasses import dataclass
from pathlib import Path

import pytest

from ledger.books.prove import prove
from ledger.cli import main
from ledger.spending.crossings import read_crossings
from tests.screens.test_acts_both_ways import contents
from tests.screens.window import opened
from tests.workshop_example import EXAMPLE_DAY, copy_example, open_example

KEYS = {" ": "space", ".": "full_stop", ";": "semicolon", "'": "apostrophe", "+": "plus"}
NEXT, SAVE, TAKE = "enter", "ctrl+s", "right"


def typed(text: str) -> tuple[str, ...]:
    return tuple(KEYS.get(each, each) for each in text)


@dataclass(frozen=True)
class Told:
    """A receipt as keys in the room and as words of a command."""

    keys: tuple[str, ...]
    command: tuple[str, ...]


def known(letters: str, amount: str, who: str, category: str, paid_from: str) -> Told:
    """Of a shop that brings the rest with it."""
    keys = ("s", *typed(letters), TAKE, NEXT, *typed(amount), SAVE)
    return Told(keys, ("spend", amount, "--who", who, "--category", category, "--from", paid_from))


THREAD, BATTING = "Marlstreet Thread Works", "Quillondale Batting Mill"
RECEIPTS = (
    known("ma", "23.40", THREAD, "thread", "workshop card"),
    known("ve", "61.18", "Verdigris Cloth House", "backing", "workshop card"),
    known("wi", "38.50", "Wickerline Telephone", "phone and internet", "checking"),
    known("fr", "24", "Frame and Rail Service", "needles and parts", "workshop card"),
    known("co", "186", "Copperbeam Mutual", "insurance", "checking"),
    # Groceries among it, on the workshop's card.
    Told(
        (
            "s",
            *typed("Penny"),
            NEXT,
            *typed("80"),
            NEXT,
            *typed("thr"),
            NEXT,
            *typed("workshop c"),
            NEXT,
            "3",
            "0",
            SAVE,
        ),
        ("spend", "80", "--who", "Penny", "--category", "thread", "--from", "workshop card", "--home", "30"),
    ),
    # On the personal card, to be paid back.
    Told(
        ("s", "m", "a", TAKE, NEXT, *typed("20"), NEXT, NEXT, *typed("pers"), *[NEXT] * 4, "y", SAVE),
        ("spend", "20", "--who", THREAD, "--category", "thread", "--from", "personal card", "--owed"),
    ),
    # Without sales tax, on her resale certificate.
    Told(
        ("s", "q", "u", TAKE, NEXT, *typed("104.50"), *[NEXT] * 7, "y", SAVE),
        ("spend", "104.50", "--who", BATTING, "--category", "batting", "--from", "workshop card", "--untaxed"),
    ),
    # The supplier gives something back.
    Told(
        ("s", "q", "u", TAKE, NEXT, *typed("12"), *[NEXT] * 8, "y", SAVE),
        ("spend", "12", "--who", BATTING, "--category", "batting", "--from", "workshop card", "--back"),
    ),
    # Three categories on one receipt, its tax read off beside them.
    Told(
        (
            *("s", *typed("Acme"), NEXT, *typed("42.40"), NEXT, *typed("thr"), NEXT, *typed("che"), NEXT, NEXT),
            *(*typed("batt"), TAKE, *typed(" 12.50; need"), TAKE, *typed(" 3+4"), NEXT, *typed("2.40"), SAVE),
        ),
        (
            *("spend", "42.40", "--who", "Acme", "--category", "thread", "--from", "checking", "--tax", "2.40"),
            *("--also", "batting=12.50", "--also", "needles and parts=7"),
        ),
    ),
)


async def test_ten_receipts_go_in_by_keyboard_as_by_commands(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    by_command = copy_example(tmp_path / "by-command")
    books = open_example(tmp_path / "by-keyboard")
    owed_before = read_crossings(books, EXAMPLE_DAY, EXAMPLE_DAY).owed_to_owner_cents
    entries_before = prove(books).entries
    async with opened(books) as window:
        await window.press("2")
        for number, each in enumerate(RECEIPTS, start=1):
            await window.press(*each.keys)
            assert window.place == "MoneyRoom", f"receipt {number}: {window.text()}"
        assert prove(books).ok
        assert prove(books).entries == entries_before + 10
        evening = [
            each for each in read_crossings(books, EXAMPLE_DAY, EXAMPLE_DAY).items if each.entry > entries_before
        ]
        assert [(each.kind, each.cents, each.why, each.settled) for each in evening] == [
            ("draw", 30_00, "thread, Penny", True),
            ("owed to owner", 20_00, f"thread, {THREAD}", False),
        ]
        await window.press("x")
        page = "\n".join(window.screen.lines)  # type: ignore[attr-defined]
        assert f"thread, {THREAD}  (not settled)" in page
        assert "thread, Penny" in page
    for each in RECEIPTS:
        assert main(["--books", str(by_command), "--on", EXAMPLE_DAY.isoformat(), *each.command]) == 0
    assert contents(by_command) == contents(tmp_path / "by-keyboard")
    capsys.readouterr()
    assert main(["crossings", "2026-11", "--json", "--books", str(by_command), "--on", EXAMPLE_DAY.isoformat()]) == 0
    told = json.loads(capsys.readouterr().out)
    assert int(told["owed_to_owner"].replace(".", "")) == owed_before + 20_00


def test_the_evening_takes_a_few_hundred_keys() -> None:
    """At one key a second, which is slow, ten minutes are 600 keys."""
    assert sum(len(each.keys) for each in RECEIPTS) < 300
