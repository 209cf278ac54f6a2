"""Commands for a quarter's end: the packet, closing, questions, and what the accountant chose."""

from __future__ import annotations

import click

from ledger.actions.registry import act_of_verb
from ledger.commands.manners import Answer, Command, Group, Session, answers, read_number, read_path
from ledger.money import read_amount
from ledger.periods import parse_period, previous_period, quarter_holding


@click.command("packet", cls=Command, help=act_of_verb("packet").help)
@click.argument("period", required=False)
@click.option("--to", "parent", metavar="FOLDER", help="Where its folder is made, instead of in the books' own.")
@click.option("--names", is_flag=True, help="Customers by name, not by number.")
@click.option("--without-documents", is_flag=True, help="Name the documents, and leave them in the house.")
@click.option("--accrual", is_flag=True, help="Income on the day of pickup. Not the return's method.")
@answers
def packet(
    session: Session, period: str | None, parent: str | None, names: bool, without_documents: bool, accrual: bool
) -> Answer:
    from ledger.actions import build_packet
    from ledger.quarter.span import PacketChoice

    with session.books() as books:
        choice = PacketChoice(accrual=accrual, with_names=names, with_documents=not without_documents)
        days = parse_period(period) if period is not None else previous_period(quarter_holding(session.today))
        folder = read_path(parent, "packet") if parent is not None else None
        place = build_packet.perform(books, build_packet.PacketRequest(days, folder, choice))
        files = sorted(str(each.relative_to(place).as_posix()) for each in place.rglob("*") if each.is_file())
        return Answer(
            {"period": days.label, "packet": str(place), "files": files},
            [f"{len(files)} files in {place}.", "Read packet.pdf first; close the period when it is handed over."],
        )


@click.command("close", cls=Command, help=act_of_verb("close").help)
@click.argument("period")
@answers
def close(session: Session, period: str) -> Answer:
    from ledger.actions import close_period as act

    with session.books() as books:
        days = parse_period(period)
        said = act.close(books, act.CloseRequest(days))
        return Answer({"period": days.label, "closed": True}, [said])


@click.command("reopen", cls=Command, help=act_of_verb("reopen").help)
@click.argument("period")
@click.option("--why", metavar="TEXT", required=True, help="Why it is opened again.")
@answers
def reopen(session: Session, period: str, why: str) -> Answer:
    from ledger.actions import close_period as act

    with session.books() as books:
        days = parse_period(period)
        said = act.reopen(books, act.ReopenRequest(days, why))
        return Answer({"period": days.label, "closed": False}, [said])


@click.group("question", cls=Group)
def question() -> None:
    """Questions for the accountant, and their answers."""


@question.command("add", help=act_of_verb("question add").help)
@click.argument("text", metavar="TEXT")
@answers
def add(session: Session, text: str) -> Answer:
    from ledger.actions import question as act

    with session.books() as books:
        number = act.add(books, act.QuestionRequest(text))
        return Answer({"question": number}, ["It stands in every packet until it is answered."])


@question.command("answer", help=act_of_verb("question answer").help)
@click.argument("number", type=read_number)
@click.argument("text", metavar="TEXT")
@click.option("--who", metavar="TEXT", help="Who answered.")
@click.option("--period", metavar="PERIOD", help="Of which list the number is, this quarter's unless given.")
@answers
def answer(session: Session, number: int, text: str, who: str | None, period: str | None) -> Answer:
    from ledger.actions import question as act
    from ledger.quarter.questions import find_questions

    with session.books() as opened, opened.all_or_nothing() as books:
        days = parse_period(period) if period is not None else quarter_holding(session.today)
        asked = act.numbered(find_questions(books, days.start, days.last_day_by(books.today)), number)
        act.answer(books, act.AnswerNote(asked, text, who))
        return Answer({"question": asked, "answer": text, "who": who}, [f"Noted: {asked}"])


@question.command("list")
@click.argument("period", required=False)
@answers
def list_questions(session: Session, period: str | None) -> Answer:
    """What is open in a period, numbered, and what was answered in it.

    PERIOD is a year, quarter, month or span; this quarter unless given.
    """
    from ledger.quarter.own_questions import answered
    from ledger.quarter.questions import find_questions

    with session.books() as books:
        days = parse_period(period) if period is not None else quarter_holding(session.today)
        end = days.last_day_by(books.today)
        found, notes = find_questions(books, days.start, end), answered(books, days.start, end)
        said = [
            {"question": each.question, "answer": each.answer, "who": each.who, "date": each.day.isoformat()}
            for each in notes
        ]
        lines = [f"{number:>3}. {each}" for number, each in enumerate(found, start=1)] or ["Nothing is open."]
        lines += [f"  {each.day}  {each.question} {each.answer}" for each in notes]
        return Answer({"period": days.label, "questions": list(found), "answered": said}, lines)


@click.command("stock", cls=Command, help=act_of_verb("stock").help)
@click.argument("amount", metavar="AMOUNT")
@answers
def stock(session: Session, amount: str) -> Answer:
    from ledger.actions import count_stock as act

    with session.books() as books:
        cents = read_amount(amount, books.currency, "amount", zero=True)
        act.perform(books, act.StockRequest(cents))
        return Answer({"counted": amount, "date": session.today.isoformat()}, ["Counted. Nothing was posted."])


COMMANDS = (packet, close, reopen, question, stock)
