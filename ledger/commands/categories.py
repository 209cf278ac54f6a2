"""Commands for the expense categories: hers to add, rename, merge, retire and bring back."""

from __future__ import annotations

from typing import Any

import click

from ledger.books.accounts import Account
from ledger.books.books import Books
from ledger.commands.manners import Answer, Group, Session, answers, day_or_none
from ledger.errors import unknown_name


@click.group("category", cls=Group)
def category() -> None:
    """What expenses are for. Sealed entries stay as they are."""


@category.command("list")
@answers
def list_categories(session: Session) -> Answer:
    """Every category, and the line of Schedule C that it goes to."""
    with session.books() as books:
        return _categories(books, [])


@category.command("add")
@click.argument("name", metavar="NAME")
@click.option(
    "--line", "line_key", metavar="KEY", help="The line of the form, such as supplies; other expenses unless given."
)
@answers
def add(session: Session, name: str, line_key: str | None) -> Answer:
    """A category of your own."""
    from ledger.figures.look_up import schedule_c_keys
    from ledger.spending.categories import add_category

    with session.books() as books:
        if line_key is not None and line_key not in schedule_c_keys():
            raise unknown_name("line", line_key, sorted(schedule_c_keys()), "line")
        with books.writing() as write:
            made = add_category(books, write, name, line_key)
        return _categories(books, [f"There is a category «{made.name}» now."])


@category.command("rename")
@click.argument("name", metavar="NAME")
@click.argument("new_name", metavar="NEW-NAME")
@answers
def rename(session: Session, name: str, new_name: str) -> Answer:
    """Another name, from now on everywhere: NEW-NAME."""
    from ledger.spending.categories import rename_category

    with session.books() as books:
        with books.writing() as write:
            renamed = rename_category(books, write, _named(books, name), new_name)
        return _categories(books, [f"«{name}» is called «{renamed.name}» now."])


@category.command("merge")
@click.argument("name", metavar="NAME")
@click.argument("into", metavar="INTO")
@answers
def merge(session: Session, name: str, into: str) -> Answer:
    """Count one category under another, in every figure.

    INTO is the one that stays.
    """
    from ledger.spending.categories import merge_category

    with session.books() as books:
        with books.writing() as write:
            merge_category(books, write, _named(books, name), _named(books, into))
        return _categories(books, [f"«{name}» is counted under «{into}» now."])


@category.command("retire")
@click.argument("name", metavar="NAME")
@answers
def retire(session: Session, name: str) -> Answer:
    """No entry goes there from today on."""
    from ledger.spending.categories import retire_category

    with session.books() as books:
        with books.writing() as write:
            retire_category(books, write, _named(books, name), session.today)
        return _categories(books, [f"«{name}» is retired from {session.today} on."])


@category.command("bring-back")
@click.argument("name", metavar="NAME")
@answers
def bring_back(session: Session, name: str) -> Answer:
    """Entries go there again."""
    from ledger.spending.categories import bring_back_category

    with session.books() as books:
        with books.writing() as write:
            bring_back_category(books, write, _named(books, name))
        return _categories(books, [f"«{name}» takes entries again."])


def _named(books: Books, name: str) -> Account:
    from ledger.books.balances import read_accounts

    return read_accounts(books).category(name, "name")


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
