"""The receipt of a pickup as text, in the currency and dates of the workshop's place."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from textwrap import wrap

from ledger.books.books import Settings
from ledger.books.entries import Sealed
from ledger.jobs.job import Job, JobLine
from ledger.jobs.pickup import Settlement
from ledger.money import plain_decimal, plain_percent
from ledger.text import shown

WIDTH = 48
_HOW = {"cash": "Cash", "check": "Check", "card": "Card", "transfer": "Transfer"}


def receipt_name(job: Job, sealed: Sealed | None) -> str:
    """The file's name: job and entry, so that no second pickup writes over the first receipt."""
    entry = f"-entry-{sealed.number}" if sealed else ""
    return f"receipt-job-{job.id}{entry}.txt"


def receipt_text(settings: Settings, settlement: Settlement, sealed: Sealed | None, today: date) -> str:
    """The whole receipt, one line of at most 48 characters for each thing."""
    from babel.dates import format_date  # 40 ms, only where something is printed for a customer

    job = settlement.job
    head = [*wrap(settings.name, WIDTH), f"Receipt for job {job.id}", format_date(today, locale=settings.locale)]
    body = [*_lines(settings, settlement), "-" * WIDTH, *_money(settings, settlement)]
    tail = ["", *wrap(job.customer.name, WIDTH), *wrap(job.piece, WIDTH), "Thank you."]
    if sealed is not None:
        tail.append(f"Entry {sealed.number} {sealed.digest[:12]}")
    lines = [*head, "-" * WIDTH, *body, *tail]
    return "\n".join(shown(line) for line in lines) + "\n"


def _lines(settings: Settings, settlement: Settlement) -> Iterator[str]:
    for line in settlement.job.lines:
        yield from _pair(line.name, _amount(settings, line.cents))
        yield f"  {_measure(line)} at {plain_decimal(line.rate, settings.currency.decimals)}"
    pricing = settlement.job.pricing
    if pricing.top_up_cents:
        yield from _pair("Minimum charge", _amount(settings, pricing.top_up_cents))
    if pricing.rush_cents:
        yield from _pair("Rush", _amount(settings, pricing.rush_cents))


def _money(settings: Settings, settlement: Settlement) -> Iterator[str]:
    slip, paid = settlement.slip, settlement.paid
    pairs = [
        ("Subtotal", slip.subtotal_cents, True),
        ("Discount", -slip.discount_cents, slip.discount_cents != 0),
        *(
            (f"{each.rate.jurisdiction} tax {plain_percent(each.rate.percent)} %", each.tax_cents, True)
            for each in slip.tax.taxes
        ),
        ("Tip", settlement.tip_cents, settlement.tip_cents != 0),
        ("Total", settlement.total_cents, True),
        ("Deposit", -settlement.deposit_cents, settlement.deposit_cents != 0),
        ("Due", settlement.due_cents, settlement.deposit_cents != 0),
        *((_said(each.how, each.reference), each.cents, True) for each in paid.payments),
        ("Handed over", settlement.tendered_cents or 0, settlement.tendered_cents is not None),
        ("Change", paid.change_cents, paid.change_cents != 0),
        ("Still owed", paid.owed_cents, paid.owed_cents != 0),
    ]
    for label, cents, wanted in pairs:
        if wanted:
            yield from _pair(label, _amount(settings, cents))


def _said(how: str, reference: str | None) -> str:
    return f"{_HOW[how]} {reference}" if reference else _HOW[how]


def _measure(line: JobLine) -> str:
    return f"{plain_decimal(line.shown_quantity)} {line.unit}"


def _pair(left: str, right: str) -> Iterator[str]:
    """Label and amount on one line, or the amount on a line of its own where the label is long."""
    space = WIDTH - len(right) - 1
    *before, last = wrap(left, WIDTH)
    yield from before
    if len(last) > space:
        yield last
        last = ""
    yield f"{last:<{space}} {right}"


def _amount(settings: Settings, cents: int) -> str:
    from babel.numbers import format_currency

    from ledger.money import whole_units

    return format_currency(whole_units(cents, settings.currency), settings.currency.code, locale=settings.locale)
