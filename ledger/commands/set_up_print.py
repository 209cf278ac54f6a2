"""The command that prints the set-up list for a folder."""

from __future__ import annotations

import click

from checklists.records import read_catalogue_of, read_standings
from ledger.actions.registry import act_of_verb
from ledger.commands import items_shown as shown
from ledger.commands.manners import Answer, Command, Session, answers, read_path


@click.command("print", cls=Command, help=act_of_verb("setup print").help)
@click.option("--to", metavar="FOLDER", help="The folder for the two files, where it is not the receipts folder.")
@answers
def print_list(session: Session, to: str | None) -> Answer:
    from ledger.actions import print_set_up as act

    with session.books() as books:
        printed, folder = act.print_list(books, act.ListRequest(read_path(to, "to") if to is not None else None))
        pdf, text = str(printed.pdf_in(folder)), str(printed.text_in(folder))
        progress = shown.progress(read_catalogue_of(books), read_standings(books))
        lines = [f"{progress['items']} items printed.", f"For paper: {pdf}", f"As text: {text}"]
        return Answer({"pdf": pdf, "text": text, "progress": progress}, lines)


COMMANDS = (print_list,)
