"""Commands for jobs that end otherwise: refunded, paid with a check that came back, voided, called off, given up."""

from __future__ import annotations

from typing import Any, cast

import click

from ledger.actions.registry import act_of_verb
from ledger.commands.job_answers import job_data, job_lines, read_wanted
from ledger.commands.manners import Answer, Command, Session, amount_in, answers, read_number
from ledger.jobs.payments import OWED, WAYS, How
from ledger.jobs.retax import BORNE, Borne, RetaxRequest
from ledger.money import read_amount
from ledger.text import read_text

_BORNE_HELP = "Who makes it good: owed by the customer or to her, the workshop, or handed over cash, check ..."
_BACK_HELP = "How it goes back: cash, check, card, transfer, or owed to take it off what is still owed."


@click.command("refund", cls=Command, help=act_of_verb("refund").help)
@click.argument("number", type=read_number, metavar="JOB")
@click.option("--amount", metavar="AMOUNT", help="What goes back, tax included; all that was paid unless given.")
@click.option("--paid", type=click.Choice([*WAYS, OWED]), default="check", show_default=True, help=_BACK_HELP)
@click.option("--tip", metavar="AMOUNT", help="What of the tip goes back too; it stays unless given.")
@click.option("--why", metavar="TEXT", help="Why it is given back.")
@answers
def refund(session: Session, number: int, amount: str | None, paid: str, tip: str | None, why: str | None) -> Answer:
    from ledger.actions import refund as act
    from ledger.jobs.refund import RefundRequest

    with session.books() as books:
        request = RefundRequest(
            job=number,
            cents=read_amount(amount, books.currency, "amount") if amount is not None else None,
            how=paid,
            tip_cents=read_amount(tip, books.currency, "tip", zero=True) if tip is not None else 0,
            why=read_text(why, "why") if why is not None else None,
        )
        refunded, sale, sealed = act.perform(books, request)
        shown = amount_in(books.currency)
        data: dict[str, Any] = {
            "entry": sealed.number,
            "refunds": sale,
            "job": number,
            "amount": shown(refunded.cents),
            "charge": shown(refunded.charge_cents),
            "tax": shown(refunded.tax_cents),
            "tip": shown(refunded.tip_cents),
        }
        return Answer(data, [f"Entry {sealed.number} gives back {data['amount']}, of it {data['tax']} sales tax."])


@click.command("returned-check", cls=Command, help=act_of_verb("job returned-check").help)
@click.argument("number", type=read_number, metavar="JOB")
@click.option("--fee", metavar="AMOUNT", help="What the bank takes for it.")
@click.option("--charge", metavar="AMOUNT", help="What the customer is charged for it, before any tax.")
@click.option("--number", "reference", metavar="TEXT", help="The check's number, where there were several.")
@click.option("--card", is_flag=True, help="It was a card payment that was charged back.")
@answers
def returned_check(
    session: Session, number: int, fee: str | None, charge: str | None, reference: str | None, card: bool
) -> Answer:
    from ledger.actions import returned_payment
    from ledger.jobs.returned import ReturnedRequest

    with session.books() as books:
        request = ReturnedRequest(
            job=number,
            how="card" if card else "check",
            fee_cents=read_amount(fee, books.currency, "fee", zero=True) if fee is not None else 0,
            charge_cents=read_amount(charge, books.currency, "charge", zero=True) if charge is not None else 0,
            number=reference,
        )
        job, sealed = returned_payment.perform(books, request)
        data = job_data(books, job, sealed.number)
        return Answer(data, [f"Entry {sealed.number}; job {number} owes {data['owed']} again."])


@click.command("void", cls=Command, help=act_of_verb("job void").help)
@click.argument("number", type=read_number, metavar="JOB")
@click.option("--why", metavar="TEXT", required=True, help="Why it should not have been.")
@answers
def void(session: Session, number: int, why: str) -> Answer:
    from ledger.actions import void as act

    with session.books() as books:
        job, sealed = act.perform(books, act.VoidRequest(number, why))
        data = job_data(books, job, sealed.number)
        return Answer(data, [f"Entry {sealed.number} undoes the pickup; job {number} is {job.status} again."])


