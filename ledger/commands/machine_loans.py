"""Commands for the machine's loan: its terms, its payments, a month skipped, a new rate, and what pays it off."""

from __future__ import annotations

from typing import Any

import click

from ledger.actions.registry import act_of_verb
from ledger.books.books import Books
from ledger.commands.manners import Answer, Command, Session, amount_in, answers, day_or_none, read_number
from ledger.commands.money import overdrawn
from ledger.machine.cost import Machine
from ledger.machine.loan import read_months
from ledger.machine.loan_record import Loan, loan_numbered, read_loans
from ledger.machine.schedule import payoff as payoff_of
from ledger.money import plain_percent, read_amount, read_percent
from ledger.periods import parse_date

LENDER_WINS = "The lender's figure wins: give his interest with --interest where it differs."
_LOAN = click.option("--loan", "number", type=read_number, metavar="LOAN", help="Which loan, where there are several.")


@click.command("loan", cls=Command, help=act_of_verb("machine loan").help)
@click.option("--amount", metavar="AMOUNT", required=True, help="What was lent, or what is left of it now.")
@click.option("--percent", metavar="PERCENT", required=True, help="The rate of a year; 0 for none.")
@click.option("--months", metavar="MONTHS", required=True, help="How many payments there are, or are left.")
@click.option("--first", metavar="DATE", required=True, help="The day of the first of them.")
@click.option("--taken", metavar="DATE", help="The day of the loan; today unless given.")
@click.option("--payment", metavar="AMOUNT", help="The payment, as the lender set it.")
@click.option("--charged-back", metavar="PERCENT", help="An offer: the rate of a year that is charged if it is late.")
@click.option("--paid-by", metavar="DATE", help="The last day of that offer.")
@click.option("--lender", metavar="NAME", help="Who lent it.")
@click.option("--machine", metavar="NAME", help="Which machine; the first one unless given.")
@click.option("--into", metavar="ACCOUNT", help="The account that the lender paid into.")
@click.option("--was-there", is_flag=True, help="It was there when the books began.")
@click.option("--instead-of", type=read_number, metavar="LOAN", help="Correct the terms of a loan.")
@answers
def loan(session: Session, amount: str, percent: str, months: str, first: str, **given: Any) -> Answer:
    from ledger.actions import set_loan as act

    with session.books() as books:
        late = given["charged_back"]
        request = act.LoanRequest(
            cents=read_amount(amount, books.currency, "amount"),
            percent=read_percent(percent, "percent"),
            months=read_months(months),
            first_on=parse_date(first, "first"),
            taken_on=_day(given["taken"], "taken"),
            payment_cents=_cents(books, given["payment"], "payment"),
            offer_percent=read_percent(late, "charged_back") if late is not None else None,
            offer_ends_on=_day(given["paid_by"], "paid_by"),
            lender=given["lender"],
            machine=given["machine"],
            into=given["into"],
            was_there=given["was_there"],
            instead_of=given["instead_of"],
        )
        kept, sealed = act.perform(books, request)
        data = {"entry": sealed.number if sealed is not None else None, **loan_data(books, kept)}
        return Answer(data, [*_booked_lines(books, kept, sealed), *_loan_lines(data)])


def _booked_lines(books: Books, kept: Loan, sealed: Any) -> list[str]:
    if sealed is None:
        return [f"Kept as {kept.words}; what was lent stands on its account already."]
    from ledger.books.entries import read_entry

    booked = read_entry(books, sealed.number)
    return [f"Entry {sealed.number}: {booked.text}, kept as {kept.words}."]


