"""Shared bills in the books."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

from ledger.books.accounts import Account, Accounts
from ledger.books.balances import read_accounts
from ledger.books.books import Books, Row
from ledger.books.transaction import Writing
from ledger.errors import NotPossible, unknown_name
from ledger.money import plain_decimal
from ledger.spending.bills import Every, Share, SharedBill
from ledger.text import name_key, read_name, read_text


def keep_bill(
    books: Books, write: Writing, name: str, category: Account, *, of_the_home: bool, every: Every | None
) -> int:
    """The id of a bill, new or known. Raises NotPossible where a known one goes to another category."""
    kept = read_name(name, "name")
    found = books.row("select * from shared_bill where name_key = ?", (name_key(kept),))
    if found is not None:
        if found["account"] != category.id or bool(found["of_the_home"]) != of_the_home:
            raise NotPossible(
                f"«{kept}» is in the books with another category or kind.", "Use another name for this one.", "name"
            )
        return int(found["id"])
    return write.add(
        "shared_bill",
        name=kept,
        name_key=name_key(kept),
        account=category.id,
        of_the_home=int(of_the_home),
        recurs=every,
        on_date=books.today.isoformat(),
    )


def keep_share(books: Books, write: Writing, bill: int, share: Share) -> None:
    write.add(
        "bill_share",
        bill=bill,
        percent=plain_decimal(share.percent),
        reason=read_text(share.reason, "reason"),
        from_date=share.from_date.isoformat(),
        made_on=books.today.isoformat(),
    )


def read_bills(books: Books) -> tuple[SharedBill, ...]:
    accounts = read_accounts(books)
    return tuple(_bill_from_row(books, accounts, row) for row in books.rows("select * from shared_bill order by id"))


def bill_named(books: Books, name: str) -> SharedBill:
    """Raises NotFound, offering the three nearest."""
    bills = read_bills(books)
    found = next((each for each in bills if name_key(each.name) == name_key(name)), None)
    if found is None:
        raise unknown_name("bill", name, [each.name for each in bills], "name")
    return found


def _bill_from_row(books: Books, accounts: Accounts, row: Row) -> SharedBill:
    shares = books.rows("select * from bill_share where bill = ? order by id", (row["id"],))
    last = books.value(
        "select max(entry.date) from bill_payment join entry on entry.number = bill_payment.entry "
        "where bill = ? and entry.date <= ? and entry.reverses is null "
        "and not exists (select 1 from entry as mirror where mirror.reverses = entry.number)",
        (row["id"], books.today.isoformat()),
    )
    return SharedBill(
        id=row["id"],
        name=row["name"],
        category=accounts.counted_under(accounts.with_id(row["account"])),
        of_the_home=bool(row["of_the_home"]),
        every=row["recurs"],
        since=date.fromisoformat(row["on_date"]),
        shares=tuple(
            Share(Decimal(each["percent"]), each["reason"], date.fromisoformat(each["from_date"])) for each in shares
        ),
        last_paid=date.fromisoformat(last) if last else None,
    )
