"""Find as one types: acts, and everything that the books hold, best match first and the newest before the older."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field

from checklists.finding import items_to_find
from ledger.actions.act import Act
from ledger.actions.registry import ACTS
from ledger.actions.search_words import SEARCH_WORDS
from ledger.bank.finding import BANK_LINES
from ledger.books.books import Books
from ledger.books.finding import DOCUMENTS, ENTRIES, Found, Searched, names_changed
from ledger.books.folded_lines import (
    BEGINS_WORDS,
    EXACT,
    WITHIN_WORDS,
    FoldedLines,
    Match,
    Word,
    rank_in,
    typed_words,
)
from ledger.errors import NotUnderstood
from ledger.jobs.finding import GIFTS, JOBS, PARTIES
from ledger.money import read_amount
from ledger.quarter.finding import numbered_question, questions_to_find
from ledger.text import folded

# In the order in which kinds stand where they match equally well.
_KEPT: tuple[Searched, ...] = (PARTIES, JOBS, GIFTS, ENTRIES, DOCUMENTS, BANK_LINES)
_KINDS = (
    "room",
    "act",
    "customer",
    "party",
    "job",
    "gift",
    "item",
    "question",
    "entry",
    "document",
    "bank line",
    "guide",
    "word",
    "colours",
    "told",
)
_NUMBERED = ("entry", "job", "question")
# So many of one kind before the other kinds have their turn, and so many in all.
_OF_A_KIND, AT_MOST = 8, 40
# A slice of lines is read in some ten milliseconds, between two keys.
_SLICE = 1_000


@dataclass(frozen=True)
class Named:
    """What is found by its title, by words that lead to it as well, or by what is said of it. All are folded."""

    found: Found
    title: str
    leading: str = ""
    said: str = ""

    def rank(self, words: Sequence[Word]) -> int | None:
        """How well it fits; its title said whole is as good as a number."""
        if " ".join(word[0] for word in words) == self.title:
            return EXACT
        known = f"{self.title} {self.leading}"
        rank = rank_in(known, words)
        if rank == BEGINS_WORDS or rank_in(f"{known} {self.said}", words) != BEGINS_WORDS:
            return rank
        return WITHIN_WORDS


@dataclass
class _Read:
    """What is read of one kind: from the newest number down to another."""

    lines: FoldedLines = field(default_factory=FoldedLines)
    newest: int | None = None
    down_to: int = 0

    def read_on(self, books: Books, kind: Searched) -> Iterator[None]:
        """First what is new since, then the rest of what is older: the newest is found before all is read."""
        through = kind.newest_number(books)
        if self.newest is None:
            self.newest = self.down_to = through
        fresh, upper = [], through
        while upper > self.newest:
            lower = max(self.newest, upper - _SLICE)
            fresh.append(kind.read_lines(books, lower, upper))
            upper = lower
            yield
        for each in reversed(fresh):
            self.lines.add(each)
        self.newest = through
        while self.down_to:
            lower = max(0, self.down_to - _SLICE)
            self.lines.add(kind.read_lines(books, lower, self.down_to), older=True)
            self.down_to = lower
            yield


class Finder:
    """Everything to be found in one books folder. What is kept once is read once: later only what is new."""

    def __init__(self) -> None:
        self._names_changed = 0
        self._read: dict[str, _Read] = {}
        self._named: tuple[Named, ...] = ()

    def read_on(self, books: Books) -> Iterator[None]:
        """Read what is not read yet, a slice with each step, so that whoever types never waits for it."""
        changed = names_changed(books)
        if changed != self._names_changed:
            self._names_changed = changed
            self._read.clear()
        named = list(_acts())
        for read in (items_to_find, questions_to_find):
            named += [Named(found, folded(found.words), said=folded(said)) for found, said in read(books)]
            self._named = tuple(named)
            yield
        for each in _KEPT:
            yield from self._read.setdefault(each.kind, _Read()).read_on(books, each)

    def find(
        self, books: Books, typed: str, read_cents: Callable[[str], int | None], also: Sequence[Named] = ()
    ) -> tuple[Found, ...]:
        """What fits every word, as far as it is read. read_cents: a word as an amount, None where it is none.

        also: what the caller has to be found beside what the books hold.
        """
        only, words = _of_kind(typed_words(typed, read_cents))
        if not words:
            return ()
        if only == "question":
            return tuple(numbered_question(books, int(words[0][0])))
        ranked = [(rank, each.found) for each in (*also, *self._named) if (rank := each.rank(words)) is not None]
        for kind in _KEPT:
            if kind.kind in self._read and only in (None, kind.kind):
                ranked += _ranked(books, kind, self._read[kind.kind].lines, words)
        best = sorted(ranked, key=lambda each: (each[0], _KINDS.index(each[1].kind)))
        return tuple(_fairly([found for _, found in best if only in (None, found.kind)]))


def plain_cents(books: Books) -> Callable[[str], int | None]:
    """How a word is read as an amount whatever the locale: `31.80`."""

    def read(text: str) -> int | None:
        try:
            return read_amount(text, books.currency)
        except NotUnderstood:
            return None

    return read


def _ranked(books: Books, kind: Searched, lines: FoldedLines, words: Sequence[Word]) -> Iterator[tuple[int, Found]]:
    matches = lines.find(words, AT_MOST)
    told = dict(kind.tell(books, [each.number for each in matches])) if matches else {}
    return ((each.rank, told[each.number]) for each in matches if each.number in told and _counts(kind, each))


def _counts(kind: Searched, match: Match) -> bool:
    """Whether it is called by the number that was typed: nobody knows the number of a scan or of a bank's line."""
    return match.rank != EXACT or kind.kind in _NUMBERED


def _of_kind(words: tuple[Word, ...]) -> tuple[str | None, tuple[Word, ...]]:
    """`entry 12` and `job 12` ask for one kind of thing by its number; else every kind is asked for."""
    if len(words) == 2 and words[0][0] in _NUMBERED and words[1][0].isdecimal():
        return words[0][0], words[1:]
    return None, words


def _fairly(found: Sequence[Found]) -> Iterable[Found]:
    """The first of each kind, then as many others as there is room for; in the order given."""
    seen: dict[str, int] = {}
    first: list[int] = []
    rest: list[int] = []
    for place, each in enumerate(found):
        seen[each.kind] = seen.get(each.kind, 0) + 1
        (first if seen[each.kind] <= _OF_A_KIND else rest).append(place)
    return [found[place] for place in sorted([*first, *rest][:AT_MOST])]


def _acts() -> Iterator[Named]:
    for each in ACTS:
        leading = f"{each.verb} {SEARCH_WORDS.get(each.id, '')}"
        yield Named(found_act(each), folded(each.words), folded(leading), folded(each.help))


def found_act(act: Act) -> Found:
    return Found("act", act.id, act.words, aside=act.help, room="act", at=act.id)
