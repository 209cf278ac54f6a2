"""Text to be searched as one types: a line for each thing, without case and accents, the newest first.

Searching a string is the fastest that there is here: six megabytes, which 100,000 entries come to, take milliseconds.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import islice
from typing import Final

from ledger.text import folded

# Between a number and its text, and on both sides of an amount: what nobody can type.
_AFTER_NUMBER: Final = "\x1f"
AMOUNT: Final = "\x1e"
# Of more lines than this the rest is older and no better.
_MOST_LOOKED_AT: Final = 200
EXACT, BEGINS_WORDS, WITHIN_WORDS = 0, 1, 2


@dataclass(frozen=True)
class Match:
    """rank: EXACT where the number itself was typed, else whether every word typed begins a word there."""

    rank: int
    number: int


# One word that was typed, with whatever else would stand for it: an amount.
Word = tuple[str, ...]


def typed_words(text: str, read_cents: Callable[[str], int | None]) -> tuple[Word, ...]:
    """The words of a search; one that can be an amount stands for it too."""
    words = []
    for each in text.split():
        cents, plain = read_cents(each), folded(each)
        words.append((plain, f"{AMOUNT}{cents}{AMOUNT}") if cents is not None else (plain,))
    return tuple(words)


def rank_in(text: str, words: Sequence[Word]) -> int | None:
    """How well every word fits a text that is folded already, None where one of them is not in it."""
    if not all(any(each in text for each in word) for word in words):
        return None
    return BEGINS_WORDS if all(any(_begins(text, each) for each in word) for word in words) else WITHIN_WORDS


class FoldedLines:
    """Lines in pieces, the newest piece first. What is added is newer than all there is, or `older` than it."""

    def __init__(self) -> None:
        self._pieces: list[str] = []
        self.lines = 0

    def add(self, lines: Sequence[str], *, older: bool = False) -> None:
        """Lines as `line_of` makes them, the newest first."""
        if lines:
            piece = "\n" + folded("\n".join(lines)) + "\n"
            self._pieces.insert(len(self._pieces) if older else 0, piece)
            self.lines += len(lines)

    def find(self, words: Sequence[Word], at_most: int) -> tuple[Match, ...]:
        """The best matches, among equal ones the newest first."""
        if not words:
            return ()
        found = {each.number: each for each in islice(self._matches(words), _MOST_LOOKED_AT)}
        if len(words) == 1 and words[0][0].isdecimal():
            found |= {each.number: each for each in self._with_number(int(words[0][0]))}
        return tuple(sorted(found.values(), key=lambda each: (each.rank, -each.number))[:at_most])

    def _with_number(self, number: int) -> Iterator[Match]:
        line = f"\n{number}{_AFTER_NUMBER}"
        if any(line in piece for piece in self._pieces):
            yield Match(EXACT, number)

    def _matches(self, words: Sequence[Word]) -> Iterator[Match]:
        for piece in self._pieces:
            # By its rarest word: a common one would lead to every line.
            counts = [sum(piece.count(each) for each in word) for word in words]
            if all(counts):
                yield from _matches_in(piece, words, words[counts.index(min(counts))])


def line_of(number: int, text: str) -> str:
    """A line to search. SQL that makes its lines itself writes them in the same way."""
    return f"{number}{_AFTER_NUMBER}{text}"


def _matches_in(piece: str, words: Sequence[Word], rarest: Word) -> Iterator[Match]:
    for start in _line_starts(piece, rarest):
        number, _, text = piece[start : piece.index("\n", start)].partition(_AFTER_NUMBER)
        rank = rank_in(text, words)
        if rank is not None:
            yield Match(rank, int(number))


def _line_starts(piece: str, word: Word) -> Iterator[int]:
    """Where the lines begin that have the word or what stands for it, from the first to the last."""
    after = 0
    while True:
        places = [place for each in word if (place := piece.find(each, after)) >= 0]
        if not places:
            return
        first = min(places)
        yield piece.rindex("\n", 0, first + 1) + 1
        after = piece.index("\n", first + 1)


def _begins(text: str, words: str) -> bool:
    """Whether the words stand at the beginning of a word of the text."""
    place = text.find(words)
    while place > 0 and text[place - 1].isalnum() and not words.startswith(AMOUNT):
        place = text.find(words, place + 1)
    return place >= 0
