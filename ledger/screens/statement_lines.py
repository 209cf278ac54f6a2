"""A line of a statement in words: what it is or may be, and what the keys would do with it."""

from __future__ import annotations

from collections.abc import Iterator

from ledger.bank.matching import Candidate
from ledger.bank.standing import StandingLine
from ledger.screens.showing import Showing, cut


def what_it_is(standing: StandingLine) -> str:
    """A few words for one cell: colour says nothing here."""
    line = standing.line
    if line.entries:
        return f"entry {', '.join(map(str, line.entries))}"
    if standing.suggestion is not None:
        return f"{_word(standing)} {standing.suggestion.why}?"
    if standing.candidates:
        many = len(standing.candidates)
        return f"{_word(standing)} {_entries(standing.candidates[0])}?" + (f" or {many - 1} more" if many > 1 else "")
    if line.repeats is not None:
        return f"{_word(standing)} line {line.repeats} once more?"
    return _word(standing).removesuffix(":")


def detail_lines(standing: StandingLine, showing: Showing) -> Iterator[str]:
    """The whole line, its candidates with their digits, and what Enter would do."""
    line = standing.line
    number = f", check {line.number}" if line.number else ""
    yield f"Line {line.id}, {line.account_name}, {showing.day(line.day)}, {showing.amount(line.cents)}{number}"
    yield line.words
    if standing.suggestion is not None:
        fee = standing.suggestion.fee_cents
        told = f"; the fee is {showing.amount(fee)}" if fee else ""
        yield f"Enter: {standing.suggestion.why}{told}"
    for place, each in enumerate(standing.candidates, start=1):
        first = each[0]
        words = f"{first.who}: {first.text}" if first.who else first.text
        yield f"{place}: {_entries(each)}, {showing.month_day(first.day)}, {cut(words, 50)}"
    if line.repeats is not None:
        yield f"It may be line {line.repeats} once more: i sets it aside."
    if standing.state == "new" and standing.suggestion is None:
        yield "c says its category, j its job, h that it was for the household."


def _word(standing: StandingLine) -> str:
    return f"{standing.state}:"


def _entries(candidate: Candidate) -> str:
    return "entry " + " and ".join(str(each) for each in dict.fromkeys(posting.entry for posting in candidate))
