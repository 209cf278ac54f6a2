"""What `/` finds of the guide: its chapters, and the words that it explains."""

from __future__ import annotations

from collections.abc import Iterator

from ledger.actions.find import Named
from ledger.books.finding import Found
from ledger.guide.chapters import CHAPTERS
from ledger.guide.words import Word, read_words
from ledger.text import folded

WHOLE_GUIDE = Found("guide", "", "Guide", aside="How everything is done, chapter by chapter.", room="guide")


def guide_to_find() -> Iterator[Named]:
    """The guide itself, each chapter of it, and each word."""
    yield Named(WHOLE_GUIDE, "guide", "help manual how")
    for name, title in CHAPTERS.items():
        found = Found("guide", name, title, aside="A chapter of the guide.", room="guide", at=name)
        yield Named(found, folded(title), "guide chapter")
    for word in read_words().values():
        found = Found("word", word.name, word.name, aside=_shortened(word), room="guide word", at=word.name)
        yield Named(found, folded(word.name), "what is", folded(word.meaning))


def _shortened(word: Word) -> str:
    return word.meaning.partition(". ")[0].removesuffix(".") + "."
