"""The command that lists every passage between the purses."""

from __future__ import annotations

import click

from ledger.commands.manners import Answer, Command, Session, amount_in, answers
from ledger.periods import parse_period, quarter_holding


@click.command("crossings", cls=Command)
@click.argument("period", required=False, metavar="PERIOD")
@answers
def crossings(session: Session, period: str | None) -> Answer:
    """Every passage between the two purses, and why.

    PERIOD is such as 2026, 2026-Q1, 2026-03 or 2026-01..2026-05; this quarter unless given.
    """
    from ledger.spending.crossings import read_crossings

    with session.books() as books:
        days = parse_period(period) if period is not None else quarter_holding(session.today)
        end = min(days.end, session.today)
        found = read_crossings(books, days.start, max(days.start, end))
        amount = amount_in(books.currency)
        items = [
            {
                "entry": each.entry,
                "date": each.day.isoformat(),
                "kind": each.kind,
                "amount": amount(each.cents),
                "why": each.why,
                "settled": each.settled,
            }
            for each in found.items
        ]
        data = {
            "period": days.label,
            "items": items,
            "contributed": amount(found.contributed_cents),
            "drawn": amount(found.drawn_cents),
            "owed_to_owner": amount(found.owed_to_owner_cents),
        }
        lines = [
            f"{each['entry']:>6}  {each['date']}  {each['kind']:<14}{each['amount']:>12}  {each['why']}"
            + ("" if each["settled"] else "  (not settled)")
            for each in items
        ]
        totals = f"Contributed {data['contributed']}, drawn {data['drawn']}, owed to you {data['owed_to_owner']}."
        return Answer(data, [*lines, totals, found.sentence])


COMMANDS = (crossings,)
