"""Set up a shared bill, change its share from a day on, and book one when it comes."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from ledger.actions import spend
from ledger.books.balances import read_accounts
from ledger.books.books import Books
from ledger.books.entries import Sealed
from ledger.errors import NotPossible
from ledger.spending.bill_records import bill_named, keep_bill, keep_share
from ledger.spending.bills import Every, Share, SharedBill, workshop_part
from ledger.spending.spend import Spent


@dataclass(frozen=True)
class BillRequest:
    """category: by name; a bill of the home goes to home cost whatever it is for. every: how often it comes."""

    name: str
    category: str
    percent: Decimal
    reason: str
    from_date: date
    of_the_home: bool = False
    every: Every | None = None


@dataclass(frozen=True)
class BillPaymentRequest:
    """cents: the whole bill. owed: the workshop owes its part back to the household that paid it."""

    name: str
    cents: int
    paid_from: str
    who: str | None = None
    owed: bool = False


def perform(books: Books, request: BillRequest) -> SharedBill:
    """The bill as it is kept. Raises NotFound for the category, NotPossible, NotUnderstood."""
    with books.writing() as write:
        accounts = read_accounts(books)
        category = (
            accounts["home_cost"] if request.of_the_home else accounts.category(request.category, day=books.today)
        )
        if not request.of_the_home and category.role == "home_cost":
            raise NotPossible(
                "Home cost is for bills of the home.", "Say --of-the-home, or choose another category.", "category"
            )
        bill = keep_bill(books, write, request.name, category, of_the_home=request.of_the_home, every=request.every)
        keep_share(books, write, bill, Share(request.percent, request.reason, request.from_date))
        return bill_named(books, request.name)


def preview_payment(books: Books, request: BillPaymentRequest) -> tuple[SharedBill, Share, spend.SpendRequest]:
    """The bill, the share that holds today, and the receipt that would be booked. Raises NotFound, NotPossible."""
    bill = bill_named(books, request.name)
    share = bill.share_on(books.today)
    if share is None:
        raise NotPossible(
            f"No share of «{bill.name}» holds on {books.today}.", "Enter one with an earlier --from.", "name"
        )
    home = request.cents - workshop_part(request.cents, share.percent)
    receipt = spend.SpendRequest(
        amount_cents=request.cents,
        category=bill.category.name,
        paid_from=request.paid_from,
        who=request.who or bill.name,
        home_cents=home,
        owed=request.owed,
        why=f"{bill.name}: {share.percent.normalize():f} % of the workshop, {share.reason}"[:500],
    )
    return bill, share, receipt


def perform_payment(books: Books, request: BillPaymentRequest) -> tuple[Spent, Sealed]:
    """Book a bill that came. Raises as `preview_payment` and `spend` do."""
    with books.all_or_nothing() as together, together.writing() as write:
        bill, share, receipt = preview_payment(together, request)
        spent, sealed = spend.perform(together, receipt)
        write.add(
            "bill_payment",
            bill=bill.id,
            entry=sealed.number,
            percent=f"{share.percent.normalize():f}",
            cents=request.cents,
        )
        return spent, sealed
