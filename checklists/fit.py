"""What she was told the rules are, set beside how she works: floor, visits, hours, people, sign, and insured value.

It says «within what you were told» or «above», by how much, and who decides. It never says what may be done: an office
can have meant it otherwise, and decides. No database here; `ledger.jobs.home_fit` reads rules and facts.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from fractions import Fraction
from math import ceil
from typing import Final, Generic, TypeVar

from checklists.home_rules import WEEKDAYS, Area, FloorLimit, FloorRule, Place, VisitHours, either_of
from ledger.money import Currency, plain_amount, plain_decimal, plain_percent, round_half_up

Rule = TypeVar("Rule")
_LOG_KNOWS: Final = "The log has drop-offs and pickups; deliveries are not in it."
# Units that the value or the rule's name has in itself.
_SAYS_ITSELF: Final = ("hours", "days", "visits", "people")


@dataclass(frozen=True)
class Told:
    """Where a rule comes from. item: of the set-up list. decides: the kind of office. by, on, reference, expires: of
    the answer, None where that is not known."""

    item: str
    decides: str
    by: str | None = None
    on: date | None = None
    reference: str | None = None
    expires: date | None = None

    @property
    def words(self) -> str:
        """Who said it and when, and who decides."""
        said = f"Told by {self.by} on {self.on}. " if self.by else ""
        return f"{said}Who decides: {self.decides}."


@dataclass(frozen=True)
class Heard(Generic[Rule]):
    """A rule as she was told it."""

    rule: Rule
    told: Told


@dataclass(frozen=True)
class HomeRules:
    """What she was told; None where she was told nothing. people: the most who work there and live elsewhere."""

    floor: Heard[FloorRule] | None = None
    visits_a_day: Heard[int] | None = None
    hours: Heard[VisitHours] | None = None
    people: Heard[int] | None = None
    sign: Heard[Area] | None = None
    insured_cents: Heard[int] | None = None


@dataclass(frozen=True)
class Rooms:
    """Sizes as she measured them. floor: that of the floor which the workshop is on. garage: or an outbuilding."""

    workshop: Area
    floor: Area
    house: Area
    workshop_in_garage: Area
    garage: Area

    def used_and_whole(self, place: Place) -> tuple[Fraction, Fraction]:
        """Square feet that the workshop takes of a place, and square feet of the place."""
        if place == "garage":
            return self.workshop_in_garage.square_feet, self.garage.square_feet
        return self.workshop.square_feet, (self.floor if place == "floor" else self.house).square_feet


@dataclass(frozen=True)
class Practice:
    """How she works. people: who live elsewhere, on the busiest day. hours: when she lets customers come."""

    people: int
    sign: Area
    hours: VisitHours


@dataclass(frozen=True)
class DayOfVisits:
    """visits: by how many different customers."""

    day: date
    visits: int
    customers: int


@dataclass(frozen=True)
class Care:
    """Other people's pieces: their value here today, and the highest that it ever was and when. Cents."""

    pieces: int
    value_cents: int
    highest_cents: int
    highest_on: date | None


@dataclass(frozen=True)
class HomeFacts:
    """What the books know of how she works; None where she has not measured or answered it. visits: days in order."""

    today: date
    rooms: Rooms | None
    practice: Practice | None
    visits: Sequence[DayOfVisits]
    care: Care


@dataclass(frozen=True)
class Finding:
    """One rule beside one fact, in the same unit: counts are whole numbers, everything else is text.

    within: None where the fact is not known. above_by: None unless it is above. when: the day of the fact. remark: what
    else is to be known, empty where nothing is.
    """

    rule: str
    told: Told
    limit: str | int
    fact: str | int | None
    unit: str
    within: bool | None
    above_by: str | int | None = None
    when: date | None = None
    remark: str = ""

    @property
    def is_above(self) -> bool:
        return self.within is False

    @property
    def words(self) -> str:
        """The finding in sentences, with who decides."""
        name, limit = self.rule[0].upper() + self.rule[1:], self._with_unit(self.limit)
        if self.within is None:
            said = f"{name}: you were told {limit}, and nothing is known to set beside it."
        else:
            fact = self._with_unit(self.fact) + (f" on {self.when}" if self.when else "")
            stands = "within" if self.within else "above"
            over = f"{self.above_by} points" if self.unit == "percent" else self._with_unit(self.above_by)
            by = f" by {over}" if self.is_above else ""
            said = f"{name}: {fact}, {stands} what you were told ({limit}){by}."
        return " ".join(part for part in (said, self.remark, self.told.words) if part)

    def _with_unit(self, value: str | int | None) -> str:
        if self.unit == "percent":
            return f"{value} %"
        return f"{value} {self.unit}" if self.unit not in _SAYS_ITSELF else str(value)


