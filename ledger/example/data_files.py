"""The data files beside this one: one subject a file, amounts as text, days told from the beginning or the end."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from datetime import date
from functools import cache
from importlib.resources import files
from typing import Any

from ledger.example.working_days import WorkingDays
from ledger.money import Currency, read_amount

DOLLARS = Currency("USD", 2)


@cache
def read(subject: str) -> dict[str, Any]:
    """The tables of one file, by name."""
    text = files("ledger.example").joinpath(f"{subject}.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)


def cents(text: str) -> int:
    return read_amount(text, DOLLARS, zero=True)


def day_of(when: Mapping[str, int], days: WorkingDays) -> date:
    """The working day that `month` and `day` mean, or `days_before_today`."""
    if "days_before_today" in when:
        return days.before_today(when["days_before_today"])
    return days.in_month(when["month"], when["day"])
