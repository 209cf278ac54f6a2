"""Commands for the expense categories: hers to add, rename, merge, retire and bring back."""

from __future__ import annotations

from typing import Any

import click

from ledger.actions.registry import act_of_verb
from ledger.books.books import Books
from ledger.commands.manners import Answer, Group, Session, answers, day_or_none


@click.group("category", cls=Group)
def category() -> None:
    """What expenses are for. Sealed entries stay as they are."""


@category.command("list")
@answers
def list_categories(session: Session) -> Answer:
    """Every category, and the line of Schedule C that it goes to."""
    with session.books() as books:
        return _categories(books, [])


@category.command("add", help=act_of_verb("category add").help)
@click.argument("name", metavar="NAME")
@click.option(
    "--line", "line_key", metavar="KEY", help="The line of the form, such as supplies; other expenses unless given."
)
@answers
def add(session: Session, name: str, line_key: str | None) -> Answer:
    from ledger.actions import change_category as act

    with session.books() as books:
        made = act.add(books, act.NewCategoryRequest(name, line_key))
        return _categories(books, [f"There is a category «{made.name}» now."])


@category.command("rename", help=act_of_verb("category rename").help)
@click.argument("name", metavar="NAME")
@click.argument("new_name", metavar="NEW-NAME")
@answers
def rename(session: Session, name: str, new_name: str) -> Answer:
    from ledger.actions import change_category as act

    with session.books() as books:
        renamed = act.rename(books, act.RenameRequest(name, new_name))
        return _categories(books, [f"«{name}» is called «{renamed.name}» now."])


@category.command("merge", help=act_of_verb("category merge").help)
@click.argument("name", metavar="NAME")
@click.argument("into", metavar="INTO")
@answers
def merge(session: Session, name: str, into: str) -> Answer:
    from ledger.actions import change_category as act

    with session.books() as books:
        stays = act.merge(books, act.MergeRequest(name, into))
        return _categories(books, [f"«{name}» is counted under «{stays.name}» now."])


@category.command("retire", help=act_of_verb("category retire").help)
@click.argument("name", metavar="NAME")
@answers
def retire(session: Session, name: str) -> Answer:
    from ledger.actions import change_category as act

    with session.books() as books:
        act.retire(books, act.CategoryRequest(name))
        return _categories(books, [f"«{name}» is retired from {session.today} on."])


@category.command("bring-back", help=act_of_verb("category bring-back").help)
@click.argument("name", metavar="NAME")
@answers
def bring_back(session: Session, name: str) -> Answer:
    from ledger.actions import change_category as act

    with session.books() as books:
        act.bring_back(books, act.CategoryRequest(name))
        return _categories(books, [f"«{name}» takes entries again."])


def _categories(books: Books, lines: list[str]) -> Answer:
    from ledger.books.balances import read_accounts
    from ledger.results.lines import schedule_c_lines

    accounts = read_accounts(books)
    every = accounts.of_kind("expense")
    on_form = schedule_c_lines(every, books.today.year)
    listed: list[dict[str, Any]] = [
        {
            "name": each.name,
            "line": on_form[each.name].number,
            "line_confirmed": on_form[each.name].confirmed,
            "retired_on": day_or_none(each.retired_on),
            "merged_into": accounts.counted_under(each).name if each.merged_into is not None else None,
        }
        for each in every
    ]
    told = [f"{each['name']:<28} line {each['line']}{_state(each)}" for each in listed]
    return Answer({"categories": listed}, lines or told)


def _state(listed: dict[str, Any]) -> str:
    if listed["merged_into"]:
        return f", counted under {listed['merged_into']}"
    return f", retired on {listed['retired_on']}" if listed["retired_on"] else ""


COMMANDS = (category,)
