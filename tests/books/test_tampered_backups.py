"""A zip that is no backup, or one that somebody changed, is refused with a sentence and changes nothing."""

from __future__ import annotations

import hashlib
import json
import random
import shutil
import sqlite3
import zipfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from ledger.books.backup import restore
from ledger.books.places import BOOKS_FILE, DOCUMENTS
from ledger.errors import NotFound, NotUnderstood, Refused
from tests.books import sample
from tests.books.calling import twopurse
from tests.books.folders import tree
from tests.books.zips import members, standing, zipped

TODAY = sample.TODAY.isoformat()
CLOCK = sample.clock_on(sample.TODAY)


def with_manifest(change: Callable[[dict[str, Any]], object]) -> Callable[[dict[str, bytes]], bytes]:
    def changed(files: dict[str, bytes]) -> bytes:
        manifest = json.loads(files["manifest.json"])
        change(manifest)
        return zipped(files | {"manifest.json": json.dumps(manifest).encode()})

    return changed


def claiming(name: str, content: bytes) -> Callable[[dict[str, bytes]], bytes]:
    """A member more that the manifest lists with its right digest."""

    def changed(files: dict[str, bytes]) -> bytes:
        digest = hashlib.sha256(content).hexdigest()
        return with_manifest(lambda manifest: manifest["files"].update({name: digest}))(files | {name: content})

    return changed


def with_other_books(statements: list[str]) -> Callable[[dict[str, bytes]], bytes]:
    """The books in the backup changed, and the manifest with them."""

    def changed(files: dict[str, bytes]) -> bytes:
        connection = sqlite3.connect(":memory:", isolation_level=None)
        connection.deserialize(files[BOOKS_FILE])
        for statement in statements:
            connection.execute(statement)
        content = connection.serialize()
        connection.close()
        digest = hashlib.sha256(content).hexdigest()
        files = files | {BOOKS_FILE: content}
        return with_manifest(lambda manifest: manifest["files"].update({BOOKS_FILE: digest}))(files)

    return changed


def without(name: str) -> Callable[[dict[str, bytes]], bytes]:
    return lambda files: zipped({each: content for each, content in files.items() if not each.startswith(name)})


