"""What the home screen says: a few lines for each block, or the sentence that says what would fill it.

Each block has `lines`, which fit where the window is 80x24, and `more`, of which as much is shown as fits too.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from textwrap import wrap

from checklists.progress import tally
from checklists.records import read_standings
from ledger.books.balances import balances
from ledger.books.books import Books
from ledger.books.entries import read_page
from ledger.jobs.bench import read_bench
from ledger.jobs.records import read_custody
from ledger.machine.payback_record import read_payback
from ledger.periods import quarter_holding
from ledger.quarter.questions import find_questions
from ledger.results.period import read_statement
from ledger.screens.showing import STATE_WORDS, Showing, counted, cut, paired
from ledger.set_aside.owed import Owed, is_there, read_set_aside
from ledger.text import shown

# Label and figure still read as one line at this width, and no longer beyond it.
WIDEST = 44
_LISTED = 24


@dataclass(frozen=True)
class Told:
    """What a block says. more: each as its lines, which are shown together or not at all."""

    lines: list[str]
    more: list[list[str]]

    def fitting(self, height: int) -> list[str]:
        """The lines, and of the others as many as there is room for, with an empty one between."""
        fitting, room = self.lines[:height], height - len(self.lines) - 1
        for number, each in enumerate(self.more):
            if len(each) > room:
                break
            fitting += ["", *each] if number == 0 else each
            room -= len(each)
        return fitting


class Telling:
    """Tells each block in so many cells."""

    def __init__(self, books: Books, showing: Showing, cells: int) -> None:
        self.books = books
        self.showing = showing
        self.whole_width = cells
        self.cells = min(cells, WIDEST)

    def tell(self, name: str) -> Told:
        """The block of a room."""
        told: Told = getattr(self, name)()
        return told

    def bench(self) -> Told:
        jobs = read_bench(self.books)
        if not jobs:
            return Told(["No piece is here.", "", *self._wrapped("Press n when the first one comes in.")], [])
        count = Counter(job.status for job in jobs)
        today = self.books.today
        late = sum(1 for job in jobs if job.status == "in-hand" and job.promised and job.promised < today)
        lines = [f"{count['ready']} ready for pickup"]
        lines.append(f"{count['in-hand']} in hand" + (f", {late} late" if late else ""))
        to_come = count["booked"] + count["asked"]
        lines += [f"{to_come} to come"] if to_come else []
        lines += [f"{count['gone']} gone, still owed"] if count["gone"] else []
        here = read_custody(self.books, today)
        lines += [f"{counted(here.pieces, 'piece')} here,", self._pair("worth", here.value_cents)]
        listed = (f"{STATE_WORDS[job.status]:<7}{job.customer.name}, {job.piece}" for job in jobs[:_LISTED])
        return Told(lines, [[self._cut(each)] for each in listed])

    def money(self) -> Told:
        standing = {each.account.role: each.cents for each in balances(self.books, self.books.today)}
        lines = ["Workshop", self._pair("Checking", standing["checking"]), self._pair("Cash box", standing["cash_box"])]
        lines.append(self._pair("Savings", standing["tax_savings"]))
        if standing["card_settlements"]:
            lines.append(self._pair("On the way", standing["card_settlements"]))
        if standing["owed_to_owner"]:
            lines.append(self._pair("Owes you", -standing["owed_to_owner"]))
        newest = read_page(self.books, _LISTED)
        return Told(lines, [[self._cut(f"{self.showing.month_day(each.on)} {each.text}")] for each in newest])

    def machine(self) -> Told:
        found = read_payback(self.books)
        if not found.cost_cents or found.share_percent is None:
            return Told(self._wrapped("The machine has no price in the books yet."), [])
        lines = [
            f"{self.showing.percent(found.share_percent)} earned",
            bar(found.earned_cents / found.cost_cents, self.cells),
            self._pair("Cost", found.cost_cents),
            self._pair("Left", found.left_cents),
        ]
        if found.left_cents == 0:
            lines.append("It is paid off.")
        elif found.jobs_left is not None:
            lines.append(self._said("Jobs, about", str(found.jobs_left)))
        if found.left_cents and found.forecast.middle is not None:
            lines.append(self._said("Done about", f"{found.forecast.middle:%Y-%m}"))
        more = [[self._pair("Taken in", found.taken_in_cents)], [self._pair("Earned", found.earned_cents)]]
        return Told(lines, [*more, self._wrapped("Before income tax and any pay for your time.")])

    def set_aside(self) -> Told:
        """What can be taken out, and what is due next with whether the money is there."""
        found = read_set_aside(self.books)
        if found.short_cents:
            lines = [self._pair("Short by", found.short_cents)]
        else:
            lines = [self._pair("To draw", found.free_cents)]
            lines += ["before income tax"] if found.is_before_income_tax else []
        lines.append(self._pair("To move", found.to_move_cents))
        due = found.next_due
        if due is not None:
            lines += [self._said("Next due", self.showing.month_day(due.day)), self._cut(due.short)]
            lines.append(self._pair(is_there(found, due.cents or 0), due.cents or 0))
        late = len(found.late)
        lines += [f"{counted(late, 'payment')} late"] if late else []
        owed = [[self._pair(words, cents)] for words, cents in _owed_in_short(found.owed) if cents]
        return Told(lines, [*owed, self._wrapped("Sales tax is held in trust: it belongs to the state.")])

    def quarter(self) -> Told:
        period = quarter_holding(self.books.today)
        found = read_statement(self.books, period.start, self.books.today)
        questions = find_questions(self.books, period.start, self.books.today)
        lines = [
            self._said(period.label, f"{counted((period.end - self.books.today).days, 'day')} left"),
            self._pair("Income", found.income_cents()),
            self._pair("Expenses", found.expenses_cents),
            self._pair("Net", found.net_cents()),
            f"{counted(len(questions), 'question')} open",
        ]
        return Told(lines, [self._wrapped(each) for each in questions])

    def set_up(self) -> Told:
        standings = read_standings(self.books)
        found = tally(standings)
        lines = [f"{found.settled} of {found.items} settled", bar(found.settled / max(1, found.items), self.cells)]
        lines += [self._said("Asked", str(found.asked))] if found.asked else []
        due = min((each.due for each in standings if each.due is not None), default=None)
        if due is not None:
            words = "Next due" if due >= self.books.today else "Due since"
            lines.append(self._said(words, self.showing.month_day(due)))
        next_ones = [each.item.title for each in standings if each.item and each.can_be_asked]
        lines += ["Ask next:", *self._wrapped(next_ones[0])[:3]] if next_ones else []
        return Told(lines, [self._wrapped(title) for title in next_ones[1:]])

    def _pair(self, label: str, cents: int) -> str:
        return self._said(label, self.showing.plain(cents))

    def _said(self, label: str, value: str) -> str:
        """Label at the left edge of a block, value at its right."""
        return paired(label, value, self.cells)

    def _cut(self, text: str) -> str:
        return cut(text, self.whole_width)

    def _wrapped(self, sentence: str) -> list[str]:
        return wrap(shown(sentence), self.cells)


def _owed_in_short(owed: Owed) -> tuple[tuple[str, int], ...]:
    """What is owed, with words for a narrow block: her own tax of every kind together."""
    return (
        ("Sales tax", owed.sales_tax),
        ("Possible", owed.possible_sales_tax),
        ("Use tax", owed.use_tax),
        ("Own tax", owed.self_employment + owed.additional_medicare + owed.income_tax),
        ("Deposits", owed.deposits),
        ("Gifts", owed.gift_certificates),
        ("Card", owed.cards),
        ("Owes you", owed.owed_to_owner),
        ("Due soon", owed.due_soon),
    )


def bar(part: float, cells: int) -> str:
    """A bar of so many cells, full as far as the part of one goes."""
    full = min(cells, max(0, int(part * cells)))
    return "█" * full + "░" * (cells - full)
