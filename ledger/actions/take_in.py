"""Take a job in: customer, piece, lines of work at today's prices."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from ledger.books.books import Books
from ledger.errors import NotPossible, NotUnderstood
from ledger.jobs.customers import ensure_customer
from ledger.jobs.intake import Intake
from ledger.jobs.job import Job, NewJob
from ledger.jobs.prices import price_named
from ledger.jobs.pricing import PricedLine, Pricing, Size, price_job, price_line
from ledger.jobs.records import add_event, add_intake, add_job, read_job
from ledger.taxes.sales_tax import Charge
from ledger.text import read_text

FIRST_STATUSES = ("asked", "booked", "in-hand")
_FIRST_EVENT = {"asked": "asked", "booked": "booked", "in-hand": "in"}
_LINES_AT_MOST = 100


@dataclass(frozen=True)
class WantedLine:
    """A price by its name, and the quantity where it is not measured from the piece."""

    name: str
    quantity: Decimal | None = None


@dataclass(frozen=True)
class TakeInRequest:
    """Lengths in the units of the books, amounts in cents. widths and lengths: as measured, where on several lines."""

    customer: str
    piece: str
    width: Decimal
    length: Decimal
    value_cents: int
    lines: tuple[WantedLine, ...]
    promised: date | None = None
    status: str = "in-hand"
    rush_percent: Decimal = Decimal(0)
    minimum_cents: int = 0
    widths: tuple[Decimal, ...] = ()
    lengths: tuple[Decimal, ...] = ()
    condition: str | None = None
    may_collect: str | None = None

    @property
    def intake(self) -> Intake:
        """What was seen and agreed at the door. Raises NotUnderstood for text that says nothing."""
        return Intake(
            widths=self.widths or (self.width,),
            lengths=self.lengths or (self.length,),
            condition=read_text(self.condition, "condition") if self.condition is not None else None,
            may_collect=read_text(self.may_collect, "may_collect") if self.may_collect is not None else None,
        )


def preview(books: Books, request: TakeInRequest) -> tuple[tuple[PricedLine, ...], Pricing]:
    """The lines at today's prices and what they come to. Raises NotFound, NotPossible, NotUnderstood."""
    lines = _priced(books, request)
    charges = [Charge(each.price.class_name, each.cents, each.price.includes_tax) for each in lines]
    return lines, price_job(charges, request.minimum_cents, request.rush_percent)


def perform(books: Books, request: TakeInRequest) -> Job:
    """The job as it was taken in, with the visit where the piece came along."""
    if request.promised is not None and request.promised < books.today:
        raise NotPossible(f"{request.promised} has passed.", "Give the day for which it is promised.", "promised")
    piece = read_text(request.piece, "piece")
    with books.writing() as write:
        lines, _ = preview(books, request)
        customer = ensure_customer(books, write, request.customer)
        new = NewJob(
            customer,
            piece,
            Size(request.width, request.length, books.settings.units),
            request.value_cents,
            lines,
            request.promised,
            request.rush_percent,
            request.minimum_cents,
        )
        job = add_job(books, write, new)
        add_intake(write, job, request.intake)
        add_event(books, write, job, _FIRST_EVENT[request.status])
        return read_job(books, job)


def _priced(books: Books, request: TakeInRequest) -> tuple[PricedLine, ...]:
    wanted: Sequence[WantedLine] = request.lines
    if not wanted:
        raise NotUnderstood("The job has no line of work.", 'Say what is to be done: --line "NAME".', "line")
    if len(wanted) > _LINES_AT_MOST:
        raise NotPossible("The job has too many lines.", f"Keep it to {_LINES_AT_MOST}.", "line")
    size = Size(request.width, request.length, books.settings.units)
    return tuple(
        price_line(price_named(books, each.name, books.today), size, books.currency, each.quantity) for each in wanted
    )
