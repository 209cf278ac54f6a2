"""Commands for the set-up list: what is open and whom to ask, one item whole, and the answer to it."""

from __future__ import annotations

from typing import Any

import click

from checklists.item import Item
from checklists.progress import KeptAnswer, Standing, Tally, tally, tally_by_stage
from checklists.records import read_answers, read_catalogue_of, read_standings
from checklists.values import example_of, form_of
from ledger.actions.registry import act_of_verb
from ledger.books.books import Books
from ledger.commands.manners import Answer, Group, Session, answers, day_or_none, read_path
from ledger.errors import NotFound
from ledger.periods import parse_date

WHO_DECIDES = "The office or the licensed person that an item names decides, and not this program."


@click.group("setup", cls=Group)
def setup() -> None:
    """The set-up list: whom to ask what, and what you were told."""


@setup.command("list")
@answers
def list_items(session: Session) -> Answer:
    """Every item, how it stands, and what can be asked next."""
    with session.books() as books:
        standing = read_standings(books)
        data = {"items": [_row(each) for each in standing], "progress": _progress(books, standing)}
        return Answer(data, _list_lines(books, standing))


@setup.command("show")
@click.argument("item")
@answers
def show(session: Session, item: str) -> Answer:
    """One item: why, whom to ask, and what to ask.

    The questions stand word for word, with what to keep and the answers so far. ITEM is named in «twopurse setup list».
    """
    with session.books() as books:
        standing = read_standings(books)
        wanted = _find(books, standing, item)
        history = read_answers(books, wanted.id)
        page = {**_row(wanted), **_page(wanted.item), "answers": [_answer(each) for each in history]}
        data = {"items": [page], "progress": _progress(books, standing)}
        return Answer(data, [*_page_lines(wanted), *_history_lines(history)])


@setup.command("answer", help=act_of_verb("setup answer").help)
@click.argument("item")
@click.argument("value", required=False)
@click.option("--asked", metavar="WHOM", required=True, help="Whom you asked.")
@click.option("--state", default="done", show_default=True, help="open, asked, done or does-not-apply.")
@click.option("--reference", metavar="TEXT", help="The number of the letter, ruling or policy.")
@click.option("--expires", metavar="DATE", help="The last day on which it holds.")
@click.option("--proof", metavar="FILE", help="The letter, permit or photograph to keep with it.")
@click.option("--note", metavar="TEXT", help="Anything else that was said.")
@answers
def answer(session: Session, item: str, value: str | None, asked: str, state: str, **given: str | None) -> Answer:
    from ledger.actions.answers import AnswerRequest, perform

    expires, proof = given["expires"], given["proof"]
    request = AnswerRequest(
        item=item,
        value=value,
        asked=asked,
        state=state,
        reference=given["reference"],
        expires=parse_date(expires, "expires") if expires is not None else None,
        proof=read_path(proof, "proof") if proof is not None else None,
        note=given["note"],
    )
    with session.books() as books:
        done = perform(books, request)
        standing = read_standings(books)
        kept = _find(books, standing, done.item.id)
        fed = [str(each) for each in done.fed]
        data = {
            "items": [_row(kept)],
            "progress": _progress(books, standing),
            "fed": fed,
            "remarks": list(done.remarks),
        }
        lines = [f"{done.item.title}: {_said(done.state, done.value, done.asked)}."]
        lines += [f"From {books.today} the books go by this: {each}." for each in fed]
        return Answer(data, [*lines, *done.remarks])


def _find(books: Books, standing: tuple[Standing, ...], name: str) -> Standing:
    """The item of a name, also one that is gone from the list. Raises NotFound."""
    try:
        wanted = read_catalogue_of(books).item(name).id
    except NotFound:
        gone = next((each for each in standing if each.item is None and each.id == name.strip()), None)
        if gone is None:
            raise
        return gone
    return next(each for each in standing if each.id == wanted)


def _row(standing: Standing) -> dict[str, Any]:
    item, answer = standing.item, standing.answer
    return {
        "id": standing.id,
        "stage": standing.stage.id if standing.stage else None,
        "title": item.title if item else standing.id,
        "state": standing.state,
        "due": day_or_none(standing.due),
        "ask": item.ask if item else None,
        "source": item.source_words if item else None,
        "waits_for": list(standing.waits_for),
        "value": answer.value if answer else None,
        "asked": answer.asked if answer else None,
        "date": day_or_none(answer.on if answer else None),
        "reference": answer.reference if answer else None,
        "expires": day_or_none(answer.expires if answer else None),
        "note": answer.note if answer else None,
        "proof": answer.document if answer else None,
    }


