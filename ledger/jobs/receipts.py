"""The receipt of a pickup: what it says, and the sheet that says it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from ledger.books.books import Settings
from ledger.books.entries import Sealed
from ledger.jobs.charged import (
    Charged,
    charge_totals,
    charged,
    deposit_left_notes,
    exemption_notes,
    tax_of_slip,
    work_table,
)
from ledger.jobs.payments import How, Payment
from ledger.jobs.pickup import PickupRequest, Sending, Settlement
from ledger.jobs.printed_piece import Piece, piece_facts, piece_of
from ledger.paper.locales import LocalForms
from ledger.paper.sheet import Facts, Notes, Sheet, Title, Total, Totals
from ledger.taxes.certificates import Certificate

DIGEST_DIGITS = 12
_HOW = {"cash": "Paid in cash", "check": "Paid by check", "card": "Paid by card", "transfer": "Paid by transfer"}
_BACK = {"cash": "in cash", "check": "by check", "card": "by card", "transfer": "by transfer"}


@dataclass(frozen=True)
class GiftPaid:
    """What a gift certificate paid, and what it holds after that, in cents."""

    code: str
    cents: int
    left_cents: int


@dataclass(frozen=True)
class GoodsPaid:
    """Goods or services taken for the work, at the value agreed, in cents."""

    what: str
    cents: int


@dataclass(frozen=True)
class DepositBack:
    """What was handed back of a deposit above the total, in cents."""

    how: How
    cents: int


@dataclass(frozen=True)
class Receipt:
    """What a receipt says; amounts in cents. total: with tax and tip. due: the total less the deposit used.

    deposit_left: what stays held of the deposit. sending: how the piece goes home by post. tendered: the cash handed
    over, None where it was not counted. sealed: None for work that was given away.
    """

    workshop: str
    day: date
    piece: Piece
    sending: Sending | None
    work: Charged
    tip_cents: int
    deposit_cents: int
    deposit_left_cents: int
    deposit_back: DepositBack | None
    gifts: tuple[GiftPaid, ...]
    goods: GoodsPaid | None
    payments: tuple[Payment, ...]
    tendered_cents: int | None
    owed_cents: int
    sealed: Sealed | None

    @property
    def total_cents(self) -> int:
        return self.work.total_cents + self.tip_cents

    @property
    def due_cents(self) -> int:
        return self.total_cents - self.deposit_cents

    @property
    def change_cents(self) -> int:
        cash = sum(each.cents for each in self.payments if each.how == "cash")
        return 0 if self.tendered_cents is None else self.tendered_cents - cash


def describe_receipt(
    settings: Settings,
    request: PickupRequest,
    settlement: Settlement,
    certificate: Certificate | None,
    sealed: Sealed | None,
    day: date,
) -> Receipt:
    """The receipt of a pickup that was just worked out. certificate: the customer's newest one, used or not."""
    job, back_cents = settlement.job, settlement.deposit_back_cents
    barter, back = request.barter, request.deposit_back
    return Receipt(
        workshop=settings.name,
        day=day,
        piece=piece_of(job),
        sending=request.sending,
        work=charged(job, tax_of_slip(settlement.slip, certificate), settings.currency, request.coupon),
        tip_cents=settlement.tip_cents,
        deposit_cents=settlement.deposit_cents,
        deposit_left_cents=job.deposit_cents - settlement.deposit_cents - back_cents,
        deposit_back=DepositBack(back, back_cents) if back and back_cents else None,
        gifts=tuple(
            GiftPaid(used.certificate.code, used.cents, used.certificate.left_cents - used.cents)
            for used in settlement.gifts
        ),
        goods=GoodsPaid(barter.what, settlement.barter_cents) if barter and settlement.barter_cents else None,
        payments=settlement.paid.payments,
        tendered_cents=settlement.tendered_cents,
        owed_cents=settlement.paid.owed_cents,
        sealed=sealed,
    )


