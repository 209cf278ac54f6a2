"""Write the last whole month's bank statement of the invented workshop, in OFX and in CSV.

`python -m demo.write_statements FOLDER [BOOKS]`, inside .venv. BOOKS are the example's own, where they lie somewhere;
else they are made for this alone.
"""

from __future__ import annotations

import sys
import tempfile
from datetime import datetime, timedelta
from pathlib import Path

from ledger.books.books import Books
from ledger.books.clock import Clock
from ledger.books.opening import open_books
from ledger.example.build import build_example
from ledger.example.statement import as_csv, as_ofx, month_statement
from ledger.periods import month_holding


def write(folder: Path, books: Books) -> list[Path]:
    """The two files, and the books that they belong to untouched."""
    month = month_holding(books.today.replace(day=1) - timedelta(days=1))
    statement = month_statement(books, month)
    folder.mkdir(parents=True, exist_ok=True)
    paths = [folder / f"checking-{month.label}.{ending}" for ending in ("ofx", "csv")]
    for path, content in zip(paths, (as_ofx(statement), as_csv(statement)), strict=True):
        path.write_bytes(content)
    return paths


def main(given: list[str]) -> int:
    if not 1 <= len(given) <= 2:
        print(__doc__)
        return 2
    now = datetime.now().astimezone()
    clock = Clock(now.date(), now)
    if len(given) == 2:
        books = open_books(Path(given[1]), clock)
        paths = write(Path(given[0]), books)
        books.close()
    else:
        with tempfile.TemporaryDirectory(prefix="twopurse-") as scratch:
            books = build_example(Path(scratch) / "books", clock)
            paths = write(Path(given[0]), books)
            books.close()
    for path in paths:
        print(path)
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
