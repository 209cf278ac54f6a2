"""When answers run out and items come round again, as events of an iCalendar file (RFC 5545). Nothing is written here.

Each item has two events, whose UIDs stay the same for good: the last day of its answer, and the day on which it is due
again, with its recurrence rule. A file made anew therefore takes the place of what a calendar had read before.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, time, timedelta
from typing import TYPE_CHECKING, Final, Literal
from uuid import UUID, uuid5

from checklists.item import Catalogue, Item
from checklists.progress import KeptAnswer
from checklists.recurrence import next_after
from ledger.text import clean

if TYPE_CHECKING:
    from icalendar import Event

PRODUCT: Final = "-//Twopurse//Set-up list//EN"
What = Literal["last day", "due again"]

_ALARM_AT: Final = time(9)
# How many days before an alarm goes off. What comes round every month is nothing to prepare for.
_DAYS_BEFORE_LAST_DAY: Final = (30, 7)
_DAYS_BEFORE: Final = {"YEARLY": (14,), "MONTHLY": (3,), "WEEKLY": (0,), "DAILY": (0,)}
_NAMES: Final = UUID("5f0b3f0c-3d0e-5a5b-8f6e-6f0a2c1d9b47")


@dataclass(frozen=True)
class Renewal:
    """One event. item: as the list has it. rule: the recurrence rule, None for a last day. changed: how many answers
    there were before, which tells calendars the newer of two. is_cancelled: an earlier answer had it, and no more."""

    item: Item
    what: What
    on: date
    rule: str | None
    changed: int
    is_cancelled: bool = False

    @property
    def title(self) -> str:
        return f"{self.item.title}: {self.what}"

    @property
    def alarm_days(self) -> tuple[int, ...]:
        """How many days before the event its alarms go off."""
        if self.rule is None:
            return _DAYS_BEFORE_LAST_DAY
        return next(days for name, days in _DAYS_BEFORE.items() if f"FREQ={name}" in self.rule)


def renewals(catalogue: Catalogue, answers: Iterable[KeptAnswer], today: date) -> tuple[Renewal, ...]:
    """The events of every item by day, those that are called off among them; of items that she hid only those."""
    by_item: dict[str, list[KeptAnswer]] = {}
    for each in sorted(answers, key=lambda each: (each.on, each.id)):
        if each.on <= today:
            by_item.setdefault(each.item, []).append(each)
    shown = {item.id for item in catalogue}
    found = [
        renewal if item.id in shown else replace(renewal, is_cancelled=True)
        for item in (*catalogue, *catalogue.hidden)
        for renewal in _renewals_of(item, by_item.get(item.id, []))
    ]
    return tuple(sorted(found, key=lambda each: (each.on, each.item.id, each.what)))


def next_renewal(renewals: Iterable[Renewal], today: date) -> Renewal | None:
    """The first event that is not over."""
    coming = (each for each in renewals if not each.is_cancelled and each.on >= today)
    return min(coming, key=lambda each: each.on, default=None)


def uid_of(renewal: Renewal, workshop: str) -> str:
    """The UID of an event, a UUID as RFC 7986 (section 5.3) has it. workshop: what tells these books from others."""
    return str(uuid5(_NAMES, f"{workshop}\n{renewal.item.id}\n{renewal.what}"))


def calendar_of(renewals: Sequence[Renewal], workshop: str, now: datetime) -> bytes:
    """The file, in lines of at most 75 octets with CR and LF. now: the moment at which it is made."""
    from icalendar import Calendar  # 324 ms, only where a calendar is made

    calendar = Calendar()
    calendar.add("version", "2.0")
    calendar.add("prodid", PRODUCT)
    calendar.add("calscale", "GREGORIAN")
    for each in renewals:
        calendar.add_component(_event(each, uid_of(each, workshop), now))
    return bytes(calendar.to_ical())


def _renewals_of(item: Item, answers: Sequence[KeptAnswer]) -> list[Renewal]:
    """The events of the answer that counts, and those of earlier ones that are gone, called off.

    While she asks again, the answer before counts on; where she was told that the item does not apply, none does.
    """
    found: dict[What, Renewal] = {}
    for changed, answer in enumerate(answers):
        if answer.state not in ("done", "does not apply"):
            continue
        for what, renewal in found.items():
            found[what] = replace(renewal, changed=changed, is_cancelled=True)
        if answer.state == "done":
            found |= {each.what: each for each in _events_of(item, answer, changed)}
    return list(found.values())


def _events_of(item: Item, answer: KeptAnswer, changed: int) -> list[Renewal]:
    found = []
    if answer.expires is not None:
        found.append(Renewal(item, "last day", answer.expires, None, changed))
    again = next_after(item.recurs, answer.on) if item.recurs is not None else None
    if again is not None:
        found.append(Renewal(item, "due again", again, item.recurs, changed))
    return found


def _event(renewal: Renewal, uid: str, now: datetime) -> Event:
    from icalendar import Event, vRecur

    event = Event()
    event.add("uid", uid)
    event.add("dtstamp", now.astimezone(UTC) if now.tzinfo else now.replace(tzinfo=UTC))
    event.add("dtstart", renewal.on)  # a date without time: the whole day, wherever she is
    if renewal.rule is not None:
        event.add("rrule", vRecur.from_ical(renewal.rule))
    event.add("summary", clean(renewal.title))
    event.add("description", "\n".join(map(clean, _description(renewal.item))))
    event.add("sequence", renewal.changed)
    event.add("status", "CANCELLED" if renewal.is_cancelled else "CONFIRMED")
    event.add("class", "PRIVATE")
    event.add("transp", "TRANSPARENT")
    if not renewal.is_cancelled:
        for days in renewal.alarm_days:
            _add_alarm(event, renewal, days)
    return event


def _add_alarm(event: Event, renewal: Renewal, days: int) -> None:
    """An alarm at nine in the morning so many days before."""
    from icalendar import Alarm

    alarm = Alarm()
    alarm.add("action", "DISPLAY")
    alarm.add("description", clean(renewal.title))
    alarm.add("trigger", timedelta(hours=_ALARM_AT.hour) - timedelta(days=days))
    event.add_component(alarm)


def _description(item: Item) -> list[str]:
    """What to do on that day. No answer is told: a calendar is read in more places than the books."""
    questions = [f"{number}. {question}" for number, question in enumerate(item.questions, start=1)]
    return [
        *([item.why] if item.why else []),
        f"Ask: {item.ask}",
        *questions,
        f"Record it: twopurse setup answer {item.id}",
    ]
