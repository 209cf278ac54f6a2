"""The accounts: which purse each belongs to, what kind it is, and the four that cross between the purses."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from functools import cached_property
from typing import Literal

from ledger.errors import NotPossible, unknown_name
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
    retired_on: date | None = None
    merged_into: int | None = None
    line_key: str | None = None

    def takes_entries(self, day: date) -> bool:
        """Whether something may still go there on a day."""
        return self.merged_into is None and (self.retired_on is None or day < self.retired_on)


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

    def category(self, name: str, field: str | None = "category", *, day: date | None = None) -> Account:
        """The expense category of that name, or the one that it was merged into.

        Raises NotFound, offering the three nearest, for any other account too, and NotPossible for one that takes no
        entries any more on `day`.
        """
        found = self.counted_under(self._among(self.of_kind("expense"), name, "expense category", field))
        if day is not None and not found.takes_entries(day):
            raise NotPossible(
                f"«{found.name}» was retired on {found.retired_on}.",
                "Choose another category, or bring it back.",
                field,
            )
        return found

    def counted_under(self, account: Account) -> Account:
        """The account itself, or the one that it was merged into."""
        while account.merged_into is not None:
            account = self._by_id[account.merged_into]
        return account

    def _among(self, offered: Sequence[Account], name: str, kind: str, field: str | None) -> Account:
        found = self._by_key.get(name_key(name))
        if found is None or found not in offered:
            raise unknown_name(kind, name, [each.name for each in offered], field)
        return found

    def of_kind(self, kind: Kind, purse: Purse = "business") -> tuple[Account, ...]:
        return tuple(each for each in self.all if each.kind == kind and each.purse == purse)
