"""Loans in the books: their terms, what happened on them, what is due soon, and whether their account agrees."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from functools import cached_property

from ledger.books.balances import balance
from ledger.books.books import Books, Row
from ledger.books.transaction import Writing
from ledger.errors import NotFound, NotPossible
from ledger.machine.loan import Offer, Terms
from ledger.machine.schedule import Happened, Schedule, What, schedule
from ledger.money import plain_decimal
from ledger.periods import LAST_YEAR

_END_OF_TIME = date(LAST_YEAR, 12, 31)
# An entry that stands at the end of a day, for the column that refers to it.
_STANDS = "not exists (select 1 from entry as mirror where mirror.reverses = {entry} and mirror.date <= ?)"


@dataclass(frozen=True)
class Loan:
    """A loan as it stood at the end of `on`. machine: None for the first. entry: what put it on its account."""

    id: int
    machine: int | None
    lender: str | None
    terms: Terms
    entry: int | None
    happened: tuple[Happened, ...]
    on: date

    @cached_property
    def schedule(self) -> Schedule:
        return schedule(self.terms, self.happened, self.on)

    @property
    def balance_cents(self) -> int:
        """What is left of it, without interest."""
        return self.schedule.balance_cents

    @property
    def is_paid_off(self) -> bool:
        return self.balance_cents == 0

    @property
    def words(self) -> str:
        return f"loan {self.id}" + (f", {self.lender}" if self.lender else "")


@dataclass(frozen=True)
class LoanDue:
    """A payment that is due and not made. words: which loan's."""

    loan: int
    words: str
    day: date
    cents: int


def read_loans(books: Books, on: date | None = None) -> tuple[Loan, ...]:
    """Every loan that stood at the end of a day, today unless given, in the order in which they were entered."""
    day = on or books.today
    rows = books.rows(
        f"select * from loan where on_date <= ? and {_STANDS.format(entry='loan.entry')} "
        "and not exists (select 1 from loan as later where later.replaces = loan.id and later.on_date <= ?) "
        "order by id",
        (day.isoformat(),) * 3,
    )
    return tuple(_loan(books, row, day) for row in rows)


def loan_numbered(books: Books, number: int | None, on: date | None = None) -> Loan:
    """The loan of that number; without one the only loan that is not paid off. Raises NotFound, NotPossible."""
    loans = read_loans(books, on)
    if number is not None:
        found = next((each for each in loans if each.id == number), None)
        if found is None:
            raise NotFound(f"There is no loan {number}.", "See them with «twopurse machine list».", "loan")
        return found
    running = [each for each in loans if not each.is_paid_off] or list(loans[-1:])
    if not running:
        raise NotFound("There is no loan in the books.", "Enter it with «twopurse machine loan».", "loan")
    if len(running) > 1:
        words = ", ".join(each.words for each in running)
        raise NotPossible(f"There are several loans: {words}.", "Say which with --loan.", "loan")
    return running[0]


def loan_due(books: Books, on: date, days: int) -> tuple[LoanDue, ...]:
    """The payments due within so many days after `on`, and those before it that were not made, the earliest first."""
    last = on + timedelta(days=days)
    due = [
        LoanDue(each.id, each.words, row.day, row.payment_cents)
        for each in read_loans(books, on)
        for row in each.schedule.to_come
        if row.day <= last
    ]
    return tuple(sorted(due, key=lambda each: (each.day, each.loan)))


def loan_difference_cents(books: Books, on: date) -> int:
    """By how much the account of the loans is above what their schedules say is left at the end of a day."""
    return owed_on_account(books, on) - sum(each.balance_cents for each in read_loans(books, on))


def owed_on_account(books: Books, on: date) -> int:
    """What the account of the loans says is owed, in cents."""
    return -balance(books, "machine_loan", on)


