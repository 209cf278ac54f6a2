"""The command for the letterhead of her papers."""

from __future__ import annotations

import click

from ledger.actions.registry import act_of_verb
from ledger.commands.manners import Answer, Command, Session, answers, read_path


@click.command("letterhead", cls=Command, help=act_of_verb("letterhead").help)
@click.option("--picture", metavar="FILE", help="A PNG or JPEG picture; of a photograph, the pixels alone are kept.")
@click.option("--no-picture", is_flag=True, help="From now on without a picture.")
@click.option(
    "--line", "lines", multiple=True, metavar="TEXT", help="A line under the name, up to four, in place of all before."
)
@click.option("--no-lines", is_flag=True, help="From now on the name alone.")
@answers
def letterhead(
    session: Session, picture: str | None, no_picture: bool, lines: tuple[str, ...], no_lines: bool
) -> Answer:
    from ledger.actions.letterhead import LetterheadRequest, perform
    from ledger.books.letterhead import picture_digest, read_letterhead

    if lines and no_lines:
        raise click.UsageError("Either --line or --no-lines.")
    if picture is not None and no_picture:
        raise click.UsageError("Either --picture or --no-picture.")
    wanted = LetterheadRequest(
        lines=lines if lines or no_lines else None,
        picture=read_path(picture, "picture") if picture is not None else None,
        drops_picture=no_picture,
    )
    with session.books() as books:
        kept = perform(books, wanted) if wanted != LetterheadRequest() else None
        shown = kept.letterhead if kept else read_letterhead(books, session.today)
        data = {
            "name": books.settings.name,
            "lines": list(shown.lines),
            "picture": picture_digest(shown.picture) if shown.picture else None,
            "width": shown.picture.width if shown.picture else None,
            "height": shown.picture.height if shown.picture else None,
            "pdf": str(kept.pdf) if kept else None,
            "text": str(kept.text) if kept else None,
        }
        told = f"{shown.picture.width} by {shown.picture.height} pixels" if shown.picture else "none"
        sample = [f"A sample: {kept.pdf}"] if kept else []
        return Answer(data, [books.settings.name, *shown.lines, f"Picture: {told}", *sample])


COMMANDS = (letterhead,)
