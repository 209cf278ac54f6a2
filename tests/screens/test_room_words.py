"""What is refused speaks of the form and of the rooms, never of a command's options."""

from __future__ import annotations

import ast
import re
from pathlib import Path

import pytest

from ledger.actions.act import Act
from ledger.actions.registry import ACTS
from ledger.books.books import Books
from ledger.screens.doors import DOORS
from ledger.screens.notices import reading_seconds
from ledger.screens.room_words import _IN_PAGES, in_the_rooms
from tests import workshop as w
from tests.screens.conftest import OpenBooks
from tests.screens.ended_books import BY_CHECK, begin_ended
from tests.screens.small_books import READY, TODAY
from tests.screens.window import opened


@pytest.mark.parametrize(
    ("sentence", "said"),
    [
        ("Say --amount 20.00 to take that much now.", "Say «Paid now» 20.00 to take that much now."),
        ("Leave --deposit-back out.", "Leave «Back» out."),
        (
            "Make them add up, or leave the rest with --paid owed.",
            "Make them add up, or leave the rest with --paid owed.",
        ),
        ("Give a later day with --on.", "Give a later day with another date."),
        ('Say what is to be done: --line "NAME".', "Say what is to be done: an x beside the work."),
        ("Money given back is «twopurse refund --paid owed».", "Money given back is «Refund» (Bench, f)."),
        ("Undo it with «twopurse reverse 12 --why TEXT».", "Undo it with «Undo» (Money, u)."),
        ("More is «twopurse pickup»; see «twopurse job show 5».", "More is «Pick up» (p); see «Bench» (1)."),
        (
            "See «twopurse entries --job 5», or «twopurse prove».",
            "See «Money» (2), or «twopurse prove» (a command, outside the rooms).",
        ),
        ("Open it with «twopurse quarter 2026-Q1 --reopen».", "Open it with «Reopen» (Quarter, o)."),
        (
            "Put it right first, with «twopurse tax».",
            "Put it right first, with «Tax rate» or «Answer» (Set-up, r or a).",
        ),
        ("How often is «twopurse tax period».", "How often is «Answer» (Set-up, a)."),
        (
            "First «twopurse tax file», for «twopurse statement undo 7».",
            "First «File return» (Set-aside, x then f), for «Undo a line» (Money, r).",
        ),
        ("A dash -- and a rate of -5, with nothing to say.", "A dash -- and a rate of -5, with nothing to say."),
        ("[b]--amount[/b] stays text", "[b]«Paid now»[/b] stays text"),
    ],
)
def test_options_are_fields_and_commands_are_acts_with_their_keys(sentence: str, said: str) -> None:
    assert in_the_rooms(sentence, {"amount": "Paid now", "deposit_back": "Back?"}) == said


@pytest.mark.parametrize("act", ACTS, ids=lambda act: act.id)
def test_every_act_is_told_by_its_words(act: Act) -> None:
    said = in_the_rooms(f"It is «twopurse {act.verb} 3 --why TEXT».")
    assert f"«{act.words}» (" in said
    assert "twopurse" not in said


def test_no_sentence_of_the_program_sends_somebody_in_the_rooms_to_a_command_that_the_rooms_have() -> None:
    """Read out of the source: whatever is refused, in whichever act, may come to stand in a room."""
    outside = {"prove", "backup", "backup FILE", "restore", "new", "machine strike 7", "7"}
    told = {in_the_rooms(each): each for each in commands_in_sentences()}
    assert len(told) > 30
    assert [each for each in told if "twopurse" in each and "outside the rooms" not in each] == []
    assert {each for each in told if "outside the rooms" in each} <= {
        f"«twopurse {each}» (a command, outside the rooms)" for each in outside
    }


def commands_in_sentences() -> set[str]:
    """Every command that a sentence outside the commands themselves names; 7 stands for what is filled in."""
    found: set[str] = set()
    for path in (*Path("ledger").rglob("*.py"), *Path("checklists").rglob("*.py")):
        if "commands" in path.parts or path.name in ("cli.py", "room_words.py"):
            continue
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            parts = node.values if isinstance(node, ast.JoinedStr) else [node]
            words = "".join(str(each.value) if isinstance(each, ast.Constant) else "7" for each in parts)
            found |= set(re.findall(r"«twopurse [^»]*»", words))
    return found