def fit(rules: HomeRules, facts: HomeFacts, currency: Currency) -> tuple[Finding, ...]:
    """A finding for every rule that she was told, in a fixed order."""
    found: list[Finding] = []
    if rules.floor is not None:
        found += [_floor(limits, rules.floor.told, facts.rooms) for limits in rules.floor.rule.limits]
    if rules.visits_a_day is not None:
        found.append(_visits(rules.visits_a_day, facts.visits))
    if rules.hours is not None:
        found += _hours(rules.hours, facts.practice, facts.visits)
    if rules.people is not None:
        found.append(_people(rules.people, facts.practice))
    if rules.sign is not None:
        found.append(_sign(rules.sign, facts.practice))
    if rules.insured_cents is not None:
        found.append(_insured(rules.insured_cents, facts.care, currency))
    return tuple(_with_age(each, facts.today) for each in found)


def _with_age(finding: Finding, today: date) -> Finding:
    """The finding, with a remark where what she was told has run out."""
    if finding.told.expires is None or finding.told.expires >= today:
        return finding
    remark = f"{finding.remark} What you were told ran out on {finding.told.expires}: ask again.".strip()
    return replace(finding, remark=remark)


def _floor(limits: tuple[FloorLimit, ...], told: Told, rooms: Rooms | None) -> Finding:
    """Of limits side by side the one that gives the most in these rooms counts."""
    told_as = f"Told as {either_of(limits)}." if len(limits) > 1 else ""
    if rooms is None:
        counts = limits[0]
        limit = plain_percent(counts.most) if counts.measure == "%" else plain_decimal(counts.most)
        return _unknown(_share_of(counts), told, limit, _unit_of(counts), "rooms_measured", told_as)
    counts = max(limits, key=lambda each: each.most_square_feet(rooms.used_and_whole(each.place)[1]))
    used, whole = rooms.used_and_whole(counts.place)
    over = used - counts.most_square_feet(whole)
    if counts.measure == "%":
        fact = used / whole * 100 if whole else Fraction(0)
        remark = f"That is {_rounded(over, 0)} square feet too many." if over > 0 else ""
    else:
        fact, remark = used / Area(Decimal(1), counts.measure).square_feet, ""
    return _measured(_share_of(counts), told, counts.most, fact, _unit_of(counts), remark=f"{remark} {told_as}".strip())


def _share_of(limit: FloorLimit) -> str:
    return f"floor share of the {limit.place}"


def _unit_of(limit: FloorLimit) -> str:
    return "percent" if limit.measure == "%" else limit.measure


def _visits(heard: Heard[int], visits: Sequence[DayOfVisits]) -> Finding:
    busiest = max(visits, key=lambda each: each.visits, default=None)
    if busiest is None:
        return Finding("visits a day", heard.told, heard.rule, 0, "visits", within=True, remark=_LOG_KNOWS)
    above = [each for each in visits if each.visits > heard.rule]
    said = [_LOG_KNOWS]
    if busiest.customers < busiest.visits:
        said.append(f"They were by {_counted(busiest.customers, 'customer')}: ask what counts as one visit.")
    if len(above) > 1:
        said.append(f"{len(above)} days were above it, the last {above[-1].day}.")
    return Finding(
        "visits a day",
        heard.told,
        heard.rule,
        busiest.visits,
        "visits",
        within=not above,
        above_by=busiest.visits - heard.rule if above else None,
        when=busiest.day,
        remark=" ".join(said),
    )


