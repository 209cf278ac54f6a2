"""What can happen to a job beside its usual course, as the data files tell it."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from datetime import date
from decimal import Decimal
from typing import Any

from ledger.actions import add_work, call_off, give_up, refund, retax, returned_payment, send_notice
from ledger.actions.take_in import WantedLine
from ledger.books.books import Books
from ledger.example.courses import Step
from ledger.example.data_files import cents
from ledger.jobs.refund import RefundRequest
from ledger.jobs.retax import RetaxRequest
from ledger.jobs.returned import ReturnedRequest

Told = Mapping[str, Any]
JobAct = Callable[[Books, int], object]


def steps_of(told: Told, day_after: Callable[[int], date]) -> Iterator[Step]:
    """The steps of a job. Each stands in a list under the name of its kind, with so many days `after` it came in."""
    for kind, act_of in _KINDS.items():
        yield from (Step(day_after(each["after"]), act_of(each)) for each in told.get(kind, ()))


def wanted_line(text: str) -> WantedLine:
    """A line of work as it is told: `Lesson at the frame=2`."""
    name, _, quantity = text.partition("=")
    return WantedLine(name, Decimal(quantity) if quantity else None)


def _called_off(told: Told) -> JobAct:
    request = call_off.CallOffRequest(0, told["deposit"])
    return lambda books, job: call_off.perform(books, replace(request, job=job))


def _refunded(told: Told) -> JobAct:
    amount = cents(told["amount"]) if "amount" in told else None
    request = RefundRequest(0, amount, told["how"], why=told["why"])
    return lambda books, job: refund.perform(books, replace(request, job=job))


def _came_back(told: Told) -> JobAct:
    request = ReturnedRequest(0, told["how"], cents(told["fee"]), cents(told.get("charge", "0")))
    return lambda books, job: returned_payment.perform(books, replace(request, job=job))


def _given_up(told: Told) -> JobAct:
    return lambda books, job: give_up.perform(books, give_up.GiveUpRequest(job, told["why"]))


def _tax_put_right(told: Told) -> JobAct:
    return lambda books, job: retax.perform(books, RetaxRequest(job, told["why"], told["borne"]))


def _noticed(told: Told) -> JobAct:
    return lambda books, job: send_notice.perform(books, send_notice.NoticeRequest(job, told["how"]))


def _added(told: Told) -> JobAct:
    lines = tuple(wanted_line(text) for text in told["lines"])
    return lambda books, job: add_work.perform(books, add_work.AddWorkRequest(job, lines))


_KINDS: Mapping[str, Callable[[Told], JobAct]] = {
    "called_off": _called_off,
    "refunded": _refunded,
    "came_back": _came_back,
    "given_up": _given_up,
    "tax_put_right": _tax_put_right,
    "notices": _noticed,
    "added": _added,
}
