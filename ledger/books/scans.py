"""The scans that need no digest: unsealed entries, gaps, sums, dates, closings and the month totals."""

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
_BEYOND_THE_LAST_SEAL = "select number from entry where number > (select coalesce(max(number), 0) from seal) order by 1"
_GAPS = (
    "select number from seal where number not in (select number from entry) "
    "union select number + 1 from seal where number + 1 < (select max(number) from seal) "
    "and number + 1 not in (select number from seal) order by 1"
)
_TOO_FEW = "select number from seal where (select count(*) from posting where entry = number) < 2 order by 1"
_BEFORE_THE_BOOKS = (
    "select number from entry where date < (select value from setting where key = 'begun_on') order by number"
)
# A closing keeps the head of its day, «number digest»; it holds until the next closing or reopening.
_IN_CLOSED_PERIODS = (
    "select entry.number, through from closing join entry on entry.date <= through "
    "and entry.number > cast(head as integer) where not exists ("
    "  select 1 from closing as later where later.id > closing.id and entry.number > cast(later.head as integer)"
    ") order by 1"
)
_CLOSED_HEADS = (
    "select cast(head as integer), through from closing where cast(head as integer) > 0 and not exists ("
    "  select 1 from seal where number = cast(head as integer)"
    "  and substr(digest, 1, 12) = substr(head, instr(head, ' ') + 1)"
    ") order by 1"
)
_PURSE_SUMS = "select entry, purse, sum(cents) from posting group by entry, purse having sum(cents) <> 0 order by 1"
_CROSSINGS = (
    "select entry, sum(cents) from posting join account on account.id = posting.account "
    "where crosses = 1 group by entry having sum(cents) <> 0 order by 1"
)
_PAIRS = (
    "select number from entry where reverses is not null and (exists ("
    "  select line, account, -cents from posting where posting.entry = entry.number"
    "  except select line, account, cents from posting where posting.entry = entry.reverses"
    ") or exists ("
    "  select line, account, cents from posting where posting.entry = entry.reverses"
    "  except select line, account, -cents from posting where posting.entry = entry.number"
    ")) order by 1"
)
_SUMMED = (
    "select posting.account as account, substr(entry.date, 1, 7) as month, sum(posting.cents) as cents "
    "from posting join entry on entry.number = posting.entry group by 1, 2"
)
_KEPT = "select account, month, cents from month_total"
# Both ways, so that a total of nothing for a month without postings is found too.
_MONTH_TOTALS = (
    f"with summed as ({_SUMMED}) select distinct account, month from ("
    f"  select * from ({_KEPT} except select * from summed) union all "
    f"  select * from (select * from summed except {_KEPT})"
    ") order by 1, 2"
)


def unsealed_entries(connection: sqlite3.Connection) -> list[Finding]:
    """Entries beyond the last seal: cheap enough for every opening."""
    rows = _all(connection, _BEYOND_THE_LAST_SEAL)
    return [Finding("unsealed", f"entry {number} has no seal", number) for (number,) in rows]


def quick_findings(connection: sqlite3.Connection) -> list[Finding]:
    """What is wrong with the postings as they stand, without working out a digest."""
    findings = [Finding("unsealed", f"entry {number} has no seal", number) for (number,) in _all(connection, _UNSEALED)]
    findings += [Finding("numbers", f"entry {number} is missing", number) for (number,) in _all(connection, _GAPS)]
    findings += [
        Finding("sums", f"entry {number} has too few postings", number) for (number,) in _all(connection, _TOO_FEW)
    ]
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
        Finding("dates", f"entry {number} lies before the books began", number)
        for (number,) in _all(connection, _BEFORE_THE_BOOKS)
    ]
    findings += [
        Finding("dates", f"entry {number} lies in a period that was closed through {through}", number)
        for number, through in _all(connection, _IN_CLOSED_PERIODS)
    ]
    findings += [
        Finding("closings", f"entry {number} is not the one with which the books were closed through {through}", number)
        for number, through in _all(connection, _CLOSED_HEADS)
    ]
    findings += [
        Finding("month totals", f"the total of account {account} in {month} is not what its postings add up to")
        for account, month in _all(connection, _MONTH_TOTALS)
    ]
    return findings


def _all(connection: sqlite3.Connection, sql: str) -> list[tuple[Any, ...]]:
    return [tuple(row) for row in connection.execute(sql)]
