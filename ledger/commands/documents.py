"""Commands for documents: attach one, and list the receipts that have none."""

from __future__ import annotations

import click

from ledger.actions.registry import act_of_verb
from ledger.commands.manners import Answer, Command, Session, amount_in, answers, read_number, read_path
from ledger.money import read_amount
from ledger.periods import parse_period, year_holding


@click.command("attach", cls=Command, help=act_of_verb("attach").help)
@click.argument("file", metavar="FILE")
@click.option("--entry", type=read_number, metavar="ENTRY", help="The entry that it belongs to.")
@click.option("--job", type=read_number, metavar="JOB", help="The job that it belongs to.")
@answers
def attach(session: Session, file: str, entry: int | None, job: int | None) -> Answer:
    from ledger.actions import attach as act

    with session.books() as books:
        kept = act.perform(books, act.AttachRequest(read_path(file, "file"), entry, job))
        data = {"digest": kept.digest, "kind": kept.kind, "label": kept.label, "entry": entry, "job": job}
        return Answer(data, [f"Kept «{kept.label}», a {kept.kind}, as {kept.digest[:12]}."])


@click.command("documents", cls=Command)
@click.argument("period", required=False, metavar="PERIOD")
@click.option("--above", metavar="AMOUNT", default="0", help="Only receipts above this.")
@answers
def documents(session: Session, period: str | None, above: str) -> Answer:
    """Receipts that have no document, the largest first.

    PERIOD is such as 2026, 2026-Q1 or 2026-03; this year unless given.
    """
    from ledger.spending.without_document import entries_without_document

    with session.books() as books:
        days = parse_period(period) if period is not None else year_holding(session.today)
        limit = read_amount(above, books.currency, "above", zero=True)
        amount = amount_in(books.currency)
        missing = [
            {"entry": each.entry, "date": each.day.isoformat(), "text": each.text, "amount": amount(each.cents)}
            for each in entries_without_document(books, days.start, min(days.end, session.today), limit)
        ]
        lines = [f"{each['entry']:>6}  {each['date']}  {each['amount']:>10}  {each['text']}" for each in missing]
        return Answer({"missing": missing}, lines or ["Every receipt there has its document."])


COMMANDS = (attach, documents)
