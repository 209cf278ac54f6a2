"""Categories of her own: add, rename, merge, retire, bring back. No sealed entry is touched."""

from __future__ import annotations

from dataclasses import dataclass

from ledger.books.accounts import Account
from ledger.books.balances import read_accounts
from ledger.books.books import Books
from ledger.errors import NotPossible, unknown_name
from ledger.figures.look_up import schedule_c_keys
from ledger.spending.categories import (
    add_category,
    bring_back_category,
    merge_category,
    rename_category,
    retire_category,
)
from ledger.text import name_key, shown


@dataclass(frozen=True)
class NewCategoryRequest:
    """line_key: the line of the form that it goes to, such as supplies; None for other expenses."""

    name: str
    line_key: str | None = None


@dataclass(frozen=True)
class RenameRequest:
    name: str
    new_name: str


@dataclass(frozen=True)
class MergeRequest:
    """into: the one that stays."""

    name: str
    into: str


@dataclass(frozen=True)
class CategoryRequest:
    """A category by its name, to retire from today on or to bring back."""

    name: str


def add(books: Books, request: NewCategoryRequest) -> Account:
    """Raises NotFound for the line, NotPossible for a name that is taken, NotUnderstood for one that is none."""
    if request.line_key is not None and request.line_key not in schedule_c_keys():
        raise unknown_name("line", request.line_key, sorted(schedule_c_keys()), "line")
    with books.writing() as write:
        return add_category(books, write, request.name, request.line_key)


def rename(books: Books, request: RenameRequest) -> Account:
    """Raises NotFound, NotUnderstood, and NotPossible for a name that is taken."""
    with books.writing() as write:
        return rename_category(books, write, _named(books, request.name), request.new_name)


def merge(books: Books, request: MergeRequest) -> Account:
    """The one that stays. Raises NotFound, and NotPossible for one that the program needs."""
    with books.writing() as write:
        into = read_accounts(books).category(request.into, "into")
        merge_category(books, write, _named(books, request.name), into)
        return into


def retire(books: Books, request: CategoryRequest) -> Account:
    """Raises NotFound, and NotPossible for one that is retired or that the program needs."""
    with books.writing() as write:
        category = _named(books, request.name)
        retire_category(books, write, category, books.today)
        return category


def bring_back(books: Books, request: CategoryRequest) -> Account:
    """Raises NotFound, and NotPossible for one that is counted under another."""
    with books.writing() as write:
        category = _named(books, request.name)
        bring_back_category(books, write, category)
        return category


def _named(books: Books, name: str) -> Account:
    """Raises NotFound, and NotPossible for one that is counted under another, which would be changed in its place."""
    found = read_accounts(books).category(name, "name")
    if name_key(found.name) != name_key(name):
        raise NotPossible(f"«{shown(name)}» is counted under «{found.name}».", f"Name «{found.name}».", "name")
    return found