@click.command("call-off", cls=Command, help=act_of_verb("job call-off").help)
@click.argument("number", type=read_number, metavar="JOB")
@click.option(
    "--deposit", type=click.Choice(["returned", "kept", "certificate"]), help="What becomes of a deposit that is held."
)
@click.option("--paid", type=click.Choice(WAYS), default="check", show_default=True, help="How a deposit goes back.")
@answers
def call_off(session: Session, number: int, deposit: str | None, paid: str) -> Answer:
    from ledger.actions import call_off as act

    with session.books() as books:
        request = act.CallOffRequest(number, cast("act.Deposit | None", deposit), cast("How", paid))
        done = act.perform(books, request)
        data = {**job_data(books, done.job, done.entry.number if done.entry else None), "certificate": done.certificate}
        lines = [f"Job {number} is called off."]
        lines += [f"Its deposit is now gift certificate {done.certificate}."] if done.certificate else []
        return Answer(data, lines)


@click.command("write-off", cls=Command, help=act_of_verb("job write-off").help)
@click.argument("number", type=read_number, metavar="JOB")
@click.option("--why", metavar="TEXT", required=True, help="Why it will not be paid.")
@answers
def write_off(session: Session, number: int, why: str) -> Answer:
    from ledger.actions import give_up
    from ledger.taxes.rules import claims_bad_debt_tax

    with session.books() as books:
        job, sealed = give_up.perform(books, give_up.GiveUpRequest(number, why))
        data = job_data(books, job, sealed.number)
        claimed = claims_bad_debt_tax(books)
        said = "its tax is claimed back" if claimed else "its tax stays yours to pay: see «twopurse tax bad-debt»"
        return Answer(data, [f"Entry {sealed.number} gives the debt up; {said}."])


@click.command("retax", cls=Command, help=act_of_verb("job retax").help)
@click.argument("number", type=read_number, metavar="JOB")
@click.option("--why", metavar="TEXT", required=True, help="What was wrong.")
@click.option("--borne", type=click.Choice(BORNE), default="owed", show_default=True, help=_BORNE_HELP)
@answers
def retax(session: Session, number: int, why: str, borne: str) -> Answer:
    from ledger.actions import retax as act

    with session.books() as books:
        job, done, sealed = act.perform(books, RetaxRequest(number, why, cast("Borne", borne)))
        amount = amount_in(books.currency)
        data = {**job_data(books, job, sealed.number), "tax": amount(done.tax.tax_cents)}
        data["difference"] = amount(done.difference_cents)
        return Answer(data, [f"Entry {sealed.number}: the tax is {data['tax']} now, by {data['difference']}."])


@click.command("add", cls=Command, help=act_of_verb("job add").help)
@click.argument("number", type=read_number, metavar="JOB")
@click.option("--line", "wanted", multiple=True, required=True, metavar='"NAME[=QTY]"', help="Work to be done.")
@answers
def add(session: Session, number: int, wanted: tuple[str, ...]) -> Answer:
    from ledger.actions import add_work

    with session.books() as books:
        lines = tuple(read_wanted(each) for each in wanted)
        data = job_data(books, add_work.perform(books, add_work.AddWorkRequest(number, lines)))
        return Answer(data, job_lines(data))


@click.command("notice", cls=Command, help=act_of_verb("job notice").help)
@click.argument("number", type=read_number, metavar="JOB")
@click.option("--how", metavar="TEXT", required=True, help="By which way, and what was said.")
@answers
def notice(session: Session, number: int, how: str) -> Answer:
    from ledger.actions import send_notice
    from ledger.jobs.waiting import LAW_DECIDES

    with session.books() as books:
        notices = send_notice.perform(books, send_notice.NoticeRequest(number, how))
        told = [{"date": each.on.isoformat(), "how": each.how} for each in notices]
        return Answer({"job": number, "notices": told}, [f"Notice {len(told)} is noted.", LAW_DECIDES])


@click.command("waiting", cls=Command)
@click.option("--days", type=click.IntRange(min=0), default=30, show_default=True, help="Ready for so long at least.")
@answers
def waiting(session: Session, days: int) -> Answer:
    """Pieces that are ready and that nobody fetched, with the notices that went out."""
    from ledger.jobs.waiting import LAW_DECIDES, read_waiting

    with session.books() as books:
        pieces = [
            {
                "job": each.job.id,
                "customer": each.job.customer.name,
                "piece": each.job.piece,
                "ready_since": each.ready_since.isoformat(),
                "days": each.days,
                "notices": [{"date": notice.on.isoformat(), "how": notice.how} for notice in each.notices],
            }
            for each in read_waiting(books, days)
        ]
        lines = [f"job {each['job']}, {each['days']} days: {each['customer']}, {each['piece']}" for each in pieces]
        return Answer({"pieces": pieces}, [*(lines or ["No piece waits for so long."]), LAW_DECIDES])


JOB_COMMANDS = (add, notice, waiting, returned_check, void, call_off, write_off, retax)
COMMANDS = (refund,)
