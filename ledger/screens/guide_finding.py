"""What `/` finds of the guide: its chapters, and the words that it explains."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from typing import TYPE_CHECKING, cast

from textual.command import DiscoveryHit, Hit, Hits, Provider
from textual.content import Content

from ledger.guide.chapters import CHAPTERS
from ledger.guide.words import Word, read_words
from ledger.screens.palette import Found

if TYPE_CHECKING:
    from ledger.screens.app import TwopurseApp

# A room or an act of the same name stands first.
_BELOW_ACTS = 0.5
_WHOLE = "How everything is done, chapter by chapter."


class ChaptersAndWords(Provider):
    """The guide itself is offered at once; a chapter and a word once they are asked for."""

    async def discover(self) -> Hits:
        yield DiscoveryHit(Content("Guide"), self._twopurse.open_guide, "Guide", _WHOLE)

    async def search(self, query: str) -> Hits:
        matcher = self.matcher(query)
        for each in self._all():
            score = matcher.match(each.words)
            if score > 0:
                yield Hit(score * _BELOW_ACTS, Content(each.words), each.run, each.words, each.help)

    @property
    def _twopurse(self) -> TwopurseApp:
        return cast("TwopurseApp", self.app)

    def _all(self) -> Iterator[Found]:
        app = self._twopurse
        yield Found("Guide", _WHOLE, app.open_guide)
        for name, title in CHAPTERS.items():
            yield Found(f"Guide: {title}", "A chapter of the guide.", partial(app.open_guide, name))
        for word in read_words().values():
            yield Found(f"What is: {word.name}", _shortened(word), partial(app.open_guide, "words", word.name))


def _shortened(word: Word) -> str:
    return word.meaning.partition(". ")[0].removesuffix(".") + "."
