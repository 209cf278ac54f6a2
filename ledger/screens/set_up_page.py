"""The page of one item of the set-up list, and of a stage, as lines."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from checklists.fit import Finding
from checklists.item import Stage
from checklists.progress import KeptAnswer, Standing, Tally
from ledger.books.documents import Document
from ledger.screens.showing import Showing

# Items that have a worksheet, and what it is called.
_WORKSHEETS = {"prices_near_you": "Prices near", "machine_choice": "Machines"}
WHO_DECIDES = "The office or the licensed person that an item names decides, and not this program."


@dataclass(frozen=True)
class Page:
    """history: every answer, the oldest first. findings: its rule beside how she works. documents: what proves it.
    first: what has to be settled before, by title; then: what waits for it."""

    standing: Standing
    history: Sequence[KeptAnswer] = ()
    findings: Sequence[Finding] = ()
    documents: Sequence[Document] = ()
    first: Sequence[str] = ()
    then: Sequence[str] = ()


def page_lines(page: Page, showing: Showing) -> Iterator[str]:
    """One item whole: what she was told, how it stands beside it, why, whom to ask, the questions, the caution."""
    item = page.standing.item
    told = [*_told(page, showing), *_beside(page)]
    yield from [*told, ""] if told else []
    if item is None:
        yield "This item is on the list no more; what you were told is kept."
        return
    if page.first:
        yield f"Settle first: {'; '.join(page.first)}"
    if item.why:
        yield item.why
    yield f"Ask: {item.ask}"
    yield from (f"  {number}. {question}" for number, question in enumerate(item.questions, start=1))
    if item.proof:
        yield f"Keep: {item.proof}"
    if item.caution:
        yield f"Mind: {item.caution}"
    yield from (f"Elsewhere, and no rule of yours: {each}" for each in item.differs)
    if item.id in _WORKSHEETS:
        yield f"A worksheet for it: «{_WORKSHEETS[item.id]}», found with /."
    if page.then:
        yield f"Waits for this: {'; '.join(page.then)}"
    yield f"Source: {item.source_words}"


def stage_lines(stage: Stage, counted: Tally) -> Iterator[str]:
    yield stage.title
    settled = f"{counted.done} done, {counted.does_not_apply} not here"
    yield f"{settled}, {counted.asked} asked, {counted.open} open."
    yield ""
    yield "What can be asked now stands first; · marks what waits for something else."
    yield WHO_DECIDES


def _told(page: Page, showing: Showing) -> Iterator[str]:
    """The answers, the newest first."""
    for answer in reversed(page.history):
        said = f"{answer.state}: {answer.value}" if answer.value else answer.state
        said += f", said {answer.asked or 'nobody'} on {showing.day(answer.on)}"
        said += f", {answer.reference}" if answer.reference else ""
        said += f", holds through {showing.day(answer.expires)}" if answer.expires else ""
        yield said + (f". {answer.note}" if answer.note else "")
    yield from (
        f"Proof: {each.label}, kept {showing.day(each.kept_on)} (v opens the newest)" for each in page.documents
    )


def _beside(page: Page) -> Iterator[str]:
    yield from (f"! {each.words}" if each.is_above else each.words for each in page.findings)
