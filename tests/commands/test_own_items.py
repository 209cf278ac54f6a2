"""Her own hand on the set-up list by command: what she adds and changes stands, and a newer list takes none of it."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from checklists import records
from checklists.catalogue import shipped_catalogue
from checklists.item import Catalogue, Item, Stage
from tests.commands.desk import Desk

STAGES = [stage.id for stage in shipped_catalogue().stages]


@pytest.fixture
def desk(empty_desk: Desk) -> Desk:
    """Books just begun."""
    empty_desk.data("new", "--name", "Lantern", on="2026-01-05")
    return empty_desk


def ids(data: dict[str, Any], stage: str) -> list[str]:
    return [each["id"] for each in data["items"] if each["stage"] == stage]


def row(data: dict[str, Any], name: str) -> dict[str, Any]:
    return next(dict(each) for each in data["items"] if each["id"] == name)


def with_more_items(*items: Item) -> Catalogue:
    """The list as a newer program might bring it: these stand first in its first stage."""
    first, *others = shipped_catalogue().stages
    return Catalogue((replace(first, items=(*items, *first.items)), *others))


def without(name: str) -> Catalogue:
    stages = shipped_catalogue().stages
    return Catalogue(
        tuple(replace(stage, items=tuple(item for item in stage.items if item.id != name)) for stage in stages)
    )


NEWCOMER = replace(shipped_catalogue().item("power"), id="earthquakes", title="Earthquakes", feeds=None)


def test_an_item_of_her_own_is_asked_of_herself_at_the_end_unless_she_says_otherwise(desk: Desk) -> None:
    data = desk.data("setup", "add", "A chair to rest on")
    assert list(data) == ["items", "progress"]
    (item,) = data["items"]
    assert (item["id"], item["stage"], item["own"], item["state"]) == ("own_a_chair_to", STAGES[-1], True, "open")
    assert (item["ask"], item["source"]) == ("yourself", "your own item")
    listed = desk.data("setup", "list")
    assert listed["items"][-1]["id"] == "own_a_chair_to"
    assert listed["progress"]["items"] == len(list(shipped_catalogue())) + 1
    (page,) = desk.data("setup", "show", "own_a_chair_to")["items"]
    assert (page["questions"], page["why"], page["caution"]) == (["A chair to rest on?"], "", "")
    assert "Mind:" not in desk.lines("setup", "show", "own_a_chair_to")


def test_an_item_of_her_own_with_everything_said_is_answered_like_any_other(desk: Desk) -> None:
    line = ("setup", "add", "Chimney swept", "--why", "Soot.", "--ask", "chimney sweep", "--stage", "1", "--first")
    more = (
        "--question",
        "When is it due?",
        "--question",
        "What does it cost?",
        "--keep",
        "The slip",
        "--every",
        "year",
    )
    name = desk.data(*line, *more)["items"][0]["id"]
    (page,) = desk.data("setup", "show", name)["items"]
    assert (page["stage"], page["ask"], page["keep"], page["recurs"]) == (
        STAGES[0],
        "chimney sweep",
        "The slip",
        "FREQ=YEARLY",
    )
    assert page["questions"] == ["When is it due?", "What does it cost?"]
    assert ids(desk.data("setup", "list"), STAGES[0])[0] == name
    done = desk.data("setup", "answer", name, "swept, 80.00", "--asked", "Mr Soot")
    assert (done["items"][0]["state"], done["items"][0]["due"]) == ("done", "2027-02-10")
    assert done["fed"] == []


def test_an_item_is_put_beside_another(desk: Desk) -> None:
    first, second, third = ids(desk.data("setup", "list"), STAGES[0])[:3]
    desk.data("setup", "move", third, "--before", second)
    assert ids(desk.data("setup", "list"), STAGES[0])[:3] == [first, third, second]
    desk.data("setup", "move", first, "--after", second)
    assert ids(desk.data("setup", "list"), STAGES[0])[:3] == [third, second, first]
    desk.data("setup", "move", second, "--before", third)
    assert ids(desk.data("setup", "list"), STAGES[0])[:3] == [second, third, first]


def test_an_item_is_put_into_another_stage_and_to_the_front(desk: Desk) -> None:
    data = desk.data("setup", "move", "power", "--stage", "before-the-first-customer")
    assert data["items"][0]["stage"] == STAGES[1]
    assert ids(desk.data("setup", "list"), STAGES[1])[-1] == "power"
    said = desk.lines("setup", "move", "power", "--first")
    assert said.startswith("Power for the machine: ")
    assert ids(desk.data("setup", "list"), STAGES[1])[0] == "power"


def test_her_words_stand_beside_the_caution_and_the_sources_and_can_be_taken_back(desk: Desk) -> None:
    shipped = shipped_catalogue().item("power")
    data = desk.data("setup", "reword", "power", "--title", "The socket", "--question", "Which fuse?")
    assert (data["items"][0]["title"], data["items"][0]["reworded"]) == ("The socket", True)
    desk.data("setup", "reword", "power", "--why", "The old wires.")
    (page,) = desk.data("setup", "show", "power")["items"]
    assert (page["title"], page["why"], page["questions"]) == ("The socket", "The old wires.", ["Which fuse?"])
    assert (page["ask"], page["caution"], page["source"]) == (shipped.ask, shipped.caution, shipped.source_words)
    assert "--as-listed» takes them back" in desk.lines("setup", "show", "power")
    back = desk.data("setup", "reword", "power", "--as-listed")
    assert (back["items"][0]["title"], back["items"][0]["reworded"]) == (shipped.title, False)


def test_how_often_her_own_item_comes_round_can_be_said_anew(desk: Desk) -> None:
    name = desk.data("setup", "add", "Chimney", "--every", "year")["items"][0]["id"]
    desk.data("setup", "reword", name, "--every", "quarter")
    assert desk.data("setup", "show", name)["items"][0]["recurs"] == "FREQ=MONTHLY;INTERVAL=3"
    desk.data("setup", "reword", name, "--title", "The chimney", "--every", "never")
    (page,) = desk.data("setup", "show", name)["items"]
    assert (page["title"], page["recurs"]) == ("The chimney", None)


def test_a_hidden_item_counts_no_more_keeps_its_answers_and_comes_back(desk: Desk) -> None:
    desk.data("setup", "answer", "structure", "sole proprietor", "--asked", "Ms Tally")
    before = desk.data("setup", "list")
    data = desk.data("setup", "hide", "structure")
    assert (data["items"][0]["hidden"], data["progress"]["items"]) == (True, before["progress"]["items"] - 1)
    listed = desk.data("setup", "list")
    assert [each["id"] for each in listed["hidden"]] == ["structure"]
    assert "structure" not in {each["id"] for each in listed["items"]}
    assert listed["hidden"][0]["value"] == "sole proprietor"
    assert "Hidden: structure." in desk.lines("setup", "list")
    assert "No longer on the list" not in desk.lines("setup", "list")
    assert "done, hidden" in desk.lines("setup", "show", "structure")
    desk.data("setup", "show-again", "structure")
    assert desk.data("setup", "list") == before


def test_what_waits_for_a_hidden_item_waits_no_more(desk: Desk) -> None:
    assert row(desk.data("setup", "list"), "sales_tax_permit")["waits_for"] == ["structure"]
    desk.data("setup", "hide", "structure")
    assert row(desk.data("setup", "list"), "sales_tax_permit")["waits_for"] == []


def test_a_hidden_item_can_still_be_answered(desk: Desk) -> None:
    desk.data("setup", "hide", "power")
    data = desk.data("setup", "answer", "power", "its own circuit", "--asked", "Mr Ohm")
    assert (data["items"][0]["state"], data["items"][0]["hidden"]) == ("done", True)


def test_nothing_is_told_before_its_day(desk: Desk) -> None:
    desk.data("setup", "add", "Chimney", on="2026-03-01")
    desk.data("setup", "hide", "power", on="2026-03-01")
    before = desk.data("setup", "list", on="2026-02-28")
    assert [each["id"] for each in before["items"]] == [item.id for item in shipped_catalogue()]
    assert before["hidden"] == []


def test_a_newer_list_says_what_is_new_until_she_has_seen_it(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    desk.data("setup", "add", "Chimney")
    monkeypatch.setattr(records, "shipped_catalogue", lambda: with_more_items(NEWCOMER))
    listed = desk.data("setup", "list")
    assert [each["id"] for each in listed["items"] if each["new"]] == ["earthquakes"]
    assert "  open, new          earthquakes        Earthquakes" in desk.lines("setup", "list")
    assert "Earthquakes (earthquakes): open, new" in desk.lines("setup", "show", "earthquakes")
    assert desk.data("setup", "seen") == {"seen": ["earthquakes"]}
    assert not any(each["new"] for each in desk.data("setup", "list")["items"])
    assert desk.lines("setup", "seen") == "Nothing on the list was new.\n"


def test_what_she_answered_is_new_no_more_and_what_came_with_it_still_is(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    desk.data("setup", "answer", "power", "its own circuit", "--asked", "Mr Ohm")
    floods = replace(NEWCOMER, id="floods")
    monkeypatch.setattr(records, "shipped_catalogue", lambda: with_more_items(NEWCOMER, floods))
    desk.data("setup", "answer", "floods", "none", "--asked", "the map")
    listed = desk.data("setup", "list")
    assert [each["id"] for each in listed["items"] if each["new"]] == ["earthquakes"]


def test_to_her_who_never_did_anything_with_the_list_nothing_is_new(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(records, "shipped_catalogue", lambda: with_more_items(NEWCOMER))
    assert not any(each["new"] for each in desk.data("setup", "list")["items"])


def test_a_newer_list_loses_nothing_of_hers(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    """It has an item more, and one that she answered, reworded and moved is gone from it."""
    name = desk.data("setup", "add", "Chimney", "--after", "power")["items"][0]["id"]
    desk.data("setup", "answer", "power", "its own circuit", "--asked", "Mr Ohm")
    desk.data("setup", "reword", "power", "--title", "The socket")
    desk.data("setup", "hide", "second_medium")
    monkeypatch.setattr(records, "shipped_catalogue", lambda: without("power"))
    listed = desk.data("setup", "list")
    assert row(listed, name)["own"]
    assert [each["id"] for each in listed["hidden"]] == ["second_medium"]
    assert row(listed, "power")["value"] == "its own circuit"
    monkeypatch.undo()
    listed = desk.data("setup", "list")
    assert row(listed, "power")["title"] == "The socket"
    order = ids(listed, STAGES[0])
    assert order.index(name) == order.index("power") + 1


@pytest.mark.parametrize(
    ("words", "field"),
    [
        (("add", ""), "title"),
        (("add", "x" * 121), "title"),
        (("add", "Chair 078-05-1120"), "title"),
        (("add", "Chair", "--question", " "), "question"),
        (("add", "Chair", "--stage", "4"), "stage"),
        (("add", "Chair", "--after", "pwer"), "item"),
        (("add", "Chair", "--after", "power", "--stage", "1"), "before"),
        (("add", "Chair", *("--question", "Is it?") * 21), "question"),
        (("reword", "power"), "title"),
        (("reword", "power", "--every", "year"), "every"),
        (("reword", "power", "--as-listed"), "item"),
        (("reword", "pwer", "--title", "x"), "item"),
        (("move", "power"), "before"),
        (("move", "power", "--before", "power"), "before"),
        (("move", "power", "--before", "structure", "--after", "structure"), "before"),
        (("hide", "pwer"), "item"),
        (("show-again", "power"), "item"),
    ],
)
def test_what_cannot_be_done_is_refused_by_its_field(desk: Desk, words: tuple[str, ...], field: str) -> None:
    assert desk.refused("setup", *words)["field"] == field


def test_hiding_twice_and_taking_back_the_words_of_her_own_item_are_refused(desk: Desk) -> None:
    desk.data("setup", "hide", "power")
    assert "setup show-again power" in desk.refused("setup", "hide", "power")["do"]
    name = desk.data("setup", "add", "Chimney")["items"][0]["id"]
    assert desk.refused("setup", "reword", name, "--as-listed")["what"] == "Chimney is your own item."


def test_words_and_taking_them_back_do_not_go_together(desk: Desk) -> None:
    assert desk.type("setup", "reword", "power", "--as-listed", "--title", "x").code == 2


def test_books_in_which_she_did_all_this_prove_well(desk: Desk) -> None:
    name = desk.data("setup", "add", "Chimney", "--question", "When?", "--question", "How much?")["items"][0]["id"]
    desk.data("setup", "reword", name, "--title", "The chimney")
    desk.data("setup", "move", name, "--stage", "1")
    desk.data("setup", "hide", name)
    assert desk.data("prove")["ok"] is True


def test_a_stage_that_a_newer_list_has_no_more_leaves_her_item_on_the_list(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    name = desk.data("setup", "add", "Chimney", "--stage", "3")["items"][0]["id"]
    first, second, _ = shipped_catalogue().stages
    renamed = Stage("every_month", "Every month", 3, ())
    monkeypatch.setattr(records, "shipped_catalogue", lambda: Catalogue((first, second, renamed)))
    assert row(desk.data("setup", "list"), name)["stage"] == "every_month"
