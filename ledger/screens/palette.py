"""What `/` finds: the rooms, the acts, and the jobs, also those that are gone, by whose they are and what they are."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import partial
from typing import TYPE_CHECKING, NamedTuple, cast

from textual.command import DiscoveryHit, Hit, Hits, Provider
from textual.content import Content

from ledger.actions.registry import ACTS, act
from ledger.jobs.bench import read_names
from ledger.screens.doors import DOORS
from ledger.screens.help import first_sentence
from ledger.text import shown

if TYPE_CHECKING:
    from ledger.screens.app import TwopurseApp

PLACEHOLDER = "A room, an act, a customer or a piece"


class Found(NamedTuple):
    """words: what is matched and shown. help: the program's own words beside it."""

    words: str
    help: str
    run: Callable[[], None]


class RoomsActsAndJobs(Provider):
    """Found by any part of their words."""

    async def startup(self) -> None:
        # Read once while `/` is open, not with every letter.
        self._found_jobs = tuple(self._jobs())

    async def discover(self) -> Hits:
        for each in self._rooms_and_acts():
            yield DiscoveryHit(Content(each.words), each.run, each.words, each.help)

    async def search(self, query: str) -> Hits:
        matcher = self.matcher(query)
        for each in (*self._rooms_and_acts(), *self._found_jobs):
            score = matcher.match(each.words)
            if score > 0:
                yield Hit(score, Content(each.words), each.run, each.words, each.help)

    @property
    def _twopurse(self) -> TwopurseApp:
        return cast("TwopurseApp", self.app)

    def _rooms_and_acts(self) -> Iterator[Found]:
        app = self._twopurse
        for door in DOORS:
            yield Found(door.title, door.purpose, partial(app.enter, door.name))
        for each in ACTS:
            yield Found(each.words, first_sentence(act(each.id).help), partial(app.do_here, each.id))

    def _jobs(self) -> Iterator[Found]:
        app = self._twopurse
        for job in read_names(app.books):
            where = f"gone since {app.showing.day(job.gone_on)}" if job.gone_on else "on the Bench"
            words = shown(f"{job.customer}: {job.piece}")
            yield Found(words, f"Job {job.number}, {where}.", partial(app.enter, "bench", job.number))
