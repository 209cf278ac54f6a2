"""Pickup, worked out: the lines, the sales tax, the deposit, the tip, how it is paid, and the entry that books it.

No database and no screen: `settle` is handed what the books know and gives back the whole result.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal

from ledger.books.accounts import Account, Accounts
from ledger.books.drafts import Draft, Posting, SlipLine, TaxLine, postings
from ledger.errors import NotPossible
from ledger.jobs.gift_certificates import GiftCertificate
from ledger.jobs.job import Job
from ledger.jobs.payments import ACCOUNT_OF, How, Paid, PaidPart, money_in, split_payment, take_payment
from ledger.jobs.slip import Slip, work_out_slip
from ledger.money import (
    MAX_CENTS,
    Currency,
    percent_of,
    plain_amount,
    plain_decimal,
    plain_percent,
    round_half_up,
)
from ledger.taxes.certificates import Certificate
from ledger.taxes.sales_tax import TaxRules, percent_sum

PICKED_UP_FROM = ("in-hand", "ready")


@dataclass(frozen=True)
class Barter:
    """Goods or services taken for the work, at the value agreed, in cents. account: the category they belong to."""

    account: Account
    cents: int
    what: str


@dataclass(frozen=True)
class Sending:
    """The piece goes home by post. place: where its sale is taxed, if her state taxes it at the destination."""

    place: str | None = None
    carrier: str | None = None
    tracking: str | None = None
    insured_cents: int = 0


@dataclass(frozen=True)
class PickupRequest:
    """What is said at the counter; amounts in cents. amount_cents: paid now, the rest stays owed.

    discount_percent is of the lines, beside discount_cents. coupon: why there is a discount. gifts: the codes of gift
    certificates. deposit_back: by which way a deposit above the total is handed back; None holds it.
    """

    job: int
    paid: tuple[PaidPart, ...]
    tendered_cents: int | None = None
    number: str | None = None
    tip_cents: int = 0
    fee_cents: int = 0
    discount_cents: int = 0
    amount_cents: int | None = None
    discount_percent: Decimal = Decimal(0)
    coupon: str | None = None
    gifts: tuple[str, ...] = ()
    deposit_back: How | None = None
    barter: Barter | None = None
    sending: Sending | None = None


@dataclass(frozen=True)
class PickupFacts:
    """What the books know. certificate: the customer's newest one, valid or not. gifts: the certificates to be used.

    quoted_rules: what held on the day on which the job was taken in. is_place_missing: her state taxes what is sent
    where it arrives, and no place was said. is_place_without_rates: no rate is entered for the place that was said.
    """

    job: Job
    rules: TaxRules
    accounts: Accounts
    currency: Currency
    certificate: Certificate | None = None
    gifts: tuple[GiftCertificate, ...] = ()
    quoted_rules: TaxRules | None = None
    is_place_missing: bool = False
    is_place_without_rates: bool = False


@dataclass(frozen=True)
class GiftUsed:
    certificate: GiftCertificate
    cents: int


@dataclass(frozen=True)
class Settlement:
    """A pickup worked out; amounts in cents. total: with tax and tip. due: the total less the deposit.

    gifts and barter_cents pay towards what is due, before `paid`. owed_charge_cents and owed_tax_cents: what stays
    owed, split as a payment later will be. draft: None where no money moves, for work that is given away.
    """

    job: Job
    slip: Slip
    tip_cents: int
    total_cents: int
    deposit_cents: int
    deposit_back_cents: int
    due_cents: int
    gifts: tuple[GiftUsed, ...]
    barter_cents: int
    paid: Paid
    tendered_cents: int | None
    owed_charge_cents: int
    owed_tax_cents: int
    warnings: tuple[str, ...]
    draft: Draft | None

    @property
    def paid_cents(self) -> int:
        """All that was paid now: money, gift certificates and barter."""
        return self.paid.cents + sum(each.cents for each in self.gifts) + self.barter_cents


def settle(facts: PickupFacts, request: PickupRequest, today: date) -> Settlement:
    """Work a pickup out. Raises NotPossible for a job that is not here, and whatever slip and payment refuse."""
    job = facts.job
    if job.status not in PICKED_UP_FROM:
        raise NotPossible(f"Job {job.id} is {_said(job.status)}.", _what_then(job), "job")
    if not job.lines:
        raise NotPossible(
            f"Job {job.id} has no line of work yet.",
            f"Say what was done: «twopurse job add {job.id} --line NAME».",
            "job",
        )
    exempt = facts.certificate is not None and facts.certificate.is_valid(today)
    slip = work_out_slip(job.charges, facts.rules, discount_cents=_discount(job, request), exempt=exempt)
    total = slip.total_cents + request.tip_cents
    covered = _cover(facts, request, total)
    paid = _take(facts, request, total - covered.cents, covered)
    owed_charge, owed_tax = _owed(slip, covered.cents, request.tip_cents, paid)
    settlement = Settlement(
        job=job,
        slip=slip,
        tip_cents=request.tip_cents,
        total_cents=total,
        deposit_cents=covered.deposit_cents,
        deposit_back_cents=job.deposit_cents - covered.deposit_cents if request.deposit_back else 0,
        due_cents=total - covered.deposit_cents,
        gifts=covered.gifts,
        barter_cents=covered.barter_cents,
        paid=paid,
        tendered_cents=request.tendered_cents,
        owed_charge_cents=owed_charge,
        owed_tax_cents=owed_tax,
        warnings=_warnings(facts, request, slip, exempt, today),
        draft=None,
    )
    return replace(settlement, draft=pickup_entry(facts, request, settlement, exempt, today))


@dataclass(frozen=True)
class _Covered:
    """What pays before any money does."""

    deposit_cents: int
    barter_cents: int
    gifts: tuple[GiftUsed, ...]

    @property
    def cents(self) -> int:
        return self.deposit_cents + self.barter_cents + sum(each.cents for each in self.gifts)


def _cover(facts: PickupFacts, request: PickupRequest, total: int) -> _Covered:
    if total > MAX_CENTS:
        raise NotPossible("The tip is more than anything comes to.", "Check the number of digits.", "tip")
    deposit = min(facts.job.deposit_cents, total)
    barter = _barter(request, total - deposit, facts.currency)
    return _Covered(deposit, barter, _use_gifts(facts.gifts, total - deposit - barter))


def _take(facts: PickupFacts, request: PickupRequest, due: int, covered: _Covered) -> Paid:
    """The money. A tip is never left owed."""
    paid = take_payment(
        due,
        request.paid,
        facts.currency,
        now_cents=request.amount_cents,
        tendered_cents=request.tendered_cents,
        fee_cents=request.fee_cents,
        reference=request.number,
    )
    if request.tip_cents and paid.cents + covered.cents < request.tip_cents:
        raise NotPossible("A tip is not owed.", "Leave the tip out, or take at least as much as the tip.", "tip")
    return paid


def _discount(job: Job, request: PickupRequest) -> int:
    """What is taken off the lines: an amount, a percent of them, or both."""
    quoted = sum(each.cents for each in job.charges)
    return request.discount_cents + round_half_up(percent_of(quoted, request.discount_percent))


def _barter(request: PickupRequest, due: int, currency: Currency) -> int:
    if request.barter is None:
        return 0
    if request.barter.cents > due:
        raise NotPossible(
            f"The goods are worth more than {plain_amount(due, currency)} due.",
            "Agree on that much for this job, and pay for the rest with «twopurse spend».",
            "barter",
        )
    return request.barter.cents


def _use_gifts(certificates: tuple[GiftCertificate, ...], due: int) -> tuple[GiftUsed, ...]:
    """Each certificate pays what it holds, until nothing is due."""
    used = []
    for each in certificates:
        cents = min(each.left_cents, due)
        if cents:
            used.append(GiftUsed(each, cents))
            due -= cents
    return tuple(used)


def _owed(slip: Slip, covered: int, tip: int, paid: Paid) -> tuple[int, int]:
    """Charge and tax that stay owed: what covers it beforehand counts as charge first, the tip is paid first."""
    charge = slip.charge_cents + tip - covered
    tax = slip.tax_cents + min(charge, 0)
    charge = max(charge, 0)
    tip_paid = min(tip, charge, paid.cents)
    paid_charge, paid_tax = split_payment(paid.cents - tip_paid, charge - tip_paid, tax)
    return charge - tip_paid - paid_charge, tax - paid_tax


def pickup_entry(
    facts: PickupFacts, request: PickupRequest, settlement: Settlement, exempt: bool, today: date
) -> Draft | None:
    """The entry of a pickup; None where nothing moves."""
    lines = _postings(facts, request, settlement)
    if not lines:
        return None
    job, slip = facts.job, settlement.slip
    certificate = facts.certificate.id if exempt and facts.certificate else None
    text = f"Pickup: {job.piece}" + (f" ({request.coupon})" if request.coupon else "")
    return Draft(
        on=today,
        kind="pickup",
        text=text[:500],
        postings=lines,
        who=job.customer.party.id,
        job=job.id,
        slip=tuple(
            SlipLine(
                treated.charge.class_name,
                treated.base_cents,
                treated.treatment,
                job.lines[treated.place].id,
                certificate if treated.treatment == "exempt" else None,
            )
            for treated in slip.tax.charges
        ),
        taxes=tuple(
            TaxLine(each.rate.id, plain_decimal(each.rate.percent), each.base_cents, each.tax_cents)
            for each in slip.tax.taxes
        ),
    )


def _postings(facts: PickupFacts, request: PickupRequest, settlement: Settlement) -> tuple[Posting, ...]:
    accounts, slip, back = facts.accounts, settlement.slip, settlement.deposit_back_cents
    barter = [(request.barter.account, settlement.barter_cents)] if request.barter else []
    handed_back = [(accounts[ACCOUNT_OF[request.deposit_back]], -back)] if request.deposit_back else []
    return postings(
        *((each.account, each.cents) for each in money_in(accounts, settlement.paid.payments)),
        *handed_back,
        *barter,
        (accounts["gift_certificates"], sum(each.cents for each in settlement.gifts)),
        (accounts["owed_by_customers"], settlement.paid.owed_cents),
        (accounts["customer_deposits"], settlement.deposit_cents + back),
        (accounts["job_income"], -slip.charge_cents),
        (accounts["tips"], -request.tip_cents),
        *((accounts["sales_tax_payable"], -each.tax_cents) for each in slip.tax.taxes),
    )


def _warnings(facts: PickupFacts, request: PickupRequest, slip: Slip, exempt: bool, today: date) -> tuple[str, ...]:
    """What she should know at the counter, and why."""
    said = []
    if facts.certificate is not None and not exempt:
        name = facts.job.customer.name
        said.append(f"{name} has no certificate that is valid on {today}, so the tax was taken as from anyone.")
    said.extend(_moved_since_the_quote(facts, request, slip, exempt))
    if slip.charge_cents == 0 and slip.subtotal_cents:
        said.append(
            "Work given away is no income. Its materials stay an expense; the value of your own time is no deduction "
            "(IRS Publication 526, «Contributions You Can't Deduct»)."
        )
    if request.barter is not None:
        said.append("Barter is income at the fair value of what you get (IRS Publication 525): ask your accountant.")
    return (*said, *_of_the_place(facts, request))


def _moved_since_the_quote(facts: PickupFacts, request: PickupRequest, slip: Slip, exempt: bool) -> tuple[str, ...]:
    """That rates or answers make the total another one than on the day of the quote, and which."""
    quoted = facts.quoted_rules
    if quoted is None:
        return ()
    rates = percent_sum(quoted.rates), percent_sum(facts.rules.rates)
    if quoted.rates and slip.tax.taxes and rates[0] != rates[1]:
        then, now = (plain_percent(each) for each in rates)
        return (f"The quote reckoned with {then} % sales tax; today {now} % is in force and was taken.",)
    try:
        before = work_out_slip(facts.job.charges, quoted, discount_cents=_discount(facts.job, request), exempt=exempt)
    except NotPossible:
        return ()  # a class was taxed and no rate was in force, so that no tax could be quoted
    if before.total_cents == slip.total_cents:
        return ()
    then, now = (plain_amount(each.total_cents, facts.currency) for each in (before, slip))
    return (f"The quote came to {then} with its tax; what is taxed has changed since, so that it is {now} today.",)


def _of_the_place(facts: PickupFacts, request: PickupRequest) -> tuple[str, ...]:
    """Where a piece that is sent is taxed, if something is missing for it."""
    if facts.is_place_missing:
        return (
            "Your state taxes what is sent where it arrives: without --place the rates of your own place were taken.",
        )
    if facts.is_place_without_rates and request.sending is not None:
        return (
            f"No rate is entered for «{request.sending.place}», so no tax was taken. Ask the revenue office whether "
            "you have to register there.",
        )
    return ()


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
