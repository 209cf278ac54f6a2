"""Figures that stand beside the books: the mileage log, the part of meals that does not count, the home.

Nothing here is posted. Each is worked out for the year up to a day, so that a quarter is the difference of two such
figures and four quarters are the year to the cent.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from fractions import Fraction

from checklists.choices import WORKSHOP_AREA, held_choice
from checklists.home_rules import read_area
from ledger.books.balances import movements, read_accounts
from ledger.books.before_books import YearBefore, read_year_before
from ledger.books.books import Books
from ledger.figures.look_up import latest_figure
from ledger.money import percent_of, round_half_up
from ledger.periods import months_of, year_holding
from ledger.results.home import SimplifiedRate, figure_cents, months_used, simplified_cents
from ledger.results.method import ReturnMethod
from ledger.spending.mileage import rated, read_trips

_SIMPLIFIED_RATE, _SIMPLIFIED_AREA, _MEALS = "home_simplified_rate", "home_simplified_most_area", "meals_percent"


@dataclass(frozen=True)
class BesideTheBooks:
    """A year up to a day, in cents. meals_left_out: what of the meals does not count. notes: how sure the figures are.

    home_cents: by the method that was chosen, before the limit of line 29.
    """

    miles: Decimal
    mileage_cents: int
    meals_left_out_cents: int
    home_cents: int
    notes: tuple[str, ...]


def read_beside_the_books(books: Books, end: date, method: ReturnMethod) -> BesideTheBooks:
    """The figures of the calendar year that holds `end`, from its first day through that day."""
    start, before = year_holding(end).start, read_year_before(books, end.year)
    trips = rated(read_trips(books, start, end))
    meals, meals_notes = _meals_left_out(_meals(books, start, end) + _before(before, "meals"), end)
    home, home_notes = _home(books, start, end, method, before)
    if before.figures and method.home in ("simplified", "figure"):
        home_notes = (*home_notes, "home: months before these books are not counted")
    mileage_notes = () if all(each.is_known for each in trips) else (f"mileage: no published rate for {end.year} yet",)
    return BesideTheBooks(
        miles=sum((each.miles for each in trips), start=Decimal(0)),
        mileage_cents=sum(each.cents for each in trips),
        meals_left_out_cents=meals,
        home_cents=home,
        notes=(*mileage_notes, *meals_notes, *home_notes),
    )


def beside_before_the_books(books: Books, before: YearBefore, method: ReturnMethod) -> BesideTheBooks:
    """The figures of the part of the year before the books: trips of those days are in no log."""
    meals, notes = _meals_left_out(_before(before, "meals"), books.settings.begun_on)
    home = _before(before, "home_cost") if method.home in (None, "booked") else 0
    return BesideTheBooks(Decimal(0), 0, meals, home, notes)


def _before(before: YearBefore, role: str) -> int:
    return sum(each.cents for each in before.expenses if each.account is not None and each.account.role == role)


def _meals(books: Books, start: date, end: date) -> int:
    accounts = read_accounts(books)
    moved = movements(books, start, end)
    return sum(moved[each.id] for each in accounts.of_kind("expense") if accounts.counted_under(each).role == "meals")


def _meals_left_out(whole: int, end: date) -> tuple[int, tuple[str, ...]]:
    if not whole:
        return 0, ()
    share = latest_figure(_MEALS, end, asked_by="the form")
    return whole - round_half_up(percent_of(whole, share.value)), tuple(f"meals: {each}" for each in share.notes)


def _home(
    books: Books, start: date, end: date, method: ReturnMethod, before: YearBefore
) -> tuple[int, tuple[str, ...]]:
    if method.home in (None, "booked"):
        accounts = read_accounts(books)
        return movements(books, start, end)[accounts["home_cost"].id] + _before(before, "home_cost"), ()
    months = months_used(months_of(year_holding(end)), books.settings.begun_on, end)
    if method.home == "figure":
        return figure_cents(method.home_figure_cents, months), ()
    area = held_choice(books, WORKSHOP_AREA, end)
    if area is None:
        return 0, ("home: the workshop's area was not measured yet",)
    per_foot, most = (latest_figure(each, end, asked_by="the form") for each in (_SIMPLIFIED_RATE, _SIMPLIFIED_AREA))
    rate = SimplifiedRate(Fraction(per_foot.value) * books.currency.minor_units, Fraction(most.value))
    notes = tuple(f"home: {each}" for each in dict.fromkeys((*per_foot.notes, *most.notes)))
    return simplified_cents(read_area(area).square_feet, months, rate), notes
