"""What an office answered to a call sheet, all of it at once: every answer is kept, or none."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from checklists.call_sheet import CallSheet, office_of, open_questions
from checklists.records import read_catalogue_of, read_standings
from ledger.actions import answers
from ledger.books.books import Books
from ledger.errors import NotUnderstood, Refused, unknown_name

# What is typed for an item that was put to the office without an answer yet, and for one that does not apply here.
ASKED, NOT_HERE = "?", "-"
Answering = Callable[[Books, answers.AnswerRequest], answers.SettledAnswer]


@dataclass(frozen=True)
class HeardRequest:
    """office: as the list names it, or an item that asks it. asked: who answered. told: items by id, each with its
    answer, `ASKED` or `NOT_HERE`. reference: the number of a letter or ruling for all of them."""

    office: str
    asked: str
    told: tuple[tuple[str, str], ...]
    reference: str | None = None


def read_call(books: Books, office: str) -> CallSheet:
    """What is open for an office today. Raises NotFound for the office, NotPossible where nothing is."""
    wanted = office_of(read_catalogue_of(books), office)
    return open_questions(books.settings.name, books.today, wanted, read_standings(books))


def preview(books: Books, request: HeardRequest) -> tuple[answers.SettledAnswer, ...]:
    """What the answers would put in the books. Raises as `answers` does, naming the item as the field."""
    return tuple(_answered(answers.preview, books, each) for each in _requests(books, request))


def perform(books: Books, request: HeardRequest) -> tuple[answers.SettledAnswer, ...]:
    """Raises as `preview` does, and then nothing is kept."""
    with books.all_or_nothing() as together:
        return tuple(_answered(answers.perform, together, each) for each in _requests(together, request))


def _answered(act: Answering, books: Books, request: answers.AnswerRequest) -> answers.SettledAnswer:
    try:
        return act(books, request)
    except Refused as refused:
        if refused.field not in ("asked", "reference"):
            refused.field = request.item
        raise


def _requests(books: Books, request: HeardRequest) -> list[answers.AnswerRequest]:
    call = read_call(books, request.office)
    known = [each.id for each in call.items]
    if not request.told:
        raise NotUnderstood("No answer is given.", "Write down at least one of them.", known[0])
    told = {}
    for item, value in request.told:
        name = item.strip().casefold().replace("-", "_")
        if name not in known:
            raise unknown_name("open item of this office", item, known, item)
        told[name] = value
    made = []
    # In the order of the list, whatever order they were told in.
    for name, value in sorted(told.items(), key=lambda pair: known.index(pair[0])):
        state = {ASKED: "asked", NOT_HERE: "does not apply"}.get(value, "done")
        said = value if state == "done" else None
        made.append(answers.AnswerRequest(name, said, request.asked, state, request.reference))
    return made
