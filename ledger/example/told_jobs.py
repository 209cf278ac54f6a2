"""The jobs that are told one by one: the special cases, and what is on the bench on the last day."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date, timedelta
from decimal import Decimal
from typing import Any

from dateutil.relativedelta import relativedelta

from ledger.actions import take_owed
from ledger.actions.take_in import TakeInRequest
from ledger.books.books import Books
from ledger.example.courses import Coming, Goods, Mistake, Paying, PlannedJob
from ledger.example.data_files import cents, day_of, read
from ledger.example.diary import Act, Diary
from ledger.example.job_steps import steps_of, wanted_line
from ledger.example.people import telephone_of
from ledger.example.working_days import WorkingDays
from ledger.jobs.customers import ensure_customer
from ledger.jobs.payments import PaidPart
from ledger.jobs.pickup import Sending
from ledger.taxes.certificates import keep_certificate


def special_cases(diary: Diary, days: WorkingDays) -> Iterator[PlannedJob]:
    """Write certificates, and money paid on several jobs at once, into the diary; the jobs that show something."""
    for told in read("special_cases")["certificate"]:
        diary.write(day_of(told["when"], days), _certificate(told))
    for told in read("endings")["paid_together"]:
        diary.write(day_of(told["when"], days), _paid_together(told))
    for subject in ("special_cases", "endings"):
        yield from (_job(told, days) for told in read(subject)["job"])


def bench_of_the_last_day(days: WorkingDays) -> Iterator[PlannedJob]:
    """What is ready, in hand, booked and asked about when the example ends."""
    yield from (_job(told, days) for told in read("bench")["job"])


def _certificate(told: Mapping[str, Any]) -> Act:
    def act(books: Books) -> None:
        name = told["customer"]
        expires = books.today + relativedelta(months=told["months"]) if "months" in told else None
        with books.writing() as write:
            kept = ensure_customer(books, write, name, telephone_of(name))
            keep_certificate(books, write, kept.party.id, told["reason"], told["number"], expires)

    return act


def _paid_together(told: Mapping[str, Any]) -> Act:
    request = take_owed.OwedMoneyRequest(
        told["customer"], cents(told["amount"]), told["how"], number=told.get("number")
    )
    return lambda books: take_owed.perform(books, request)


def _job(told: Mapping[str, Any], days: WorkingDays) -> PlannedJob:
    taken_on = day_of(told["taken"], days)

    def day_after(count: int) -> date:
        return days.on_or_after(taken_on + timedelta(days=count))

    def after(key: str) -> date | None:
        return day_after(told[key]) if key in told else None

    return PlannedJob(
        request=_request(told, taken_on),
        taken_on=taken_on,
        in_on=after("in_after"),
        back_on=after("back_after"),
        again_on=after("again_after"),
        ready_on=after("ready_after"),
        gone_on=after("gone_after"),
        paying=_paying(told),
        deposit=_coming(told["deposit"], taken_on) if "deposit" in told else None,
        mistake=Mistake(_paying(told["undone"]), told["undone"]["why"]) if "undone" in told else None,
        sending=_sending(told["sent"]) if "sent" in told else None,
        later=tuple(_coming(each, day_after(each["after"])) for each in told.get("later", ())),
        steps=tuple(steps_of(told, day_after)),
    )


def _request(told: Mapping[str, Any], taken_on: date) -> TakeInRequest:
    width, length = told["size"]
    promised = taken_on + timedelta(days=told["promised_after"]) if "promised_after" in told else None
    return TakeInRequest(
        customer=told["customer"],
        piece=told["piece"],
        width=Decimal(width),
        length=Decimal(length),
        value_cents=cents(told["value"]),
        lines=tuple(wanted_line(text) for text in told["lines"]),
        promised=promised,
        status=told.get("status", "in-hand"),
        rush_percent=Decimal(told.get("rush_percent", 0)),
        minimum_cents=cents(read("prices")["job_minimum"]),
    )


def _paying(told: Mapping[str, Any]) -> Paying:
    parts = (text.partition("=") for text in told.get("paid", ()))
    return Paying(
        parts=tuple(PaidPart(how, cents(amount) if amount else None) for how, _, amount in parts),
        number=told.get("number"),
        tip_cents=cents(told.get("tip", "0")),
        discount_cents=cents(told.get("discount", "0")),
        discount_percent=Decimal(told.get("discount_percent", 0)),
        coupon=told.get("coupon"),
        gifts=tuple(told.get("gifts", ())),
        goods=_goods(told["goods"]) if "goods" in told else None,
        deposit_back=told.get("deposit_back"),
    )


def _goods(told: Mapping[str, Any]) -> Goods:
    return Goods(told["what"], told["category"], cents(told["worth"]))


def _sending(told: Mapping[str, Any]) -> Sending:
    return Sending(told.get("place"), told["carrier"], told["tracking"], cents(told["insured"]))


def _coming(told: Mapping[str, Any], on: date) -> Coming:
    return Coming(on, told["how"], cents(told["amount"]) if "amount" in told else None, told.get("number"))
