"""Commands for the accountant and for those who ask: the depreciation memo of the books, and the rate of return."""

from __future__ import annotations

from typing import Any

import click

from ledger.actions.registry import act_of_verb
from ledger.books.books import Books
from ledger.commands.manners import Answer, Command, Session, amount_in, answers
from ledger.machine.depreciation import Year, whole_dollars
from ledger.machine.depreciation_record import Memo, MemoLine, read_memo
from ledger.machine.depreciation_sheet import memo_lines
from ledger.machine.internal_rate_record import read_return
from ledger.money import plain_percent
from ledger.periods import parse_period

BEFORE = "Before income tax and any pay for your time, and without what the machine would still sell for."


@click.command("memo", cls=Command, help=act_of_verb("machine memo").help)
@click.argument("year", required=False, metavar="YEAR")
@answers
def memo(session: Session, year: str | None) -> Answer:
    with session.books() as books:
        found = read_memo(books, parse_period(year, "year").start.year if year is not None else session.today.year)
        data = memo_data(books, found)
        return Answer(data, list(memo_lines(found, amount_in(books.currency))))


def memo_data(books: Books, found: Memo) -> dict[str, Any]:
    amount = amount_in(books.currency)
    return {
        "year": found.year,
        "parts": [_line(books, each) for each in found.lines],
        "total": {f"class_{of}": amount(found.total_cents(of)) for of in (5, 7)},
        "total_whole": {f"class_{of}": whole_dollars(found.total_cents(of)) for of in (5, 7)},
        "came_back": [
            {"date": each.day.isoformat(), "what": each.what, "amount": amount(-each.cents)} for each in found.came_back
        ],
    }


def _line(books: Books, line: MemoLine) -> dict[str, Any]:
    amount, part = amount_in(books.currency), line.part
    return {
        "machine": line.machine.name,
        "what": part.what,
        "kind": part.kind,
        "placed": part.placed_on.isoformat(),
        "cost": amount(part.cents),
        "entered": amount(part.basis_cents),
        "was_hers": part.basis_cents < part.cents,
        "use_percent": plain_percent(line.business_percent),
        "basis": amount(line.basis_cents),
        "convention": line.convention,
        "by_class": {f"class_{of}": _year(books, each) for of, each in line.years},
    }


def _year(books: Books, year: Year | None) -> dict[str, Any] | None:
    """None once it is written down."""
    if year is None:
        return None
    return {"percent": plain_percent(year.percent), "amount": amount_in(books.currency)(year.cents)}


@click.command("return", cls=Command)
@answers
def rate_of_return(session: Session) -> Answer:
    """The yearly rate of return on the machine so far.

    The internal rate on the money put in, and on what was earned, by their days.
    """
    with session.books() as books:
        found, amount = read_return(books), amount_in(books.currency)
        data = {
            "yearly_percent": f"{found.rate * 100:.2f}" if found.rate is not None else None,
            "put_in": amount(found.put_in_cents),
            "came_back": amount(found.came_back_cents),
            "flows": [{"date": each.day.isoformat(), "amount": amount(each.cents)} for each in found.flows],
        }
        said = f"Put in {data['put_in']}, came back {data['came_back']}."
        rate = (
            f"That is {data['yearly_percent']} % a year."
            if data["yearly_percent"] is not None
            else "There is no rate of return to say yet: something has to come back on another day than it was put in."
        )
        return Answer(data, [said, rate, BEFORE])


MEMO_COMMANDS = (memo, rate_of_return)
