"""The command that tells and chooses the colours of the rooms; the books have no part in it."""

from __future__ import annotations

import os

import click

from ledger.colours import SETS, colours_to_begin_with, keep_colours, overruled_by
from ledger.commands.manners import Answer, Command, Session, answers


@click.command("colours", cls=Command, help="Choose the colours of the rooms. Without a name: which there are.")
@click.argument("name", metavar="[NAME]", required=False)
@answers
def colours(session: Session, name: str | None) -> Answer:
    if name is not None:
        keep_colours(name)
    now, deciding = colours_to_begin_with(os.environ), overruled_by(os.environ)
    choices = [{"name": each.name, "words": each.words} for each in SETS]
    lines = [f"{'*' if each == now else ' '} {each.name:<10} {each.words}" for each in SETS]
    lines += [f"{deciding} decides, whatever is chosen."] if deciding else []
    return Answer({"colours": now.name, "decided_by": deciding, "choices": choices}, lines)


COMMANDS = (colours,)
