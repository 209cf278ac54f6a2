"""The scans that need no digest: unsealed entries, gaps, sums, and the month totals."""

from __future__ import annotations

import sqlite3
from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True)
class Finding:
    """One thing that is wrong. check: which scan found it. entry: the entry concerned, None where there is none."""

    check: str
    what: str
    entry: int | None = None

    @property
    def sentence(self) -> str:
        return f"{self.check}: {self.what}"


_UNSEALED = "select number from entry where number not in (select number from seal) order by 1"
_GAPS = (
    "select number from seal where number not in (select number from entry) "
    "union select number + 1 from seal where number + 1 < (select max(number) from seal) "
    "and number + 1 not in (select number from seal) order by 1"
)
_PURSE_SUMS = "select entry, purse, sum(cents) from posting group by entry, purse having sum(cents) <> 0 order by 1"
_CROSSINGS = (
    "select entry, sum(cents) from posting join account on account.id = posting.account "
    "where crosses = 1 group by entry having sum(cents) <> 0 order by 1"
)
_PAIRS = (
    "select entry.number from entry join entry as first on first.number = entry.reverses "
    "where (select coalesce(sum(cents * line), 0) from posting where entry = entry.number) "
    "+ (select coalesce(sum(cents * line), 0) from posting where entry = first.number) <> 0 order by 1"
)
_MONTH_TOTALS = (
    "select account, month, sum(cents) from ("
    "  select account, month, -cents as cents from month_total union all "
    "  select posting.account, substr(entry.date, 1, 7), posting.cents "
    "  from posting join entry on entry.number = posting.entry"
    ") group by account, month having sum(cents) <> 0 order by 1, 2"
)


def quick_findings(connection: sqlite3.Connection) -> list[Finding]:
    """What is wrong with the postings as they stand, without working out a digest."""
    findings = [Finding("unsealed", f"entry {number} has no seal", number) for (number,) in _all(connection, _UNSEALED)]
    findings += [Finding("numbers", f"entry {number} is missing", number) for (number,) in _all(connection, _GAPS)]
    findings += [
        Finding("sums", f"entry {number}: the {purse} purse is off by {cents}", number)
        for number, purse, cents in _all(connection, _PURSE_SUMS)
    ]
    findings += [
        Finding("crossings", f"entry {number}: the crossing accounts are off by {cents}", number)
        for number, cents in _all(connection, _CROSSINGS)
    ]
    findings += [
        Finding("pairs", f"entry {number} does not mirror what it reverses", number)
        for (number,) in _all(connection, _PAIRS)
    ]
    findings += [
        Finding("month totals", f"account {account} in {month} is off by {cents}")
        for account, month, cents in _all(connection, _MONTH_TOTALS)
    ]
    return findings


def _all(connection: sqlite3.Connection, sql: str) -> list[tuple[Any, ...]]:
    return [tuple(row) for row in connection.execute(sql)]
