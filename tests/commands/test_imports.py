"""What each command loads: nothing that takes long, but for what it prints or what it cannot find."""

from __future__ import annotations

import json

import pytest

from tests.commands.desk import Desk, program
from tests.commands.workshop import WORKING_LINES, working_line

TAKE_LONG = (
    *("textual", "babel", "reportlab", "icalendar", "sqlite_utils"),
    *("holidays", "dateutil", "platformdirs", "difflib"),
)
# Currencies and locales come from Babel; what is printed for a customer has her dates and amounts, and a PDF; when an
# item of the set-up list comes round again is counted in months.
PRINTED = {"babel", "reportlab"}
SETUP = ("list", "show", "answer", "fit", "add", "reword", "move", "hide", "show-again", "seen", "heard")
REPORTS = ("profit-and-loss", "balance-sheet", "trial-balance", "form-lines", "customer")
# When something is due is moved off closed days.
DUE = ("set-aside show", "set-aside ahead", "set-aside open", "set-aside move")
DUE += tuple(f"tax {word}" for word in ("estimated", "income", "last-year", "wages", "filing-as", "settled"))
NEEDS = {
    "new": {"babel"},
    "colours": {"platformdirs"},
    **dict.fromkeys(DUE, {"holidays", "dateutil"}),
    **dict.fromkeys(("pickup", "quote", "intake", "receipt", "letterhead", "owed statement"), PRINTED),
    **dict.fromkeys(("statement agree", "statement count"), PRINTED),
    "packet": PRINTED,
    **dict.fromkeys((f"report {word}" for word in REPORTS), {"babel"}),
    **dict.fromkeys(("tax rate", "tax resale set", "machine cost", "find"), {"dateutil"}),
    "tax resale give": PRINTED,
    **dict.fromkeys((f"setup {word}" for word in SETUP), {"dateutil"}),
    "setup print": {"dateutil", *PRINTED},
    "setup call-sheet": {"dateutil", *PRINTED},
    "setup calendar": {"dateutil", "icalendar"},
    **dict.fromkeys((f"tax {word}" for word in ("worksheet", "file", "unfile")), {"holidays", "dateutil"}),
}

WATCH = """
import contextlib, io, json, sys
from ledger.cli import main
lines, names = json.loads(sys.argv[1]), json.loads(sys.argv[2])
for line in lines:
    before = set(sys.modules)
    with contextlib.redirect_stdout(io.StringIO()), contextlib.redirect_stderr(io.StringIO()):
        code = main(line)
    new = {name.split(".")[0] for name in set(sys.modules) - before}
    print(json.dumps([code, sorted(new & set(names))]))
"""


def loaded(lines: list[list[str]]) -> list[tuple[int, set[str]]]:
    """Exit code of each line, run one after the other in one new process, and what it loaded that takes long."""
    said = program(json.dumps(lines), json.dumps(TAKE_LONG), script=("-c", WATCH))
    assert said.code == 0, said.err
    return [(code, set(names)) for code, names in map(json.loads, said.out.splitlines())]


def on(desk: Desk, line: list[str]) -> list[str]:
    return ["--books", str(desk.folder), "--on", desk.day, *line]


def test_most_commands_load_nothing_that_takes_long(desk: Desk) -> None:
    light = [words for words in WORKING_LINES if words not in NEEDS]
    found = loaded([on(desk, working_line(words, desk.folder)) for words in light])
    assert dict(zip(light, found, strict=True)) == {words: (0, set()) for words in light}


@pytest.mark.parametrize("words", NEEDS)
def test_what_is_printed_or_chosen_by_place_loads_what_it_needs(desk: Desk, words: str) -> None:
    assert loaded([on(desk, working_line(words, desk.folder))]) == [(0, NEEDS[words])]


def test_a_refusal_help_and_the_usual_folder_load_little(desk: Desk) -> None:
    lines = [
        ["--help"],
        ["pickup", "--help"],
        on(desk, ["pickup", "2", "--paid", "cash"]),
        on(desk, ["move", "5", "checkin", "cash box"]),
        ["chart"],
    ]
    expected = [(0, set()), (0, set()), (1, set()), (1, {"difflib"}), (1, {"platformdirs"})]
    assert loaded(lines) == expected
