"""Every way a job can end, in the rooms: a form books what its command books, and says beside a field what is wrong."""

from __future__ import annotations

from dataclasses import dataclass, field

import pytest

from ledger.books.books import Books
from ledger.cli import main
from tests.screens.conftest import OpenBooks
from tests.screens.ended_books import (
    BY_CHECK,
    CERTIFICATE,
    OVERPAID,
    OWES_FIRST,
    begin_ended,
    rows_of,
)
from tests.screens.small_books import BOOKED, IN_HAND, OWING, READY, SECOND_READY, TODAY
from tests.screens.window import Window, opened

# Markup of the library, an escape that sets the window's title, a letter from right to left, and a sum in brackets.
HOSTILE = "[bold red]x[/] \x1b]0;owned\x07 \u202eevil [@click=app.quit]go[/]"


@dataclass(frozen=True)
class Ending:
    """An act in both its faces. key: empty where it is found with `/`. job: what is selected on the Bench, None for
    the room Money."""

    key: str
    job: int | None
    form: str
    typed: dict[str, str]
    command: tuple[str, ...]
    bad: dict[str, str] = field(default_factory=dict)
    fault: str = "why"

    def __str__(self) -> str:
        return f"{self.form} {self.command[0]}"


ENDINGS = (
    Ending(
        "f",
        BY_CHECK,
        "RefundForm",
        {"amount": "20", "paid": "cash", "tip": "2", "why": HOSTILE, "on": "today"},
        ("refund", "9", "--amount", "20", "--paid", "cash", "--tip", "2", "--why", HOSTILE),
        {"amount": "500"},
        "amount",
    ),
    Ending(
        "f",
        OWING,
        "RefundForm",
        {"amount": "10"},
        ("refund", "6", "--amount", "10", "--paid", "owed"),
        {"paid": "cheese"},
        "paid",
    ),
    Ending(
        "k",
        BY_CHECK,
        "ReturnedForm",
        {"number": "1018", "fee": "12", "charge": "25", "class": "delivery"},
        ("job", "returned-check", "9", "--number", "1018", "--fee", "12", "--charge", "25", "--class", "delivery"),
        {"fee": "twelve"},
        "fee",
    ),
    Ending(
        "v",
        BY_CHECK,
        "VoidForm",
        {"why": HOSTILE},
        ("job", "void", "9", "--why", HOSTILE),
        {"why": ""},
    ),
    Ending(
        "c",
        READY,
        "CallOffForm",
        {"deposit": "returned", "paid": "cash"},
        ("job", "call-off", "1", "--deposit", "returned", "--paid", "cash"),
        {"deposit": "eaten"},
        "deposit",
    ),
    Ending(
        "c",
        READY,
        "CallOffForm",
        {"deposit": "kept"},
        ("job", "call-off", "1", "--deposit", "kept"),
        {"deposit": ""},
        "deposit",
    ),
    Ending(
        "c",
        READY,
        "CallOffForm",
        {"deposit": "certificate"},
        ("job", "call-off", "1", "--deposit", "certificate"),
        {"deposit": "certificate", "on": "someday"},
        "on",
    ),
    Ending("c", BOOKED, "CallOffForm", {}, ("job", "call-off", "4"), {"on": "2026-03-19"}, "on"),
    Ending(
        "o",
        OWING,
        "GiveUpForm",
        {"why": HOSTILE},
        ("job", "write-off", "6", "--why", HOSTILE),
        {"why": "moved away", "on": "someday"},
        "on",
    ),
    Ending(
        "x",
        BY_CHECK,
        "RetaxForm",
        {"why": HOSTILE, "borne": "workshop"},
        ("job", "retax", "9", "--why", HOSTILE, "--borne", "workshop"),
        {"why": "city rate", "borne": "nobody"},
        "borne",
    ),
    Ending(
        "l",
        IN_HAND,
        "AddWorkForm",
        {"line_1": "x", "line_4": "1.5"},
        ("job", "add", "3", "--line", "Edge-to-edge", "--line", "Ruler work=1.5"),
        {"line_4": "x"},
        "line-4",
    ),
    Ending(
        "z",
        READY,
        "HandBackForm",
        {"amount": "20", "paid": "transfer"},
        ("job", "deposit-back", "1", "20", "--paid", "transfer"),
        {"amount": "60"},
        "amount",
    ),
    Ending(
        "",
        READY,
        "HandBackForm",
        {"paid": "certificate"},
        ("job", "deposit-back", "1", "--paid", "certificate"),
        {"paid": "cheese"},
        "paid",
    ),
    Ending(
        "t",
        READY,
        "NoticeForm",
        {"how": HOSTILE},
        ("job", "notice", "1", "--how", HOSTILE),
        {"how": ""},
        "how",
    ),
    Ending(
        "g",
        None,
        "GiftForm",
        {"amount": "50", "paid": "check", "who": "Nan Ott", "number": HOSTILE[:20]},
        ("gift", "sell", "50", "--paid", "check", "--who", "Nan Ott", "--number", HOSTILE[:20]),
        {"amount": "50", "paid": "check", "fee": "3"},
        "fee",
    ),
    Ending(
        "c",
        None,
        "CardPayoutForm",
        {"amount": "88", "through": "3/17"},
        ("card", "payout", "88", "--through", "2026-03-17"),
        {"amount": "8800"},
        "amount",
    ),
    Ending(
        "e",
        OWES_FIRST,
        "OwedMoneyForm",
        {"amount": "100", "paid": "card", "fee": "2.50"},
        ("owed", "pay", "Kit Lane", "100", "--paid", "card", "--fee", "2.50"),
        {"amount": "1,000", "paid": "cash"},
        "amount",
    ),
)
# The same for what a pickup seldom has.
PICKUPS = (
    (
        READY,
        {"paid": "cash", "discount": "10%", "coupon": HOSTILE},
        ("--paid", "cash", "--discount", "10%", "--coupon", HOSTILE),
    ),
    (SECOND_READY, {"paid": "check", "gift": CERTIFICATE}, ("--paid", "check", "--gift", CERTIFICATE)),
    (
        SECOND_READY,
        {"paid": "cash", "barter": "60", "category": "backing", "what": HOSTILE},
        ("--paid", "cash", "--barter", "backing=60", "--what", HOSTILE),
    ),
    (OVERPAID, {"deposit_back": "cash"}, ("--deposit-back", "cash")),
    (OVERPAID, {}, ()),
    (
        SECOND_READY,
        {"paid": "card", "place": "Oregon", "carrier": "Post", "tracking": HOSTILE, "insured": "400"},
        *(
            ("--paid", "card", "--sent", "--place", "Oregon", "--carrier", "Post", "--tracking", HOSTILE)
            + ("--insured", "400"),
        ),
    ),
    (SECOND_READY, {"paid": "transfer", "sent": "yes"}, ("--paid", "transfer", "--sent")),
)


