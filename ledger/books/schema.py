"""Whether the schema in the file is the one that this version ships: every table, index and trigger to the letter."""

from __future__ import annotations

import hashlib
import sqlite3
import tomllib
from functools import cache
from importlib.resources import files

# Written by SQLite itself on ANALYZE and for unique columns; no part of what is shipped.
_OWN_TO_SQLITE = "sqlite_"


def schema_digest(connection: sqlite3.Connection) -> str:
    """SHA-256 over the sorted statements that made the schema."""
    rows = connection.execute("select type, name, tbl_name, coalesce(sql, '') from sqlite_schema").fetchall()
    lines = sorted("\t".join(row) for row in rows if not row[1].startswith(_OWN_TO_SQLITE))
    return hashlib.sha256("\n".join(lines).encode()).hexdigest()


@cache
def shipped_digests() -> dict[int, str]:
    """The digest of each schema version that was ever shipped."""
    text = files("ledger.books").joinpath("migrations", "digests.toml").read_text(encoding="utf-8")
    return {int(version): digest for version, digest in tomllib.loads(text)["schema"].items()}


def schema_differences(connection: sqlite3.Connection, shipped: sqlite3.Connection) -> list[str]:
    """Sentences that name each table, index and trigger missing from the file, changed in it or foreign to it."""
    expected, found = _statements(shipped), _statements(connection)
    missing = [f"{name} is missing" for name in expected.keys() - found.keys()]
    foreign = [f"{name} does not belong there" for name in found.keys() - expected.keys()]
    changed = [f"{name} was changed" for name in expected.keys() & found.keys() if expected[name] != found[name]]
    return sorted(missing + foreign + changed)


def _statements(connection: sqlite3.Connection) -> dict[str, str]:
    from sqlite_utils import Database  # 116 ms, only when a difference was found

    database = Database(connection)
    statements = {f"the trigger {trigger.name}": trigger.sql for trigger in database.triggers}
    for table in database.tables:
        statements[f"the table {table.name}"] = table.schema
        for index in table.indexes:
            if not index.name.startswith(_OWN_TO_SQLITE):
                statements[f"the index {index.name}"] = f"{index.columns} {index.unique} {index.partial}"
    return statements