NO_BACKUP = "is no backup of these books. Choose a file made by"
TAMPERED: dict[str, tuple[Callable[[dict[str, bytes]], bytes], str]] = {
    "nothing": (lambda files: b"", NO_BACKUP),
    "no zip": (lambda files: b"once upon a time", NO_BACKUP),
    "an empty zip": (lambda files: zipped({}), NO_BACKUP),
    "no manifest": (without("manifest"), NO_BACKUP),
    "no books": (without(BOOKS_FILE), NO_BACKUP),
    "no document": (without(DOCUMENTS), NO_BACKUP),
    "a document that the manifest leaves out too": (
        lambda files: with_manifest(lambda manifest: [manifest["files"].pop(name) for name in list(manifest["files"])
                                                      if name.startswith(DOCUMENTS)])(
            {name: content for name, content in files.items() if not name.startswith(DOCUMENTS)}
        ),
        "The backup is not whole: documents: ",
    ),
    "a manifest that is no JSON": (lambda files: zipped(files | {"manifest.json": b"{"}), NO_BACKUP),
    "a manifest that is no text": (lambda files: zipped(files | {"manifest.json": b"\xff\xfe\xff"}), NO_BACKUP),
    "a manifest that is a list": (lambda files: zipped(files | {"manifest.json": b"[]"}), NO_BACKUP),
    "a manifest without files": (with_manifest(lambda manifest: manifest.pop("files")), NO_BACKUP),
    "a manifest without a head": (with_manifest(lambda manifest: manifest.pop("head")), NO_BACKUP),
    "a manifest nested without end": (
        lambda files: zipped(files | {"manifest.json": b"[" * 100_000}), NO_BACKUP
    ),
    "files that are a list": (with_manifest(lambda manifest: manifest.update(files=[BOOKS_FILE])), NO_BACKUP),
    "a digest that is a number": (
        with_manifest(lambda manifest: manifest["files"].update({BOOKS_FILE: 7})), "is not what was backed up"
    ),
    "another head": (
        with_manifest(lambda manifest: manifest.update(head="0" * 64)), "last entry of the backup is not the one"
    ),
    "a path that climbs": (claiming("../climbed.txt", b"x"), NO_BACKUP),
    "a path that climbs from documents": (claiming(f"{DOCUMENTS}/../../climbed.txt", b"x"), NO_BACKUP),
    "a path from the root": (claiming("/climbed.txt", b"x"), NO_BACKUP),
    "a path with a drive": (claiming("C:\\climbed.txt", b"x"), NO_BACKUP),
    "a climbing path that no manifest lists": (lambda files: zipped(files | {"../climbed.txt": b"x"}), NO_BACKUP),
    "a document under a name of its own": (claiming(f"{DOCUMENTS}/receipt.jpg", b"x"), NO_BACKUP),
    "a document that was changed": (
        lambda files: zipped({name: content + (b"x" if name.startswith(DOCUMENTS) else b"")
                              for name, content in files.items()}),
        "in the backup is not what was backed up. Choose another backup",
    ),
    "books that were changed": (
        lambda files: zipped(files | {BOOKS_FILE: files[BOOKS_FILE][:-1] + b"x"}),
        "books.sqlite3 in the backup is not what was backed up",
    ),
    "books that were changed, and the manifest too": (
        with_other_books(["update month_total set cents = cents + 1 where account = 1"]),
        "The backup is not whole: month totals: ",
    ),
    "books without a law, and the manifest too": (
        with_other_books(["drop trigger seal_balances"]),
        "The backup is not whole: schema: the trigger seal_balances is missing",
    ),
    "books of a newer version": (
        with_other_books(["pragma user_version = 9"]),
        r"^The books in tampered.zip were written by a newer version of this program \(books version 9\)",
    ),
    "books that are no books": (
        lambda files: claiming(BOOKS_FILE, b"once upon a time" * 99)(without(BOOKS_FILE) and files),
        "^tampered.zip is no books file",
    ),
    "a zip that was cut off": (lambda files: zipped(files)[:-200], NO_BACKUP),
    "half a zip": (lambda files: zipped(files)[: len(zipped(files)) // 2], NO_BACKUP),
}  # fmt: skip


@pytest.mark.parametrize("name", TAMPERED)
def test_a_zip_that_is_no_backup_or_was_changed_is_refused_and_nothing_has_changed(
    name: str, made_backup: Path, sample_folder: Path
) -> None:
    change, sentence = TAMPERED[name]
    file = sample_folder.parent / "tampered.zip"
    file.write_bytes(change(members(made_backup.read_bytes())))
    before, beside = tree(sample_folder.parent), sorted(sample_folder.parent.parent.iterdir())
    with pytest.raises(Refused, match=sentence):
        restore(file, sample_folder, CLOCK)
    answered = twopurse(sample_folder, TODAY, "restore", str(file))
    assert (answered.code, list(answered.data)) == (1, ["refused"])
    assert tree(sample_folder.parent) == before
    assert sorted(sample_folder.parent.parent.iterdir()) == beside


@pytest.mark.filterwarnings("ignore:Duplicate name:UserWarning")
def test_a_zip_with_two_members_of_one_name_is_refused(made_backup: Path, tmp_path: Path) -> None:
    file = tmp_path / "double.zip"
    shutil.copy(made_backup, file)
    with zipfile.ZipFile(file, "a") as archive:
        archive.writestr(BOOKS_FILE, archive.read(BOOKS_FILE))
    with pytest.raises(NotUnderstood, match=NO_BACKUP):
        restore(file, tmp_path / "other", CLOCK)


@pytest.mark.parametrize("method", [zipfile.ZIP_STORED, zipfile.ZIP_BZIP2, zipfile.ZIP_LZMA])
def test_a_backup_that_somebody_packed_anew_is_read(method: int, made_backup: Path, tmp_path: Path) -> None:
    file = tmp_path / "packed.zip"
    file.write_bytes(zipped(members(made_backup.read_bytes()), method))
    assert restore(file, tmp_path / "other", CLOCK).head.number == 15


@pytest.mark.parametrize(
    ("where", "sentence"),
    [("none.zip", "There is no file .*none.zip. Look in the backups"), (".", "cannot be read. Check its name")],
)
def test_a_file_that_is_not_there_or_is_a_folder_is_a_sentence(where: str, sentence: str, tmp_path: Path) -> None:
    with pytest.raises(NotFound, match=sentence):
        restore(tmp_path / where, tmp_path / "other", CLOCK)
    assert not (tmp_path / "other").exists()


@pytest.mark.slow
@pytest.mark.faults
@pytest.mark.parametrize("seed", range(4))
def test_a_backup_with_one_byte_changed_is_refused_or_brings_back_the_same(
    seed: int, made_backup: Path, sample_folder: Path, tmp_path: Path
) -> None:
    """100 changed bytes for each seed; what is no part of any content (a time, a comment) may be another."""
    chance, content, expected = random.Random(seed), made_backup.read_bytes(), standing(sample_folder)
    refused = 0
    for number in range(100):
        changed = bytearray(content)
        changed[chance.randrange(len(changed))] ^= 1 << chance.randrange(8)
        file, other = tmp_path / f"{number}.zip", tmp_path / f"other-{number}"
        file.write_bytes(changed)
        try:
            restore(file, other, CLOCK)
        except Refused:
            refused += 1
            assert not other.exists()
        else:
            assert standing(other) == expected, f"seed {seed}, change {number}"
    assert refused > 50
