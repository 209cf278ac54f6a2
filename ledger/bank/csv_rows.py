"""The rows of a CSV file, read strictly: an open quotation mark or a row of another length refuses the whole file."""

from __future__ import annotations

import csv
from collections import Counter
from io import StringIO

from ledger.bank.bank_file import MOST_LINES
from ledger.errors import NotPossible, NotUnderstood

_DELIMITERS = ",;\t|"
_MOST_LETTERS_IN_A_CELL = 10_000
# A cell in quotation marks may hold some.
_MOST_BREAKS_IN_A_ROW = 3

Rows = list[list[str]]


def rows_of(text: str, *, skip: int = 0, delimiter: str | None = None) -> Rows:
    """The rows with something in them, below the lines to skip, all of one length.

    Raises NotUnderstood for a file that is no CSV or ends in the middle, NotPossible for too many rows.
    """
    if text.count("\n") > MOST_LINES * _MOST_BREAKS_IN_A_ROW:
        raise NotPossible(f"The file has {text.count(chr(10))} lines.", "Ask the bank for fewer days.", "file")
    lines = StringIO(text, newline="").readlines()[skip:]
    chosen = delimiter or _delimiter(lines[:20])
    try:
        # The reader's own limit guards against a file that is one cell.
        csv.field_size_limit(_MOST_LETTERS_IN_A_CELL)
        rows = [row for row in csv.reader(lines, delimiter=chosen, strict=True) if any(row)]
    except csv.Error:
        raise NotUnderstood(
            "The file is no CSV that can be read through: a quotation mark is open, or it ends in the middle.",
            "Get it from the bank once more; nothing was kept.",
            "file",
        ) from None
    if len(rows) > MOST_LINES:
        raise NotPossible(f"The file has {len(rows)} rows.", "Ask the bank for a shorter span of days.", "file")
    return _of_one_length(rows)


def _of_one_length(rows: Rows) -> Rows:
    """Empty cells at the end of a row may be missing or too many, as some banks write it; filled ones may not."""
    if not rows:
        return rows
    widths = Counter(len(row) for row in rows)
    usual = widths.most_common(1)[0][0]
    even = []
    for place, row in enumerate(rows, start=1):
        while len(row) > usual and not row[-1].strip():
            row = row[:-1]
        if len(row) != usual:
            raise NotUnderstood(
                f"Row {place} of the file has {len(row)} columns, and most rows have {usual}.",
                "Say in the map how many lines above the headings to skip, or get the file once more.",
                "file",
            )
        even.append(row)
    return even


def _delimiter(first_lines: list[str]) -> str:
    """The sign that stands most evenly in the first lines, outside quotation marks."""
    lines = [line for line in first_lines if line.strip()]
    least = {each: min((_outside_quotes(line).count(each) for line in lines), default=0) for each in _DELIMITERS}
    found = max(_DELIMITERS, key=lambda each: least[each])
    if least[found]:
        return found
    # A line above the headings may have none: then the sign that there are most of.
    whole = "".join(map(_outside_quotes, lines))
    return max(_DELIMITERS, key=whole.count)


def _outside_quotes(line: str) -> str:
    return "".join(line.split('"')[::2])
