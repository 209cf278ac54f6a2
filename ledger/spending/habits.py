"""What a shop seen before brings along: its last category and what was paid from."""

from __future__ import annotations

from dataclasses import dataclass

from ledger.books.balances import read_accounts
from ledger.books.books import Books
from ledger.books.parties import find_party
from ledger.spending.spend import PAYING_ROLES


@dataclass(frozen=True)
class Habit:
    """Names of accounts."""

    category: str
    paid_from: str


def last_habit(books: Books, shop: str) -> Habit | None:
    """From the last receipt of a shop that was not reversed; None for a shop not seen before."""
    party = find_party(books, shop)
    if party is None:
        return None
    accounts = read_accounts(books)
    rows = books.rows(
        "select account from posting where entry = (select max(number) from entry where who = ? and kind = 'spend' "
        "and number not in (select reverses from entry where reverses is not null))",
        (party.id,),
    )
    moved = [accounts.with_id(row["account"]) for row in rows]
    category = next((each.name for each in moved if each.kind == "expense" and each.purse == "business"), None)
    paid_from = next((each.name for each in moved if each.role in PAYING_ROLES), None)
    return Habit(category, paid_from) if category and paid_from else None


def known_shops(books: Books) -> list[str]:
    """The names of everyone that something was spent at, the latest first."""
    rows = books.rows(
        "select (select name from party_detail where party = entry.who order by id desc limit 1) as name "
        "from entry where kind = 'spend' and who is not null group by who order by max(number) desc"
    )
    return [row["name"] for row in rows]
