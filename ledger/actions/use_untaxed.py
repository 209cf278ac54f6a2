"""Stock bought untaxed that did not go to a customer, and what was bought without tax: use tax, and where it goes.

Stock used up in the work goes by her state's answer. Until she has one nothing is booked for it; once she has, what
waited is booked at the rate of the day on which it was used.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from ledger.books.accounts import Account, Accounts
from ledger.books.balances import read_accounts
from ledger.books.books import Books
from ledger.books.entries import Entry, Sealed, check_date, read_entry, seal
from ledger.books.transaction import Writing
from ledger.errors import NotPossible, NotUnderstood
from ledger.machine.record import add_cost
from ledger.money import plain_amount
from ledger.taxes.rules import answers_on, rates_on
from ledger.taxes.untaxed_stock import How, Picked, Wanted, pick
from ledger.taxes.untaxed_stock_records import (
    WorkAnswer,
    answer_work,
    keep_use,
    lots_to_use,
    open_work_uses,
    strike_use,
    work_answer,
)
from ledger.taxes.use_tax import keep_use_tax
from ledger.taxes.use_tax_entry import PURPOSES, Cost, Purpose, UseTaxEntry, owes_tax, settle
from ledger.text import name_key, read_text

_WORK_HOW: dict[WorkAnswer | None, How] = {
    "resale": "work as resale",
    "use": "work as use",
    None: "work unanswered",
}


@dataclass(frozen=True)
class UseRequest:
    """cents: at cost. category: by name; the machine where that was bought. purchase: the entry that bought it."""

    cents: int
    what: str
    purpose: Purpose = "own"
    category: str | None = None
    purchase: int | None = None


@dataclass(frozen=True)
class Used:
    """What a use comes to. booked: None where nothing is owed, or nobody was asked. parts: by what they count as.

    bought: the account of what was bought without tax, where it is no stock.
    """

    request: UseRequest
    booked: UseTaxEntry | None
    parts: tuple[tuple[How, tuple[Picked, ...]], ...] = ()
    bought: Account | None = None

    @property
    def tax_cents(self) -> int:
        return self.booked.tax_cents if self.booked is not None else 0

    @property
    def unanswered_cents(self) -> int:
        """The cost of what nobody was asked about."""
        return sum(each.cents for how, parts in self.parts if how == "work unanswered" for each in parts)


@dataclass(frozen=True)
class SoldRequest:
    """Stock that passed to customers in a taxed charge. left: what lies there still, instead of what was sold."""

    cents: int
    what: str
    category: str | None = None
    purchase: int | None = None
    is_left: bool = False


@dataclass(frozen=True)
class WorkAnswerRequest:
    """Her state's answer on stock used up in the work, from a day on. category: by name, None for every other one."""

    answer: WorkAnswer
    asked: str
    category: str | None = None
    from_date: date | None = None


def preview(books: Books, request: UseRequest) -> Used:
    """What a use would book. Raises NotFound, NotPossible, NotUnderstood."""
    if request.purpose not in PURPOSES:
        raise NotUnderstood("That is no use.", f"Say one of {', '.join(PURPOSES)}.", "for")
    accounts = read_accounts(books)
    what = read_text(request.what, "what", limit=300)
    if request.purpose == "bought":
        return _bought(books, accounts, request, what)
    picked = _pick(books, accounts, request.cents, what, request.category, request.purchase)
    if request.purpose != "work":
        booked = settle(request.purpose, _costs(picked), rates_on(books, books.today), accounts, what, books.today)
        return Used(request, booked, ((request.purpose, picked),))
    parts = _by_answer(books, picked)
    used = _costs(dict(parts).get("work as use", ()))
    rates = rates_on(books, books.today)
    if not used or not owes_tax(used, rates):
        return Used(request, None, parts)
    return Used(request, settle("work", used, rates, accounts, what, books.today), parts)


