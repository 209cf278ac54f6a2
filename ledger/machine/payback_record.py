"""What the books know of the payback: job income, what is taken off it, and the machine's cost, month by month."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from functools import cached_property

from ledger.books.accounts import Account, Accounts
from ledger.books.balances import movements, movements_by_month, read_accounts
from ledger.books.before_books import before_books_cents
from ledger.books.books import Books
from ledger.machine.curve import CurvePoint
from ledger.machine.forecast import Month, months_on, whole_months
from ledger.machine.milestones import DayStanding, Milestone, milestones
from ledger.machine.payback import EarnedBefore, Earnings, Lately, Payback, before_and, earnings, payback
from ledger.periods import month_holding

RECENT_DAYS = 90
_DAY = timedelta(days=1)
# What is taken off job income beside the expenses: it was counted as income and is not paid.
_GIVEN_UP = "balances_written_off"
# A part of the payback cost, and so no subtraction beside it.
_INTEREST = "loan_interest"

_BY_DAY = """
    select entry.date, posting.account, sum(posting.cents) from entry
    join posting on posting.entry = entry.number
    where entry.date between ? and ? group by entry.date, posting.account
"""
# Expenses that were entered as a cost of the machine, such as training: they are in its cost already.
_COSTS_AMONG_EXPENSES = """
    select entry.date, posting.account, sum(posting.cents) from entry
    join posting on posting.entry = entry.number
    join account on account.id = posting.account and account.kind = 'expense' and account.purse = 'business'
    where entry.date <= ? and entry.number in (select entry from machine_cost)
    group by entry.date, posting.account
