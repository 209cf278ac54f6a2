"""Read what stands of a sale: its slip and tax less refunds, the payments that still hold, debts that were given up."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from ledger.books.before_books import OPENING
from ledger.books.books import Books, Row
from ledger.books.drafts import SlipLine, TaxLine
from ledger.errors import NotFound, NotPossible
from ledger.jobs.job import Job
from ledger.jobs.owed import Owed, read_owed
from ledger.jobs.returned import PaidBefore
from ledger.jobs.standing_sale import StandingSale, merged_slip, merged_taxes
from ledger.jobs.written_off import Debt
from ledger.money import plain_decimal, split_in_proportion
from ledger.taxes.rules import rates_on

# The entries that make a sale what it is now.
SALE_KINDS = ("pickup", "refund", "retax")
_GIVEN_UP_KINDS = ("write-off", "recovery")
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
        written_off_cents=sum(_given_up(books, job)),
    )


def read_payment_to_undo(books: Books, job: Job, how: str, number: str | None = None) -> PaidBefore:
    """The last payment of a kind on a job that still holds, by its number where that is given. Raises NotFound."""
    rows = books.rows(
        "select payment.*, entry.kind, entry.who, entry.date from payment join entry on entry.number = payment.entry "
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
    tax = _tax_paid_by(books, row)
    return PaidBefore(
        payment=row["id"],
        entry=row["entry"],
        how=how,
        cents=row["cents"],
        charge_cents=row["cents"] - tax,
        tax_cents=tax,
        reference=row["reference"],
        held_cents=min(max(0, job.deposit_cents), row["cents"]) if row["kind"] == "deposit" else 0,
        also_paid=_also_paid(books, row),
    )


def read_debt(books: Books, job: Job, *, is_tax_claimed: bool) -> Debt:
    """What is owed on a job. is_tax_claimed: her state lets her claim its tax back when it is given up."""
    owed, before = read_owed(books, job.id), _told_before(books, job)
    lined = _tax_lines(books, job, (*SALE_KINDS, "charge", OPENING))
    # What is owed beside the sale and its tax, such as money handed back on a check that bounced, is no tax.
    tax = min(owed.tax_cents, sum(each.cents for each in lined) + before.tax_cents)
    taxes = merged_taxes([*lined, *_taxes_before(books, before)])
    claimed = min(tax, sum(each.cents for each in taxes)) if is_tax_claimed else 0
    return Debt(job.id, job.piece, job.customer.party.id, owed.cents - tax, tax, taxes, claimed)


def read_given_up(books: Books, job: Job) -> Debt:
    """What was given up on a job and not paid after all, its tax claimed as far as it was then."""
    charge, claimed, borne = _given_up(books, job)
    lines = merged_taxes(_tax_lines(books, job, _GIVEN_UP_KINDS))
    taxes = tuple(replace(each, base=-each.base, cents=-each.cents) for each in lines)
    return Debt(job.id, job.piece, job.customer.party.id, charge, claimed + borne, taxes, claimed)


def read_borne(books: Books, job: Job) -> int:
    """Tax of a sale that was put right at the workshop's cost, in cents."""
    return _moved(books, job, "licenses_and_taxes", ("retax",))


def _told_before(books: Books, job: Job) -> Owed:
    """What a job owed when the books began whose tax had been told when it was sold, so that no line tells of it."""
    row = books.row(
        "select coalesce(sum(charge), 0), coalesce(sum(tax), 0) from owed_part join entry on entry.number = "
        f"owed_part.entry where {_STANDING} and entry.kind = ?3 "
        "and not exists (select 1 from tax_line where tax_line.entry = entry.number)",
        (job.id, books.today.isoformat(), OPENING),
    )
    assert row is not None
    return Owed(row[0], row[1])


def _taxes_before(books: Books, before: Owed) -> list[TaxLine]:
    """That tax by the rates of the day on which the books began: those of the sale are not known."""
    rates = [each for each in rates_on(books, books.settings.begun_on) if each.percent]
    if not before.tax_cents or not rates:
        return []
    shares = split_in_proportion(before.tax_cents, [Fraction(each.percent) for each in rates])
    return [
        TaxLine(rate.id, plain_decimal(rate.percent), before.charge_cents, cents)
        for rate, cents in zip(rates, shares, strict=True)
    ]


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


def _given_up(books: Books, job: Job) -> tuple[int, int, int]:
    """What was given up on a job, less what was paid after all: charge, tax that was claimed, tax that was not."""
    charge, claimed, borne = (
        _moved(books, job, role, _GIVEN_UP_KINDS)
        for role in ("balances_written_off", "sales_tax_payable", "licenses_and_taxes")
    )
    return charge, claimed, borne


def _tax_paid_by(books: Books, payment: Row) -> int:
    """What of one payment paid tax: its part of what its entry took for tax."""
    if payment["cents"] <= 0:
        return 0
    rows = books.rows("select id, cents from payment where entry = ? and cents > 0 order by id", (payment["entry"],))
    place = [row["id"] for row in rows].index(payment["id"])
    cents = [row["cents"] for row in rows]
    return split_in_proportion(_tax_paid_in(books, payment["entry"], payment["kind"], sum(cents)), cents)[place]


def _tax_paid_in(books: Books, entry: int, kind: str, paid: int) -> int:
    """The tax that the payments of an entry paid: none of a deposit, its own part of a later payment."""
    if kind == "deposit":
        return 0
    owed = books.row("select coalesce(sum(charge), 0), coalesce(sum(tax), 0) from owed_part where entry = ?", (entry,))
    assert owed is not None
    if kind == "payment":
        return int(-owed[1])
    moved = dict(
        tuple(row)
        for row in books.rows(
            "select account.role, sum(posting.cents) from posting join account on account.id = posting.account "
            "where entry = ? group by account.role",
            (entry,),
        )
    )
    tax = -moved.get("sales_tax_payable", 0) - moved.get("licenses_and_taxes", 0)
    if kind != "pickup":
        return int(min(paid, tax))
    charge = -moved.get("job_income", 0) - moved.get("tips", 0)
    # Deposit, certificates and goods come first, and count as charge as far as that goes.
    covered = charge + tax - paid - owed[0] - owed[1]
    return int(tax - owed[1] - max(0, covered - charge))


def _also_paid(books: Books, payment: Row) -> tuple[int, ...]:
    """The other jobs on which the same check or card payment was booked on its day."""
    if payment["reference"] is None:
        return ()
    rows = books.rows(
        "select distinct payment.job from payment join entry on entry.number = payment.entry "
        "where payment.how = ?1 and payment.reference = ?2 and entry.who is ?3 and entry.date = ?4 "
        "and payment.job <> ?5 and payment.cents > 0 and entry.reverses is null "
        "and not exists (select 1 from entry as mirror where mirror.reverses = entry.number) "
        "and not exists (select 1 from returned_payment where returned_payment.payment = payment.id) "
        "order by payment.job",
        (payment["how"], payment["reference"], payment["who"], payment["date"], payment["job"]),
    )
    return tuple(row[0] for row in rows)
