"""Entries: sealed in one go with all their postings, never changed after, and read back."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from typing import Final

from ledger.books.accounts import Accounts
from ledger.books.balances import read_accounts
from ledger.books.books import Books
from ledger.books.chain import head
from ledger.books.digests import as_kept, entry_digest, sealed_parts
from ledger.books.drafts import Draft, Posting, SlipLine, TaxLine
from ledger.books.transaction import Writing
from ledger.errors import NotFound, NotPossible
from ledger.money import MAX_CENTS


@dataclass(frozen=True)
class Sealed:
    number: int
    digest: str


@dataclass(frozen=True)
class Entry:
    """A sealed entry as it is read back. reversed_by: the entry that mirrors this one."""

    number: int
    on: date
    belongs_on: date | None
    text: str
    who: str | None
    kind: str
    job: int | None
    reverses: int | None
    reversed_by: int | None
    digest: str
    postings: tuple[Posting, ...]

    @property
    def moved_cents(self) -> int:
        """What it moved in all, as `MOVED` has it."""
        return max(
            sum(each.cents for each in self.postings if each.cents > 0 and each.account.purse == purse)
            for purse in ("business", "personal")
        )


# What an entry moved in all: the debits of the purse in which more was moved, since what passes between the purses
# stands in both and counts once.
MOVED: Final = (
    "(select max(sum(max(cents, 0) * (purse = 'business')), sum(max(cents, 0) * (purse = 'personal'))) "
    "from posting where posting.entry = entry.number)"
)


@dataclass(frozen=True)
class Wanted:
    """Which entries are asked for; every condition that is given must hold."""

    number: int | None = None
    lowest: int | None = None
    highest: int | None = None
    since: date | None = None
    through: date | None = None
    job: int | None = None
    party: int | None = None

    def condition(self) -> tuple[str, tuple[str | int, ...]]:
        """The SQL condition on `entry`, and its values."""
        given: dict[str, str | int | None] = {
            "entry.number = ?": self.number,
            "entry.number >= ?": self.lowest,
            "entry.number <= ?": self.highest,
            "entry.date >= ?": self.since.isoformat() if self.since else None,
            "entry.date <= ?": self.through.isoformat() if self.through else None,
            "entry.job = ?": self.job,
            "entry.who = ?": self.party,
        }
        held = {text: value for text, value in given.items() if value is not None}
        return " and ".join(held) or "true", tuple(held.values())


def closed_through(books: Books) -> date | None:
    """The last day that is closed, None where nothing is."""
    through = books.value("select through from closing order by id desc limit 1")
    return None if through is None else date.fromisoformat(through)


def check_date(books: Books, day: date, field: str | None = "on") -> None:
    """Raises NotPossible for a day in a closed period; no transaction is begun for one before the books began."""
    closed = closed_through(books)
    if closed is not None and day <= closed:
        raise NotPossible(
            f"{day} lies in a period that was closed through {closed}.",
            "Enter it on a later day with --on, or reopen the period with «twopurse quarter PERIOD --reopen».",
            field,
        )


def seal(books: Books, write: Writing, draft: Draft) -> Sealed:
    """Write an entry and seal it. Raises NotPossible for its date; a draft that does not balance is a defect."""
    check_date(books, draft.on)
    _assert_sound(draft)
    connection = write.connection
    last = head(connection)
    number = last.number + 1
    fields: dict[str, str | int | None] = {
        "number": number,
        "date": draft.on.isoformat(),
        "belongs_on": draft.belongs_on.isoformat() if draft.belongs_on else None,
        "text": as_kept(draft.text),
        "who": draft.who,
        "kind": draft.kind,
        "job": draft.job,
        "reverses": draft.reverses,
    }
    connection.execute(
        "insert into entry (number, date, belongs_on, text, who, kind, job, reverses, version) "
        "values (:number, :date, :belongs_on, :text, :who, :kind, :job, :reverses, 1)",
        fields,
    )
    _insert_parts(write, number, draft)
    digest = entry_digest(last.digest, fields, *sealed_parts(connection, number))
    connection.execute("insert into seal (number, previous, digest) values (?, ?, ?)", (number, last.digest, digest))
    return Sealed(number, digest)


def check_can_be_reversed(entry: Entry, day: date) -> None:
    """Raises NotPossible where it was reversed or is itself a reversal, and on a day before it."""
    number = entry.number
    if entry.reversed_by is not None:
        raise NotPossible(
            f"Entry {number} was reversed by entry {entry.reversed_by} already.",
            "There is nothing left to reverse.",
            "entry",
        )
    if entry.reverses is not None:
        raise NotPossible(
            f"Entry {number} is itself a reversal, of entry {entry.reverses}.", "Enter what happened again.", "entry"
        )
    if day < entry.on:
        raise NotPossible(f"Entry {number} is dated {entry.on}.", "Reverse it on that day or later.", "on")


def reverse(books: Books, write: Writing, number: int, why: str, day: date) -> Sealed:
    """The exact mirror of an entry, on a day. Raises NotPossible where it was reversed or is itself a reversal."""
    entry = read_entry(books, number)
    check_can_be_reversed(entry, day)
    row = books.row("select who from entry where number = ?", (number,))
    assert row is not None
    draft = Draft(
        on=day,
        kind="reversal",
        text=f"Reversal of {number}: {why}"[:500],
        postings=tuple(Posting(each.account, -each.cents) for each in entry.postings),
        who=row["who"],
        job=entry.job,
        belongs_on=entry.on,
        reverses=number,
        slip=tuple(
            SlipLine(each["class"], -each["cents"], each["treatment"], each["job_line"], each["certificate"])
            for each in books.rows("select * from slip_line where entry = ? order by line", (number,))
        ),
        taxes=tuple(
            TaxLine(each["rate"], each["percent"], -each["base"], -each["cents"])
            for each in books.rows("select * from tax_line where entry = ? order by line", (number,))
        ),
    )
    return seal(books, write, draft)


def read_entry(books: Books, number: int) -> Entry:
    """One entry. Raises NotFound."""
    found = read_entries(books, Wanted(number=number))
    if not found:
        last = head(books.connection).number
        raise NotFound(
            f"There is no entry {number}.", f"Entries go from 1 to {last}." if last else "There is none yet.", "entry"
        )
    return found[0]


def read_last_standing(books: Books) -> Entry | None:
    """The newest entry up to today that is no reversal and was not reversed, None where there is none."""
    number = books.value(
        "select max(number) from entry where date <= ? and reverses is null "
        "and not exists (select 1 from entry as mirror where mirror.reverses = entry.number)",
        (books.today.isoformat(),),
    )
    return None if number is None else read_entry(books, number)


def read_entries(books: Books, wanted: Wanted) -> tuple[Entry, ...]:
    """Sealed entries in the order of their numbers."""
    where, values = wanted.condition()
    lines = _postings_by_entry(books, read_accounts(books), where, values)
    rows = books.rows(
        "select entry.*, seal.digest, reversal.number as reversed_by, "
        "(select name from party_detail where party = entry.who order by id desc limit 1) as who_name "
        "from entry join seal on seal.number = entry.number "
        f"left join entry as reversal on reversal.reverses = entry.number where {where} order by entry.number",
        values,
    )
    return tuple(
        Entry(
            number=row["number"],
            on=date.fromisoformat(row["date"]),
            belongs_on=date.fromisoformat(row["belongs_on"]) if row["belongs_on"] else None,
            text=row["text"],
            who=row["who_name"],
            kind=row["kind"],
            job=row["job"],
            reverses=row["reverses"],
            reversed_by=row["reversed_by"],
            digest=row["digest"],
            postings=tuple(lines.get(row["number"], ())),
        )
        for row in rows
    )


def read_page(books: Books, count: int, before: int | None = None) -> tuple[Entry, ...]:
    """The newest entries by number up to today, newest first: a page of `count`, below entry `before` where given."""
    rows = books.rows(
        "select number from entry where date <= ? and number < ? order by number desc limit ?",
        (books.today.isoformat(), before if before is not None else head(books.connection).number + 1, count),
    )
    if not rows:
        return ()
    lowest, highest = rows[-1][0], rows[0][0]
    page = read_entries(books, Wanted(lowest=lowest, highest=highest, through=books.today))
    return tuple(reversed(page))


def _postings_by_entry(
    books: Books, accounts: Accounts, where: str, values: tuple[str | int, ...]
) -> dict[int, list[Posting]]:
    lines: dict[int, list[Posting]] = {}
    for row in books.rows(
        "select posting.entry, posting.account, posting.cents from posting "
        f"join entry on entry.number = posting.entry where {where} order by posting.entry, posting.line",
        values,
    ):
        lines.setdefault(row["entry"], []).append(Posting(accounts.with_id(row["account"]), row["cents"]))
    return lines


def _insert_parts(write: Writing, number: int, draft: Draft) -> None:
    write.connection.executemany(
        "insert into posting (entry, line, account, purse, cents) values (?, ?, ?, ?, ?)",
        [
            (number, line, each.account.id, each.account.purse, each.cents)
            for line, each in enumerate(draft.postings, start=1)
        ],
    )
    write.connection.executemany(
        "insert into slip_line (entry, line, job_line, class, cents, treatment, certificate) "
        "values (?, ?, ?, ?, ?, ?, ?)",
        [
            (number, line, each.job_line, as_kept(each.class_name), each.cents, each.treatment, each.certificate)
            for line, each in enumerate(draft.slip, start=1)
        ],
    )
    write.connection.executemany(
        "insert into tax_line (entry, line, rate, percent, base, cents) values (?, ?, ?, ?, ?, ?)",
        [
            (number, line, each.rate, each.percent, each.base, each.cents)
            for line, each in enumerate(draft.taxes, start=1)
        ],
    )


def _assert_sound(draft: Draft) -> None:
    assert len(draft.postings) >= 2, "an entry has at least two postings"
    assert all(each.cents and abs(each.cents) <= MAX_CENTS for each in draft.postings), "a posting moves something"
    for purse in ("business", "personal"):
        assert _sum(each for each in draft.postings if each.account.purse == purse) == 0, f"the {purse} purse is off"
    assert _sum(each for each in draft.postings if each.account.crosses) == 0, "the crossing accounts are off"


def _sum(lines: Iterable[Posting]) -> int:
    return sum(each.cents for each in lines)
