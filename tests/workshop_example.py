"""The example's books for any test: built once for a day and a state of the program, then copied, which is cheap.

The copies come from a folder under the system's own temporary one, named by a digest of everything in `ledger/`, so
that a changed program never meets books that an older one built.
"""

from __future__ import annotations

import hashlib
import os
import shutil
import tempfile
import time
from contextlib import suppress
from datetime import date, datetime
from functools import cache
from pathlib import Path

import ledger
from ledger.books.books import Books
from ledger.books.clock import Clock
from ledger.books.opening import open_books
from ledger.example.build import build_example

EXAMPLE_DAY = date(2026, 11, 25)
_LEDGER = Path(ledger.__file__).parent
_KEPT_SECONDS = 24 * 3600


def clock_of(day: date) -> Clock:
    return Clock(day, datetime(day.year, day.month, day.day, 17))


def copy_example(folder: Path, day: date = EXAMPLE_DAY) -> Path:
    """The example's books in `folder`, which must not be there yet; gives it back."""
    shutil.copytree(_built(day), folder)
    return folder


def open_example(folder: Path, day: date = EXAMPLE_DAY) -> Books:
    """The same, opened on their last day; whoever opens them closes them."""
    return open_books(copy_example(folder, day), clock_of(day))


def _built(day: date) -> Path:
    """The folder that copies are taken from; two test runs at once may both build, and one of them is kept."""
    cached = _cache() / day.isoformat()
    if not cached.exists():
        building = Path(tempfile.mkdtemp(prefix=".building-", dir=_cache()))
        try:
            build_example(building / "books", clock_of(day)).close()
            (building / "books").rename(cached)
        except OSError:
            if not cached.exists():
                raise
        finally:
            shutil.rmtree(building, ignore_errors=True)
    return cached


@cache
def _cache() -> Path:
    owner = os.getuid() if hasattr(os, "getuid") else "own"
    root = Path(tempfile.gettempdir()) / f"twopurse-example-{owner}"
    root.mkdir(mode=0o700, exist_ok=True)
    folder = root / _digest_of_the_program()
    folder.mkdir(mode=0o700, exist_ok=True)
    os.utime(folder)
    for older in root.iterdir():
        with suppress(FileNotFoundError):  # another run may be tidying up too
            if older.stat().st_mtime < time.time() - _KEPT_SECONDS:
                shutil.rmtree(older, ignore_errors=True)
    return folder


def _digest_of_the_program() -> str:
    digest = hashlib.sha256()
    for path in sorted(each for each in _LEDGER.rglob("*") if each.is_file() and each.suffix != ".pyc"):
        content = path.read_bytes()
        digest.update(f"{path.relative_to(_LEDGER).as_posix()}:{len(content)}:".encode() + content)
    return digest.hexdigest()[:16]
