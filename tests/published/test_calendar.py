"""The calendar of renewals is a file of RFC 5545 (2009), read back by a reader that shares no code with its writer."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import UTC, date, datetime, time, timedelta, timezone
from itertools import islice

import pytest
from dateutil.rrule import rrulestr
from hypothesis import given, settings
from hypothesis import strategies as st

from checklists.catalogue import shipped_catalogue
from checklists.item import AnswerPart, Catalogue, Item, Stage
from checklists.progress import KeptAnswer
from checklists.recurrence import next_after
from checklists.renewals import calendar_of, renewals
from tests.published.content_lines import Component, NotRfc5545, read_calendar

pytestmark = pytest.mark.published

NOW = datetime(2026, 11, 25, 9, 30, tzinfo=UTC)
TODAY = NOW.date()
PLAIN = Item(
    id="permit",
    title="Permit",
    why="Without it nothing may be sold.",
    ask="state revenue office",
    questions=("Does it run out?",),
    proof="",
    caution="",
    parts=(AnswerPart("value", "text"),),
    feeds=None,
    recurs="FREQ=YEARLY",
    blocked_by=(),
    differs=(),
    sources=(),
)


def answer(item: str, on: date, expires: date | None = None) -> KeptAnswer:
    return KeptAnswer(1, item, "done", "yes", "the office", None, None, on, expires, None)


def calendar_with(*items: Item, on: date = TODAY, expires: date | None = None, now: datetime = NOW) -> bytes:
    catalogue = Catalogue((Stage("a", "A", 1, items),))
    answers = [answer(item.id, on, expires) for item in items]
    return calendar_of(renewals(catalogue, answers, max(on, TODAY)), "Lantern", now)


def events(content: bytes) -> Sequence[Component]:
    return read_calendar(content).components


def test_the_whole_shipped_list_makes_a_sound_calendar() -> None:
    items = tuple(replace(item, recurs=item.recurs or "FREQ=YEARLY") for item in shipped_catalogue())
    found = events(calendar_with(*items, expires=date(2027, 3, 1)))
    assert len(found) == 2 * len(items)
    assert all(each.components for each in found), "each has an alarm"


def test_text_comes_back_as_it_was() -> None:
    """Section 3.3.11: backslash, comma, semicolon and line break are escaped; 3.1: lines are folded at 75 octets."""
    title = 'Permit; "no. 4, 5" at C:\\new\\, 80 % ' + "é🧵" * 40
    (event, _) = events(calendar_with(replace(PLAIN, title=title), expires=date(2027, 3, 1)))
    assert event.text("SUMMARY") == f"{title}: last day"
    assert event.text("DESCRIPTION").split("\n") == [
        "Without it nothing may be sold.",
        "Ask: state revenue office",
        "1. Does it run out?",
        "Record it: twopurse setup answer permit",
    ]


HOSTILE = "\x1b[2J\r\nBEGIN:VEVENT\r\nATTACH:file\u202e\x00\u2028END"


def test_text_that_is_no_text_cannot_add_a_line() -> None:
    hostile = replace(PLAIN, title=HOSTILE, why=HOSTILE, ask=HOSTILE, questions=(HOSTILE,))
    content = calendar_with(hostile)
    (event,) = events(content)
    assert not {0x1B, 0x00} & set(content)
    assert "\u202e" not in content.decode()
    assert len(event.text("DESCRIPTION").split("\n")) == 4


@settings(max_examples=25)
@given(st.text(min_size=1, max_size=120))
def test_any_text_makes_a_sound_calendar(text: str) -> None:
    items = (replace(PLAIN, title=f"x{text}", why=text, ask=text, questions=(text, text)),)
    assert len(events(calendar_with(*items, expires=date(2027, 3, 1)))) == 2


@pytest.mark.parametrize(
    ("now", "stamp"),
    [
        (NOW, NOW),
        (
            datetime(2026, 11, 25, 23, 30, tzinfo=timezone(timedelta(hours=-6))),
            datetime(2026, 11, 26, 5, 30, tzinfo=UTC),
        ),
        (datetime(2026, 11, 25), datetime(2026, 11, 25, tzinfo=UTC)),
    ],
)
def test_the_stamp_is_the_clock_that_was_handed_in_in_utc(now: datetime, stamp: datetime) -> None:
    (event,) = events(calendar_with(PLAIN, now=now))
    assert event.moment("DTSTAMP") == stamp


def rings(event: Component) -> list[datetime]:
    return [datetime.combine(event.day("DTSTART"), time()) + each.duration("TRIGGER") for each in event.components]


def test_alarms_go_off_at_nine_before_the_day() -> None:
    last_day, again = events(calendar_with(PLAIN, expires=date(2027, 3, 1)))
    assert rings(last_day) == [datetime(2027, 1, 30, 9), datetime(2027, 2, 22, 9)]
    assert rings(again) == [datetime(2027, 11, 11, 9)]


# RFC 5545, section 3.8.5.3: a start, a rule, and the days that follow on it. The rules there that go on for good or,
# where they are counted, the same without COUNT. The item was answered on the start.
EXAMPLES = {
    "every ten days": ("1997-09-02", "FREQ=DAILY;INTERVAL=10", "1997-09-12 1997-09-22 1997-10-02 1997-10-12"),
    "every other week": (
        "1997-09-02",
        "FREQ=WEEKLY;INTERVAL=2;WKST=SU",
        "1997-09-16 1997-09-30 1997-10-14 1997-10-28 1997-11-11 1997-11-25 1997-12-09 1997-12-23 1998-01-06",
    ),
    "every other week on Tuesday and Thursday": (
        "1997-09-02",
        "FREQ=WEEKLY;INTERVAL=2;WKST=SU;BYDAY=TU,TH",
        "1997-09-04 1997-09-16 1997-09-18 1997-09-30 1997-10-02 1997-10-14 1997-10-16",
    ),
    "a week that starts on Monday": (
        "1997-08-05",
        "FREQ=WEEKLY;INTERVAL=2;BYDAY=TU,SU;WKST=MO",
        "1997-08-10 1997-08-19 1997-08-24",
    ),
    "a week that starts on Sunday": (
        "1997-08-05",
        "FREQ=WEEKLY;INTERVAL=2;BYDAY=TU,SU;WKST=SU",
        "1997-08-17 1997-08-19 1997-08-31",
    ),
    "the first Friday of the month": (
        "1997-09-05",
        "FREQ=MONTHLY;BYDAY=1FR",
        "1997-10-03 1997-11-07 1997-12-05 1998-01-02 1998-02-06 1998-03-06 1998-04-03 1998-05-01 1998-06-05",
    ),
    "first and last Sunday of every other month": (
        "1997-09-07",
        "FREQ=MONTHLY;INTERVAL=2;BYDAY=1SU,-1SU",
        "1997-09-28 1997-11-02 1997-11-30 1998-01-04 1998-01-25 1998-03-01 1998-03-29 1998-05-03 1998-05-31",
    ),
    "the third-to-last day of the month": (
        "1997-09-28",
        "FREQ=MONTHLY;BYMONTHDAY=-3",
        "1997-10-29 1997-11-28 1997-12-29 1998-01-29 1998-02-26",
    ),
    "the second-to-last weekday of the month": (
        "1997-09-29",
        "FREQ=MONTHLY;BYDAY=MO,TU,WE,TH,FR;BYSETPOS=-2",
        "1997-10-30 1997-11-27 1997-12-30 1998-01-29 1998-02-26 1998-03-30",
    ),
    "in June and July": (
        "1997-06-10",
        "FREQ=YEARLY;BYMONTH=6,7",
        "1997-07-10 1998-06-10 1998-07-10 1999-06-10 1999-07-10 2000-06-10 2000-07-10",
    ),
    "every third year on three days": (
        "1997-01-01",
        "FREQ=YEARLY;INTERVAL=3;BYYEARDAY=1,100,200",
        "1997-04-10 1997-07-19 2000-01-01 2000-04-09 2000-07-18 2003-01-01 2003-04-10 2003-07-19 2006-01-01",
    ),
    "the 20th Monday of the year": ("1997-05-19", "FREQ=YEARLY;BYDAY=20MO", "1998-05-18 1999-05-17"),
    "Monday of week 20": ("1997-05-12", "FREQ=YEARLY;BYWEEKNO=20;BYDAY=MO", "1998-05-11 1999-05-17"),
    "every Thursday in March": (
        "1997-03-13",
        "FREQ=YEARLY;BYMONTH=3;BYDAY=TH",
        "1997-03-20 1997-03-27 1998-03-05 1998-03-12 1998-03-19 1998-03-26 1999-03-04 1999-03-11 1999-03-18 1999-03-25",
    ),
    "the Tuesday after a Monday in November": (
        "1996-11-05",
        "FREQ=YEARLY;INTERVAL=4;BYMONTH=11;BYDAY=TU;BYMONTHDAY=2,3,4,5,6,7,8",
        "2000-11-07 2004-11-02",
    ),
}


def days_of(event: Component, number: int) -> list[date]:
    """The first days of an event, as dateutil expands its rule from its start."""
    start = datetime.combine(event.day("DTSTART"), time())
    return [each.date() for each in islice(rrulestr(event.properties["RRULE"], dtstart=start), number)]


@pytest.mark.parametrize("name", EXAMPLES)
def test_an_item_comes_round_on_the_days_of_the_published_example(name: str) -> None:
    start, rule, listed = EXAMPLES[name]
    expected = [date.fromisoformat(each) for each in listed.split()]
    (event,) = events(calendar_with(replace(PLAIN, recurs=rule), on=date.fromisoformat(start)))
    assert days_of(event, len(expected)) == expected


@settings(max_examples=25)
@given(
    st.dates(date(2020, 1, 1), TODAY),
    st.sampled_from(
        ["FREQ=YEARLY", "FREQ=MONTHLY", "FREQ=MONTHLY;INTERVAL=3", "FREQ=WEEKLY", "FREQ=YEARLY;BYMONTH=12"]
    ),
)
def test_the_days_of_the_event_are_those_on_which_the_list_makes_the_item_due(answered: date, rule: str) -> None:
    """The list counts from an answer; were she to answer on each due day, the days would be those of the event."""
    (event,) = events(calendar_with(replace(PLAIN, recurs=rule), on=answered))
    days = days_of(event, 6)
    due: list[date] = []
    while len(due) < len(days):
        found = next_after(rule, due[-1] if due else answered)
        assert found is not None
        due.append(found)
    assert days == due


# The reader itself: what it must refuse.

SOUND = calendar_with(PLAIN)


@pytest.mark.parametrize(
    ("old", "new", "what"),
    [
        (b"\r\n", b"\n", "last line"),
        (b"END:VCALENDAR\r\n", b"END:VCALENDAR", "last line"),
        (b"SUMMARY:", b"SUMMARY:" + b"x" * 80, "octets"),
        (b"SUMMARY:", b"SUMMARY:a\nb", "bare CR or LF"),
        (b"SUMMARY:", b"SUMMARY:a, b", "no text may"),
        (b"BEGIN:VALARM", b"BEGIN:VTODO", "closes"),
        (b"PRODID:", b"X-PRODID:", "lacks"),
        (b"UID:", b"X-UID:", "lacks"),
        (b"STATUS:CONFIRMED", b"STATUS:PERHAPS", "STATUS"),
        (b"STATUS:CONFIRMED", b"STATUS:CONFIRMED\r\nSTATUS:CONFIRMED", "twice"),
        (b"VERSION:2.0", b"VERSION:1.0", "VERSION"),
        (b";VALUE=DATE:2027", b":2027", "no date by its parameters"),
        (b"20271125", b"20271325", "no day of any month"),
        (b"20261125T093000Z", b"20261125T093000", "no moment in UTC"),
        (b"FREQ=YEARLY", b"FREQ=HOURLY", "HOURLY"),
        (b"FREQ=YEARLY", b"FREQ=YEARLY;FREQ=YEARLY", "twice"),
        (b"-P13DT15H", b"-13D", "no duration"),
        (b"SEQUENCE:0", b"SEQUENCE:many", "SEQUENCE"),
        (b"CLASS:PRIVATE", b"CLASS:PRIVATE\r\nPRIORITY:1", "PRIORITY"),
        (b"CLASS:PRIVATE", b"CLASS PRIVATE", "no content line"),
    ],
)
def test_the_reader_refuses_what_the_standard_does(old: bytes, new: bytes, what: str) -> None:
    assert len(events(SOUND)) == 1
    changed = SOUND.replace(old, new)
    assert changed != SOUND
    with pytest.raises(NotRfc5545, match=what):
        read_calendar(changed)
