"""Enter a loan for the machine: its terms, and what puts it on its account.

A purchase may have put it there already. Else it was there when the books began, as the machine was, and stands against
the opening balance; or the lender paid the workshop, which bought a machine since or is about to.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from ledger.books.accounts import Account
from ledger.books.balances import read_accounts
from ledger.books.books import Books
from ledger.books.drafts import Draft, postings
from ledger.books.entries import Sealed, check_date, seal
from ledger.errors import NotPossible
from ledger.machine.cost_entry import TAKING_ROLES
from ledger.machine.loan import Offer, Terms, check_terms
from ledger.machine.loan_record import Loan, keep_loan, loan_numbered, owed_on_account, read_loans
from ledger.machine.record import machine_named
from ledger.money import plain_amount
from ledger.text import read_name


@dataclass(frozen=True)
class LoanRequest:
    """cents: what was lent, or what is left of it now. percent: a year. taken_on: today unless given.

    payment_cents: as the lender set it. offer_percent: a year, charged back where it is not paid off by offer_ends_on.
    into: the account that the lender paid into. was_there: it was there when the books began. instead_of: the number of
    a loan whose terms it corrects.
    """

    cents: int
    percent: Decimal
    months: int
    first_on: date
    taken_on: date | None = None
    payment_cents: int | None = None
    offer_percent: Decimal | None = None
    offer_ends_on: date | None = None
    lender: str | None = None
    machine: str | None = None
    into: str | None = None
    was_there: bool = False
    instead_of: int | None = None


@dataclass(frozen=True)
class EnteredLoan:
    """draft: None where a purchase put the loan on its account already. machine: None is the first."""

    terms: Terms
    lender: str | None
    machine: int | None
    draft: Draft | None


def preview(books: Books, request: LoanRequest) -> EnteredLoan:
    """What entering it would book. Raises NotFound, NotPossible, NotUnderstood."""
    if (request.offer_percent is None) != (request.offer_ends_on is None):
        raise NotPossible(
            "Interest that is charged back has a rate and a day.", "Give both, or neither of them.", "paid_by"
        )
    old = loan_numbered(books, request.instead_of) if request.instead_of is not None else None
    offer = None
    if request.offer_percent is not None and request.offer_ends_on is not None:
        offer = Offer(request.offer_percent, request.offer_ends_on)
    taken_on = request.taken_on or (old.terms.taken_on if old is not None else books.today)
    payment = request.payment_cents
    terms = Terms(request.cents, request.percent, request.months, taken_on, request.first_on, payment, offer)
    check_terms(terms)
    if taken_on > books.today:
        raise NotPossible(f"{taken_on} is in the future.", "Enter the loan when it is there.", "taken")
    lender = read_name(request.lender, "lender") if request.lender is not None else None
    machine = machine_named(books, request.machine).id
    draft = _draft(books, request, terms) if old is None else None
    if old is not None:
        _check_corrects(books, old, terms)
    return EnteredLoan(terms, lender, machine, draft)


def perform(books: Books, request: LoanRequest) -> tuple[Loan, Sealed | None]:
    """The loan as it is kept. Raises as `preview` does."""
    with books.writing() as write:
        check_date(books, books.today)
        entered = preview(books, request)
        sealed = seal(books, write, entered.draft) if entered.draft is not None else None
        number = keep_loan(
            books,
            write,
            entered.terms,
            machine=entered.machine,
            lender=entered.lender,
            entry=sealed.number if sealed is not None else _entry_of(books, request.instead_of),
            replaces=request.instead_of,
        )
        return loan_numbered(books, number), sealed


def _entry_of(books: Books, number: int | None) -> int | None:
    """Corrected terms stand on the entry of the loan that they correct."""
    return loan_numbered(books, number).entry if number is not None else None


def _check_corrects(books: Books, old: Loan, terms: Terms) -> None:
    if terms.cents != old.terms.cents:
        raise NotPossible(
            f"Loan {old.id} is one of {plain_amount(old.terms.cents, books.currency)}.",
            "Another amount is another loan: undo the entry that put this one there, and enter it again.",
            "amount",
        )


def _draft(books: Books, request: LoanRequest, terms: Terms) -> Draft | None:
    accounts = read_accounts(books)
    loan = accounts["machine_loan"]
    on_account = owed_on_account(books, books.today) - sum(each.balance_cents for each in read_loans(books))
    if on_account == terms.cents and request.into is None and not request.was_there:
        return None
    if on_account > 0:
        raise NotPossible(
            f"{plain_amount(on_account, books.currency)} stands on «{loan.name}» of which no loan is entered.",
            "Give that as the amount of the loan.",
            "amount",
        )
    into = None
    if request.into is not None:
        into = accounts.named(request.into, "into")
    elif not request.was_there and _came_in(books):
        into = accounts["checking"]
    if into is None:
        return Draft(
            on=books.today,
            kind="opening",
            text="Loan that was there when the books began",
            postings=postings((accounts["opening_balance"], terms.cents), (loan, -terms.cents)),
            belongs_on=terms.taken_on if terms.taken_on < books.today else None,
        )
    return _paid_in(into, loan, terms, books.today)


def _paid_in(into: Account, loan: Account, terms: Terms, today: date) -> Draft:
    if into.role not in TAKING_ROLES or into.purse != "business":
        raise NotPossible(
            f"The money of a loan does not come into «{into.name}».", "Name checking, or another account.", "into"
        )
    lines = postings((into, terms.cents), (loan, -terms.cents))
    return Draft(on=today, kind="loan", text="Loan for the machine", postings=lines)


def _came_in(books: Books) -> bool:
    """Whether the lender's money came in: a machine was bought with the workshop's since, or is still to be."""
    today = books.today.isoformat()
    if not books.value("select 1 from machine_cost where on_date <= ?", (today,)):
        return books.today > books.settings.begun_on
    found = books.value(
        "select 1 from machine_cost join entry on entry.number = machine_cost.entry where entry.kind = 'machine cost' "
        "and entry.date <= ? and not exists (select 1 from entry as mirror where mirror.reverses = entry.number)",
        (today,),
    )
    return found is not None
