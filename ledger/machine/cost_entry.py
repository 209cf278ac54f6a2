"""What buying for the machine books, what its sale does, and what a payment on its loan does.

The machine is no expense: what is paid for it stands on its own account. Training is an expense of its category, and
part of the payback cost all the same. Bought without sales tax, use tax is owed and follows the cost.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from ledger.books.accounts import Account, Accounts
from ledger.books.drafts import Draft, postings
from ledger.errors import NotPossible
from ledger.machine.cost import EXPENSED, Kind
from ledger.spending.spend import PAYING_ROLES

_TRAINING = "classes_and_dues"
# Accounts into which money for a machine comes, or from a lender.
TAKING_ROLES = {"checking", "cash_box", "tax_savings", "household_checking"}


@dataclass(frozen=True)
class Bought:
    """A part that is paid, in cents. loan_cents: what a lender paid of it. traded_cents: what another machine paid.

    owed: what the household paid is owed back. use_tax_cents: owed on it where it was bought without sales tax.
    """

    what: str
    kind: Kind
    cents: int
    paid_from: Account
    loan_cents: int = 0
    traded_cents: int = 0
    owed: bool = False
    use_tax_cents: int = 0


def settle_bought(bought: Bought, accounts: Accounts, today: date) -> Draft:
    """The entry of a purchase. Raises NotPossible for an account that cannot pay, or where its parts are too much."""
    account = accounts[_TRAINING] if bought.kind in EXPENSED else accounts["machine"]
    loan = bought.loan_cents
    paid = bought.cents - loan - bought.traded_cents
    if bought.paid_from.role == "machine_loan":
        loan, paid = loan + paid, 0
    elif bought.paid_from.role not in PAYING_ROLES:
        raise NotPossible(
            f"Nothing is paid from «{bought.paid_from.name}».",
            "Pay from checking, a card, the household, or from the machine loan.",
            "from",
        )
    if paid < 0:
        raise NotPossible("The loan and the trade-in are more than the cost.", "Check the amounts.", "loan")
    lines = [
        (account, bought.cents - bought.traded_cents + bought.use_tax_cents),
        *payment_lines(bought.paid_from, paid, accounts, owed=bought.owed),
        (accounts["machine_loan"], -loan),
        (accounts["use_tax_payable"], -bought.use_tax_cents),
    ]
    moved = postings(*lines)
    if not moved:
        raise NotPossible(
            "Nothing is paid, so there is nothing to book.", "Leave the account out: it is a figure then.", "from"
        )
    text = f"{bought.kind.capitalize()}: {bought.what}"[:500]
    return Draft(on=today, kind="machine cost", text=text, postings=moved)


def settle_sold(what: str, cents: int, into: Account, accounts: Accounts, today: date) -> Draft:
    """The entry of a sale; its gain or loss is the accountant's. Raises NotPossible for an account that takes none."""
    if into.role not in TAKING_ROLES:
        raise NotPossible(
            f"The money of a sale does not come into «{into.name}».", "Name checking, or another account.", "to"
        )
    lines = [(into, cents), (accounts["machine"], -cents)]
    if into.purse == "personal":
        lines += [(accounts["owners_draws"], cents), (accounts["workshop_mirror"], -cents)]
    return Draft(on=today, kind="machine sold", text=f"Sold: {what}"[:500], postings=postings(*lines))


def settle_loan_payment(
    words: str, interest: int, principal: int, paid_from: Account, accounts: Accounts, today: date, *, owed: bool
) -> Draft:
    """A payment: interest is an expense, principal is not. Raises NotPossible for an account that cannot pay."""
    if paid_from.role not in PAYING_ROLES:
        raise NotPossible(
            f"Nothing is paid from «{paid_from.name}».", "Pay from checking or from household checking.", "from"
        )
    lines = [(accounts["loan_interest"], interest), (accounts["machine_loan"], principal)]
    lines += payment_lines(paid_from, interest + principal, accounts, owed=owed)
    return Draft(on=today, kind="loan payment", text=words[:500], postings=postings(*lines))


def payment_lines(paid_from: Account, cents: int, accounts: Accounts, *, owed: bool) -> list[tuple[Account, int]]:
    """Where money comes from: the workshop's account, or the household as a contribution or owed back to her."""
    if paid_from.role == "machine_loan":
        return []
    if paid_from.purse == "business":
        if owed and cents:
            raise NotPossible(
                "The workshop paid this itself, so nothing is owed to the owner.", "Leave it out.", "owed"
            )
        return [(paid_from, -cents)]
    crossing = accounts["owed_to_owner" if owed else "owners_contributions"]
    return [(crossing, -cents), (accounts["workshop_mirror"], cents), (paid_from, -cents)]
