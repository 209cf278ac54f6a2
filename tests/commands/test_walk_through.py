"""One job from the door to the door, typed as commands, with every figure that it must come to."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest

from ledger.books.places import books_file
from tests.commands.desk import Desk, contents, program
from tests.commands.workshop import (
    FIRST_DAY,
    KEEPS,
    LOOKS_ONLY,
    PRINTS,
    READS_A_FILE,
    RULES,
    WALK_THROUGH_JOB,
    working_line,
)

INTAKE, PICKUP = "2026-01-12", "2026-01-20"
STEPS: tuple[tuple[str, tuple[str, ...]], ...] = (
    *((FIRST_DAY, tuple(line.split())) for line in RULES),
    (INTAKE, WALK_THROUGH_JOB),
    (INTAKE, ("job", "deposit", "1", "50.00", "--paid", "check")),
    (INTAKE, ("payback",)),
    (PICKUP, ("pickup", "1", "--paid", "cash", "--tendered", "150.00")),
    (PICKUP, ("payback",)),
    (PICKUP, ("chart",)),
    (PICKUP, ("entries",)),
    (PICKUP, ("quarter",)),
    (PICKUP, ("prove",)),
)
LINES = [
    ("edge-to-edge", "4032", "sq in", "0.02", "80.64", "work"),
    ("batting", "80", "in", "0.35", "28.00", "goods"),
    ("binding", "256", "in", "0.30", "76.80", "work"),
]


def check_walk_through(answers: Iterator[dict[str, Any]]) -> None:
    """Every figure of the walk-through, from the JSON of its steps in order."""
    new, *_rules = (next(answers) for _ in RULES)
    assert len(new["accounts"]) >= 40
    job, deposit, before, pickup, after, chart, entries, quarter, prove = answers
    assert [tuple(each.values()) for each in job["lines"]] == LINES
    assert (job["job"], job["status"], job["subtotal"], job["tax_expected"]) == (1, "in-hand", "185.44", "9.83")
    assert (deposit["job"], deposit["entry"], deposit["deposit"]) == (1, 2, "50.00")
    assert (before["cost"], before["taken_in"], before["earned"]) == ("18500.00", "0.00", "0.00")
    assert (pickup["entry"], pickup["subtotal"], pickup["discount"], pickup["tax"]) == (3, "185.44", "0.00", "9.83")
    assert [(each["jurisdiction"], each["percent"], each["amount"]) for each in pickup["taxes"]] == [
        ("state", "4.30", "7.97"),
        ("county", "1.00", "1.86"),
    ]
    figures = ("total", "deposit", "due", "paid", "change", "owed", "tip")
    assert [pickup[name] for name in figures] == ["195.27", "50.00", "145.27", "145.27", "4.73", "0.00", "0.00"]
    assert (after["taken_in"], after["earned"], after["share"], after["left"]) == (
        ("185.44", "185.44", "1.00", "18314.56")
    )
    balances = {each["name"]: each["balance"] for each in chart["accounts"]}
    moved = {name: balance for name, balance in balances.items() if balance != "0.00"}
    assert moved == {
        "cash box": "145.27",
        "checking": "50.00",
        "machine": "18500.00",
        "opening balance": "-18500.00",
        "job income": "-185.44",
        "sales tax payable": "-9.83",
    }
    assert balances["customer deposits"] == "0.00"
    assert chart["purses"] == {"business": "0.00", "personal": "0.00"}
    assert [each["kind"] for each in entries["entries"]] == ["opening", "deposit", "pickup"]
    assert (quarter["income"]["total"], quarter["net"], quarter["sales_tax"]["collected"]) == (
        ("185.44", "185.44", "9.83")
    )
    assert all(each["ok"] for each in quarter["checks"])
    head = entries["entries"][-1]["digest"]
    assert prove == {"ok": True, "entries": 3, "head": head, "first_bad": None, "findings": []}


def test_the_walk_through_comes_to_its_figures(empty_desk: Desk) -> None:
    check_walk_through(empty_desk.data(*words, on=day) for day, words in STEPS)


@pytest.mark.slow
def test_the_walk_through_comes_to_its_figures_in_programs_of_their_own(tmp_path: Path) -> None:
    folder = tmp_path / "books"

    def answers() -> Iterator[dict[str, Any]]:
        for day, words in STEPS:
            said = program("--json", *words, "--on", day, environment={"TWOPURSE_BOOKS": str(folder)})
            assert (said.code, said.err) == (0, ""), said
            yield said.data

    check_walk_through(answers())
    (receipt,) = (folder / "receipts").glob("*.txt")
    assert "Change                                     $4.73" in receipt.read_text(encoding="utf-8")


def test_the_receipt_of_the_answer_is_on_the_disk(desk: Desk) -> None:
    receipt = desk.data("pickup", "1", "--paid", "cash")["receipt"]
    assert set(receipt) == {"pdf", "text"}
    assert "$145.27" in Path(receipt["text"]).read_text(encoding="utf-8")


def change_a_byte(folder: Path) -> int:
    """One digit of a posting changed behind the program's back, its triggers taken away; the entry's number."""
    with closing(sqlite3.connect(books_file(folder))) as connection:
        triggers = connection.execute("select name from sqlite_schema where type = 'trigger'").fetchall()
        for (name,) in triggers:
            connection.execute(f"drop trigger {name}")
        changed = connection.execute("update posting set cents = 5001 where cents = 5000").rowcount
        connection.commit()
    assert changed == 1
    return 2


@pytest.mark.faults
def test_a_changed_byte_is_proved_with_schema_first_and_then_the_entry(desk: Desk) -> None:
    whole = desk.data("prove")
    number = change_a_byte(desk.folder)
    said = desk.type("prove", "--json")
    assert said.code == 1
    assert set(said.data) == set(whole) == {"ok", "entries", "head", "first_bad", "findings"}
    assert (said.data["ok"], said.data["first_bad"]) == (False, number)
    assert said.data["findings"][0].startswith("schema: ")
    assert any(each.startswith("chain: ") and f"entry {number} " in each for each in said.data["findings"])
    assert said.err == ""


@pytest.mark.faults
def test_every_command_that_writes_is_refused_on_damaged_books(desk: Desk) -> None:
    change_a_byte(desk.folder)
    for words in sorted(KEEPS):
        refusal = desk.refused(*working_line(words, desk.folder))
        assert "twopurse prove" in refusal["do"], words
        assert "look" in refusal["what"], words


@pytest.mark.faults
def test_figures_of_damaged_books_come_with_a_warning(desk: Desk) -> None:
    change_a_byte(desk.folder)
    for words in sorted((LOOKS_ONLY | PRINTS) - {"prove"} - READS_A_FILE):
        said = desk.type(*working_line(words, desk.folder), "--json")
        assert said.code == 0, words
        assert json.loads(said.out), words
        assert "damaged" in said.err, words
        assert "twopurse prove" in said.err, words


@pytest.mark.faults
def test_damaged_books_are_backed_up_where_the_file_is_named(desk: Desk, tmp_path: Path) -> None:
    change_a_byte(desk.folder)
    before = contents(desk.folder)
    said = desk.type("backup", str(tmp_path / "damaged.zip"), "--json")
    assert said.code == 0, said.err
    assert (tmp_path / "damaged.zip").exists()
    assert contents(desk.folder) == before


@pytest.mark.faults
def test_a_backup_from_before_the_damage_puts_the_books_right(desk: Desk) -> None:
    change_a_byte(desk.folder)
    desk.data("restore", str(desk.folder / "before.zip"))
    assert desk.data("prove")["ok"] is True
