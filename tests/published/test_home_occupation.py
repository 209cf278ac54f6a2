"""Published rules on work at home: each can be told to the list, with a house that is within and one that is above.

How sure: S seen in the source's own text (a stored copy), P on a page of the town about its own rules, 2 in a text
about it. What a place says today is for its office to say.

The four places that the shipped list names stand first. Sioux Falls stands twice, since its two texts differ. The
city's own page has a sign of one square foot and visits by clients or customers; a section of its code of ordinances
has a nameplate of two square feet and counts delivery vehicles among the four visits. The stored copy of that section
has no number; it lies among those of chapter 158, the joint zoning regulations of Lincoln County and Sioux Falls, so
that the two may hold in different places. Neither is bent to the other.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from pathlib import Path

import pytest

from checklists.fit import Care, DayOfVisits, Finding, Heard, HomeFacts, HomeRules, Practice, Rooms, Told, fit
from checklists.home_rules import read_area, read_floor_rule, read_hours
from ledger.actions.answers import AnswerRequest, perform
from ledger.books.books import Books
from ledger.jobs.home_fit import read_fit
from ledger.money import Currency
from tests import workshop

pytestmark = pytest.mark.published

USD = Currency("USD", 2)
TODAY = date(2026, 11, 25)


@dataclass(frozen=True)
class Place:
    """What a place says, as it would be typed; None where the source read says nothing that can be counted."""

    name: str
    source: str
    how: str
    floor: str | None = None
    visits: int | None = None
    hours: str | None = None
    people: int | None = None
    sign: str | None = None


@dataclass(frozen=True)
class Household:
    """rooms: workshop, floor, house, workshop in the garage, garage, in square feet."""

    rooms: tuple[str, str, str, str, str] = ("180", "900", "1800", "0", "400")
    visits: int = 0
    hours: str = "10 am to 4 pm"
    people: int = 0
    sign: str = "0"


SIOUX_FALLS = Place(
    "Sioux Falls, South Dakota",
    "City of Sioux Falls, home occupation requirements (divisions c, f, i; garage in its questions and answers)",
    "P",
    floor="0 % of the garage",
    visits=4,
    people=0,
    sign="1",
)
SIOUX_FALLS_CODE = Place(
    "Sioux Falls, South Dakota, code of ordinances",
    "Code of Ordinances of Sioux Falls, home occupations (c, f, i), joint zoning regulations",
    "S",
    visits=4,
    people=0,
    sign="2",
)
DAYTON = Place(
    "Dayton, Kentucky",
    "Dayton, Kentucky, code of ordinances, zoning code, section 9.11 (read once, not found again)",
    "S",
    floor="25 % of any one floor and 0 % of an accessory building",
)
REED_CITY = Place(
    "Reed City, Michigan",
    "Reed City, Michigan, code of ordinances, home occupations (read once, not found again)",
    "S",
    floor="50 % of the principal structure",
    sign="2",
)
SURF_CITY = Place(
    "Surf City, North Carolina",
    "Surf City, North Carolina, code of ordinances, appendix A, 5.14 (3, 4, 7, 8), 2020",
    "S",
    floor="25 % of the home",
    hours="7:00 a.m. to 9:00 p.m.",
    people=1,
    sign="6",
)
ROSSFORD = Place(
    "Rossford, Ohio",
    "Rossford, Ohio, code of ordinances, home occupations (a, b), 2008",
    "S",
    floor="25 % of the residence and 25 % of a garage",
    people=1,
)
CHANNAHON = Place(
    "Channahon, Illinois",
    "Channahon, Illinois, code of ordinances, home occupations (A)(1), (2), (3), (5)(b)",
    "S",
    floor="25 % of the dwelling or 400 square feet, whichever is less, and 0 % of the garage",
    people=1,
    sign="4",
)
KALAMAZOO = Place(
    "Kalamazoo, Michigan",
    "City of Kalamazoo, home-based business standards",
    "P",
    floor="500 square feet of a garage",
    hours="8:00 a.m. to 8:00 p.m.",
    people=2,
    sign="1",
)
SONOMA = Place(
    "Sonoma County, California",
    "County of Sonoma, live/work provisions (no holidays either, which is not counted here)",
    "P",
    floor="25 % of the home and 500 square feet of a garage",
    visits=8,
    hours="8:00 am to 6:00 pm",
    people=2,
    sign="2",
)
SAN_BERNARDINO = Place(
    "San Bernardino County, California, stored materials",
    "San Bernardino County code, section 84.12.090 (c), (e), (f)",
    "S",
    floor="25 % or 250 square feet of the dwelling, whichever is greater",
    hours="7:00 a.m. to 8:00 p.m.",
    people=1,
)
BRYAN = Place(
    "Bryan, Ohio",
    "Bryan, Ohio, code of ordinances, home occupations (b, c, e, f), 2024",
    "S",
    floor="25 % of the dwelling and 0 % of an outbuilding",
    hours="8:00 a.m. to 10:00 p.m.",
    people=2,
)
FAIRLAWN = Place(
    "Fairlawn, Ohio",
    "Fairlawn, Ohio, code of ordinances, 1258.04 (b)(5), (6)",
    "S",
    floor="15 % of the dwelling",
    people=0,
)
EUGENE = Place("Eugene, Oregon", "Eugene code, section 9.5350 (2), (9)", "S", people=2, sign="1.5")
OVERLAND_PARK = Place(
    "Overland Park, Kansas",
    "City of Overland Park, home-based businesses, parking and traffic",
    "P",
    visits=6,
    hours="6 am to 9 pm",
)
FOREST_GROVE = Place(
    "Forest Grove, Oregon",
    "Forest Grove development code, section 17.7.070 (A, G, H)",
    "S",
    visits=10,
    people=2,
    sign="6",
)

PLACES = (
    SIOUX_FALLS,
    SIOUX_FALLS_CODE,
    DAYTON,
    REED_CITY,
    SURF_CITY,
    ROSSFORD,
    CHANNAHON,
    KALAMAZOO,
    SONOMA,
    SAN_BERNARDINO,
    BRYAN,
    FAIRLAWN,
    EUGENE,
    OVERLAND_PARK,
    FOREST_GROVE,
)


def findings(place: Place, household: Household) -> tuple[Finding, ...]:
    told = Told("an_item", "zoning office of the town or county", place.name, TODAY)
    rules = HomeRules(
        floor=Heard(read_floor_rule(place.floor), told) if place.floor else None,
        visits_a_day=Heard(place.visits, told) if place.visits is not None else None,
        hours=Heard(read_hours(place.hours), told) if place.hours else None,
        people=Heard(place.people, told) if place.people is not None else None,
        sign=Heard(read_area(place.sign), told) if place.sign else None,
    )
    facts = HomeFacts(
        today=TODAY,
        rooms=Rooms(*map(read_area, household.rooms)),
        practice=Practice(household.people, read_area(household.sign), read_hours(household.hours)),
        visits=[DayOfVisits(TODAY, household.visits, household.visits)] if household.visits else [],
        care=Care(0, 0, 0, None),
    )
    return fit(rules, facts, USD)


# For each place a house at the very edge of what it says, worked out by hand: 25 % of 1,800 square feet is 450, of a
# floor of 900 it is 225, of a garage of 400 it is 100; 15 % of 1,800 is 270; 25 % of 800 is 200, so that 250 is more.
AT_THE_EDGE = {
    SIOUX_FALLS: Household(visits=4, sign="1"),
    SIOUX_FALLS_CODE: Household(visits=4, sign="2"),
    DAYTON: Household(("225", "900", "1800", "0", "400")),
    REED_CITY: Household(("900", "900", "1800", "0", "400"), sign="2"),
    SURF_CITY: Household(("450", "900", "1800", "0", "400"), hours="7 am to 9 pm", people=1, sign="6"),
    ROSSFORD: Household(("450", "900", "1800", "100", "400"), people=1),
    CHANNAHON: Household(("400", "900", "1800", "0", "400"), people=1, sign="4"),
    KALAMAZOO: Household(("0", "900", "1800", "500", "600"), hours="8 am to 8 pm", people=2, sign="1"),
    SONOMA: Household(("450", "900", "1800", "500", "600"), 8, "8 am to 6 pm", 2, "2"),
    SAN_BERNARDINO: Household(("250", "800", "800", "0", "400"), hours="7 am to 8 pm", people=1),
    BRYAN: Household(("450", "900", "1800", "0", "400"), hours="8 am to 10 pm", people=2),
    FAIRLAWN: Household(("270", "900", "1800", "0", "400")),
    EUGENE: Household(people=2, sign="1.5"),
    OVERLAND_PARK: Household(visits=6, hours="6 am to 9 pm"),
    FOREST_GROVE: Household(visits=10, people=2, sign="6"),
}
# And one that is above in everything that the place counts, with what each is above by.
ABOVE = {
    SIOUX_FALLS: (Household(("0", "900", "1800", "200", "400"), 5, people=1, sign="2"), ["50.00", 1, 1, "1"]),
    SIOUX_FALLS_CODE: (Household(visits=7, people=2, sign="2.5"), [3, 2, "0.5"]),
    DAYTON: (Household(("270", "900", "1800", "40", "400")), ["5.00", "10.00"]),
    REED_CITY: (Household(("990", "990", "1800", "0", "400"), sign="3"), ["5.00", "1"]),
    SURF_CITY: (
        Household(("540", "900", "1800", "0", "400"), hours="7 am to 9:30 pm", people=2, sign="8"),
        ["5.00", "30 minutes a day", 1, "2"],
    ),
    ROSSFORD: (Household(("468", "900", "1800", "120", "400"), people=3), ["1.00", "5.00", 2]),
    CHANNAHON: (Household(("460", "900", "1800", "4", "400"), people=2, sign="4.5"), ["0.56", "60", "1.00", 1, "0.5"]),
    KALAMAZOO: (
        Household(("0", "900", "1800", "525", "600"), hours="7 am to 9 pm", people=3, sign="2"),
        ["25", "120 minutes a day", 1, "1"],
    ),
    SONOMA: (
        Household(("540", "900", "1800", "600", "600"), 9, "8 am to 7 pm", 3, "2.5"),
        ["5.00", "100", 1, "60 minutes a day", 1, "0.5"],
    ),
    SAN_BERNARDINO: (
        Household(("260", "800", "800", "0", "400"), hours="6:30 am to 8 pm", people=2),
        ["10", "30 minutes a day", 1],
    ),
    BRYAN: (
        Household(("468", "900", "1800", "8", "400"), hours="8 am to 10:15 pm", people=3),
        ["1.00", "2.00", "15 minutes a day", 1],
    ),
    FAIRLAWN: (Household(("288", "900", "1800", "0", "400"), people=1), ["1.00", 1]),
    EUGENE: (Household(people=3, sign="2"), [1, "0.5"]),
    OVERLAND_PARK: (Household(visits=7, hours="5 am to 9 pm"), [1, "60 minutes a day"]),
    FOREST_GROVE: (Household(visits=11, people=4, sign="6.25"), [1, 2, "0.25"]),
}

each_place = pytest.mark.parametrize("place", PLACES, ids=lambda place: place.name)


@each_place
def test_a_house_at_the_edge_of_what_a_place_says_is_within(place: Place) -> None:
    found = findings(place, AT_THE_EDGE[place])
    assert found
    assert [each.rule for each in found if each.within is not True] == []


@each_place
def test_a_house_above_what_a_place_says_is_told_by_how_much(place: Place) -> None:
    household, above_by = ABOVE[place]
    assert [each.above_by for each in findings(place, household)] == above_by


@each_place
def test_a_published_rule_has_a_source_and_says_how_it_was_read(place: Place) -> None:
    assert place.source
    assert place.how in ("S", "P", "2")


def test_one_house_can_be_within_one_text_of_a_place_and_above_another() -> None:
    nameplate = Household(visits=4, sign="2")
    assert [each.rule for each in findings(SIOUX_FALLS_CODE, nameplate) if each.is_above] == []
    assert [each.rule for each in findings(SIOUX_FALLS, nameplate) if each.is_above] == ["sign"]


# The limit of a standard home policy: Insurance Services Office, homeowners form HO 00 03, edition 01-00, coverage C,
# special limits of liability, 3.h: 2,500 dollars for property on the premises that is used mainly for business. Read in
# texts about it. Whether that covers other people's pieces at all is for the insurer to say.
STANDARD_HOME_POLICY = "2500"


@pytest.fixture(scope="module")
def books(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Books]:
    """A shelf with pieces of 900.00, 800.00 and 800.00, and the next day one more of 450.00."""
    begun = workshop.begin_taxed(tmp_path_factory.mktemp("policy") / "books")
    for value in (900_00, 800_00, 800_00):
        workshop.job_for(begun, "80.00", value=value)
    tuesday = workshop.on_day(begun, date(2026, 1, 6))
    workshop.job_for(tuesday, "80.00", value=450_00)
    request = AnswerRequest("insurance_limit", STANDARD_HOME_POLICY, "the agent", reference="HO 00 03, coverage C, 3.h")
    perform(begun, request)
    yield begun
    begun.close()


def test_pieces_worth_as_much_as_the_limit_of_a_home_policy_are_within(books: Books) -> None:
    (finding,) = read_fit(books)
    assert (finding.limit, finding.fact, finding.within) == ("2500.00", "2500.00", True)


def test_one_piece_more_is_above_the_limit_of_a_home_policy(books: Books, tmp_path: Path) -> None:
    (finding,) = read_fit(workshop.on_day(books, date(2026, 1, 6)))
    assert (finding.fact, finding.above_by, finding.when) == ("2950.00", "450.00", date(2026, 1, 6))
    assert finding.told.reference == "HO 00 03, coverage C, 3.h"
    assert finding.words.endswith("Who decides: insurance agent.")
