"""What the home screen says: a few lines for each block, or the sentence that says what would fill it."""

from __future__ import annotations

from collections import Counter

from ledger.books.balances import balances
from ledger.books.books import Books
from ledger.jobs.bench import read_bench
from ledger.jobs.records import read_custody
from ledger.machine.record import read_payback
from ledger.periods import quarter_holding
from ledger.quarter.questions import find_questions
from ledger.results.period import read_statement
from ledger.screens.showing import Showing
from ledger.set_aside.owed import read_set_aside

BAR_CELLS = 20
_WAITING = {"in-hand": "in hand", "booked": "booked", "asked": "asked about"}


def home(books: Books, showing: Showing) -> dict[str, list[str]]:
    """Room name to the lines of its block."""
    return {
        "bench": _bench(books, showing),
        "money": _money(books, showing),
        "machine": _machine(books, showing),
        "set_aside": _set_aside(books, showing),
        "quarter": _quarter(books, showing),
        "set_up": _set_up(books),
    }


def bar(part: float, cells: int = BAR_CELLS) -> str:
    """A bar of so many cells; the first one is never empty once there is anything."""
    full = min(cells, max(0, round(part * cells)))
    return "█" * full + "░" * (cells - full)


def _bench(books: Books, showing: Showing) -> list[str]:
    jobs = read_bench(books)
    if not jobs:
        return ["No piece is here.", "", "Press n when the first", "one comes in."]
    count = Counter(job.status for job in jobs)
    waiting = ", ".join(f"{count[status]} {words}" for status, words in _WAITING.items() if count[status])
    late = sum(1 for job in jobs if job.status == "in-hand" and job.promised and job.promised < books.today)
    lines = [f"{count['ready']} ready for pickup", waiting]
    lines += [f"{late} past the promised day"] if late else []
    here = read_custody(books, books.today)
    return [*lines, "", f"{here.pieces} pieces in the house,", f"declared {showing.amount(here.value_cents)}"]


def _money(books: Books, showing: Showing) -> list[str]:
    standing = {each.account.role: each.cents for each in balances(books, books.today)}
    lines = [
        f"Checking  {showing.amount(standing['checking'])}",
        f"Cash box  {showing.amount(standing['cash_box'])}",
        f"Savings   {showing.amount(standing['tax_savings'])}",
    ]
    on_the_way = standing["card_settlements"]
    lines += ["Card money on the way", f"          {showing.amount(on_the_way)}"] if on_the_way else []
    return lines


def _machine(books: Books, showing: Showing) -> list[str]:
    found = read_payback(books)
    if not found.cost_cents or found.share_percent is None:
        return ["The machine has no price", "yet: twopurse machine cost", "will take it."]
    lines = [
        f"{showing.percent(found.share_percent)} earned",
        bar(found.earned_cents / found.cost_cents),
        f"of {showing.amount(found.cost_cents)}",
        f"left {showing.amount(found.left_cents)}",
    ]
    if found.left_cents == 0:
        return [*lines, "It is paid off."]
    if found.jobs_left is not None:
        lines.append(f"about {found.jobs_left} jobs")
    if found.forecast.middle is not None:
        lines.append(f"about {found.forecast.middle:%Y-%m}")
    return lines


def _set_aside(books: Books, showing: Showing) -> list[str]:
    found = read_set_aside(books, books.today)
    lines = [f"Sales tax {showing.amount(found.sales_tax_cents)}"]
    lines += [f"Deposits  {showing.amount(found.deposits_cents)}"] if found.deposits_cents else []
    lines += [f"Cards     {showing.amount(found.cards_cents)}"] if found.cards_cents else []
    if found.short_cents:
        return [*lines, "", f"Short by {showing.amount(found.short_cents)}"]
    return [*lines, "", "Left before income tax", showing.amount(found.free_cents)]


def _quarter(books: Books, showing: Showing) -> list[str]:
    period = quarter_holding(books.today)
    found = read_statement(books, period.start, books.today)
    days = (period.end - books.today).days
    open_questions = len(find_questions(books, period.start, books.today))
    return [
        f"{period.label}, {days} days left",
        f"Income   {showing.amount(found.income_cents())}",
        f"Expenses {showing.amount(found.expenses_cents)}",
        f"Net      {showing.amount(found.net_cents())}",
        "",
        f"{open_questions} questions open" if open_questions else "No question open",
    ]


def _set_up(books: Books) -> list[str]:
    return []
