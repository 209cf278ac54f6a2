"""Write the last whole month's bank statement of the invented workshop, in OFX and in CSV.

`python -m demo.write_statements FOLDER [BOOKS]`, inside .venv. BOOKS are the example's own, where they lie somewhere;
else they are made for this alone.
"""

from __future__ import annotations

import sys
import tempfile
from datetime import datetime
from pathlib import Path

from ledger.books.clock import Clock
from ledger.books.opening import open_books
from ledger.example.build import build_example
from ledger.example.statement import write_last_month


def main(given: list[str]) -> int:
    if not 1 <= len(given) <= 2:
        print(__doc__)
        return 2
    now = datetime.now().astimezone()
    clock = Clock(now.date(), now)
    if len(given) == 2:
        books = open_books(Path(given[1]), clock)
        paths = write_last_month(Path(given[0]), books)
        books.close()
    else:
        with tempfile.TemporaryDirectory(prefix="twopurse-") as scratch:
            books = build_example(Path(scratch) / "books", clock)
            paths = write_last_month(Path(given[0]), books)
            books.close()
    for path in paths:
        print(path)
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
