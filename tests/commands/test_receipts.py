"""The receipt that a pickup leaves on the disk: its figures, its width, and nothing that a printer might obey."""

from __future__ import annotations

import unicodedata
from pathlib import Path

import pytest

from tests.commands.desk import Desk
from tests.commands.workshop import QUILT

WIDTH = 48
LONG = "A sampler of forty-eight blocks in thirty-one blues, pieced by three generations and never once washed " * 4


def receipt_of(desk: Desk, *words: str) -> list[str]:
    receipt = Path(desk.data("pickup", *words)["receipt"]["text"])
    assert receipt.parent == desk.folder / "receipts"
    return receipt.read_text(encoding="utf-8").splitlines()


def figure(lines: list[str], label: str) -> str:
    """What stands at the end of the line that begins with a label."""
    found = [line for line in lines if line.startswith(label + " ")]
    assert len(found) == 1, (label, lines)
    return found[0].removeprefix(label).strip()


def test_a_receipt_holds_every_figure_of_the_pickup(desk: Desk) -> None:
    lines = receipt_of(
        desk, "1", "--paid", "card=40", "--paid", "cash", "--tendered", "120", "--tip", "5", "--discount", "10.44"
    )
    said = {
        "edge-to-edge": "$80.64",
        "batting": "$28.00",
        "binding": "$76.80",
        "Subtotal": "$185.44",
        "Discount": "-$10.44",
        "Sales tax": "$9.28",
        "Tip": "$5.00",
        "Total": "$189.28",
        "Deposit": "-$50.00",
        "Due": "$139.28",
        "Paid by card": "$40.00",
        "Paid in cash": "$99.28",
        "Change": "$20.72",
    }
    assert {label: figure(lines, label) for label in said} == said
    text = "\n".join(lines)
    for words in ("Lantern", "Ada Brook", "Log cabin", "Receipt for job 1", "Feb 10, 2026"):
        assert words in text
    for part in ("state", "county"):
        assert part in text


def test_what_stays_owed_and_the_number_of_a_check_stand_on_it(desk: Desk) -> None:
    lines = receipt_of(desk, "1", "--paid", "check", "--number", "No. 1044", "--amount", "100")
    assert figure(lines, "Still owed") == "$45.27"
    assert any("No. 1044" in line and line.endswith("$100.00") for line in lines)


def test_long_names_stay_within_its_width_and_lose_nothing(desk: Desk) -> None:
    name, line = LONG[:120].strip(), LONG[:110].strip()
    desk.data("price", line, "--by", "flat", "--rate", "12.50", "--class", "work")
    new = ("job", "new", "--customer", name, "--piece", LONG[:400].strip(), *QUILT, "--line", line)
    job = desk.data(*new)["job"]
    lines = receipt_of(desk, str(job), "--paid", "check", "--number", "x" * 60)
    assert [each for each in lines if len(each) > WIDTH] == []
    letters = "".join("".join(lines).split())
    for text in (name, LONG[:400], line, "x" * 60):
        assert "".join(text.split()) in letters.replace("$12.50", ""), text


@pytest.mark.parametrize(
    "text", ["Quilt \x1b[2J\x07\x9b", "\N{RIGHT-TO-LEFT OVERRIDE}evil", "a\x00b", "tab\tand\nline"]
)
def test_nothing_on_it_is_a_control_character(desk: Desk, text: str) -> None:
    job = desk.data("job", "new", "--customer", "Ada", "--piece", text, *QUILT, "--line", "binding")["job"]
    lines = receipt_of(desk, str(job), "--paid", "check", "--number", text)
    assert {unicodedata.category(each) for line in lines for each in line}.isdisjoint(
        {"Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"}
    )


def test_a_pickup_that_is_undone_and_done_again_leaves_both_receipts(desk: Desk) -> None:
    first = desk.data("pickup", "1", "--paid", "cash")
    kept = Path(first["receipt"]["text"]).read_bytes()
    desk.data("reverse", str(first["entry"]), "--why", "the wrong job")
    again = desk.data("pickup", "1", "--paid", "check")
    assert again["receipt"]["text"] != first["receipt"]["text"]
    assert Path(first["receipt"]["text"]).read_bytes() == kept


def test_a_refused_pickup_leaves_no_receipt(desk: Desk) -> None:
    before = sorted((desk.folder / "receipts").iterdir())
    desk.refused("pickup", "1", "--paid", "cash", "--tendered", "1")
    assert sorted((desk.folder / "receipts").iterdir()) == before


def test_a_person_reads_the_receipt_and_where_it_lies(desk: Desk) -> None:
    out = desk.lines("pickup", "1", "--paid", "cash", "--tendered", "150")
    assert figure(out.splitlines(), "Change") == "$4.73"
    assert str(desk.folder / "receipts") in out


def test_work_that_nobody_was_asked_about_is_told_at_the_counter(empty_desk: Desk) -> None:
    empty_desk.data("new", "--name", "Lantern", on="2026-01-05")
    empty_desk.data("price", "binding", "--by", "length", "--rate", "0.30", "--class", "work")
    line = ("job", "new", "--customer", "Ada", "--piece", "Top", *QUILT, "--line", "binding")
    assert "«work»" in empty_desk.lines(*line)
    out = empty_desk.lines("pickup", "1", "--paid", "cash")
    assert "Whether «work» is taxed is not answered yet" in out
    receipt = next((empty_desk.folder / "receipts").glob("*.txt")).read_text(encoding="utf-8")
    assert "xempt" not in receipt


def test_an_exempt_customer_is_expected_to_pay_no_tax_and_pays_none(desk: Desk) -> None:
    desk.data("customer", "Guild", "--exempt", "school", "--certificate", "77", "--expires", "2026-02-28")
    line = ("job", "new", "--customer", "Guild", "--piece", "Top", *QUILT, "--line", "binding")
    job = desk.data(*line)
    assert (job["tax_expected"], job["total_expected"]) == ("0.00", "76.80")
    assert desk.data("job", "show", str(job["job"]), on="2026-03-01")["tax_expected"] == "4.07"
    picked_up = desk.data("pickup", str(job["job"]), "--paid", "cash")
    assert (picked_up["tax"], picked_up["taxes"], picked_up["warnings"]) == ("0.00", [], [])
