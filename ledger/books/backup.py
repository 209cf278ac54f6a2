"""Back up the books into one zip file, and restore them from one without ever writing over what is there."""

from __future__ import annotations

import hashlib
import json
import re
import shutil
import tempfile
import zipfile
from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

from ledger.books.books import Books
from ledger.books.chain import Head, head
from ledger.books.clock import Clock
from ledger.books.connection import copy_into, refusal_for_file
from ledger.books.opening import open_books
from ledger.books.places import (
    BACKUPS,
    BOOKS_FILE,
    DOCUMENTS,
    PACKETS,
    RECEIPTS,
    books_file,
    private_files,
    private_folder,
    sync_folder,
)
from ledger.books.prove import prove
from ledger.errors import BooksDamaged, NotFound, NotUnderstood

MANIFEST = "manifest.json"
# A zip holds no earlier time; a fixed one makes two backups of the same books the same bytes.
_ZIP_TIME = (1980, 1, 1, 0, 0, 0)
_BACKUP_NAME = re.compile(r"backup-(\d{4}-\d{2}-\d{2})(?:-(\d+))?\.zip")
KEPT_DAYS, KEPT_WEEKS, KEPT_MONTHS = 7, 5, 12


@dataclass(frozen=True)
class Backup:
    file: Path
    head: Head


def back_up(books: Books, target: Path | None = None) -> Backup:
    """A proved copy of the books and their documents as one zip, at `target` or in the backups folder.

    Raises BooksDamaged where the copy is not whole (damaged books are still copied, to a `target` that is named),
    BooksNotUsable where the target cannot be written.
    """
    file = target or _next_name(books.folder / BACKUPS, books.today)
    if file.exists():
        raise NotUnderstood(f"{file} is there already.", "Name another file: a backup writes over nothing.", "file")
    try:
        private_folder(file.parent)
        with private_files(), tempfile.TemporaryDirectory(prefix=".backup-", dir=file.parent) as scratch:
            copy = Path(scratch) / BOOKS_FILE
            copy_into(books.connection, copy)
            _check_copy(books, Path(scratch))
            waiting = Path(scratch) / "backup.zip"
            _write_zip(books, copy, waiting)
            waiting.rename(file)
            sync_folder(file.parent)
        if target is None:
            _drop_old_backups(file.parent)
    except OSError as error:
        raise refusal_for_file(error, file.parent) from error
    return Backup(file, head(books.connection))


def restore(file: Path, folder: Path, clock: Clock) -> Backup:
    """Put the books of a backup in `folder`; what stood there is put aside under another name, whole.

    The backup proves itself in a scratch folder first. Raises NotFound, NotUnderstood, BooksDamaged, BooksNotUsable.
    """
    folder = folder.resolve()
    try:
        private_folder(folder.parent)
        with private_files(), tempfile.TemporaryDirectory(prefix=".restore-", dir=folder.parent) as scratch:
            _unpack(file, Path(scratch))
            restored_head = _prove_folder(Path(scratch), clock, _head_of(folder, clock))
            aside = _put_aside(folder, clock.today)
            Path(scratch).rename(folder)
            Path(scratch).mkdir()
            _carry_over(aside, folder)
            sync_folder(folder.parent)
    except OSError as error:
        raise refusal_for_file(error, folder) from error
    return Backup(file, restored_head)


def backups_to_drop(days: Iterable[date]) -> set[date]:
    """Which of the days on which backups were made are kept no longer.

    Kept: the newest 7 days, the last day of the newest 5 weeks and 12 months, and every year's last.
    """
    newest_first = sorted(set(days), reverse=True)
    kept = set(newest_first[:KEPT_DAYS])
    for period, count in ((_week, KEPT_WEEKS), (_month, KEPT_MONTHS), (_year, len(newest_first))):
        last_of_period: dict[tuple[int, ...], date] = {}
        for day in newest_first:
            last_of_period.setdefault(period(day), day)
        kept.update(list(last_of_period.values())[:count])
    return set(newest_first) - kept


def _week(day: date) -> tuple[int, ...]:
    return day.isocalendar()[:2]


def _month(day: date) -> tuple[int, ...]:
    return day.year, day.month


def _year(day: date) -> tuple[int, ...]:
    return (day.year,)


def _next_name(folder: Path, today: date) -> Path:
    file, number = folder / f"backup-{today}.zip", 2
    while file.exists():
        file, number = folder / f"backup-{today}-{number}.zip", number + 1
    return file


