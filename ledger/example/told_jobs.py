"""The jobs that are told one by one: the special cases, and what is on the bench on the last day."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date, timedelta
from decimal import Decimal
from typing import Any

from dateutil.relativedelta import relativedelta

from ledger.actions.take_in import TakeInRequest, WantedLine
from ledger.books.books import Books
from ledger.example.courses import Coming, Mistake, Paying, PlannedJob
from ledger.example.data_files import cents, day_of, read
from ledger.example.diary import Act, Diary
from ledger.example.people import telephone_of
from ledger.example.working_days import WorkingDays
from ledger.jobs.customers import ensure_customer
from ledger.jobs.payments import PaidPart
from ledger.jobs.pickup import Sending
from ledger.taxes.certificates import keep_certificate


def special_cases(diary: Diary, days: WorkingDays) -> Iterator[PlannedJob]:
    """Write the certificates into the diary; the jobs that show something of their own."""
    for told in read("special_cases")["certificate"]:
        diary.write(day_of(told["when"], days), _certificate(told))
    yield from (_job(told, days) for told in read("special_cases")["job"])


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


def _job(told: Mapping[str, Any], days: WorkingDays) -> PlannedJob:
    taken_on = day_of(told["taken"], days)

    def after(key: str) -> date | None:
        return days.on_or_after(taken_on + timedelta(days=told[key])) if key in told else None

    return PlannedJob(
        request=_request(told, taken_on),
        taken_on=taken_on,
        in_on=after("in_after"),
        back_on=after("back_after"),
        again_on=after("again_after"),
        ready_on=after("ready_after"),
        gone_on=after("gone_after"),
        called_off_on=after("called_off_after"),
        paying=_paying(told),
        deposit=_coming(told["deposit"], taken_on) if "deposit" in told else None,
        mistake=Mistake(_paying(told["undone"]), told["undone"]["why"]) if "undone" in told else None,
        sending=_sending(told["sent"]) if "sent" in told else None,
        later=tuple(
            _coming(each, days.on_or_after(taken_on + timedelta(days=each["after"]))) for each in told.get("later", ())
        ),
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
        lines=tuple(_line(text) for text in told["lines"]),
        promised=promised,
        status=told.get("status", "in-hand"),
        rush_percent=Decimal(told.get("rush_percent", 0)),
        minimum_cents=cents(read("prices")["job_minimum"]),
    )


def _line(text: str) -> WantedLine:
    name, _, quantity = text.partition("=")
    return WantedLine(name, Decimal(quantity) if quantity else None)


def _paying(told: Mapping[str, Any]) -> Paying:
    parts = (text.partition("=") for text in told.get("paid", ()))
    return Paying(
        parts=tuple(PaidPart(how, cents(amount) if amount else None) for how, _, amount in parts),
        number=told.get("number"),
        tip_cents=cents(told.get("tip", "0")),
        discount_cents=cents(told.get("discount", "0")),
    )


def _sending(told: Mapping[str, Any]) -> Sending:
    return Sending(told.get("place"), told["carrier"], told["tracking"], cents(told["insured"]))


def _coming(told: Mapping[str, Any], on: date) -> Coming:
    return Coming(on, told["how"], cents(told["amount"]) if "amount" in told else None, told.get("number"))
