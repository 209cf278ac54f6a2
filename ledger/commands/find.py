"""The command that finds anything by its words, as `/` does in the rooms."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from ledger.actions.registry import act
from ledger.books.books import Books
from ledger.commands.manners import Answer, Command, Session, amount_in, answers, day_or_none

if TYPE_CHECKING:
    from ledger.books.finding import Found


@click.command("find", cls=Command)
@click.argument("words", metavar="WORDS", nargs=-1, required=True)
@answers
def find(session: Session, words: tuple[str, ...]) -> Answer:
    """Find anything by its words, a number or an amount.

    Commands, customers, jobs, gift certificates, set-up items, questions, entries, documents and lines of statements.
    Every one of the WORDS must be there; case and accents count for nothing. The best match stands first.
    """
    from ledger.actions.find import Finder, plain_cents

    with session.books() as books:
        finder = Finder()
        for _ in finder.read_on(books):
            pass
        found = [_told(books, each) for each in finder.find(books, " ".join(words), plain_cents(books))]
        lines = [
            f"{each['kind']:<10} {each['number']:<16} {each['words']}"
            + "".join(f"  {each[key]}" for key in ("date", "amount", "note") if each[key])
            for each in found
        ]
        return Answer({"found": found}, lines or ["Nothing has all of these words."])


def _told(books: Books, found: Found) -> dict[str, Any]:
    is_act = found.kind == "act"
    return {
        "kind": "command" if is_act else found.kind,
        "number": act(str(found.at)).verb if is_act else str(found.number),
        "words": found.words,
        "date": day_or_none(found.day),
        "amount": amount_in(books.currency)(found.cents) if found.cents is not None else None,
        "note": found.aside or None,
    }


COMMANDS = (find,)
