"""Back up the books into one zip file, and restore them from one without ever writing over what is there."""

from __future__ import annotations

import hashlib
import json
import os
import re
import shutil
import struct
import tempfile
import zipfile
import zlib
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

from ledger.books.books import Books
from ledger.books.chain import Head, head
from ledger.books.clock import Clock
from ledger.books.connection import FILE_FAULTS, copy_into, refusal_for_file
from ledger.books.opening import open_books
from ledger.books.places import (
    BACKUPS,
    BOOKS_FILE,
    DOCUMENTS,
    PACKETS,
    RECEIPTS,
    books_file,
    lists_folder,
    move_into_place,
    private_files,
    private_folder,
    sync_folder,
    write_durably,
)
from ledger.books.prove import Proof, prove
from ledger.books.scans import Finding
from ledger.errors import BooksBusy, BooksDamaged, BooksNotUsable, NotFound, NotUnderstood, Refused

MANIFEST = "manifest.json"
# A zip holds no earlier time; a fixed one makes two backups of the same books the same bytes.
_ZIP_TIME = (1980, 1, 1, 0, 0, 0)
_MEMBER = re.compile(rf"{re.escape(BOOKS_FILE)}|{DOCUMENTS}/[0-9a-f]{{64}}")
_BACKUP_NAME = re.compile(r"backup-(\d{4}-\d{2}-\d{2})(?:-(\d+))?\.zip")
KEPT_DAYS, KEPT_WEEKS, KEPT_MONTHS = 7, 5, 12


# What the standard library raises for a file that is no zip, or one that was cut off, changed or locked.
_NO_BACKUP = (
    zipfile.BadZipFile,
    zlib.error,
    EOFError,
    struct.error,
    KeyError,
    ValueError,
    TypeError,
    AttributeError,
    RuntimeError,
)


@dataclass(frozen=True)
class Backup:
    """findings: what is wrong with books that were copied as they are, to a file that was named."""

    file: Path
    head: Head
    findings: tuple[Finding, ...] = ()


def back_up(books: Books, target: Path | None = None) -> Backup:
    """A proved copy of the books and their documents as one zip, at `target` or in the backups folder.

    Raises BooksDamaged where the copy is not whole, unless a `target` is named: then they are copied as they are, with
    the findings. Raises NotUnderstood where the target exists, BooksNotUsable where it cannot be written.
    """
    folder = target.parent if target is not None else books.folder / BACKUPS
    try:
        file = target or _next_name(folder, books.today)
        if file.exists():
            raise _there_already(file)
        proof = _make_zip(books, file, even_damaged=target is not None)
        if target is None:
            _drop_old_backups(folder)
    except OSError as error:
        raise refusal_for_file(error, folder) from error
    return Backup(file, proof.head, proof.findings)


def restore(file: Path, folder: Path, clock: Clock) -> Backup:
    """Put the books of a backup in `folder`; what stood there is put aside under another name, whole.

    The backup proves itself in a scratch folder first. Raises NotFound, NotUnderstood, BooksDamaged, BooksNotUsable.
    """
    folder = folder.resolve()
    try:
        private_folder(folder.parent)
        with private_files(), tempfile.TemporaryDirectory(prefix=".restore-", dir=folder.parent) as scratch:
            stated_head = _unpack(file, Path(scratch))
            restored_head = _prove_folder(Path(scratch), file, clock, stated_head, _head_of(folder, clock))
            _carry_over(folder, Path(scratch))
            _swap(Path(scratch), folder, clock.today)
            Path(scratch).mkdir()  # for the end of the temporary folder to remove
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


def _make_zip(books: Books, file: Path, *, even_damaged: bool) -> Proof:
    private_folder(file.parent)
    with private_files(), tempfile.TemporaryDirectory(prefix=".backup-", dir=file.parent) as scratch:
        copy = Path(scratch) / BOOKS_FILE
        copy_into(books.connection, copy)
        proof = _prove_copy(books, Path(scratch))
        if not proof.ok and not even_damaged:
            raise _not_whole(proof)
        waiting = Path(scratch) / "backup.zip"
        _write_zip(books, copy, proof.head, waiting)
        try:
            move_into_place(waiting, file)
        except FileExistsError:
            raise _there_already(file) from None
        sync_folder(file.parent)
        return proof


def _there_already(file: Path) -> NotUnderstood:
    return NotUnderstood(f"{file} is there already.", "Name another file: a backup writes over nothing.", "file")


def _prove_copy(books: Books, scratch: Path) -> Proof:
    copy = open_books(scratch, books.clock)
    try:
        return prove(replace(copy, folder=books.folder))
    finally:
        copy.close()


def _not_whole(proof: Proof) -> BooksDamaged:
    return BooksDamaged(
        f"The books are not whole, so no backup was made: {proof.findings[0].sentence}.",
        "Run «twopurse prove» for all findings; your earlier backups stand. «twopurse backup FILE» copies the books as "
        "they are.",
        "books",
    )


