"""How a return is told: its JSON, and its lines for a person."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from ledger.actions.file_tax import remarks
from ledger.books.before_books import BEFORE_WORDS
from ledger.books.books import Books
from ledger.commands.manners import amount_in, day_or_none
from ledger.money import plain_percent
from ledger.taxes.filed_return import FiledReturn
from ledger.taxes.filed_returns import credit_left
from ledger.taxes.return_entries import ReturnPaid
from ledger.taxes.returns import Return, ReturnsBook
from ledger.taxes.worksheet import BeforeBooks, Deduction, Worksheet

TRUST = "Sales tax is held in trust: it is the state's money from the day it is taken."
WIDTH = 52


def return_data(books: Books, book: ReturnsBook, found: Return) -> dict[str, Any]:
    """Every figure of a return, with what was paid of it."""
    return {
        "period": found.period.label,
        "start": found.period.start.isoformat(),
        "end": found.period.end.isoformat(),
        "sequence": found.sequence,
        "due_date": day_or_none(found.due_on),
        **_sales(books, found.worksheet),
        **_totals(books, found.worksheet),
        "late": _late(books, book, found),
        "from_earlier": list(found.earlier),
        "entry": None,
        **_filed(books, book, found.filed),
        "remarks": list(remarks(books, book, found)),
    }


def _sales(books: Books, sheet: Worksheet) -> dict[str, Any]:
    """From gross to the tax on what is taxable."""
    amount = amount_in(books.currency)
    return {
        "gross": amount(sheet.gross_cents),
        "before_these_books": _before(books, sheet.before),
        "exempt": _deductions(books, sheet.exempt),
        "not_taxed": [{"class": each.reason, "amount": amount(each.cents)} for each in sheet.not_taxed],
        "deductions": _deductions(books, sheet.deductions),
        "unanswered": list(sheet.unanswered),
        "unanswered_amount": amount(sheet.unanswered_cents),
        "taxable": amount(sheet.taxable_cents),
        "by_jurisdiction": [
            {
                "jurisdiction": each.levy.name,
                "level": each.levy.level,
                "percent": plain_percent(each.percent),
                "taxable": amount(each.taxable_cents),
                "tax": amount(each.due_cents),
                "collected": amount(each.collected_cents),
            }
            for each in sheet.taxed
        ],
    }


def _before(books: Books, before: BeforeBooks | None) -> dict[str, str] | None:
    """The part of a return that is from before the books; null in every other return."""
    if before is None:
        return None
    amount = amount_in(books.currency)
    return {
        "gross": amount(before.gross_cents),
        "taxable": amount(before.taxable_cents),
        "tax": amount(before.tax_cents),
    }


def _totals(books: Books, sheet: Worksheet) -> dict[str, Any]:
    """From tax due beside tax collected to what is to be paid."""
    amount = amount_in(books.currency)
    return {
        "tax_due": amount(sheet.due_cents),
        "tax_collected": amount(sheet.collected_cents),
        "rounding": amount(sheet.borne_cents),
        "over_collected": amount(sheet.over_collected_cents),
        "owed": amount(sheet.owed_cents),
        "use_tax": amount(sheet.use_tax_cents),
        "use_tax_by_jurisdiction": _use_tax(books, sheet),
        "filed_before": amount(sheet.owed_before_cents),
        "allowance": amount(sheet.allowance_cents),
        "carried": amount(sheet.carried_cents),
        "total_due": amount(sheet.total_cents),
    }


def _late(books: Books, book: ReturnsBook, found: Return) -> list[dict[str, Any]]:
    """What came late to a filed return, and where it goes instead."""
    amount = amount_in(books.currency)
    return [
        {
            "entry": each.entry,
            "date": each.booked_on.isoformat(),
            "tax": amount(each.tax_cents),
            "goes_to": each.goes_to.period.label,
            "amended": each.goes_to.sequence > 0,
        }
        for each in book.late_entries(found.period)
    ]


def _deductions(books: Books, several: Sequence[Deduction]) -> list[dict[str, str]]:
    amount = amount_in(books.currency)
    return [{"reason": each.reason, "amount": amount(each.cents)} for each in several]


def _use_tax(books: Books, sheet: Worksheet) -> list[dict[str, str]]:
    amount = amount_in(books.currency)
    return [
        {
            "jurisdiction": each.levy.name,
            "level": each.levy.level,
            "percent": plain_percent(each.percent),
            "cost": amount(each.cost_cents),
            "tax": amount(each.tax_cents),
        }
        for each in sheet.use_tax
    ]


def _filed(books: Books, book: ReturnsBook, filed: FiledReturn | None) -> dict[str, Any]:
    """Whether it was filed, and what was settled of it by today."""
    amount = amount_in(books.currency)
    credit = amount(credit_left(book.filed))
    if filed is None:
        nothing = dict.fromkeys(("filed_on", "digest", "paid", "allowance_kept", "left", "claimed"))
        return {**nothing, "credit": credit}
    return {
        "filed_on": filed.through.filed_on.isoformat(),
        "digest": filed.digest,
        "paid": amount(filed.paid_cents),
        "allowance_kept": amount(filed.allowance_kept_cents),
        "left": amount(max(0, filed.to_pay_on(books.today))),
        "claimed": filed.is_claimed,
        "credit": credit,
    }


def return_lines(data: dict[str, Any]) -> list[str]:
    """The worksheet for a person, from its JSON."""
    state = f"filed on {data['filed_on']}" if data["filed_on"] else "not filed yet"
    amended = ", amended" if data["sequence"] else ""
    due = f"due {data['due_date']}" if data["due_date"] else "no due day is recorded: «twopurse tax period»"
    lines = [f"Sales tax return {data['period']}{amended}: {state}, {due}."]
    lines += [_line(*each) for each in _figures(data)]
    if data["filed_on"]:
        lines += [_line("Paid", data["paid"]), _line("Left to pay", data["left"])]
    for each in data["late"]:
        into = "an amended return" if each["amended"] else f"the return of {each['goes_to']}"
        lines.append(f"  Entry {each['entry']} of {each['date']} came late; its tax of {each['tax']} goes into {into}.")
    lines += [f"  Open: {each}" for each in data["remarks"]]
    return [*lines, TRUST]


def _figures(data: dict[str, Any]) -> Iterator[tuple[str, str]]:
    yield "Gross sales", data["gross"]
    if data["before_these_books"] is not None:
        yield f"  of it {BEFORE_WORDS}", data["before_these_books"]["gross"]
        yield f"  taxable {BEFORE_WORDS}", data["before_these_books"]["taxable"]
        yield f"  sales tax {BEFORE_WORDS}", data["before_these_books"]["tax"]
    for each in (*data["exempt"], *data["deductions"]):
        yield f"  less {each['reason']}", each["amount"]
    if data["unanswered"]:
        yield "  no tax taken, nobody asked", data["unanswered_amount"]
    yield "Taxable", data["taxable"]
    for each in data["by_jurisdiction"]:
        yield f"  {each['jurisdiction']} {each['percent']} % of {each['taxable']}", each["tax"]
    yield "Tax due on the totals", data["tax_due"]
    yield "Tax collected", data["tax_collected"]
    yield from _unless_zero(
        data,
        ("Where more is due than was taken, yours to bear", "rounding"),
        ("Where more was taken than is due, paid over", "over_collected"),
        ("Use tax", "use_tax"),
        ("Filed before for this period", "filed_before"),
        ("Kept for filing and paying on time", "allowance"),
        ("Credit from before", "carried"),
    )
    yield "Total", data["total_due"]


def _unless_zero(data: dict[str, Any], *pairs: tuple[str, str]) -> Iterator[tuple[str, str]]:
    for words, key in pairs:
        if data[key].strip("-0."):
            yield words, data[key]


def payment_lines(books: Books, label: str, done: ReturnPaid, entry: int) -> list[str]:
    """What a payment settled, and what became of the rest."""
    amount = amount_in(books.currency)
    if done.cents < 0:
        return [f"Entry {entry}: {amount(-done.cents)} came back on the return of {label}."]
    lines = [f"Entry {entry}: {amount(done.cents)} paid on the return of {label}."]
    if done.allowance_cents:
        lines.append(f"Kept for filing and paying on time: {amount(done.allowance_cents)}, which is income.")
    if done.lost_allowance_cents:
        lines.append(f"Paid after the due date: {amount(done.lost_allowance_cents)} is not kept.")
    if done.left_cents:
        lines.append(f"Left to pay: {amount(done.left_cents)}.")
    if done.credit_cents:
        lines.append(f"Paid above what is owed: {amount(done.credit_cents)} is kept as a credit for the next return.")
    return lines


def _line(words: str, amount: str) -> str:
    return f"  {words:<{WIDTH}}{amount:>14}"
