"""What the home screen says: a few lines for each block, or the sentence that says what would fill it."""

from __future__ import annotations

from collections import Counter
from textwrap import wrap

from checklists.progress import tally
from checklists.records import read_standings
from ledger.books.balances import balances
from ledger.books.books import Books
from ledger.jobs.bench import read_bench
from ledger.jobs.records import read_custody
from ledger.machine.record import read_payback
from ledger.periods import quarter_holding
from ledger.quarter.questions import find_questions
from ledger.results.period import read_statement
from ledger.screens.showing import Showing, counted
from ledger.set_aside.owed import read_set_aside

# What fits into a block where the window is 80 wide.
BLOCK_CELLS = 20


def home(books: Books, showing: Showing) -> dict[str, list[str]]:
    """Room name to the lines of its block."""
    return {
        "bench": _bench(books, showing),
        "money": _money(books, showing),
        "machine": _machine(books, showing),
        "set_aside": _set_aside(books, showing),
        "quarter": _quarter(books, showing),
        "set_up": _set_up(books, showing),
    }


def bar(part: float, cells: int = BLOCK_CELLS) -> str:
    """A bar of so many cells, full as far as the part of one goes."""
    full = min(cells, max(0, int(part * cells)))
    return "█" * full + "░" * (cells - full)


def _bench(books: Books, showing: Showing) -> list[str]:
    jobs = read_bench(books)
    if not jobs:
        return ["No piece is here.", "", "Press n when the", "first one comes in."]
    count = Counter(job.status for job in jobs)
    late = sum(1 for job in jobs if job.status == "in-hand" and job.promised and job.promised < books.today)
    lines = [f"{count['ready']} ready for pickup", f"{count['in-hand']} in hand" + (f", {late} late" if late else "")]
    to_come = count["booked"] + count["asked"]
    lines += [f"{to_come} to come"] if to_come else []
    lines += [f"{count['gone']} gone, still owed"] if count["gone"] else []
    here = read_custody(books, books.today)
    return [*lines, f"{counted(here.pieces, 'piece')} here,", _pair("worth", showing.plain(here.value_cents))]


def _money(books: Books, showing: Showing) -> list[str]:
    standing = {each.account.role: each.cents for each in balances(books, books.today)}
    lines = ["Workshop"]
    lines.append(_pair("Checking", showing.plain(standing["checking"])))
    lines.append(_pair("Cash box", showing.plain(standing["cash_box"])))
    lines.append(_pair("Savings", showing.plain(standing["tax_savings"])))
    if standing["card_settlements"]:
        lines.append(_pair("On the way", showing.plain(standing["card_settlements"])))
    if standing["owed_to_owner"]:
        lines.append(_pair("Owes you", showing.plain(-standing["owed_to_owner"])))
    return lines


def _machine(books: Books, showing: Showing) -> list[str]:
    found = read_payback(books)
    if not found.cost_cents or found.share_percent is None:
        return ["The machine has no", "price in the books", "yet."]
    lines = [
        f"{showing.percent(found.share_percent)} earned",
        bar(found.earned_cents / found.cost_cents),
        _pair("Cost", showing.plain(found.cost_cents)),
        _pair("Left", showing.plain(found.left_cents)),
    ]
    if found.left_cents == 0:
        return [*lines, "It is paid off."]
    if found.jobs_left is not None:
        lines.append(_pair("Jobs, about", str(found.jobs_left)))
    if found.forecast.middle is not None:
        lines.append(_pair("Done about", f"{found.forecast.middle:%Y-%m}"))
    return lines


def _set_aside(books: Books, showing: Showing) -> list[str]:
    found = read_set_aside(books, books.today)
    lines = [_pair("Sales tax", showing.plain(found.sales_tax_cents))]
    lines += [_pair("Deposits", showing.plain(found.deposits_cents))] if found.deposits_cents else []
    lines += [_pair("Card", showing.plain(found.cards_cents))] if found.cards_cents else []
    if found.short_cents:
        return [*lines, _pair("Short by", showing.plain(found.short_cents))]
    return [*lines, "Left, before your", _pair("income tax", showing.plain(found.free_cents))]


def _quarter(books: Books, showing: Showing) -> list[str]:
    period = quarter_holding(books.today)
    found = read_statement(books, period.start, books.today)
    days = (period.end - books.today).days
    open_questions = len(find_questions(books, period.start, books.today))
    return [
        _pair(period.label, f"{counted(days, 'day')} left"),
        _pair("Income", showing.plain(found.income_cents())),
        _pair("Expenses", showing.plain(found.expenses_cents)),
        _pair("Net", showing.plain(found.net_cents())),
        f"{counted(open_questions, 'question')} open",
    ]


def _set_up(books: Books, showing: Showing) -> list[str]:
    standings = read_standings(books)
    found = tally(standings)
    lines = [f"{found.settled} of {found.items} settled", bar(found.settled / max(1, found.items))]
    lines += [_pair("Asked", str(found.asked))] if found.asked else []
    due = min((each.due for each in standings if each.due is not None), default=None)
    lines += [_pair("Next due", showing.short_day(due))] if due else []
    first = next((each.item.title for each in standings if each.item and each.can_be_asked), None)
    return [*lines, "Ask next:", *wrap(first, BLOCK_CELLS)[:3]] if first else lines


def _pair(label: str, value: str) -> str:
    """Label at the left edge of a block, value at its right."""
    return f"{label} {value:>{max(1, BLOCK_CELLS - len(label) - 1)}}"
