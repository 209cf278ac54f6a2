"""Who brings a piece: everybody finds the workshop one day, and some come back more often than others."""

from __future__ import annotations

from functools import cache
from random import Random

from ledger.example.data_files import read

# By then, in percent of all jobs, everybody has found the workshop; the first ones come soon after one another.
_ALL_KNOWN_BY_PERCENT = 80


@cache
def telephone_of(name: str) -> str | None:
    """A number out of those that are kept free for stories."""
    names = [each["name"] for each in read("people")["customer"]]
    return f"555-{101 + names.index(name):04d}" if name in names else None


def customers_of_jobs(count: int, draw: Random) -> list[str]:
    """Whose each of `count` jobs is, in the order in which they come."""
    coming = [each for each in read("people")["customer"] if each["often"]]
    within = count * _ALL_KNOWN_BY_PERCENT // 100
    arrives_at = [place**2 * within // len(coming) ** 2 for place in range(len(coming))]
    names: list[str] = []
    known = 0
    for job in range(count):
        if known < len(coming) and arrives_at[known] <= job:
            known += 1
            names.append(coming[known - 1]["name"])
        else:
            weights = [each["often"] for each in coming[:known]]
            names.append(draw.choices(coming[:known], weights)[0]["name"])
    return names
