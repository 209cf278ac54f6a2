"""The accounts that every books folder begins with."""

from __future__ import annotations

from ledger.books.accounts import Kind, NewAccount, Purse


def _group(purse: Purse, kind: Kind, *names: str, crosses: bool = False) -> tuple[NewAccount, ...]:
    return tuple(NewAccount(name, role_of(name), purse, kind, crosses) for name in names)


def role_of(name: str) -> str:
    """The role of an account that begins under a name: `owner's draws` is `owners_draws`."""
    return name.replace("'", "").replace(" ", "_")


BEGINNING_ACCOUNTS: tuple[NewAccount, ...] = (
    *_group(
        "business", "asset", "checking", "cash box", "tax savings", "card settlements", "owed by customers", "machine"
    ),
    *_group(
        "business",
        "liability",
        "workshop card",
        "sales tax payable",
        "use tax payable",
        "customer deposits",
        "gift certificates",
    ),
    *_group("business", "liability", "owed to owner", crosses=True),
    *_group("business", "liability", "machine loan"),
    *_group("business", "equity", "opening balance"),
    *_group("business", "equity", "owner's contributions", "owner's draws", crosses=True),
    *_group(
        "business",
        "income",
        "job income",
        "returns and allowances",
        "balances written off",
        "tips",
        "other income",
        "sales tax allowance",
    ),
    *_group(
        "business",
        "expense",
        "cash over or short",
        "thread",
        "batting",
        "backing",
        "needles and parts",
        "machine upkeep",
        "patterns and designs",
        "classes and dues",
        "postage",
        "advertising",
        "office supplies",
        "card fees",
        "bank charges",
        "insurance",
        "licenses and taxes",
        "accountant",
        "paid helpers",
        "loan interest",
        "workroom",
        "phone and internet",
        "travel",
        "meals",
        "home cost",
        "penalties",
        "other expenses",
    ),
    *_group("personal", "asset", "household checking"),
    *_group("personal", "liability", "personal card"),
    *_group("personal", "expense", "household spending"),
    *_group("personal", "equity", "household opening balance"),
    *_group("personal", "equity", "workshop mirror", crosses=True),
)
