"""What is typed wrongly is refused with a sentence that says what to do, and nothing is written."""

from __future__ import annotations

import click
import pytest

from tests.commands.desk import Desk
from tests.commands.workshop import BOOKS_AN_ENTRY, KEEPS, NEXT_ENTRY, commands, working_line

# How the help calls what stands for a figure.
FIGURES = {"AMOUNT", "N", "PERCENT"}
NO_FIGURE = [
    *(
        "-5",
        "-5.00",
        "-.5",
        "-0.01",
        "1e999",
        "-1e999",
        "1e5",
        "NaN",
        "inf",
        "0x10",
        "forty",
        "",
        " ",
        "1 000",
        "1,204.10",
    ),
    *("1204,10", "1_000", "5.", "٥", "５", "$5", "12.50+3", "100000000000000000000", "0.1234567890", "5\x00"),
]

MISTAKES = [
    (
        "job new --customer Eve --piece Top --width forty --length 72 --value 1 --line batting",
        "«forty» cannot be read as a number.",
        "Write it like 56.5.",
    ),
    (
        "price ruler --by hour --rate -5 --class work",
        "«-5» is below zero.",
        "Give it without the minus sign.",
    ),
    (
        "pickup 2 --paid cash",
        "Job 2 is picked up already.",
        "What is owed on it is taken with «twopurse job pay 2».",
    ),
    (
        "pickup 3 --paid cash",
        "Job 3 is booked, but the piece is not here.",
        "Say «twopurse job in 3» when the piece comes in.",
    ),
    (
        "pickup 1 --paid cash --tendered 100",
        "100.00 handed over is less than 145.27 due.",
        "Say --amount 100.00 to take that much now and leave the rest owed.",
    ),
    (
        "pickup 1 --paid cash --amount 60 --tendered 50",
        "50.00 handed over is less than 60.00 due.",
        "Say --amount 50.00 to take that much now and leave the rest owed.",
    ),
    ("tax rate city 600 --from 2026-02-10", "«600» is more than 100.", "Check the number of digits."),
    ("draw 1e999", "«1e999» cannot be read as an amount.", "Write it like 1204.10."),
    ("customer [/]", "The name «[/]» has no letter or digit.", "Type a name."),
]


def figure_places() -> list[tuple[str, str]]:
    """Every argument and option of every command in which a figure stands."""
    places = []
    for words, command in commands():
        context = click.Context(command)
        for parameter in command.params:
            called = parameter.make_metavar(context).strip("[]")
            if called in FIGURES:
                places.append((words, parameter.opts[0]))
    return places


def with_figure(desk: Desk, words: str, place: str, figure: str) -> list[str]:
    """The working line of a command with another figure in one place."""
    line = working_line(words, desk.folder)
    if place.startswith("-"):
        if place in line:
            line[line.index(place) + 1] = figure
            return line
        return [*line, place, figure]
    arguments = [each for each in dict(commands())[words].params if isinstance(each, click.Argument)]
    position = [each.name for each in arguments].index(place)
    start = len(words.split())
    if len(line) == start:  # the argument is left out in the working line
        return [*line, figure]
    line[start + position] = figure
    return line


def test_the_places_of_figures_are_found() -> None:
    found = figure_places()
    assert len(found) >= 25
    expected = {("draw", "amount"), ("pay-back", "amount"), ("tax rate", "percent"), ("pickup", "--tip")}
    assert expected <= set(found)


@pytest.mark.parametrize(("words", "place"), figure_places())
def test_a_figure_below_zero_is_refused_and_not_taken_for_an_option(desk: Desk, words: str, place: str) -> None:
    for figure in ("-5", "-5.00"):
        refusal = desk.refused(*with_figure(desk, words, place, figure))
        assert refusal["field"] == place.strip("-").replace("-", "_")


@pytest.mark.parametrize("figure", NO_FIGURE)
def test_what_is_no_figure_is_refused_wherever_one_stands(desk: Desk, figure: str) -> None:
    for words, place in (("draw", "amount"), ("pickup", "--tip"), ("job new", "--width"), ("tax rate", "percent")):
        refusal = desk.refused(*with_figure(desk, words, place, figure))
        assert refusal["field"] == place.strip("-")


@pytest.mark.parametrize("figure", ["edge-to-edge=-5", "edge-to-edge=", "edge-to-edge=ten", "edge-to-edge=0", "=5"])
def test_a_quantity_that_is_none_is_refused(desk: Desk, figure: str) -> None:
    assert desk.refused(*working_line("job new", desk.folder), "--line", figure)["field"] == "line"


@pytest.mark.parametrize("part", ["cash=-5", "cash=", "cash=all", "cash=0", "shells", "owed=-5", "", "=5"])
def test_a_payment_that_is_none_is_refused(desk: Desk, part: str) -> None:
    assert desk.refused("pickup", "1", "--paid", part)["field"] == "paid"


def test_amounts_are_read_with_a_point_whatever_the_locale(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("LANG", "LC_ALL", "LC_NUMERIC", "LANGUAGE"):
        monkeypatch.setenv(name, "de_DE.UTF-8")
    assert desk.data("draw", "1204.10")["amount"] == "1204.10"
    assert desk.refused("draw", "1204,10")["do"] == "Write it like 1204.10."
    assert desk.balances()["household checking"] == "1204.10"


@pytest.mark.parametrize(("line", "what", "do"), MISTAKES)
def test_each_mistake_has_its_sentence(desk: Desk, line: str, what: str, do: str) -> None:
    refusal = desk.refused(*line.split(" "))
    assert (refusal["what"], refusal["do"]) == (what, do)


def test_cash_below_what_is_due_is_taken_as_the_refusal_says(desk: Desk) -> None:
    answer = desk.data("pickup", "1", "--paid", "cash", "--tendered", "100", "--amount", "100.00")
    assert (answer["paid"], answer["change"], answer["owed"]) == ("100.00", "0.00", "45.27")


@pytest.mark.parametrize("words", sorted(KEEPS))
def test_nothing_is_kept_on_a_day_before_the_books_began(desk: Desk, words: str) -> None:
    line = [word.replace("2026-03-01", "2026-01-04") for word in working_line(words, desk.folder)]
    refusal = desk.refused(*line, on="2026-01-04")
    assert "2026-01-04" in refusal["what"]
    assert refusal["field"] == "on"


@pytest.mark.parametrize("words", sorted(BOOKS_AN_ENTRY))
def test_no_entry_is_booked_in_a_closed_period(desk: Desk, words: str) -> None:
    desk.data("quarter", "2026-Q1", "--close", on="2026-04-01")
    refusal = desk.refused(*working_line(words, desk.folder), on="2026-03-31")
    assert refusal["what"] == "2026-03-31 lies in a period that was closed through 2026-03-31."
    assert "--on" in refusal["do"]
    assert "--reopen" in refusal["do"]


@pytest.mark.parametrize("words", sorted(BOOKS_AN_ENTRY))
def test_every_act_says_which_entry_it_booked(desk: Desk, words: str) -> None:
    entry = desk.data(*working_line(words, desk.folder))["entry"]
    assert entry == NEXT_ENTRY
    assert entry in [each["number"] for each in desk.data("entries")["entries"]]
