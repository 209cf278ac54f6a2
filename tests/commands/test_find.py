"""`find` tells the same hits as `/` in the rooms, as lines and as JSON."""

from __future__ import annotations

from tests.commands.desk import Desk


def test_what_is_found_is_told_with_its_kind_number_day_and_amount(desk: Desk) -> None:
    found = desk.data("find", "corner", "shop")["found"]
    assert [each["kind"] for each in found] == ["party", "entry"]
    assert found[1] == {
        "kind": "entry",
        "number": "4",
        "words": "Corner shop: thread, Corner shop",
        "date": found[1]["date"],
        "amount": "21.06",
        "note": None,
    }


def test_a_command_is_found_by_everyday_words(desk: Desk) -> None:
    found = desk.data("find", "bounced", "check")["found"]
    assert [(each["kind"], each["number"]) for each in found] == [("command", "job returned-check")]


def test_nothing_found_is_an_empty_list_and_no_words_are_wrong_use(desk: Desk) -> None:
    assert desk.data("find", "nowhere at all") == {"found": []}
    assert desk.type("find").code == 2
