"""The jobs that have nothing special about them: drawn with a seed, so that the same day gives the same jobs."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from decimal import Decimal
from random import Random

from ledger.actions.take_in import TakeInRequest, WantedLine
from ledger.example.courses import Coming, Paying, PlannedJob
from ledger.example.data_files import cents, read
from ledger.example.people import customers_of_jobs
from ledger.example.seasons import busy_percent, days_of_jobs
from ledger.example.working_days import WorkingDays
from ledger.jobs.payments import PaidPart

# What is still on the bench at the end is told in bench.toml, so these are all gone by then.
_GONE_BEFORE_DAYS = 2
_LAST_TAKEN_BEFORE_DAYS = 20
_BUSY_PERCENT = 120
_CUSTOM_SIZES = ("throw", "twin", "queen", "king")
_HOW_IN_PERCENT = {"cash": 26, "check": 30, "card": 31, "transfer": 10, "owed": 3}


def ordinary_jobs(days: WorkingDays, count: int) -> Iterator[PlannedJob]:
    """So many jobs, in the order in which they come in."""
    draw = Random("ordinary jobs")
    taken_on = days_of_jobs(days, days.before_today(_LAST_TAKEN_BEFORE_DAYS), count, draw)
    for day, customer in zip(taken_on, customers_of_jobs(count, draw), strict=True):
        yield _job(days, day, customer, draw)


def _job(days: WorkingDays, taken_on: date, customer: str, draw: Random) -> PlannedJob:
    size = draw.choices(read("pieces")["size"], [each["share"] for each in read("pieces")["size"]])[0]
    lines = tuple(_lines(days.month_index(taken_on), size["name"], draw))
    rush_percent = 20 if draw.randrange(100) < 5 else 0
    ready_on, gone_on = _ready_and_gone(days, taken_on, rush_percent > 0, draw)
    request = TakeInRequest(
        customer=customer,
        piece=_piece(size["name"], draw),
        width=Decimal(draw.randrange(size["width"][0], size["width"][1] + 1)),
        length=Decimal(draw.randrange(size["length"][0], size["length"][1] + 1)),
        value_cents=draw.randrange(size["value"][0], size["value"][1], 10) * 100,
        lines=lines,
        promised=days.on_or_after(taken_on + timedelta(days=7 if rush_percent else draw.randrange(14, 31))),
        rush_percent=Decimal(rush_percent),
        minimum_cents=cents(read("prices")["job_minimum"]),
    )
    paying, later = _paying(days, gone_on, draw)
    custom = any(each.name == "Custom quilting" for each in lines)
    deposit = Coming(taken_on, "check", draw.randrange(50, 101, 25) * 100, _check(draw)) if custom else None
    return PlannedJob(
        request, taken_on, ready_on=ready_on, gone_on=gone_on, paying=paying, deposit=deposit, later=later
    )


def _piece(size: str, draw: Random) -> str:
    pieces = read("pieces")
    return f"{draw.choice(pieces['patterns'])}, {size}, {draw.choice(pieces['touches'])}"


def _lines(month: int, size: str, draw: Random) -> Iterator[WantedLine]:
    seasons = read("seasons")
    quilting, batting, edge = (draw.randrange(100) for _ in range(3))
    if month >= seasons["custom_from_month"] and quilting < 8 and size in _CUSTOM_SIZES:
        yield WantedLine("Custom quilting")
    elif month >= seasons["dense_from_month"] and quilting < 38:
        yield WantedLine("Edge-to-edge, dense")
    else:
        yield WantedLine("Edge-to-edge, open")
    if batting < 38:
        yield WantedLine("Cotton batting" if batting < 31 else "Wool batting")
    if draw.randrange(100) < 12:
        yield WantedLine("Wide backing")
    if edge < 18:
        yield WantedLine("Binding, by machine" if edge < 12 else "Binding, by hand")
    elif edge < 36:
        yield WantedLine("Trimming")


def _ready_and_gone(days: WorkingDays, taken_on: date, rush: bool, draw: Random) -> tuple[date, date]:
    """The busier the season, the longer a piece waits its turn."""
    wait = draw.randrange(2, 5) if rush else draw.randrange(4, 13)
    if busy_percent(days, taken_on) > _BUSY_PERCENT and not rush:
        wait += 4
    ready_on = days.on_or_after(taken_on + timedelta(days=wait))
    gone_on = days.on_or_after(ready_on + timedelta(days=draw.randrange(0, 9)))
    end = days.before_today(_GONE_BEFORE_DAYS)
    return min(ready_on, end), min(gone_on, end)


def _paying(days: WorkingDays, gone_on: date, draw: Random) -> tuple[Paying, tuple[Coming, ...]]:
    how = draw.choices(list(_HOW_IN_PERCENT), list(_HOW_IN_PERCENT.values()))[0]
    tip = draw.choice((5_00, 10_00)) if draw.randrange(100) < 9 else 0
    discount = 5_00 if draw.randrange(100) < 4 else 0
    number = _check(draw)
    paid_on = days.on_or_after(gone_on + timedelta(days=draw.randrange(6, 25)))
    if how == "owed" and paid_on < days.last:
        later = (Coming(paid_on, "check", number=number),)
        return Paying((PaidPart("owed"),), discount_cents=discount), later
    if how == "owed":
        how = "check"
    return Paying((PaidPart(how),), number if how in ("check", "transfer") else None, tip, discount), ()


def _check(draw: Random) -> str:
    return str(draw.randrange(1001, 9800))
