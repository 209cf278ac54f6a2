"""What the bank itself pays, such as interest: income beside the workshop's work."""

from __future__ import annotations

from datetime import date

from ledger.books.accounts import Account
from ledger.books.drafts import Draft, postings


def settle_income(account: Account, income: Account, cents: int, text: str, day: date) -> Draft:
    """Money that came into an account and is income of another kind. cents: above zero."""
    lines = postings((account, cents), (income, -cents))
    return Draft(on=day, kind="bank income", text=text[:500], postings=lines)
