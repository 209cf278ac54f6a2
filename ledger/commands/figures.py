"""Commands for the figures: how far the machine is from being paid off, and what a period came to."""

from __future__ import annotations

from datetime import date
from typing import Any

import click

from ledger.books.books import Books
from ledger.commands.manners import Answer, Command, Session, amount_in, answers
from ledger.money import plain_percent
from ledger.periods import Period, parse_period, quarter_holding


@click.command("payback", cls=Command)
@answers
def payback(session: Session) -> Answer:
    """How far the machine is from being paid off, before income tax and any pay for your time."""
    from ledger.machine.record import read_payback

    with session.books() as books:
        amount = amount_in(books.currency)
        found = read_payback(books)
        forecast = found.forecast
        data: dict[str, Any] = {
            "cost": amount(found.cost_cents),
            "taken_in": amount(found.taken_in_cents),
            "earned": amount(found.earned_cents),
            "share": plain_percent(found.share_percent) if found.share_percent is not None else None,
            "left": amount(found.left_cents),
            "jobs_left": found.jobs_left,
            "forecast": {
                "early": _month(forecast.early),
                "middle": _month(forecast.middle),
                "late": _month(forecast.late),
                "too_early": forecast.too_early,
            },
        }
        lines = [
            f"The machine cost {data['cost']}.",
            f"Taken in: {data['taken_in']}. Earned towards the machine, after expenses: {data['earned']}"
            + (f", {data['share']} % of its cost." if data["share"] is not None else "."),
            f"Left: {data['left']}" + (f", about {found.jobs_left} jobs." if found.jobs_left is not None else "."),
            _forecast_line(data["forecast"]),
        ]
        return Answer(data, lines)


@click.command("quarter", cls=Command)
@click.argument("period", required=False)
@click.option(
    "--accrual", is_flag=True, help="Income as the books count it, on the day of pickup. Not the return's method."
)
@click.option("--close", is_flag=True, help="Keep further entries out of the period.")
@click.option("--reopen", is_flag=True, help="Let entries into the period again.")
@click.option("--why", metavar="T", help="Why it is reopened.")
@answers
def quarter(session: Session, period: str | None, accrual: bool, close: bool, reopen: bool, why: str | None) -> Answer:
    """Totals of a period for the accountant, on the cash method, with the checks that tie them to the books."""
    from ledger.books.closing import close_period, reopen_period
    from ledger.text import read_text

    if close and reopen:
        raise click.UsageError("A period is closed or reopened, not both.")
    if reopen and why is None:
        raise click.UsageError("Reopening a period needs --why.")
    with session.books() as books:
        days = parse_period(period) if period is not None else quarter_holding(session.today)
        if close:
            close_period(books, days.start, days.end)
        if reopen:
            reopen_period(books, days.start, read_text(why or "", "why"))
        data = _totals(books, days, accrual)
        return Answer(data, _totals_lines(data))


def _totals(books: Books, period: Period, accrual: bool) -> dict[str, Any]:
    from ledger.books.entries import closed_through
    from ledger.quarter.checks import run_checks
    from ledger.quarter.questions import find_questions
    from ledger.results.lines import schedule_c_lines
    from ledger.results.period import read_statement

    amount = amount_in(books.currency)
    end = min(period.end, books.today)
    found = read_statement(books, period.start, end)
    bridge = found.bridge
    lines = schedule_c_lines([each.account for each in found.expenses], end.year)
    difference = found.income_cents(accrual=accrual) - bridge.books_cents
    by_kind = {each.account.name: amount(each.cents) for each in found.income if each.cents}
    if difference:
        by_kind["deposits, certificates and balances owed"] = amount(difference)
    closed = closed_through(books)
    return {
        "period": period.label,
        "start": period.start.isoformat(),
        "end": period.end.isoformat(),
        "so_far": not period.is_over(books.today),
        "closed": closed is not None and closed >= period.end,
        "method": "accrual" if accrual else "cash",
        "income": {"total": amount(found.income_cents(accrual=accrual)), "by_kind": by_kind},
        "expenses": [
            {
                "category": each.account.name,
                "line": lines[each.account.name].number,
                "line_confirmed": lines[each.account.name].confirmed,
                "amount": amount(each.cents),
            }
            for each in found.expenses
        ],
        "expenses_total": amount(found.expenses_cents),
        "net": amount(found.net_cents(accrual=accrual)),
        "cash_bridge": {
            "books": amount(bridge.books_cents),
            "deposits_received": amount(bridge.deposits_received_cents),
            "deposits_used": amount(bridge.deposits_used_cents),
            "certificates_sold": amount(bridge.certificates_sold_cents),
            "certificates_used": amount(bridge.certificates_used_cents),
            "owed_before": amount(bridge.owed_before_cents),
            "owed_after": amount(bridge.owed_after_cents),
            "cash": amount(bridge.cash_cents),
        },
        "sales_tax": _sales_tax(books, period.start, end),
        "checks": [
            {"name": each.name, "ok": each.ok, "amount": amount(each.off_cents)}
            for each in run_checks(books, period.start, end)
        ],
        "questions": list(find_questions(books, period.start, end)),
        "packet": None,
    }


def _sales_tax(books: Books, start: date, end: date) -> dict[str, Any]:
    from ledger.quarter.sales_tax import read_sales_tax

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


def _totals_lines(data: dict[str, Any]) -> list[str]:
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
    failed = [each for each in data["checks"] if not each["ok"]]
    lines.append(f"{len(data['checks']) - len(failed)} of {len(data['checks'])} checks passed.")
    lines += [f"  Failed: {each['name']}, by {each['amount']}" for each in failed]
    lines += [f"  Open: {each}" for each in data["questions"]]
    lines.append("From the owner's records, not audited, not a tax return: your accountant decides.")
    return lines


def _month(day: date | None) -> str | None:
    return f"{day.year:04d}-{day.month:02d}" if day else None


def _forecast_line(forecast: dict[str, Any]) -> str:
    if forecast["too_early"]:
        return "When it will be paid off: too early to say, under three whole months of work."
    if forecast["middle"] is None:
        return "At this pace it is not paid off."
    late = forecast["late"] or "later than can be said"
    return f"Paid off about {forecast['middle']}; in four of five cases between {forecast['early']} and {late}."


COMMANDS = (payback, quarter)
