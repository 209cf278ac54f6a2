"""What comes next in new books, up to the first pickup and until the first questions are answered."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from checklists.not_yet_known import Unknown, still_unknown
from ledger.books.books import Books
from ledger.jobs.bench import read_bench
from ledger.jobs.prices import price_list
from ledger.taxes.rules import answers_on, rates_on

Step = Literal["open_books", "set_price", "take_in", "pick_up", "answer", "rates", "machine_price", "opening"]
# What a piece on the frame comes to; «other» is asked once it is sold.
_FIRST_CLASSES = ("goods", "work", "delivery")


@dataclass(frozen=True)
class FirstFacts:
    """untouched: whether nothing was entered after the first questions. has_job: whether a piece is here or to come.
    gone: whether one was ever picked up. unanswered: classes that nobody said are taxed or not."""

    untouched: bool
    has_price: bool
    has_job: bool
    gone: bool
    unanswered: tuple[str, ...]
    lacks_rate: bool
    unknown: tuple[Unknown, ...]


def next_steps(facts: FirstFacts) -> tuple[Step, ...]:
    """The steps that are left, the next one first."""
    steps: list[Step] = []
    if facts.untouched:
        steps.append("open_books")
    if not facts.gone:
        steps += [] if facts.has_price else ["set_price"]
        steps.append("pick_up" if facts.has_job else "take_in")
    if facts.unanswered:
        steps.append("answer")
    if facts.lacks_rate or "rates" in facts.unknown:
        steps.append("rates")
    steps += [each for each in facts.unknown if each != "rates"]
    return tuple(steps)


def read_first_facts(books: Books) -> FirstFacts:
    """As of today."""
    answered = answers_on(books, books.today)
    return FirstFacts(
        untouched=not books.value("select exists (select 1 from entry where kind <> 'opening')")
        and not books.value("select exists (select 1 from job)"),
        has_price=bool(price_list(books, books.today)),
        has_job=any(each.status != "gone" for each in read_bench(books)),
        gone=bool(books.value("select exists (select 1 from job_event where what = 'picked up')")),
        unanswered=tuple(each for each in _FIRST_CLASSES if each not in answered),
        lacks_rate=any(answered.values()) and not rates_on(books, books.today),
        unknown=still_unknown(books),
    )
