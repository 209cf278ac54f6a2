"""Commands for documents: attach one, open one, and list the receipts above a limit that have none."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import click

from ledger.actions.registry import act_of_verb
from ledger.books.books import Books
from ledger.books.documents import Document
from ledger.commands.manners import Answer, Command, Session, amount_in, answers, read_number, read_path
from ledger.errors import NotFound
from ledger.money import read_amount
from ledger.periods import parse_period, year_holding

_Function = Callable[..., Any]
_OWNER = (
    click.option("--entry", type=read_number, metavar="ENTRY", help="The entry that it belongs to."),
    click.option("--job", type=read_number, metavar="JOB", help="The job that it belongs to."),
    click.option("--item", metavar="ITEM", help="The item of the set-up list that it belongs to."),
    click.option("--certificate", metavar="NUMBER", help="The customer's certificate that it belongs to."),
)


def _with_owner(function: _Function) -> _Function:
    for option in reversed(_OWNER):
        function = option(function)
    return function


@click.command("attach", cls=Command, help=act_of_verb("attach").help)
@click.argument("file", metavar="FILE")
@_with_owner
@answers
def attach(session: Session, file: str, **owner: Any) -> Answer:
    from ledger.actions import attach as act

    with session.books() as books:
        kept = act.perform(books, act.AttachRequest(read_path(file, "file"), **owner))
        data = {"digest": kept.digest, "kind": kept.kind, "label": kept.label, **owner, "remark": kept.remark}
        said = f"Kept «{kept.label}», a {kept.kind}, as {kept.digest[:12]}."
        return Answer(data, [said, *([kept.remark] if kept.remark else [])])


@click.command("view", cls=Command, help=act_of_verb("view").help)
@_with_owner
@click.option("--document", "digest", metavar="DIGEST", help="The first letters of the name that it is kept under.")
@click.option("--list", "lists", is_flag=True, help="Open none; list them, and what each belongs to.")
@answers
def view(session: Session, digest: str | None, lists: bool, **owner: Any) -> Answer:
    from ledger.books.viewer import show_document

    with session.books() as books:
        found = _asked_for(books, digest, owner)
        if not found and not lists:
            raise NotFound(
                "There is no document with it.", "Keep one with «twopurse attach».", "document" if digest else "entry"
            )
        data = {"documents": [_document(each) for each in found], "opened": None if lists else found[0].digest}
        if not lists:
            show_document(books, found[0])
        lines = [f"{each.digest[:12]}  {each.kept_on}  {each.belongs_to:<14}  {each.label}" for each in found]
        return Answer(data, lines or ["There is no document with it."])


@click.command("documents", cls=Command)
@click.argument("period", required=False, metavar="PERIOD")
@click.option("--above", metavar="AMOUNT", help="Only receipts above this; above your limit unless given.")
@answers
def documents(session: Session, period: str | None, above: str | None) -> Answer:
    """Receipts that have no document, the largest first.

    PERIOD is such as 2026, 2026-Q1 or 2026-03; this year unless given.
    """
    from ledger.spending.without_document import document_limit_cents, entries_without_document

    with session.books() as books:
        days = parse_period(period) if period is not None else year_holding(session.today)
        limit = read_amount(above, books.currency, "above", zero=True) if above else document_limit_cents(books)
        amount = amount_in(books.currency)
        missing = [
            {"entry": each.entry, "date": each.day.isoformat(), "text": each.text, "amount": amount(each.cents)}
            for each in entries_without_document(books, days.start, min(days.end, session.today), limit)
        ]
        lines = [f"{each['entry']:>6}  {each['date']}  {each['amount']:>10}  {each['text']}" for each in missing]
        above_limit = f"above {amount(limit)} " if limit else ""
        none = [f"Every receipt {above_limit}there has its document."]
        return Answer({"missing": missing, "above": amount(limit)}, lines or none)


@click.command("document-limit", cls=Command, help=act_of_verb("document-limit").help)
@click.argument("amount", metavar="AMOUNT", required=False)
@answers
def document_limit(session: Session, amount: str | None) -> Answer:
    from ledger.actions.document_limit import DocumentLimitRequest, perform
    from ledger.spending.without_document import document_limit_cents

    with session.books() as books:
        if amount is not None:
            perform(books, DocumentLimitRequest(read_amount(amount, books.currency, "amount", zero=True)))
        above = amount_in(books.currency)(document_limit_cents(books))
        return Answer({"above": above}, [f"Receipts above {above} want a document."])


def _asked_for(books: Books, digest: str | None, owner: dict[str, Any]) -> tuple[Document, ...]:
    from ledger.actions.attach import Owner, documents_of
    from ledger.books.documents import read_documents

    if digest is None:
        return documents_of(books, Owner(**owner))
    if any(value is not None for value in owner.values()):
        raise click.UsageError("--document stands alone.")
    return read_documents(books, digest=digest)


def _document(document: Document) -> dict[str, Any]:
    return {
        "digest": document.digest,
        "label": document.label,
        "date": document.kept_on.isoformat(),
        "entry": document.entry,
        "job": document.job,
        "item": document.item,
        "belongs_to": document.belongs_to,
    }


COMMANDS = (attach, view, documents, document_limit)
