"""The accounts: which purse each belongs to, what kind it is, and the four that cross between the purses."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Literal

from ledger.errors import unknown_name
from ledger.text import name_key

Purse = Literal["business", "personal"]
Kind = Literal["asset", "liability", "equity", "income", "expense"]


@dataclass(frozen=True)
class NewAccount:
    """An account before it stands in the books. role: the fixed word by which the program finds it."""

    name: str
    role: str
    purse: Purse
    kind: Kind
    crosses: bool = False


@dataclass(frozen=True)
class Account:
    id: int
    name: str
    role: str | None
    purse: Purse
    kind: Kind
    crosses: bool = False


class Accounts:
    """Every account of the books, found by role (`accounts["cash_box"]`) or by name."""

    def __init__(self, accounts: Iterable[Account]) -> None:
        self.all = tuple(accounts)
        self._by_role = {each.role: each for each in self.all if each.role}
        self._by_id = {each.id: each for each in self.all}

    # Only a name that somebody typed needs it, and folding every name takes half the time of reading the accounts.
    @cached_property
    def _by_key(self) -> dict[str, Account]:
        return {name_key(each.name): each for each in self.all}

    def __getitem__(self, role: str) -> Account:
        return self._by_role[role]

    def with_id(self, account: int) -> Account:
        return self._by_id[account]

    def named(self, name: str, field: str | None = None) -> Account:
        """The account of that name. Raises NotFound, offering the three nearest."""
        return self._among(self.all, name, "account", field)

    def category(self, name: str, field: str | None = "category") -> Account:
        """The expense category of that name. Raises NotFound, offering the three nearest, for any other account too."""
        return self._among(self.of_kind("expense"), name, "expense category", field)

    def _among(self, offered: Sequence[Account], name: str, kind: str, field: str | None) -> Account:
        found = self._by_key.get(name_key(name))
        if found is None or found not in offered:
            raise unknown_name(kind, name, [each.name for each in offered], field)
        return found

    def of_kind(self, kind: Kind, purse: Purse = "business") -> tuple[Account, ...]:
        return tuple(each for each in self.all if each.kind == kind and each.purse == purse)
