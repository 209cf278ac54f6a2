"""Place a line of a statement: as what it was for, through the act that books it, so that the postings are the same.

The entry is dated as the bank has it; where that day is closed, it goes into the open period.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import cast

from ledger.actions.book_line import BOOKING, PlaceRequest
from ledger.bank.matches import How, Line, candidate_of, keep_match, open_postings, read_line
from ledger.bank.recognising import TRANSFER_DAYS, Suggestion
from ledger.bank.standing import read_standing
from ledger.books.accounts import Account
from ledger.books.balances import read_accounts
from ledger.books.books import Books
from ledger.books.clock import Clock
from ledger.books.entries import closed_through, read_entry
from ledger.books.transaction import Writing
from ledger.errors import NotPossible
from ledger.money import plain_amount


@dataclass(frozen=True)
class Placed:
    """entries: what the line is in the books, those among them that were booked now, and the other side's line."""

    line: Line
    entries: tuple[int, ...]
    booked: tuple[int, ...]
    other_line: int | None


def perform(books: Books, request: PlaceRequest) -> Placed:
    """Place a line. Raises NotFound, NotPossible, NotUnderstood, and whatever the act says that books it."""
    with books.all_or_nothing() as together, together.writing() as write:
        line = read_line(together, request.line)
        _check_open(line)
        asked = _taken(together, line, request) if request.way == "suggested" else request
        if asked.way in ("ignored", "later"):
            keep_match(together, write, line.id, "ignored" if asked.way == "ignored" else "later")
            return Placed(read_line(together, line.id), (), (), None)
        account = read_accounts(together).with_id(line.account)
        if asked.way == "entry":
            return _match_entries(together, write, line, account, asked.entries)
        on_its_day = _on_its_day(together, line)
        booked = BOOKING[asked.way](on_its_day, write, line, account, asked)
        category = _placed_on(together, asked)
        _keep(together, write, line, account, asked, booked, category)
        other = _other_side(together, write, line, asked, booked) if asked.way == "transfer" else None
        return Placed(read_line(together, line.id), booked, booked, other)


def suggested(books: Books, line: Line) -> Suggestion:
    """What the program suggests for a line. Raises NotPossible where it suggests nothing."""
    standing = read_standing(books, ids=(line.id,))[0]
    if standing.suggestion is None:
        raise NotPossible(
            f"Nothing is suggested for line {line.id}.", "Say what it was: a category, a job, the household.", "line"
        )
    return standing.suggestion


def _check_open(line: Line) -> None:
    if line.state == "before":
        raise NotPossible(
            f"Line {line.id} lies before the books began.", "Its amount is in the opening balance already.", "line"
        )
    if line.state in ("matched", "ignored"):
        what = f"is entry {line.entries[0]}" if line.entries else "was set aside"
        raise NotPossible(
            f"Line {line.id} {what} already.", f"Take that back with «twopurse statement undo {line.id}».", "line"
        )


def _taken(books: Books, line: Line, request: PlaceRequest) -> PlaceRequest:
    """The request with what is suggested in it."""
    found = read_standing(books, ids=(line.id,))[0]
    if found.certain:
        return replace(request, way="entry", entries=tuple(dict.fromkeys(each.entry for each in found.certain)))
    told = suggested(books, line)
    who = request.who if request.who is not None else told.who or None
    return replace(request, way=told.way, name=told.name, job=told.job, who=who, through=told.through)


def _on_its_day(books: Books, line: Line) -> Books:
    """The books on the line's day, or as they are where that day is closed."""
    closed = closed_through(books)
    if closed is not None and line.day <= closed:
        return books
    return replace(books, clock=Clock(line.day, books.clock.now))


def _match_entries(books: Books, write: Writing, line: Line, account: Account, entries: Sequence[int]) -> Placed:
    """Match a line with entries that stand in the books. Raises NotPossible where they do not come to its amount."""
    for number in entries:
        read_entry(books, number)
    postings = open_postings(books, account, date.min, date.max, entries)
    found = candidate_of(postings, line.cents)
    if not found or {each.entry for each in found} != set(entries):
        raise _not_its_amount(books, line, account, entries, sum(each.cents for each in postings))
    keep_match(books, write, line.id, "entry", found)
    return Placed(read_line(books, line.id), tuple(entries), (), None)


def _not_its_amount(books: Books, line: Line, account: Account, entries: Sequence[int], cents: int) -> NotPossible:
    words = " and ".join(map(str, entries)) or "none"
    if not cents:
        return NotPossible(
            f"Entry {words} has nothing open on {account.name}.",
            "It was matched before, was reversed, or is of another account.",
            "entry",
        )
    shown, off = plain_amount(cents, books.currency), plain_amount(line.cents - cents, books.currency)
    return NotPossible(
        f"Entry {words} comes to {shown} on {account.name}, which is {off} off the bank's line.",
        "If the entry is wrong, reverse it and enter it again; then place the line.",
        "entry",
    )


def _keep(
    books: Books,
    write: Writing,
    line: Line,
    account: Account,
    asked: PlaceRequest,
    booked: Sequence[int],
    category: int | None,
) -> None:
    postings = open_postings(books, account, date.min, date.max, booked)
    found = candidate_of(postings, line.cents)
    assert found, "what was booked for a line comes to its amount on its account"
    who = asked.who if asked.who is not None and asked.way in ("category", "home") else None
    keep_match(books, write, line.id, cast("How", asked.way), found, books_entry=True, category=category, who=who)


def _placed_on(books: Books, asked: PlaceRequest) -> int | None:
    """The account that a habit is made of."""
    if asked.way not in ("category", "transfer"):
        return None
    return read_accounts(books).named(asked.name).id


def _other_side(books: Books, write: Writing, line: Line, asked: PlaceRequest, booked: Sequence[int]) -> int | None:
    """The transfer's line on the other account, where one alone fits: matched with the same entry."""
    other = read_accounts(books).named(asked.name)
    fitting = [
        each.line
        for each in read_standing(books, other)
        if each.state in ("new", "doubtful", "later")
        and each.line.cents == -line.cents
        and abs((each.line.day - line.day).days) <= TRANSFER_DAYS
    ]
    if len(fitting) != 1:
        return None
    postings = open_postings(books, other, date.min, date.max, booked)
    keep_match(books, write, fitting[0].id, "found", candidate_of(postings, fitting[0].cents))
    return fitting[0].id
