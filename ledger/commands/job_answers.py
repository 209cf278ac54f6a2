"""How jobs are told: the JSON of one, and its lines for a person."""

from __future__ import annotations

from typing import Any

from ledger.actions.take_in import WantedLine
from ledger.books.books import Books
from ledger.commands.manners import amount_in, day_or_none
from ledger.jobs.expected import expected
from ledger.jobs.job import Job
from ledger.jobs.records import read_intake
from ledger.money import plain_decimal, read_quantity


def job_data(books: Books, job: Job, entry: int | None = None) -> dict[str, Any]:
    """A job with its lines and the tax that pickup today would take, or that it took."""
    amount = amount_in(books.currency)
    intake = read_intake(books, job.id)
    found = expected(books, job)
    return {
        "job": job.id,
        "status": job.status,
        "customer": job.customer.name,
        "piece": job.piece,
        "width": plain_decimal(job.size.width),
        "length": plain_decimal(job.size.length),
        "value": amount(job.value_cents),
        "condition": intake.condition if intake else None,
        "may_collect": intake.may_collect if intake else None,
        "taken_on": job.taken_on.isoformat(),
        "promised": day_or_none(job.promised),
        "lines": [
            {
                "name": line.name,
                "quantity": plain_decimal(line.shown_quantity),
                "unit": line.unit,
                "rate": plain_decimal(line.rate, books.currency.decimals),
                "amount": amount(line.cents),
                "class": line.class_name,
            }
            for line in job.lines
        ],
        "top_up": amount(job.pricing.top_up_cents),
        "rush": amount(job.pricing.rush_cents),
        "subtotal": amount(found.subtotal_cents),
        "tax_expected": amount(found.tax_cents) if found.tax_cents is not None else None,
        "total_expected": amount(found.total_cents),
        "unanswered": list(found.unanswered),
        "deposit": amount(job.deposit_cents),
        "owed": amount(job.owed_cents),
        "sale": job.sale,
        "entry": entry,
    }


def job_lines(data: dict[str, Any]) -> list[str]:
    """A job for a person, from its JSON."""
    # Of a job from before the books nobody told the size.
    size = f", {data['width']} x {data['length']}" if data["width"] != "0" else ""
    lines = [f"Job {data['job']}, {data['status']}: {data['piece']}{size}, for {data['customer']}."]
    lines += [
        f"  {each['name']:<24}{each['quantity']:>10} {each['unit']:<6} at {each['rate']:<9}{each['amount']:>11}"
        for each in data["lines"]
    ]
    tax_words = "Sales tax taken" if data["sale"] else "Sales tax, as of today"
    totals = [("Subtotal", "subtotal"), (tax_words, "tax_expected")]
    sometimes = [("Minimum charge", "top_up"), ("Rush", "rush"), ("Deposit held", "deposit"), ("Still owed", "owed")]
    told = [each for each in sometimes[:2] if _moves(data[each[1]])] + totals
    told += [each for each in sometimes[2:] if _moves(data[each[1]])]
    lines += [f"  {name:<51}{data[key] or 'no rate yet':>11}" for name, key in told]
    return [*lines, *(f"  {line}" for line in unanswered_lines(data["unanswered"]))]


def unanswered_lines(classes: list[str]) -> list[str]:
    """A sentence for each class that no tax is taken on because nobody has been asked about it."""
    return [f"Whether «{name}» is taxed is not answered yet, so no tax is taken on it." for name in classes]


def _moves(amount: str) -> bool:
    return amount.strip("-0.") != ""


def read_wanted(text: str) -> WantedLine:
    """A line of work as it is typed: `NAME` or `NAME=QTY`. Raises NotUnderstood for the quantity."""
    name, equals, quantity = text.partition("=")
    return WantedLine(name, read_quantity(quantity, "line") if equals else None)
