"""The depreciation memo of the books: every part of the machines by the tables, with the limits that are published."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from ledger.books.books import Books
from ledger.errors import FigureNotKnown
from ledger.figures.look_up import depreciation_column_name, latest_column, latest_figure
from ledger.figures.published import Figure, PercentColumn
from ledger.machine.cost import COMES_BACK, Machine, Part
from ledger.machine.depreciation import CLASSES, Convention, Purchase, Year, basis, convention_of, years_of
from ledger.machine.record import read_machines, read_parts, share_on

ASKED_BY = "the depreciation memo"
FOR_THE_ACCOUNTANT = (
    "For your accountant. Nothing is posted.",
    "Class life, method and what is expensed at once are theirs to choose.",
)
_BONUS = (
    ("bonus_percent", "acquired by 2025-01-19"),
    ("bonus_percent_acquired_after_2025_01_19", "acquired after that"),
)


@dataclass(frozen=True)
class Limits:
    """What is published for the year of a purchase; None where nothing is kept. bonus: words, and the percent."""

    section_179: Figure | None
    reduced_above: Figure | None
    bonus: tuple[tuple[str, Figure], ...]


@dataclass(frozen=True)
class MemoLine:
    """A part in a tax year. years: by class life, the year's percent and amount; None once it is written down.

    business_percent: the workshop's share of its use at the end of the year. basis_cents: after that share.
    """

    machine: Machine
    part: Part
    convention: Convention
    business_percent: Decimal
    basis_cents: int
    years: tuple[tuple[int, Year | None], ...]


@dataclass(frozen=True)
class Memo:
    """came_back: what was sold or given in that year, whose gain or loss is the accountant's."""

    year: int
    lines: tuple[MemoLine, ...]
    came_back: tuple[Part, ...]

    def total_cents(self, class_years: int) -> int:
        return sum(
            year.cents for each in self.lines for of, year in each.years if of == class_years and year is not None
        )


def read_memo(books: Books, year: int) -> Memo:
    """The memo of a tax year, from what is in the books today. Raises NoFigure before the first year of the tables."""
    end = min(date(year, 12, 31), books.today)
    parts = [each for each in read_parts(books, books.today) if each.placed_on <= end]
    machines = {each.id: each for each in read_machines(books)}
    with_basis = [each for each in parts if each.basis_cents > 0]
    lines = tuple(_line(books, machines[each.machine], each, with_basis, year, end) for each in with_basis)
    came_back = tuple(each for each in parts if each.kind in COMES_BACK and each.day.year == year)
    return Memo(year, lines, came_back)


def _line(books: Books, machine: Machine, part: Part, parts: Iterable[Part], year: int, end: date) -> MemoLine:
    purchases = purchases_of(books, part.placed_on.year, parts)
    convention = convention_of(purchases, _above(part.placed_on))
    percent = share_on(books, machine, "use", end)
    own = basis(part.basis_cents, percent, 0, Decimal(0)).cents
    years = tuple(
        (
            each,
            next(
                (
                    one
                    for one in years_of(own, table(each, part.placed_on, convention).percents, part.placed_on)
                    if one.year == year
                ),
                None,
            ),
        )
        for each in CLASSES
    )
    return MemoLine(machine, part, convention, percent, own, years)


def purchases_of(books: Books, year: int, parts: Iterable[Part]) -> list[Purchase]:
    """What was placed in service in a year, by the workshop's share of its basis on that day."""
    machines = {each.id: each for each in read_machines(books)}
    return [
        Purchase(
            each.placed_on,
            basis(
                each.basis_cents, share_on(books, machines[each.machine], "use", each.placed_on), 0, Decimal(0)
            ).cents,
        )
        for each in parts
        if each.placed_on.year == year and each.basis_cents > 0
    ]


def convention_on(purchases: Iterable[Purchase], placed: date) -> Convention:
    """By the published share above which the mid-quarter tables apply. Raises NoFigure before the first year of it."""
    return convention_of(purchases, _above(placed))


def table(class_years: int, placed: date, convention: Convention) -> PercentColumn:
    """The published column. Raises NoFigure before the first year of it."""
    name = depreciation_column_name(class_years, placed, mid_quarter=convention == "mid-quarter")
    return latest_column(name, placed, asked_by=ASKED_BY)


def limits_on(placed: date) -> Limits:
    """Section 179 and bonus, as they are published for the day on which something was placed in service."""
    bonus = [(words, _figure(name, placed)) for name, words in _BONUS]
    return Limits(
        _figure("section_179_limit", placed),
        _figure("section_179_reduced_above", placed),
        tuple((words, each) for words, each in bonus if each is not None),
    )


def _above(placed: date) -> Decimal:
    return latest_figure("mid_quarter_above_percent", placed, asked_by=ASKED_BY).value


def _figure(name: str, placed: date) -> Figure | None:
    try:
        return latest_figure(name, placed, asked_by=ASKED_BY)
    except FigureNotKnown:
        return None
