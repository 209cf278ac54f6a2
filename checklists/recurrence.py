"""When an item comes round again: a recurrence rule of RFC 5545, counted from the day of the answer."""

from __future__ import annotations

import re
from datetime import date, datetime, time, timedelta

_BY_DATE = ("INTERVAL", "BYMONTH", "BYMONTHDAY", "BYDAY", "BYYEARDAY", "BYWEEKNO", "BYSETPOS", "WKST")
# With each frequency what may stand beside it. Days and weeks take little: a date that never comes takes dateutil 8 s.
_PARTS = {"DAILY": ("INTERVAL",), "WEEKLY": ("INTERVAL", "BYDAY", "WKST"), "MONTHLY": _BY_DATE, "YEARLY": _BY_DATE}
_PART = re.compile(r"([A-Z]+)=([A-Z0-9,+-]+)")
_INTERVAL = re.compile(r"[1-9][0-9]{0,2}")
_LATEST_YEARS = 10
_EVERY_MONTH_HAS = 28


def rule_fault(rule: str) -> str | None:
    """What is wrong with a rule, None where it is sound: it goes on for good and comes round within ten years."""
    found = [_PART.fullmatch(part) for part in rule.split(";")]
    parts = {each[1]: each[2] for each in found if each}
    frequency = parts.pop("FREQ", "")
    if not all(found) or len(parts) + 1 != len(found) or frequency not in _PARTS:
        return f"write FREQ and one of {', '.join(_PARTS)}, such as FREQ=YEARLY or FREQ=MONTHLY;INTERVAL=3"
    unknown = [name for name in parts if name not in _PARTS[frequency]]
    if unknown:
        return f"{unknown[0]} cannot stand beside {frequency}: an item is due on a day, and comes round for good"
    if not _INTERVAL.fullmatch(parts.get("INTERVAL", "1")):
        return "INTERVAL is a whole number from 1 to 999"
    try:
        soon = next_after(rule, date(2024, 1, 1))
    except (ValueError, TypeError, KeyError, IndexError, AttributeError):
        return "this is no recurrence rule of RFC 5545"
    return None if soon else f"its day does not come within {_LATEST_YEARS} years"


def next_after(rule: str, answered: date) -> date | None:
    """The first day after an answer on which the item is due again, None where none comes within ten years.

    Answered on the 29th, 30th or 31st, an item of every month or year is due on a 28th: rather early than late.
    """
    from dateutil.rrule import rrulestr  # 25 ms, only where an item comes round

    start = answered
    if "FREQ=MONTHLY" in rule or "FREQ=YEARLY" in rule:
        # RFC 5545 skips a month without the day that a rule was begun on: no month is without its 28th.
        start = answered.replace(day=min(answered.day, _EVERY_MONTH_HAS))
    last = answered + timedelta(days=366 * _LATEST_YEARS)
    days = rrulestr(f"{rule};UNTIL={last:%Y%m%d}T000000", dtstart=datetime.combine(start, time()))
    found = days.after(datetime.combine(answered, time()))
    return found.date() if found is not None else None