def receipt_name(receipt: Receipt) -> str:
    """The name of its files: job and entry, so that no second pickup writes over the first receipt."""
    return name_of_receipt(receipt.piece.job, receipt.sealed.number if receipt.sealed else None)


def name_of_receipt(job: int, entry: int | None) -> str:
    return f"receipt-job-{job}" + (f"-entry-{entry}" if entry else "")


def receipt_sheet(receipt: Receipt, forms: LocalForms) -> Sheet:
    """The receipt with every figure as its place writes it."""
    job, sealed = receipt.piece.job, receipt.sealed
    return Sheet(
        letterhead=(receipt.workshop,),
        about=f"{receipt.workshop}: receipt for job {job}",
        blocks=(
            Title(f"Receipt for job {job}", forms.day(receipt.day)),
            Facts(piece_facts(receipt.piece, forms), _sent_by(receipt, forms)),
            work_table(receipt.work, forms),
            Totals((*_totals(receipt, forms), *_paid(receipt, forms))),
            Notes((*exemption_notes(receipt.work), *_what_is_left(receipt, forms), "Thank you.")),
        ),
        foot=f"Job {job}, entry {sealed.number}" if sealed else f"Job {job}",
        digits=sealed.digest[:DIGEST_DIGITS] if sealed else "",
    )


def _totals(receipt: Receipt, forms: LocalForms) -> list[Total]:
    totals = charge_totals(receipt.work, forms, "Sales tax")
    if receipt.tip_cents:
        totals.append(Total("Tip", forms.amount(receipt.tip_cents)))
    totals.append(Total("Total", forms.amount(receipt.total_cents), is_sum=True))
    if receipt.deposit_cents:
        totals.append(Total("Deposit", forms.amount(-receipt.deposit_cents)))
        totals.append(Total("Due", forms.amount(receipt.due_cents), is_sum=True))
    return totals


def _paid(receipt: Receipt, forms: LocalForms) -> list[Total]:
    """How it was paid, the cash that went back and forth, and what is left to pay."""
    totals = [Total(f"Gift certificate {each.code}", forms.amount(each.cents)) for each in receipt.gifts]
    if receipt.goods is not None:
        totals.append(Total(f"Paid in goods: {receipt.goods.what}", forms.amount(receipt.goods.cents)))
    totals += [
        Total(f"{_HOW[each.how]} {each.reference or ''}".strip(), forms.amount(each.cents)) for each in receipt.payments
    ]
    if receipt.tendered_cents is not None:
        totals.append(Total("Cash handed over", forms.amount(receipt.tendered_cents)))
    if receipt.change_cents:
        totals.append(Total("Change", forms.amount(receipt.change_cents)))
    if receipt.owed_cents:
        totals.append(Total("Still owed", forms.amount(receipt.owed_cents), is_sum=True))
    return totals


def _sent_by(receipt: Receipt, forms: LocalForms) -> tuple[tuple[str, str], ...]:
    sending = receipt.sending
    if sending is None:
        return ()
    insured = forms.amount(sending.insured_cents) if sending.insured_cents else None
    told = {
        "Sent by": sending.carrier or "post",
        "Tracking": sending.tracking,
        "To": sending.place,
        "Insured for": insured,
    }
    return tuple((label, text) for label, text in told.items() if text)


def _what_is_left(receipt: Receipt, forms: LocalForms) -> tuple[str, ...]:
    """What became of a deposit above the total, and what the gift certificates hold still."""
    back = receipt.deposit_back
    returned = (f"Of the deposit, {forms.amount(back.cents)} was handed back {_BACK[back.how]}.",) if back else ()
    gifts = (
        f"Gift certificate {each.code} holds {forms.amount(each.left_cents)} after this."
        for each in receipt.gifts
        if each.left_cents
    )
    return (*returned, *deposit_left_notes(receipt.deposit_left_cents, forms), *gifts)
