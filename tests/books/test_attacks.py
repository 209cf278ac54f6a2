"""Whoever opens the file with another program is refused by the database, or what was done is shown by `prove`."""

from __future__ import annotations

import sqlite3
from contextlib import closing, nullcontext
from pathlib import Path

import pytest

from ledger.books.connection import connect
from ledger.books.opening import open_books
from ledger.books.places import books_file
from ledger.books.prove import Proof, prove
from ledger.errors import BooksNotUsable
from tests.books import sample
from tests.books.attacks import ATTACKS, REFUSED, SHOWN, SHUT, Attack
from tests.books.plain_sql import triggers_away

PLAIN, OURS = "a plain connection", "a connection of ours"
# On a connection of ours an attack may end otherwise.
BY_CONNECTION = {PLAIN: ATTACKS, OURS: {name: attack.on_ours() for name, attack in ATTACKS.items()}}
REFUSALS = [(kind, name) for kind, attacks in BY_CONNECTION.items() for name in attacks if attacks[name].end == REFUSED]
OTHERS = [(kind, name) for kind, attacks in BY_CONNECTION.items() for name in attacks if attacks[name].end != REFUSED]


@pytest.mark.parametrize(("kind", "name"), REFUSALS)
def test_the_database_refuses_and_nothing_has_changed(kind: str, name: str, attacked_file: Path) -> None:
    attack, before = BY_CONNECTION[kind][name], attacked_file.read_bytes()
    with closing(connected(kind, attacked_file)) as connection:
        connection.execute("begin")
        with pytest.raises(sqlite3.DatabaseError, match=attack.sign):
            run_all(attack, connection)
    assert attacked_file.read_bytes() == before


@pytest.mark.slow
@pytest.mark.parametrize(("kind", "name"), OTHERS)
def test_what_was_done_is_shown_or_keeps_the_books_shut(kind: str, name: str, sample_folder: Path) -> None:
    attack = BY_CONNECTION[kind][name]
    with closing(connected(kind, books_file(sample_folder))) as connection:
        connection.execute("begin")
        run_all(attack, connection)
    if attack.end == SHUT:
        with pytest.raises(BooksNotUsable, match=attack.sign):
            open_books(sample_folder, sample.clock_on(sample.TODAY))
    else:
        assert attack.sign in [each.check for each in proved(sample_folder).findings]


def test_the_sample_is_whole_before_it_is_attacked(sample_folder: Path) -> None:
    assert proved(sample_folder).findings == ()


def test_there_are_more_than_forty_attacks_of_each_end() -> None:
    ends = [attack.end for attack in ATTACKS.values()]
    assert len(ends) > 100
    assert ends.count(REFUSED) > 40
    assert ends.count(SHOWN) > 40


def test_the_end_cut_off_cleanly_is_told_by_the_head_alone(sample_folder: Path, plain: sqlite3.Connection) -> None:
    """A chain of digests cannot show that its last links are gone: this is why the head is printed on every backup."""
    before = proved(sample_folder)
    plain.execute("begin")
    with triggers_away(plain):
        for statement in (
            "update month_total set cents = cents - coalesce((select cents from posting where entry = 15 "
            "and posting.account = month_total.account), 0) where month = '2026-03'",
            "delete from posting where entry = 15",
            "delete from seal where number = 15",
            "delete from entry where number = 15",
            "delete from month_total where month = '2026-03'",
        ):
            plain.execute(statement)
        plain.execute("update closing set head = (select '14 ' || substr(digest, 1, 12) from seal where number = 14)")
    plain.execute("commit")
    found = proved(sample_folder)
    assert [each.check for each in found.findings if each.check != "records"] == []
    assert (before.head.number, found.head.number) == (15, 14)
    assert "closing" in found.findings[0].what, "a closing on the last entry does anchor it"


def connected(kind: str, file: Path) -> sqlite3.Connection:
    """Ours, or one with foreign keys off and recursive triggers off, as SQLite has them unless told otherwise."""
    connection = connect(file) if kind == OURS else sqlite3.connect(file, isolation_level=None)
    pragmas = [connection.execute(f"pragma {name}").fetchone()[0] for name in ("foreign_keys", "recursive_triggers")]
    assert pragmas == ([1, 1] if kind == OURS else [0, 0])
    return connection


def run_all(attack: Attack, connection: sqlite3.Connection) -> None:
    with triggers_away(connection) if attack.triggers_away else nullcontext():
        for statement in attack.statements:
            connection.execute(statement).fetchall()
    connection.execute("commit")


def proved(folder: Path) -> Proof:
    with closing(open_books(folder, sample.clock_on(sample.TODAY))) as books:
        return prove(books)
