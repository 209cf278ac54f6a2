"""The command line: every subject is read only when one of its commands is called."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from importlib import import_module

import click

from ledger.commands.manners import Group, run

# Command to the module of ledger.commands that holds it, so that one command does not import the others.
SUBJECTS = {
    "new": "books",
    "chart": "books",
    "entries": "books",
    "prove": "books",
    "backup": "books",
    "restore": "books",
    "tax": "tax",
    "price": "prices",
    "customer": "prices",
    "job": "jobs",
    "pickup": "pickup",
    "spend": "money",
    "move": "money",
    "draw": "money",
    "put-in": "money",
    "pay-back": "money",
    "reverse": "money",
    "payback": "figures",
    "quarter": "figures",
    "setup": "set_up",
}


class Commands(Group):
    """The root, whose commands are found by name."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        return list(SUBJECTS)

    def get_command(self, ctx: click.Context, name: str) -> click.Command | None:
        if name not in SUBJECTS:
            return None
        subject = import_module(f"ledger.commands.{SUBJECTS[name]}")
        commands: dict[str, click.Command] = {each.name: each for each in subject.COMMANDS}
        return commands[name]


@click.group(cls=Commands, name="twopurse")
def twopurse() -> None:
    """Money and set-up for a one-machine workshop at home: the workshop's purse and the household's, kept apart.

    From your own records. No tax, legal or insurance advice: your accountant and the offices decide.
    """


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command; its exit code: 0 done, 1 refused, 2 wrong use, 3 a defect of ours."""
    return run(twopurse, sys.argv[1:] if arguments is None else list(arguments))


if __name__ == "__main__":
    sys.exit(main())
