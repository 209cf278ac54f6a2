"""What the database itself refuses to seal, tried with plain SQL and well-made digests on connections of both kinds."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

import pytest

from ledger.books.connection import connect
from ledger.books.opening import open_books
from ledger.books.places import books_file
from ledger.books.prove import prove
from tests.books import sample
from tests.books.plain_sql import last_seal, write_entry, write_seal

Attempt = Callable[[sqlite3.Connection], object]
PUT_IN = [("checking", 500), ("owners_contributions", -500)]


KINDS = pytest.mark.parametrize("kind", ["a plain connection", "a connection of ours"])


def connected(kind: str, file: Path) -> closing[sqlite3.Connection]:
    return closing(connect(file) if kind == "a connection of ours" else sqlite3.connect(file, isolation_level=None))


def sealing(lines: list[tuple[str, int]], **fields: object) -> Attempt:
    """Write an entry and seal it with the digest that belongs to it."""
    return lambda connection: write_seal(connection, write_entry(connection, lines, **fields))  # type: ignore[arg-type]


def reversing(lines: list[tuple[str, int]], entry: int) -> Attempt:
    return sealing(lines, reverses=entry)


def reversing_the_sale(*, slip: str, tax: str) -> Attempt:
    """The postings of the sale mirrored, its slip and tax lines as these statements have them."""

    def attempt(connection: sqlite3.Connection) -> None:
        number = last_seal(connection)[0] + 1
        connection.execute(f"insert into entry values ({number}, '2026-03-20', null, 'T', null, 'k', null, 7, 1)")
        connection.execute(
            f"insert into posting select {number}, line, account, purse, -cents from posting where entry = 7"
        )
        connection.execute(f"insert into slip_line select {number}, {slip} from slip_line where entry = 7")
        connection.execute(f"insert into tax_line select {number}, {tax} from tax_line where entry = 7")
        write_seal(connection, number)

    return attempt


def with_only(law: str, attempt: Attempt) -> Attempt:
    """An attempt at which one law alone keeps watch over the seals, since others would refuse it too."""

    def alone(connection: sqlite3.Connection) -> None:
        for (name,) in connection.execute(
            "select name from sqlite_schema where type = 'trigger' and tbl_name = 'seal' and name <> ?", (law,)
        ).fetchall():
            connection.execute(f"drop trigger {name}")
        attempt(connection)

    return alone


def sealing_without_entry(number: int) -> Attempt:
    return lambda connection: write_seal(connection, number, digest="f" * 64)


REFUSED: dict[str, tuple[Attempt, str]] = {
    "one posting": (sealing([("checking", 100)]), "at least two postings"),
    "no postings": (sealing([]), "at least two postings"),
    "a purse that is off by a cent": (sealing([("checking", 100), ("tips", -99)]), "do not add to zero"),
    "two purses that balance only together": (
        sealing([("checking", 100), ("household_checking", -100)]),
        "do not add to zero",
    ),
    "money put in that the household does not know of": (sealing(PUT_IN), "do not mirror"),
    "a crossing that the household mirrors in part": (
        sealing([*PUT_IN, ("workshop_mirror", 400), ("household_checking", -400)]),
        "do not mirror",
    ),
    "a crossing within the personal purse alone": (
        sealing([("workshop_mirror", 400), ("household_checking", -400)]),
        "do not mirror",
    ),
    "a date in a closed period": (
        sealing([("checking", 1), ("tips", -1)], day="2026-01-31"),
        "lies in a closed period",
    ),
    "a date before the books began": (
        sealing([("checking", 1), ("tips", -1)], day="2026-01-04"),
        "lies in a closed period|lies before the books began",
    ),
    "a wrong link": (
        lambda connection: write_seal(connection, write_entry(connection), previous="0" * 64),
        "does not follow",
    ),
    "a number out of order": (lambda connection: write_entry(connection, number=99), "no gaps"),
    "a seal out of order": (with_only("seal_follows", sealing_without_entry(99)), "out of order"),
    "a seal for an entry that there is not": (with_only("seal_follows", sealing_without_entry(16)), "no such entry"),
    "a seal that stands already": (with_only("seal_is_written_once", sealing_without_entry(1)), "written once"),
    "a seal that stands already, out of order": (with_only("seal_follows", sealing_without_entry(1)), "out of order"),
    "a digest that another entry has": (
        lambda connection: write_seal(
            connection, write_entry(connection), digest=connection.execute("select digest from seal").fetchone()[0]
        ),
        "written once|UNIQUE",
    ),
    "a digest that is none": (
        lambda connection: write_seal(connection, write_entry(connection), digest="x" * 64),
        "CHECK",
    ),
    "a reversal of an entry that was reversed": (
        reversing([("needles_and_parts", -700), ("cash_box", 700)], 10),
        "written once|UNIQUE",
    ),
    "a reversal of a reversal": (reversing([("needles_and_parts", 700), ("cash_box", -700)], 11), "is not reversed"),
    "a reversal of itself": (
        lambda connection: write_seal(connection, write_entry(connection, reverses=last_seal(connection)[0] + 1)),
        "follows what it reverses",
    ),
    "a reversal by another amount": (reversing([("checking", -1900), ("cash_box", 1900)], 12), "mirrors every posting"),
    "a reversal that leaves the sign": (
        reversing([("checking", 2000), ("cash_box", -2000)], 12),
        "mirrors every posting",
    ),
    "a reversal with its lines changed about": (
        reversing([("cash_box", 2000), ("checking", -2000)], 12),
        "mirrors every posting",
    ),
    "a reversal with lines of its own": (
        reversing([("checking", -2000), ("cash_box", 2000), ("tips", 1), ("checking", -1)], 12),
        "mirrors every posting",
    ),
    "a reversal of a sale without its slip": (
        reversing_the_sale(
            slip="line + 1, job_line, class, -cents, treatment, certificate",
            tax="line, rate, percent, -base, -cents",
        ),
        "mirrors every slip line",
    ),
    "a reversal of a sale with its tax as it was": (
        reversing_the_sale(
            slip="line, job_line, class, -cents, treatment, certificate", tax="line, rate, percent, base, cents"
        ),
        "mirrors every tax line",
    ),
}
ACCEPTED: dict[str, Attempt] = {
    "tips": sealing([("checking", 100), ("tips", -100)]),
    "money put in, mirrored": sealing([*PUT_IN, ("workshop_mirror", 500), ("household_checking", -500)]),
    "a date in the reopened period": sealing([("checking", 1), ("tips", -1)], day="2026-02-28"),
    "a reversal": reversing([("checking", -2000), ("cash_box", 2000)], 12),
    "a reversal of a sale": reversing_the_sale(
        slip="line, job_line, class, -cents, treatment, certificate", tax="line, rate, percent, -base, -cents"
    ),
}


@KINDS
@pytest.mark.parametrize("name", REFUSED)
def test_the_database_refuses_to_seal(name: str, kind: str, attacked_file: Path) -> None:
    attempt, message = REFUSED[name]
    before = attacked_file.read_bytes()
    with connected(kind, attacked_file) as connection:
        connection.execute("begin immediate")
        with pytest.raises(sqlite3.IntegrityError, match=message):
            attempt(connection)
        connection.execute("rollback")
    assert attacked_file.read_bytes() == before


@KINDS
@pytest.mark.parametrize("name", ACCEPTED)
def test_the_database_seals_and_the_books_are_whole(name: str, kind: str, sample_folder: Path) -> None:
    """The control: the same attempts without their mistake go through, so the refusals are about the mistake."""
    with connected(kind, books_file(sample_folder)) as connection:
        connection.execute("begin immediate")
        ACCEPTED[name](connection)
        connection.execute("commit")
    opened = open_books(sample_folder, sample.clock_on(sample.TODAY))
    assert prove(opened).findings == ()
    opened.close()


def test_an_entry_that_is_not_sealed_cannot_be_committed(sample_folder: Path) -> None:
    connection = connect(books_file(sample_folder))
    connection.execute("begin immediate")
    write_entry(connection)
    with pytest.raises(sqlite3.IntegrityError, match="FOREIGN KEY"):
        connection.execute("commit")
    connection.close()


def test_a_date_before_the_books_began_is_refused_without_a_closing_too(begun_folder: Path) -> None:
    connection = sqlite3.connect(books_file(begun_folder), isolation_level=None)
    with pytest.raises(sqlite3.IntegrityError, match="before the books began"):
        sealing([("checking", 1), ("tips", -1)], day="2026-01-04")(connection)
    connection.close()
