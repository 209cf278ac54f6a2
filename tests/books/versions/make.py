"""`python3 -m tests.books.versions.make`: keep a small books folder of the newest schema version beside this file.

Run it before the first migration of the next version is added, and commit what it makes. It is never made again.
"""

from __future__ import annotations

import json
import shlex
import shutil
import sys
from contextlib import closing
from datetime import date, datetime, time
from pathlib import Path

from ledger.books.balances import balances
from ledger.books.clock import Clock
from ledger.books.migrate import newest_version
from ledger.books.opening import open_books
from ledger.books.places import RECEIPTS
from ledger.books.prove import prove
from ledger.cli import main as twopurse

KEPT_IN = Path(__file__).resolve().parent
LAST_DAY = date(2026, 1, 31)
STEPS = (
    ("2026-01-05", 'new --name "Alder Lane" --opening 500 --machine-price 18500 --machine-date 2025-11-01'),
    ("2026-01-05", "tax rate state 4.3 --from 2026-01-01"),
    ("2026-01-05", 'tax class work yes --asked "revenue office"'),
    ("2026-01-05", "price edge-to-edge --by area --rate 0.02 --class work"),
    ("2026-01-06", 'job new --customer "Ada Brook" --piece "Log cabin, café" --width 56 --length 72 --value 400 '
                   "--line edge-to-edge"),
    ("2026-01-07", "job deposit 1 50.00 --paid check --number 1021"),
    ("2026-01-15", "pickup 1 --paid cash=30.00 --paid owed --tip 5.00"),
    ("2026-01-20", 'spend 80.00 --category thread --from "workshop card" --who "Corner shop" --home 30.00 '
                   "--document {receipt}"),
    ("2026-01-21", 'move 20.00 "cash box" checking'),
    ("2026-01-22", 'reverse 6 --why "typed twice"'),
    ("2026-01-31", "draw 40.00"),
)  # fmt: skip


def make(kept_in: Path = KEPT_IN) -> Path:
    """Books of one month, and beside them what they have to say: their head and their balances."""
    place = kept_in / str(newest_version())
    folder = place / "books"
    assert not place.exists(), f"{place} is kept already"
    place.mkdir()
    receipt = place / "receipt.jpg"
    receipt.write_bytes(b"a picture of a receipt \x00")
    for day, words in STEPS:
        typed = shlex.split(words.format(receipt=shlex.quote(receipt.as_posix())))
        code = twopurse([*typed, "--books", str(folder), "--on", day])
        assert code == 0, words
    receipt.unlink()
    shutil.rmtree(folder / RECEIPTS)  # made from the books, and as large as they are when packed
    (place / "says.json").write_text(json.dumps(said_by(folder), indent=1, sort_keys=True) + "\n", encoding="utf-8")
    return place


def said_by(folder: Path) -> dict[str, object]:
    """The head of the entries, and each balance that is not nothing, as these books tell them now."""
    clock = Clock(LAST_DAY, datetime.combine(LAST_DAY, time()))
    with closing(open_books(folder, clock)) as books:
        proof = prove(books)
        assert proof.findings == (), proof.findings
        standing = {each.account.name: each.cents for each in balances(books, LAST_DAY) if each.cents}
        return {"entries": proof.entries, "head": proof.head.digest, "balances": standing}


if __name__ == "__main__":
    print(f"Made {make()}", file=sys.stderr)
