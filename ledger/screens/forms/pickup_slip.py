"""The slip of a pickup as the form shows it: what is charged, what pays for it, and what is still to be said."""

from __future__ import annotations

from collections.abc import Iterator

from ledger.jobs.pickup import PickupRequest, Settlement
from ledger.screens.showing import Showing, paired

# Cells of a line on the slip.
_SLIP = 41


class PickupSlip:
    """A pickup worked out, told in lines."""

    def __init__(self, showing: Showing, settlement: Settlement, request: PickupRequest) -> None:
        self.showing = showing
        self.settlement = settlement
        self.request = request

    def lines(self) -> Iterator[str]:
        """Whose it is, the lines of work, the tax, and what covers the total before it is paid."""
        settlement, job = self.settlement, self.settlement.job
        yield f"{job.customer.name}"
        yield f"{job.piece}"
        yield ""
        yield from (self._pair(line.name, line.cents) for line in job.lines)
        yield from self._sometimes("Minimum charge", job.pricing.top_up_cents)
        yield from self._sometimes("Rush", job.pricing.rush_cents)
        yield from self._sometimes(self.request.coupon or "Discount", -settlement.slip.discount_cents)
        for each in settlement.slip.tax.taxes:
            yield self._pair(f"{each.rate.jurisdiction} {self.showing.percent(each.rate.percent)}", each.tax_cents)
        yield from (f"No tax on «{name}»: not answered yet" for name in settlement.slip.tax.unanswered)
        if settlement.slip.tax.unanswered:
            yield "  Set-up (6) asks; a keeps the answer."
        yield from self._sometimes("Tip", settlement.tip_cents)
        yield self._pair("Total", settlement.total_cents)
        yield from self._sometimes("Deposit", -settlement.deposit_cents)
        if self.request.barter is not None:
            yield from self._sometimes(f"Goods: {self.request.barter.what}", -settlement.barter_cents)
        for gift in settlement.gifts:
            yield self._pair(f"Certificate {gift.certificate.code}", -gift.cents)

    def sums(self) -> Iterator[str]:
        """What is due, how it is paid, and what else becomes of money and piece."""
        settlement, amount = self.settlement, self.showing.amount
        to_pay = settlement.due_cents - settlement.barter_cents - sum(each.cents for each in settlement.gifts)
        yield f"Due {amount(to_pay)}"
        yield from self._beside()
        if self.request.paid:
            yield self._paid()
        else:
            yield "How is it paid?" if to_pay else "Nothing is left to pay. Enter books it."

    def _paid(self) -> str:
        paid, amount = self.settlement.paid, self.showing.amount
        told = [f"{each.how} {amount(each.cents)}" for each in paid.payments]
        told += [f"change {amount(paid.change_cents)}"] if self.settlement.tendered_cents is not None else []
        told += [f"still owed {amount(paid.owed_cents)}"] if paid.owed_cents else []
        return "Paid: " + ", ".join(told) + ". Enter books it."

    def _beside(self) -> Iterator[str]:
        """What is over of a deposit or a certificate, and the parcel."""
        settlement, amount = self.settlement, self.showing.amount
        over = settlement.job.deposit_cents - settlement.deposit_cents
        if over:
            back = f"goes back, {self.request.deposit_back}" if self.request.deposit_back else "stays held"
            yield f"{amount(over)} of the deposit {back}."
        for gift in settlement.gifts:
            left = gift.certificate.left_cents - gift.cents
            if left:
                yield f"Certificate {gift.certificate.code} keeps {amount(left)}."
        sending = self.request.sending
        if sending is not None:
            yield "It goes by post" + (f", taxed as in {sending.place}." if sending.place else ".")
            if sending.place and not settlement.slip.tax.taxes:
                yield f"No tax is taken there: whether you must register in {sending.place}, its tax office decides."

    def _sometimes(self, words: str, cents: int) -> Iterator[str]:
        if cents:
            yield self._pair(words, cents)

    def _pair(self, words: str, cents: int) -> str:
        return paired(words, self.showing.plain(cents), _SLIP)
