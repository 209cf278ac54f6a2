"""The time, handed in: nothing below the command line and the rooms asks the system for it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime


@dataclass(frozen=True)
class Clock:
    """`today` dates acts and ends figures; `now` only names files. Time never orders anything in the books."""

    today: date
    now: datetime
