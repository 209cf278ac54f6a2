"""What a job owes, as charge and tax: a sale not paid adds, a payment takes away in proportion.

The charge part is what the cash method has not seen yet; whatever else is owed stands in the tax part. Neither part is
ever more than the job asks of its customer, so that both are gone when nothing is owed.
"""

from __future__ import annotations

from dataclasses import dataclass

from ledger.books.before_books import STOOD_BEFORE
from ledger.books.books import Books
from ledger.books.transaction import Writing


@dataclass(frozen=True)
class Owed:
    charge_cents: int
    tax_cents: int

    @property
    def cents(self) -> int:
        return self.charge_cents + self.tax_cents


NOTHING = Owed(0, 0)


def read_owed(books: Books, job: int) -> Owed:
    """What a job owes at the end of today."""
    row = books.row(
        "select coalesce(sum(charge), 0), coalesce(sum(tax), 0) from owed_part "
        "join entry on entry.number = owed_part.entry where owed_part.job = ? and date <= ?",
        (job, books.today.isoformat()),
    )
    assert row is not None
    return Owed(row[0], row[1])


def read_asked(books: Books, job: int) -> Owed:
    """What a job asks of its customer in all, paid or not, after refunds and what was given up: charge and tax.

    What stood there when the books began, sale, tip, charges, a deposit that was kept or became a certificate. The tax
    that the workshop bears is not asked.
    """
    rows = books.rows(
        "select account.role, coalesce(original.kind, entry.kind) as kind, sum(posting.cents) as cents from entry "
        "left join entry as original on original.number = entry.reverses "
        "join posting on posting.entry = entry.number join account on account.id = posting.account "
        f"where entry.job = ? and entry.date <= ? and not {STOOD_BEFORE} group by 1, 2",
        (job, books.today.isoformat()),
    )
    stood = _stood(books, job)
    charge = sum(
        row["cents"] for row in rows if row["role"] in _CHARGE or _is_new_certificate(row["role"], row["kind"])
    )
    tax = sum(row["cents"] for row in rows if row["role"] in _TAX)
    return Owed(stood.charge_cents - charge, stood.tax_cents - tax)


def _stood(books: Books, job: int) -> Owed:
    """What the job owed when the books began, as it was told."""
    row = books.row(
        "select coalesce(sum(charge), 0), coalesce(sum(tax), 0) from owed_part "
        f"join entry on entry.number = owed_part.entry where owed_part.job = ? and date <= ? and {STOOD_BEFORE}",
        (job, books.today.isoformat()),
    )
    assert row is not None
    return Owed(row[0], row[1])


def change_owed(before: Owed, more_cents: int, more_charge_cents: int, asked: Owed) -> Owed:
    """What is owed after a change of so many cents, of them charge as far as what is asked leaves room for it."""
    cents = before.cents + more_cents
    least, most = max(0, cents - asked.tax_cents), max(0, min(cents, asked.charge_cents))
    charge = min(max(before.charge_cents + more_charge_cents, least), most)
    return Owed(charge, cents - charge)


def owe(books: Books, write: Writing, entry: int, job: int, more: Owed) -> None:
    """Keep what a sealed entry changed of what its job owes; below zero what it took off."""
    before = read_owed(books, job)
    after = change_owed(before, more.cents, more.charge_cents, read_asked(books, job))
    charge, tax = after.charge_cents - before.charge_cents, after.tax_cents - before.tax_cents
    if charge or tax:
        write.add("owed_part", entry=entry, job=job, charge=charge, tax=tax)


_CHARGE = ("job_income", "returns_and_allowances", "tips", "other_income", "balances_written_off")
_TAX = ("sales_tax_payable", "licenses_and_taxes")


def _is_new_certificate(role: str | None, kind: str) -> bool:
    """A deposit that became a gift certificate is income on the cash method, as if the customer had bought one."""
    return role == "gift_certificates" and kind in ("called off", "deposit back")