@pytest.fixture
def ended(open_copy: OpenBooks) -> Books:
    return open_copy(begin_ended)


def by_command(books: Books, *words: str) -> None:
    assert main(["--books", str(books.folder), "--on", TODAY.isoformat(), *words]) == 0


async def opened_on(window: Window, ending: Ending) -> None:
    """The form of an act, on its job."""
    if ending.job is None:
        window.app.enter("money")
    else:
        window.app.enter("bench", ending.job)
    await window.settle()
    await window.press(*((ending.key,) if ending.key else ("slash", *"deposit back", "enter")))
    assert window.place == ending.form, window.text()


@pytest.mark.parametrize("ending", ENDINGS, ids=str)
async def test_the_form_of_an_act_books_what_its_command_books(open_copy: OpenBooks, ending: Ending) -> None:
    told, typed = open_copy(begin_ended), open_copy(begin_ended)
    before = rows_of(told)
    by_command(told, *ending.command)
    async with opened(typed) as window:
        await opened_on(window, ending)
        await window.type(**ending.typed)
        await window.press("ctrl+s")
        assert window.place != ending.form, window.text()
        assert rows_of(typed) == rows_of(told)
        assert rows_of(typed) != before


@pytest.mark.parametrize("ending", ENDINGS, ids=str)
async def test_what_is_wrong_is_said_beside_its_field_and_nothing_is_booked(ended: Books, ending: Ending) -> None:
    before = rows_of(ended)
    async with opened(ended) as window:
        await opened_on(window, ending)
        await window.type(**ending.bad)
        await window.press("ctrl+s")
        assert window.place == ending.form
        assert ending.fault in window.faults(), window.text()
        assert window.app.focused is window.field(ending.fault.replace("-", "_")).input
        assert rows_of(ended) == before


@pytest.mark.parametrize(
    ("job", "typed", "options"), PICKUPS, ids=lambda value: " ".join(value) if isinstance(value, dict) else ""
)
async def test_a_pickup_that_is_not_usual_books_what_its_command_books(
    open_copy: OpenBooks, job: int, typed: dict[str, str], options: tuple[str, ...]
) -> None:
    told, shown = open_copy(begin_ended), open_copy(begin_ended)
    by_command(told, "pickup", str(job), *options)
    async with opened(shown) as window:
        window.app.enter("bench", job)
        await window.settle()
        await window.press("p", "m")
        await window.type(**typed)
        await window.press("ctrl+s")
        assert window.place == "ReceiptPage", window.text()
        assert rows_of(shown) == rows_of(told)
        assert receipts_of(shown) == receipts_of(told)


@pytest.mark.parametrize(
    ("typed", "fault"),
    [
        ({"gift": "G-1001-06"}, "gift"),
        ({"discount": "120%"}, "discount"),
        ({"deposit_back": "cheese"}, "deposit_back"),
        ({"barter": "60", "category": "backing"}, "what"),
        ({"barter": "60", "what": "cotton"}, "category"),
        ({"barter": "6000", "category": "backing", "what": "cotton"}, "barter"),
        ({"sent": "no", "carrier": "Post"}, "sent"),
        ({"insured": "much"}, "insured"),
        ({"coupon": "x" * 121}, "coupon"),
    ],
)
async def test_what_is_wrong_with_a_pickup_is_said_beside_its_field(
    ended: Books, typed: dict[str, str], fault: str
) -> None:
    before = rows_of(ended)
    async with opened(ended) as window:
        window.app.enter("bench", READY)
        await window.settle()
        await window.press("p", "c")
        await window.type(**typed)
        await window.press("enter")
        assert window.place == "PickupForm"
        assert fault in window.faults(), window.text()
        assert window.app.focused is window.field(fault).input
        assert rows_of(ended) == before


async def test_what_a_pickup_seldom_has_stands_below_the_usual_fields_and_m_leads_there(ended: Books) -> None:
    async with opened(ended) as window:
        window.app.enter("bench", READY)
        await window.settle()
        await window.press("p")
        assert "Paid now" in window.text()
        assert "Insured for" not in window.text()
        await window.press("m")
        assert window.app.focused is window.field("coupon").input
        assert "Certificate" in window.text()
        await window.type(gift=CERTIFICATE, insured="400")
        assert "Insured for" in window.text()
        slip = window.said_by("#lines")
        assert slip.splitlines()[-1].split() == ["Certificate", CERTIFICATE, "-64.94"]
        assert "Nothing is left to pay. Enter books it." in window.text()
        assert f"Certificate {CERTIFICATE} keeps $10.06." in window.text()


def receipts_of(books: Books) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in (books.folder / "receipts").iterdir()}
