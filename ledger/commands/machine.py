"""Commands for the machines: what they cost, what came back for them, and their shares of use and jobs."""

from __future__ import annotations

from typing import Any, cast, get_args

import click

from ledger.actions import add_machine_cost
from ledger.actions.add_machine_cost import AddedCost, CostRequest
from ledger.actions.registry import act_of_verb
from ledger.books.books import Books
from ledger.commands.machine_loans import LOAN_COMMANDS, loan_of_machine
from ledger.commands.machine_memo import MEMO_COMMANDS
from ledger.commands.manners import Answer, Group, Session, amount_in, answers, day_or_none, read_number
from ledger.commands.money import overdrawn
from ledger.errors import NotUnderstood
from ledger.machine.cost import KINDS, Kind
from ledger.machine.cost_shares import MachineStanding, read_standings
from ledger.machine.record import ShareOf, read_costs, share_on, strike_figure
from ledger.money import plain_percent, read_amount, read_percent
from ledger.periods import parse_date
from ledger.text import shown

_MACHINE = click.option("--machine", metavar="NAME", help="Which machine; the first one unless given.")


@click.group("machine", cls=Group)
def machine() -> None:
    """What the machine cost, its loan and its shares."""


@machine.command("cost", help=act_of_verb("machine cost").help)
@click.argument("amount")
@click.option("--what", metavar="TEXT", required=True, help="What it is.")
@click.option("--kind", type=click.Choice(KINDS), metavar="KIND", default="price", help=f"One of {', '.join(KINDS)}.")
@click.option("--from", "paid_from", metavar="ACCOUNT", help="Paid from; without it, a figure from before the books.")
@click.option("--placed", metavar="DATE", help="The day on which it went into business use.")
@_MACHINE
@click.option("--lent", metavar="AMOUNT", help="What of it a lender paid.")
@click.option("--given-in", metavar="NAME=AMOUNT", help="A machine that was given in for it, and for how much.")
@click.option("--worth", metavar="AMOUNT", help="Yours first: what it was worth on the day of business use.")
@click.option("--untaxed", is_flag=True, help="Bought without sales tax: use tax is owed on it.")
@click.option("--owed", is_flag=True, help="The household paid, and is owed it back.")
@answers
def cost(session: Session, amount: str, what: str, kind: str, **given: Any) -> Answer:
    with session.books() as books:
        traded, traded_cents = _given_in(books, given["given_in"])
        placed, paid_from = given["placed"], given["paid_from"]
        request = CostRequest(
            cents=read_amount(amount, books.currency, "amount"),
            what=what,
            kind=cast("Kind", kind),
            paid_from=paid_from,
            machine=given["machine"],
            placed_on=parse_date(placed, "placed") if placed is not None else None,
            loan_cents=_optional(books, given["lent"], "lent") or 0,
            traded_cents=traded_cents,
            traded=traded,
            worth_cents=_optional(books, given["worth"], "worth"),
            untaxed=given["untaxed"],
            owed=True if given["owed"] else None,
        )
        added, sealed = add_machine_cost.perform(books, request)
        data = {"entry": sealed.number if sealed is not None else None, **_added(books, request, added)}
        return Answer(data, [*_cost_lines(data), *(overdrawn(books, paid_from) if paid_from else [])])


def _added(books: Books, request: CostRequest, added: AddedCost) -> dict[str, Any]:
    amount_of = amount_in(books.currency)
    now = next(each for each in read_costs(books, books.today) if each.machine == added.machine)
    return {
        "machine": added.machine.name,
        "what": added.what,
        "kind": request.kind,
        "amount": amount_of(request.cents),
        "use_tax": amount_of(added.use_tax_cents),
        "repeats": added.repeats.id if added.repeats is not None else None,
        "cost": amount_of(now.payback_cents),
        "basis": amount_of(now.basis_cents),
        **loan_of_machine(books, added.machine),
    }


def _cost_lines(data: dict[str, Any]) -> list[str]:
    booked = f"Entry {data['entry']}" if data["entry"] else "Kept as a figure, and nothing booked"
    lines = [f"{booked}: {data['what']}, {data['amount']}."]
    if data["use_tax"].strip("0."):
        lines.append(f"Use tax is owed on it: {data['use_tax']}.")
    if data["repeats"]:
        lines.append(f"Part {data['repeats']} has the same price already: is this the same one twice?")
    return [
        *lines,
        f"«{data['machine']}» cost {data['cost']} so far.",
        f"Its tax basis is {data['basis']}, a memo: your accountant decides.",
    ]


@machine.command("sell", help=act_of_verb("machine sell").help)
@click.argument("amount")
@click.option("--to", "into", metavar="ACCOUNT", default="checking", show_default=True, help="Where the money came.")
@_MACHINE
@answers
def sell(session: Session, amount: str, into: str, machine: str | None) -> Answer:
    from ledger.actions import sell_machine as act
    from ledger.machine.loan_record import read_loans
    from ledger.machine.record import machine_named

    with session.books() as books:
        cents = read_amount(amount, books.currency, "amount")
        sealed = act.perform(books, act.SellRequest(cents, into, machine))
        sold = machine_named(books, machine)
        amount_of = amount_in(books.currency)
        left = sum(each.balance_cents for each in read_loans(books) if each.machine == sold.id)
        data = {
            "entry": sealed.number,
            "machine": sold.name,
            "amount": amount_of(cents),
            "loan_left": amount_of(left),
        }
        lines = [f"Entry {sealed.number}: «{sold.name}» sold for {data['amount']}."]
        lines += [f"Still to pay on its loan: {data['loan_left']}."] if left else []
        lines.append("Its gain or loss is your accountant's; whether sales tax is due on it, the revenue office says.")
        return Answer(data, lines)


