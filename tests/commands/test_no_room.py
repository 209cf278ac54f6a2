"""A folder that cannot be read or written, and a disk that is full: a sentence, exit code 1, and nothing lost."""

from __future__ import annotations

import os
import shutil
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.commands.desk import Desk, Said, contents, program, refusal_in

pytestmark = [
    pytest.mark.faults,
    pytest.mark.skipif(sys.platform == "win32", reason="permissions and limits of POSIX"),
]
NOBODY = 65534
# Each line is run twice: in books of its own before the process gives its rights away, so that everything is loaded
# by then, and in the books that the test is about.
AS_NOBODY = """
import contextlib, io, os, sys
from ledger.cli import main
warm, folder, *line = sys.argv[1:]
with contextlib.redirect_stdout(io.StringIO()), contextlib.redirect_stderr(io.StringIO()):
    main(["--books", warm, *line])
    main(["--books", warm, "--on", "2020-01-01", *line])
if os.getuid() == 0:
    os.setgroups([]), os.setgid({nobody}), os.setuid({nobody})
sys.exit(main(["--books", folder, *line]))
""".replace("{nobody}", str(NOBODY))
WITH_LITTLE_ROOM = """
import resource, sys
from ledger.cli import main
limit = int(sys.argv[1])
resource.setrlimit(resource.RLIMIT_FSIZE, (limit, limit))
try:
    with open(sys.argv[2], "wb") as file:
        file.write(b"x" * (limit + 1))
except OSError as error:
    print(error.errno, file=sys.stderr)
sys.exit(main(sys.argv[3:]))
"""
LINES = [("draw", "5.00"), ("pickup", "1", "--paid", "cash"), ("customer", "Dora"), ("backup",)]


@pytest.fixture
def open_place(desk: Desk) -> Iterator[Path]:
    """The workshop's books in a folder that everyone may walk to, which the test's own temporary folder is not."""
    place = Path(tempfile.mkdtemp())
    place.chmod(0o755)
    try:
        shutil.copytree(desk.folder, place / "books")
        yield place / "books"
    finally:
        for folder in (place, *place.rglob("*")):
            folder.chmod(0o700)
        shutil.rmtree(place)


def as_nobody(desk: Desk, folder: Path, *line: str) -> Said:
    return program(str(desk.folder), str(folder), *line, "--json", "--on", desk.day, script=("-c", AS_NOBODY))


def give(folder: Path, folder_mode: int, file_mode: int) -> None:
    """Hand a folder to nobody, with these rights."""
    for path in (*folder.rglob("*"), folder):
        if os.getuid() == 0:
            os.chown(path, NOBODY, NOBODY)
        path.chmod(folder_mode if path.is_dir() else file_mode)


@pytest.mark.parametrize("line", LINES)
def test_a_folder_that_cannot_be_written_is_refused_and_left_as_it_is(
    desk: Desk, open_place: Path, line: tuple[str, ...]
) -> None:
    give(open_place, 0o500, 0o400)
    before = contents(open_place)
    refusal = refusal_in(as_nobody(desk, open_place, *line))
    assert "cannot be written to, so nothing was written." in refusal["what"]
    assert refusal["do"] == "Check who owns the folder, and that it is not on a read-only disk."
    assert contents(open_place) == before


def test_a_folder_that_cannot_be_written_is_still_looked_at(desk: Desk, open_place: Path) -> None:
    give(open_place, 0o500, 0o400)
    said = as_nobody(desk, open_place, "chart")
    assert (said.code, said.err) == (0, "")
    assert said.data == desk.data("chart")


@pytest.mark.parametrize("line", [("chart",), ("draw", "5.00"), ("prove",)])
def test_a_folder_that_cannot_be_read_is_refused(desk: Desk, open_place: Path, line: tuple[str, ...]) -> None:
    give(open_place, 0o000, 0o000)
    refusal = refusal_in(as_nobody(desk, open_place, *line))
    assert "cannot be read" in refusal["what"]
    assert refusal["field"] == "books"


def test_no_books_are_begun_where_nothing_can_be_written(desk: Desk, open_place: Path) -> None:
    give(open_place, 0o500, 0o400)
    before = contents(open_place)
    refusal = refusal_in(as_nobody(desk, open_place / "new", "new", "--name", "Lantern"))
    assert "cannot be written to" in refusal["what"]
    assert contents(open_place) == before


@pytest.mark.parametrize("line", [("draw", "5.00"), ("pickup", "1", "--paid", "cash"), ("backup",)])
@pytest.mark.parametrize("room_bytes", [600, 20_000])
def test_a_full_disk_is_refused_and_the_books_are_as_before(
    desk: Desk, tmp_path: Path, line: tuple[str, ...], room_bytes: int
) -> None:
    before = contents(desk.folder)
    said = program(
        *(str(room_bytes), str(tmp_path / "bitten"), "--books", str(desk.folder), "--on", desk.day),
        *(*line, "--json"),
        script=("-c", WITH_LITTLE_ROOM),
    )
    bitten, rest = said.err.split("\n", 1)
    assert bitten.isdigit(), "the limit does not bite"
    refusal = refusal_in(Said(said.code, said.out, rest))
    assert refusal["what"] == "The disk is full, so nothing was written."
    assert contents(desk.folder) == before
    assert desk.data("prove")["ok"] is True


@pytest.mark.parametrize("kept_bytes", [0, 50, 100, 4096])
def test_a_books_file_that_was_cut_off_is_refused(desk: Desk, kept_bytes: int) -> None:
    file = desk.folder / "books.sqlite3"
    file.write_bytes(file.read_bytes()[:kept_bytes])
    for line in (("chart",), ("draw", "5.00"), ("prove",)):
        assert desk.refused(*line)["field"] == "books"


def test_what_is_no_books_folder_is_refused(desk: Desk, tmp_path: Path) -> None:
    (tmp_path / "junk").mkdir()
    (tmp_path / "junk" / "books.sqlite3").write_text("this is a letter to my sister, and no database at all" * 9)
    for name in ("junk", "none", "junk/books.sqlite3"):
        said = desk.type_bare("chart", "--json", "--books", str(tmp_path / name))
        assert refusal_in(said)["field"] == "books"
