"""Commands for use tax and untaxed stock: what was used, sold and left, and what her state says of work."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, cast

import click

from ledger.actions.registry import act_of_verb
from ledger.books.books import Books
from ledger.commands.manners import Answer, Command, Group, Session, amount_in, answers, read_number
from ledger.money import plain_percent, read_amount
from ledger.periods import parse_date
from ledger.taxes.untaxed_stock import TAKEN, WORK, Lot, Picked
from ledger.taxes.use_tax_entry import PURPOSES, Purpose

if TYPE_CHECKING:
    from ledger.actions.use_untaxed import Used
    from ledger.taxes.untaxed_stock_records import WorkAnswer

CAUTION = "What use tax is owed on, and on which value, your revenue office decides."
NOT_TAXED = (
    "By your answers nothing that you charge is taxed, so it passed in no taxed charge: ask your revenue office."
)
UNANSWERED = "Nobody was asked whether stock used up in the work counts as sold: ask, then «twopurse tax work-use»."


@click.command("use", cls=Command, help=act_of_verb("tax use").help)
@click.argument("amount")
@click.option("--what", metavar="TEXT", required=True, help="What it was, in a few words.")
@click.option(
    "--for", "purpose", type=click.Choice(PURPOSES), default="own", show_default=True, help="What became of it."
)
@click.option("--category", metavar="NAME", help="What it stands under, such as batting; or machine.")
@click.option("--bought-in", "purchase", metavar="ENTRY", type=read_number, help="The entry that bought it.")
@answers
def use(session: Session, amount: str, what: str, purpose: str, category: str | None, purchase: int | None) -> Answer:
    from ledger.actions import use_untaxed

    with session.books() as books:
        cents = read_amount(amount, books.currency, "amount")
        request = use_untaxed.UseRequest(cents, what, cast("Purpose", purpose), category, purchase)
        used, sealed = use_untaxed.perform(books, request)
        return _tell_used(books, used, sealed.number if sealed is not None else None)


def _tell_used(books: Books, used: Used, entry: int | None) -> Answer:
    amount = amount_in(books.currency)
    taxes = used.booked.taxes if used.booked is not None else ()
    data: dict[str, Any] = {
        "entry": entry,
        "cost": amount(used.request.cents),
        "for": used.request.purpose,
        "use_tax": amount(used.tax_cents),
        "taxes": [
            {
                "jurisdiction": each.rate.jurisdiction,
                "level": each.rate.level,
                "percent": plain_percent(each.rate.percent),
                "amount": amount(each.tax_cents),
            }
            for each in taxes
        ],
        "stock": [part for _, parts in used.parts for part in _picked(books, parts)],
        "unanswered_amount": amount(used.unanswered_cents),
    }
    booked = f"Entry {entry}: use tax {data['use_tax']}" if entry is not None else "No use tax is booked"
    lines = [f"{booked} on {data['cost']} at cost.", *_picked_lines(data["stock"])]
    return Answer(data, [*lines, UNANSWERED if used.unanswered_cents else CAUTION])


@click.group("stock", cls=Group)
def stock() -> None:
    """Stock that was bought without sales tax.

    A receipt is spent with --untaxed; what was taken or used up instead of sold is «tax use».
    """


@stock.command("list", help=act_of_verb("tax stock list").help)
@click.option("--all", "with_gone", is_flag=True, help="Purchases of which nothing is left too.")
@answers
def list_stock(session: Session, with_gone: bool) -> Answer:
    from ledger.taxes.untaxed_stock_records import read_lots, read_uses

    with session.books() as books:
        amount = amount_in(books.currency)
        lots = [each for each in read_lots(books, session.today) if with_gone or each.left_cents]
        shown = {each.bought.id for each in lots}
        uses = [
            {
                "number": each.number,
                "purchase": each.purchase,
                "date": each.on.isoformat(),
                "category": each.category.name,
                "how": each.how,
                "amount": amount(each.cents),
                "what": each.what,
                "entry": each.entry,
            }
            for each in read_uses(books, session.today)
            if each.stock in shown
        ]
        purchases = [_lot(books, each) for each in lots]
        left = amount(sum(each.left_cents for each in lots))
        lines = [
            f"entry {each['purchase']:<5} {each['date']}  {each['category']:<18}{each['cost']:>10}  left {each['left']}"
            for each in purchases
        ]
        lines += [
            f"  use {each['number']:<4} {each['date']}  {each['how']:<16}{each['amount']:>11}  {each['what']}"
            for each in uses
        ]
        return Answer({"purchases": purchases, "uses": uses, "left": left}, [*lines, f"Left, at cost: {left}."])


@stock.command("sold", help=act_of_verb("tax stock sold").help)
@click.argument("amount")
@click.option("--left", "is_left", is_flag=True, help="AMOUNT is what lies there still, instead of what was sold.")
@click.option("--what", metavar="TEXT", default="sold with the work", show_default=True, help="What it was.")
@click.option("--category", metavar="NAME", help="What it stands under, such as batting.")
@click.option("--bought-in", "purchase", metavar="ENTRY", type=read_number, help="The entry that bought it.")
@answers
def sold(session: Session, amount: str, is_left: bool, what: str, category: str | None, purchase: int | None) -> Answer:
    from ledger.actions import use_untaxed

    with session.books() as books:
        cents = read_amount(amount, books.currency, "amount", zero=is_left)
        picked = use_untaxed.perform_sold(books, use_untaxed.SoldRequest(cents, what, category, purchase, is_left))
        sold_cents = amount_in(books.currency)(sum(each.cents for each in picked))
        parts = _picked(books, picked)
        said = f"Sold, at cost: {sold_cents}. Nothing is booked."
        caution = [] if use_untaxed.is_anything_taxed(books) else [NOT_TAXED]
        return Answer({"sold": sold_cents, "stock": parts}, [said, *_picked_lines(parts), *caution])


@stock.command("strike")
@click.argument("number", metavar="USE", type=read_number)
@answers
def strike(session: Session, number: int) -> Answer:
    """Take back what was told of stock and booked nothing.

    USE is its number in the list.
    """
    from ledger.actions import use_untaxed

    with session.books() as books:
        use_untaxed.strike(books, number)
        return Answer({"number": number}, [f"Use {number} is struck; its stock is there again."])


@click.command("work-use", cls=Command, help=act_of_verb("tax work-use").help)
@click.argument("answer", type=click.Choice(["resale", "use"]))
@click.option("--asked", metavar="WHOM", required=True, help="Whom you asked.")
@click.option("--category", metavar="NAME", help="For one category alone, such as thread.")
@click.option(
    "--from", "from_day", metavar="DATE", help="The first day on which it holds; from the beginning unless given."
)
@answers
def work_use(session: Session, answer: str, asked: str, category: str | None, from_day: str | None) -> Answer:
    from ledger.actions import use_untaxed

    with session.books() as books:
        start = parse_date(from_day, "from") if from_day is not None else None
        request = use_untaxed.WorkAnswerRequest(cast("WorkAnswer", answer), asked, category, start)
        entries = [each.number for each in use_untaxed.answer(books, request)]
        data = {"answer": answer, "category": category, "asked": asked, "entries": entries}
        said = "sold" if answer == "resale" else "used, and owes use tax"
        lines = [f"Stock used up in the work counts as {said}."]
        lines += [f"Booked for what waited: entries {', '.join(map(str, entries))}."] if entries else []
        return Answer(data, [*lines, CAUTION])


def _lot(books: Books, lot: Lot) -> dict[str, Any]:
    amount = amount_in(books.currency)
    return {
        "purchase": lot.bought.entry,
        "date": lot.bought.on.isoformat(),
        "who": lot.bought.who,
        "category": lot.bought.category.name,
        "cost": amount(lot.bought.cents),
        "returned": amount(lot.returned_cents),
        "sold": amount(lot.cents_of("sold")),
        "used": amount(lot.cents_of(*WORK)),
        "taken": amount(lot.cents_of(*TAKEN)),
        "left": amount(lot.left_cents),
    }


def _picked(books: Books, picked: tuple[Picked, ...]) -> list[dict[str, Any]]:
    amount = amount_in(books.currency)
    return [
        {
            "purchase": each.lot.bought.entry,
            "category": each.lot.bought.category.name,
            "amount": amount(each.cents),
            "left": amount(each.lot.left_cents - each.cents),
        }
        for each in picked
    ]


def _picked_lines(stock: list[dict[str, Any]]) -> list[str]:
    return [
        f"  {each['amount']} of {each['category']} from entry {each['purchase']}, left {each['left']}" for each in stock
    ]


TAX_COMMANDS = (use, stock, work_use)
