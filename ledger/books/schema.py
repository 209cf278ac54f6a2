"""Whether the schema in the file is the one that this version ships: every table, index and trigger to the letter."""

from __future__ import annotations

import hashlib
import sqlite3
import tomllib
from functools import cache
from importlib.resources import files

# What ANALYZE leaves behind, which anyone may run; no part of what is shipped.
_STATISTICS = ("sqlite_stat1", "sqlite_stat4")
_SHIPPED_ROWS = f"from sqlite_schema where not (type = 'table' and name in {_STATISTICS})"
# As bytes: a damaged file may hold text that is none.
_LINES = (
    "select cast(coalesce(type, '') || char(9) || coalesce(name, '') || char(9) || coalesce(tbl_name, '') || char(9) "
    f"|| coalesce(sql, '') as blob) {_SHIPPED_ROWS}"
)
_STATEMENTS = (
    "select cast(type as blob), cast(name as blob), cast(tbl_name as blob), cast(sql as blob) " + _SHIPPED_ROWS
)


def schema_digest(connection: sqlite3.Connection) -> str:
    """SHA-256 over the sorted statements that made the schema."""
    lines = sorted(row[0] for row in connection.execute(_LINES))
    return hashlib.sha256(b"\n".join(lines)).hexdigest()


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


def _statements(connection: sqlite3.Connection) -> dict[str, tuple[bytes, bytes]]:
    return {
        f"the {_shown(kind)} {_shown(name)}": (table or b"", sql or b"")
        for kind, name, table, sql in connection.execute(_STATEMENTS)
    }


def _shown(word: bytes | None) -> str:
    return (word or b"").decode("utf-8", "replace")
