"""What she was told beside how she works: within or above, by how much, when, and who decides; never more than that."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from checklists.fit import (
    Care,
    DayOfVisits,
    Finding,
    Heard,
    HomeFacts,
    HomeRules,
    Practice,
    Rooms,
    Told,
    fit,
)
from checklists.home_rules import Area, read_area, read_floor_rule, read_hours
from ledger.money import Currency

USD, JPY = Currency("USD", 2), Currency("JPY", 0)
TODAY = date(2026, 6, 30)
OFFICE = "zoning office of the town or county"
TOLD = Told("an_item", OFFICE, "Mr Hale", date(2026, 1, 10))
PROMISES = re.compile("allowed|legal|complian|guarantee|deductib|permitted", re.IGNORECASE)
NO_CARE = Care(0, 0, 0, None)


def rooms(workshop: str, floor: str = "900", house: str = "1800", garage: str = "0 of 400") -> Rooms:
    used, whole = garage.split(" of ")
    return Rooms(*map(read_area, (workshop, floor, house, used, whole)))


def practice(people: int = 0, sign: str = "0", hours: str = "8 am to 6 pm") -> Practice:
    return Practice(people, read_area(sign), read_hours(hours))


def days(*visits: int, first: date = date(2026, 3, 2)) -> list[DayOfVisits]:
    """So many visits on each day from a Monday on, each by a customer of its own."""
    return [DayOfVisits(first + timedelta(number), count, count) for number, count in enumerate(visits) if count]


def facts(
    rooms: Rooms | None = None,
    practice: Practice | None = None,
    visits: Sequence[DayOfVisits] = (),
    care: Care = NO_CARE,
) -> HomeFacts:
    return HomeFacts(TODAY, rooms, practice, visits, care)


def floor_findings(rule: str, rooms: Rooms | None) -> tuple[Finding, ...]:
    return fit(HomeRules(floor=Heard(read_floor_rule(rule), TOLD)), facts(rooms), USD)


def the_one(rules: HomeRules, facts: HomeFacts, currency: Currency = USD) -> Finding:
    (finding,) = fit(rules, facts, currency)
    return finding


# The floor


@pytest.mark.parametrize(
    ("rule", "workshop", "fact", "above_by"),
    [
        ("25 % of the house", "450", "25.00", None),
        ("25 % of the house", "468", "26.00", "1.00"),
        ("25 % of one floor", "225", "25.00", None),
        ("25 % of one floor", "300", "33.33", "8.33"),
        ("400 square feet of the house", "400", "400", None),
        ("400 square feet of the house", "412.5", "412.5", "12.5"),
        ("40 square metres of the house", "40 square metres", "40", None),
        ("40 square metres of the house", "480 square feet", "44.59", "4.59"),
        ("0 % of the house", "0", "0.00", None),
    ],
)
def test_a_share_of_the_floor_is_measured_as_the_rule_has_it(
    rule: str, workshop: str, fact: str, above_by: str | None
) -> None:
    (finding,) = floor_findings(rule, rooms(workshop))
    assert (finding.fact, finding.above_by, finding.within) == (fact, above_by, above_by is None)


def test_too_large_a_share_is_told_in_square_feet_too() -> None:
    (finding,) = floor_findings("25 % of the house", rooms("520"))
    assert finding.words == (
        "Floor share of the house: 28.89 %, above what you were told (25.00 %) by 3.89 points. That is 70 square feet "
        f"too many. Told by Mr Hale on 2026-01-10. Who decides: {OFFICE}."
    )


def test_a_sliver_above_is_not_shown_as_nothing() -> None:
    """450.001 of 1,800 square feet is 25.00006 %."""
    (finding,) = floor_findings("25 % of the house", rooms("450.001"))
    assert (finding.fact, finding.above_by, finding.within) == ("25.01", "0.01", False)


def test_each_place_is_measured_on_its_own() -> None:
    house, garage = floor_findings("25 % of the house and 25 % of the garage", rooms("180", garage="120 of 400"))
    assert (house.rule, house.fact, house.within) == ("floor share of the house", "10.00", True)
    assert (garage.rule, garage.fact, garage.above_by) == ("floor share of the garage", "30.00", "5.00")


def test_no_workshop_in_a_garage_that_is_none_is_within() -> None:
    (finding,) = floor_findings("0 % of the garage", rooms("180", garage="0 of 0"))
    assert (finding.fact, finding.within) == ("0.00", True)


@pytest.mark.parametrize(
    ("house", "unit", "limit", "within"), [("800", "square feet", "250", True), ("1200", "percent", "25.00", True)]
)
def test_of_two_limits_side_by_side_the_greater_counts(house: str, unit: str, limit: str, within: bool) -> None:
    """25 % of 800 is 200 and less than 250; of 1,200 it is 300."""
    rule = "25 % of the house or 250 square feet of the house, whichever is greater"
    (finding,) = floor_findings(rule, rooms("240", floor="700", house=house))
    assert (finding.unit, finding.limit, finding.within) == (unit, limit, within)
    assert f"Told as {rule}." in finding.words


def test_of_two_limits_that_both_hold_each_is_a_finding() -> None:
    rule = "25 % or 400 square feet of the house, whichever is less"
    share, size = floor_findings(rule, rooms("420"))
    assert (share.within, size.within, size.above_by) == (True, False, "20")


def test_rooms_not_measured_are_not_taken_for_within() -> None:
    finding, _ = floor_findings("25 % of the house and 400 square feet of the house", None)
    assert (finding.fact, finding.within, finding.above_by) == (None, None, None)
    assert "Answer «rooms_measured» first." in finding.words
    assert "within" not in finding.words


# Visits


def visits_finding(most: int, visits: Sequence[DayOfVisits]) -> Finding:
    return the_one(HomeRules(visits_a_day=Heard(most, TOLD)), facts(visits=visits))


def test_the_busiest_day_is_set_beside_the_rule() -> None:
    finding = visits_finding(4, days(2, 4, 0, 1))
    assert (finding.fact, finding.when, finding.within) == (4, date(2026, 3, 3), True)


def test_a_day_above_is_told_with_its_date_and_how_many_there_were() -> None:
    finding = visits_finding(4, days(5, 2, 7, 6))
    assert (finding.fact, finding.above_by, finding.when) == (7, 3, date(2026, 3, 4))
    assert "Visits a day: 7 on 2026-03-04, above what you were told (4) by 3." in finding.words
    assert "3 days were above it, the last 2026-03-05." in finding.words


def test_the_first_of_several_busiest_days_is_named() -> None:
    assert visits_finding(4, days(3, 3)).when == date(2026, 3, 2)


def test_one_customer_with_two_pieces_is_a_question_for_the_office() -> None:
    finding = visits_finding(4, [DayOfVisits(date(2026, 3, 2), 5, 3)])
    assert "They were by 3 customers: ask what counts as one visit." in finding.words


def test_no_visit_at_all_is_within() -> None:
    finding = visits_finding(0, [])
    assert (finding.fact, finding.when, finding.within) == (0, None, True)


# Hours and days


def hours_findings(rule: str, practice: Practice | None, visits: Sequence[DayOfVisits] = ()) -> tuple[Finding, ...]:
    return fit(HomeRules(hours=Heard(read_hours(rule), TOLD)), facts(None, practice, visits), USD)


@pytest.mark.parametrize(
    ("own", "above_by"),
    [
        ("7 am to 9 pm", None),
        ("8 am to 6 pm", None),
        ("6:30 am to 9 pm", "30 minutes a day"),
        ("7 am to 10 pm", "60 minutes a day"),
        ("6 am to 9:15 pm", "75 minutes a day"),
    ],
)
def test_hours_are_above_by_the_minutes_outside(own: str, above_by: str | None) -> None:
    (finding,) = hours_findings("7 am to 9 pm", practice(hours=own))
    assert (finding.above_by, finding.within) == (above_by, above_by is None)


def test_days_of_the_week_are_read_from_the_log_too() -> None:
    """From Monday 2 March on; the seventh day is a Sunday."""
    times, weekdays = hours_findings("8 am to 6 pm, Monday to Saturday", None, days(1, 0, 0, 0, 0, 0, 2))
    assert (times.within, weekdays.within) == (None, False)
    assert (weekdays.fact, weekdays.above_by, weekdays.when) == ("Monday, Sunday", "Sunday", date(2026, 3, 8))


def test_days_that_she_offers_count_before_anybody_came() -> None:
    own = practice(hours="9 am to 5 pm, Saturday to Sunday")
    _, weekdays = hours_findings("8 am to 6 pm, Monday to Saturday", own)
    assert (weekdays.above_by, weekdays.when) == ("Sunday", None)


def test_a_rule_without_days_asks_for_none() -> None:
    assert [each.rule for each in hours_findings("7 am to 9 pm", practice(), days(1, 1, 1, 1, 1, 1, 1))] == [
        "hours of customers"
    ]


# People, sign, insured value


@pytest.mark.parametrize(("most", "people", "above_by"), [(0, 0, None), (1, 1, None), (0, 1, 1), (1, 3, 2)])
def test_people_who_live_elsewhere_are_counted(most: int, people: int, above_by: int | None) -> None:
    finding = the_one(HomeRules(people=Heard(most, TOLD)), facts(practice=practice(people)))
    assert (finding.limit, finding.fact, finding.above_by) == (most, people, above_by)
    assert finding.within == (above_by is None)


@pytest.mark.parametrize(
    ("most", "own", "fact", "above_by"),
    [
        ("2", "2", "2", None),
        ("2", "2.25", "2.25", "0.25"),
        ("0", "1", "1", "1"),
        ("0.2 square metres", "2 square feet", "0.19", None),
        ("0.2 square metres", "3 square feet", "0.28", "0.08"),
    ],
)
def test_a_sign_is_measured_in_the_unit_of_the_rule(most: str, own: str, fact: str, above_by: str | None) -> None:
    finding = the_one(HomeRules(sign=Heard(read_area(most), TOLD)), facts(practice=practice(sign=own)))
    assert (finding.fact, finding.above_by, finding.within) == (fact, above_by, above_by is None)


def test_the_highest_value_ever_stands_beside_the_limit_of_the_policy() -> None:
    care = Care(2, 900_00, 3_100_00, date(2026, 4, 2))
    finding = the_one(HomeRules(insured_cents=Heard(2_500_00, TOLD)), facts(care=care))
    assert (finding.limit, finding.fact, finding.above_by) == ("2500.00", "3100.00", "600.00")
    assert (finding.when, finding.unit) == (date(2026, 4, 2), "USD")
    assert "Here today: 2 pieces, worth 900.00." in finding.words


def test_a_value_at_the_limit_is_within() -> None:
    care = Care(1, 2_500_00, 2_500_00, TODAY)
    assert the_one(HomeRules(insured_cents=Heard(2_500_00, TOLD)), facts(care=care)).within is True


def test_nothing_insured_is_above_with_the_first_piece() -> None:
    care = Care(1, 400, 400, TODAY)
    finding = the_one(HomeRules(insured_cents=Heard(0, TOLD)), facts(care=care), JPY)
    assert (finding.limit, finding.fact, finding.above_by) == ("0", "400", "400")


# What is said


def test_what_has_run_out_is_told_with_its_last_day() -> None:
    yesterday = TODAY - timedelta(1)
    old = replace(TOLD, expires=yesterday)
    finding = the_one(HomeRules(people=Heard(1, old)), facts(practice=practice()))
    assert f"What you were told ran out on {yesterday}: ask again." in finding.words
    today = the_one(HomeRules(people=Heard(1, replace(TOLD, expires=TODAY))), facts(practice=practice()))
    assert "ran out" not in today.words


def test_a_rule_that_nobody_told_is_no_finding() -> None:
    assert fit(HomeRules(), facts(rooms("1700"), practice(9, "40", "0:00 to 24:00"), days(40)), USD) == ()


amounts = st.integers(0, 10_000_00)
areas = st.builds(Area, st.decimals(0, 900, places=2), st.sampled_from(["square feet", "square metres"]))
hours = st.tuples(st.integers(0, 23), st.integers(0, 6), st.integers(0, 6)).map(
    lambda each: read_hours(f"{each[0]}:00 to 24:00, {DAYS[each[1]]} to {DAYS[each[2]]}")
)
DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
told = st.builds(Told, st.just("an_item"), st.sampled_from([OFFICE, "insurance agent"]), st.none() | st.just("Mr Hale"))
all_rules = st.builds(
    HomeRules,
    st.sampled_from(["25 % of the house", "400 square feet of the garage", "0 % of one floor"])
    .map(read_floor_rule)
    .flatmap(lambda rule: told.map(lambda each: Heard(rule, each))),
    st.builds(Heard, st.integers(0, 20), told),
    st.builds(Heard, hours, told),
    st.builds(Heard, st.integers(0, 5), told),
    st.builds(Heard, areas, told),
    st.builds(Heard, amounts, told),
)
all_facts = st.builds(
    HomeFacts,
    st.just(TODAY),
    st.none()
    | st.tuples(*[st.integers(0, 900)] * 4).map(
        lambda each: rooms(*map(str, sorted(each[:3])), f"{min(each)} of {max(each)}")
    ),
    st.none() | st.builds(Practice, st.integers(0, 9), areas, hours),
    st.lists(st.integers(0, 12), max_size=9).map(lambda counts: days(*counts)),
    st.builds(Care, st.integers(0, 9), amounts, amounts, st.just(TODAY)),
)


@settings(max_examples=60)
@given(all_rules, all_facts)
def test_whatever_is_found_says_who_decides_and_promises_nothing(rules: HomeRules, facts: HomeFacts) -> None:
    for finding in fit(rules, facts, USD):
        assert finding.words.endswith(f"Who decides: {finding.told.decides}.")
        assert not PROMISES.search(finding.words)
        assert ("within what you were told" in finding.words) == (finding.within is True)
        assert ("above what you were told" in finding.words) == finding.is_above
        assert (finding.above_by is not None) == finding.is_above
        assert (finding.fact is None) == (finding.within is None)


@settings(max_examples=60)
@given(st.decimals(0, 100, places=3), st.integers(0, 1800), st.integers(1, 1800))
def test_within_goes_by_the_exact_share_and_what_is_shown_agrees(most: Decimal, used: int, house: int) -> None:
    house = max(used, house)
    (finding,) = floor_findings(f"{most} % of the house", rooms(str(used), floor=str(house), house=str(house)))
    assert finding.within == (Fraction(used, house or 1) * 100 <= Fraction(most))
    if finding.is_above:
        assert Decimal(str(finding.above_by)) > 0
