"""Commands for shared bills: set up with the workshop's share, booked when one comes, listed by their next day."""

from __future__ import annotations

from typing import Any, cast

import click

from ledger.actions.registry import act_of_verb
from ledger.books.books import Books
from ledger.commands.manners import Answer, GroupWithUsual, Session, answers, day_or_none
from ledger.money import plain_percent, read_amount, read_percent
from ledger.periods import parse_date
from ledger.spending.bills import EVERY, Every, SharedBill


class BillGroup(GroupWithUsual):
    """`bill NAME --category ...` sets one up; `bill pay` and `bill list` are commands of their own."""

    usual = "set"


@click.group("bill", cls=BillGroup)
def bill() -> None:
    """Bills that workshop and household share."""


@bill.command("set", help=act_of_verb("bill set").help)
@click.argument("name", metavar="NAME")
@click.option("--category", metavar="NAME", required=True, help="Where the workshop's share goes.")
@click.option("--share", metavar="PERCENT", required=True, help="The workshop's share.")
@click.option("--reason", metavar="TEXT", required=True, help="Why that much: floor share, hours.")
@click.option("--from", "from_day", metavar="DATE", required=True, help="The first day on which it holds.")
@click.option("--of-the-home", is_flag=True, help="A bill of the home: its share is home cost alone.")
@click.option("--every", type=click.Choice(EVERY), help="How often it comes.")
@answers
def set_bill(session: Session, name: str, category: str, share: str, **given: Any) -> Answer:
    from ledger.actions import share_bill

    with session.books() as books:
        request = share_bill.BillRequest(
            name=name,
            category=category,
            percent=read_percent(share, "share"),
            reason=given["reason"],
            from_date=parse_date(given["from_day"], "from"),
            of_the_home=given["of_the_home"],
            every=cast("Every | None", given["every"]),
        )
        kept = share_bill.perform(books, request)
        data = _bill(books, kept)
        said = f"{kept.name}: {data['share']} % of the workshop, to {kept.category.name}."
        return Answer(data, [said, "Whether the share holds, your accountant decides: keep how you reckoned it."])


@bill.command("pay", help=act_of_verb("bill pay").help)
@click.argument("name", metavar="NAME")
@click.argument("amount", metavar="AMOUNT")
@click.option("--from", "paid_from", metavar="ACCOUNT", required=True, help="What it was paid from, of either purse.")
@click.option("--who", metavar="NAME", help="Who sent it; the bill's name unless given.")
@click.option("--owed", is_flag=True, help="The workshop owes its share back to the household.")
@answers
def pay(session: Session, name: str, amount: str, paid_from: str, who: str | None, owed: bool) -> Answer:
    from ledger.actions import share_bill
    from ledger.commands.money import tell_spent

    with session.books() as books:
        cents = read_amount(amount, books.currency, "amount")
        request = share_bill.BillPaymentRequest(name, cents, paid_from, who, owed)
        spent, sealed = share_bill.perform_payment(books, request)
        return tell_spent(books, spent, sealed.number, paid_from)


@bill.command("list")
@answers
def list_bills(session: Session) -> Answer:
    """Every shared bill, and when the next one is due."""
    from ledger.spending.bill_records import read_bills

    with session.books() as books:
        bills = [_bill(books, each) for each in read_bills(books)]
        lines = [f"{each['name']:<28}{each['share'] or '-':>8} %  next {each['next_due'] or '-'}" for each in bills]
        return Answer({"bills": bills}, lines or ["No bill is shared yet."])


def _bill(books: Books, kept: SharedBill) -> dict[str, Any]:
    share = kept.share_on(books.today)
    return {
        "name": kept.name,
        "category": kept.category.name,
        "of_the_home": kept.of_the_home,
        "share": plain_percent(share.percent) if share else None,
        "reason": share.reason if share else None,
        "from": share.from_date.isoformat() if share else None,
        "every": kept.every,
        "next_due": day_or_none(kept.next_due),
        "is_due": kept.next_due is not None and kept.next_due <= books.today,
    }


COMMANDS = (bill,)
