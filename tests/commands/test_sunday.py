"""Sunday evening by commands: documents and their limit, the household's opening, a whole call, what is refused."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.commands.desk import Desk

SPEND = ("spend", "90", "--category", "thread", "--from", "checking", "--who", "Mill")


@pytest.fixture
def scan(tmp_path: Path) -> str:
    (tmp_path / "scan.pdf").write_bytes(b"%PDF-1.7")
    return str(tmp_path / "scan.pdf")


def test_a_document_is_found_from_what_it_proves_and_from_itself(desk: Desk, scan: str) -> None:
    entry = desk.data(*SPEND)["entry"]
    digest = desk.data("attach", scan, "--entry", str(entry))["digest"]
    desk.data("attach", scan, "--item", "power")
    (one,) = desk.data("view", "--entry", str(entry), "--list")["documents"]
    assert (one["digest"], one["label"], one["belongs_to"]) == (digest, "scan.pdf", f"entry {entry}")
    found = desk.data("view", "--document", digest[:10], "--list")
    assert [each["belongs_to"] for each in found["documents"]] == ["item power", f"entry {entry}"]
    assert found["opened"] is None


def test_what_has_no_document_is_refused_to_be_viewed_and_lists_nothing(desk: Desk) -> None:
    entry = str(desk.data(*SPEND)["entry"])
    assert desk.data("view", "--entry", entry, "--list")["documents"] == []
    assert desk.refused("view", "--entry", entry)["field"] == "entry"
    assert desk.refused("view", "--document", "abcd")["field"] == "document"
    assert desk.refused("view")["field"] == "entry"


def test_receipts_without_a_document_are_those_above_her_limit(desk: Desk) -> None:
    entry = desk.data(*SPEND)["entry"]
    assert desk.data("document-limit")["above"] == "75.00"
    assert entry in missing(desk)
    assert desk.data("document-limit", "90")["above"] == "90.00"
    assert entry not in missing(desk)
    assert {entry, 4} <= set(missing(desk, "--above", "0")), "the small one of the workshop too"
    assert desk.refused("document-limit", "-1")["field"] == "amount"


def missing(desk: Desk, *words: str) -> list[int]:
    return [each["entry"] for each in desk.data("documents", *words)["missing"]]


def test_a_receipt_whose_document_is_another_thing_is_booked_and_told(desk: Desk, tmp_path: Path) -> None:
    (tmp_path / "photo.jpg").write_bytes(b"%PDF-1.7")
    told = desk.data(*SPEND, "--document", str(tmp_path / "photo.jpg"))
    assert "named as a JPEG picture, and by its content it is a PDF" in told["remark"]
    assert desk.data(*SPEND)["remark"] is None


def test_the_household_begins_with_an_amount_and_nothing_crosses(desk: Desk) -> None:
    before = desk.data("crossings")
    told = desk.data("open-household", "2400")
    assert told["amount"] == "2400.00"
    accounts = {each["name"]: each["balance"] for each in desk.data("chart")["accounts"]}
    assert (accounts["household checking"], accounts["household opening balance"]) == ("2400.00", "-2400.00")
    assert desk.data("crossings") == before
    assert desk.refused("open-household", "1")["field"] == "account"
    assert desk.data("prove")["ok"] is True


def test_a_whole_call_is_one_command(desk: Desk) -> None:
    told = desk.data(
        *("setup", "heard", "goods_taxed", "--asked", "Ms Roe", "--reference", "Ruling 12"),
        *("--answer", "goods_taxed=yes", "--answer", "work_taxed=no", "--answer", "delivery_taxed=?"),
    )
    assert [(each["id"], each["state"]) for each in told["items"]] == [
        ("goods_taxed", "done"),
        ("work_taxed", "done"),
        ("delivery_taxed", "asked"),
    ]
    assert told["fed"] == ["«goods» is taxed", "«work» is not taxed"]
    assert desk.refused("setup", "heard", "goods_taxed", "--asked", "Ms Roe", "--answer", "out_of_state")["field"] == (
        "answer"
    )


def test_a_category_counted_under_another_is_not_renamed_in_its_place(desk: Desk) -> None:
    desk.data("category", "merge", "travel", "meals")
    assert desk.refused("category", "rename", "travel", "journeys")["field"] == "name"
    names = [each["name"] for each in desk.data("category", "list")["categories"]]
    assert "meals" in names


def test_no_social_security_number_of_somebody_who_is_paid_comes_in(desk: Desk) -> None:
    desk.data("helper", "pay", "Nell", "45")
    assert "Social Security" in desk.refused("helper", "form", "Nell", "W-9, 123-45-6789")["what"]
    assert desk.refused("helper", "form", "Nell", " ")["field"] == "form"
    desk.data("helper", "form", "Nell", "W-9")
    assert [each["form"] for each in desk.data("helper", "list")["helpers"]] == ["W-9"]
