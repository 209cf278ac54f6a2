"""The company that takes card payments: what it keeps, when it says so, and what it pays out each week."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal

from ledger.actions import card_payout
from ledger.books.books import Books
from ledger.example.data_files import cents, read
from ledger.example.working_days import WorkingDays
from ledger.jobs.payouts import card_money
from ledger.money import percent_of, round_half_up


@dataclass(frozen=True)
class CardCompany:
    """told_from: the day from which its reader tells the fee at once; until then the fee comes out with the payout."""

    told_from: date

    def tells_fees(self, books: Books) -> bool:
        """Whether the fee is known on the day of a payment."""
        return books.today >= self.told_from

    def fee_told(self, books: Books, amount_cents: int) -> int:
        """What is known of the fee on the day of the payment, in cents."""
        return fee_on(amount_cents) if self.tells_fees(books) else 0

    def pay_out(self, books: Books) -> None:
        """The payments up to yesterday, less the fees that were not told; nothing while chargebacks outweigh them."""
        through = books.today - timedelta(days=1)
        covered = card_money(books, through, books.today)
        fees = sum(fee_on(each.cents) for each in covered if each.day < self.told_from and each.cents > 0)
        amount = sum(each.cents for each in covered) - fees
        if amount > 0:
            card_payout.perform(books, card_payout.PayoutRequest(amount, through))


def card_company(days: WorkingDays) -> CardCompany:
    return CardCompany(days.month(read("prices")["card_fee_told_from_month"]).start)


def fee_on(amount_cents: int) -> int:
    """What the company keeps of a payment, in cents."""
    prices = read("prices")
    return round_half_up(percent_of(amount_cents, Decimal(prices["card_fee_percent"]))) + cents(prices["card_fee_each"])
