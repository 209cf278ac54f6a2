"""The command for a period's totals, which can build its packet, close it and open it again."""

from __future__ import annotations

import click

from ledger.commands.manners import Answer, Command, Session, answers, read_path
from ledger.periods import parse_period, quarter_holding


@click.command("quarter", cls=Command)
@click.argument("period", required=False)
@click.option(
    "--accrual", is_flag=True, help="Income as the books count it, on the day of pickup. Not the return's method."
)
@click.option("--packet", metavar="FOLDER", help="Build the packet in a folder of its own inside this one.")
@click.option("--close", is_flag=True, help="Keep further entries out of the period.")
@click.option("--reopen", is_flag=True, help="Let entries into the period again.")
@click.option("--why", metavar="TEXT", help="Why it is reopened.")
@answers
def quarter(
    session: Session, period: str | None, accrual: bool, packet: str | None, close: bool, reopen: bool, why: str | None
) -> Answer:
    """Totals of a period for the accountant.

    PERIOD is a year, quarter, month or span: 2026, 2026-Q1, 2026-03 or 2026-01..2026-05; this quarter unless given. On
    the cash method, with the checks that tie the totals to the books.
    """
    from ledger.actions import build_packet, close_period
    from ledger.commands.totals import totals_data, totals_lines
    from ledger.quarter.span import PacketChoice

    if close and reopen:
        raise click.UsageError("A period is closed or reopened, not both.")
    if reopen != (why is not None):
        raise click.UsageError("--reopen and --why go together.")
    with session.books() as books:
        days = parse_period(period) if period is not None else quarter_holding(session.today)
        done, place = [], None
        if reopen:
            done.append(close_period.reopen(books, close_period.ReopenRequest(days, why or "")))
        if packet is not None:
            request = build_packet.PacketRequest(days, read_path(packet, "packet"), PacketChoice(accrual=accrual))
            place = build_packet.perform(books, request)
            done.append(f"The packet is {place}.")
        if close:
            done.append(close_period.close(books, close_period.CloseRequest(days)))
        data = totals_data(books, days, accrual) | {"packet": str(place) if place else None}
        return Answer(data, [*done, *totals_lines(data)])


COMMANDS = (quarter,)
