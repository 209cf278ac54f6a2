"""What runs out and comes round again: which events there are, that they keep their UIDs, and the file they go to."""

from __future__ import annotations

import stat
import sys
from collections.abc import Sequence
from dataclasses import replace
from datetime import date, datetime, timedelta
from pathlib import Path

import pytest

from checklists.calendar_file import keep_calendar
from checklists.item import AnswerPart, Catalogue, Item, Stage
from checklists.progress import KeptAnswer, State
from checklists.renewals import Renewal, calendar_of, next_renewal, renewals, uid_of
from ledger.errors import BooksNotUsable, NotPossible

FIRST = date(2026, 1, 10)
TODAY = date(2026, 6, 1)
NOW = datetime(2026, 6, 1, 8)
PERMIT = Item(
    id="permit",
    title="Permit",
    why="Why.",
    ask="state revenue office",
    questions=("Does it run out?",),
    proof="",
    caution="",
    parts=(AnswerPart("value", "text"),),
    feeds=None,
    recurs=None,
    blocked_by=(),
    differs=(),
    sources=(),
)
POLICY = replace(PERMIT, id="policy", title="Policy", recurs="FREQ=YEARLY")
BACKUP = replace(PERMIT, id="backup", title="Backup", ask="yourself", recurs="FREQ=MONTHLY")


def listed(*items: Item, hidden: Sequence[Item] = ()) -> Catalogue:
    return Catalogue((Stage("a", "A", 1, items, tuple(hidden)),))


def answers(*given: tuple[str, State, date, date | None]) -> list[KeptAnswer]:
    return [
        KeptAnswer(number, item, state, "yes", "the office", None, None, on, expires, None)
        for number, (item, state, on, expires) in enumerate(given, start=1)
    ]


def told(found: Sequence[Renewal]) -> list[tuple[str, str, str, bool]]:
    return [(each.item.id, each.what, each.on.isoformat(), each.is_cancelled) for each in found]


def test_nothing_answered_is_nothing_to_renew() -> None:
    assert renewals(listed(PERMIT, POLICY), [], TODAY) == ()


def test_an_answer_that_holds_for_good_has_no_event() -> None:
    assert renewals(listed(PERMIT), answers(("permit", "done", FIRST, None)), TODAY) == ()


def test_a_last_day_and_a_coming_round_are_two_events_by_day() -> None:
    found = renewals(listed(POLICY), answers(("policy", "done", FIRST, date(2026, 12, 31))), TODAY)
    assert told(found) == [
        ("policy", "last day", "2026-12-31", False),
        ("policy", "due again", "2027-01-10", False),
    ]
    assert [each.rule for each in found] == [None, "FREQ=YEARLY"]
    assert [each.title for each in found] == ["Policy: last day", "Policy: due again"]


def test_a_new_answer_moves_its_event_and_takes_its_place() -> None:
    first = renewals(listed(POLICY), answers(("policy", "done", FIRST, None)), TODAY)
    later = answers(("policy", "done", FIRST, None), ("policy", "done", date(2026, 5, 20), None))
    second = renewals(listed(POLICY), later, TODAY)
    assert told(second) == [("policy", "due again", "2027-05-20", False)]
    assert [uid_of(each, "Lantern") for each in first] == [uid_of(each, "Lantern") for each in second]
    assert (first[0].changed, second[0].changed) == (0, 1)


def test_a_last_day_that_is_no_more_is_called_off_and_keeps_its_uid() -> None:
    given = answers(("permit", "done", FIRST, date(2026, 12, 31)), ("permit", "done", date(2026, 5, 20), None))
    (before,) = renewals(listed(PERMIT), given[:1], TODAY)
    (after,) = renewals(listed(PERMIT), given, TODAY)
    assert told([after]) == [("permit", "last day", "2026-12-31", True)]
    assert uid_of(before, "Lantern") == uid_of(after, "Lantern")
    assert after.changed > before.changed


def test_what_does_not_apply_any_more_is_called_off() -> None:
    given = answers(("policy", "done", FIRST, None), ("policy", "does not apply", date(2026, 5, 20), None))
    assert told(renewals(listed(POLICY), given, TODAY)) == [("policy", "due again", "2027-01-10", True)]


def test_what_is_answered_again_after_that_is_no_longer_called_off() -> None:
    given = answers(
        ("policy", "done", FIRST, None),
        ("policy", "does not apply", date(2026, 5, 20), None),
        ("policy", "done", date(2026, 5, 25), None),
    )
    (found,) = renewals(listed(POLICY), given, TODAY)
    assert (found.is_cancelled, found.on, found.changed) == (False, date(2027, 5, 25), 2)


@pytest.mark.parametrize("state", ["asked", "open"])
def test_while_she_asks_again_the_permit_still_runs_out(state: State) -> None:
    given = answers(("permit", "done", FIRST, date(2026, 12, 31)), ("permit", state, date(2026, 5, 20), None))
    assert told(renewals(listed(PERMIT), given, TODAY)) == [("permit", "last day", "2026-12-31", False)]


