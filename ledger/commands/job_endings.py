"""Commands for jobs that end otherwise: refunded, paid with a check that came back, voided, called off, given up."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, cast

import click

from ledger.actions.registry import act_of_verb
from ledger.books.books import Books
from ledger.commands.job_answers import job_data, job_lines, read_wanted, unanswered_lines
from ledger.commands.manners import Answer, Command, Session, amount_in, answers, read_number
from ledger.jobs.payments import OWED, WAYS, How
from ledger.jobs.records import read_job
from ledger.jobs.retax import BORNE, Borne, RetaxRequest
from ledger.money import read_amount
from ledger.text import read_text

if TYPE_CHECKING:
    from ledger.actions.returned_payment import CameBack

_BORNE_HELP = "Who makes it good: owed by the customer or off what she owes, the workshop, or by cash, check ... now."
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
        owed = read_job(books, number).owed_cents
        data: dict[str, Any] = {
            "entry": sealed.number,
            "refunds": sale,
            "job": number,
            "amount": shown(refunded.cents),
            "charge": shown(refunded.charge_cents),
            "tax": shown(refunded.tax_cents),
            "tip": shown(refunded.tip_cents),
            "owed": shown(owed),
        }
        lines = [f"Entry {sealed.number} gives back {data['amount']}, of it {data['tax']} sales tax."]
        lines += [f"Still owed: {data['owed']}; --paid owed takes a refund off that."] if owed else []
        return Answer(data, lines)


@click.command("returned-check", cls=Command, help=act_of_verb("job returned-check").help)
@click.argument("number", type=read_number, metavar="JOB")
@click.option("--fee", metavar="AMOUNT", help="What the bank takes for it.")
@click.option("--charge", metavar="AMOUNT", help="What the customer is charged for it, before any tax.")
@click.option("--class", "class_name", metavar="CLASS", default="other", show_default=True, help="Of that charge.")
@click.option("--number", "reference", metavar="TEXT", help="The check's number; the last one unless given.")
@click.option("--card", is_flag=True, help="It was a card payment that was charged back.")
@answers
def returned_check(session: Session, number: int, reference: str | None, card: bool, **given: Any) -> Answer:
    from ledger.actions import returned_payment
    from ledger.jobs.returned import ReturnedRequest

    fee, charge = given["fee"], given["charge"]
    with session.books() as books:
        request = ReturnedRequest(
            job=number,
            how="card" if card else "check",
            fee_cents=read_amount(fee, books.currency, "fee", zero=True) if fee is not None else 0,
            charge_cents=read_amount(charge, books.currency, "charge", zero=True) if charge is not None else 0,
            number=read_text(reference, "number", limit=60) if reference is not None else None,
            charge_class=given["class_name"],
        )
        done = returned_payment.perform_and_tell(books, request)
        data = job_data(books, done.job, done.entry.number) | _came_back(books, done)
        return Answer(data, _came_back_lines(data))


def _came_back(books: Books, done: CameBack) -> dict[str, Any]:
    """What came back, what the customer is charged for it, and where else the same payment was booked."""
    amount, charge_tax = amount_in(books.currency), done.returned.charge_tax
    return {
        "returned": {
            "how": done.paid.how,
            "number": done.paid.reference,
            "amount": amount(done.paid.cents),
            "paid_with": done.paid.entry,
        },
        "charge_entry": done.charge_entry.number if done.charge_entry is not None else None,
        "charge": amount(charge_tax.base_cents if charge_tax is not None else 0),
        "charge_tax": amount(charge_tax.tax_cents if charge_tax is not None else 0),
        "charge_unanswered": list(charge_tax.unanswered) if charge_tax is not None else [],
        "also_paid": list(done.paid.also_paid),
    }


def _came_back_lines(data: dict[str, Any]) -> list[str]:
    back = data["returned"]
    lines = [f"Entry {data['entry']} undoes {back['amount']}, paid with entry {back['paid_with']}."]
    if data["charge_entry"] is not None:
        lines.append(f"Entry {data['charge_entry']} charges {data['charge']} for it, tax {data['charge_tax']}.")
    lines.append(f"Job {data['job']} owes {data['owed']} now.")
    lines += [f"The same payment was for job {job}: undo it there too." for job in data["also_paid"]]
    return [*lines, *unanswered_lines(data["charge_unanswered"])]


@click.command("void", cls=Command, help=act_of_verb("job void").help)
@click.argument("number", type=read_number, metavar="JOB")
@click.option("--why", metavar="TEXT", required=True, help="Why it should not have been.")
@answers
def void(session: Session, number: int, why: str) -> Answer:
    from ledger.actions import void as act

    with session.books() as books:
        request = act.VoidRequest(number, why)
        if act.was_given_away(books, number):
            data = job_data(books, act.undo_giving_away(books, request))
            return Answer(data, [f"Job {number} is {data['status']} again; no money had moved."])
        job, sealed = act.perform(books, request)
        data = job_data(books, job, sealed.number)
        return Answer(data, [f"Entry {sealed.number} undoes the pickup; job {number} is {job.status} again."])


@click.command("deposit-back", cls=Command, help=act_of_verb("job deposit-back").help)
@click.argument("number", type=read_number, metavar="JOB")
@click.argument("amount", required=False)
@click.option(
    "--paid",
    type=click.Choice([*WAYS, "certificate"]),
    default="check",
    show_default=True,
    help="How it goes back; certificate turns it into a gift certificate.",
)
@answers
def deposit_back(session: Session, number: int, amount: str | None, paid: str) -> Answer:
    from ledger.actions import hand_back

    with session.books() as books:
        cents = read_amount(amount, books.currency, "amount") if amount is not None else None
        done = hand_back.perform(books, hand_back.HandBackRequest(number, cents, cast("hand_back.BackAs", paid)))
        data = job_data(books, done.job, done.entry.number)
        data |= {"amount": amount_in(books.currency)(done.cents), "certificate": done.certificate}
        if done.certificate is not None:
            from ledger.jobs.gift_certificates import UNUSED

            said = f"{data['amount']} is now gift certificate {done.certificate}."
            return Answer(data, [f"Entry {done.entry.number}: {said}", UNUSED])
        return Answer(data, [f"Entry {done.entry.number}: {data['amount']} goes back by {paid}."])


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
        if done.certificate:
            from ledger.jobs.gift_certificates import UNUSED

            lines += [f"Its deposit is now gift certificate {done.certificate}.", UNUSED]
        if deposit == "kept" and done.entry is not None:
            lines.append(act.KEPT)
        return Answer(data, lines)


@click.command("write-off", cls=Command, help=act_of_verb("job write-off").help)
@click.argument("number", type=read_number, metavar="JOB")
@click.option("--why", metavar="TEXT", required=True, help="Why it will not be paid.")
@answers
def write_off(session: Session, number: int, why: str) -> Answer:
    from ledger.actions import give_up
    from ledger.jobs.written_off import NO_DEDUCTION

    with session.books() as books:
        job, sealed, debt = give_up.perform_and_tell(books, give_up.GiveUpRequest(number, why))
        amount = amount_in(books.currency)
        given_up = debt.charge_cents + debt.tax_cents
        data = {**job_data(books, job, sealed.number), "amount": amount(given_up)}
        data |= {"charge": amount(debt.charge_cents), "tax": amount(debt.tax_cents)}
        data |= {"tax_claimed": amount(debt.claimed_cents)}
        said = "its tax is claimed back" if debt.is_tax_claimed else "its tax stays yours to pay"
        lines = [f"Entry {sealed.number} gives up {data['amount']}; {said}.", NO_DEDUCTION]
        if debt.tax_cents and not debt.is_tax_claimed:
            lines.append("Whether it may be claimed back your revenue office tells: «twopurse tax bad-debt».")
        return Answer(data, lines)


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
        lines = [f"Entry {sealed.number}: the tax is {data['tax']} now, a difference of {data['difference']}."]
        return Answer(data, [*lines, *unanswered_lines(list(done.tax.unanswered))])


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
    """Ready pieces that nobody fetched, with the notices sent."""
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


JOB_COMMANDS = (add, notice, waiting, deposit_back, returned_check, void, call_off, write_off, retax)
COMMANDS = (refund,)
