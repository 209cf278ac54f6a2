"""How the year ahead is told, and the set-aside to somebody who listens."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

from ledger.books.books import Books
from ledger.commands.listening import day_words, sentences
from ledger.commands.manners import amount_in
from ledger.set_aside.owed import WORDS, SetAside
from ledger.set_aside.tax_parts import BEFORE_ACCOUNTANT
from ledger.set_aside.year_ahead import NOT_COUNTED, CoveredDue, YearAhead, year_ahead_of

OWN_WORDS = f"On net profit by the cash method. {BEFORE_ACCOUNTANT}"
_COVER_WORDS = (("held", "held_cents"), ("there in checking or the cash box", "there_cents"), ("short", "short_cents"))


def ahead_data(books: Books, found: YearAhead) -> dict[str, Any]:
    amount = amount_in(books.currency)
    return {
        "held": amount(found.held_cents),
        "not_set_aside": amount(found.other_cents),
        "due": [due_data(each, amount) for each in found.dues],
    }


def due_data(each: CoveredDue, amount: Callable[[int], str]) -> dict[str, Any]:
    """What falls due, and how it is covered; null for what has no amount yet."""

    def told(cents: int) -> str | None:
        return None if each.due.cents is None else amount(cents)

    return {
        "what": each.due.what,
        "date": each.due.day.isoformat(),
        "amount": told(each.due.cents or 0),
        "held": told(each.held_cents),
        "there": told(each.there_cents),
        "short": told(each.short_cents),
        "left": told(each.left_cents),
        "late": each.due.is_late,
        "note": each.due.note or None,
    }


def ahead_lines(books: Books, found: YearAhead) -> Iterator[str]:
    """In columns: the day, what, the amount, how it is covered, and what is left in tax savings."""
    amount = amount_in(books.currency)
    yield f"Held in tax savings {amount(found.held_cents)}, in checking and the cash box {amount(found.other_cents)}"
    for each in found.dues:
        cents = each.due.cents
        day = "late" if each.due.is_late else each.due.day.isoformat()
        left = amount(each.left_cents) if cents else ""
        yield (
            f"{day:<12}{each.due.what[:32]:<33}{'-' if cents is None else amount(cents):>11} {each.word:<6}{left:>12}"
        ).rstrip()
        if not each.is_whole:
            yield f"{'':12}{_parts(each, amount)}"
    yield from _sum_up(found, amount)


def ahead_said(books: Books, found: YearAhead) -> Iterator[str]:
    """The same in sentences."""
    amount = amount_in(books.currency)
    yield f"Held in tax savings: {amount(found.held_cents)}."
    yield f"In checking and the cash box: {amount(found.other_cents)}."
    for each in found.dues:
        yield from _due_said(each, amount)
    yield from _sum_up(found, amount)


def _due_said(each: CoveredDue, amount: Callable[[int], str]) -> Iterator[str]:
    when = f"was due on {day_words(each.due.day)} and is late" if each.due.is_late else f"on {day_words(each.due.day)}"
    if each.due.cents is None:
        yield f"{each.due.what}, {when}: the amount is not known yet."
        return
    said = f"{each.due.what}, {when}: {amount(each.due.cents)}"
    if each.word:
        left = (
            f"{amount(each.left_cents)} is left" if each.left_cents >= 0 else f"{amount(-each.left_cents)} is lacking"
        )
        said += f", {_parts(each, amount)}; then {left} in tax savings"
    yield f"{said}."


def _parts(each: CoveredDue, amount: Callable[[int], str]) -> str:
    """How it is covered: in a word, or in parts where it is more than one."""
    parts = [(words, getattr(each, name)) for words, name in _COVER_WORDS if getattr(each, name)]
    return parts[0][0] if len(parts) == 1 else ", ".join(f"{amount(cents)} {words}" for words, cents in parts)


def _sum_up(found: YearAhead, amount: Callable[[int], str]) -> Iterator[str]:
    if not found.dues:
        yield "Nothing is known to fall due within a year."
    else:
        yield f"Known to fall due within a year: {amount(found.due_cents)}."
    if found.there_cents:
        yield f"Of it is not set aside, but there: {amount(found.there_cents)}."
    if found.short_cents:
        yield f"Short by {amount(found.short_cents)}."
    yield NOT_COUNTED


def set_aside_said(books: Books, found: SetAside) -> Iterator[str]:
    """The whole set-aside in sentences, the year ahead with it."""
    amount = amount_in(books.currency)
    free = "Free to draw, before income tax" if found.is_before_income_tax else "Free to draw"
    yield f"Short by {amount(found.short_cents)}." if found.short_cents else f"{free}: {amount(found.free_cents)}."
    yield f"Owed to others: {amount(found.owed.total_cents)}."
    for name, cents in found.owed.items():
        if cents:
            yield f"Of it, {WORDS[name][:1].lower()}{WORDS[name][1:]}: {amount(cents)}."
    yield f"Money in checking, cash box and tax savings: {amount(found.money.total_cents)}."
    yield f"To move to tax savings: {amount(found.to_move_cents)}."
    yield from ahead_said(books, year_ahead_of(found))
    yield from sentences((*found.notes, OWN_WORDS))
