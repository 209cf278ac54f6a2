"""What the forms about one job share: their title, the piece in a line, and what an act would book."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from typing import ClassVar

from ledger.actions.registry import act
from ledger.books.books import Books
from ledger.books.drafts import Draft
from ledger.jobs.job import Job
from ledger.screens.forms.form import Form
from ledger.screens.showing import cut, paired
from ledger.text import read_text

# Cells of a line of the preview, what stands in an empty field for a way of paying, and the most letters of a reason.
LINE = 50
WAYS_HINT = "cash, check, card ..."
_REASON = 300


class JobForm(Form):
    """A form about one job. act_id: what it does, by which it is titled."""

    act_id: ClassVar[str]

    def __init__(self, books: Books, job: Job) -> None:
        self.title_words = f"{act(self.act_id).words}, job {job.id}"
        super().__init__(books)
        self.job = job

    def about(self) -> str:
        """Whose piece it is."""
        return cut(f"{self.job.customer.name}: {self.job.piece}", 72)

    def pair(self, words: str, cents: int) -> str:
        """Words and an amount, as a line of the preview."""
        return paired(words, self.showing.plain(cents), LINE)

    def booked(self, draft: Draft) -> Iterator[str]:
        """The postings of an entry to be, debit positive."""
        yield from (self.pair(each.account.name, each.cents) for each in draft.postings)

    def reason(self, name: str = "why") -> str:
        """Words that must be there. A preview asks `words`, so that it shows before they are typed."""
        return self.read(name, partial(read_text, field=name, limit=_REASON), "")
