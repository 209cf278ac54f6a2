"""What is refused speaks of the form and of the rooms, never of a command's options."""

from __future__ import annotations

import pytest

from ledger.actions.registry import ACTS
from ledger.books.books import Books
from ledger.screens.room_words import in_the_rooms
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
        ("See «twopurse entries --job 5», or «twopurse prove».", "See «Money» (2), or «twopurse prove»."),
        ("A dash -- and a rate of -5, with nothing to say.", "A dash -- and a rate of -5, with nothing to say."),
        ("[b]--amount[/b] stays text", "[b]«Paid now»[/b] stays text"),
    ],
)
def test_options_are_fields_and_commands_are_acts_with_their_keys(sentence: str, said: str) -> None:
    assert in_the_rooms(sentence, {"amount": "Paid now", "deposit_back": "Back?"}) == said


@pytest.mark.parametrize("act", [each for each in ACTS if each.rooms], ids=lambda act: act.id)
def test_every_act_of_the_rooms_is_told_by_its_words(act: object) -> None:
    verb, words = act.verb, act.words  # type: ignore[attr-defined]
    said = in_the_rooms(f"It is «twopurse {verb} 3 --why TEXT».")
    assert f"«{words}» (" in said
    assert "twopurse" not in said


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
        timeouts = {len(each.message): each.timeout for each in window.app._notifications}
        assert timeouts == {len("Done."): window.app.NOTIFICATION_TIMEOUT, 200: 16.0}
