"""What every command shares: the three options, the one JSON object, the formats, and the exit codes."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from ledger.actions import transfer
from ledger.cli import SUBJECTS
from tests.commands.desk import Desk, contents, program, refusal_in
from tests.commands.formats import FIGURE_OR_DAY, PATTERNS, format_of
from tests.commands.workshop import LOOKS_ONLY, NEXT_ENTRY, WORKING_LINES, commands, working_line

KEY = re.compile(r"[a-z][a-z0-9_]*")


def every_value(data: Any, place: str = "") -> Iterator[tuple[str, str, Any]]:
    """Every place in an answer with its key and its value, lists opened. Objects named by accounts are left closed."""
    if isinstance(data, dict):
        for key, value in data.items():
            yield f"{place}.{key}", key, value
            if key != "by_kind":
                yield from every_value(value, f"{place}.{key}")
    if isinstance(data, list):
        for value in data:
            yield from every_value(value, f"{place}[]")


@pytest.fixture
def answers(desk: Desk) -> Iterator[tuple[str, dict[str, Any]]]:
    """The JSON of each command in the workshop, one after the other."""
    lines = {words: working_line(words, desk.folder) for words in WORKING_LINES if words != "restore"}
    return ((words, desk.data(*line)) for words, line in lines.items())


def test_every_command_has_a_working_line_and_every_subject_a_command() -> None:
    assert {words for words, _ in commands()} == set(WORKING_LINES), "give it a line in tests/commands/workshop.py"
    assert {words.split()[0] for words in WORKING_LINES} == set(SUBJECTS)


@pytest.mark.parametrize("words", WORKING_LINES)
def test_each_command_is_carried_out_and_says_so_to_a_person(desk: Desk, words: str) -> None:
    out = desk.lines(*working_line(words, desk.folder))
    assert out.strip()
    assert "{" not in out
    assert all(ord(character) >= 32 for character in out.replace("\n", ""))


def test_keys_are_snake_case_and_values_have_the_format_of_their_key(
    answers: Iterator[tuple[str, dict[str, Any]]],
) -> None:
    seen = set()
    for words, data in answers:
        for place, key, value in every_value(data):
            assert KEY.fullmatch(key), (words, place)
            assert not isinstance(value, float), (words, place)
            kind = format_of(place, key)
            if isinstance(value, str) and kind is not None:
                assert re.fullmatch(PATTERNS[kind], value), (words, place, value)
                seen.add(kind)
            elif isinstance(value, str):
                assert not re.fullmatch(FIGURE_OR_DAY, value), (words, place, value)
            if key in ("entry", "job", "reverses") and value is not None:
                assert isinstance(value, int), (words, place)
                assert value > 0, (words, place)
    assert seen >= {"day", "digest", "amount", "percent", "number", "rate"}


def test_objects_of_one_kind_have_the_same_keys_whatever_is_absent(desk: Desk, with_rules: Desk) -> None:
    for words in ("chart", "entries", "prove", "payback", "quarter"):
        assert shapes(with_rules.data(*words.split())) <= shapes(desk.data(*words.split())), words
    assert with_rules.data("job", "list") | {"in_house": None} == {"jobs": [], "in_house": None}
    jobs = desk.data("job", "list")["jobs"]
    assert len({frozenset(shapes(job)) for job in jobs}) == 1
    assert {job["entry"] for job in jobs} == {None}


def shapes(data: Any) -> set[str]:
    return {place for place, key, _ in every_value(data) if key != "by_kind"}


def test_nothing_to_list_is_an_empty_list(empty_desk: Desk) -> None:
    empty_desk.data("new", "--name", "Lantern")
    assert empty_desk.data("entries") == {"entries": []}
    assert empty_desk.data("job", "list")["jobs"] == []
    assert empty_desk.data("prove") == {"ok": True, "entries": 0, "head": None, "first_bad": None, "findings": []}
    quarter = empty_desk.data("quarter")
    assert (quarter["expenses"], quarter["questions"], quarter["packet"]) == ([], [], None)
    payback = empty_desk.data("payback")
    assert {each["reached_on"] for each in payback["milestones"]} == {None}
    assert payback | {"forecast": None, "milestones": []} == {
        "cost": "0.00",
        "taken_in": "0.00",
        "subtractions": [],
        "earned": "0.00",
        "share": None,
        "left": "0.00",
        "jobs_left": 0,
        "a_month_lately": None,
        "done_in_week_of": None,
        "forecast": None,
        "would_do_a_month": None,
        "milestones": [],
    }


@pytest.mark.parametrize("words", ["chart", "job list", "job show", "quarter"])
def test_the_shared_options_go_before_between_and_after_the_command(desk: Desk, words: str) -> None:
    shared = ("--json", "--books", str(desk.folder), "--on", desk.day)
    first, *rest = words.split()
    tail = (*rest, *WORKING_LINES[words])
    lines = [(*shared, first, *tail), (first, *tail, *shared), (*shared[:3], first, *tail, *shared[3:])]
    lines += [(first, *shared, *tail)] if rest else []
    answers = [desk.type_bare(*line) for line in lines]
    assert {(said.code, said.out, said.err) for said in answers} == {(0, answers[0].out, "")}
    assert answers[0].data


def test_the_later_of_two_shared_options_counts(desk: Desk) -> None:
    said = desk.type_bare("--on", "2026-01-06", "chart", "--books", str(desk.folder), "--on", desk.day, "--json")
    assert said.data == desk.data("chart")


def test_books_come_from_the_environment_where_no_folder_is_named(
    desk: Desk, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("TWOPURSE_BOOKS", str(desk.folder))
    assert desk.type_bare("chart", "--json", "--on", desk.day).data == desk.data("chart")
    other = desk.type_bare("chart", "--books", str(tmp_path / "none"))
    assert (other.code, "There are no books in" in other.err) == (1, True)


def test_books_lie_below_the_home_folder_where_nothing_names_one(
    desk: Desk, nobodys_machine: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("TWOPURSE_BOOKS", "")
    said = desk.type_bare("new", "--name", "Lantern", "--on", "2026-01-05", "--json")
    assert said.code == 0
    assert Path(said.data["books"]).is_relative_to(nobodys_machine)
    assert desk.type_bare("prove").code == 0


def test_a_tilde_is_the_home_folder(desk: Desk, nobodys_machine: Path) -> None:
    said = desk.type_bare("new", "--name", "Lantern", "--books", "~/mine")
    assert said.code == 0
    assert (nobodys_machine / "mine" / "books.sqlite3").exists()


@pytest.mark.parametrize("option", ["--books", "--on"])
def test_an_empty_folder_or_day_is_refused_rather_than_forgotten(desk: Desk, option: str) -> None:
    before = contents(desk.folder)
    words = {"--books": str(desk.folder), "--on": desk.day} | {option: ""}
    said = desk.type_bare("draw", "5", "--json", *(word for pair in words.items() for word in pair))
    assert refusal_in(said)["field"] == option.removeprefix("--")
    assert contents(desk.folder) == before


@pytest.mark.parametrize("name", ["x" * 300, "~nobody-of-that-name/books"])
def test_a_folder_that_cannot_be_one_is_refused(desk: Desk, name: str) -> None:
    for words in (("chart",), ("new", "--name", "Lantern")):
        assert refusal_in(desk.type_bare(*words, "--books", name, "--json"))["field"] == "books"
    assert desk.refused("backup", name)["field"] == "file"
    assert desk.refused("restore", name)["field"] == "file"
    assert desk.refused("spend", *WORKING_LINES["spend"], "--document", name)["field"] == "document"


@pytest.mark.parametrize(
    "line",
    [
        "nonsense",
        "chart --nonsense",
        "chart surplus",
        "job nonsense",
        "job",
        "pickup",
        "pickup one",
        "pickup 0",
        "pickup -1",
        "pickup 1.0",
        "pickup 1_0",
        "job show ١",
        "draw",
        "price x --by furlong --rate 1 --class work",
        "job deposit 1 5 --paid shells",
        "job deposit 1 5",
        "new",
        "new --name x --units furlong",
        "new --name x --machine-date 2026-01-01",
        "tax class goods maybe --asked Office",
        "tax period daily --due-day 5",
        "quarter --close --reopen --why x",
        "quarter --reopen",
        "quarter --why x",
        "customer x --certificate 5",
        "--json",
        "--on",
    ],
)
def test_wrong_use_is_2_with_its_explanation_on_stderr_alone(desk: Desk, line: str) -> None:
    before = contents(desk.folder)
    said = desk.type_bare("--books", str(desk.folder), "--json", *line.split())
    assert (said.code, said.out) == (2, "")
    assert "Usage: twopurse" in said.err or "Error: " in said.err
    assert contents(desk.folder) == before


def test_no_words_at_all_show_the_help(desk: Desk) -> None:
    said = desk.type_bare()
    assert (said.code, said.err) == (0, "")
    assert "Commands:" in said.out


def test_the_program_passes_its_exit_code_on(tmp_path: Path) -> None:
    codes = [
        program(*line, "--books", str(tmp_path)).code for line in (("new", "--name", "x"), ("draw", "-5"), ("draw",))
    ]
    assert codes == [0, 1, 2]


def test_a_number_beyond_all_books_is_refused_as_one_that_is_not_there(desk: Desk) -> None:
    for line in (("job", "show", "999999999999"), ("pickup", "999999999999", "--paid", "cash")):
        assert desk.refused(*line)["do"] == "Jobs go from 1 to 7."
    assert desk.refused("reverse", "999999999999", "--why", "x")["do"] == f"Entries go from 1 to {NEXT_ENTRY - 1}."
    assert desk.data("entries", "--job", "999999999999") == {"entries": []}
    assert desk.type("pickup", "9" * 30, "--paid", "cash").code == 2


def test_a_defect_of_ours_is_3_with_a_sentence_and_no_trace(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(*_: object) -> None:
        raise ZeroDivisionError("somewhere \x1b[31mdeep")

    monkeypatch.setattr(transfer, "perform", broken)
    before = contents(desk.folder)
    said = desk.type("draw", "5", "--json")
    assert (said.code, said.out) == (3, "")
    assert said.err.count("\n") == 1
    assert "defect of the program (ZeroDivisionError: somewhere" in said.err
    assert "Traceback" not in said.err
    assert "\x1b" not in said.err
    assert contents(desk.folder) == before


def test_a_defect_after_the_entry_was_booked_does_not_claim_that_it_was_not(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    book = transfer.perform

    def broken_afterwards(*arguments: Any) -> None:
        book(*arguments)
        raise ZeroDivisionError

    monkeypatch.setattr(transfer, "perform", broken_afterwards)
    said = desk.type("draw", "5")
    assert said.code == 3
    assert "twopurse entries" in said.err
    assert "othing was written" not in said.err


def test_a_trace_is_shown_to_whoever_asks_for_it(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(*_: object) -> None:
        raise ZeroDivisionError

    monkeypatch.setattr(transfer, "perform", broken)
    monkeypatch.setenv("TWOPURSE_TRACE", "1")
    with pytest.raises(ZeroDivisionError):
        desk.type("draw", "5")


def test_stopped_by_hand_it_says_to_look_before_it_is_repeated(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    def stopped(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(transfer, "perform", stopped)
    said = desk.type("draw", "5")
    assert (said.code, said.out) == (130, "")
    assert said.err.strip().startswith("Stopped. See with «twopurse entries»")


def test_json_asked_for_is_not_the_word_in_a_text(desk: Desk) -> None:
    said = desk.type("draw", "nothing", "--why", "--json")
    assert (said.code, said.out) == (1, "")


def test_commands_that_only_look_write_nothing(desk: Desk) -> None:
    before = contents(desk.folder)
    for words in LOOKS_ONLY:
        desk.data(*working_line(words, desk.folder))
    assert contents(desk.folder) == before


@pytest.mark.skipif(sys.platform == "win32", reason="pipes end otherwise there")
@pytest.mark.parametrize("line", ["chart", "--help"])
def test_a_reader_who_goes_away_early_is_no_error(desk: Desk, line: str) -> None:
    reader, writer = os.pipe()
    os.close(reader)
    said = written_to(writer, desk, line)
    assert said == (0, "")


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="there is no device that is always full")
def test_an_answer_that_cannot_be_written_out_does_not_hide_that_the_act_is_done(desk: Desk) -> None:
    code, err = written_to(os.open("/dev/full", os.O_WRONLY), desk, "draw 5.00")
    assert code == 3
    assert err.startswith("It was done, but the answer could not be written out")
    assert err.count("\n") == 1
    assert desk.balances()["household checking"] == "5.00"


def written_to(output: int, desk: Desk, line: str) -> tuple[int, str]:
    """The exit code and stderr of a program whose stdout is this one, which is closed then."""
    try:
        finished = subprocess.run(
            [sys.executable, "-m", "ledger.cli", "--books", str(desk.folder), "--on", desk.day, *line.split()],
            stdout=output,
            stderr=subprocess.PIPE,
            cwd=Path(__file__).parents[2],
            encoding="utf-8",
            timeout=60,
            check=False,
        )
    finally:
        os.close(output)
    return finished.returncode, finished.stderr
