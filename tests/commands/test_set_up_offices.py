"""What goes to the offices and what came from them, by command: the fit, the call sheet, the calendar."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader

from checklists.catalogue import shipped_catalogue
from tests.commands.desk import Desk, contents
from tests.commands.workshop import QUILT
from tests.published.content_lines import read_calendar

FINDING = (
    *("rule", "limit", "fact", "unit", "within", "above_by", "when", "decides", "item"),
    *("told_by", "told_on", "reference", "expires", "remark", "words"),
)
ZONING = "zoning office of the town or county"


@pytest.fixture
def desk(empty_desk: Desk) -> Desk:
    """Books just begun, with a price and nothing told."""
    empty_desk.data("new", "--name", "Lantern", on="2026-01-05")
    empty_desk.data("price", "quilting", "--by", "flat", "--rate", "80", "--class", "work", on="2026-01-05")
    return empty_desk


def told(desk: Desk, item: str, value: str, *more: str, asked: str = "Mr Hale") -> dict[str, Any]:
    return desk.data("setup", "answer", item, value, "--asked", asked, *more)


def take_in(desk: Desk, *customers: str) -> None:
    for customer in customers:
        desk.data("job", "new", "--customer", customer, "--piece", "Star", *QUILT, "--line", "quilting")


# The fit


def test_nothing_told_says_whom_to_ask(desk: Desk) -> None:
    data = desk.data("setup", "fit")
    assert list(data) == ["fit", "above", "custody", "not_told"]
    assert (data["fit"], data["above"]) == ([], 0)
    assert data["custody"] == {"pieces": 0, "value": "0.00", "highest": "0.00", "highest_on": None}
    assert {each["item"] for each in data["not_told"]} >= {"visits_a_day", "insurance_limit"}
    assert f"Not told yet: visits a day. Ask: {ZONING}." in desk.lines("setup", "fit")


def test_every_rule_is_set_beside_its_fact(desk: Desk) -> None:
    take_in(desk, "Ada", "Ben", "Ada")
    told(desk, "visits_a_day", "2", "--reference", "15.04")
    told(desk, "floor_share", "25 % of the house and 0 % of the garage")
    told(desk, "insurance_limit", "1000", asked="the agent")
    told(desk, "sign_size", "2")
    told(desk, "rooms_measured", "180, 900, 1800, 20, 400", asked="myself")
    data = desk.data("setup", "fit")
    rows = {each["rule"]: each for each in data["fit"]}
    assert all(tuple(each) == FINDING for each in data["fit"])
    visits = rows["visits a day"]
    assert (visits["limit"], visits["fact"], visits["within"], visits["above_by"]) == (2, 3, False, 1)
    assert (visits["when"], visits["told_by"], visits["reference"]) == ("2026-02-10", "Mr Hale", "15.04")
    assert (rows["floor share of the house"]["fact"], rows["floor share of the house"]["within"]) == ("10.00", True)
    assert rows["floor share of the garage"]["above_by"] == "5.00"
    assert (rows["insurance limit"]["limit"], rows["insurance limit"]["fact"]) == ("1000.00", "1200.00")
    assert (rows["sign"]["fact"], rows["sign"]["within"]) == (None, None)
    assert data["above"] == 3
    assert data["custody"]["highest"] == "1200.00"


def test_the_fit_is_as_of_its_day(desk: Desk) -> None:
    told(desk, "visits_a_day", "2")
    take_in(desk, "Ada", "Ben", "Cara")
    assert desk.data("setup", "fit", on="2026-02-09")["fit"] == []
    assert desk.data("setup", "fit")["above"] == 1


def test_a_person_reads_who_decides_and_no_ruling(desk: Desk) -> None:
    told(desk, "visits_a_day", "0")
    take_in(desk, "Ada")
    said = desk.lines("setup", "fit")
    assert "Visits a day: 1 on 2026-02-10, above what you were told (0) by 1." in said
    assert f"Told by Mr Hale on 2026-02-10. Who decides: {ZONING}." in said
    assert said.splitlines()[-1].startswith("This compares what you wrote down.")


# The call sheet


def test_a_call_sheet_is_one_page_and_a_text(desk: Desk, tmp_path: Path) -> None:
    data = desk.data("setup", "call-sheet", "insurance agent", "--to", str(tmp_path / "calls"))
    assert list(data) == ["office", "items", "questions", "pdf", "text"]
    asked = [item for item in shipped_catalogue() if item.ask == "insurance agent"]
    assert [each["id"] for each in data["items"]] == [item.id for item in asked]
    assert data["questions"] == sum(len(item.questions) for item in asked)
    assert len(PdfReader(data["pdf"]).pages) == 1
    text = " ".join(Path(data["text"]).read_text(encoding="utf-8").split())
    assert all(question in text for item in asked for question in item.questions)


def test_a_call_sheet_lies_with_the_other_papers_unless_told_otherwise(desk: Desk) -> None:
    data = desk.data("setup", "call-sheet", "visits-a-day")
    assert data["office"] == ZONING
    assert Path(data["pdf"]).parent == desk.folder / "receipts"
    before = contents(desk.folder)
    desk.data("setup", "call-sheet", ZONING)
    assert contents(desk.folder) == before, "the same day's sheet is the same bytes"


@pytest.mark.parametrize("office", ["town hal", "", "second_medium", "yourself"])
def test_a_call_to_no_office_is_refused(desk: Desk, office: str) -> None:
    assert desk.refused("setup", "call-sheet", office)["field"] == "office"


def test_an_office_that_has_answered_everything_is_not_called(desk: Desk) -> None:
    for item in shipped_catalogue():
        if item.ask == "bank":
            desk.data("setup", "answer", item.id, "--asked", "County Bank", "--state", "does-not-apply")
    refusal = desk.refused("setup", "call-sheet", "bank")
    assert (refusal["field"], "bank" in refusal["what"]) == ("office", True)


# The calendar


def test_renewals_go_to_a_file_with_the_same_uids_each_time(desk: Desk, tmp_path: Path) -> None:
    told(desk, "sales_tax_permit", "004-1234", "--expires", "2026-12-31")
    file = tmp_path / "renewals.ics"
    first = desk.data("setup", "calendar", str(file))
    assert list(first) == ["file", "replaced", "events", "next"]
    assert (first["replaced"], first["file"]) == (False, str(file))
    assert first["next"]["date"] == "2026-12-31"
    told(desk, "sales_tax_permit", "004-1234", "--expires", "2027-12-31")
    second = desk.data("setup", "calendar", str(file))
    assert second["replaced"] is True
    assert [each["uid"] for each in second["events"]] == [each["uid"] for each in first["events"]]
    events = read_calendar(file.read_bytes()).components
    assert [each.properties["UID"] for each in events] == [each["uid"] for each in second["events"]]
    assert events[0].properties["DTSTART"] == "20271231"
    assert events[0].properties["DTSTAMP"] == "20260210T000000Z", "the day that was handed in"


def test_the_same_day_makes_the_same_calendar(desk: Desk, tmp_path: Path) -> None:
    told(desk, "insurance_limit", "25000")
    for name in ("one.ics", "two.ics"):
        desk.data("setup", "calendar", str(tmp_path / name))
    assert (tmp_path / "one.ics").read_bytes() == (tmp_path / "two.ics").read_bytes()


def test_no_answer_gets_into_the_calendar(desk: Desk, tmp_path: Path) -> None:
    told(desk, "sales_tax_permit", "004-SECRET", "--expires", "2026-12-31", "--note", "call Mx Privy", asked="Ms Known")
    desk.data("setup", "calendar", str(tmp_path / "renewals.ics"))
    content = (tmp_path / "renewals.ics").read_text(encoding="utf-8").replace("\r\n ", "")
    assert not any(word in content for word in ("SECRET", "Privy", "Known"))


def test_a_calendar_without_an_event_is_not_made(desk: Desk, tmp_path: Path) -> None:
    assert desk.refused("setup", "calendar", str(tmp_path / "renewals.ics"))["field"] == "file"


def test_a_file_of_somebody_else_stays_as_it_is(desk: Desk, tmp_path: Path) -> None:
    told(desk, "insurance_limit", "25000")
    notes = tmp_path / "notes.txt"
    notes.write_text("milk", encoding="utf-8")
    assert desk.refused("setup", "calendar", str(notes))["field"] == "file"
    assert notes.read_text(encoding="utf-8") == "milk"


@pytest.mark.parametrize("file", ["", "nowhere/renewals.ics", "."])
def test_a_place_where_no_file_can_be_is_refused(desk: Desk, tmp_path: Path, file: str) -> None:
    told(desk, "insurance_limit", "25000")
    assert desk.refused("setup", "calendar", str(tmp_path / file) if file else "")["field"] == "file"
