"""Add a part of what a machine cost: paid today, or a figure from before the books began.

Bought without sales tax, use tax is owed at cost, and it is part of the cost too. What another machine was given in for
it is taken off what is paid, and off the payback cost.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from checklists.not_yet_known import settle_unknown
from ledger.actions.spend import HOUSEHOLD_PAYS, OWED_BACK
from ledger.books.accounts import Accounts
from ledger.books.balances import read_accounts
from ledger.books.books import Books
from ledger.books.drafts import Draft
from ledger.books.entries import Sealed, check_date, seal
from ledger.books.settings import chosen
from ledger.books.transaction import Writing
from ledger.errors import NotPossible
from ledger.machine.cost import COMES_BACK, Kind, Machine, Part
from ledger.machine.cost_entry import Bought, settle_bought
from ledger.machine.record import add_cost, machine_named, read_parts
from ledger.money import plain_amount
from ledger.taxes.rules import rates_on
from ledger.taxes.sales_tax import JurisdictionTax
from ledger.taxes.use_tax import keep_use_tax
from ledger.taxes.use_tax_entry import use_tax_on
from ledger.text import read_text


@dataclass(frozen=True)
class CostRequest:
    """paid_from: an account by name, None for a figure from before the books began. machine: None is the first.

    placed_on: the day on which it was placed in service. loan_cents: what a lender paid of it. traded_cents: what
    `traded` was given in for. worth_cents: where it was hers first, its worth on the day of business use.
    """

    cents: int
    what: str
    kind: Kind = "price"
    paid_from: str | None = None
    machine: str | None = None
    placed_on: date | None = None
    loan_cents: int = 0
    traded_cents: int = 0
    traded: str | None = None
    worth_cents: int | None = None
    untaxed: bool = False
    owed: bool | None = None


@dataclass(frozen=True)
class AddedCost:
    """draft: None for a figure, by which nothing is booked. repeats: a price of the same size that was there before."""

    machine: Machine
    traded: Machine | None
    what: str
    draft: Draft | None
    use_taxes: tuple[JurisdictionTax, ...] = ()
    repeats: Part | None = None

    @property
    def use_tax_cents(self) -> int:
        return sum(each.tax_cents for each in self.use_taxes)


def preview(books: Books, request: CostRequest) -> AddedCost:
    """What a part would book. Raises NotFound, NotPossible, NotUnderstood."""
    machine = machine_named(books, request.machine)
    what = read_text(request.what, "what", limit=300)
    _check(request)
    repeats = _price_already_there(books, request, machine)
    traded = machine_named(books, request.traded) if request.traded_cents else None
    if traded is not None and traded == machine:
        raise NotPossible(
            "A machine is not given in for itself.", "Enter the new one with «twopurse machine add» first.", "machine"
        )
    if request.paid_from is None:
        return AddedCost(machine, traded, what, None, repeats=repeats)
    accounts = read_accounts(books)
    taxes = use_tax_on(request.cents, rates_on(books, books.today)) if request.untaxed else ()
    draft = _draft(books, request, accounts, what, sum(each.tax_cents for each in taxes))
    return AddedCost(machine, traded, what, draft, taxes, repeats)


def perform(books: Books, request: CostRequest) -> tuple[AddedCost, Sealed | None]:
    """Book it, or keep the figure. Raises as `preview` does."""
    with books.writing() as write:
        check_date(books, books.today)
        added = preview(books, request)
        sealed = seal(books, write, added.draft) if added.draft is not None else None
        _keep(books, write, request, added, sealed.number if sealed is not None else None)
        settle_unknown(books, write, "machine_price", f"{added.what}, {plain_amount(request.cents, books.currency)}")
        if sealed is not None and added.use_taxes:
            keep_use_tax(write, sealed.number, added.use_taxes)
            account = read_accounts(books)["machine"].id
            write.add(
                "untaxed_purchase", entry=sealed.number, purchase=sealed.number, account=account, cents=request.cents
            )
        return added, sealed


def _price_already_there(books: Books, request: CostRequest, machine: Machine) -> Part | None:
    """The same price of the same machine, such as that with which the books began: two halves can be alike."""
    if request.kind != "price":
        return None
    there = (each for each in read_parts(books, books.today) if each.machine == machine.id and each.kind == "price")
    return next((each for each in there if each.cents == request.cents), None)


def _keep(books: Books, write: Writing, request: CostRequest, added: AddedCost, entry: int | None) -> None:
    day = books.today
    if entry is None and request.placed_on is not None:
        day = min(day, request.placed_on)
    cents = -request.cents if request.kind in COMES_BACK else request.cents
    machine, placed = added.machine.id, request.placed_on
    add_cost(
        books,
        write,
        added.what,
        cents,
        day,
        entry,
        kind=request.kind,
        machine=machine,
        placed_on=placed,
        worth_cents=request.worth_cents,
    )
    if added.use_tax_cents:
        words = f"Use tax: {added.what}"
        add_cost(
            books, write, words, added.use_tax_cents, day, entry, kind="use tax", machine=machine, placed_on=placed
        )
    if added.traded is not None:
        words = f"Given in for {added.what}"
        add_cost(books, write, words, -request.traded_cents, day, entry, kind="trade-in", machine=added.traded.id)


def _draft(books: Books, request: CostRequest, accounts: Accounts, what: str, use_tax_cents: int) -> Draft:
    assert request.paid_from is not None, "a figure books nothing"
    paid_from = accounts.named(request.paid_from, "from")
    owed = request.owed
    if owed is None:
        owed = paid_from.purse == "personal" and chosen(books, HOUSEHOLD_PAYS, books.today) == OWED_BACK
    bought = Bought(
        what=what,
        kind=request.kind,
        cents=request.cents,
        paid_from=paid_from,
        loan_cents=request.loan_cents,
        traded_cents=request.traded_cents,
        owed=owed,
        use_tax_cents=use_tax_cents,
    )
    return settle_bought(bought, accounts, books.today)


def _check(request: CostRequest) -> None:
    if request.kind in COMES_BACK and request.paid_from is not None:
        raise NotPossible(
            "What comes back for a machine is not paid from an account.",
            "Enter its sale with «twopurse machine sell», or leave --from out for a figure from before the books.",
            "from",
        )
    if request.paid_from is None and (request.loan_cents or request.untaxed or request.traded_cents):
        raise NotPossible(
            "A figure from before the books began books nothing.", "Say what it was paid from with --from.", "from"
        )
    if request.worth_cents is not None and request.paid_from is not None:
        raise NotPossible(
            "What was yours first is not paid from an account.", "Bring it in with «twopurse bring-in».", "worth"
        )
