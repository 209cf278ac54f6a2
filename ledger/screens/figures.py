"""What the home screen says: a few figures for each block, or the sentence that says what would fill it.

The figures fit where the window is 80x24; the lists under them take what room there is beyond that.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from datetime import date
from textwrap import wrap

from checklists.progress import Standing, tally
from checklists.records import read_standings
from ledger.books.balances import balances
from ledger.books.books import Books
from ledger.books.entries import Entry, read_page
from ledger.jobs.bench import read_bench
from ledger.jobs.job import Job
from ledger.jobs.records import read_custody
from ledger.machine.curve import CurvePoint
from ledger.machine.payback import Payback
from ledger.machine.payback_record import PaybackRecord
from ledger.periods import quarter_holding
from ledger.quarter.questions import find_questions
from ledger.results.period import read_statement
from ledger.screens.open_items import read_open_items
from ledger.screens.showing import Showing, counted, cut, paired
from ledger.screens.told import More, Told
from ledger.screens.what_next import first_piece
from ledger.set_aside.due_dates import Due
from ledger.set_aside.owed import Owed, SetAside, is_there, read_set_aside
from ledger.text import shown

# Label and figure still read as one line at this width, and no longer beyond it.
WIDEST = 64
_LISTED = 24
_MONTHS = 12
# So many cells and more leave room for the whole sentence.
_NARROW, _WIDE_DUE = 20, 40
_HOUSEHOLD = "What passed through it since the books began. What it had then is not said: «Household», found with /."
_NO_DUE_DATE = "How often you file sales tax is not said yet: Set-up asks, and its due dates stand here."


class Telling:
    """Tells each block in so many cells."""

    def __init__(self, books: Books, showing: Showing, cells: int) -> None:
        self.books = books
        self.showing = showing
        self.cells = min(cells, WIDEST)

    def tell(self, name: str) -> Told:
        """The block of a room."""
        told: Told = getattr(self, name)()
        return told

    def bench(self) -> Told:
        """What is ready for pickup, what is in hand and to come, and what it is worth."""
        jobs = read_bench(self.books)
        if not jobs:
            return Told(["No piece is here.", "", *self._wrapped(first_piece(self.books))])
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
        return Told(lines, list(self._jobs(jobs)))

    def _jobs(self, jobs: Sequence[Job]) -> Iterator[More]:
        """Whose the pieces are; beside those that are in work or to come, when they were promised."""
        for title, states in (
            ("Ready for pickup", ("ready",)),
            ("In hand, promised", ("in-hand",)),
            ("To come", ("booked", "asked")),
        ):
            found = [job for job in jobs if job.status in states]
            if title == "Ready for pickup":
                rows = [self._cut(f"{job.customer.name}, {job.piece}") for job in found]
            else:
                found.sort(key=lambda job: (job.promised is None, job.promised))
                rows = [self._said(f"{job.customer.name}, {job.piece}", self._promised(job)) for job in found]
            yield from _list(title, rows[:_LISTED])
        owing = [job for job in jobs if job.owed_cents]
        yield from _list(
            "Still owed", [self._pair(f"{job.customer.name}, {job.piece}", job.owed_cents) for job in owing]
        )

    def _promised(self, job: Job) -> str:
        if job.promised is None:
            return ""
        is_late = job.status == "in-hand" and job.promised < self.books.today
        return self.showing.month_day(job.promised) + (" late" if is_late else "")

    def money(self) -> Told:
        """What is in both purses, and the last entries."""
        standing = {each.account.role: each.cents for each in balances(self.books, self.books.today)}
        there = [("Checking", standing["checking"]), ("Cash box", standing["cash_box"])]
        there += [("Savings", standing["tax_savings"])] if standing["tax_savings"] else []
        lines = [self._pair("Workshop", sum(cents for _, cents in there))]
        lines += [self._pair(f" {words}", cents) for words, cents in there]
        if standing["card_settlements"]:
            lines.append(self._pair(" On the way", standing["card_settlements"]))
        household = standing["household_checking"] + standing["personal_card"]
        is_opened = bool(standing["household_opening_balance"])
        lines.append(self._household(household, is_opened=is_opened))
        if standing["owed_to_owner"]:
            lines.append(self._pair("Owes you", -standing["owed_to_owner"]))
        entries = [self._entry(each) for each in read_page(self.books, _LISTED)]
        unsaid = [] if is_opened else [More("Household", [self._wrapped(_HOUSEHOLD)])]
        return Told(lines, [*self._open(), *_list("Last entries", entries), *unsaid])

    def _household(self, cents: int, *, is_opened: bool) -> str:
        """Where nobody said what it had to begin with, only what has passed since, with a sign."""
        if is_opened:
            return self._pair("Household", cents)
        return self._said(
            "Household", f"{'+' if cents > 0 else ''}{self.showing.plain(cents)}" if cents else "none yet"
        )

    def _open(self) -> Iterator[More]:
        found = read_open_items(self.books)
        figures = (
            ("Customers owe", found.debts_cents),
            ("Card money on its way", found.cards_cents),
            ("Gift certificates out", found.gifts_cents),
            ("Deposits held of jobs that are gone", found.held_cents),
        )
        yield from _list("Open", [self._pair(words, cents) for words, cents in figures if cents])

    def _entry(self, entry: Entry) -> str:
        return self._pair(f"{self.showing.month_day(entry.on)} {entry.text}", entry.moved_cents)

    def machine(self) -> Told:
        """How far it is earned, in a bar, and about when the rest will be."""
        record = PaybackRecord(self.books)
        found = record.payback
        if not found.cost_cents or found.share_percent is None:
            told = self._wrapped("The machine has no price in the books yet.")
            return Told([*told, "", *self._wrapped("Press 3, then c, to enter what it cost.")])
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
        reached = [
            self._said(f"{each.what.capitalize()} of it earned", self.showing.day(each.reached_on))
            for each in record.milestones
            if each.reached_on
        ]
        more = [
            *_list("So far", [*self._so_far(found), *reached]),
            *_list("Earned by month", self._months(record.points)),
        ]
        return Told(lines, [*more, More("Mind", [self._wrapped("Before income tax and any pay for your time.")])])

    def _so_far(self, found: Payback) -> Iterator[str]:
        yield self._pair("Taken in", found.taken_in_cents)
        yield self._pair("Earned", found.earned_cents)
        if found.left_cents and found.forecast.early is not None:
            late = f"{found.forecast.late:%Y-%m}" if found.forecast.late else "later"
            yield self._said("In four of five cases", f"{found.forecast.early:%Y-%m} to {late}")

    def _months(self, points: Sequence[CurvePoint]) -> list[str]:
        """The last months, the newest first, each with a bar beside its figure."""
        before = [0, *(each.earned_cents for each in points)]
        earned = [(each.first_day, each.earned_cents - last) for each, last in zip(points, before, strict=False)]
        lately = earned[-_MONTHS:][::-1]
        most = max((cents for _, cents in lately), default=0)
        figures = [(f"{day:%Y-%m} ", self.showing.plain(cents), cents) for day, cents in lately]
        widest = max((len(figure) for _, figure, _ in figures), default=0)
        told = []
        for month, figure, cents in figures:
            cells = max(0, self.cells - len(month) - widest - 1)
            full = int(max(0, cents) / most * cells) if most > 0 else 0
            told.append(self._said(month + "█" * full, figure))
        return told

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
        else:
            lines.append("Nothing is due yet")
        late = len(found.late)
        lines += [f"{counted(late, 'payment')} late"] if late else []
        owed = [self._pair(words, cents) for words, cents in _owed_in_short(found.owed) if cents]
        dues = [More("Due", [self._due(found, each) for each in found.dues[:_LISTED]])] if found.dues else []
        mind = [] if any(each.kind == "sales tax" for each in found.dues) else [self._wrapped(_NO_DUE_DATE)]
        mind.append(self._wrapped("Sales tax is held in trust: it belongs to the state."))
        return Told(lines, [*_list("Owed to others now", owed), *dues, More("Mind", mind)])

    def _due(self, found: SetAside, due: Due) -> list[str]:
        """A due date with what it takes and whether that is there; in two lines where the block is narrow."""
        day = f"{self.showing.month_day(due.day)} {due.short}{', late' if due.is_late else ''}"
        if due.cents is None:
            takes = "not known yet"
        else:
            takes = f"{self.showing.plain(due.cents)} {is_there(found, due.cents)}" if due.cents else "nothing so far"
        return [self._said(day, takes)] if self.cells >= _WIDE_DUE else [self._cut(day), self._said("", takes)]

    def quarter(self) -> Told:
        """The days that are left of it, its totals so far, and what is still open."""
        period = quarter_holding(self.books.today)
        found = read_statement(self.books, period.start, self.books.today)
        questions = find_questions(self.books, period.start, self.books.today)
        days = counted((period.end - self.books.today).days, "day")
        lines = [
            self._said(period.label, days if self.cells < _NARROW else f"{days} left"),
            self._pair("Income", found.income_cents()),
            self._pair("Expenses", found.expenses_cents),
            self._pair("Net", found.net_cents()),
            f"{counted(len(questions), 'question')} open",
        ]
        if not found.income_cents() and not found.expenses_cents:
            lines += ["", *self._wrapped("Pickups (p) and receipts (s) fill it.")]
        asked = [self._wrapped(each) for each in questions]
        more = [More("Open questions", asked)] if asked else []
        spent = sorted(found.expenses, key=lambda line: -line.cents)
        return Told(lines, [*more, *_list("Expenses", [self._pair(each.account.name, each.cents) for each in spent])])

    def set_up(self) -> Told:
        """How far the list is, and what can be asked next."""
        standings = read_standings(self.books)
        found = tally(standings)
        lines = [f"{found.settled} of {found.items} settled", bar(found.settled / max(1, found.items), self.cells)]
        lines += [self._said("Asked", str(found.asked))] if found.asked else []
        dated = sorted((each for each in standings if each.due is not None and each.item), key=_due_day)
        if dated:
            day = _due_day(dated[0])
            words = "Next due" if day >= self.books.today else "Due since"
            lines.append(self._said(words, self.showing.month_day(day)))
        next_ones = [each.item.title for each in standings if each.item and each.can_be_asked]
        lines += ["Ask next:", *self._wrapped(next_ones[0])[:3]] if next_ones else []
        return Told(lines, list(self._items(standings, dated, next_ones[1:])))

    def _items(self, standings: Iterable[Standing], dated: Sequence[Standing], titles: Sequence[str]) -> Iterator[More]:
        yield from _list("Then", list(map(self._cut, titles)))
        waiting = [each.item.title for each in standings if each.item and each.state == "asked"]
        yield from _list("Asked, and no answer yet", list(map(self._cut, waiting)))
        due = ((each.item.title, _due_day(each)) for each in dated if each.item)
        yield from _list("Comes round", [self._said(title, self.showing.month_day(day)) for title, day in due])

    def _pair(self, label: str, cents: int) -> str:
        return self._said(label, self.showing.plain(cents))

    def _said(self, label: str, value: str) -> str:
        """Label at the left edge of a block, value at its right."""
        return paired(label, value, self.cells)

    def _cut(self, text: str) -> str:
        return cut(text, self.cells)

    def _wrapped(self, sentence: str) -> list[str]:
        return wrap(shown(sentence), self.cells)


def _list(title: str, rows: Sequence[str]) -> Iterator[More]:
    """A list, where it has a row."""
    if rows:
        yield More(title, [[each] for each in rows])


def _due_day(standing: Standing) -> date:
    assert standing.due is not None, "only what has a day is asked for it"
    return standing.due


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
