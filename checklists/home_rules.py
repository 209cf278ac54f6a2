"""Limits on a workshop at home as offices word them, read strictly: a share of the floor, a size, hours.

What is kept reads back as the same: `str()` of each class here is the kept form.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from typing import Final, Literal

from ledger.errors import NotUnderstood, Refused
from ledger.money import plain_decimal, read_percent, read_quantity
from ledger.text import read_text, shown

Place = Literal["house", "floor", "garage"]
Measure = Literal["%", "square feet", "square metres"]

# A foot is 0.3048 m: the international yard and pound agreement, 1959.
SQUARE_FEET_IN_A_SQUARE_METRE: Final = 1 / (Fraction(3048, 10_000) ** 2)
WEEKDAYS: Final = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
MINUTES_OF_A_DAY: Final = 24 * 60

_PLACES: dict[str, Place] = {
    **dict.fromkeys(("house", "home", "dwelling", "residence", "principal structure"), "house"),
    **dict.fromkeys(("floor", "storey", "story"), "floor"),
    **dict.fromkeys(("garage", "outbuilding", "accessory building", "shed"), "garage"),
}
_FEET = r"square f(?:ee|oo)t|sq\.? ?ft\.?"
_METRES = r"square met(?:re|er)s?|sq\.? ?m\.?|m2|m²"
_AREA = re.compile(rf"(?P<number>\S*[0-9]\S*?) ?(?:(?P<feet>{_FEET})|(?P<metres>{_METRES}))?", re.IGNORECASE)
_LIMIT = re.compile(
    rf"(?P<number>\S+?) ?(?:(?P<percent>%|percent|per cent)|(?P<feet>{_FEET})|(?P<metres>{_METRES}))"
    rf"(?: of (?:the |a |an |any |one |my )*(?P<place>{'|'.join(_PLACES)}))?",
    re.IGNORECASE,
)
_WHICHEVER = re.compile(r",? whichever is (?:(?P<less>less|smaller|lower)|greater|larger|more|higher)$", re.IGNORECASE)
_TIME = r"(?P<{0}_hour>[0-9]{{1,2}})(?:[:.](?P<{0}_minute>[0-9]{{2}}))? ?(?P<{0}_half>[ap]\.?m\.?)?"
_BETWEEN = r" ?(?:to|till|until|through|and|-|–) ?"
_DAY = r"(?P<{0}>mon|tue|wed|thu|fri|sat|sun)[a-z]*"
_DAYS = rf"{_DAY.format('{0}_first')}(?:{_BETWEEN}{_DAY.format('{0}_last')})?"
_HOURS = re.compile(
    rf"(?:{_DAYS.format('before')},? )?(?:from |between )?{_TIME.format('opens')}{_BETWEEN}{_TIME.format('closes')}"
    rf"(?:,? (?:on )?{_DAYS.format('after')})?",
    re.IGNORECASE,
)


@dataclass(frozen=True)
class Area:
    """number: how many of the unit."""

    number: Decimal
    unit: Literal["square feet", "square metres"] = "square feet"

    @property
    def square_feet(self) -> Fraction:
        return Fraction(self.number) * (1 if self.unit == "square feet" else SQUARE_FEET_IN_A_SQUARE_METRE)

    def __str__(self) -> str:
        return f"{plain_decimal(self.number)} {self.unit}"


@dataclass(frozen=True)
class FloorLimit:
    """At most so much of a place. most: percent of it, or an area there. floor: the one that the workshop is on."""

    most: Decimal
    measure: Measure
    place: Place

    def most_square_feet(self, place_square_feet: Fraction) -> Fraction:
        """The area that the limit comes to in a place of that size."""
        if self.measure == "%":
            return place_square_feet * Fraction(self.most) / 100
        return Area(self.most, self.measure).square_feet

    def __str__(self) -> str:
        return f"{plain_decimal(self.most)} {self.measure} of {'one' if self.place == 'floor' else 'the'} {self.place}"


@dataclass(frozen=True)
class FloorRule:
    """Limits that all hold at once; of several side by side in one of them the greater counts."""

    limits: tuple[tuple[FloorLimit, ...], ...]

    def __str__(self) -> str:
        return " and ".join(map(either_of, self.limits))


@dataclass(frozen=True)
class VisitHours:
    """When customers come. opens, closes: minutes after midnight. first_day, last_day: 0 is Monday; Saturday to Monday
    goes past the end of the week."""

    opens: int
    closes: int
    first_day: int = 0
    last_day: int = 6

    @property
    def weekdays(self) -> frozenset[int]:
        return frozenset((self.first_day + step) % 7 for step in range((self.last_day - self.first_day) % 7 + 1))

    @property
    def days(self) -> str:
        """The days in words, empty where they are all seven."""
        if len(self.weekdays) == 7:
            return ""
        first, last = WEEKDAYS[self.first_day], WEEKDAYS[self.last_day]
        return first if first == last else f"{first} to {last}"

    @property
    def times(self) -> str:
        return f"{_clock(self.opens)} to {_clock(self.closes)}"

    def __str__(self) -> str:
        return f"{self.days} {self.times}".strip()


def either_of(limits: tuple[FloorLimit, ...]) -> str:
    """Limits of which the greater counts, in words."""
    return " or ".join(map(str, limits)) + (", whichever is greater" if len(limits) > 1 else "")


def read_area(text: str, field: str | None = None) -> Area:
    """`180`, `180 square feet`, `16.5 square metres`, `0`; feet where nothing else is said. Raises NotUnderstood."""
    found = _AREA.fullmatch(_spaced(text, field))
    if found is None:
        raise NotUnderstood(
            f"«{shown(text)[:40]}» is no size.", "Write it like «180 square feet», width times length.", field
        )
    number = _number(found["number"], field)
    return Area(number, "square metres" if found["metres"] else "square feet")


def read_floor_rule(text: str, field: str | None = None) -> FloorRule:
    """`25 % of the house`, `25 % of one floor and 0 square feet of the garage`, `25 % or 400 square feet of the house,
    whichever is less`. Raises NotUnderstood, also for a share above the whole."""
    clauses = re.split(r"(?:,|;)? and | ?; ?", _spaced(text, field).rstrip("."), flags=re.IGNORECASE)
    return FloorRule(tuple(limits for clause in clauses for limits in _read_clause(clause, text, field)))


def read_hours(text: str, field: str | None = None) -> VisitHours:
    """`7 am to 9 pm`, `08:30-18:00`, `8 am to 6 pm, Monday to Saturday`. Raises NotUnderstood."""
    found = _HOURS.fullmatch(_spaced(text, field))
    if found is None or (found["before_first"] and found["after_first"]):
        raise NotUnderstood(
            f"«{shown(text)[:60]}» are no hours.",
            "Write them like «7 am to 9 pm» or «8 am to 6 pm, Monday to Saturday».",
            field,
        )
    opens, closes = (_minutes(found, which, text, field) for which in ("opens", "closes"))
    if closes <= opens:
        raise NotUnderstood(f"«{shown(text)[:60]}» end before they begin.", "Write am or pm with both.", field)
    first = found["before_first"] or found["after_first"]
    if first is None:
        return VisitHours(opens, closes)
    last = found["before_last"] or found["after_last"] or first
    return VisitHours(opens, closes, _weekday(first), _weekday(last))


def _read_clause(clause: str, whole: str, field: str | None) -> list[tuple[FloorLimit, ...]]:
    """The limits of one clause: each on its own where the less counts, side by side where the greater does."""
    whichever = _WHICHEVER.search(clause)
    found = [_LIMIT.fullmatch(each.strip(" ,")) for each in re.split(r" or ", clause[: _end(whichever, clause)])]
    places = [each["place"] for each in found if each and each["place"]]
    if not all(found) or not places:
        raise NotUnderstood(
            f"«{shown(whole)[:60]}» is no share of a floor.",
            "Write it like «25 % of the house», «25 % of one floor» or «400 square feet of the garage».",
            field,
        )
    if len(found) > 1 and whichever is None:
        raise NotUnderstood(
            "Of two limits one counts.",
            "Add «, whichever is less» or «, whichever is greater», as you were told.",
            field,
        )
    limits = tuple(_limit(each, _PLACES[(each["place"] or places[-1]).lower()], field) for each in found if each)
    return [limits] if whichever and not whichever["less"] else [(each,) for each in limits]


def _limit(found: re.Match[str], place: Place, field: str | None) -> FloorLimit:
    if found["percent"]:
        return FloorLimit(read_percent(found["number"], field), "%", place)
    return FloorLimit(_number(found["number"], field), "square metres" if found["metres"] else "square feet", place)


def _end(whichever: re.Match[str] | None, clause: str) -> int:
    return whichever.start() if whichever else len(clause)


def _number(text: str, field: str | None) -> Decimal:
    """A size, zero included."""
    try:
        return read_quantity(text, field)
    except Refused:
        if re.fullmatch(r"0{1,9}(?:\.0{1,6})?", text):
            return Decimal(0)
        raise


def _minutes(found: re.Match[str], which: str, text: str, field: str | None) -> int:
    hour, minute, half = int(found[f"{which}_hour"]), found[f"{which}_minute"], found[f"{which}_half"]
    if half is None and minute is None:
        raise NotUnderstood(f"«{shown(text)[:60]}» leaves morning or evening open.", "Write am or pm with both.", field)
    if half is not None and 1 <= hour <= 12:
        hour = hour % 12 + (12 if half.lower().startswith("p") else 0)
    elif half is not None:
        hour = MINUTES_OF_A_DAY
    minutes = hour * 60 + int(minute or 0)
    if minutes > MINUTES_OF_A_DAY or int(minute or 0) > 59:
        raise NotUnderstood(f"«{shown(text)[:60]}» holds no time of a day.", "Write it like 7 am or 19:30.", field)
    return minutes


def _weekday(name: str) -> int:
    return next(number for number, day in enumerate(WEEKDAYS) if day.lower().startswith(name.lower()))


def _clock(minutes: int) -> str:
    return f"{minutes // 60:02}:{minutes % 60:02}"


def _spaced(text: str, field: str | None) -> str:
    return " ".join(read_text(text, field).split())
