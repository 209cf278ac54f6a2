"""Returns that were filed, what was paid on them, and the credit that is left of them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date

from ledger.books.books import Books, Row
from ledger.books.transaction import Writing
from ledger.periods import period_between
from ledger.taxes.filed_return import FiledReturn
from ledger.taxes.return_of_entry import FiledThrough


def read_filed(books: Books) -> tuple[FiledReturn, ...]:
    """What was filed by today and stands, in the order of filing."""
    rows = books.rows(
        f"select filing.*, {_paid('cents')} as paid, {_paid('allowance')} as kept, {_paid('use_tax')} as use_tax_paid "
        "from filing where filed_on <= ?1 and not exists (select 1 from filing_undone "
        "where filing_undone.filing = filing.id and filing_undone.on_date <= ?1) order by id",
        (books.today.isoformat(),),
    )
    return tuple(map(_filed, rows))


def filed_by_start(filed: Sequence[FiledReturn]) -> dict[date, list[FiledReturn]]:
    """The returns of each period by its first day."""
    by_start: dict[date, list[FiledReturn]] = {}
    for each in filed:
        by_start.setdefault(each.period.start, []).append(each)
    return by_start


def filed_through(by_start: Mapping[date, Sequence[FiledReturn]]) -> dict[date, list[FiledThrough]]:
    return {start: [each.through for each in several] for start, several in by_start.items()}


def credit_left(filed: Sequence[FiledReturn]) -> int:
    """What was paid above what was owed, or came out below zero, and is not used yet; in cents.

    What was claimed back is no credit: the state pays it.
    """
    over = sum(max(0, -each.left_cents) for each in filed if not each.is_claimed)
    return max(0, over - sum(each.carried_cents for each in filed))


def keep_filing(write: Writing, filed: FiledReturn) -> int:
    """Keep a return with its worksheet; its id."""
    return write.add(
        "filing",
        start_date=filed.period.start.isoformat(),
        end_date=filed.period.end.isoformat(),
        sequence=filed.sequence,
        due_on=filed.due_on.isoformat(),
        filed_on=filed.through.filed_on.isoformat(),
        through_entry=filed.through.through_entry,
        sales_tax=filed.sales_tax_cents,
        use_tax=filed.use_tax_cents,
        allowance=filed.allowance_cents,
        carried=filed.carried_cents,
        is_claimed=int(filed.is_claimed),
        worksheet=filed.worksheet,
        digest=filed.digest,
        entry=filed.entry,
    )


def keep_filing_payment(
    write: Writing, filing: int, entry: int, cents: int, allowance_cents: int, use_tax_cents: int
) -> None:
    write.add(
        "filing_payment", filing=filing, entry=entry, cents=cents, allowance=allowance_cents, use_tax=use_tax_cents
    )


def undo_filing(books: Books, write: Writing, filing: int, why: str) -> None:
    write.add("filing_undone", filing=filing, why=why, on_date=books.today.isoformat())


def _paid(column: str) -> str:
    """The sum of a column of the payments that stand today."""
    return (
        f"(select coalesce(sum(filing_payment.{column}), 0) from filing_payment "
        "join entry on entry.number = filing_payment.entry where filing_payment.filing = filing.id "
        "and entry.date <= ?1 and not exists "
        "(select 1 from entry as mirror where mirror.reverses = entry.number and mirror.date <= ?1))"
    )


def _filed(row: Row) -> FiledReturn:
    return FiledReturn(
        id=row["id"],
        period=period_between(date.fromisoformat(row["start_date"]), date.fromisoformat(row["end_date"])),
        sequence=row["sequence"],
        due_on=date.fromisoformat(row["due_on"]),
        through=FiledThrough(row["through_entry"], date.fromisoformat(row["filed_on"])),
        sales_tax_cents=row["sales_tax"],
        use_tax_cents=row["use_tax"],
        allowance_cents=row["allowance"],
        carried_cents=row["carried"],
        is_claimed=bool(row["is_claimed"]),
        worksheet=row["worksheet"],
        digest=row["digest"],
        entry=row["entry"],
        paid_cents=row["paid"],
        allowance_kept_cents=row["kept"],
        use_tax_paid_cents=row["use_tax_paid"],
    )
