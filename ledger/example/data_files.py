"""The data files and papers beside this one: one subject a file, amounts as text, days told from beginning or end."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from contextlib import AbstractContextManager, nullcontext
from datetime import date, timedelta
from functools import cache
from importlib.resources import as_file, files
from pathlib import Path
from typing import Any

from ledger.example.working_days import WorkingDays
from ledger.money import Currency, read_amount
from ledger.periods import quarter_holding

DOLLARS = Currency("USD", 2)


@cache
def read(subject: str) -> dict[str, Any]:
    """The tables of one file, by name."""
    text = files("ledger.example").joinpath(f"{subject}.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)


def cents(text: str) -> int:
    return read_amount(text, DOLLARS, zero=True)


def day_of(when: Mapping[str, int], days: WorkingDays) -> date:
    """The working day that `month` and `day` mean, or `days_before_today`, or `days_before_rate_change`."""
    if "days_before_today" in when:
        return days.before_today(when["days_before_today"])
    if "days_before_rate_change" in when:
        return days.on_or_after(rate_changes_on(days) - timedelta(days=when["days_before_rate_change"]))
    return days.in_month(when["month"], when["day"])


def rate_changes_on(days: WorkingDays) -> date:
    """The first day of the county's second rate."""
    holding = quarter_holding(days.month(read("taxes")["change"]["quarter_after_month"]).start)
    return holding.end + timedelta(days=1)


def paper(name: str | None) -> AbstractContextManager[Path | None]:
    """A document that was kept, as a file; None where there is none."""
    return as_file(files("ledger.example").joinpath("papers", name)) if name is not None else nullcontext()
