"""A month of the example's bank by commands: read, placed, agreed; and what each answer holds."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from ledger.example.statement import as_csv, as_ofx, month_statement
from ledger.periods import parse_period
from tests.bank.files import csv
from tests.commands.desk import Desk
from tests.workshop_example import copy_example, open_example

DAY = "2026-11-25"
FIRST_DAY = "2026-01-05"
CHECKING = ("--account", "checking")
Begun = Callable[[str], Desk]


@pytest.fixture
def example(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Desk:
    """The example, with October's statement of checking beside it in both forms."""
    books = open_example(tmp_path / "books" / "example")
    statement = month_statement(books, parse_period("2026-10"))
    books.close()
    (tmp_path / "oct.ofx").write_bytes(as_ofx(statement))
    (tmp_path / "oct.csv").write_bytes(as_csv(statement))
    return Desk(tmp_path / "books" / "example", capsys, DAY)


@pytest.fixture
def desk(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Desk:
    """Begun with 500.00, of which 20.00 is spent."""
    desk = Desk(tmp_path / "books" / "small", capsys, "2026-01-31")
    desk.data("new", "--name", "Lantern", "--opening", "500", on=FIRST_DAY)
    spending = ("--category", "thread", "--from", "checking", "--who", "Corner shop")
    desk.data("spend", "20.00", *spending, on="2026-01-08")
    return desk


def file_beside(desk: Desk, content: bytes, name: str = "bank.csv") -> str:
    path = desk.folder.parent.parent / name
    path.write_bytes(content)
    return str(path)


@pytest.mark.slow
@pytest.mark.parametrize("form", ["oct.ofx", "oct.csv"])
def test_a_month_of_the_example_is_done_by_commands(example: Desk, form: str) -> None:
    file = str(example.folder.parent.parent / form)
    done = example.data("statement", "read", file, *CHECKING)
    assert (done["rows"], done["matched"], done["new"], done["doubtful"]) == (22, 19, 3, 0)
    assert (done["start"], done["end"], done["gap"]) == ("2026-10-01", "2026-10-31", None)
    assert example.data("statement", "read", file, *CHECKING)["lines"] == []
    new = [each["line"] for each in example.data("statement", "lines")["lines"] if each["state"] == "new"]
    placing = (("--category", "batting"), ("--home",), ("--category", "bank charges"))
    for line, said in zip(new, placing, strict=True):
        assert example.data("statement", "place", str(line), *said)["state"] == "matched"
    agreed = example.data("statement", "agree", *CHECKING, "--ending", done["ending"], "--date", "2026-10-31")
    assert (agreed["difference"], agreed["agreed"]) == ("0.00", True)
    assert [each["text"] for each in agreed["outstanding"]] == ["Set aside for 2026-10", "Owner's draw"]
    assert Path(agreed["pdf"]).read_bytes().startswith(b"%PDF-")
    assert example.data("statement", "agreements")["agreements"][0]["holds"] is True
    assert example.data("prove")["ok"] is True


def test_the_keys_of_the_contract_stand_in_every_answer(desk: Desk) -> None:
    file = file_beside(desk, csv("2026-01-09,Corner shop,-20.00", "2026-01-30,Charge,-8.00"))
    read = desk.data("statement", "read", file, *CHECKING)
    lines = desk.data("statement", "lines")
    placed = desk.data("statement", "place", "2", "--category", "bank charges")
    for answer in (read, lines):
        assert [each["line"] for each in answer["lines"]] == [1, 2]
        assert (answer["matched"], answer["new"], answer["doubtful"]) == (1, 1, 0)
    assert (placed["matched"], placed["new"], placed["doubtful"], placed["next"]) == (2, 0, 0, None)
    agreed = desk.data("statement", "agree", *CHECKING, "--ending", "472.00")
    assert (agreed["difference"], agreed["outstanding"], agreed["agreement"]) == ("0.00", [], 1)


def test_a_difference_is_an_answer_and_no_refusal(desk: Desk) -> None:
    said = desk.type("statement", "agree", *CHECKING, "--ending", "470.00", "--json")
    assert (said.code, said.data["difference"], said.data["agreement"]) == (0, "-10.00", None)
    assert "nothing was kept" in desk.lines("statement", "agree", *CHECKING, "--ending", "470.00")


def test_a_preview_shows_rows_days_and_sums_and_keeps_nothing(desk: Desk) -> None:
    file = file_beside(desk, csv("2026-01-09,A,-20.00", "2026-01-30,B,8.00"))
    shown = desk.data("statement", "read", file, *CHECKING, "--preview")
    assert (shown["rows"], shown["came_in"], shown["went_out"], shown["lines"]) == (2, "8.00", "20.00", [])
    assert desk.data("statement", "lines")["lines"] == []


def test_a_map_file_says_which_column_is_what(desk: Desk) -> None:
    file = file_beside(desk, csv("08.01.2026;Garn;20,00;", headings="Tag;Was;Aus;Ein"))
    assert desk.refused("statement", "read", file, *CHECKING)["field"] == "map"
    csv_map = file_beside(desk, b'date = "Tag"\ntext = "Was"\nout = "Aus"\nin = "Ein"\ndates = "dmy"\n', "map.toml")
    (line,) = desk.data("statement", "read", file, *CHECKING, "--map", csv_map)["lines"]
    assert (line["amount"], line["state"], line["entry"]) == ("-20.00", "matched", 2)


@pytest.mark.parametrize(
    ("rows", "more", "field"),
    [
        (("01/02/2026,A,-1.00",), (), "dates"),
        (('2026-01-02,A,"1,204"',), (), "decimal"),
        (("2026-02-01,A,-1.00",), (), "on"),
        (("2026-01-02,A",), (), "file"),
        (("2026-01-02,A,-1.00",), ("--number", "x;y"), "number"),
        (("2026-01-02,A,-1.00",), ("--dates", "backwards"), "map"),
        (("2026-01-02,A,-1.00",), ("--map", "no such file"), "map"),
    ],
)
def test_a_file_that_is_not_read_says_what_to_do(
    desk: Desk, rows: tuple[str, ...], more: tuple[str, ...], field: str
) -> None:
    file = file_beside(desk, csv(*rows))
    assert desk.refused("statement", "read", file, *CHECKING, *more)["field"] == field


@pytest.mark.parametrize(
    ("words", "field"),
    [
        (("place", "9", "--home"), "line"),
        (("place", "1", "--category", "no such"), "category"),
        (("place", "1", "--entry", "77"), "entry"),
        (("place", "1", "--job", "77"), "job"),
        (("place", "1", "--category", "thread", "--home-part", "-5"), "home_part"),
        (("undo", "1"), "line"),
        (("agree", "--account", "no such", "--ending", "1"), "account"),
        (("agree", *CHECKING, "--ending", "-5"), "ending"),
        (("agree", *CHECKING, "--ending", "1", "--date", "2026-02-01"), "date"),
        (("count", "-5"), "amount"),
    ],
)
def test_what_does_not_fit_is_refused(desk: Desk, words: tuple[str, ...], field: str) -> None:
    desk.data("statement", "read", file_beside(desk, csv("2026-01-30,Charge,-8.00")), *CHECKING)
    assert desk.refused("statement", *words)["field"] == field


@pytest.mark.parametrize("words", [("place", "1"), ("place", "1", "--home", "--later"), ("place", "one", "--home")])
def test_none_or_two_ways_at_once_are_wrong_use(desk: Desk, words: tuple[str, ...]) -> None:
    assert desk.type("statement", *words).code == 2


def test_a_household_statement_answers_with_its_lines_and_keeps_none(desk: Desk) -> None:
    file = file_beside(desk, csv("2026-01-09,Pharmacy,-20.00", "2026-01-10,Thread,-12.00"))
    shown = desk.data("statement", "read", file, "--account", "household checking")
    assert [(each["line"], each["state"]) for each in shown["lines"]] == [(1, "new"), (2, "new")]
    picked = desk.data(
        *("statement", "pick", file, "2", "--account", "household checking", "--category", "thread", "--owed")
    )
    assert (picked["entry"], picked["amount"]) == (3, "-12.00")
    assert desk.balances()["owed to owner"] == "-12.00"
    assert not any(b"Pharmacy" in path.read_bytes() for path in desk.folder.rglob("*") if path.is_file())


def test_the_answers_are_plain_json_whatever_a_bank_writes(desk: Desk) -> None:
    file = file_beside(desk, csv('2026-01-09,"=cmd()|\x1b[2J\u202e","-1.00"'))
    answer: dict[str, Any] = desk.data("statement", "read", file, *CHECKING)
    assert "\x1b" not in json.dumps(answer, ensure_ascii=False)
    assert "\x1b" not in desk.lines("statement", "lines")


def test_the_example_is_left_as_it_was_by_making_its_statement(tmp_path: Path) -> None:
    before = (copy_example(tmp_path / "books") / "books.sqlite3").read_bytes()
    books = open_example(tmp_path / "other")
    month_statement(books, parse_period("2026-10"))
    books.close()
    assert (tmp_path / "other" / "books.sqlite3").read_bytes() == before
