"""Commands for the mileage log: a trip, the log of a period at the published rates, a trip struck."""

from __future__ import annotations

from typing import Any

import click

from ledger.actions.registry import act_of_verb
from ledger.commands.manners import Answer, GroupWithUsual, Session, amount_in, answers, read_number
from ledger.money import plain_decimal, read_quantity
from ledger.periods import parse_period, year_holding

NO_POSTING = "A figure for your accountant: nothing is posted, and money taken for mileage is a draw."


class MileageGroup(GroupWithUsual):
    """`mileage MILES --where ... --why ...` logs a trip."""

    usual = "add"


@click.group("mileage", cls=MileageGroup)
def mileage() -> None:
    """The log of trips for the workshop."""


@mileage.command("add", help=act_of_verb("mileage add").help)
@click.argument("miles", metavar="MILES")
@click.option("--where", metavar="TEXT", required=True, help="Where the trip went.")
@click.option("--why", metavar="TEXT", required=True, help="What it was for.")
@answers
def add(session: Session, miles: str, where: str, why: str) -> Answer:
    from ledger.actions import log_trip

    with session.books() as books:
        driven = read_quantity(miles, "miles")
        trip = log_trip.perform(books, log_trip.TripRequest(driven, where, why))
        data = {
            "trip": trip,
            "date": session.today.isoformat(),
            "miles": plain_decimal(driven),
            "where": where,
            "why": why,
        }
        return Answer(data, [f"Trip {trip}: {data['miles']} miles to {where}.", NO_POSTING])


@mileage.command("list")
@click.argument("period", required=False, metavar="PERIOD")
@answers
def list_trips(session: Session, period: str | None) -> Answer:
    """The log of a period, and what it comes to at the published rates.

    PERIOD is such as 2026, 2026-Q1 or 2026-03; this year unless given.
    """
    from ledger.spending.mileage import rated, read_trips

    with session.books() as books:
        days = parse_period(period) if period is not None else year_holding(session.today)
        trips = read_trips(books, days.start, min(days.end, session.today))
        amount = amount_in(books.currency)
        by_rate: list[dict[str, Any]] = [
            {
                "rate": plain_decimal(each.rate / 100, 2),
                "miles": plain_decimal(each.miles),
                "amount": amount(each.cents),
                "published": each.is_known,
            }
            for each in rated(trips)
        ]
        listed = [
            {
                "trip": each.id,
                "date": each.day.isoformat(),
                "miles": plain_decimal(each.miles),
                "where": each.place,
                "why": each.why,
            }
            for each in trips
        ]
        total = amount(sum(each.cents for each in rated(trips)))
        lines = [
            f"{each['trip']:>5}  {each['date']}  {each['miles']:>8}  {each['where']}: {each['why']}" for each in listed
        ]
        lines += [f"{each['miles']} miles at {each['rate']}: {each['amount']}" for each in by_rate]
        return Answer({"period": days.label, "trips": listed, "by_rate": by_rate, "total": total}, [*lines, NO_POSTING])


@mileage.command("strike", help=act_of_verb("mileage strike").help)
@click.argument("trip", type=read_number, metavar="TRIP")
@answers
def strike(session: Session, trip: int) -> Answer:
    from ledger.actions import log_trip

    with session.books() as books:
        log_trip.strike(books, log_trip.StrikeRequest(trip))
        return Answer({"trip": trip}, [f"Trip {trip} is struck; the log still shows that it was."])


COMMANDS = (mileage,)
