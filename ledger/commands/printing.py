"""The commands that print paper for a customer: a receipt once more, a quote, and the form for a piece that came in."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from ledger.actions.registry import act_of_verb
from ledger.books.books import Books
from ledger.commands.manners import Answer, Command, Session, answers, read_number, read_path
from ledger.jobs.printing import (
    Printed,
    beside_the_first,
    keep_in,
    print_intake_form,
    print_quote,
    print_receipt_again,
    receipts_folder,
)

_TO_HELP = "The folder for the two files, where it is not the receipts folder of the books."


@click.command("receipt", cls=Command, help=act_of_verb("receipt").help)
@click.argument("number", type=read_number, metavar="JOB")
@click.option("--to", metavar="FOLDER", help=_TO_HELP)
@answers
def receipt(session: Session, number: int, to: str | None) -> Answer:
    with session.books() as books:
        told, printed = print_receipt_again(books, number)
        entry = told.sealed.number if told.sealed else None
        folder = _folder(books, to)
        return _kept(folder, beside_the_first(folder, printed), {"job": number, "entry": entry})


@click.command("quote", cls=Command, help=act_of_verb("quote").help)
@click.argument("number", type=read_number, metavar="JOB")
@click.option("--to", metavar="FOLDER", help=_TO_HELP)
@answers
def quote(session: Session, number: int, to: str | None) -> Answer:
    with session.books() as books:
        return _kept(_folder(books, to), print_quote(books, number), {"job": number})


@click.command("intake", cls=Command, help=act_of_verb("intake").help)
@click.argument("number", type=read_number, metavar="JOB")
@click.option("--to", metavar="FOLDER", help=_TO_HELP)
@answers
def intake(session: Session, number: int, to: str | None) -> Answer:
    with session.books() as books:
        return _kept(_folder(books, to), print_intake_form(books, number), {"job": number})


def _folder(books: Books, to: str | None) -> Path:
    return read_path(to, "to") if to is not None else receipts_folder(books)


def _kept(folder: Path, printed: Printed, data: dict[str, Any]) -> Answer:
    keep_in(folder, printed)
    pdf, text = printed.pdf_in(folder), printed.text_in(folder)
    lines = [*printed.text.splitlines(), "", f"For paper: {pdf}", f"As text: {text}"]
    return Answer({**data, "pdf": str(pdf), "text": str(text)}, lines)


COMMANDS = (receipt, quote, intake)
