"""A household statement looked through for workshop purchases: what she picks is booked and kept, and nothing else."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

from ledger.actions import read_statement, spend
from ledger.actions.book_line import who_of
from ledger.actions.read_statement import Looked, ReadRequest
from ledger.bank.bank_file import BankLine
from ledger.bank.identity import Identity, identities
from ledger.bank.matches import Line, candidate_of, keep_match, open_postings, read_line
from ledger.bank.matching import DAYS_AHEAD, DAYS_BEHIND, OpenLine, OpenPosting, match
from ledger.bank.statements import add_line, add_picked_statement, new_lines
from ledger.books.books import Books
from ledger.books.clock import Clock
from ledger.books.entries import closed_through
from ledger.errors import NotFound, NotPossible


@dataclass(frozen=True)
class PickRequest:
    """place: of the line in the file, from 1. home_cents: the household's part. owed: None goes by her choice."""

    read: ReadRequest
    place: int
    category: str
    who: str | None = None
    home_cents: int = 0
    owed: bool | None = None


@dataclass(frozen=True)
class LookedLine:
    """A line while it is looked through. entry: what it is in the books already, None where it is not there."""

    place: int
    line: BankLine
    entry: int | None


@dataclass(frozen=True)
class Picked:
    line: Line
    entry: int


def look_through(books: Books, request: ReadRequest) -> tuple[Looked, list[LookedLine]]:
    """The lines of a household statement, and which of them the books have. Nothing is written."""
    looked = read_statement.preview(books, request)
    if not looked.is_of_the_household:
        raise NotPossible(
            f"«{looked.account.name}» is the workshop's.",
            "Read its whole statement with «twopurse statement read».",
            "account",
        )
    picked = {each for _, each in _fresh(books, looked)}
    places = list(zip(looked.file.lines, identities(looked.file.lines), strict=True))
    open_lines = [
        OpenLine(place, line.day, line.cents, line.words, line.number)
        for place, (line, identity) in enumerate(places, start=1)
        if identity in picked
    ]
    days = [line.day for line in looked.file.lines]
    since = max(min(days) - timedelta(days=DAYS_BEHIND), books.settings.begun_on)
    postings = open_postings(books, looked.account, since, max(days) + timedelta(days=DAYS_AHEAD))
    known = {each.line.id: each.certain[0].entry for each in match(open_lines, _whole(postings)) if each.certain}
    for place, (_, identity) in enumerate(places, start=1):
        kept = _kept(books, looked, identity) if identity not in picked else None
        if kept is not None and kept.entries:
            known[place] = kept.entries[0]
    return looked, [LookedLine(place, line, known.get(place)) for place, (line, _) in enumerate(places, start=1)]


def perform(books: Books, request: PickRequest) -> Picked:
    """Book one line as a receipt that the household paid, and keep that line alone. Raises as spending does."""
    looked, lines = look_through(books, request.read)
    if not 1 <= request.place <= len(lines):
        raise NotFound(f"The file has no line {request.place}.", f"It has lines 1 to {len(lines)}.", "line")
    chosen = lines[request.place - 1]
    if chosen.entry is not None:
        raise NotPossible(f"Line {request.place} is entry {chosen.entry} already.", "Choose another line.", "line")
    identity = identities(looked.file.lines)[request.place - 1]
    with books.all_or_nothing() as together, together.writing() as write:
        line = _kept(together, looked, identity)
        if line is None:
            statement = add_picked_statement(write, together, looked.account, chosen.line)
            line = read_line(together, add_line(write, statement, looked.account, chosen.line, identity))
        receipt = spend.SpendRequest(
            amount_cents=abs(line.cents),
            category=request.category,
            paid_from=looked.account.name,
            who=request.who or who_of(line),
            home_cents=request.home_cents,
            owed=request.owed if line.cents < 0 else False,
            is_back=line.cents > 0,
        )
        entry = spend.perform(_on_its_day(together, line.day), receipt)[1].number
        found = candidate_of(open_postings(together, looked.account, date.min, date.max, (entry,)), line.cents)
        keep_match(together, write, line.id, "category", found, books_entry=True, who=request.who)
        return Picked(read_line(together, line.id), entry)


def _fresh(books: Books, looked: Looked) -> list[tuple[BankLine, Identity]]:
    return new_lines(books, looked.account, looked.file)


def _kept(books: Books, looked: Looked, identity: Identity) -> Line | None:
    """The line that was picked before, None where it was not."""
    number = books.value(
        "select id from statement_line where account = ? and bank_id = ? and digest = ? and occurrence = ?",
        (looked.account.id, identity.bank_id, identity.digest, identity.occurrence),
    )
    return None if number is None else read_line(books, number)


def _on_its_day(books: Books, day: date) -> Books:
    closed = closed_through(books)
    if (closed is not None and day <= closed) or day < books.settings.begun_on:
        return books
    return replace(books, clock=Clock(day, books.clock.now))


def _whole(postings: Sequence[OpenPosting]) -> list[OpenPosting]:
    """One posting an entry, of all that it moved on the account."""
    by_entry: dict[int, list[OpenPosting]] = defaultdict(list)
    for each in postings:
        by_entry[each.entry].append(each)
    return [replace(every[0], cents=sum(each.cents for each in every)) for every in by_entry.values()]
