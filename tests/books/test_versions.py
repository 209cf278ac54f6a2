"""Books of every schema version open, are brought up to date whole, and go on."""

from __future__ import annotations

import json
import shutil
from contextlib import closing
from pathlib import Path

import pytest

from ledger.books.connection import read_version
from ledger.books.migrate import newest_version
from ledger.books.opening import open_books
from ledger.books.places import DOCUMENTS, SUBFOLDERS, books_file
from ledger.books.prove import prove
from tests.books import sample
from tests.books.calling import done
from tests.books.versions import make

KEPT = sorted(int(place.name) for place in make.KEPT_IN.iterdir() if place.name.isdecimal())


def test_a_folder_of_every_version_before_the_newest_is_kept() -> None:
    wanted = set(range(1, newest_version()))
    assert wanted <= set(KEPT), (
        f"check out the last commit of version {max(wanted - set(KEPT))}, run `python3 -m tests.books.versions.make` "
        "there, and add the folder that it makes"
    )
    assert set(KEPT) <= wanted | {newest_version()}


@pytest.mark.parametrize("version", KEPT)
def test_what_is_kept_is_of_its_version_and_has_not_been_touched(version: int) -> None:
    place = make.KEPT_IN / str(version)
    assert read_version(books_file(place / "books")) == version
    assert {path.name for path in (place / "books").iterdir()} <= {"books.sqlite3", *SUBFOLDERS}
    assert len(list((place / "books" / DOCUMENTS).iterdir())) == 1


@pytest.mark.parametrize("version", KEPT)
def test_books_of_a_version_are_brought_up_to_date_whole_and_go_on(version: int, tmp_path: Path) -> None:
    """Opened from a copy, proved; they say what they said then; an entry is added."""
    folder = Path(shutil.copytree(make.KEPT_IN / str(version) / "books", tmp_path / "books"))
    with closing(open_books(folder, sample.clock_on(make.LAST_DAY))) as books:
        assert books.damage is None
        assert prove(books).findings == ()
    assert read_version(books_file(folder)) == newest_version()
    says = json.loads((make.KEPT_IN / str(version) / "says.json").read_text(encoding="utf-8"))
    assert make.said_by(folder) == says
    words = ("spend", "3.00", "--category", "thread", "--from", "checking", "--who", "Corner shop")
    assert done(folder, "2026-02-01", *words)["entry"] == says["entries"] + 1
    assert done(folder, "2026-02-01", "prove")["ok"]


def test_a_folder_of_the_newest_version_can_be_made(tmp_path: Path) -> None:
    place = make.make(tmp_path)
    assert place.name == str(newest_version())
    assert make.said_by(place / "books") == json.loads((place / "says.json").read_text(encoding="utf-8"))
