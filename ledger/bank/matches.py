"""Lines of statements with what they were taken for, and the postings that no line was matched with yet."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Literal, cast

from ledger.bank.matching import CHECK_DAYS_BEHIND, DAYS_AHEAD, Candidate, OpenLine, OpenPosting
from ledger.books.accounts import Account
from ledger.books.books import Books, Row
from ledger.books.transaction import Writing
from ledger.errors import NotFound

How = Literal[
    "found", "entry", "category", "job", "home", "transfer", "payout", "returned", "loan", "ignored", "later", "undone"
]
State = Literal["matched", "ignored", "later", "before", "open"]

# A match stands while no later row of its line took its place and none of its entries was reversed.
STANDING = (
    "m.how <> 'undone' and m.id = (select max(id) from line_match where line = m.line) and not exists "
    "(select 1 from line_match_part as p join entry as mirror on mirror.reverses = p.entry where p.line_match = m.id)"
)
_LINES = (
    "select l.*, m.id as match, m.how, m.books_entry, account.name as account_name from statement_line as l "
    "join account on account.id = l.account "
    f"left join line_match as m on m.line = l.id and {STANDING} "
)
_CHECK_IN_TEXT = re.compile(r"\bchecks?\s*(?:no\.?|number|#)?\s*([0-9]{1,12})\b", re.IGNORECASE)


@dataclass(frozen=True)
class Line:
    """A line as it is kept. how: what it was taken for, None while it is open. entries: those it was matched with.

    books_entry: placing it booked them, so that undoing takes them back.
    """

    id: int
    statement: int
    account: int
    account_name: str
    day: date
    cents: int
    text: str
    memo: str
    number: str
    kind: str
    text_key: str
    repeats: int | None
    state: State
    match: int | None = None
    how: How | None = None
    books_entry: bool = False
    entries: tuple[int, ...] = ()

    @property
    def words(self) -> str:
        return f"{self.text} {self.memo}".strip()

    @property
    def to_match(self) -> OpenLine:
        return OpenLine(self.id, self.day, self.cents, self.words, self.number, self.repeats)


def read_lines(
    books: Books, account: Account | None = None, ids: Sequence[int] = (), *, open_only: bool = False
) -> list[Line]:
    """Lines in the order of their numbers: of an account, or those with these ids, or every one."""
    wanted, values = ["l.date <= ?"], [books.today.isoformat()]
    if account is not None:
        wanted.append("l.account = ?")
        values.append(str(account.id))
    if ids:
        wanted.append(f"l.id between {min(ids)} and {max(ids)}")
    if open_only:
        wanted.append("(m.id is null or m.how = 'later')")
    rows = books.rows(f"{_LINES} where {' and '.join(wanted)} order by l.id", values)
    entries = _entries_by_match(books, [row["match"] for row in rows if row["match"] is not None])
    chosen = set(ids)
    begun = books.settings.begun_on.isoformat()
    return [_line(row, entries, begun) for row in rows if not chosen or row["id"] in chosen]


def read_line(books: Books, number: int) -> Line:
    """One line. Raises NotFound."""
    found = read_lines(books, ids=(number,))
    if not found:
        last = books.value("select max(id) from statement_line")
        raise NotFound(
            f"There is no line {number}.", f"Lines go from 1 to {last}." if last else "Read a statement first.", "line"
        )
    return found[0]


def keep_match(
    books: Books,
    write: Writing,
    line: int,
    how: How,
    postings: Iterable[OpenPosting] = (),
    *,
    books_entry: bool = False,
    category: int | None = None,
    who: str | None = None,
) -> None:
    """What a line was taken for, in place of what it was taken for before."""
    kept = write.add(
        "line_match",
        line=line,
        how=how,
        books_entry=int(books_entry),
        category=category,
        who=who,
        on_date=books.today.isoformat(),
    )
    for each in postings:
        write.add("line_match_part", line_match=kept, entry=each.entry, posting=each.line)


def keep_found(books: Books, write: Writing, found: Sequence[tuple[int, Candidate]]) -> None:
    """What the program itself found: each line with its postings."""
    day = books.today.isoformat()
    matches = write.add_all(
        "line_match", [{"line": line, "how": "found", "books_entry": 0, "on_date": day} for line, _ in found]
    )
    write.add_all(
        "line_match_part",
        [
            {"line_match": match, "entry": each.entry, "posting": each.line}
            for match, (_, postings) in zip(matches, found, strict=True)
            for each in postings
        ],
    )


def open_postings(
    books: Books, account: Account, since: date, until: date, entries: Sequence[int] = ()
) -> list[OpenPosting]:
    """The postings on an account that no line is matched with, none of a correction's pair, oldest first.

    entries: only these.
    """
    only = f"and entry.number in ({', '.join(map(str, entries))})" if entries else ""
    rows = books.rows(
        "select posting.entry, posting.line, posting.cents, entry.date, entry.text, "
        "coalesce((select name from party_detail where party = entry.who order by id desc limit 1), '') as who, "
        "(select reference from payment where payment.entry = entry.number and reference is not null limit 1) as said "
        "from posting join entry on entry.number = posting.entry "
        "where posting.account = ?1 and entry.date between ?2 and ?3 and entry.kind <> 'opening' "
        f"and entry.reverses is null {only} "
        "and not exists (select 1 from entry as mirror where mirror.reverses = entry.number) "
        "and not exists (select 1 from line_match_part as part join line_match as m on m.id = part.line_match "
        f"where part.entry = posting.entry and part.posting = posting.line and {STANDING}) "
        "order by entry.date, posting.entry, posting.line",
        (account.id, since.isoformat(), until.isoformat()),
    )
    return [
        OpenPosting(
            entry=row["entry"],
            line=row["line"],
            day=date.fromisoformat(row["date"]),
            cents=row["cents"],
            who=row["who"],
            number=(row["said"] or _number_in(row["text"])).lstrip("0"),
            text=row["text"],
        )
        for row in rows
    ]


def postings_near(books: Books, account: Account, lines: Sequence[Line]) -> list[OpenPosting]:
    """The open postings that any of the lines could be."""
    days = [each.day for each in lines]
    since, until = min(days) - timedelta(days=CHECK_DAYS_BEHIND), max(days) + timedelta(days=DAYS_AHEAD)
    return open_postings(books, account, max(since, books.settings.begun_on), until)


def candidate_of(postings: Sequence[OpenPosting], cents: int) -> Candidate:
    """The postings among a few that come to an amount: one of them, or all of them; empty where neither does."""
    single = [each for each in postings if each.cents == cents]
    if single:
        return (single[0],)
    return tuple(postings) if postings and sum(each.cents for each in postings) == cents else ()


def _number_in(text: str) -> str:
    found = _CHECK_IN_TEXT.search(text)
    return found[1] if found else ""


def _line(row: Row, entries: dict[int, tuple[int, ...]], begun: str) -> Line:
    state: State = "open"
    if row["how"] in ("ignored", "later"):
        state = cast("State", row["how"])
    elif row["match"] is not None:
        state = "matched"
    elif row["date"] < begun:
        state = "before"
    return Line(
        id=row["id"],
        statement=row["statement"],
        account=row["account"],
        account_name=row["account_name"],
        day=date.fromisoformat(row["date"]),
        cents=row["cents"],
        text=row["text"],
        memo=row["memo"],
        number=row["check_number"].lstrip("0"),
        kind=row["kind"],
        text_key=row["text_key"],
        repeats=row["repeats"],
        state=state,
        match=row["match"],
        how=row["how"],
        books_entry=bool(row["books_entry"]),
        entries=entries.get(row["match"], ()),
    )


def _entries_by_match(books: Books, matches: Sequence[int]) -> dict[int, tuple[int, ...]]:
    if not matches:
        return {}
    found: dict[int, list[int]] = {}
    rows = books.rows(
        "select distinct line_match, entry from line_match_part where line_match between ? and ? order by entry",
        (min(matches), max(matches)),
    )
    for row in rows:
        found.setdefault(row["line_match"], []).append(row["entry"])
    return {match: tuple(every) for match, every in found.items()}
