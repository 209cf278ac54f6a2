"""The command that prints the set-up list for a folder."""

from __future__ import annotations

import click

from checklists.progress import KeptAnswer
from checklists.records import read_answers, read_catalogue_of, read_standings
from ledger.commands import items_shown as shown
from ledger.commands.manners import Answer, Command, Session, answers, read_path


@click.command("print", cls=Command)
@click.option("--to", metavar="FOLDER", help="The folder for the two files, where it is not the receipts folder.")
@answers
def print_list(session: Session, to: str | None) -> Answer:
    """Print the whole list for a folder.

    As PDF and as text: every item with its questions, what you were told so far, and room to write where it is open.
    """
    from checklists.printed_list import WIDTH, ListOnPaper, list_name, list_sheet
    from ledger.jobs.printing import Printed, keep_in, receipts_folder
    from ledger.paper.locales import LocalForms
    from ledger.paper.pdf import sheet_pdf
    from ledger.paper.plain import sheet_text

    with session.books() as books:
        history: dict[str, list[KeptAnswer]] = {}
        for each in read_answers(books):
            history.setdefault(each.item, []).append(each)
        catalogue, standings = read_catalogue_of(books), read_standings(books)
        on_paper = ListOnPaper(books.settings.name, books.today, catalogue, standings, history)
        forms = LocalForms(books.settings.locale, books.currency)
        sheet = list_sheet(on_paper, forms)
        folder = read_path(to, "to") if to is not None else receipts_folder(books)
        printed = Printed(list_name(on_paper), sheet_pdf(sheet, forms.paper()), sheet_text(sheet, WIDTH))
        keep_in(folder, printed)
        pdf, text = str(printed.pdf_in(folder)), str(printed.text_in(folder))
        progress = shown.progress(catalogue, standings)
        lines = [f"{progress['items']} items printed.", f"For paper: {pdf}", f"As text: {text}"]
        return Answer({"pdf": pdf, "text": text, "progress": progress}, lines)


COMMANDS = (print_list,)