@machine.command("add", help=act_of_verb("machine add").help)
@click.argument("name")
@answers
def add(session: Session, name: str) -> Answer:
    from ledger.actions import share_machine as act

    with session.books() as books:
        added = act.add(books, act.MachineRequest(name))
        return Answer({"machine": added.name}, [f"«{added.name}» is there: say «--machine» for what concerns it."])


@machine.command("share", help=act_of_verb("machine share").help)
@click.argument("percent")
@click.option("--reason", metavar="TEXT", required=True, help="Why that much: hours kept in a log.")
@click.option("--from", "from_day", metavar="DATE", required=True, help="The first day on which it holds.")
@click.option(
    "--of", "of_what", type=click.Choice(get_args(ShareOf)), default="use", show_default=True, help="Of what."
)
@_MACHINE
@answers
def share(session: Session, percent: str, reason: str, from_day: str, of_what: str, machine: str | None) -> Answer:
    from ledger.actions import share_machine as act

    with session.books() as books:
        request = act.MachineShareRequest(
            percent=read_percent(percent, "percent"),
            reason=reason,
            from_date=parse_date(from_day, "from"),
            of_what=cast("ShareOf", of_what),
            machine=machine,
        )
        kept = act.perform(books, request)
        words = "its use is the workshop's" if of_what == "use" else "the jobs are done on it"
        data = {
            "machine": kept.name,
            "of": of_what,
            "percent": plain_percent(request.percent),
            "from": request.from_date.isoformat(),
            "reason": reason,
        }
        said = f"«{kept.name}»: {data['percent']} % of {words}, from {data['from']}."
        return Answer(data, [said, "Whether the share holds, your accountant decides: keep how you reckoned it."])


@machine.command("list")
@answers
def list_machines(session: Session) -> Answer:
    """Every machine with its costs and its shares."""
    with session.books() as books:
        found = [_machine(books, each) for each in read_standings(books)]
        lines = []
        for each in found:
            lines.append(f"{each['machine']}: cost {each['cost']}, tax basis {each['basis']} (a memo).")
            lines += [
                f"  {part['date']}  {part['kind']:<12}{part['amount']:>12}  {part['what']}" for part in each["parts"]
            ]
            lines += [f"  Interest paid on its loan: {each['interest']}"] if each["interest"].strip("0.") else []
            lines.append(
                f"  {each['use_percent']} % of its use is the workshop's; {each['jobs_percent']} % of the jobs."
            )
            lines.append(f"  Earned by its share of the jobs {each['earned']}, left {each['left']}.")
        return Answer({"machines": found}, lines)


@machine.command("strike")
@click.argument("part", type=read_number)
@answers
def strike(session: Session, part: int) -> Answer:
    """Take a figure from before the books back.

    PART is its number in the list. What was booked is undone with «twopurse reverse».
    """
    with session.books() as books:
        with books.writing() as write:
            struck = strike_figure(books, write, part)
        return Answer({"part": part}, [f"Taken back: {struck}."])


def _machine(books: Books, standing: MachineStanding) -> dict[str, Any]:
    amount, found = amount_in(books.currency), standing.cost
    parts = [
        {
            "part": each.id,
            "date": each.day.isoformat(),
            "kind": each.kind,
            "what": each.what,
            "amount": amount(each.cents),
            "basis": amount(each.basis_cents),
            "placed": each.placed_on.isoformat(),
            "entry": each.entry,
        }
        for each in found.parts
    ]
    return {
        "machine": found.machine.name,
        "cost": amount(found.payback_cents),
        "basis": amount(found.basis_cents),
        "interest": amount(found.interest_cents),
        "came_back": amount(found.came_back_cents),
        "earned": amount(standing.earned_cents),
        "left": amount(standing.left_cents),
        "placed": day_or_none(found.placed_on),
        "use_percent": plain_percent(share_on(books, found.machine, "use", books.today)),
        "jobs_percent": plain_percent(share_on(books, found.machine, "jobs", books.today)),
        "parts": parts,
        **loan_of_machine(books, found.machine),
    }


def _given_in(books: Books, text: str | None) -> tuple[str | None, int]:
    if text is None:
        return None, 0
    name, equals, amount = text.partition("=")
    if not equals:
        raise NotUnderstood(f"«{shown(text)[:40]}» has no amount.", "Say --given-in NAME=AMOUNT.", "given_in")
    return name, read_amount(amount, books.currency, "given_in")


def _optional(books: Books, text: str | None, field: str) -> int | None:
    return read_amount(text, books.currency, field) if text is not None else None


for _command in (*LOAN_COMMANDS, *MEMO_COMMANDS):
    machine.add_command(_command)

COMMANDS = (machine,)
