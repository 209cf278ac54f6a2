"""Pickup, worked out: the lines, the sales tax, the deposit, the tip, how it is paid, and the entry that books it.

No database and no screen: `settle` is handed what the books know and gives back the whole result.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from ledger.books.accounts import Accounts
from ledger.books.drafts import Draft, SlipLine, TaxLine, postings
from ledger.errors import NotPossible
from ledger.jobs.job import Job
from ledger.jobs.payments import Paid, PaidPart, money_in, split_payment, take_payment
from ledger.jobs.slip import Slip, work_out_slip
from ledger.money import MAX_CENTS, Currency, plain_decimal
from ledger.taxes.certificates import Certificate
from ledger.taxes.sales_tax import TaxRules

PICKED_UP_FROM = ("in-hand", "ready")


@dataclass(frozen=True)
class PickupRequest:
    """What is said at the counter; amounts in cents. amount_cents: paid now, the rest stays owed."""

    job: int
    paid: tuple[PaidPart, ...]
    tendered_cents: int | None = None
    number: str | None = None
    tip_cents: int = 0
    fee_cents: int = 0
    discount_cents: int = 0
    amount_cents: int | None = None


@dataclass(frozen=True)
class PickupFacts:
    """What the books know. certificate: the customer's newest one, valid or not."""

    job: Job
    rules: TaxRules
    accounts: Accounts
    currency: Currency
    certificate: Certificate | None = None


@dataclass(frozen=True)
class Settlement:
    """A pickup worked out; amounts in cents. total: with tax and tip. due: the total less the deposit.

    owed_charge_cents and owed_tax_cents: what stays owed, split as a payment later will be. draft: None where no money
    moves, for work that is given away.
    """

    job: Job
    slip: Slip
    tip_cents: int
    total_cents: int
    deposit_cents: int
    due_cents: int
    paid: Paid
    tendered_cents: int | None
    owed_charge_cents: int
    owed_tax_cents: int
    warnings: tuple[str, ...]
    draft: Draft | None


def settle(facts: PickupFacts, request: PickupRequest, today: date) -> Settlement:
    """Work a pickup out. Raises NotPossible for a job that is not here, and whatever slip and payment refuse."""
    job = facts.job
    if job.status not in PICKED_UP_FROM:
        raise NotPossible(f"Job {job.id} is {_said(job.status)}.", _what_then(job), "job")
    certificate = facts.certificate
    exempt = certificate is not None and certificate.is_valid(today)
    slip = work_out_slip(job.charges, facts.rules, discount_cents=request.discount_cents, exempt=exempt)
    total = slip.total_cents + request.tip_cents
    if total > MAX_CENTS:
        raise NotPossible("The tip is more than anything comes to.", "Check the number of digits.", "tip")
    deposit = min(job.deposit_cents, total)
    due = total - deposit
    paid = take_payment(
        due,
        request.paid,
        facts.currency,
        now_cents=request.amount_cents,
        tendered_cents=request.tendered_cents,
        fee_cents=request.fee_cents,
        reference=request.number,
    )
    if request.tip_cents and paid.cents + deposit < request.tip_cents:
        raise NotPossible("A tip is not owed.", "Leave the tip out, or take at least as much as the tip.", "tip")
    owed_charge, owed_tax = _owed(slip, deposit, request.tip_cents, paid)
    return Settlement(
        job=job,
        slip=slip,
        tip_cents=request.tip_cents,
        total_cents=total,
        deposit_cents=deposit,
        due_cents=due,
        paid=paid,
        tendered_cents=request.tendered_cents,
        owed_charge_cents=owed_charge,
        owed_tax_cents=owed_tax,
        warnings=_warnings(facts, exempt, today),
        draft=_entry(facts, request, slip, deposit, paid, exempt, today),
    )


def _owed(slip: Slip, deposit: int, tip: int, paid: Paid) -> tuple[int, int]:
    """Charge and tax that stay owed: the deposit counts as charge first, the tip is paid first."""
    charge = slip.charge_cents + tip - deposit
    tax = slip.tax_cents + min(charge, 0)
    charge = max(charge, 0)
    tip_paid = min(tip, charge, paid.cents)
    paid_charge, paid_tax = split_payment(paid.cents - tip_paid, charge - tip_paid, tax)
    return charge - tip_paid - paid_charge, tax - paid_tax


def _entry(
    facts: PickupFacts, request: PickupRequest, slip: Slip, deposit: int, paid: Paid, exempt: bool, today: date
) -> Draft | None:
    accounts, job = facts.accounts, facts.job
    certificate = facts.certificate.id if exempt and facts.certificate else None
    lines = postings(
        *((each.account, each.cents) for each in money_in(accounts, paid.payments)),
        (accounts["owed_by_customers"], paid.owed_cents),
        (accounts["customer_deposits"], deposit),
        (accounts["job_income"], -slip.charge_cents),
        (accounts["tips"], -request.tip_cents),
        *((accounts["sales_tax_payable"], -each.tax_cents) for each in slip.tax.taxes),
    )
    if not lines:
        return None
    return Draft(
        on=today,
        kind="pickup",
        text=f"Pickup: {job.piece}"[:500],
        postings=lines,
        who=job.customer.party.id,
        job=job.id,
        slip=tuple(
            SlipLine(
                treated.charge.class_name,
                treated.base_cents,
                treated.treatment,
                line.id,
                certificate if treated.treatment == "exempt" else None,
            )
            for treated, line in zip(slip.tax.charges, job.lines, strict=True)
        ),
        taxes=tuple(
            TaxLine(each.rate.id, plain_decimal(each.rate.percent), each.base_cents, each.tax_cents)
            for each in slip.tax.taxes
        ),
    )


def _warnings(facts: PickupFacts, exempt: bool, today: date) -> tuple[str, ...]:
    if facts.certificate is None or exempt:
        return ()
    return (
        f"{facts.job.customer.name} has no certificate that is valid on {today}, so the tax was taken as from anyone.",
    )


def _said(status: str) -> str:
    return {
        "asked": "asked about, but the piece is not here",
        "booked": "booked, but the piece is not here",
        "gone": "picked up already",
        "called-off": "called off",
    }[status]


def _what_then(job: Job) -> str:
    if job.status in ("asked", "booked"):
        return f"Say «twopurse job in {job.id}» when the piece comes in."
    if job.owed_cents:
        return f"What is owed on it is taken with «twopurse job pay {job.id}»."
    return "See it with «twopurse job show»."
