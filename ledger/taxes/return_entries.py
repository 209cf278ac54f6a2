"""What filing a return and paying it book, worked out."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from ledger.books.accounts import Account, Accounts
from ledger.books.drafts import Draft, postings
from ledger.errors import NotPossible
from ledger.money import Currency, plain_amount
from ledger.taxes.filed_return import FiledReturn

FILING, PAYMENT = "tax filing", "tax payment"


def filing_entry(accounts: Accounts, label: str, borne_cents: int, today: date) -> Draft | None:
    """What she bears of tax on the totals above what was collected; None where both agree. It is never income."""
    lines = postings((accounts["licenses_and_taxes"], borne_cents), (accounts["sales_tax_payable"], -borne_cents))
    if not lines:
        return None
    return Draft(on=today, kind=FILING, text=f"Sales tax return {label}: due on the totals", postings=lines)


@dataclass(frozen=True)
class ReturnPaid:
    """Amounts in cents. cents: money, below zero where the state paid back. credit: what was paid above what is owed.

    left: what is still owed of it. lost_allowance: what could have been kept by paying on time.
    """

    cents: int
    allowance_cents: int
    use_tax_cents: int
    left_cents: int
    credit_cents: int
    lost_allowance_cents: int
    draft: Draft


def settle_payment(
    filed: FiledReturn, accounts: Accounts, currency: Currency, money: Account, cents: int | None, today: date
) -> ReturnPaid:
    """Pay a return, or take back what was claimed of it. cents: None is all that is left. Raises NotPossible.

    The allowance is kept by the payment that settles the return, where that comes on time. A part pays sales tax first,
    then use tax.
    """
    if filed.is_claimed and filed.left_cents < 0:
        return _settle_refund(filed, accounts, currency, money, cents, today)
    due = filed.to_pay_on(today)
    if cents is None and due <= 0:
        raise NotPossible(
            f"Nothing is left to pay of the return of {filed.period.label}.",
            "Give an amount with --amount if you paid more: it is kept as a credit.",
            "period",
        )
    paid = due if cents is None else cents
    is_settled = paid >= due and filed.left_cents > 0
    allowance = filed.allowance_on(today) if is_settled else 0
    whole = paid + allowance
    use_left = filed.use_tax_cents - filed.use_tax_paid_cents
    use_part = min(max(0, whole - max(0, filed.left_cents - use_left)), max(0, use_left))
    lines = postings(
        (accounts["sales_tax_payable"], whole - use_part),
        (accounts["use_tax_payable"], use_part),
        (money, -paid),
        (accounts["sales_tax_allowance"], -allowance),
        *_crossing(accounts, money, paid),
    )
    kept = filed.allowance_kept_cents + allowance
    return ReturnPaid(
        cents=paid,
        allowance_cents=allowance,
        use_tax_cents=use_part,
        left_cents=max(0, filed.left_cents - whole),
        credit_cents=max(0, whole - max(0, filed.left_cents)),
        lost_allowance_cents=filed.allowance_cents if today > filed.due_on and not kept else 0,
        draft=Draft(on=today, kind=PAYMENT, text=f"Sales tax return {filed.period.label} paid", postings=lines),
    )


def _settle_refund(
    filed: FiledReturn, accounts: Accounts, currency: Currency, money: Account, cents: int | None, today: date
) -> ReturnPaid:
    claimed = -filed.left_cents
    back = claimed if cents is None else cents
    if back > claimed:
        raise NotPossible(
            f"{plain_amount(claimed, currency)} was claimed back and has not come yet.",
            "Give that much or less.",
            "amount",
        )
    lines = postings((money, back), (accounts["sales_tax_payable"], -back), *_crossing(accounts, money, -back))
    draft = Draft(on=today, kind=PAYMENT, text=f"Sales tax return {filed.period.label}: paid back", postings=lines)
    return ReturnPaid(-back, 0, 0, 0, 0, 0, draft)


def _crossing(accounts: Accounts, money: Account, paid_cents: int) -> tuple[tuple[Account, int], ...]:
    """What the household pays for the workshop is a contribution; what it is handed is a draw."""
    if money.purse == "business":
        return ()
    through = "owners_contributions" if paid_cents > 0 else "owners_draws"
    return ((accounts[through], -paid_cents), (accounts["workshop_mirror"], paid_cents))