def perform(books: Books, request: UseRequest) -> tuple[Used, Sealed | None]:
    """Book a use, and keep what it came off. Raises as `preview` does."""
    with books.writing() as write:
        check_date(books, books.today)
        used = preview(books, request)
        sealed = _seal(books, write, used.booked) if used.booked is not None else None
        for how, parts in used.parts:
            entry = sealed.number if sealed is not None and how in (*PURPOSES, "work as use") else None
            keep_use(write, parts, how, request.what, entry=entry, on=books.today)
        if used.bought is not None and sealed is not None:
            _keep_bought(books, write, used, used.bought, sealed.number)
        return used, sealed


def preview_sold(books: Books, request: SoldRequest) -> tuple[Picked, ...]:
    """The purchases that it comes off. Raises NotFound, NotPossible, NotUnderstood."""
    accounts, what = read_accounts(books), read_text(request.what, "what", limit=300)
    cents = request.cents
    if request.is_left:
        cents = _left(books, accounts, request) - request.cents
        if cents <= 0:
            raise NotPossible(
                f"By the books {plain_amount(cents + request.cents, books.currency)} is left, so nothing was sold.",
                "Give what lies there still, at cost.",
                "left",
            )
    return _pick(books, accounts, cents, what, request.category, request.purchase)


def is_anything_taxed(books: Books) -> bool:
    """Whether by her answers some class is taxed today: else nothing passes to a customer in a taxed charge."""
    return any(answers_on(books, books.today).values())


def perform_sold(books: Books, request: SoldRequest) -> tuple[Picked, ...]:
    """Keep what was sold; nothing is booked, since its cost stands as an expense. Raises as `preview_sold` does."""
    with books.writing() as write:
        check_date(books, books.today)
        picked = preview_sold(books, request)
        keep_use(write, picked, "sold", request.what, on=books.today)
        return picked


def strike(books: Books, number: int) -> None:
    """Take back what was told of stock without an entry. Raises NotFound, NotPossible."""
    with books.writing() as write:
        check_date(books, books.today)
        strike_use(books, write, number)


def answer(books: Books, request: WorkAnswerRequest) -> tuple[Sealed, ...]:
    """Keep her state's answer, and book what waited for it: the entries, one for each use on which tax is owed."""
    with books.writing() as write:
        check_date(books, books.today)
        accounts = read_accounts(books)
        category = accounts.category(request.category) if request.category is not None else None
        start = request.from_date or books.settings.begun_on
        answer_work(write, request.answer, category, request.asked, start, books.today)
        return tuple(_settle_waiting(books, write, accounts))


def _settle_waiting(books: Books, write: Writing, accounts: Accounts) -> Iterable[Sealed]:
    waiting = [(each, work_answer(books, each.category, each.on)) for each in open_work_uses(books, books.today)]
    for use, said in waiting:
        if said is None:
            continue
        strike_use(books, write, use.number)
        lot = next(each for each in lots_to_use(books) if each.bought.id == use.stock)
        parts = (Picked(lot, use.cents),)
        rates = rates_on(books, use.on)
        if said == "resale" or not owes_tax(_costs(parts), rates):
            keep_use(write, parts, _WORK_HOW[said], use.what, on=books.today)
            continue
        booked = settle("work", _costs(parts), rates, accounts, use.what, books.today, _if_before(books, use.on))
        sealed = _seal(books, write, booked)
        keep_use(write, parts, "work as use", use.what, entry=sealed.number)
        yield sealed


def _seal(books: Books, write: Writing, booked: UseTaxEntry) -> Sealed:
    sealed = seal(books, write, booked.draft)
    keep_use_tax(write, sealed.number, booked.taxes)
    return sealed


def _pick(
    books: Books, accounts: Accounts, cents: int, what: str, category: str | None, purchase: int | None
) -> tuple[Picked, ...]:
    account = accounts.category(category) if category is not None else None
    return pick(lots_to_use(books), Wanted(cents, what, account, purchase), books.currency)


def _left(books: Books, accounts: Accounts, request: SoldRequest) -> int:
    category = accounts.category(request.category) if request.category is not None else None
    return sum(
        each.left_cents
        for each in lots_to_use(books)
        if category in (None, each.bought.category) and request.purchase in (None, each.bought.entry)
    )


