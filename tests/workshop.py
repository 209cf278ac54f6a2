"""A small workshop for tests to stand on: books in a folder, tax rules, prices, jobs, and entries read back plainly.

Plain functions, no fixtures. Amounts are whole cents, days are dates; every act goes through `ledger.actions`, as a
room or a command would send it. `on_day` gives the same open books on another day.
"""

from __future__ import annotations

import atexit
import shutil
import sqlite3
import tempfile
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import replace
from datetime import date, datetime, time
from decimal import Decimal
from functools import cache
from pathlib import Path
from typing import Any

from ledger.actions import begin as begin_act
from ledger.actions import move_job, pick_up, reverse, spend, take_in, take_money, transfer
from ledger.actions.begin import BeginRequest
from ledger.actions.take_in import TakeInRequest, WantedLine
from ledger.books.balances import balances
from ledger.books.books import Books
from ledger.books.clock import Clock
from ledger.books.entries import Wanted, read_entries, read_entry
from ledger.books.opening import open_books
from ledger.books.places import BOOKS_FILE
from ledger.jobs.customers import ensure_customer
from ledger.jobs.job import Job
from ledger.jobs.payments import PaidPart
from ledger.jobs.pickup import PickupRequest
from ledger.jobs.prices import add_price
from ledger.money import Currency, read_amount
from ledger.taxes import filing_rules, rules
from ledger.taxes.certificates import keep_certificate

USD = Currency("USD", 2)
FIRST_DAY = date(2026, 1, 5)
LAST_DAY = date(2199, 12, 31)

Line = tuple[str, int]


def clock_of(day: date) -> Clock:
    return Clock(day, datetime.combine(day, time(9, 30)))


def begin(folder: Path, day: date = FIRST_DAY, **request: Any) -> Books:
    """New books that begin on a day; further values go to BeginRequest."""
    shutil.copytree(_begun(day, tuple(sorted(request.items()))), folder, dirs_exist_ok=True)
    return reopened(folder, day)


def begin_taxed(folder: Path, day: date = FIRST_DAY, **request: Any) -> Books:
    """New books with a state rate of 4.3 %, a county rate of 1.0 %, and every shipped class taxed."""
    shutil.copytree(_begun_taxed(day, tuple(sorted(request.items()))), folder, dirs_exist_ok=True)
    return reopened(folder, day)


@cache
def _begun(day: date, request: tuple[tuple[str, Any], ...]) -> Path:
    """Begun once in a run of the tests and copied from then on, since beginning takes longer than most tests."""
    place = Path(tempfile.mkdtemp(prefix="twopurse-"))
    atexit.register(shutil.rmtree, place, ignore_errors=True)
    wanted = BeginRequest(**{"name": "Lantern Quilting", "currency": USD, **dict(request)})
    begin_act.perform(place / "books", clock_of(day), wanted).close()
    return place / "books"


@cache
def _begun_taxed(day: date, request: tuple[tuple[str, Any], ...]) -> Path:
    place = Path(tempfile.mkdtemp(prefix="twopurse-"))
    atexit.register(shutil.rmtree, place, ignore_errors=True)
    books = begin(place / "books", day, **dict(request))
    add_rate(books, "Kansas state", "4.3", day)
    add_rate(books, "Riley county", "1.0", day)
    for name in ("goods", "work", "delivery", "other"):
        answer(books, name, True, day)
    books.close()
    return books.folder


def reopened(folder: Path, day: date) -> Books:
    return without_waiting(open_books(folder, clock_of(day)))


def without_waiting(books: Books) -> Books:
    """The same books, whose commits do not wait for the disk: what a power cut leaves is not what these tests ask."""
    books.connection.execute("pragma synchronous = off")
    return books


@contextmanager
def copied(folder: Path, day: date = FIRST_DAY) -> Iterator[Books]:
    """The books of a folder in a new folder of their own, opened on a day; closed and removed in the end."""
    with tempfile.TemporaryDirectory(prefix="twopurse-", ignore_cleanup_errors=True) as place:
        shutil.copytree(folder, Path(place) / "books")
        books = reopened(Path(place) / "books", day)
        try:
            yield books
        finally:
            books.close()


def on_day(books: Books, day: date) -> Books:
    """The same open books on another day."""
    return replace(books, clock=clock_of(day))


def cents(text: str) -> int:
    """`185.44` as cents; a leading minus sign turns it."""
    bare = text.removeprefix("-").replace(",", "")
    value = read_amount(bare, USD, zero=True)
    return -value if text.startswith("-") else value


# Rules, prices, customers


def add_rate(
    books: Books, name: str, percent: str, from_day: date = FIRST_DAY, until: date | None = None, level: Any = None
) -> None:
    with books.writing() as write:
        rules.add_rate(books, write, name, Decimal(percent), from_day, until, level)


def answer(books: Books, class_name: str, taxed: bool, from_day: date = FIRST_DAY, until: date | None = None) -> None:
    with books.writing() as write:
        rules.answer_class(books, write, class_name, taxed, "the revenue office", from_day, until)


def choose_method(books: Books, method: Any) -> date:
    with books.writing() as write:
        return rules.choose_method(books, write, method)


def choose_filing(books: Books, frequency: str, due_day: int = 25) -> None:
    with books.writing() as write:
        filing_rules.choose_filing(books, write, frequency, due_day)


def add_to_price_list(books: Books, name: str, by: Any, rate: str, class_name: str = "work", **more: Any) -> Any:
    with books.writing() as write:
        return add_price(books, write, name, by, Decimal(rate), class_name, **more)


