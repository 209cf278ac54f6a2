"""The set-up list by command: what is open, one item whole, and answers that reach the books."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from checklists import records
from checklists.catalogue import shipped_catalogue
from checklists.item import Catalogue
from tests.commands.desk import Desk
from tests.commands.workshop import QUILT

ROW = (
    *("id", "stage", "title", "state", "due", "ask", "source", "waits_for"),
    *("value", "asked", "date", "reference", "expires", "note", "proof", "new", "own", "reworded", "hidden"),
)
COUNTS = ("items", "settled", "open", "asked", "done", "does_not_apply")


def row(data: dict[str, Any], item: str) -> dict[str, Any]:
    return next(dict(each) for each in data["items"] if each["id"] == item)


@pytest.fixture
def desk(empty_desk: Desk) -> Desk:
    """Books just begun, without rate or answer."""
    empty_desk.data("new", "--name", "Lantern", on="2026-01-05")
    return empty_desk


def test_the_list_has_every_item_and_adds_up(desk: Desk) -> None:
    data = desk.data("setup", "list")
    assert list(data) == ["items", "progress", "hidden"]
    assert [each["id"] for each in data["items"]] == [item.id for item in shipped_catalogue()]
    assert all(tuple(each) == ROW for each in data["items"])
    assert {each["state"] for each in data["items"]} == {"open"}
    progress = data["progress"]
    assert tuple(progress) == (*COUNTS, "stages", "next")
    assert (progress["items"], progress["settled"]) == (len(data["items"]), 0)
    assert [each["stage"] for each in progress["stages"]] == [stage.id for stage in shipped_catalogue().stages]
    assert sum(each["items"] for each in progress["stages"]) == progress["items"]


def test_what_waits_for_another_item_is_not_next(desk: Desk) -> None:
    data = desk.data("setup", "list")
    waiting = {each["id"] for each in data["items"] if each["waits_for"]}
    assert waiting.isdisjoint(data["progress"]["next"])
    assert waiting | set(data["progress"]["next"]) == {each["id"] for each in data["items"]}


def test_an_answer_through_the_list_changes_the_tax_of_the_next_pickup(desk: Desk) -> None:
    """185.44 at 5.3 % is 9.83 of tax."""
    desk.data("tax", "rate", "state", "5.3", "--from", "2026-01-01")
    desk.data("price", "quilting", "--by", "flat", "--rate", "185.44", "--class", "work")
    desk.data("job", "new", "--customer", "Ada", "--piece", "Star", *QUILT, "--line", "quilting")
    assert desk.data("job", "show", "1")["tax_expected"] == "0.00"
    desk.data("setup", "answer", "work_taxed", "yes", "--asked", "Ms Vance, revenue office")
    sale = desk.data("pickup", "1", "--paid", "cash")
    assert (sale["tax"], sale["total"], sale["unanswered"]) == ("9.83", "195.27", [])


def test_an_answer_tells_the_item_what_was_fed_and_what_to_mind(desk: Desk) -> None:
    data = desk.data("setup", "answer", "work_taxed", "yes", "--asked", "Office", "--reference", "TSB 7")
    assert list(data) == ["items", "progress", "fed", "remarks"]
    (item,) = data["items"]
    assert (item["id"], item["state"], item["value"], item["asked"]) == ("work_taxed", "done", "yes", "Office")
    assert (item["date"], item["reference"], item["due"]) == ("2026-02-10", "TSB 7", None)
    assert data["fed"] == ["«work» is taxed"]
    assert len(data["remarks"]) == 2
    assert data["progress"]["done"] == 1


def test_how_often_she_files_reaches_the_tax_rules(desk: Desk) -> None:
    desk.data("setup", "answer", "filing_frequency", "quarterly, 25", "--asked", "Office")
    in_force = desk.data("tax", "method", "slip")
    assert (in_force["period"], in_force["due_day"]) == ("quarterly", 25)


def test_a_permit_is_done_through_its_last_day_and_open_after(desk: Desk) -> None:
    desk.data("setup", "answer", "sales-tax-permit", "004-1234", "--asked", "Office", "--expires", "2026-12-31")
    on_the_day = row(desk.data("setup", "list", on="2026-12-31"), "sales_tax_permit")
    the_day_after = row(desk.data("setup", "list", on="2027-01-01"), "sales_tax_permit")
    assert (on_the_day["state"], on_the_day["due"]) == ("done", "2026-12-31")
    assert (the_day_after["state"], the_day_after["due"], the_day_after["value"]) == ("open", "2026-12-31", "004-1234")
    assert "due 2026-12-31     sales_tax_permit" in desk.lines("setup", "list", on="2027-01-01")


def test_an_answer_is_not_told_before_its_day(desk: Desk) -> None:
    desk.data("setup", "answer", "power", "20 amperes, own circuit", "--asked", "Mr Ohm")
    assert row(desk.data("setup", "list", on="2026-02-09"), "power")["state"] == "open"
    assert desk.data("setup", "show", "power", on="2026-02-09")["items"][0]["answers"] == []
    assert len(desk.data("setup", "show", "power")["items"][0]["answers"]) == 1


@pytest.mark.parametrize("spelled", ["does-not-apply", "does not apply", "Does-Not-Apply"])
def test_what_does_not_apply_needs_no_value(desk: Desk, spelled: str) -> None:
    data = desk.data("setup", "answer", "covenants_or_lease", "--asked", "the deed", "--state", spelled)
    assert (data["items"][0]["state"], data["items"][0]["value"]) == ("does not apply", None)
    assert (data["progress"]["does_not_apply"], data["progress"]["settled"]) == (1, 1)


def test_an_item_shows_its_questions_its_form_and_every_answer(desk: Desk, tmp_path: Path) -> None:
    letter = tmp_path / "letter.txt"
    letter.write_text("Taxed.", encoding="utf-8")
    desk.data("setup", "answer", "work_taxed", "--asked", "Office", "--state", "asked")
    desk.data("setup", "answer", "work_taxed", "no", "--asked", "Office", "--proof", str(letter), "--note", "by mail")
    (item,) = desk.data("setup", "show", "work_taxed")["items"]
    shipped = shipped_catalogue().item("work_taxed")
    assert item["questions"] == list(shipped.questions)
    assert (item["keep"], item["caution"], item["differs"]) == (shipped.proof, shipped.caution, list(shipped.differs))
    assert (item["answer_form"], item["usage"]) == ("yes/no", 'twopurse setup answer work_taxed "yes" --asked WHOM')
    assert item["parts"] == [{"name": "value", "kind": "yes/no", "choices": []}]
    assert [each["state"] for each in item["answers"]] == ["asked", "done"]
    assert (item["answers"][1]["value"], item["answers"][1]["note"]) == ("no", "by mail")
    assert item["answers"][1]["proof"] == item["proof"]
    assert (desk.folder / "documents" / item["proof"]).read_text(encoding="utf-8") == "Taxed."


def test_a_person_reads_whom_to_ask_and_what_to_type(desk: Desk) -> None:
    page = desk.lines("setup", "show", "filing_frequency")
    shipped = shipped_catalogue().item("filing_frequency")
    assert all(question in page for question in shipped.questions)
    assert "Ask: state revenue office" in page
    assert 'twopurse setup answer filing_frequency "monthly, 20" --asked WHOM' in page
    assert "The rules differ from place to place." in page


def test_a_person_reads_the_list_in_lines_of_eighty(desk: Desk) -> None:
    desk.data("setup", "answer", "insurance_limit", "25000", "--asked", "agent")
    lines = desk.lines("setup", "list").splitlines()
    items = [line for line in lines if line.startswith("  ")]
    assert len(items) == len(list(shipped_catalogue()))
    assert max(map(len, items)) <= 80
    first = shipped_catalogue().stages[0]
    assert f"{first.title}: 0 of {len(first.items)}" in lines
    assert any(line.startswith("  done to 2027-02-10 insurance_limit") for line in items)


def test_a_person_reads_what_the_books_go_by(desk: Desk) -> None:
    said = desk.lines("setup", "answer", "business_account", "County Bank, ending 4417", "--asked", "the bank")
    assert said.splitlines() == [
        "A bank account for the workshop alone: County Bank, ending 4417, from the bank.",
        "From 2026-02-10 the books go by this: business account: County Bank, ending 4417.",
    ]


def test_an_item_that_left_the_list_keeps_its_answer_and_its_page(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    desk.data("setup", "answer", "power", "20 amperes, own circuit", "--asked", "Mr Ohm")
    stages = shipped_catalogue().stages
    monkeypatch.setattr(records, "shipped_catalogue", lambda: Catalogue(stages[1:]))
    listed = desk.data("setup", "list")
    gone = row(listed, "power")
    assert (gone["stage"], gone["title"], gone["state"]) == (None, "power", "done")
    assert (gone["value"], gone["source"]) == ("20 amperes, own circuit", None)
    assert listed["progress"]["items"] == len(listed["items"]) - 1
    (page,) = desk.data("setup", "show", "power")["items"]
    assert (page["questions"], len(page["answers"])) == ([], 1)
    assert "No longer on the list" in desk.lines("setup", "list")
    assert "20 amperes, own circuit, from Mr Ohm" in desk.lines("setup", "show", "power")


@pytest.mark.parametrize(
    ("words", "field"),
    [
        (("work_taxd", "yes", "--asked", "Office"), "item"),
        (("work_taxed", "perhaps", "--asked", "Office"), "value"),
        (("work_taxed", "--asked", "Office"), "value"),
        (("insurance_limit", "-5", "--asked", "agent"), "value"),
        (("insurance_limit", "2,500.00", "--asked", "agent"), "value"),
        (("visits_a_day", "-5", "--asked", "agent"), "value"),
        (("filing_frequency", "quarterly", "--asked", "Office"), "due_day"),
        (("work_taxed", "yes", "--asked", ""), "asked"),
        (("work_taxed", "yes", "--asked", "Office", "--state", "maybe"), "state"),
        (("work_taxed", "yes", "--asked", "Office", "--expires", "soon"), "expires"),
        (("work_taxed", "yes", "--asked", "Office", "--expires", "2026-02-09"), "expires"),
        (("work_taxed", "yes", "--asked", "Office", "--proof", "missing.pdf"), "proof"),
        (("business_account", "004417123", "--asked", "bank"), "value"),
    ],
)
def test_an_answer_that_cannot_be_kept_is_refused_by_its_field(desk: Desk, words: tuple[str, ...], field: str) -> None:
    assert desk.refused("setup", "answer", *words)["field"] == field


def test_an_unknown_item_is_refused_with_the_nearest_ones(desk: Desk) -> None:
    refusal = desk.refused("setup", "show", "work_tax")
    assert refusal["field"] == "item"
    assert "«work_taxed»" in refusal["do"]


def test_whom_she_asked_is_never_left_out(desk: Desk) -> None:
    assert desk.type("setup", "answer", "work_taxed", "yes").code == 2
