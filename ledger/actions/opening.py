"""Tell what stood there on the day the books began, where the work had been going on before them.

Entries are dated that day, also where they are told later. What is told of one account anew takes the place of what was
told before; customers, deposits and certificates are added, and each is taken back by undoing its entry. Figures of
the year before the books are kept beside the entries and booked nowhere.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from checklists.not_yet_known import Unknown, settle_unknown
from ledger.actions import opening_standing, reverse, set_loan
from ledger.actions.opening_entries import (
    DebtParts,
    balance_entry,
    certificate_entry,
    debt_entry,
    debt_parts,
    deposit_entry,
    machine_entry,
    months_left,
    tax_entry,
)
from ledger.actions.opening_figures import told_figures
from ledger.actions.opening_request import (
    BALANCES,
    CertificateBefore,
    DebtBefore,
    DepositBefore,
    LoanBefore,
    OpeningRequest,
)
from ledger.books.accounts import Accounts
from ledger.books.balances import read_accounts
from ledger.books.before_books import Figure, keep_figures, read_figures
from ledger.books.books import Books
from ledger.books.clock import Clock
from ledger.books.drafts import Draft
from ledger.books.entries import Sealed, seal
from ledger.books.transaction import Writing
from ledger.errors import NotUnderstood
from ledger.jobs.customers import Customer, ensure_customer
from ledger.jobs.gift_certificates import earlier_certificate
from ledger.jobs.job import NewJob
from ledger.jobs.pricing import Size
from ledger.jobs.records import add_event, add_job
from ledger.machine.record import add_cost
from ledger.money import plain_amount
from ledger.taxes.filing_rules import basis_on
from ledger.taxes.rules import answers_on, rates_on
from ledger.text import read_name, read_text

# The field of the form in which what stands on an account was told, by the account's role.
TOLD_IN = {
    **{role: role for role in BALANCES},
    "owed_by_customers": "debts",
    "customer_deposits": "deposits",
    "gift_certificates": "certificates",
    "sales_tax_payable": "sales_tax",
    "machine": "machine_cost",
    "machine_loan": "loan",
}
_WORK = "work"
_PIECE = "Work handed over before the books"
_WHY = "told anew"


@dataclass(frozen=True)
class Planned:
    """An entry with what it tells of, None for an account that has nothing beside its entry."""

    draft: Draft
    of: DebtBefore | DepositBefore | CertificateBefore | str | None = None
    parts: DebtParts | None = None


@dataclass(frozen=True)
class Opening:
    """What telling it would do. undone: entries whose place is taken. loan: entered with its own act."""

    entries: tuple[Planned, ...]
    undone: tuple[int, ...]
    loan: set_loan.LoanRequest | None
    loan_draft: Draft | None
    figures: tuple[Figure, ...]

    @property
    def drafts(self) -> tuple[Draft, ...]:
        told = tuple(each.draft for each in self.entries)
        return told if self.loan_draft is None else (*told, self.loan_draft)


def preview(books: Books, request: OpeningRequest) -> Opening:
    """What would be booked and kept. Raises NotFound, NotPossible, NotUnderstood."""
    if request.is_empty:
        raise NotUnderstood("Nothing is told yet.", "Fill in what stood there; the rest can stay empty.")
    first, accounts = on_first_day(books), read_accounts(books)
    undone: list[int] = []
    entries = [
        *_balances(books, request, accounts, undone),
        *_tax(books, request, accounts, undone),
        *_machine(books, request, accounts, undone),
        *_certificates(books, request, accounts),
        *_debts(books, request, accounts),
        *_deposits(books, request, accounts),
    ]
    if entries or undone or request.loan is not None:
        opening_standing.check_day(books)  # figures alone are no entry, and are told at any time
    loan = _loan(books, request.loan) if request.loan is not None else None
    draft = set_loan.preview(first, loan).draft if loan is not None else None
    return Opening(tuple(entries), tuple(dict.fromkeys(undone)), loan, draft, told_figures(books, request, accounts))


def perform(books: Books, request: OpeningRequest) -> tuple[Opening, tuple[Sealed, ...]]:
    """What was done, and its entries, all of them or none. Raises as `preview` does."""
    with books.all_or_nothing() as together:
        opening = preview(together, request)
        first = on_first_day(together)
        for number in opening.undone:
            reverse.perform(first, reverse.ReverseRequest(number, _WHY))
        with first.writing() as write:
            sealed = [_keep(first, write, each) for each in opening.entries]
        if opening.loan is not None:
            entered = set_loan.perform(first, opening.loan)[1]
            sealed += [entered] if entered is not None else []
        with together.writing() as write:
            keep_figures(together, write, opening.figures)
            for name, value in _known_now(together, request):
                settle_unknown(together, write, name, value)
        return opening, tuple(sealed)


def _known_now(books: Books, request: OpeningRequest) -> Iterator[tuple[Unknown, str]]:
    """What she did not know when the books began, and has told now."""
    for role, cents in request.balances:
        if role == "checking":
            yield "opening", plain_amount(cents, books.currency)
    if request.machine.cost_cents is not None:
        yield "machine_price", plain_amount(request.machine.cost_cents, books.currency)


def told_cents(books: Books) -> dict[str, int]:
    """What stands told already, in cents, by the field of its form: amounts, and the sum of each list."""
    sums: dict[str, int] = {}
    for role, field in TOLD_IN.items():
        numbers = opening_standing.told_on(books, role)
        sums[field] = sum(abs(cents) for cents in numbers)
    for figure in read_figures(books):
        field = "estimated" if figure.what == "estimated tax" else figure.what.replace(" ", "_")
        sums[field] = sums.get(field, 0) + figure.cents
    return {field: cents for field, cents in sums.items() if cents}


def on_first_day(books: Books) -> Books:
    """The books with the day on which they began as today."""
    return replace(books, clock=Clock(books.settings.begun_on, books.clock.now))


def _balances(books: Books, request: OpeningRequest, accounts: Accounts, undone: list[int]) -> Iterator[Planned]:
    for role, cents in request.balances:
        assert role in BALANCES, "an account that can be opened"
        undone += opening_standing.standing_entries(books, role)
        if cents:
            of = role if role == "card_settlements" else None
            yield Planned(balance_entry(role, cents, accounts, books.settings.begun_on), of)


def _tax(books: Books, request: OpeningRequest, accounts: Accounts, undone: list[int]) -> Iterator[Planned]:
    if request.tax is None:
        return
    opening_standing.check_tax(books)
    undone += opening_standing.standing_entries(books, "sales_tax_payable")
    if request.tax.cents:
        begun = books.settings.begun_on
        yield Planned(tax_entry(request.tax, rates_on(books, begun), accounts, begun))


def _machine(books: Books, request: OpeningRequest, accounts: Accounts, undone: list[int]) -> Iterator[Planned]:
    cents = request.machine.cost_cents
    if cents is None:
        return
    standing = opening_standing.standing_entries(books, "machine")
    opening_standing.check_machine(books, standing)
    undone += standing
    if cents:
        begun = books.settings.begun_on
        came_on = min(begun, request.machine.came_on or begun)
        yield Planned(machine_entry(cents, came_on, accounts, begun), "machine")


def _certificates(books: Books, request: OpeningRequest, accounts: Accounts) -> Iterator[Planned]:
    seen: set[str] = set()
    for each in request.certificates:
        code = opening_standing.check_certificate(books, each)
        if code.casefold() in seen:
            raise NotUnderstood(f"Gift certificate {code} stands there twice.", "Tell it once.", "certificates")
        seen.add(code.casefold())
        kept = replace(each, code=code)
        yield Planned(certificate_entry(code, each.cents, accounts, books.settings.begun_on), kept)


def _debts(books: Books, request: OpeningRequest, accounts: Accounts) -> Iterator[Planned]:
    begun = books.settings.begun_on
    rates = rates_on(books, begun)
    is_taxed = answers_on(books, books.today).get(_WORK, False)
    is_reported = basis_on(books, [begun])[begun] == "sale"
    for each in request.debts:
        opening_standing.check_debt(books, each)
        kept = replace(each, customer=read_name(each.customer, "debts"))
        parts = debt_parts(kept, rates, is_taxed=is_taxed, is_reported=is_reported)
        yield Planned(debt_entry(kept, parts, rates, accounts, begun), kept, parts)


def _deposits(books: Books, request: OpeningRequest, accounts: Accounts) -> Iterator[Planned]:
    for each in request.deposits:
        job = opening_standing.check_deposit(books, each)
        piece = job.piece if job is not None else read_text(each.piece, "deposits", limit=300)
        who = job.customer.name if job is not None else read_name(each.customer, "deposits")
        kept = replace(each, customer=who, piece=piece)
        # No day before the job was taken in knows of it.
        day = job.taken_on if job is not None else books.settings.begun_on
        yield Planned(deposit_entry(piece, each.cents, accounts, day), kept)


def _loan(books: Books, loan: LoanBefore) -> set_loan.LoanRequest:
    opening_standing.check_loan(books)
    return set_loan.LoanRequest(
        cents=loan.cents,
        percent=loan.percent,
        months=months_left(loan.cents, loan.percent, loan.payment_cents),
        first_on=loan.next_on,
        taken_on=books.settings.begun_on,
        payment_cents=loan.payment_cents,
        lender=loan.lender,
        was_there=True,
    )


def _keep(books: Books, write: Writing, planned: Planned) -> Sealed:
    """Seal an entry, with what stands beside it."""
    of, draft = planned.of, planned.draft
    if isinstance(of, DebtBefore):
        return _keep_debt(books, write, planned, of)
    if isinstance(of, DepositBefore):
        return _keep_deposit(books, write, draft, of)
    sealed = seal(books, write, draft)
    cents = sum(each.cents for each in draft.postings if each.cents > 0)
    if isinstance(of, CertificateBefore):
        earlier_certificate(books, write, of.code, sealed.number, of.cents)
    elif of == "machine":
        add_cost(books, write, "Machine", cents, draft.belongs_on or draft.on, sealed.number)
    elif of == "card_settlements":
        # As one payment by card, so that the payouts that bring it cover it.
        values: dict[str, str | int | None] = {"job": None, "how": "card", "cents": cents, "fee": 0, "reference": None}
        write.add("payment", entry=sealed.number, **values)
    return sealed


def _keep_debt(books: Books, write: Writing, planned: Planned, debt: DebtBefore) -> Sealed:
    assert planned.parts is not None, "a debt was worked out"
    customer = ensure_customer(books, write, debt.customer)
    job = add_job(books, write, _new_job(books, customer, _PIECE, DepositBefore(0)))
    write.add("job_before_books", job=job)
    sealed = seal(books, write, replace(planned.draft, who=customer.party.id, job=job))
    write.add("owed_part", entry=sealed.number, job=job, charge=planned.parts.charge_cents, tax=planned.parts.tax_cents)
    return sealed


def _keep_deposit(books: Books, write: Writing, draft: Draft, deposit: DepositBefore) -> Sealed:
    customer = ensure_customer(books, write, deposit.customer)
    if deposit.job is not None:
        return seal(books, write, replace(draft, who=customer.party.id, job=deposit.job))
    number = add_job(books, write, _new_job(books, customer, deposit.piece, deposit))
    sealed = seal(books, write, replace(draft, who=customer.party.id, job=number))
    # The piece was brought before the books, so nobody came for it that day: the entry beside the event says so.
    add_event(books, write, number, "booked" if deposit.is_booked else "in", sealed.number)
    return sealed


def _new_job(books: Books, customer: Customer, piece: str, size: DepositBefore) -> NewJob:
    return NewJob(customer, piece, Size(size.width, size.length, books.settings.units), size.value_cents, ())