def add_customer(
    books: Books, name: str, exempt: str | None = None, number: str | None = None, expires: date | None = None
) -> None:
    with books.writing() as write:
        kept = ensure_customer(books, write, name)
        if exempt is not None:
            keep_certificate(books, write, kept.party.id, exempt, number, expires)


# Jobs


def job_for(
    books: Books,
    amount: str | None = None,
    *,
    lines: Sequence[str | tuple[str, str]] = (),
    customer: str = "Ada Holm",
    width: str = "60",
    length: str = "72",
    value: int = 400_00,
    **more: Any,
) -> Job:
    """A job taken in: one flat line of an amount, or lines from the price list, each alone or with its quantity."""
    if amount is not None:
        name = f"Quilting for {amount}"
        add_to_price_list(books, name, "flat", amount)
        lines = [name]
    wanted = tuple(
        WantedLine(each) if isinstance(each, str) else WantedLine(each[0], Decimal(each[1])) for each in lines
    )
    request = TakeInRequest(
        customer=customer,
        piece="Log cabin top",
        width=Decimal(width),
        length=Decimal(length),
        value_cents=value,
        lines=wanted,
        **more,
    )
    return take_in.perform(books, request)


def move(books: Books, job: Job | int, event: str) -> Job:
    """The job after the piece came `in`, is `ready` or went `back`."""
    return move_job.perform(books, move_job.MoveRequest(number_of(job), event))


def deposit(books: Books, job: Job | int, amount: str, how: Any = "check", fee: str = "0") -> int:
    """The number of the entry."""
    request = take_money.MoneyRequest(number_of(job), cents(amount), how, cents(fee))
    return take_money.take_deposit(books, request)[1].number


def pay(books: Books, job: Job | int, amount: str, how: Any = "check", fee: str = "0") -> int:
    """The number of the entry that takes money towards what a job owes."""
    request = take_money.MoneyRequest(number_of(job), cents(amount), how, cents(fee))
    return take_money.take_balance(books, request)[1].number


def pickup_request(job: Job | int, *paid: str, **more: str | None) -> PickupRequest:
    """paid: `cash`, or `card=40.00`. more: tip, fee, discount, tendered, amount as text."""
    parts = tuple(_part(each) for each in paid)
    amounts = {f"{name}_cents": cents(text) for name, text in more.items() if text is not None and name != "number"}
    return PickupRequest(number_of(job), parts, number=more.get("number"), **amounts)


def picked_up(books: Books, job: Job | int, *paid: str, **more: str | None) -> pick_up.PickedUp:
    return pick_up.perform(books, pickup_request(job, *paid, **more))


def previewed(books: Books, job: Job | int, *paid: str, **more: str | None) -> Any:
    return pick_up.preview(books, pickup_request(job, *paid, **more))


def number_of(job: Job | int) -> int:
    return job if isinstance(job, int) else job.id


def _part(text: str) -> PaidPart:
    how, _, amount = text.partition("=")
    return PaidPart(how, cents(amount) if amount else None)


# Spending and what passes between accounts


def spent(books: Books, amount: str, category: str, paid_from: str, home: str = "0", **more: Any) -> int:
    """The number of the entry that a receipt was booked as."""
    request = spend.SpendRequest(cents(amount), category, paid_from, "Corner shop", cents(home), **more)
    return spend.perform(books, request)[1].number


def transferred(
    books: Books, act: Any, amount: str | None, from_name: str = "checking", to_name: str = "household checking"
) -> int:
    """The number of the entry of a move, draw, put-in or pay-back."""
    request = transfer.TransferRequest(act, cents(amount) if amount is not None else None, from_name, to_name)
    return transfer.perform(books, request).number


def reversed_entry(books: Books, number: int) -> int:
    """The number of the entry that mirrors this one."""
    return reverse.perform(books, reverse.ReverseRequest(number, "entered in error")).number


# Entries read back


def lines_of(books: Books, number: int, purse: str = "business") -> list[Line]:
    """Account and cents of every posting of an entry in one purse, in alphabetical order."""
    entry = read_entry(books, number)
    return sorted((each.account.name, each.cents) for each in entry.postings if each.account.purse == purse)


def written(*lines: str) -> list[Line]:
    """Postings as postings.md writes them, such as `cash box +145.27`, in the order of `lines_of`."""
    parted = (line.rsplit(" ", 1) for line in lines)
    return sorted((name, cents(amount.removeprefix("+"))) for name, amount in parted)


def balance_of(books: Books, name: str, day: date | None = None) -> int:
    """The balance of an account by name at the end of a day, debit positive."""
    return next(each.cents for each in balances(books, day or books.today) if each.account.name == name)


def purse_sums(books: Books, day: date = LAST_DAY) -> dict[str, int]:
    standing = balances(books, day)
    return {
        purse: sum(each.cents for each in standing if each.account.purse == purse) for purse in ("business", "personal")
    }


def crossing_sum(books: Books, day: date = LAST_DAY) -> int:
    """The four accounts that cross between the purses, added up."""
    return sum(each.cents for each in balances(books, day) if each.account.crosses)


def entries_of(books: Books) -> Iterable[Any]:
    return read_entries(books, Wanted())


@contextmanager
def tampered(books: Books, *statements: str) -> Iterator[Books]:
    """A copy of the books in which somebody dropped the guards and changed rows behind the program's back."""
    with copied(books.folder, books.today) as copy:
        connection = sqlite3.connect(copy.folder / BOOKS_FILE)
        connection.execute("pragma synchronous = off")
        for (trigger,) in connection.execute("select name from sqlite_schema where type = 'trigger'").fetchall():
            connection.execute(f"drop trigger {trigger}")
        for statement in statements:
            assert connection.execute(statement).rowcount > 0, f"nothing was changed by: {statement}"
        connection.commit()
        connection.close()
        yield copy