def _page(item: Item | None) -> dict[str, Any]:
    """What only the page of an item tells."""
    return {
        "why": item.why if item else None,
        "questions": list(item.questions) if item else [],
        "keep": item.proof if item else None,
        "caution": item.caution if item else None,
        "differs": list(item.differs) if item else [],
        "sources": [str(each) for each in item.sources] if item else [],
        "recurs": item.recurs if item else None,
        "feeds": item.feeds if item else None,
        "answer_form": form_of(item) if item else None,
        "usage": _usage(item) if item else None,
        "parts": [
            {"name": each.name, "kind": each.kind, "choices": list(each.choices)}
            for each in (item.parts if item else ())
        ],
    }


def _answer(answer: KeptAnswer) -> dict[str, Any]:
    return {
        "state": answer.state,
        "value": answer.value,
        "asked": answer.asked,
        "date": answer.on.isoformat(),
        "reference": answer.reference,
        "expires": day_or_none(answer.expires),
        "note": answer.note,
        "proof": answer.document,
    }


def _progress(books: Books, standing: tuple[Standing, ...]) -> dict[str, Any]:
    stages = [
        {"stage": stage.id, "title": stage.title, **_counts(counted)}
        for stage, counted in tally_by_stage(read_catalogue_of(books), standing)
    ]
    return {
        **_counts(tally(standing)),
        "stages": stages,
        "next": [each.id for each in standing if each.can_be_asked],
    }


def _counts(counted: Tally) -> dict[str, int]:
    return {
        "items": counted.items,
        "settled": counted.settled,
        "open": counted.open,
        "asked": counted.asked,
        "done": counted.done,
        "does_not_apply": counted.does_not_apply,
    }


def _list_lines(books: Books, standing: tuple[Standing, ...]) -> list[str]:
    lines: list[str] = []
    for stage, counted in tally_by_stage(read_catalogue_of(books), standing):
        lines.append(f"{stage.title}: {counted.settled} of {counted.items}")
        lines += [_line(each) for each in standing if each.stage == stage]
    gone = [each for each in standing if each.item is None]
    if gone:
        lines += ["No longer on the list", *(_line(each) for each in gone)]
    first = next((each.item for each in standing if each.can_be_asked), None)
    if first is not None:
        lines.append(f"Next: {first.title} (ask: {first.ask}). «twopurse setup show {first.id}» has the questions.")
    return [*lines, WHO_DECIDES]


def _line(standing: Standing) -> str:
    state: str = standing.state
    if standing.due is not None:
        state = f"done to {standing.due}" if standing.is_settled else f"due {standing.due}"
    title = standing.item.title if standing.item else (standing.answer and standing.answer.value) or ""
    return f"  {state:<19}{standing.id:<19}{title}"


def _page_lines(standing: Standing) -> list[str]:
    item = standing.item
    if item is None:
        return [f"{standing.id}: no longer on the list. Its answers stay."]
    lines = [f"{item.title} ({item.id}): {standing.state}", item.why, f"Ask: {item.ask}"]
    lines += [f"  {number}. {question}" for number, question in enumerate(item.questions, start=1)]
    lines.append(f"Keep: {item.proof}")
    if item.differs:
        lines += ["The rules differ from place to place. Published examples, none of them your rule:"]
        lines += [f"  {example}" for example in item.differs]
    lines += [f"Mind: {item.caution}", f"Source: {item.source_words}"]
    if standing.waits_for:
        lines.append(f"Settle first: {', '.join(standing.waits_for)}")
    return [*lines, f"Answer with: {_usage(item)} ({form_of(item)})"]


def _usage(item: Item) -> str:
    return f'twopurse setup answer {item.id} "{example_of(item)}" --asked WHOM'


def _history_lines(history: tuple[KeptAnswer, ...]) -> list[str]:
    return [
        f"{each.on}: {_said(each.state, each.value, each.asked)}"
        + (f", {each.reference}" if each.reference else "")
        + (f", holds through {each.expires}" if each.expires else "")
        + (f"; {each.note}" if each.note else "")
        for each in history
    ]


def _said(state: str, value: str | None, asked: str | None) -> str:
    said = value if state == "done" and value else f"{state} ({value})" if value else state
    return f"{said}, {'put to' if state == 'asked' else 'from'} {asked}"


COMMANDS = (setup,)
