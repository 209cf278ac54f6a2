"""Read what stands of a sale: its slip and tax less refunds, the payments that still hold, debts that were given up."""

from __future__ import annotations

from ledger.books.books import Books
from ledger.books.drafts import SlipLine, TaxLine
from ledger.errors import NotFound, NotPossible
from ledger.jobs.job import Job
from ledger.jobs.payments import Payment
from ledger.jobs.returned import PaidBefore
from ledger.jobs.standing_sale import StandingSale, merged_slip, merged_taxes
from ledger.jobs.written_off import Debt
from ledger.money import split_in_proportion

# The entries that make a sale what it is now.
SALE_KINDS = ("pickup", "refund", "retax")
# Entries of a job that stand: neither undone nor undoing.
_STANDING = (
    "entry.job = ?1 and entry.date <= ?2 and entry.reverses is null "
    "and not exists (select 1 from entry as mirror where mirror.reverses = entry.number and mirror.date <= ?2)"
)


def read_standing_sale(books: Books, job: Job) -> StandingSale:
    """The sale of a job that was picked up. Raises NotPossible where there is none."""
    if job.sale is None:
        raise NotPossible(
            f"Job {job.id} has no sale: it is {job.status.replace('-', ' ')}.",
            f"See it with «twopurse job show {job.id}».",
            "job",
        )
    return StandingSale(
        entry=job.sale,
        slip=merged_slip(_slip_lines(books, job)),
        taxes=merged_taxes(_tax_lines(books, job, SALE_KINDS)),
        tip_cents=-_moved(books, job, "tips", ("pickup", "refund")),
        owed_cents=job.owed_cents,
        written_off_cents=_given_up(books, job)[0] + _given_up(books, job)[1],
    )


def read_payment_to_undo(books: Books, job: Job, how: str, number: str | None = None) -> PaidBefore:
    """The last payment of a kind on a job that still holds, by its number where that is given. Raises NotFound."""
    rows = books.rows(
        "select payment.*, entry.kind from payment join entry on entry.number = payment.entry "
        f"where {_STANDING} and how = ?3 and payment.cents > 0 and (?4 is null or reference = ?4) "
        "and not exists (select 1 from returned_payment join entry as back on back.number = returned_payment.entry "
        "where returned_payment.payment = payment.id and not exists "
        "(select 1 from entry as mirror where mirror.reverses = back.number)) order by payment.id desc",
        (job.id, books.today.isoformat(), how, number),
    )
    if not rows:
        raise NotFound(
            f"No {how} that still holds was paid on job {job.id}" + (f" with number {number}." if number else "."),
            f"See its payments with «twopurse entries --job {job.id}».",
            "job",
        )
    row = rows[0]
    charge, tax = _paid_parts(books, job, row["entry"], row["id"], row["kind"])
    return PaidBefore(row["id"], row["entry"], how, row["cents"], charge, tax, row["reference"])


def read_debt(books: Books, job: Job, *, is_tax_claimed: bool, given_up: bool = False) -> Debt:
    """What is owed on a job, or what was given up of it and not paid after all."""
    row = books.row(
        "select coalesce(sum(charge), 0), coalesce(sum(tax), 0) from owed_part "
        "join entry on entry.number = owed_part.entry where owed_part.job = ? and date <= ?",
        (job.id, books.today.isoformat()),
    )
    assert row is not None
    charge, tax = _given_up(books, job) if given_up else (row[0], row[1])
    taxes = merged_taxes(_tax_lines(books, job, (*SALE_KINDS, "charge")))
    return Debt(job.id, job.piece, job.customer.party.id, charge, tax, taxes, is_tax_claimed)


def standing_payments(books: Books, entry: int) -> tuple[Payment, ...]:
    """The payments of an entry, as they were booked."""
    rows = books.rows("select how, cents, fee, reference from payment where entry = ? order by id", (entry,))
    return tuple(Payment(row["how"], row["cents"], row["fee"], row["reference"]) for row in rows)


def _slip_lines(books: Books, job: Job) -> list[SlipLine]:
    rows = books.rows(
        "select slip_line.* from slip_line join entry on entry.number = slip_line.entry "
        f"where {_STANDING} and entry.kind in ('pickup', 'refund', 'retax') order by entry, line",
        (job.id, books.today.isoformat()),
    )
    return [SlipLine(row["class"], row["cents"], row["treatment"], row["job_line"], row["certificate"]) for row in rows]


def _tax_lines(books: Books, job: Job, kinds: tuple[str, ...]) -> list[TaxLine]:
    rows = books.rows(
        "select tax_line.*, entry.kind from tax_line join entry on entry.number = tax_line.entry "
        f"where {_STANDING} order by entry, line",
        (job.id, books.today.isoformat()),
    )
    return [TaxLine(row["rate"], row["percent"], row["base"], row["cents"]) for row in rows if row["kind"] in kinds]


def _moved(books: Books, job: Job, role: str, kinds: tuple[str, ...]) -> int:
    rows = books.rows(
        "select entry.kind, posting.cents from posting join entry on entry.number = posting.entry "
        f"join account on account.id = posting.account where {_STANDING} and account.role = ?3",
        (job.id, books.today.isoformat(), role),
    )
    return sum(row["cents"] for row in rows if row["kind"] in kinds)


def _given_up(books: Books, job: Job) -> tuple[int, int]:
    """Charge and tax that were given up on a job, less what was paid after all."""
    kinds = ("write-off", "recovery")
    charge = _moved(books, job, "balances_written_off", kinds)
    tax = _moved(books, job, "sales_tax_payable", kinds) + _moved(books, job, "licenses_and_taxes", kinds)
    return charge, tax


def _paid_parts(books: Books, job: Job, entry: int, payment: int, kind: str) -> tuple[int, int]:
    """What of one payment paid charge and tax: as its entry split what was paid in it."""
    rows = books.rows("select id, cents from payment where entry = ? order by id", (entry,))
    cents = [row["cents"] for row in rows]
    place = [row["id"] for row in rows].index(payment)
    tax = split_in_proportion(_tax_paid_in(books, entry, kind), cents)[place]
    return cents[place] - tax, tax


def _tax_paid_in(books: Books, entry: int, kind: str) -> int:
    """The tax that the payments of an entry paid: none of a deposit, its own part of a later payment."""
    if kind == "deposit":
        return 0
    owed_tax = int(books.value("select coalesce(sum(tax), 0) from owed_part where entry = ?", (entry,)))
    if kind != "pickup":
        return -owed_tax
    sums = dict(
        tuple(row)
        for row in books.rows(
            "select account.role, sum(posting.cents) from posting join account on account.id = posting.account "
            "where entry = ? group by account.role",
            (entry,),
        )
    )
    charge = -sums.get("job_income", 0) - sums.get("tips", 0)
    by_deposit = max(0, sums.get("customer_deposits", 0) + sums.get("gift_certificates", 0) - charge)
    return int(-sums.get("sales_tax_payable", 0) - owed_tax - by_deposit)