def _hours(heard: Heard[VisitHours], practice: Practice | None, visits: Sequence[DayOfVisits]) -> list[Finding]:
    """The times that she keeps, and, where days of the week were named, the days on which customers came."""
    rule, told = heard.rule, heard.told
    if practice is None:
        found = [_unknown("hours of customers", told, rule.times, "hours", "how_you_work")]
    else:
        own = practice.hours
        minutes = max(0, rule.opens - own.opens) + max(0, own.closes - rule.closes)
        above_by = f"{minutes} minutes a day" if minutes else None
        found = [Finding("hours of customers", told, rule.times, own.times, "hours", not minutes, above_by)]
    return [*found, _days(heard, practice, visits)] if rule.days else found


def _days(heard: Heard[VisitHours], practice: Practice | None, visits: Sequence[DayOfVisits]) -> Finding:
    """The days of the week on which customers came, and those on which she lets them come."""
    kept = practice.hours.weekdays if practice is not None else frozenset()
    outside = [each for each in visits if each.day.weekday() not in heard.rule.weekdays]
    came = kept.union(each.day.weekday() for each in visits)
    above = came - heard.rule.weekdays
    return Finding(
        "days of customers",
        heard.told,
        heard.rule.days,
        _day_names(came) or "none",
        "days",
        within=not above,
        above_by=_day_names(above) or None,
        when=outside[-1].day if outside else None,
    )


def _people(heard: Heard[int], practice: Practice | None) -> Finding:
    rule = "people who live elsewhere"
    if practice is None:
        return _unknown(rule, heard.told, heard.rule, "people", "how_you_work")
    over = practice.people - heard.rule
    return Finding(rule, heard.told, heard.rule, practice.people, "people", over <= 0, over if over > 0 else None)


def _sign(heard: Heard[Area], practice: Practice | None) -> Finding:
    most, unit = heard.rule.number, heard.rule.unit
    if practice is None:
        return _unknown("sign", heard.told, plain_decimal(most), unit, "how_you_work")
    return _measured("sign", heard.told, most, practice.sign.square_feet / Area(Decimal(1), unit).square_feet, unit)


def _insured(heard: Heard[int], care: Care, currency: Currency) -> Finding:
    limit = heard.rule
    over = care.highest_cents - limit
    return Finding(
        "insurance limit",
        heard.told,
        plain_amount(limit, currency),
        plain_amount(care.highest_cents, currency),
        currency.code,
        within=over <= 0,
        above_by=plain_amount(over, currency) if over > 0 else None,
        when=care.highest_on,
        remark=f"Here today: {_counted(care.pieces, 'piece')}, worth {plain_amount(care.value_cents, currency)}.",
    )


def _measured(rule: str, told: Told, limit: Decimal, fact: Fraction, unit: str, remark: str = "") -> Finding:
    """A size or share beside its limit, both in the unit; a percent has two decimals at least."""
    least, over = (2 if unit == "percent" else 0), fact - Fraction(limit)
    shown, above_by = _rounded(fact, least), None
    if over > 0:
        above_by = _rounded(over, least)
        if Decimal(above_by) == 0:  # a sliver above is not shown as nothing above
            shown, above_by = (_rounded(each, least, ceil) for each in (fact, over))
    return Finding(rule, told, plain_decimal(limit, least), shown, unit, over <= 0, above_by, remark=remark)


def _unknown(rule: str, told: Told, limit: str | int, unit: str, item: str, remark: str = "") -> Finding:
    return Finding(rule, told, limit, None, unit, within=None, remark=f"{remark} Answer «{item}» first.".strip())


def _rounded(exact: Fraction, least_decimals: int, to_hundredths: Callable[[Fraction], int] = round_half_up) -> str:
    """At most two decimals, and at least so many."""
    return plain_decimal(Decimal(to_hundredths(exact * 100)) / 100, least_decimals)


def _day_names(days: Iterable[int]) -> str:
    return ", ".join(WEEKDAYS[day] for day in sorted(days))


def _counted(number: int, one: str) -> str:
    return f"{number} {one}{'' if number == 1 else 's'}"
