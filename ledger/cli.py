"""The command line: every subject is read only when one of its commands is called."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from importlib import import_module

import click

from ledger.commands.manners import Group, run, session_of

# Command to the module of ledger.commands that holds it, so that one command does not import the others.
SUBJECTS = {
    "new": "books",
    "opening": "opening",
    "chart": "books",
    "entries": "books",
    "find": "find",
    "prove": "books",
    "backup": "books",
    "restore": "books",
    "tax": "tax",
    "price": "prices",
    "customer": "customers",
    "job": "jobs",
    "pickup": "pickup",
    "receipt": "printing",
    "quote": "printing",
    "intake": "printing",
    "letterhead": "letterhead",
    "refund": "job_endings",
    "gift": "gifts",
    "owed": "owed",
    "card": "cards",
    "spend": "money",
    "bill": "bills",
    "mileage": "mileage",
    "category": "categories",
    "attach": "documents",
    "view": "documents",
    "documents": "documents",
    "document-limit": "documents",
    "bring-in": "brought_in",
    "helper": "paid_people",
    "household-pays": "money",
    "open-household": "money",
    "crossings": "crossings",
    "move": "money",
    "draw": "money",
    "put-in": "money",
    "pay-back": "money",
    "let-go": "money",
    "reverse": "money",
    "machine": "machine",
    "depreciation": "depreciation",
    "set-aside": "set_aside",
    "payback": "figures",
    "plan": "plan",
    "earnings": "job_earnings",
    "hours": "job_earnings",
    "start-up": "start_up",
    "quarter": "quarter",
    "packet": "packet",
    "close": "packet",
    "reopen": "packet",
    "question": "packet",
    "stock": "packet",
    "return-method": "return_method",
    "report": "reports",
    "by-month": "pictures",
    "by-category": "pictures",
    "setup": "set_up",
    "statement": "statements",
    "guide": "guide",
    "colours": "colours",
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


@click.group(cls=Commands, name="twopurse", invoke_without_command=True)
@click.option("--demo", is_flag=True, help="Open the rooms of an invented workshop with two years of books.")
@click.pass_context
def twopurse(ctx: click.Context, demo: bool) -> None:
    """Money and set-up for a one-machine workshop at home: the workshop's purse and the household's, kept apart.

    Without a command the rooms open. From your own records. No tax, legal or insurance advice: your accountant and the
    offices decide.
    """
    if ctx.invoked_subcommand is not None:
        return
    if "json" in ctx.obj:
        raise click.UsageError("--json goes with a command.", ctx)
    if demo or (sys.stdin.isatty() and sys.stdout.isatty()):
        from ledger.commands.rooms import open_demo, open_own

        (open_demo if demo else open_own)(session_of(ctx.obj))
    else:
        click.echo(ctx.get_help())


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command; its exit code: 0 done, 1 refused, 2 wrong use, 3 a defect of ours."""
    return run(twopurse, sys.argv[1:] if arguments is None else list(arguments))


if __name__ == "__main__":
    sys.exit(main())