"""


@dataclass
class PaybackRecord:
    """The payback at the end of today and everything it is made of, each read once."""

    books: Books

    @property
    def today(self) -> date:
        return self.books.today

    @cached_property
    def payback(self) -> Payback:
        points, accounts = self.points, self._accounts
        found = self._earnings(_added(self._by_month.values()), accounts)
        return payback(
            points[-1].cost_cents,
            before_and(self.before, found),
            self._lately(),
            self.months,
            self.today,
        )

    @cached_property
    def points(self) -> tuple[CurvePoint, ...]:
        """The end of every month since the books began, today's last."""
        cost, taken_in, earned = 0, self.before.taken_in_cents, self.before.earned_cents
        points = []
        costs = self._by_months(self._costs())
        for month in self._months():
            moved = self._by_month[month]
            found = self._earnings(moved, self._accounts)
            taken_in += found.taken_in_cents
            earned += found.earned_cents
            cost += costs[month] + moved[self._interest.id]
            points.append(CurvePoint(month, cost, taken_in, earned))
        return tuple(points)

    @cached_property
    def months(self) -> list[Month]:
        """The whole months of work, for a forecast."""
        if self.first_pickup is None:
            return []
        is_over = {month: month_holding(month).end <= self.today for month in self._months()}
        record = [
            Month(month, self._earnings(self._by_month[month], self._accounts).earned_cents)
            for month, over in is_over.items()
            if over  # a figure of a day is that of its end
        ]
        return whole_months(record, self.first_pickup)

    @cached_property
    def milestones(self) -> tuple[Milestone, ...]:
        return milestones(self.points, self._days_of)

    @cached_property
    def first_pickup(self) -> date | None:
        first = self.books.value(
            "select min(on_date) from job_event where what = 'picked up' and on_date <= ?", (self.today.isoformat(),)
        )
        return date.fromisoformat(first) if first is not None else None

    @cached_property
    def before(self) -> EarnedBefore:
        """What work had taken in and earned before the books."""
        taken_in, earned = (before_books_cents(self.books, each) for each in ("taken in", "earned"))
        return EarnedBefore(taken_in, earned)

    @cached_property
    def _accounts(self) -> Accounts:
        return read_accounts(self.books)

    @cached_property
    def _interest(self) -> Account:
        return self._accounts[_INTEREST]

    @cached_property
    def _by_month(self) -> Mapping[date, Mapping[int, int]]:
        """What each account moved by, without expenses that are a cost of the machine."""
        by_month: dict[date, dict[int, int]] = defaultdict(lambda: defaultdict(int))
        for month, moved in movements_by_month(self.books, self.today).items():
            by_month[month].update(moved)
        for day, account, cents in self._costs_among_expenses:
            by_month[day.replace(day=1)][account] -= cents
        return by_month

    @cached_property
    def _costs_among_expenses(self) -> list[tuple[date, int, int]]:
        rows = self.books.rows(_COSTS_AMONG_EXPENSES, (self.today.isoformat(),))
        found = [(date.fromisoformat(row[0]), row[1], row[2]) for row in rows]
        return [each for each in found if each[1] != self._interest.id]

    def _months(self) -> Iterator[date]:
        month = self.books.settings.begun_on.replace(day=1)
        while month <= self.today:
            yield month
            month = months_on(month, 1)

    def _costs(self) -> Iterator[tuple[date, int]]:
        """What was added to the cost, by day; what is from before the books counts on their first day."""
        begun = self.books.settings.begun_on
        for row in self.books.rows(
            "select on_date, sum(cents) from machine_cost where on_date <= ? group by on_date",
            (self.today.isoformat(),),
        ):
            yield max(begun, date.fromisoformat(row[0])), row[1]

    def _by_months(self, by_day: Iterable[tuple[date, int]]) -> Mapping[date, int]:
        sums: dict[date, int] = defaultdict(int)
        for day, cents in by_day:
            sums[day.replace(day=1)] += cents
        return sums

    def _earnings(self, moved: Mapping[int, int], accounts: Accounts) -> Earnings:
        """Job income net of discount and refunds, no tips; less balances written off and every expense."""
        taken_in = -sum(moved.get(accounts[role].id, 0) for role in ("job_income", "returns_and_allowances"))
        by_name: dict[str, int] = defaultdict(int)
        given_up = accounts[_GIVEN_UP]
        for each in (given_up, *accounts.of_kind("expense")):
            if each.role != _INTEREST:
                by_name[accounts.counted_under(each).name] += moved.get(each.id, 0)
        return earnings(taken_in, by_name.items())

    def _lately(self) -> Lately:
        begun = self.books.settings.begun_on
        start = max(begun, self.today - timedelta(days=RECENT_DAYS - 1))
        moved = defaultdict(int, movements(self.books, start, self.today))
        for day, account, cents in self._costs_among_expenses:
            if day >= start:
                moved[account] -= cents
        work_began = max(start, self.first_pickup or self.today + _DAY)
        return Lately(
            self._earnings(moved, self._accounts).earned_cents,
            self._jobs_picked_up(start),
            (self.today - work_began).days + 1,
        )

    def _jobs_picked_up(self, start: date) -> int:
        """Pickups since that day that stand at the end of today."""
        return int(
            self.books.value(
                "select count(*) from job_event where what = 'picked up' and on_date between ?1 and ?2 and not exists "
                "(select 1 from entry as mirror where mirror.reverses = job_event.entry and mirror.date <= ?2)",
                (start.isoformat(), self.today.isoformat()),
            )
        )

    def _days_of(self, point: CurvePoint) -> Iterator[DayStanding]:
        """What was earned and what it had cost at the end of each day of a month on which either moved."""
        start, end = point.first_day, min(month_holding(point.first_day).end, self.today)
        before = next((each for each in self.points if each.first_day == months_on(start, -1)), None)
        earned, cost = (before.earned_cents, before.cost_cents) if before else (self.before.earned_cents, 0)
        moved: dict[date, dict[int, int]] = defaultdict(lambda: defaultdict(int))
        for row in self.books.rows(_BY_DAY, (start.isoformat(), end.isoformat())):
            moved[date.fromisoformat(row[0])][row[1]] += row[2]
        for day, account, cents in self._costs_among_expenses:
            if start <= day <= end:
                moved[day][account] -= cents
        costs: dict[date, int] = defaultdict(int)
        for day, cents in self._costs():
            costs[day] += cents if start <= day <= end else 0
        for day in sorted({*moved, *(each for each, cents in costs.items() if cents)}):
            earned += self._earnings(moved[day], self._accounts).earned_cents
            cost += costs[day] + moved[day][self._interest.id]
            yield DayStanding(day, earned, cost)


def read_payback(books: Books) -> Payback:
    """Payback at the end of today."""
    return PaybackRecord(books).payback


def _added(each_moved: Iterable[Mapping[int, int]]) -> Mapping[int, int]:
    sums: dict[int, int] = defaultdict(int)
    for moved in each_moved:
        for account, cents in moved.items():
            sums[account] += cents
    return sums
