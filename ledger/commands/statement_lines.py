"""How the lines of statements are told: as JSON, and as lines for a person."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from typing import TYPE_CHECKING, Any

from ledger.commands.manners import amount_in
from ledger.money import Currency

if TYPE_CHECKING:
    from ledger.actions.read_statement import Looked
    from ledger.bank.recognising import Suggestion
    from ledger.bank.standing import StandingLine

_COUNTED = ("matched", "new", "doubtful", "later", "ignored", "before")


def counts_of(lines: Iterable[StandingLine]) -> dict[str, int]:
    """How many lines are in each state."""
    counted: Counter[str] = Counter(each.state for each in lines)
    return {state: counted[state] for state in _COUNTED}


def line_data(standing: StandingLine, currency: Currency) -> dict[str, Any]:
    amount, line = amount_in(currency), standing.line
    return {
        "line": line.id,
        "statement": line.statement,
        "account": line.account_name,
        "date": line.day.isoformat(),
        "amount": amount(line.cents),
        "text": line.text,
        "memo": line.memo,
        "check": line.number or None,
        "state": standing.state,
        "how": line.how,
        "entry": line.entries[0] if line.entries else None,
        "entries": list(line.entries),
        "repeats": line.repeats,
        "candidates": [
            {
                "entries": list(dict.fromkeys(posting.entry for posting in each)),
                "date": each[0].day.isoformat(),
                "text": each[0].text,
                "amount": amount(sum(posting.cents for posting in each)),
            }
            for each in standing.candidates
        ],
        "suggestion": _suggestion(standing.suggestion, currency),
    }


def line_text(standing: StandingLine, currency: Currency) -> str:
    """One line for a person: its number, day, amount, words, and what it is."""
    line, amount = standing.line, amount_in(currency)
    what: str = standing.state
    if line.entries:
        what = f"entry {', '.join(map(str, line.entries))}"
    elif standing.suggestion is not None:
        what = f"{standing.state}: {standing.suggestion.why}?"
    elif standing.candidates:
        numbers = [" and ".join(str(each.entry) for each in candidate) for candidate in standing.candidates]
        what = f"{standing.state}: entry {' or '.join(numbers)}?"
    elif line.repeats is not None:
        what = f"{standing.state}: line {line.repeats} once more?"
    return f"{line.id:>5}  {line.day}  {amount(line.cents):>11}  {line.words[:40]:<40}  {what}"


def looked_data(looked: Looked, currency: Currency) -> dict[str, Any]:
    """What a file holds."""
    amount, seen, ending = amount_in(currency), looked.preview, looked.file.ending
    return {
        "account": looked.account.name,
        "rows": seen.rows,
        "start": seen.first_day.isoformat(),
        "end": seen.last_day.isoformat(),
        "came_in": amount(seen.in_cents),
        "came_in_rows": seen.in_rows,
        "went_out": amount(seen.out_cents),
        "went_out_rows": seen.out_rows,
        "without_amount": looked.file.without_amount,
        "ending": amount(ending.cents) if ending is not None else None,
        "gap": looked.gap,
    }


def preview_lines(looked: Looked, currency: Currency) -> list[str]:
    """The same for a person."""
    amount, seen, ending = amount_in(currency), looked.preview, looked.file.ending
    told = [
        f"{seen.rows} lines of {looked.account.name}, {seen.first_day} to {seen.last_day}.",
        f"{seen.in_rows} came in, {amount(seen.in_cents)}; {seen.out_rows} went out, {amount(seen.out_cents)}.",
    ]
    told += [f"Balance at the end: {amount(ending.cents)}."] if ending is not None else []
    told += [f"{looked.file.without_amount} lines have no amount."] if looked.file.without_amount else []
    return [*told, *([looked.gap] if looked.gap else [])]


def _suggestion(found: Suggestion | None, currency: Currency) -> dict[str, Any] | None:
    if found is None:
        return None
    return {
        "way": found.way,
        "name": found.name or None,
        "job": found.job,
        "through": found.through.isoformat() if found.through else None,
        "fee": amount_in(currency)(found.fee_cents) if found.way == "payout" else None,
        "why": found.why,
    }
