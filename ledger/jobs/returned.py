"""A payment that comes back, worked out: a check the bank returns, a card payment that is charged back.

Only the payment is undone. Sale, tax, custody and visit stand, and the job owes again. A deposit that is still held is
held no more; what was used or handed back of it is owed. What the bank takes is an expense; what the customer is
charged for it is income by its class, with tax where her state taxes that class.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from ledger.books.accounts import Accounts
from ledger.books.drafts import Draft, SlipLine, TaxLine, postings
from ledger.jobs.payments import ACCOUNT_OF
from ledger.money import plain_decimal
from ledger.taxes.sales_tax import Charge, SlipTax, TaxRules, tax_on

FEE_CLASS = "other"


@dataclass(frozen=True)
class PaidBefore:
    """A payment as it was booked, in cents, and what of it paid charge and tax. held_cents: a deposit still held.

    also_paid: the other jobs that the same check or card payment was for.
    """

    payment: int
    entry: int
    how: str
    cents: int
    charge_cents: int
    tax_cents: int
    reference: str | None
    held_cents: int = 0
    also_paid: tuple[int, ...] = ()

    @property
    def owed_cents(self) -> int:
        """What is owed again."""
        return self.cents - self.held_cents


@dataclass(frozen=True)
class ReturnedRequest:
    """fee_cents: what the bank takes. charge_cents: what the customer is charged for it, before any tax.

    charge_class: the class of that charge, as her state's answers know it.
    """

    job: int
    how: str = "check"
    fee_cents: int = 0
    charge_cents: int = 0
    number: str | None = None
    charge_class: str = FEE_CLASS


@dataclass(frozen=True)
class ReturnedFacts:
    """certificate: the customer's, valid today, None where there is none."""

    paid: PaidBefore
    job: int
    piece: str
    party: int
    accounts: Accounts
    rules: TaxRules
    certificate: int | None = None


@dataclass(frozen=True)
class Returned:
    """draft: the payment undone. charge: the entry that charges the customer, where there is one, with its tax."""

    draft: Draft
    charge: Draft | None
    charge_tax: SlipTax | None


def settle(facts: ReturnedFacts, request: ReturnedRequest, today: date) -> Returned:
    """Work a returned payment out. Raises NotPossible where the fee's class is taxed and no rate is in force."""
    accounts, paid = facts.accounts, facts.paid
    money = accounts[ACCOUNT_OF[paid.how]]
    bank_fee = accounts["card_fees" if paid.how == "card" else "bank_charges"]
    lines = postings(
        (accounts["customer_deposits"], paid.held_cents),
        (accounts["owed_by_customers"], paid.owed_cents),
        (money, -paid.cents),
        (bank_fee, request.fee_cents),
        (money, -request.fee_cents),
    )
    what = "Charged back" if paid.how == "card" else "Returned check"
    number = f" {paid.reference}" if paid.reference else ""
    draft = Draft(
        on=today,
        kind="returned payment",
        text=f"{what}{number}: {facts.piece}"[:500],
        postings=lines,
        who=facts.party,
        job=facts.job,
    )
    charge, tax = _charge(facts, request, today) if request.charge_cents else (None, None)
    return Returned(draft, charge, tax)


def _charge(facts: ReturnedFacts, request: ReturnedRequest, today: date) -> tuple[Draft, SlipTax]:
    """The customer's charge for it: owed, income by its class, taxed as that class is."""
    accounts = facts.accounts
    charged = Charge(request.charge_class, request.charge_cents)
    tax = tax_on([charged], facts.rules, exempt=facts.certificate is not None)
    treated = tax.charges[0]
    certificate = facts.certificate if treated.treatment == "exempt" else None
    lines = postings(
        (accounts["owed_by_customers"], treated.base_cents + tax.tax_cents),
        (accounts["other_income"], -treated.base_cents),
        *((accounts["sales_tax_payable"], -each.tax_cents) for each in tax.taxes),
    )
    draft = Draft(
        on=today,
        kind="charge",
        text=f"Charge for the returned payment: {facts.piece}"[:500],
        postings=lines,
        who=facts.party,
        job=facts.job,
        slip=(SlipLine(request.charge_class, treated.base_cents, treated.treatment, certificate=certificate),),
        taxes=tuple(
            TaxLine(each.rate.id, plain_decimal(each.rate.percent), each.base_cents, each.tax_cents)
            for each in tax.taxes
        ),
    )
    return draft, tax
