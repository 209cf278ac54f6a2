"""Categories of her own: added, renamed, merged, retired, without touching a sealed entry."""

from __future__ import annotations

from datetime import date

from ledger.books.accounts import Account, Accounts
from ledger.books.balances import read_accounts
from ledger.books.books import Books
from ledger.books.transaction import Writing
from ledger.errors import NotPossible
from ledger.text import name_key, read_name

# The program books there by itself, so they cannot go away; they can be renamed.
_NEEDED = {
    "cash_over_or_short",
    "batting",
    "card_fees",
    "bank_charges",
    "licenses_and_taxes",
    "loan_interest",
    "paid_helpers",
    "home_cost",
    "advertising",
}


def add_category(books: Books, write: Writing, name: str, line_key: str | None = None) -> Account:
    """A new expense category. line_key: the line of the form that it goes to. Raises NotPossible for a known name."""
    kept = _free_name(read_accounts(books), name)
    account = write.add(
        "account", name=kept, name_key=name_key(kept), role=None, purse="business", kind="expense", crosses=0
    )
    _change(books, write, read_accounts(books).with_id(account), name=kept, line_key=line_key)
    return read_accounts(books).with_id(account)


def rename_category(books: Books, write: Writing, category: Account, name: str) -> Account:
    """The category under another name, from now on everywhere. Raises NotPossible for a name that is taken."""
    kept = _free_name(read_accounts(books), name, but_for=category)
    _change(books, write, category, name=kept)
    return read_accounts(books).with_id(category.id)


def retire_category(books: Books, write: Writing, category: Account, on: date) -> None:
    """No entry goes there from a day on; what is there stays. Raises NotPossible for one that the program needs."""
    _check_not_needed(category)
    if category.retired_on is not None:
        raise NotPossible(f"«{category.name}» was retired on {category.retired_on}.", "There is nothing to do.", "name")
    _change(books, write, category, retired_on=on)


def bring_back_category(books: Books, write: Writing, category: Account) -> None:
    """Entries go there again."""
    _change(books, write, category, retired_on=None, is_back=True)


def merge_category(books: Books, write: Writing, category: Account, into: Account) -> None:
    """Count a category under another from now on, in every figure of every period. Raises NotPossible."""
    _check_not_needed(category)
    if category.id == into.id:
        raise NotPossible("Both are the same category.", "Name two different ones.", "into")
    _change(books, write, category, merged_into=into.id)


def _change(
    books: Books,
    write: Writing,
    account: Account,
    *,
    name: str | None = None,
    line_key: str | None = None,
    retired_on: date | None = None,
    merged_into: int | None = None,
    is_back: bool = False,
) -> None:
    """A further row on the account: what is not said stays as it was."""
    retired = None if is_back else retired_on or account.retired_on
    kept = name or account.name
    write.add(
        "account_change",
        account=account.id,
        name=kept,
        name_key=name_key(kept),
        line_key=line_key or account.line_key,
        retired_on=retired.isoformat() if retired else None,
        merged_into=merged_into or account.merged_into,
        on_date=books.today.isoformat(),
    )


def _free_name(accounts: Accounts, name: str, but_for: Account | None = None) -> str:
    kept = read_name(name, "name")
    taken = next((each for each in accounts.all if name_key(each.name) == name_key(kept)), None)
    if taken is not None and (but_for is None or taken.id != but_for.id):
        raise NotPossible(f"There is an account called «{taken.name}» already.", "Choose another name.", "name")
    return kept


def _check_not_needed(category: Account) -> None:
    if category.role in _NEEDED:
        raise NotPossible(
            f"The program books to «{category.name}» by itself, so it stays.",
            "Rename it, if its name is wrong.",
            "name",
        )
