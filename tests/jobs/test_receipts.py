"""What a receipt says, word by word."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from ledger.paper.plain import WIDTH
from ledger.paper.wrapping import terminal_columns
from tests.jobs.receipts_of_one_day import PICKUPS, Pickup, masked


@pytest.fixture(params=PICKUPS)
def pickup(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[tuple[str, Pickup]]:
    books, done = PICKUPS[request.param](tmp_path / "books")
    yield request.param, (books, done)
    books.close()


def test_a_receipt_reads_as_it_was_looked_over(pickup: tuple[str, Pickup]) -> None:
    name, (_, done) = pickup
    golden = Path(__file__).parent / "receipts" / f"{name}.txt"
    assert masked(done.receipt.read_text(encoding="utf-8")) == golden.read_text(encoding="utf-8")


def test_a_receipt_fits_its_paper(pickup: tuple[str, Pickup]) -> None:
    _, (_, done) = pickup
    lines = done.receipt.read_text(encoding="utf-8").splitlines()
    assert max(map(terminal_columns, lines)) <= WIDTH


def test_a_receipt_names_its_entry_and_the_first_digits_of_its_digest(pickup: tuple[str, Pickup]) -> None:
    _, (_, done) = pickup
    text = done.receipt.read_text(encoding="utf-8")
    if done.entry is None:
        assert "entry" not in text
        assert done.receipt.name == "receipt-job-1.txt"
    else:
        assert f"entry {done.entry.number} " in text
        assert text.endswith(f" {done.entry.digest[:12]}\n")
        assert done.receipt.name == f"receipt-job-1-entry-{done.entry.number}.txt"


def test_where_nobody_was_asked_no_exemption_is_claimed(tmp_path: Path) -> None:
    books, done = PICKUPS["of_a_class_that_nobody_was_asked_about"](tmp_path / "books")
    books.close()
    text = done.receipt.read_text(encoding="utf-8").casefold()
    assert done.settlement.slip.tax.unanswered == ("work",)
    assert [word for word in ("exempt", "not taxed", "untaxed", "no sales tax", "tax-free") if word in text] == []
