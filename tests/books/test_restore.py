"""What is restored is what was backed up; the folder that stood there is put aside, whole."""

from __future__ import annotations

import random
import sqlite3
from contextlib import closing
from datetime import timedelta
from pathlib import Path

import pytest

from ledger.books.backup import restore
from ledger.books.opening import open_books
from ledger.books.places import BACKUPS, RECEIPTS, books_file
from ledger.books.prove import prove
from ledger.errors import BooksBusy, BooksNotUsable
from tests.books import sample
from tests.books.calling import done
from tests.books.folders import tree
from tests.books.zips import add_tips, standing

TODAY = sample.TODAY.isoformat()
CLOCK = sample.clock_on(sample.TODAY)


def test_what_is_restored_is_what_was_backed_up(sample_folder: Path, tmp_path: Path, made_backup: Path) -> None:
    other = tmp_path / "a" / "other"
    answered = done(other, TODAY, "restore", str(made_backup))
    assert standing(other) == standing(sample_folder)
    assert answered["head"] == standing(other)["head"].digest
    assert sorted(each.name for each in tmp_path.joinpath("a").iterdir()) == ["other"]


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(5))
def test_ten_round_trips_bring_back_the_same_books(seed: int, sample_folder: Path, tmp_path: Path) -> None:
    """Fifty in all. Before each the books have grown and a document has come; half of them go over what stood there."""
    chance, folder = random.Random(seed), sample_folder
    for trip in range(10):
        day = (sample.TODAY + timedelta(days=trip)).isoformat()
        scan, file = tmp_path / "scan.png", tmp_path / f"{trip}.zip"
        scan.write_bytes(chance.randbytes(chance.randrange(1, 5000)))
        with closing(open_books(folder, CLOCK)) as books:
            add_tips(books, chance.randrange(5))
        spent = ("spend", "1.00", "--category", "postage", "--from", "checking", "--who", "Post", "--document")
        done(folder, day, *spent, str(scan))
        before = standing(folder)
        done(folder, day, "backup", str(file))
        folder = folder if chance.random() < 0.5 else tmp_path / f"other-{trip}"
        restored = done(folder, day, "restore", str(file))
        assert standing(folder) == before, f"seed {seed}, trip {trip}"
        assert restored["head"] == before["head"].digest


def test_the_old_folder_is_put_aside_whole(sample_folder: Path) -> None:
    file = Path(done(sample_folder, TODAY, "backup")["file"])
    with closing(open_books(sample_folder, CLOCK)) as books:
        add_tips(books, 2)
    before, later = tree(sample_folder), standing(sample_folder)
    restore(file, sample_folder, CLOCK)
    aside = sample_folder.with_name(f"books-before-{TODAY}")
    assert tree(aside) == before
    assert standing(aside) == later
    assert standing(sample_folder)["head"].number == 15
    for name in (BACKUPS, RECEIPTS):
        assert tree(sample_folder / name) == tree(aside / name)


def test_the_books_tell_what_they_were_restored_over(sample_folder: Path, made_backup: Path) -> None:
    with closing(open_books(sample_folder, CLOCK)) as books:
        add_tips(books, 2)
        head_before = str(prove(books).head)
    restore(made_backup, sample_folder, CLOCK)
    with closing(open_books(sample_folder, CLOCK)) as books:
        assert books.value("select head_before from restored order by id desc limit 1") == head_before
        assert prove(books).ok


def test_folders_put_aside_on_one_day_stand_beside_each_other(sample_folder: Path, made_backup: Path) -> None:
    for _ in range(3):
        restore(made_backup, sample_folder, CLOCK)
    names = sorted(each.name for each in sample_folder.parent.iterdir())
    assert names == ["books", *(f"books-before-{TODAY}{number}" for number in ("", "-2", "-3"))]


@pytest.mark.parametrize("content", [b"", b"once upon a time\n" * 99, None])
def test_books_that_cannot_be_opened_are_put_aside_too(
    content: bytes | None, sample_folder: Path, made_backup: Path
) -> None:
    if content is None:
        with closing(sqlite3.connect(books_file(sample_folder))) as connection:
            connection.execute("drop table seal")
    else:
        books_file(sample_folder).write_bytes(content)
    before = tree(sample_folder)
    restore(made_backup, sample_folder, CLOCK)
    assert tree(sample_folder.with_name(f"books-before-{TODAY}")) == before
    with closing(open_books(sample_folder, CLOCK)) as books:
        assert books.value("select head_before from restored order by id desc limit 1") == "not readable"
        assert prove(books).ok


def test_a_folder_without_books_is_put_aside_too(tmp_path: Path, made_backup: Path) -> None:
    (tmp_path / "books").mkdir()
    (tmp_path / "books" / "letter.txt").write_text("dear", encoding="utf-8")
    restore(made_backup, tmp_path / "books", CLOCK)
    assert (tmp_path / f"books-before-{TODAY}" / "letter.txt").exists()
    assert standing(tmp_path / "books")["head"].number == 15


def test_a_change_of_folders_that_fails_is_undone(
    sample_folder: Path, made_backup: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = tree(sample_folder.parent)
    rename = Path.rename

    def rename_but_not_into_place(path: Path, target: Path) -> Path:
        if path.name.startswith(".restore-"):
            raise PermissionError(13, "denied")
        return rename(path, target)

    monkeypatch.setattr(Path, "rename", rename_but_not_into_place)
    with pytest.raises(BooksNotUsable, match="cannot be written to, so nothing was written"):
        restore(made_backup, sample_folder, CLOCK)
    assert tree(sample_folder.parent) == before


def test_books_in_which_another_window_writes_are_left_alone(
    sample_folder: Path, made_backup: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("ledger.books.connection.BUSY_SECONDS", 0.05)
    before = tree(sample_folder)
    with closing(sqlite3.connect(books_file(sample_folder), isolation_level=None)) as other:
        other.execute("begin exclusive")
        with pytest.raises(BooksBusy):
            restore(made_backup, sample_folder, CLOCK)
        other.execute("rollback")
    assert tree(sample_folder) == before
