"""The ways a job can end, as tests send them, and what must hold in the books after each of them.

Amounts are text, days come from the books that are handed in (`on_day`). Every act gives the number of its entry.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal
from typing import Any

from ledger.actions import (
    call_off,
    card_payout,
    gift,
    give_up,
    hand_back,
    pick_up,
    refund,
    retax,
    returned_payment,
    take_owed,
    void,
)
from ledger.actions.pick_up import PickedUp
from ledger.books.balances import read_accounts
from ledger.books.books import Books
from ledger.jobs.job import Job
from ledger.jobs.owed import Owed, read_asked, read_owed
from ledger.jobs.pickup import Barter, Sending
from ledger.jobs.records import read_job, read_jobs
from ledger.jobs.refund import RefundRequest
from ledger.jobs.retax import RetaxRequest
from ledger.jobs.returned import ReturnedRequest
from ledger.quarter.checks import run_checks
from ledger.results.period import read_statement
from tests.workshop import FIRST_DAY, balance_of, cents, job_for, number_of, picked_up, pickup_request

JANUARY = (date(2026, 1, 1), date(2026, 1, 31))


def sold(books: Books, price: str, *paid: str, customer: str = "Ada Holm", **more: str | None) -> int:
    """The number of a job that was taken in and picked up today."""
    job = job_for(books, price, customer=customer)
    picked_up(books, job, *paid, **more)
    return job.id


def sale_of(books: Books, job: Job | int) -> int:
    """The entry of its pickup."""
    sale = read_job(books, number_of(job)).sale
    assert sale is not None
    return sale


def refunded(
    books: Books, job: Job | int, amount: str | None = None, how: str = "check", tip: str = "0", why: str | None = None
) -> int:
    request = RefundRequest(number_of(job), cents(amount) if amount is not None else None, how, cents(tip), why)
    return refund.perform(books, request)[2].number


def came_back(
    books: Books, job: Job | int, how: str = "check", fee: str = "0", charge: str = "0", number: str | None = None
) -> int:
    request = ReturnedRequest(number_of(job), how, cents(fee), cents(charge), number)
    return returned_payment.perform(books, request)[1].number


def voided(books: Books, job: Job | int) -> int:
    return void.perform(books, void.VoidRequest(number_of(job), "the wrong piece"))[1].number


def called_off(books: Books, job: Job | int, deposit: Any = None, how: Any = "check") -> call_off.CalledOff:
    return call_off.perform(books, call_off.CallOffRequest(number_of(job), deposit, how))


def handed_back(books: Books, job: Job | int, amount: str | None = None, how: Any = "check") -> hand_back.HandedBack:
    request = hand_back.HandBackRequest(number_of(job), cents(amount) if amount is not None else None, how)
    return hand_back.perform(books, request)


def given_up(books: Books, job: Job | int) -> int:
    return give_up.perform(books, give_up.GiveUpRequest(number_of(job), "moved away"))[1].number


def tax_put_right(books: Books, job: Job | int, borne: Any = "owed") -> int:
    return retax.perform(books, RetaxRequest(number_of(job), "the office said otherwise", borne))[2].number


def gift_sold(books: Books, amount: str, how: Any = "cash", fee: str = "0") -> str:
    """The code of the certificate."""
    return gift.perform(books, gift.GiftRequest(cents(amount), how, fee_cents=cents(fee)))[1]


def paid_out(books: Books, amount: str, through: date | None = None, *, taken: bool = False) -> int:
    return card_payout.perform(books, card_payout.PayoutRequest(cents(amount), through, taken))[1].number


def paid_together(books: Books, customer: str, amount: str, how: Any = "check", number: str | None = None) -> list[int]:
    """The jobs that money of one customer went to, the first first."""
    request = take_owed.OwedMoneyRequest(customer, cents(amount), how, number=number)
    return [job for job, _ in take_owed.perform(books, request)]


def gone(
    books: Books,
    job: Job | int,
    *paid: str,
    gifts: tuple[str, ...] = (),
    barter: tuple[str, str] | None = None,
    back: Any = None,
    percent: str = "0",
    coupon: str | None = None,
    sending: Sending | None = None,
    **more: str | None,
) -> PickedUp:
    """A pickup with everything that can go with it. barter: category and value."""
    goods = Barter(read_accounts(books)[barter[0]], cents(barter[1]), "nine yards of backing") if barter else None
    request = replace(
        pickup_request(job, *paid, **more),
        gifts=gifts,
        barter=goods,
        deposit_back=back,
        discount_percent=Decimal(percent),
        coupon=coupon,
        sending=sending,
    )
    return pick_up.perform(books, request)


# What must hold


def owed_parts(books: Books, job: Job | int) -> tuple[int, int]:
    """What a job owes, as charge and tax."""
    owed = read_owed(books, number_of(job))
    return owed.charge_cents, owed.tax_cents


def check_books(books: Books) -> None:
    """Every figure of a job ties to its entries, and every check of the quarter so far passes."""
    for day in dict.fromkeys((FIRST_DAY, JANUARY[1], books.today)):
        if day <= books.today:
            failed = [(each.name, each.off_cents) for each in run_checks(books, FIRST_DAY, day) if not each.ok]
            assert failed == [], day
    for job in read_jobs(books):
        owed, asked = read_owed(books, job.id), read_asked(books, job.id)
        assert owed.cents == job.owed_cents >= 0
        assert job.deposit_cents >= 0
        assert 0 <= owed.charge_cents <= max(asked.charge_cents, 0), (job.id, owed, asked)
        assert owed.tax_cents >= 0
        # Of a balance given up, its tax may be more than a refund afterwards leaves of it.
        if owed.cents <= asked.cents:
            assert owed.tax_cents <= max(asked.tax_cents, 0), (job.id, owed, asked)
        assert (owed == Owed(0, 0)) == (job.owed_cents == 0)


def cash_income(books: Books, start: date = FIRST_DAY, end: date | None = None) -> int:
    """Income on the cash method, in cents."""
    return read_statement(books, start, end or books.today).income_cents()


def book_income(books: Books, start: date = FIRST_DAY, end: date | None = None) -> int:
    """Income as the books have it, in cents."""
    return read_statement(books, start, end or books.today).income_cents(accrual=True)


def money(books: Books) -> int:
    """What the workshop holds and has on its way, in cents."""
    return sum(balance_of(books, name) for name in ("checking", "cash box", "card settlements"))


def tax_held(books: Books) -> int:
    """Sales tax taken and not paid over, in cents."""
    return -balance_of(books, "sales tax payable")


def slip_of(books: Books, job: Job | int) -> dict[tuple[str, str], int]:
    """What is left of a job's slip lines, by class and treatment, in cents; what adds to nothing is left out."""
    rows = books.rows(
        "select class, treatment, sum(cents) from slip_line join entry on number = entry where job = ? group by 1, 2",
        (number_of(job),),
    )
    return {(row[0], row[1]): row[2] for row in rows if row[2]}


def tax_of(books: Books, job: Job | int) -> list[tuple[str, int, int]]:
    """What is left of a job's tax lines: percent, base and tax in cents; what adds to nothing is left out."""
    rows = books.rows(
        "select percent, sum(base), sum(cents) from tax_line join entry on number = entry where job = ? "
        "group by rate, percent order by rate",
        (number_of(job),),
    )
    return [(row[0], row[1], row[2]) for row in rows if row[1] or row[2]]
