"""Names: how they are compared, what is offered for one that is unknown, and what a person's text may hold."""

from __future__ import annotations

import unicodedata
from pathlib import Path

import pytest

from tests.commands.desk import Desk
from tests.commands.workshop import QUILT

ACCENTED = "Zoë Müller-Łukasz"
HEBREW, ARABIC = "שרה לוי", "ليلى حسن"
EMOJI = "Quilt \N{SPOOL OF THREAD} for \N{WOMAN}\N{ZERO WIDTH JOINER}\N{WOMAN}\N{ZERO WIDTH JOINER}\N{GIRL}"
NOT_SHOWN = [
    "Ada\x1b[31m Brook",
    "Ada\x07",
    "\N{RIGHT-TO-LEFT OVERRIDE}Ada",
    "Ada\N{ZERO WIDTH SPACE}Brook",
    "Ada\x9b31mBrook",
    "Ada\x00Brook",
    "Ada\udcffBrook",
]


@pytest.mark.parametrize(
    "spelled",
    [
        "zoë müller-łukasz",
        "  Zoë   Müller-Łukasz ",
        unicodedata.normalize("NFD", ACCENTED),
        ACCENTED.upper(),
    ],
)
def test_a_name_is_the_same_however_it_is_cased_spaced_and_composed(desk: Desk, spelled: str) -> None:
    first = desk.data("customer", ACCENTED)
    again = desk.data("customer", spelled)
    assert (again["customer"], again["code"]) == (ACCENTED, first["code"])
    assert desk.data("entries", "--who", spelled) == {"entries": []}


def test_names_are_compared_whole(desk: Desk) -> None:
    assert desk.refused("entries", "--who", "Ada")["field"] == "who"
    assert desk.data("customer", "Ada")["code"] != desk.data("customer", "Ada Brook")["code"]


def test_accounts_and_prices_are_found_however_they_are_cased_and_spaced(desk: Desk) -> None:
    desk.data("move", "5.00", " CHECKING", "Cash  Box ")
    desk.data("price", "Straße", "--by", "flat", "--rate", "5", "--class", " WORK ")
    job = desk.data("job", "new", "--customer", "Ada", "--piece", "Top", *QUILT, "--line", "STRASSE = 2")
    assert [(each["name"], each["amount"]) for each in job["lines"]] == [("Straße", "10.00")]


@pytest.mark.parametrize(
    ("line", "field", "offered"),
    [
        (("move", "5", "checkin", "cash box"), "from", "checking"),
        (("move", "5", "checking", "cashbox"), "to", "cash box"),
        (("draw", "5", "--to", "household cheking"), "to", "household checking"),
        (("spend", "5", "--category", "thred", "--from", "checking", "--who", "x"), "category", "thread"),
        (("spend", "5", "--category", "thread", "--from", "workshop", "--who", "x"), "from", "workshop card"),
        (("entries", "--who", "Ada Brok"), "who", "Ada Brook"),
        (("price", "x", "--by", "flat", "--rate", "5", "--class", "wrk"), "class", "work"),
        (("job", "new", "--customer", "x", "--piece", "x", *QUILT, "--line", "bating"), "line", "batting"),
    ],
)
def test_for_an_unknown_name_the_three_nearest_are_offered(
    desk: Desk, line: tuple[str, ...], field: str, offered: str
) -> None:
    refusal = desk.refused(*line)
    assert refusal["field"] == field
    assert refusal["do"].startswith(f"The nearest are «{offered}», «")
    assert refusal["do"].count("«") == 3


def test_an_account_that_is_no_category_is_not_said_to_be_missing(desk: Desk) -> None:
    refusal = desk.refused("spend", "5", "--category", "checking", "--from", "checking", "--who", "x")
    assert refusal["what"] == "There is no expense category called «checking»."


def test_where_there_are_no_names_yet_it_says_so(empty_desk: Desk) -> None:
    empty_desk.data("new", "--name", "Lantern")
    line = ("job", "new", "--customer", "x", "--piece", "x", *QUILT, "--line", "batting")
    assert empty_desk.refused(*line)["do"] == "There is no price in the books yet."


@pytest.mark.parametrize("name", [ACCENTED, HEBREW, ARABIC, "李小龍", EMOJI, "O'Neill & Søn <b>", "[bold]Ada[/]"])
def test_a_name_and_a_piece_come_back_as_they_were_typed(desk: Desk, name: str) -> None:
    line = ("job", "new", "--customer", name, "--piece", name, *QUILT, "--line", "binding")
    job = desk.data(*line)
    assert (job["customer"], job["piece"]) == (name, name)
    receipt = Path(desk.data("pickup", str(job["job"]), "--paid", "cash")["receipt"]["text"])
    assert sum(line.endswith(f" {name}") for line in receipt.read_text(encoding="utf-8").splitlines()) == 2
    entry = desk.data("entries", "--who", name)["entries"][0]
    assert (entry["who"], entry["text"]) == (name, f"Pickup: {name}")
    assert name in desk.lines("job", "list")


@pytest.mark.parametrize("name", [*NOT_SHOWN, "a=b", "[/]", "", "   ", "x" * 121])
def test_a_name_that_cannot_be_shown_or_told_apart_is_refused(desk: Desk, name: str) -> None:
    places = {
        "name": [("customer", name), ("price", name, "--by", "flat", "--rate", "1", "--class", "work")],
        "customer": [("job", "new", "--customer", name, "--piece", "x", *QUILT, "--line", "batting")],
        "who": [("spend", "5", "--category", "thread", "--from", "checking", "--who", name)],
        "class": [("tax", "class", name, "yes", "--asked", "Office")],
    }
    for field, lines in places.items():
        for line in lines:
            assert desk.refused(*line)["field"] == field
    assert desk.refused("tax", "rate", name, "1", "--from", "2026-03-01")["field"] == "name"


def test_a_workshop_without_a_name_is_not_begun(empty_desk: Desk) -> None:
    for name in ("[/]", "", "a=b", "x\x1b[0m"):
        assert empty_desk.refused("new", "--name", name)["field"] == "name"


@pytest.mark.parametrize("text", NOT_SHOWN)
def test_text_is_kept_with_a_mark_where_something_could_not_be_shown(desk: Desk, text: str) -> None:
    desk.data("draw", "5", "--why", text)
    kept = desk.data("entries")["entries"][-1]["text"]
    assert (
        kept == "".join(part + mark for part, mark in zip(parts(text), "\N{REPLACEMENT CHARACTER} ", strict=True))[:-1]
    )
    assert kept in desk.lines("entries")


def parts(text: str) -> tuple[str, str]:
    """What stands before and after the one character that a terminal might obey or nobody could see."""
    place = next(
        place for place, character in enumerate(text) if unicodedata.category(character) in {"Cc", "Cf", "Cs", "Zl"}
    )
    return text[:place], text[place + 1 :]


@pytest.mark.parametrize("option", ["--why", "--number"])
def test_text_that_is_empty_or_endless_is_refused(desk: Desk, option: str) -> None:
    line = {"--why": ("draw", "5"), "--number": ("job", "deposit", "1", "5", "--paid", "check")}[option]
    for text in ("", " ", "\x1b", "x" * 501):
        assert desk.refused(*line, option, text)["field"] == option.removeprefix("--")
