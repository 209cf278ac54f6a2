"""The command that prints the guide, for whoever reads it outside the rooms."""

from __future__ import annotations

import click

from ledger.commands.manners import Answer, Command, Session, answers


@click.command("guide", cls=Command)
@click.argument("chapter", required=False)
@answers
def guide(session: Session, chapter: str | None) -> Answer:
    """Read the guide, chapter by chapter. Without CHAPTER, the list of them."""
    from ledger.guide.chapters import CHAPTERS, read_text_of

    listed = [{"name": name, "title": title} for name, title in CHAPTERS.items()]
    if chapter is None:
        lines = [f"{each['name']:<12}{each['title']}" for each in listed]
        return Answer({"chapters": listed, "chapter": None, "text": None}, lines)
    # Markdown is made to be read as it stands.
    text = read_text_of(chapter)
    return Answer({"chapters": listed, "chapter": chapter, "text": text}, text.rstrip("\n").split("\n"))


COMMANDS = (guide,)
