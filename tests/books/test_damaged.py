"""Damaged books are open to look at only: every act is refused, proving and backing up go on."""

from __future__ import annotations

import shlex
import shutil
import sqlite3
from collections.abc import Callable
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path

import pytest

from ledger.books.backup import back_up
from ledger.books.balances import read_accounts
from ledger.books.drafts import Draft, postings
from ledger.books.entries import seal
from ledger.books.opening import LINKS_CHECKED_AT_OPENING, open_books
from ledger.books.places import BACKUPS, DOCUMENTS, books_file
from ledger.books.prove import prove
from ledger.errors import BooksDamaged
from tests.books import sample
from tests.books.calling import twopurse
from tests.books.every_command import BEFORE, LOOKING, ON_THE_FOLDER, WRITING, commands
from tests.books.folders import tree
from tests.books.plain_sql import content_of, triggers_away

TODAY = sample.TODAY.isoformat()


def drop_a_trigger_and_change_an_amount(folder: Path) -> None:
    """One byte of one posting: 20.00 becomes 20.01."""
    with closing(sqlite3.connect(books_file(folder))) as connection:
        connection.execute("drop trigger posting_never_changes")
        connection.execute("update posting set cents = cents + 1 where entry = 12 and line = 1")
        connection.commit()


def change_an_amount_behind_the_triggers(folder: Path) -> None:
    with closing(sqlite3.connect(books_file(folder), isolation_level=None)) as connection:
        connection.execute("begin")
        with triggers_away(connection):
            connection.execute("update posting set cents = cents + 1 where entry = 12 and line = 1")
        connection.execute("commit")


def plant_an_entry_without_a_seal(folder: Path) -> None:
    with closing(sqlite3.connect(books_file(folder))) as connection:
        connection.execute("insert into entry values (16, '2026-03-20', null, 'T', null, 'k', null, null, 1)")
        connection.commit()


def spoil_the_page_of(table: str) -> Callable[[Path], None]:
    def spoil(folder: Path) -> None:
        with closing(sqlite3.connect(books_file(folder))) as connection:
            found = connection.execute("select rootpage from sqlite_schema where name = ?", (table,))
            page = int(found.fetchone()[0])
        with books_file(folder).open("r+b") as file:
            file.seek((page - 1) * 4096)
            file.write(b"\xff" * 4096)

    return spoil


@dataclass(frozen=True)
class Damage:
    """said: why the books can only be looked at. first_checks: what `prove` names, in its order."""

    do: Callable[[Path], None]
    said: str
    first_checks: list[str]
    first_bad: int | None


DAMAGES = {
    "schema": Damage(
        drop_a_trigger_and_change_an_amount,
        "the schema is not the one that this program made",
        ["schema", "sums", "month totals", "chain"],
        12,
    ),
    "entry": Damage(
        change_an_amount_behind_the_triggers, "entry 12 is not what was sealed", ["sums", "month totals", "chain"], 12
    ),
    "unsealed": Damage(
        plant_an_entry_without_a_seal, "unsealed: entry 16 has no seal", ["foreign keys", "unsealed"], 16
    ),
    "page": Damage(spoil_the_page_of("posting"), "entry 1 is not what was sealed", ["file", "chain"], 1),
    "seals": Damage(spoil_the_page_of("seal"), "the file cannot be read through", ["file", "numbers"], None),
}


@pytest.fixture(params=DAMAGES)
def damage(request: pytest.FixtureRequest, sample_folder: Path) -> Damage:
    found = DAMAGES[request.param]
    found.do(sample_folder)
    return found


def test_damage_is_found_at_opening_and_proving_names_it(damage: Damage, sample_folder: Path) -> None:
    with closing(open_books(sample_folder, sample.clock_on(sample.TODAY))) as books:
        assert books.damage == damage.said
        proof = prove(books)
    assert not proof.ok
    assert list(dict.fromkeys(each.check for each in proof.findings)) == damage.first_checks
    assert proof.first_bad == damage.first_bad


def test_the_command_proves_damaged_books_with_its_json_whole(damage: Damage, sample_folder: Path) -> None:
    answered = twopurse(sample_folder, TODAY, "prove")
    assert answered.code == 1
    assert set(answered.data) >= {"ok", "entries", "head", "first_bad", "findings"}
    assert answered.data["ok"] is False
    assert answered.data["first_bad"] == damage.first_bad
    assert answered.data["findings"][0].startswith(f"{damage.first_checks[0]}: ")


def test_no_transaction_is_begun_in_damaged_books(damage: Damage, sample_folder: Path) -> None:
    before = books_file(sample_folder).read_bytes()
    with closing(open_books(sample_folder, sample.clock_on(sample.TODAY))) as books:
        with pytest.raises(BooksDamaged, match=f"open to look at only: {damage.said}"), books.writing():
            pytest.fail("a transaction was begun")
        with pytest.raises(sqlite3.OperationalError, match="readonly"):
            books.connection.execute("insert into setting values (99, 'a', 'b')")
    assert books_file(sample_folder).read_bytes() == before


def test_every_command_is_known_to_write_or_to_look() -> None:
    known = {name.split(" --")[0] for name in (*WRITING, *LOOKING)} | ON_THE_FOLDER
    assert set(commands()) == known, "name a new command in tests/books/every_command.py, with words that it takes"