PRINTS_WHAT_FITS = "print_quote"
OF_STATEMENTS = {"read_statement": "ReadForm", "agree": "AgreeForm", "count_cash": "CountForm"}


async def test_the_keys_that_are_told_for_an_act_in_a_page_over_a_room_do_lead_to_it(books: Books) -> None:
    async with opened(books) as window:
        done: list[str] = []
        do = window.app.do  # type: ignore[attr-defined]
        window.app.do = lambda act_id, subject=None: (done.append(act_id), do(act_id, subject))  # type: ignore[attr-defined]
        digits = {each.title: each.digit or "" for each in DOORS}
        for act_id, told in _IN_PAGES.items():
            room, _, keys = told.partition(", ")
            await window.press(digits[room], *keys.split(" then "))
            if keys == "r":
                assert window.place == "StatementPage", act_id
            elif keys in ("y then c", "y then t", "y then h"):
                page = window.screen.ACTS  # type: ignore[attr-defined]
                assert act_id in [each for _, each, _ in page]
            elif keys.startswith("r then"):
                assert window.place == OF_STATEMENTS[act_id]
            else:
                assert done[-1:] == [PRINTS_WHAT_FITS if act_id.startswith("print_") else act_id], told
            while window.place != "HomeRoom":
                await window.press("escape")


async def test_what_the_disk_or_another_window_has_to_say_is_told_in_the_words_of_the_rooms_too(books: Books) -> None:
    async with opened(books) as window:
        window.app.tell("Read the file with «twopurse statement read».", "error")  # type: ignore[attr-defined]
        window.app.tell("Kept as «twopurse statement read», as she wrote.")  # type: ignore[attr-defined]
        await window.settle()
        assert window.told() == [
            "Read the file with «Statement» (Money, r then r).",
            "Kept as «twopurse statement read», as she wrote.",
        ]


async def test_cash_below_what_is_due_names_the_field_that_takes_a_part(books: Books) -> None:
    async with opened(books) as window:
        await window.press("p", "enter", "c")
        await window.type(tendered="20")
        assert window.faults()["tendered"].endswith(
            "Say «Paid now» 20.00 to take that much now and leave the rest owed."
        )


async def test_wrong_tax_that_nobody_owes_names_the_field_that_says_who_gets_it_back(open_copy: OpenBooks) -> None:
    books = open_copy(begin_ended)
    w.answer(books, "work", False)
    async with opened(books) as window:
        window.app.enter("bench", BY_CHECK)  # type: ignore[attr-defined]
        await window.settle()
        await window.press("x")
        assert window.values()["borne"] == "check"
        await window.type(borne="owed")
        assert "Hand it back with «Made good by» cash, check, card or transfer." in window.faults()["borne"]


async def test_a_new_job_without_work_is_told_to_put_an_x(with_prices: Books) -> None:
    async with opened(with_prices, (100, 30)) as window:
        await window.press("n")
        await window.type(customer="Ada", piece="Star", width="50", length="60")
        await window.press("ctrl+s")
        assert window.said_by("#fault") == "The job has no line of work. Say what is to be done: an x beside the work."


async def test_a_pickup_that_stands_is_not_opened_for_voiding_and_names_what_to_do(books: Books) -> None:
    w.picked_up(books, READY, "cash")
    async with opened(w.on_day(books, TODAY.replace(day=20))) as window:
        window.app.enter("bench", READY)  # type: ignore[attr-defined]
        await window.settle()
        await window.press("v")
        assert window.place == "BenchRoom"
        assert "was paid on 2026-03-18, so it stands." in window.told()[-1]
        assert "money given back is «Refund» (Bench, f)" in window.told()[-1]


async def test_an_entry_that_something_rests_on_is_not_opened_for_undoing(books: Books) -> None:
    w.picked_up(books, READY, "cash")
    async with opened(w.on_day(books, TODAY.replace(day=20))) as window:
        await window.press("2", "u")
        assert window.place == "MoneyRoom"
        assert "so it stands" in window.told()[-1]


async def test_a_long_sentence_stays_until_it_can_be_read(books: Books) -> None:
    async with opened(books) as window:
        window.app.tell("Done.")  # type: ignore[attr-defined]
        window.app.tell("x" * 200)  # type: ignore[attr-defined]
        await window.settle()
        told = {len(each.message): reading_seconds(each) for each in window.app._notifications}
        assert told == {len("Done."): 4.0, 200: 16.0}
