"""Agreements in the books: what a balance was held against, and whether what it covered has changed since."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from ledger.bank.agreeing import BankItem, BookItem, Reconciliation, covered_digest
from ledger.bank.matches import STANDING, read_lines
from ledger.bank.statements import first_covered_day
from ledger.books.accounts import Account
from ledger.books.balances import read_accounts
from ledger.books.books import Books, Row
from ledger.books.chain import head
from ledger.books.transaction import Writing


@dataclass(frozen=True)
class Agreement:
    """entry: what was over or short in the cash box. changed: what it covered is not what it was."""

    id: int
    account: str
    role: str
    day: date
    ending_cents: int
    made_on: date
    head: str
    entry: int | None
    changed: tuple[str, ...] = ()


_ITEMS = (
    "select posting.entry, posting.line, posting.cents, entry.date, entry.text, entry.kind, entry.reverses, "
    "seal.digest, mirror.number as mirrored_by, mirror.date as mirrored_on, "
    "(select min(l.date) from line_match_part as part join line_match as m on m.id = part.line_match "
    "join statement_line as l on l.id = m.line "
    f"where part.entry = posting.entry and part.posting = posting.line and {STANDING}) as seen_on "
    "from posting join entry on entry.number = posting.entry join seal on seal.number = entry.number "
    "left join entry as mirror on mirror.reverses = entry.number "
    "where posting.account = ? and entry.date <= ? order by posting.entry, posting.line"
)


def reconcile(
    books: Books,
    account: Account,
    day: date,
    ending_cents: int,
    told_open: Iterable[int] = (),
    before: int | None = None,
) -> Reconciliation:
    """Hold an account against its bank at the end of a day.

    told_open: entries that the bank has not seen yet although they are older than its first statement in the books.
    before: only agreements with a lower number count as made.

    Files do not say from which day on they are whole. What no line was matched with is open from the first of the month
    of the first line on; where the account agrees only with the day of that line, or with the beginning of the books,
    it is open from there on.
    """
    rows = books.rows(_ITEMS, (account.id, day.isoformat()))
    to_enter = tuple(
        BankItem(each.id, each.day, each.cents, each.words)
        for each in read_lines(books, account, open_only=True)
        if each.state in ("open", "later") and each.day <= day
    )
    seen = _Seen(books, account, day, set(told_open), before)
    held = [
        Reconciliation(account.name, day, ending_cents, tuple(_item(row, seen, since) for row in rows), to_enter)
        for since in _whole_since(books, account)
    ]
    return next((each for each in held if each.unexplained_cents == 0), held[0])


def _whole_since(books: Books, account: Account) -> list[str | None]:
    """The days from which on the account's lines may be whole, the likeliest first; None where nothing was read."""
    first = first_covered_day(books, account)
    if first is None:
        return [None]
    days = (first.replace(day=1), first, books.settings.begun_on)
    return [each.isoformat() for each in dict.fromkeys(days)]


def _item(row: Row, seen: _Seen, since: str | None) -> BookItem:
    return BookItem(
        entry=row["entry"],
        posting=row["line"],
        day=date.fromisoformat(row["date"]),
        cents=row["cents"],
        words=row["text"],
        seal=row["digest"],
        is_open=not seen.has(row, since),
    )


def keep_agreement(books: Books, write: Writing, account: Account, found: Reconciliation, entry: int | None) -> int:
    """Keep that an account agreed; its number."""
    kept = write.add(
        "agreement",
        account=account.id,
        date=found.day.isoformat(),
        ending=found.ending_cents,
        balance=found.balance_cents,
        covered=covered_digest(found),
        head=str(head(write.connection)),
        entry=entry,
        on_date=books.today.isoformat(),
    )
    for each in (*found.in_transit, *found.outstanding):
        write.add("agreement_open", agreement=kept, entry=each.entry, posting=each.posting)
    return kept


def read_agreements(books: Books, account: Account | None = None) -> tuple[Agreement, ...]:
    """Every agreement made by the end of today, oldest first, each with what changed under it since."""
    rows = books.rows(
        "select agreement.*, account.name, account.role from agreement join account on account.id = agreement.account "
        "where on_date <= ?1 and (?2 is null or agreement.account = ?2) order by agreement.id",
        (books.today.isoformat(), account.id if account else None),
    )
    return tuple(_agreement(books, row) for row in rows)


def open_entries(books: Books, agreement: int) -> tuple[tuple[int, int], ...]:
    """The postings that the bank had not seen on the day of an agreement, as entry and line."""
    rows = books.rows("select entry, posting from agreement_open where agreement = ? order by id", (agreement,))
    return tuple((row["entry"], row["posting"]) for row in rows)


class _Seen:
    """Whether the bank has seen a posting by a day."""

    def __init__(self, books: Books, account: Account, day: date, told_open: set[int], before: int | None) -> None:
        self.day = day.isoformat()
        self.told_open = told_open
        self.last = books.row(
            "select id, date, cast(head as integer) as head from agreement where account = ? and date < ? "
            "and (? is null or id < ?) order by date desc, id desc limit 1",
            (account.id, self.day, before, before),
        )
        self.open_then = set(open_entries(books, self.last["id"])) if self.last is not None else set()

    def has(self, row: Row, since: str | None) -> bool:
        """since: the day from which on the lines of the account are whole."""
        if row["seen_on"] is not None:
            return bool(row["seen_on"] <= self.day)
        if row["kind"] == "opening":
            return True
        if row["reverses"] is not None or (row["mirrored_on"] is not None and row["mirrored_on"] <= self.day):
            return True  # both of a correction's pair are there, and the bank saw neither
        if row["entry"] in self.told_open:
            return False
        if self._agreed(row):
            return True
        return since is None or row["date"] < since

    def _agreed(self, row: Row) -> bool:
        """Whether the last agreement took it as seen."""
        if self.last is None or row["entry"] > self.last["head"] or row["date"] > self.last["date"]:
            return False
        return (row["entry"], row["line"]) not in self.open_then


def _agreement(books: Books, row: Row) -> Agreement:
    return Agreement(
        id=row["id"],
        account=row["name"],
        role=row["role"] or "",
        day=date.fromisoformat(row["date"]),
        ending_cents=row["ending"],
        made_on=date.fromisoformat(row["on_date"]),
        head=row["head"],
        entry=row["entry"],
        changed=_changed(books, row),
    )


def _changed(books: Books, row: Row) -> tuple[str, ...]:
    """Sentences on what is not as it was when the account agreed."""
    account = read_accounts(books).with_id(row["account"])
    then_open = set(open_entries(books, row["id"]))
    now = reconcile(
        books, account, date.fromisoformat(row["date"]), row["ending"], {entry for entry, _ in then_open}, row["id"]
    )
    if covered_digest(now) == row["covered"]:
        return tuple(f"Line {each.line} of the bank is open." for each in now.to_enter)
    last = int(row["head"].split(" ")[0])
    since = sorted({each.entry for each in now.items if each.entry > last})
    now_open = {(each.entry, each.posting) for each in now.items if each.is_open and each.entry <= last}
    told = [f"Entry {each} was dated into it since." for each in since]
    told += [f"Entry {each} is not matched any more." for each in sorted({e for e, _ in now_open - then_open})]
    told += [f"Line {each.line} of the bank is open." for each in now.to_enter]
    told += [f"Entry {each} is matched now." for each in sorted({e for e, _ in then_open - now_open})]
    return tuple(told) or ("What it covered is not what it was.",)