def _by_answer(books: Books, picked: tuple[Picked, ...]) -> tuple[tuple[How, tuple[Picked, ...]], ...]:
    """Stock used up in the work, by what her state said of its category."""
    parts: dict[How, list[Picked]] = {}
    for each in picked:
        said = work_answer(books, each.lot.bought.category, books.today)
        parts.setdefault(_WORK_HOW[said], []).append(each)
    return tuple((how, tuple(of_how)) for how, of_how in parts.items())


def _costs(picked: Iterable[Picked]) -> tuple[Cost, ...]:
    """What was picked, by category."""
    sums: dict[Account, int] = {}
    for each in picked:
        sums[each.lot.bought.category] = sums.get(each.lot.bought.category, 0) + each.cents
    return tuple(Cost(category, cents) for category, cents in sums.items())


def _bought(books: Books, accounts: Accounts, request: UseRequest, what: str) -> Used:
    """Something bought without tax that is no stock: use tax at the rate of the day on which it was bought."""
    entry = read_entry(books, request.purchase) if request.purchase is not None else None
    account = _account_of(accounts, request, entry)
    day = books.today
    if entry is not None:
        _check_bought(books, accounts, entry, account, request.cents)
        day = entry.on
    cost = (Cost(account, request.cents),)
    belongs = _if_before(books, day)
    booked = settle("bought", cost, rates_on(books, day), accounts, what, books.today, belongs)
    return Used(request, booked, bought=account)


def _account_of(accounts: Accounts, request: UseRequest, entry: Entry | None) -> Account:
    if request.category is not None:
        machine = accounts["machine"]
        is_machine = name_key(request.category) == name_key(machine.name)
        return machine if is_machine else accounts.category(request.category)
    found = _bought_lines(accounts, entry) if entry is not None else {}
    if len(found) != 1:
        raise NotPossible(
            "It is not said what the tax belongs to.",
            "Name the category with --category, or the machine, or the one entry that bought it with --bought-in.",
            "category",
        )
    return next(iter(found))


def _bought_lines(accounts: Accounts, entry: Entry) -> dict[Account, int]:
    """What an entry put on categories and on the machine, in cents."""
    found: dict[Account, int] = {}
    for each in entry.postings:
        account = accounts.counted_under(each.account)
        is_cost = account.kind == "expense" or account.role == "machine"
        if is_cost and account.purse == "business" and each.cents > 0:
            found[account] = found.get(account, 0) + each.cents
    return found


def _check_bought(books: Books, accounts: Accounts, entry: Entry, account: Account, cents: int) -> None:
    """Raises NotPossible where the entry does not stand, bought stock, or bought less than that."""
    if entry.reversed_by is not None or entry.reverses is not None:
        raise NotPossible(f"Entry {entry.number} was undone.", "Name the entry that stands.", "bought_in")
    if books.value("select 1 from untaxed_stock where entry = ?", (entry.number,)) is not None:
        raise NotPossible(
            f"Entry {entry.number} bought stock.", "Say what became of it: --for work, own, sample.", "bought_in"
        )
    taxed = books.value(
        "select coalesce(sum(cents), 0) from untaxed_purchase where purchase = ? and account = ?",
        (entry.number, account.id),
    )
    left = _bought_lines(accounts, entry).get(account, 0) - int(taxed)
    if cents > left:
        untaxed = plain_amount(max(0, left), books.currency)
        raise NotPossible(
            f"Only {untaxed} of entry {entry.number} in «{account.name}» is without tax yet.",
            "Give at most that.",
            "amount",
        )


def _keep_bought(books: Books, write: Writing, used: Used, account: Account, entry: int) -> None:
    purchase = used.request.purchase
    write.add("untaxed_purchase", entry=entry, purchase=purchase, account=account.id, cents=used.request.cents)
    if account.role == "machine":
        add_cost(
            books, write, f"Use tax: {used.request.what}"[:500], used.tax_cents, books.today, entry, kind="use tax"
        )


def _if_before(books: Books, day: date) -> date | None:
    return day if day < books.today else None
