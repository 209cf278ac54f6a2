"""A backup is proved, holds everything, and writes over nothing."""

from __future__ import annotations

import hashlib
import json
from dataclasses import replace
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest

from ledger.books import backup as backing_up
from ledger.books.backup import back_up, restore
from ledger.books.books import Books
from ledger.books.places import BACKUPS, BOOKS_FILE, DOCUMENTS
from ledger.errors import BooksDamaged, NotUnderstood
from tests.books import sample
from tests.books.calling import done, twopurse
from tests.books.folders import tree
from tests.books.zips import add_tips, members, standing

TODAY = sample.TODAY.isoformat()
CLOCK = sample.clock_on(sample.TODAY)


def test_a_backup_holds_the_books_the_documents_and_what_is_in_it(made_backup: Path, made_sample: Path) -> None:
    found = members(made_backup.read_bytes())
    document = next((made_sample / DOCUMENTS).iterdir())
    assert set(found) == {"manifest.json", BOOKS_FILE, f"{DOCUMENTS}/{document.name}"}
    assert found[f"{DOCUMENTS}/{document.name}"] == sample.RECEIPT
    manifest = json.loads(found["manifest.json"])
    assert (manifest["entries"], len(manifest["head"])) == (15, 64)
    assert manifest["files"] == {
        name: hashlib.sha256(content).hexdigest() for name, content in found.items() if name != "manifest.json"
    }


def test_the_same_books_make_the_same_backup_to_the_byte(books: Books, tmp_path: Path) -> None:
    first, second = back_up(books, tmp_path / "1.zip"), back_up(books, tmp_path / "2.zip")
    assert first.file.read_bytes() == second.file.read_bytes()


def test_a_backup_leaves_the_books_and_the_folder_as_they_were(books: Books, tmp_path: Path) -> None:
    before = tree(books.folder)
    back_up(books, tmp_path / "out" / "backup.zip")
    assert tree(books.folder) == before
    assert [path.name for path in (tmp_path / "out").iterdir()] == ["backup.zip"]


def test_backups_of_one_day_stand_beside_each_other_and_tell_the_head(sample_folder: Path) -> None:
    answers = [done(sample_folder, TODAY, "backup") for _ in range(3)]
    assert [Path(each["file"]).name for each in answers] == [
        f"backup-{TODAY}.zip",
        f"backup-{TODAY}-2.zip",
        f"backup-{TODAY}-3.zip",
    ]
    assert {each["head"] for each in answers} == {standing(sample_folder)["head"].digest}


def test_a_backup_writes_over_nothing(books: Books, tmp_path: Path) -> None:
    target = tmp_path / "backup.zip"
    target.write_bytes(b"something else")
    with pytest.raises(NotUnderstood, match="backup.zip is there already. Name another file"):
        back_up(books, target)
    assert twopurse(books.folder, TODAY, "backup", str(target)).code == 1
    assert target.read_bytes() == b"something else"


def test_a_file_that_came_in_between_is_not_written_over_either(
    books: Books, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    target = tmp_path / "backup.zip"
    write_zip = backing_up._write_zip

    def write_zip_slowly(*arguments: Any) -> None:
        write_zip(*arguments)
        target.write_bytes(b"another window's")

    monkeypatch.setattr(backing_up, "_write_zip", write_zip_slowly)
    with pytest.raises(NotUnderstood, match="is there already"):
        back_up(books, target)
    assert target.read_bytes() == b"another window's"
    assert [path.name for path in tmp_path.iterdir() if path.name != "books"] == ["backup.zip"]


def test_the_head_that_is_told_is_the_copys_own(books: Books, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """An entry that another window seals while the backup is made is not in it, and its head is not told either."""
    copy_into = backing_up.copy_into

    def copy_and_then_go_on(*arguments: Any) -> None:
        copy_into(*arguments)
        add_tips(books, 1)

    monkeypatch.setattr(backing_up, "copy_into", copy_and_then_go_on)
    made = back_up(books, tmp_path / "backup.zip")
    assert made.head.number == 15
    assert restore(made.file, tmp_path / "other", CLOCK).head == made.head


def test_a_damaged_copy_is_no_backup(books: Books, tmp_path: Path) -> None:
    (next((books.folder / DOCUMENTS).iterdir())).write_bytes(b"other")
    with pytest.raises(BooksDamaged, match="so no backup was made: documents: .*FILE» copies the books as they are"):
        back_up(books)
    assert list((books.folder / BACKUPS).iterdir()) == []
    assert [each.check for each in back_up(books, tmp_path / "as-they-are.zip").findings] == ["documents"]


def test_old_backups_are_dropped_by_the_rule_and_nothing_else_with_them(books: Books) -> None:
    folder = books.folder / BACKUPS
    days = [sample.TODAY - timedelta(days=back) for back in range(1, 60)]
    for day in days:
        (folder / f"backup-{day}.zip").write_bytes(b"")
        (folder / f"backup-{day}-2.zip").write_bytes(b"")
    others = {"notes.txt", "backup-2020-01-01.zip.old", "my-backup-2020-01-01.zip", "backup-2020-13-01.zip.txt"}
    for name in others:
        (folder / name).write_bytes(b"")
    back_up(replace(books, clock=CLOCK))
    dropped = backing_up.backups_to_drop([*days, sample.TODAY])
    kept = {f"backup-{day}.zip" for day in days if day not in dropped}
    kept |= {f"backup-{day}-2.zip" for day in days if day not in dropped}
    assert {path.name for path in folder.iterdir()} == kept | others | {f"backup-{TODAY}.zip"}
    assert len(dropped) > 30
