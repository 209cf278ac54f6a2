"""The schema that the migrations make: its digest, its triggers one by one, and which keys the guards know."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from pathlib import Path

import pytest
import sqlite_utils

from ledger.books.connection import connect_in_memory
from ledger.books.migrate import migrate, newest_version, shipped_migrations
from ledger.books.schema import schema_differences, schema_digest, shipped_digests

# Written once each: the three triggers that `--guard` makes refuse an existing key, a change and a removal.
GUARDED = [
    "account",
    "account_change",
    "agreement",
    "agreement_open",
    "answer",
    "attachment",
    "barter",
    "before_books",
    "bill_payment",
    "bill_share",
    "certificate",
    "certificate_detail",
    "certificate_form",
    "choice",
    "class_answer",
    "closing",
    "customer",
    "entry",
    "estimated_payment",
    "filing",
    "filing_payment",
    "filing_undone",
    "gift_certificate",
    "gift_movement",
    "helper",
    "intake",
    "item_change",
    "job",
    "job_before_books",
    "job_event",
    "job_hours",
    "job_line",
    "jurisdiction",
    "jurisdiction_place",
    "line_match",
    "line_match_part",
    "list_seen",
    "loan",
    "loan_event",
    "machine",
    "machine_cost",
    "machine_share",
    "materials_test",
    "mileage",
    "notice",
    "owed_part",
    "party",
    "party_detail",
    "payment",
    "payout_line",
    "plan",
    "posting",
    "price",
    "question",
    "question_answer",
    "rate",
    "record",
    "restored",
    "returned_payment",
    "seal",
    "setting",
    "shared_bill",
    "shipment",
    "slip_line",
    "statement",
    "statement_line",
    "statement_map",
    "stock_count",
    "stock_use",
    "supplier_certificate",
    "tax_holiday",
    "tax_line",
    "untaxed_purchase",
    "untaxed_stock",
    "use_tax_line",
]
# The laws of their own, by table.
LAWS = {
    "entry": ["entry_number_is_next"],
    "posting": ["entry_part_is_open"],
    "record": ["record_number_is_next"],
    "seal": ["seal_adds_up", "seal_balances", "seal_follows", "seal_keeps_dates", "seal_mirrors"],
    "slip_line": ["entry_slip_is_open"],
    "tax_line": ["entry_tax_is_open"],
}
# A running sum, added to by `seal_adds_up` and added up again by `prove`.
NOT_GUARDED = {"month_total"}


@pytest.fixture
def shipped() -> Iterator[sqlite3.Connection]:
    connection = connect_in_memory()
    migrate(connection, Path(), shipped_migrations())
    yield connection
    connection.close()


def expected_triggers() -> list[tuple[str, str]]:
    written_once = [
        (table, f"{table}_{law}") for table in GUARDED for law in ("is_written_once", "never_changes", "never_goes")
    ]
    return sorted(written_once + [(table, name) for table, names in LAWS.items() for name in names])


def test_the_triggers_are_these_and_no_others(shipped: sqlite3.Connection) -> None:
    found = sorted((trigger.table, trigger.name) for trigger in sqlite_utils.Database(shipped).triggers)
    assert found == expected_triggers(), "a trigger came or went: name it in GUARDED or LAWS, with the law it holds"


def test_every_table_is_guarded_but_the_running_sums(shipped: sqlite3.Connection) -> None:
    tables = set(sqlite_utils.Database(shipped).table_names())
    assert tables - set(GUARDED) == NOT_GUARDED


def test_every_table_is_strict(shipped: sqlite3.Connection) -> None:
    tables = [row for row in shipped.execute("pragma table_list") if not row[1].startswith("sqlite_")]
    assert len(tables) == len(GUARDED) + len(NOT_GUARDED)
    assert [row[1] for row in tables if not row[5]] == []


@pytest.mark.parametrize("version", sorted(shipped_migrations()))
def test_the_digest_of_each_version_is_the_one_that_its_migrations_make(version: int) -> None:
    connection = connect_in_memory()
    migrate(connection, Path(), {each: texts for each, texts in shipped_migrations().items() if each <= version})
    made = schema_digest(connection)
    connection.close()
    written = shipped_digests().get(version)
    assert made == written, f'write this into ledger/books/migrations/digests.toml:\n{version} = "{made}"'


def test_every_version_has_its_digest_and_the_newest_is_the_last() -> None:
    assert sorted(shipped_digests()) == sorted(shipped_migrations()) == list(range(1, newest_version() + 1))


def test_the_guards_know_every_key_by_which_replace_could_take_a_row(shipped: sqlite3.Connection) -> None:
    database = sqlite_utils.Database(shipped)
    missed = []
    for table in GUARDED:
        guard = next(each.sql for each in database[table].triggers if each.name == f"{table}_is_written_once")
        known = [set(part.split(" and ")) for part in conditions_in(guard)]
        for key in unique_keys(shipped, table):
            if not any(condition <= {f"{column} = new.{column}" for column in key} for condition in known):
                missed.append(f"{table}: {', '.join(sorted(key))}")
    assert missed == []


@pytest.mark.parametrize(
    ("change", "finding"),
    [
        ("drop trigger seal_balances", "the trigger seal_balances is missing"),
        ("drop index posting_by_account", "the index posting_by_account is missing"),
        ("create table spare (x)", "the table spare does not belong there"),
        ("create view seen as select * from entry", "the view seen does not belong there"),
        ("create trigger more after insert on seal begin select 1; end", "the trigger more does not belong there"),
        ("alter table rate add column note text", "the table rate was changed"),
    ],
)
def test_a_changed_schema_has_another_digest_and_a_sentence(
    change: str, finding: str, shipped: sqlite3.Connection
) -> None:
    changed = connect_in_memory()
    migrate(changed, Path(), shipped_migrations())
    changed.execute(change)
    assert schema_digest(changed) != schema_digest(shipped)
    assert finding in schema_differences(changed, shipped)
    changed.close()


def test_the_statistics_that_anyone_may_gather_change_no_digest(shipped: sqlite3.Connection) -> None:
    before = schema_digest(shipped)
    shipped.execute("analyze")
    assert shipped.execute("select count(*) from sqlite_schema where name = 'sqlite_stat1'").fetchone()[0] == 1
    assert schema_digest(shipped) == before


def conditions_in(guard: str) -> list[str]:
    """The keys that a guard compares, each as `a = new.a and b = new.b`."""
    compared = guard.partition(" where ")[2].partition(")\nbegin")[0]
    return [part.strip("() ") for part in compared.split(" or ")]


def unique_keys(connection: sqlite3.Connection, table: str) -> list[set[str]]:
    """The columns of each key that is unique: the primary one, and every unique index."""
    columns = connection.execute(f"pragma table_info({table})").fetchall()
    keys = [{row[1] for row in columns if row[5]}]
    for row in connection.execute(f"pragma index_list({table})").fetchall():
        if row[2]:
            keys.append({each[2] for each in connection.execute(f"pragma index_info({row[1]})").fetchall()})
    return keys
