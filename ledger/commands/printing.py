"""The commands that print paper for a customer: a receipt once more, and a quote."""

from __future__ import annotations

from typing import Any

import click

from ledger.books.books import Books
from ledger.commands.manners import Answer, Command, Session, answers, read_number, read_path
from ledger.jobs.printing import Printed, keep_in, print_quote, print_receipt_again, receipts_folder

_TO_HELP = "The folder for the two files, where it is not the receipts folder of the books."


@click.command("receipt", cls=Command)
@click.argument("number", type=read_number, metavar="JOB")
@click.option("--to", metavar="FOLDER", help=_TO_HELP)
@answers
def receipt(session: Session, number: int, to: str | None) -> Answer:
    """Print the receipt of a pickup again, as PDF and text."""
    with session.books() as books:
        told, printed = print_receipt_again(books, number)
        entry = told.sealed.number if told.sealed else None
        return _kept(books, printed, to, {"job": number, "entry": entry})


@click.command("quote", cls=Command)
@click.argument("number", type=read_number, metavar="JOB")
@click.option("--to", metavar="FOLDER", help=_TO_HELP)
@answers
def quote(session: Session, number: int, to: str | None) -> Answer:
    """Print what a job will come to, for its owner to sign.

    As PDF and as text.
    """
    with session.books() as books:
        return _kept(books, print_quote(books, number), to, {"job": number})


def _kept(books: Books, printed: Printed, to: str | None, data: dict[str, Any]) -> Answer:
    folder = read_path(to, "to") if to is not None else receipts_folder(books)
    keep_in(folder, printed)
    pdf, text = printed.pdf_in(folder), printed.text_in(folder)
    lines = [*printed.text.splitlines(), "", f"For paper: {pdf}", f"As text: {text}"]
    return Answer({**data, "pdf": str(pdf), "text": str(text)}, lines)


COMMANDS = (receipt, quote)