def _write_zip(books: Books, copy: Path, last: Head, target: Path) -> None:
    attached = [row[0] for row in books.rows("select distinct digest from attachment order by digest")]
    files = {BOOKS_FILE: copy}
    files |= {f"{DOCUMENTS}/{digest}": books.folder / DOCUMENTS / digest for digest in attached}
    files = {name: path for name, path in files.items() if _MEMBER.fullmatch(name) and path.is_file()}
    manifest = {
        "entries": last.number,
        "head": last.digest,
        "files": {name: hashlib.sha256(path.read_bytes()).hexdigest() for name, path in files.items()},
    }
    with target.open("wb") as file:
        with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as archive:
            for name, path in files.items():
                archive.writestr(zipfile.ZipInfo(name, _ZIP_TIME), path.read_bytes(), zipfile.ZIP_DEFLATED)
            archive.writestr(zipfile.ZipInfo(MANIFEST, _ZIP_TIME), json.dumps(manifest, indent=1, sort_keys=True))
        file.flush()
        os.fsync(file.fileno())


def _unpack(file: Path, scratch: Path) -> str:
    """Write what the backup holds into a folder; the digest of the head that its manifest states."""
    contents = _contents(file)
    _, stated_head = next(contents)
    for name, content in contents:
        private_folder((scratch / name).parent)
        write_durably(scratch / name, content)
    return stated_head.decode()


def _contents(file: Path) -> Iterator[tuple[str, bytes]]:
    """The stated head, then what the manifest lists and nothing else, under the names that a backup uses."""
    no_backup = NotUnderstood(
        f"{file.name} is no backup of these books.", "Choose a file made by «twopurse backup».", "file"
    )
    try:
        with zipfile.ZipFile(file) as archive:
            manifest = json.loads(archive.read(MANIFEST))
            digests: dict[str, str] = manifest["files"]
            if sorted(archive.namelist()) != sorted([*digests, MANIFEST]) or BOOKS_FILE not in digests:
                raise no_backup
            if not all(_MEMBER.fullmatch(name) for name in digests):
                raise no_backup
            yield MANIFEST, manifest["head"].encode()
            for name, digest in digests.items():
                content = archive.read(name)
                if hashlib.sha256(content).hexdigest() != digest:
                    raise BooksDamaged(
                        f"{name} in the backup is not what was backed up.", "Choose another backup.", "file"
                    )
                yield name, content
    except FileNotFoundError:
        raise NotFound(f"There is no file {file}.", "Look in the backups folder of the books.", "file") from None
    except OSError:
        raise NotFound(f"The file {file} cannot be read.", "Check its name and who owns it.", "file") from None
    except _NO_BACKUP:
        raise no_backup from None


def _prove_folder(scratch: Path, file: Path, clock: Clock, stated_head: str, head_before: str | None) -> Head:
    try:
        restored = open_books(scratch, clock)
    except BooksNotUsable as refused:
        said = refused.what.replace(str(books_file(scratch)), file.name).replace(str(scratch), file.name)
        raise BooksNotUsable(said, refused.do, "file") from None
    try:
        proof = prove(restored)
        if not proof.ok:
            raise BooksDamaged(
                f"The backup is not whole: {proof.findings[0].sentence}.", "Choose another backup.", "file"
            )
        if proof.head.digest != stated_head:
            raise BooksDamaged(
                "The last entry of the backup is not the one that was backed up.", "Choose another backup.", "file"
            )
        if head_before is not None:
            with restored.writing() as write:
                write.add("restored", head_before=head_before, at=clock.today.isoformat())
        return proof.head
    finally:
        restored.close()


def _head_of(folder: Path, clock: Clock) -> str | None:
    """The head of the books that are about to be put aside, as far as they can be read. Raises BooksBusy."""
    if not books_file(folder).exists():
        return None
    try:
        books = open_books(folder, clock)
        try:
            return str(head(books.connection))
        finally:
            books.close()
    except BooksBusy:
        raise
    except (Refused, *FILE_FAULTS):
        return "not readable"


def _carry_over(folder: Path, scratch: Path) -> None:
    """Backups, packets, receipts and lists are wanted in the restored folder too; the one put aside stays whole."""
    if lists_folder(folder).is_dir():
        shutil.copytree(lists_folder(folder), lists_folder(scratch))
    for name in (BACKUPS, PACKETS, RECEIPTS):
        if (folder / name).is_dir():
            shutil.copytree(folder / name, scratch / name)
        private_folder(scratch / name)
    private_folder(scratch / DOCUMENTS)


def _swap(scratch: Path, folder: Path, today: date) -> None:
    """Put the folder aside and the restored one in its place; where that fails it stands as before."""
    aside, number = folder.with_name(f"{folder.name}-before-{today}"), 2
    while aside.exists():
        aside, number = folder.with_name(f"{folder.name}-before-{today}-{number}"), number + 1
    stood_there = folder.exists()
    if stood_there:
        folder.rename(aside)
    try:
        scratch.rename(folder)
    except OSError:
        if stood_there:
            aside.rename(folder)
        raise
