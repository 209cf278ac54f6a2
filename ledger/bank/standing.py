"""The lines of an account as she sees them: matched, new with a suggestion, doubtful with candidates, or left."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from ledger.bank.facts import read_facts
from ledger.bank.matches import Line, postings_near, read_lines
from ledger.bank.matching import Candidate, Found, match
from ledger.bank.recognising import Facts, Suggestion, recognise
from ledger.books.accounts import Account
from ledger.books.balances import read_accounts
from ledger.books.books import Books

Shown = Literal["matched", "new", "doubtful", "later", "ignored", "before"]


@dataclass(frozen=True)
class StandingLine:
    """candidates: what the books have for it. certain: one of them alone, which looking again would match."""

    line: Line
    state: Shown
    candidates: tuple[Candidate, ...] = ()
    suggestion: Suggestion | None = None
    certain: Candidate = ()


def read_standing(books: Books, account: Account | None = None, ids: Sequence[int] = ()) -> list[StandingLine]:
    """Lines as they stand at the end of today, in the order of their numbers."""
    lines = read_lines(books, account, ids)
    open_lines = [each for each in lines if each.state in ("open", "later")]
    told: dict[int, StandingLine] = {}
    accounts = read_accounts(books)
    for number in dict.fromkeys(each.account for each in open_lines):
        for each in _told(books, accounts.with_id(number), [line for line in open_lines if line.account == number]):
            told[each.line.id] = each
    return [told.get(each.id) or StandingLine(each, _settled(each)) for each in lines]


def find_matches(books: Books, account: Account, lines: Sequence[Line]) -> list[Found]:
    """What open lines of an account are, as far as the books tell."""
    return match([each.to_match for each in lines], postings_near(books, account, lines)) if lines else []


def _told(books: Books, account: Account, lines: list[Line]) -> list[StandingLine]:
    facts = read_facts(books, account)
    return [_one(line, found, facts) for line, found in zip(lines, find_matches(books, account, lines), strict=True)]


def _one(line: Line, found: Found, facts: Facts) -> StandingLine:
    candidates = (found.certain, *found.candidates) if found.certain else found.candidates
    doubtful = bool(candidates) or line.repeats is not None
    suggestion = None if doubtful else recognise(line.to_match, facts)
    state: Shown = "later" if line.state == "later" else "doubtful" if doubtful else "new"
    return StandingLine(line, state, candidates, suggestion, found.certain)


def _settled(line: Line) -> Shown:
    assert line.state != "open", "an open line is told of with its candidates"
    return line.state
