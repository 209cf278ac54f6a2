"""Commands for the set-up list: what is open and whom to ask, one item whole, and the answer to it."""

from __future__ import annotations

import click

from checklists.records import read_answers, read_catalogue_of, read_hidden, read_standings
from ledger.actions.registry import act_of_verb
from ledger.commands import items_shown as shown
from ledger.commands import own_items, set_up_offices, set_up_print, set_up_worksheets
from ledger.commands.manners import Answer, Group, Session, answers, read_path
from ledger.periods import parse_date


@click.group("setup", cls=Group)
def setup() -> None:
    """The set-up list: whom to ask what, and what you were told."""


@setup.command("list")
@answers
def list_items(session: Session) -> Answer:
    """Every item, how it stands, and what can be asked next."""
    with session.books() as books:
        catalogue, standing = read_catalogue_of(books), read_standings(books)
        data = {
            "items": [shown.row(each) for each in standing],
            "progress": shown.progress(catalogue, standing),
            "hidden": [shown.row(each) for each in read_hidden(books)],
        }
        return Answer(data, shown.list_lines(catalogue, standing))


@setup.command("show")
@click.argument("item")
@answers
def show(session: Session, item: str) -> Answer:
    """One item: why, whom to ask, and what to ask.

    The questions stand word for word, with what to keep and the answers so far. ITEM is named in «twopurse setup list».
    """
    with session.books() as books:
        wanted = shown.read_standing(books, item)
        history = read_answers(books, wanted.id)
        told = [shown.kept_answer(each) for each in history]
        page = {**shown.row(wanted), **shown.page(wanted.item), "answers": told}
        data = {"items": [page], "progress": shown.progress(read_catalogue_of(books), read_standings(books))}
        return Answer(data, [*shown.page_lines(wanted), *shown.history_lines(history)])


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
        fed = [str(each) for each in done.fed]
        data = {
            "items": [shown.row(shown.read_standing(books, done.item.id))],
            "progress": shown.progress(read_catalogue_of(books), read_standings(books)),
            "fed": fed,
            "remarks": list(done.remarks),
        }
        lines = [f"{done.item.title}: {shown.said(done.state, done.value, done.asked)}."]
        lines += [f"From {books.today} the books go by this: {each}." for each in fed]
        return Answer(data, [*lines, *done.remarks])


for each in (
    *set_up_offices.COMMANDS,
    *set_up_print.COMMANDS,
    *set_up_worksheets.COMMANDS,
    *own_items.COMMANDS,
):
    setup.add_command(each)

COMMANDS = (setup,)
