"""Money moved within a purse, drawn by the owner, and put in by the owner."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from ledger.books.accounts import Account, Accounts
from ledger.books.drafts import Draft, postings
from ledger.errors import NotPossible

# Accounts that money can lie in or be owed on; the others change only with the act they belong to.
MONEY_ROLES = {
    "checking",
    "cash_box",
    "tax_savings",
    "card_settlements",
    "workshop_card",
    "household_checking",
    "personal_card",
}


@dataclass(frozen=True)
class Transfer:
    cents: int
    from_account: Account
    to_account: Account
    why: str | None = None


def settle_move(transfer: Transfer, today: date) -> Draft:
    """Money moved between accounts of one purse. Raises NotPossible where they are not of one purse, or the same."""
    _check_money(transfer.from_account, "from")
    _check_money(transfer.to_account, "to")
    if transfer.from_account == transfer.to_account:
        raise NotPossible("Both accounts are the same.", "Name two different ones.", "to")
    if transfer.from_account.purse != transfer.to_account.purse:
        act = "draw" if transfer.from_account.purse == "business" else "put-in"
        raise NotPossible(
            f"«{transfer.from_account.name}» and «{transfer.to_account.name}» belong to different purses.",
            f"Use «twopurse {act}», which books what passes between them.",
            "to",
        )
    text = transfer.why or f"From {transfer.from_account.name} to {transfer.to_account.name}"
    lines = postings((transfer.to_account, transfer.cents), (transfer.from_account, -transfer.cents))
    return Draft(on=today, kind="move", text=text, postings=lines)


def settle_draw(transfer: Transfer, accounts: Accounts, today: date) -> Draft:
    """Money from the workshop to the household. Raises NotPossible where it does not go that way."""
    _check_purse(transfer.from_account, "business", "from")
    _check_purse(transfer.to_account, "personal", "to")
    lines = postings(
        (accounts["owners_draws"], transfer.cents),
        (transfer.from_account, -transfer.cents),
        (transfer.to_account, transfer.cents),
        (accounts["workshop_mirror"], -transfer.cents),
    )
    return Draft(on=today, kind="draw", text=transfer.why or "Owner's draw", postings=lines)


def settle_put_in(transfer: Transfer, accounts: Accounts, today: date) -> Draft:
    """Money from the household to the workshop. Raises NotPossible where it does not go that way."""
    _check_purse(transfer.from_account, "personal", "from")
    _check_purse(transfer.to_account, "business", "to")
    lines = postings(
        (transfer.to_account, transfer.cents),
        (accounts["owners_contributions"], -transfer.cents),
        (accounts["workshop_mirror"], transfer.cents),
        (transfer.from_account, -transfer.cents),
    )
    return Draft(on=today, kind="put-in", text=transfer.why or "Owner's contribution", postings=lines)


def settle_pay_back(transfer: Transfer, accounts: Accounts, today: date) -> Draft:
    """What the workshop owed its owner, paid to the household. Raises NotPossible where it does not go that way."""
    _check_purse(transfer.from_account, "business", "from")
    _check_purse(transfer.to_account, "personal", "to")
    lines = postings(
        (accounts["owed_to_owner"], transfer.cents),
        (transfer.from_account, -transfer.cents),
        (transfer.to_account, transfer.cents),
        (accounts["workshop_mirror"], -transfer.cents),
    )
    return Draft(on=today, kind="pay-back", text=transfer.why or "Paid back to the owner", postings=lines)


def _check_purse(account: Account, purse: str, field: str) -> None:
    _check_money(account, field)
    if account.purse != purse:
        whose = "workshop's" if purse == "business" else "household's"
        raise NotPossible(
            f"«{account.name}» is not one of the {whose} accounts.", f"Name one of the {whose} with --{field}.", field
        )


def _check_money(account: Account, field: str) -> None:
    if account.role not in MONEY_ROLES:
        raise NotPossible(
            f"Money is not moved by hand to or from «{account.name}».",
            "Name an account that money lies in, such as checking or the cash box.",
            field,
        )
