"""Every path inside a books folder, and the private way in which files are written there."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

BOOKS_FILE = "books.sqlite3"
DOCUMENTS = "documents"
BACKUPS = "backups"
PACKETS = "packets"
RECEIPTS = "receipts"
LISTS = "lists"
SUBFOLDERS = (DOCUMENTS, BACKUPS, PACKETS, RECEIPTS)


def books_file(folder: Path) -> Path:
    return folder / BOOKS_FILE


def private_folder(folder: Path) -> Path:
    """The folder, made if need be, for nobody but its owner (Windows profiles have their own rules)."""
    folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    return folder


def lists_folder(folder: Path) -> Path:
    """Where lists that were saved lie; made with the first of them."""
    return folder / LISTS


@contextmanager
def private_files() -> Iterator[None]:
    """Files made inside are for nobody but their owner."""
    before = os.umask(0o077)
    try:
        yield
    finally:
        os.umask(before)


def write_durably(path: Path, content: bytes) -> None:
    """The bytes on the disk, not only handed to the system, or an OSError and no file."""
    with private_files():
        try:
            with path.open("wb") as file:
                file.write(content)
                file.flush()
                os.fsync(file.fileno())
        except OSError:
            path.unlink(missing_ok=True)
            raise


def move_into_place(file: Path, target: Path) -> None:
    """Give a finished file its name. Raises FileExistsError rather than write over what stands there."""
    if sys.platform == "win32":
        file.rename(target)  # refuses by itself
        return
    try:
        os.link(file, target)
        file.unlink()
    except FileExistsError:
        raise
    except OSError:  # a disk that knows no links, such as a stick's
        if target.exists():
            raise FileExistsError(target) from None
        file.rename(target)


def sync_folder(folder: Path) -> None:
    """Make a rename inside the folder survive a power cut; Windows has no such call and needs none."""
    if sys.platform == "win32":
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
