"""How a period is told: the JSON of its totals, and their lines for a person."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Any

from ledger.books.books import Books
from ledger.books.entries import closed_through
from ledger.commands.manners import amount_in
from ledger.money import plain_decimal, plain_percent
from ledger.periods import Period
from ledger.quarter.checks import run_checks
from ledger.quarter.packet import FACE
from ledger.quarter.questions import find_questions
from ledger.quarter.sales_tax import read_sales_tax
from ledger.results.lines import schedule_c_lines
from ledger.results.period import read_statement
from ledger.results.statement import Statement
from ledger.spending.mileage import rated, read_trips


def totals_data(books: Books, period: Period, accrual: bool) -> dict[str, Any]:
    """Income, expenses, bridge, sales tax, checks and questions of a period, as far as the books go today."""
    amount = amount_in(books.currency)
    end = period.last_day_by(books.today)
    found = read_statement(books, period.start, end)
    closed = closed_through(books)
    checks = run_checks(books, period.start, end)
    return {
        "period": period.label,
        "start": period.start.isoformat(),
        "end": period.end.isoformat(),
        "so_far": not period.is_over(books.today),
        "closed": closed is not None and closed >= period.end,
        "method": "accrual" if accrual else "cash",
        "income": _income(books, found, accrual),
        "expenses": _expenses(books, found, end.year),
        "expenses_total": amount(found.expenses_cents),
        "net": amount(found.net_cents(accrual=accrual)),
        "cash_bridge": _bridge(books, found),
        "sales_tax": _sales_tax(books, period.start, end),
        "checks": [{"name": each.name, "ok": each.ok, "amount": amount(each.off_cents)} for each in checks],
        "memo": {"mileage": _mileage(books, period.start, end)},
        "questions": list(find_questions(books, period.start, end)),
        "packet": None,
    }


def _income(books: Books, found: Statement, accrual: bool) -> dict[str, Any]:
    """The income accounts, and what lies between them and the method, so that the kinds add to the total."""
    amount = amount_in(books.currency)
    total = found.income_cents(accrual=accrual)
    by_kind = {each.account.name: amount(each.cents) for each in found.income if each.cents}
    if total != found.bridge.books_cents:
        by_kind["deposits, certificates and balances owed"] = amount(total - found.bridge.books_cents)
    return {"total": amount(total), "by_kind": by_kind}


def _expenses(books: Books, found: Statement, tax_year: int) -> list[dict[str, Any]]:
    amount = amount_in(books.currency)
    lines = schedule_c_lines([each.account for each in found.expenses], tax_year)
    return [
        {
            "category": each.account.name,
            "line": lines[each.account.name].number,
            "line_confirmed": lines[each.account.name].confirmed,
            "amount": amount(each.cents),
        }
        for each in found.expenses
    ]


def _mileage(books: Books, start: date, end: date) -> dict[str, Any]:
    """What the log comes to: a figure for the accountant that is in no account and in no sum above."""
    trips = rated(read_trips(books, start, end))
    return {
        "miles": plain_decimal(sum((each.miles for each in trips), start=Decimal(0))),
        "amount": amount_in(books.currency)(sum(each.cents for each in trips)),
        "published": all(each.is_known for each in trips),
    }


def _bridge(books: Books, found: Statement) -> dict[str, str]:
    amount = amount_in(books.currency)
    bridge = found.bridge
    return {
        "books": amount(bridge.books_cents),
        "deposits_received": amount(bridge.deposits_received_cents),
        "deposits_used": amount(bridge.deposits_used_cents),
        "certificates_sold": amount(bridge.certificates_sold_cents),
        "certificates_used": amount(bridge.certificates_used_cents),
        "owed_before": amount(bridge.owed_before_cents),
        "owed_after": amount(bridge.owed_after_cents),
        "cash": amount(bridge.cash_cents),
    }


def _sales_tax(books: Books, start: date, end: date) -> dict[str, Any]:
    amount = amount_in(books.currency)
    tax = read_sales_tax(books, start, end)
    return {
        "gross": amount(tax.gross_cents),
        "taxable": amount(tax.taxable_cents),
        "not_taxed": amount(tax.not_taxed_cents),
        "exempt": amount(tax.exempt_cents),
        "unanswered_amount": amount(tax.unanswered_cents),
        "collected": amount(tax.collected_cents),
        "by_jurisdiction": [
            {
                "jurisdiction": each.jurisdiction,
                "level": each.level,
                "percent": plain_percent(each.percent),
                "taxable": amount(each.base_cents),
                "tax": amount(each.tax_cents),
            }
            for each in tax.by_jurisdiction
        ],
        "unanswered": list(tax.unanswered),
    }


def totals_lines(data: dict[str, Any]) -> list[str]:
    """The totals for a person, from their JSON."""
    tax = data["sales_tax"]
    lines = [f"{data['period']}, {data['method']} method" + (", so far" if data["so_far"] else "")]
    lines += [f"  {name:<44}{amount:>14}" for name, amount in data["income"]["by_kind"].items()]
    lines.append(f"  {'Income':<44}{data['income']['total']:>14}")
    lines += [f"  {each['category']:<44}{each['amount']:>14}" for each in data["expenses"]]
    lines.append(f"  {'Expenses':<44}{data['expenses_total']:>14}")
    lines.append(f"  {'Net':<44}{data['net']:>14}")
    lines.append(f"  {'Sales tax taken, no income':<44}{tax['collected']:>14}")
    lines += [
        f"    {each['jurisdiction']} {each['percent']} % on {each['taxable']}: {each['tax']}"
        for each in tax["by_jurisdiction"]
    ]
    miles = data["memo"]["mileage"]
    if miles["miles"] != "0":
        lines.append(f"  {'Mileage, ' + miles['miles'] + ' miles, in no sum above':<44}{miles['amount']:>14}")
    failed = [each for each in data["checks"] if not each["ok"]]
    lines.append(f"{len(data['checks']) - len(failed)} of {len(data['checks'])} checks passed.")
    lines += [f"  Failed: {each['name']}, by {each['amount']}" for each in failed]
    lines += [f"  Open: {each}" for each in data["questions"]]
    lines.append(FACE)
    return lines