def _drop_old_backups(folder: Path) -> None:
    by_day: dict[date, list[Path]] = {}
    for file in folder.iterdir():
        found = _BACKUP_NAME.fullmatch(file.name)
        if found:
            by_day.setdefault(date.fromisoformat(found[1]), []).append(file)
    for day in backups_to_drop(by_day):
        for file in by_day[day]:
            file.unlink()


def _check_copy(books: Books, scratch: Path) -> None:
    copy = open_books(scratch, books.clock)
    try:
        proof = prove(replace(copy, folder=books.folder))
    finally:
        copy.close()
    if not proof.ok and books.damage is None:
        raise BooksDamaged(
            f"The books are not whole, so no backup was made: {proof.findings[0].sentence}.",
            "Run «twopurse prove» for all findings; your earlier backups stand.",
            "books",
        )


def _write_zip(books: Books, copy: Path, target: Path) -> None:
    attached = [row[0] for row in books.rows("select distinct digest from attachment order by digest")]
    files = {BOOKS_FILE: copy}
    files |= {f"{DOCUMENTS}/{digest}": books.folder / DOCUMENTS / digest for digest in attached}
    files = {name: path for name, path in files.items() if path.exists()}
    last = head(books.connection)
    manifest = {
        "entries": last.number,
        "head": last.digest,
        "files": {name: hashlib.sha256(path.read_bytes()).hexdigest() for name, path in files.items()},
    }
    with zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, path in files.items():
            archive.writestr(zipfile.ZipInfo(name, _ZIP_TIME), path.read_bytes(), zipfile.ZIP_DEFLATED)
        archive.writestr(zipfile.ZipInfo(MANIFEST, _ZIP_TIME), json.dumps(manifest, indent=1, sort_keys=True))


def _unpack(file: Path, scratch: Path) -> None:
    """Only what the manifest lists, under the names that a backup uses, with the digests that it states."""
    not_one = NotUnderstood(
        f"{file.name} is no backup of these books.", "Choose a file made by «twopurse backup».", "file"
    )
    try:
        with zipfile.ZipFile(file) as archive:
            manifest = json.loads(archive.read(MANIFEST))
            for name, digest in manifest["files"].items():
                if name != BOOKS_FILE and not re.fullmatch(rf"{DOCUMENTS}/[0-9a-f]{{64}}", name):
                    raise not_one
                content = archive.read(name)
                if hashlib.sha256(content).hexdigest() != digest:
                    raise BooksDamaged(
                        f"{name} in the backup is not what was backed up.", "Choose another backup.", "file"
                    )
                private_folder((scratch / name).parent)
                (scratch / name).write_bytes(content)
    except FileNotFoundError:
        raise NotFound(f"There is no file {file}.", "Look in the backups folder of the books.", "file") from None
    except (zipfile.BadZipFile, KeyError, ValueError, TypeError, AttributeError):
        raise not_one from None


def _prove_folder(scratch: Path, clock: Clock, head_before: str | None) -> Head:
    restored = open_books(scratch, clock)
    try:
        proof = prove(restored)
        if not proof.ok:
            raise BooksDamaged(
                f"The backup is not whole: {proof.findings[0].sentence}.", "Choose another backup.", "file"
            )
        if head_before is not None:
            with restored.writing() as write:
                write.add("restored", head_before=head_before, at=clock.today.isoformat())
        return proof.head
    finally:
        restored.close()


def _head_of(folder: Path, clock: Clock) -> str | None:
    """The head of the books that are about to be put aside, as far as they can be read."""
    from ledger.errors import Refused

    if not books_file(folder).exists():
        return None
    try:
        books = open_books(folder, clock)
    except Refused:
        return "not readable"
    try:
        return str(head(books.connection))
    finally:
        books.close()


def _put_aside(folder: Path, today: date) -> Path | None:
    if not folder.exists():
        return None
    aside, number = folder.with_name(f"{folder.name}-before-{today}"), 2
    while aside.exists():
        aside, number = folder.with_name(f"{folder.name}-before-{today}-{number}"), number + 1
    return folder.rename(aside)


def _carry_over(aside: Path | None, folder: Path) -> None:
    """Backups, packets and receipts are wanted in the restored folder too; the one put aside stays whole."""
    for name in (BACKUPS, PACKETS, RECEIPTS):
        if aside is not None and (aside / name).is_dir():
            shutil.copytree(aside / name, folder / name)
        private_folder(folder / name)
    private_folder(folder / DOCUMENTS)
