"""Prove the books: the file, the schema, every sum, both chains and every document, from the ground up."""

from __future__ import annotations

import hashlib
import sqlite3
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import TypeVar

from ledger.books.books import Books
from ledger.books.chain import Head, broken_records, first_broken_link, head
from ledger.books.connection import FILE_FAULTS, connect_in_memory, is_busy, refusal_for
from ledger.books.migrate import migrate, newest_version, shipped_migrations
from ledger.books.places import DOCUMENTS
from ledger.books.scans import Finding, quick_findings
from ledger.books.schema import schema_differences, schema_digest, shipped_digests

_Looked = TypeVar("_Looked", sqlite3.Connection, Books)


@dataclass(frozen=True)
class Proof:
    """What proving the books showed. entries: how many are sealed."""

    entries: int
    head: Head
    findings: tuple[Finding, ...]

    @property
    def ok(self) -> bool:
        return not self.findings

    @property
    def first_bad(self) -> int | None:
        """The lowest number of an entry that a finding concerns."""
        return min((each.entry for each in self.findings if each.entry is not None), default=None)


def prove(books: Books) -> Proof:
    """Check everything that can be checked, and go on past what is wrong, so that one run tells all.

    The order: schema, foreign keys, integrity, unsealed entries, numbers, sums, pairs, dates, closings, month
    totals, the chain of entries, the chain of other rows, documents.
    """
    connection = books.connection
    findings: list[Finding] = []
    for check in (_schema, _foreign_keys, _integrity, quick_findings, _chain, _records):
        findings += _findings_of(check, connection)
    findings += _findings_of(_documents, books)
    try:
        entries = connection.execute("select count(*) from seal").fetchone()[0]
        return Proof(entries, head(connection), tuple(findings))
    except FILE_FAULTS:
        findings.append(Finding("numbers", "the seals cannot be counted"))
        return Proof(0, Head(0, ""), tuple(findings))


def _findings_of(check: Callable[[_Looked], list[Finding]], at: _Looked) -> list[Finding]:
    try:
        return check(at)
    except (*FILE_FAULTS, KeyError) as error:
        if isinstance(error, sqlite3.Error) and is_busy(error):
            raise refusal_for(error) from error
        return [Finding("file", f"the file cannot be read through ({error})")]


def _schema(connection: sqlite3.Connection) -> list[Finding]:
    if schema_digest(connection) == shipped_digests()[newest_version()]:
        return []
    shipped = connect_in_memory()
    try:
        migrate(shipped, Path(), shipped_migrations())
        differences = schema_differences(connection, shipped) or ["the text of its statements was changed"]
        return [Finding("schema", each) for each in differences]
    finally:
        shipped.close()


def _foreign_keys(connection: sqlite3.Connection) -> list[Finding]:
    broken = connection.execute("pragma foreign_key_check").fetchall()
    return [
        Finding("foreign keys", f"row {row[1]} of {row[0]} refers to a row of {row[2]} that is gone") for row in broken
    ]


def _integrity(connection: sqlite3.Connection) -> list[Finding]:
    rows = [row[0] for row in connection.execute("pragma integrity_check")]
    return [Finding("file", str(row)) for row in rows if row != "ok"]


def _chain(connection: sqlite3.Connection) -> list[Finding]:
    broken = first_broken_link(connection)
    return [] if broken is None else [Finding("chain", f"entry {broken} is not what was sealed", broken)]


def _records(connection: sqlite3.Connection) -> list[Finding]:
    return [Finding("records", each) for each in broken_records(connection)]


def _documents(books: Books) -> list[Finding]:
    findings = []
    attached = books.connection.execute("select distinct digest, label from attachment order by digest").fetchall()
    for digest, label in attached:
        path = books.folder / DOCUMENTS / digest
        try:
            content = path.read_bytes()
        except (OSError, ValueError):  # a damaged digest may be no name of a file at all
            findings.append(Finding("documents", f"«{label}» ({digest[:12]}) is not in the documents folder"))
            continue
        if hashlib.sha256(content).hexdigest() != digest:
            findings.append(Finding("documents", f"«{label}» ({digest[:12]}) is not what was attached"))
    return findings
