"""Rows as a CSV file: RFC 4180 in UTF-8, amounts plain, days ISO 8601, and no text that a table program would run."""

from __future__ import annotations

import csv
from collections.abc import Iterable, Sequence
from io import StringIO

from ledger.lists.listing import Kind, Plain, plain_text
from ledger.money import Currency
from ledger.text import clean

# What makes a table program take a cell for a formula. Only words are guarded: -50.00 is a number and stays one.
_FORMULA_MARKS = ("=", "+", "-", "@", "\t", "\r")


def csv_of(heads: Sequence[str], kinds: Sequence[Kind], rows: Iterable[Sequence[Plain]], currency: Currency) -> bytes:
    """Heads, then rows."""
    written = StringIO()
    writer = csv.writer(written, lineterminator="\r\n")
    writer.writerow(heads)
    for row in rows:
        writer.writerow(_cell(value, kind, currency) for value, kind in zip(row, kinds, strict=True))
    return written.getvalue().encode()


def _cell(value: Plain, kind: Kind, currency: Currency) -> str:
    if not isinstance(value, str):
        return plain_text(value, kind, currency)
    is_formula = value.startswith(_FORMULA_MARKS)
    text = clean(value, keep_lines=True)
    return f"'{text}" if is_formula or text.startswith(_FORMULA_MARKS) else text