@pytest.mark.slow
@pytest.mark.parametrize("name", WRITING)
def test_an_act_is_done_in_sound_books_and_refused_in_damaged_ones(name: str, sample_folder: Path) -> None:
    words = shlex.split(WRITING[name])
    do_what_comes_before(name, sample_folder)
    before = content_of(books_file(sample_folder))
    drop_a_trigger_and_change_an_amount(damaged := copy_of(sample_folder))
    damaged_before = tree(damaged)
    done = twopurse(sample_folder, TODAY, *words)
    assert done.code == 0, done.said
    assert content_of(books_file(sample_folder)) != before, "this command writes nothing"
    refused = twopurse(damaged, TODAY, *words)
    assert refused.code == 1, refused.said
    assert refused.said.startswith(
        ("The books are open to look at only: the schema", "The books are not whole: schema")
    )
    assert set(refused.data["refused"]) == {"what", "do", "field"}
    assert tree(damaged) == damaged_before


@pytest.mark.slow
@pytest.mark.parametrize("name", LOOKING)
def test_damaged_books_can_be_looked_at(name: str, sample_folder: Path) -> None:
    do_what_comes_before(name, sample_folder)
    sound = twopurse(sample_folder, TODAY, *shlex.split(LOOKING[name]))
    assert sound.code == 0, sound.said
    drop_a_trigger_and_change_an_amount(sample_folder)
    before = tree(sample_folder)
    looked = twopurse(sample_folder, TODAY, *shlex.split(LOOKING[name]))
    assert looked.code == 0, looked.said
    assert set(looked.data) == set(sound.data)
    assert "damaged" in looked.said
    assert tree(sample_folder) == before


@pytest.mark.parametrize("name", ["schema", "entry", "unsealed"])
def test_damaged_books_are_backed_up_to_a_named_file_alone(name: str, sample_folder: Path, tmp_path: Path) -> None:
    DAMAGES[name].do(sample_folder)
    (sample_folder / BACKUPS / "backup-2020-01-01.zip").write_bytes(b"a good one, long ago")
    target = tmp_path / "as-they-are.zip"
    with closing(open_books(sample_folder, sample.clock_on(sample.TODAY))) as books:
        with pytest.raises(BooksDamaged, match="not whole, so no backup was made: .*earlier backups stand"):
            back_up(books)
        made = back_up(books, target)
    assert [each.check for each in made.findings] != []
    assert made.file.stat().st_size > 1000
    assert [each.name for each in (sample_folder / BACKUPS).iterdir()] == ["backup-2020-01-01.zip"]
    restored = twopurse(tmp_path / "other", TODAY, "restore", str(target))
    assert restored.code == 1
    assert restored.said.startswith("The backup is not whole: ")
    assert not (tmp_path / "other").exists()


@pytest.mark.parametrize(
    ("spoil", "finding"),
    [
        (lambda path: path.unlink(), "«books-receipt.jpg» (4a5b) is not in the documents folder"),
        (
            lambda path: path.write_bytes(path.read_bytes() + b"."),
            "«books-receipt.jpg» (4a5b) is not what was attached",
        ),
        (lambda path: path.write_bytes(b""), "«books-receipt.jpg» (4a5b) is not what was attached"),
        (lambda path: (path.unlink(), path.mkdir()), "«books-receipt.jpg» (4a5b) is not in the documents folder"),
    ],
)
def test_a_document_that_is_gone_or_changed_is_named(
    spoil: Callable[[Path], object], finding: str, sample_folder: Path, tmp_path: Path
) -> None:
    document = next((sample_folder / DOCUMENTS).iterdir())
    spoil(document)
    with closing(open_books(sample_folder, sample.clock_on(sample.TODAY))) as books:
        assert books.damage is None, "the books themselves are sound"
        proof = prove(books)
        assert [each.sentence for each in proof.findings] == [
            f"documents: {finding.replace('4a5b', document.name[:12])}"
        ]
        with pytest.raises(BooksDamaged, match="documents: «books-receipt.jpg»"):
            back_up(books)
        assert back_up(books, tmp_path / "as-they-are.zip").findings == proof.findings


def test_only_the_last_links_are_checked_at_opening_and_all_of_them_by_proving(begun_folder: Path) -> None:
    with closing(open_books(begun_folder, sample.clock_on(sample.TODAY))) as books:
        accounts = read_accounts(books)
        with books.writing() as write:
            for _ in range(LINKS_CHECKED_AT_OPENING):
                lines = postings((accounts["checking"], 1), (accounts["tips"], -1))
                seal(books, write, Draft(sample.TODAY, "other", "Invented", lines))
    seen = []
    for number in (2, 3):
        with closing(sqlite3.connect(books_file(begun_folder), isolation_level=None)) as connection:
            connection.execute("begin")
            with triggers_away(connection):
                connection.execute("update entry set text = 'Other' where number = ?", (number,))
            connection.execute("commit")
        with closing(open_books(begun_folder, sample.clock_on(sample.TODAY))) as books:
            seen.append((books.damage, prove(books).first_bad))
    assert seen == [(None, 2), ("entry 3 is not what was sealed", 2)]


def do_what_comes_before(name: str, folder: Path) -> None:
    for words in BEFORE.get(name, []):
        done = twopurse(folder, TODAY, *shlex.split(words))
        assert done.code == 0, done.said


def copy_of(folder: Path) -> Path:
    return Path(shutil.copytree(folder, folder.with_name("damaged")))