@click.command("pay", cls=Command, help=act_of_verb("machine pay").help)
@click.argument("amount")
@click.option("--from", "paid_from", metavar="ACCOUNT", default="checking", show_default=True, help="Of either purse.")
@click.option("--interest", metavar="AMOUNT", help="What of it was interest, as the lender says.")
@click.option("--extra", is_flag=True, help="Beside the payments due: all of it is principal.")
@click.option("--paid-off", is_flag=True, help="It pays all that is left; what is more is interest.")
@click.option("--owed", is_flag=True, help="The household paid, and is owed it back.")
@_LOAN
@answers
def pay(session: Session, amount: str, number: int | None, **given: Any) -> Answer:
    from ledger.actions import pay_loan as act

    if given["extra"] and given["paid_off"]:
        raise click.UsageError("--extra and --paid-off exclude each other.")
    with session.books() as books:
        interest = given["interest"]
        request = act.LoanPaymentRequest(
            cents=read_amount(amount, books.currency, "amount"),
            paid_from=given["paid_from"],
            what="extra" if given["extra"] else "paid off" if given["paid_off"] else "payment",
            interest_cents=read_amount(interest, books.currency, "interest", zero=True)
            if interest is not None
            else None,
            loan=number,
            owed=True if given["owed"] else None,
        )
        paid, sealed = act.perform(books, request)
        amount_of = amount_in(books.currency)
        data = {
            "entry": sealed.number,
            "paid": amount_of(paid.paid.cents),
            "interest": amount_of(paid.paid.interest_cents),
            "principal": amount_of(paid.principal_cents),
            "interest_expected": amount_of(paid.expected_interest_cents),
            "below_interest": paid.is_below_interest,
            **loan_data(books, loan_numbered(books, paid.loan.id)),
        }
        return Answer(data, [*_paid_lines(data), *overdrawn(books, request.paid_from)])


def _paid_lines(data: dict[str, Any]) -> list[str]:
    lines = [
        f"Entry {data['entry']}: {data['paid']}, of which interest {data['interest']}, principal {data['principal']}.",
        f"{data['balance']} of the loan is left." if data["balance"].strip("0.") else "The loan is paid off.",
    ]
    if data["below_interest"]:
        lines.append(
            f"That is below the interest of {data['interest_expected']}: nothing went off the loan, and "
            f"{data['interest_owed']} of interest is still to pay."
        )
    return lines


@click.command("skip", cls=Command, help=act_of_verb("machine skip").help)
@click.option("--back", is_flag=True, help="Take the last month skipped back.")
@_LOAN
@answers
def skip(session: Session, back: bool, number: int | None) -> Answer:
    from ledger.actions import change_loan as act

    with session.books() as books:
        kept = act.skip(books, act.SkipRequest(number, takes_back=back))
        data = loan_data(books, kept)
        said = (
            "Taken back." if back else "A payment is put at the end, and the month's interest comes with the next one."
        )
        return Answer(data, [said, *_loan_lines(data)])


@click.command("rate", cls=Command, help=act_of_verb("machine rate").help)
@click.argument("percent", required=False)
@click.option("--from", "from_day", metavar="DATE", help="From the first payment after that day; today unless given.")
@click.option("--back", is_flag=True, help="Take the last new rate back.")
@_LOAN
@answers
def rate(session: Session, percent: str | None, from_day: str | None, back: bool, number: int | None) -> Answer:
    from ledger.actions import change_loan as act

    if (percent is None) != back:
        raise click.UsageError("Give the new rate, or --back.")
    with session.books() as books:
        new = read_percent(percent, "percent") if percent is not None else None
        data = loan_data(books, act.set_rate(books, act.RateRequest(new, _day(from_day, "from"), number)))
        return Answer(data, _loan_lines(data))


@click.command("payoff", cls=Command)
@_LOAN
@answers
def payoff(session: Session, number: int | None) -> Answer:
    """What pays the loan off on a day.

    Today unless --on says another. The lender's own quote wins: he may count the days otherwise.
    """
    with session.books() as books:
        found = loan_numbered(books, number)
        quote = payoff_of(found.terms, found.happened, session.today)
        amount = amount_in(books.currency)
        data = {
            "loan": found.id,
            "date": session.today.isoformat(),
            "balance": amount(quote.balance_cents),
            "interest": amount(quote.interest_cents),
            "charged_back": amount(quote.charged_back_cents),
            "payoff": amount(quote.total_cents),
        }
        lines = [f"{data['payoff']} pays {found.words} off on {data['date']}: interest {data['interest']} in it."]
        return Answer(data, [*lines, "The lender's quote wins: ask for it, he may count the days otherwise."])