def test_an_item_that_she_put_away_is_called_off_and_one_that_is_gone_is_none() -> None:
    given = answers(("policy", "done", FIRST, None), ("gone", "done", FIRST, date(2026, 12, 31)))
    found = renewals(listed(PERMIT, hidden=[POLICY]), given, TODAY)
    assert told(found) == [("policy", "due again", "2027-01-10", True)]


def test_an_answer_of_a_later_day_is_not_told_yet() -> None:
    assert renewals(listed(POLICY), answers(("policy", "done", TODAY + timedelta(1), None)), TODAY) == ()


def test_an_item_that_is_overdue_goes_on_coming_round() -> None:
    (found,) = renewals(listed(BACKUP), answers(("backup", "done", FIRST, None)), TODAY)
    assert (found.on, found.rule) == (date(2026, 2, 10), "FREQ=MONTHLY")


def test_the_next_renewal_is_the_first_that_is_not_over_and_not_called_off() -> None:
    given = answers(
        ("backup", "done", FIRST, None),
        ("policy", "done", FIRST, date(2026, 7, 1)),
        ("policy", "done", date(2026, 5, 20), date(2026, 8, 1)),
        ("permit", "done", FIRST, TODAY),
    )
    found = renewals(listed(PERMIT, POLICY, BACKUP), given, TODAY)
    coming = next_renewal(found, TODAY)
    assert coming is not None
    assert (coming.item.id, coming.on) == ("permit", TODAY)
    assert next_renewal(found, date(2026, 6, 2)) == next(each for each in found if each.on == date(2026, 8, 1))
    assert next_renewal([], TODAY) is None


def test_two_workshops_and_two_items_share_no_uid() -> None:
    found = renewals(
        listed(PERMIT, POLICY),
        answers(("permit", "done", FIRST, TODAY), ("policy", "done", FIRST, TODAY)),
        TODAY,
    )
    uids = [uid_of(each, workshop) for workshop in ("Lantern", "Other") for each in found]
    assert len(uids) == len(set(uids)) == 6


def test_a_uid_stays_what_it_was_in_every_version() -> None:
    """A calendar that read an older file knows the event by it: it must never come out otherwise."""
    (found,) = renewals(listed(POLICY), answers(("policy", "done", FIRST, None)), TODAY)
    assert uid_of(found, "Lantern\n2026-01-05") == "35436fba-0472-5df5-a207-5687ba81dddb"


@pytest.mark.parametrize(
    ("rule", "days"),
    [
        (None, (30, 7)),
        ("FREQ=YEARLY", (14,)),
        ("FREQ=MONTHLY;INTERVAL=3", (3,)),
        ("FREQ=WEEKLY", (0,)),
        ("FREQ=DAILY;INTERVAL=2", (0,)),
    ],
)
def test_the_alarm_comes_early_enough_for_what_it_is(rule: str | None, days: tuple[int, ...]) -> None:
    assert Renewal(POLICY, "due again", TODAY, rule, 0).alarm_days == days


# The file

CALENDAR = calendar_of(renewals(listed(POLICY), answers(("policy", "done", FIRST, None)), TODAY), "Lantern", NOW)
LATER = CALENDAR.replace(b"20260601T080000Z", b"20260602T080000Z")


def test_a_calendar_is_written_for_nobody_else_and_replaced_by_a_newer_one(tmp_path: Path) -> None:
    file = tmp_path / "renewals.ics"
    assert keep_calendar(file, CALENDAR) is False
    assert file.read_bytes() == CALENDAR
    assert keep_calendar(file, LATER) is True
    assert file.read_bytes() == LATER != CALENDAR
    assert [path.name for path in tmp_path.iterdir()] == ["renewals.ics"]
    if sys.platform != "win32":
        assert stat.S_IMODE(file.stat().st_mode) == 0o600


@pytest.mark.parametrize(
    "content",
    [
        b"",
        b"notes",
        b"BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:-//Somebody//Else//EN\r\nEND:VCALENDAR\r\n",
        b"BEGIN:VCALENDAR\r\nX-NOTE:PRODID:-//Twopurse//Set-up list//EN\r\nEND:VCALENDAR\r\n",
        b"\xff\xfe\x00",
    ],
)
def test_a_file_of_somebody_else_is_left_as_it_is(tmp_path: Path, content: bytes) -> None:
    file = tmp_path / "calendar.ics"
    file.write_bytes(content)
    with pytest.raises(NotPossible) as refused:
        keep_calendar(file, CALENDAR)
    assert refused.value.field == "file"
    assert file.read_bytes() == content
    assert [path.name for path in tmp_path.iterdir()] == ["calendar.ics"]


def test_a_folder_is_no_file(tmp_path: Path) -> None:
    with pytest.raises(NotPossible):
        keep_calendar(tmp_path, CALENDAR)


def test_a_folder_that_is_not_there_is_told(tmp_path: Path) -> None:
    with pytest.raises(BooksNotUsable) as refused:
        keep_calendar(tmp_path / "nowhere" / "renewals.ics", CALENDAR)
    assert refused.value.field == "file"
    assert list(tmp_path.iterdir()) == []
