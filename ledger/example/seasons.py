"""How busy the workshop is: before Christmas, in summer, and while its owner still learns."""

from __future__ import annotations

from bisect import bisect_left
from datetime import date
from itertools import accumulate
from random import Random

from ledger.example.data_files import read
from ledger.example.working_days import WorkingDays


def working_days(today: date) -> WorkingDays:
    return WorkingDays(today, frozenset((month, day) for month, day in read("seasons")["closed"]))


def busy_percent(days: WorkingDays, day: date) -> int:
    """How much work comes in on a day, of a hundred in an ordinary month of somebody who knows the machine."""
    learning = read("seasons")["learning"]
    index = days.month_index(day)
    learned = learning[index] if index < len(learning) else 100
    return int(read("seasons")["months"][str(day.month)]) * int(learned) // 100


def days_of_jobs(days: WorkingDays, until: date, count: int, draw: Random) -> list[date]:
    """The days on which `count` jobs come in, in order, more of them where it is busier."""
    open_days = [day for day in days.all() if day <= until]
    reached = list(accumulate(busy_percent(days, day) for day in open_days))
    # Each job is drawn within its own share of the work, so that no month stands empty by chance.
    places = [(job * reached[-1] + draw.randrange(reached[-1])) // count + 1 for job in range(count)]
    return [open_days[bisect_left(reached, place)] for place in places]
