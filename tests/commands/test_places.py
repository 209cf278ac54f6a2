"""Books of other places: yen, which have no decimals, dinars, which have three, and centimetres."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.commands.desk import Desk

BEGUN = "2026-01-05"


def begin(desk: Desk, *words: str) -> None:
    desk.data("new", "--name", "工房 さくら", *words, on=BEGUN)
    desk.data("tax", "rate", "state", "10", "--from", "2026-01-01")
    desk.data("tax", "class", "work", "yes", "--asked", "税務署")


def test_yen_have_no_decimals_anywhere(empty_desk: Desk) -> None:
    begin(empty_desk, "--currency", "JPY", "--locale", "ja_JP", "--machine-price", "2500000")
    price = empty_desk.data("price", "キルト", "--by", "area", "--rate", "0.85", "--class", "work")
    assert (price["rate"], price["minimum"]) == ("0.85", "0")
    assert empty_desk.data("price", "糸", "--by", "each", "--rate", "120", "--class", "goods")["rate"] == "120"
    job = empty_desk.data(
        *("job", "new", "--customer", "山田", "--piece", "星", "--width", "55", "--length", "71"),
        *("--value", "40000", "--line", "キルト"),
    )
    assert [(each["quantity"], each["amount"]) for each in job["lines"]] == [("3905", "3319")]  # 3319.25 yen
    assert empty_desk.data("job", "deposit", "1", "1000", "--paid", "cash")["deposit"] == "1000"
    picked_up = empty_desk.data("pickup", "1", "--paid", "cash", "--tendered", "5000")
    assert (picked_up["tax"], picked_up["total"], picked_up["due"], picked_up["change"]) == (
        *("332", "3651"),
        *("2651", "2349"),
    )
    receipt = Path(picked_up["receipt"]["text"]).read_text(encoding="utf-8")
    assert "￥2,349" in receipt
    assert "at 0.85" in receipt
    assert ".00" not in receipt
    assert empty_desk.balances()["cash box"] == "3651"
    assert empty_desk.data("payback")["share"] == "0.13"
    assert ".00" not in empty_desk.lines("chart")


@pytest.mark.parametrize("amount", ["5.5", "5.05", "0.1"])
def test_part_of_a_yen_is_refused(empty_desk: Desk, amount: str) -> None:
    begin(empty_desk, "--currency", "JPY", "--locale", "ja_JP")
    assert empty_desk.refused("draw", amount)["what"] == f"«{amount}» has more decimals than JPY has."
    assert empty_desk.data("draw", "5.0")["amount"] == "5"


def test_dinars_have_three_decimals(empty_desk: Desk) -> None:
    begin(empty_desk, "--currency", "KWD", "--opening", "12.3450")
    assert empty_desk.balances()["checking"] == "12.345"
    assert empty_desk.refused("draw", "0.0001")["field"] == "amount"


def test_centimetres_measure_everything(empty_desk: Desk) -> None:
    begin(empty_desk, "--units", "cm")
    for name, by in (("quilting", "area"), ("binding", "length"), ("batting", "inch"), ("backing", "yard")):
        empty_desk.data("price", name, "--by", by, "--rate", "1", "--class", "work")
    lines = [word for name in ("quilting", "binding", "batting", "backing") for word in ("--line", name)]
    job = empty_desk.data(
        *("job", "new", "--customer", "x", "--piece", "x", "--width", "100", "--length", "150", "--value", "1"), *lines
    )
    assert [(each["quantity"], each["unit"], each["amount"]) for each in job["lines"]] == [
        ("15000", "sq cm", "15000.00"),
        ("500", "cm", "500.00"),
        ("170", "cm", "170.00"),
        ("1.6404", "yd", "1.64"),
    ]


@pytest.mark.parametrize(
    ("words", "field"),
    [
        (("--currency", "QQQ"), "currency"),
        (("--currency", ""), "currency"),
        (("--locale", "xx_YY_zz"), "locale"),
        (("--locale", ""), "locale"),
        (("--name", "[/]"), "name"),
        (("--opening", "-5"), "opening"),
    ],
)
def test_books_that_could_not_be_kept_are_not_begun(empty_desk: Desk, words: tuple[str, ...], field: str) -> None:
    assert empty_desk.refused("new", "--name", "Lantern", *words)["field"] == field
    assert not empty_desk.folder.exists()


def test_books_are_not_begun_over_others(desk: Desk) -> None:
    assert desk.refused("new", "--name", "Lantern")["field"] == "books"
