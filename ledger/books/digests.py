"""The canonical form of what is sealed, and its SHA-256 over the digest before it.

A form is a JSON array with fixed places: a version tag first, then the digest before, then the fields; NFC text,
integers, null for what is absent, no white space, UTF-8. What is hashed is the form's length in bytes, a colon, and the
form. The chain shows what was changed inside it, not that its last links were cut off: print the head.
"""

from __future__ import annotations

import hashlib
import json
import sqlite3
import unicodedata
from collections.abc import Iterable, Mapping, Sequence
from typing import cast

GENESIS = "0" * 64
ENTRY_TAG = "twopurse entry 1"
RECORD_TAG = "twopurse record 1"

Value = str | int | None


def entry_digest(
    previous: str,
    entry: Mapping[str, Value],
    postings: Iterable[Sequence[Value]],
    slip_lines: Iterable[Sequence[Value]],
    tax_lines: Iterable[Sequence[Value]],
) -> str:
    """The seal of an entry.

    entry: number, date, belongs_on, text, who, kind, job, reverses. postings: (line, account, purse, cents).
    slip_lines: (line, job_line, class, cents, treatment, certificate). tax_lines: (line, rate, percent, base, cents).
    Each list stands in the order of its line numbers.
    """
    fields = [entry[name] for name in ("number", "date", "belongs_on", "text", "who", "kind", "job", "reverses")]
    parts = [[list(part) for part in each] for each in (postings, slip_lines, tax_lines)]
    return _digest([ENTRY_TAG, previous, *fields, *parts])


def record_digest(previous: str, table: str, row: Mapping[str, Value]) -> str:
    """The link of a row outside the entries: its table, then name and value of each column in alphabetical order.

    What is null is left out, so that a column which a later version adds changes no digest.
    """
    present = [[name, row[name]] for name in sorted(row) if row[name] is not None]
    return _digest([RECORD_TAG, previous, table, present])


def sealed_parts(
    connection: sqlite3.Connection, number: int
) -> tuple[list[tuple[Value, ...]], list[tuple[Value, ...]], list[tuple[Value, ...]]]:
    """Postings, slip lines and tax lines of an entry, with the places that its digest covers."""
    queries = (
        "select line, account, purse, cents from posting where entry = ? order by line",
        "select line, job_line, class, cents, treatment, certificate from slip_line where entry = ? order by line",
        "select line, rate, percent, base, cents from tax_line where entry = ? order by line",
    )
    postings, slip_lines, tax_lines = ([tuple(row) for row in connection.execute(sql, (number,))] for sql in queries)
    return postings, slip_lines, tax_lines


def is_value(kept: object) -> bool:
    """Whether it is what is written into the books: NFC text, an integer or nothing. Damage leaves other things."""
    if isinstance(kept, str):
        return kept.isascii() or unicodedata.is_normalized("NFC", kept)
    return kept is None or isinstance(kept, int)


def as_kept(value: Value) -> Value:
    """The value as it is written: text in NFC, so that what stands in the file is what its digest covers."""
    return unicodedata.normalize("NFC", value) if isinstance(value, str) and not value.isascii() else value


def _digest(form: list[object]) -> str:
    text = json.dumps(_composed(form), ensure_ascii=False, separators=(",", ":"))
    content = text.encode("utf-8", "surrogatepass")
    return hashlib.sha256(b"%d:%s" % (len(content), content)).hexdigest()


def _composed(part: object) -> object:
    # By the type itself: proving asks this of every value in the books, and a bool is no integer here.
    kind = type(part)
    if kind is str:
        return as_kept(cast("str", part))
    if kind is list or kind is tuple:
        return [_composed(each) for each in cast("list[object]", part)]
    assert part is None or kind is int, "no float is ever sealed"
    return part
