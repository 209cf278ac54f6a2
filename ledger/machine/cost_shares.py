"""What each machine earned by its share of the jobs, and what is left of its cost."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date, timedelta
from fractions import Fraction

from ledger.books.books import Books
from ledger.books.clock import Clock
from ledger.machine.cost import Cost, Machine
from ledger.machine.payback_record import read_payback
from ledger.machine.record import read_costs, read_machines, share_days, share_on
from ledger.money import largest_remainder, percent_of, round_half_up


@dataclass(frozen=True)
class MachineStanding:
    """earned_cents: by its share of the jobs, day by day. left_cents is never below zero."""

    cost: Cost
    earned_cents: int

    @property
    def left_cents(self) -> int:
        return max(0, self.cost.payback_cents - self.earned_cents)


def read_standings(books: Books) -> tuple[MachineStanding, ...]:
    """Each machine at the end of today."""
    spans, costs = _earned_by_span(books), read_costs(books, books.today)
    exact = [_earned(books, each.machine, spans) for each in costs]
    earned = largest_remainder(round_half_up(sum(exact, Fraction(0))), exact)
    return tuple(MachineStanding(cost, cents) for cost, cents in zip(costs, earned, strict=True))


def _earned(books: Books, machine: Machine, spans: Mapping[date, int]) -> Fraction:
    """What was earned in each span of days, by the share that held in it; not rounded."""
    shares = (percent_of(cents, share_on(books, machine, "jobs", first)) for first, cents in spans.items())
    return sum(shares, Fraction(0))


def _earned_by_span(books: Books) -> dict[date, int]:
    """What the workshop earned between two days on which some share of the jobs changed, by the first of them."""
    begun, today = books.settings.begun_on, books.today
    changes = {day for machine in read_machines(books) for day in share_days(books, machine, "jobs")}
    firsts = [begun, *sorted(each for each in changes if begun < each <= today)]
    spans, before = {}, 0
    for at, first in enumerate(firsts):
        last = firsts[at + 1] - timedelta(days=1) if at + 1 < len(firsts) else today
        earned = read_payback(replace(books, clock=Clock(last, books.clock.now))).earned_cents
        spans[first] = earned - before
        before = earned
    return spans