def most_that_can_be_paid(books: Books, loan: Loan) -> int:
    """What is left of a loan when everything is counted that was entered, on later days too."""
    later = next((each for each in read_loans(books, _END_OF_TIME) if each.id == loan.id), None)
    return min(loan.balance_cents, later.balance_cents if later is not None else 0)


def keep_loan(
    books: Books,
    write: Writing,
    terms: Terms,
    *,
    machine: int | None,
    lender: str | None,
    entry: int | None,
    replaces: int | None,
) -> int:
    offer = terms.offer
    return write.add(
        "loan",
        machine=machine,
        lender=lender,
        cents=terms.cents,
        percent=plain_decimal(terms.percent),
        months=terms.months,
        taken_on=terms.taken_on.isoformat(),
        first_on=terms.first_on.isoformat(),
        payment_cents=terms.payment_cents,
        offer_percent=plain_decimal(offer.percent) if offer else None,
        offer_ends_on=offer.ends_on.isoformat() if offer else None,
        entry=entry,
        replaces=replaces,
        on_date=books.today.isoformat(),
    )


def keep_event(
    write: Writing, loan: int, what: What, day: date, *, percent: Decimal | None = None, takes_back: int | None = None
) -> int:
    """Keep that a month was skipped, or that the rate is another from a day on."""
    return write.add(
        "loan_event",
        loan=loan,
        what=what,
        percent=plain_decimal(percent) if percent is not None else None,
        on_date=day.isoformat(),
        takes_back=takes_back,
    )


def keep_payment(write: Writing, loan: int, paid: Happened, entry: int) -> int:
    return write.add(
        "loan_event",
        loan=loan,
        what=paid.what,
        cents=paid.cents,
        interest_cents=paid.interest_cents,
        entry=entry,
        on_date=paid.day.isoformat(),
    )


def last_event(books: Books, loan: Loan, what: What) -> Row | None:
    """The last row of a month skipped or a new rate on a loan that was not taken back."""
    ids = _ids(books, loan.id)
    return books.row(
        f"select * from loan_event where loan in ({_places(ids)}) and what = ? and takes_back is null "
        "and id not in (select takes_back from loan_event where takes_back is not null) order by id desc limit 1",
        (*ids, what),
    )


def _loan(books: Books, row: Row, on: date) -> Loan:
    offer = (
        Offer(Decimal(row["offer_percent"]), date.fromisoformat(row["offer_ends_on"])) if row["offer_percent"] else None
    )
    terms = Terms(
        cents=row["cents"],
        percent=Decimal(row["percent"]),
        months=row["months"],
        taken_on=date.fromisoformat(row["taken_on"]),
        first_on=date.fromisoformat(row["first_on"]),
        payment_cents=row["payment_cents"],
        offer=offer,
    )
    return Loan(row["id"], row["machine"], row["lender"], terms, row["entry"], _happened(books, row["id"], on), on)


def _happened(books: Books, loan: int, on: date) -> tuple[Happened, ...]:
    """A new rate may lie ahead; what was paid counts from its day on, as long as its entry stands."""
    ids = _ids(books, loan)
    rows = books.rows(
        f"select * from loan_event where loan in ({_places(ids)}) and (on_date <= ? or what = 'rate') "
        f"and takes_back is null and id not in (select takes_back from loan_event where takes_back is not null) "
        f"and {_STANDS.format(entry='loan_event.entry')} order by on_date, id",
        (*ids, on.isoformat(), on.isoformat()),
    )
    return tuple(
        Happened(
            date.fromisoformat(row["on_date"]),
            row["what"],
            row["cents"] or 0,
            row["interest_cents"] or 0,
            Decimal(row["percent"]) if row["percent"] is not None else None,
        )
        for row in rows
    )


def _ids(books: Books, loan: int) -> list[int]:
    """The loan and those whose terms it corrected."""
    ids = [loan]
    while (before := books.value("select replaces from loan where id = ?", (ids[-1],))) is not None:
        ids.append(int(before))
    return ids


def _places(ids: Sequence[int]) -> str:
    return ", ".join("?" for _ in ids)