@click.command("schedule", cls=Command, help=act_of_verb("machine schedule").help)
@_LOAN
@answers
def show_schedule(session: Session, number: int | None) -> Answer:
    with session.books() as books:
        data = loan_data(books, loan_numbered(books, number))
        return Answer(data, [*_loan_lines(data), *schedule_lines(data)])


def loan_data(books: Books, found: Loan) -> dict[str, Any]:
    """A loan as its commands answer it: the whole schedule, with what happened so far."""
    amount, run, offer = amount_in(books.currency), found.schedule, found.terms.offer
    rows = [
        {
            "number": each.number,
            "date": each.day.isoformat(),
            "payment": amount(each.payment_cents),
            "interest": amount(each.interest_cents),
            "principal": amount(each.principal_cents),
            "balance": amount(each.balance_cents),
            "what": each.what,
            "paid": each.is_paid,
        }
        for each in run.rows
    ]
    return {
        "loan": found.id,
        "lender": found.lender,
        "lent": amount(found.terms.cents),
        "percent": plain_percent(found.terms.percent),
        "months": found.terms.months,
        "payment": amount(run.payment_cents),
        "last_payment": amount(run.last_payment_cents),
        "interest_total": amount(run.interest_cents),
        "balance": amount(run.balance_cents),
        "interest_owed": amount(run.interest_owed_cents),
        "paid_by": day_or_none(offer.ends_on) if offer is not None else None,
        "charged_back": amount(run.charged_back_cents) if offer is not None else None,
        "is_charged_back": run.is_charged_back,
        "schedule": rows,
    }


def loan_of_machine(books: Books, machine: Machine) -> dict[str, Any]:
    """The figures of the loan that runs on a machine, null where there is none."""
    loans = [each for each in read_loans(books) if each.machine == machine.id]
    found = next((each for each in loans if not each.is_paid_off), loans[-1] if loans else None)
    names = ("loan", "payment", "last_payment", "interest_total", "schedule")
    if found is None:
        return {name: [] if name == "schedule" else None for name in names}
    data = loan_data(books, found)
    return {name: data[name] for name in names}


def _loan_lines(data: dict[str, Any]) -> list[str]:
    to_come = sum(1 for each in data["schedule"] if not each["paid"])
    if not to_come:
        return ["The loan is paid off."]
    said = f"{data['payment']} a month, the last {data['last_payment']}; interest {data['interest_total']} in all."
    lines = [said if to_come > 1 else f"One payment is left, {data['last_payment']}."]
    if data["paid_by"] is not None and data["is_charged_back"]:
        lines.append(
            f"As it runs, {data['charged_back']} of interest is charged back: it is not paid off by {data['paid_by']}."
        )
    elif data["paid_by"] is not None:
        lines.append(
            f"Paid off by {data['paid_by']} it costs no interest; later, {data['charged_back']} is charged back."
        )
    return [*lines, LENDER_WINS]


def schedule_lines(data: dict[str, Any]) -> list[str]:
    """The schedule as a table."""
    head = f"{'':>4}  {'':<10}{'payment':>11}{'interest':>11}{'principal':>11}{'left':>12}"
    return [
        head,
        *(
            f"{each['number'] or '':>4}  {each['date']}{each['payment']:>11}{each['interest']:>11}"
            f"{each['principal']:>11}{each['balance']:>12}{_mark(each)}"
            for each in data["schedule"]
        ),
    ]


def _mark(row: dict[str, Any]) -> str:
    if row["what"] in ("skipped", "extra", "paid off"):
        return f"  {row['what']}"
    return "  paid" if row["paid"] else ""


def _day(text: str | None, field: str) -> Any:
    return parse_date(text, field) if text is not None else None


def _cents(books: Books, text: str | None, field: str) -> int | None:
    return read_amount(text, books.currency, field) if text is not None else None


LOAN_COMMANDS = (loan, pay, skip, rate, payoff, show_schedule)
