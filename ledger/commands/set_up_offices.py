"""Commands for what goes to the offices and what came from them: the fit, the calendar, the call sheet."""

from __future__ import annotations

from typing import Any

import click

from checklists.fit import Care, Finding
from checklists.home_records import NotTold, read_not_told
from checklists.records import read_catalogue_of, read_standings
from checklists.renewals import Renewal, next_renewal, uid_of
from ledger.actions.registry import act_of_verb
from ledger.books.books import Books
from ledger.commands import items_shown as shown
from ledger.commands.manners import Answer, Command, Session, amount_in, answers, day_or_none, read_path
from ledger.errors import NotUnderstood
from ledger.text import shown as plain

FIT_IS_NO_RULING = "This compares what you wrote down. The office that is named decides what it means, and nobody else."


@click.command("fit", cls=Command)
@answers
def fit(session: Session) -> Answer:
    """What you were told, beside how you work.

    Floor, visits a day, hours, people and sign beside your own measures and the log of jobs. The value of other
    people's pieces here beside the limit of your policy.
    """
    from ledger.jobs.home_fit import read_care, read_fit

    with session.books() as books:
        findings, care, not_told = read_fit(books), read_care(books), read_not_told(books)
        data = {
            "fit": [_finding(each) for each in findings],
            "above": sum(each.is_above for each in findings),
            "custody": _custody(books, care),
            "not_told": [_not_told(each) for each in not_told],
        }
        lines = [each.words for each in findings] or ["You were told no rule yet that can be compared."]
        lines += [f"Not told yet: {each.rule}. Ask: {each.ask}." for each in not_told if not each.does_not_apply]
        return Answer(data, [*lines, FIT_IS_NO_RULING])


@click.command("calendar", cls=Command, help=act_of_verb("setup calendar").help)
@click.argument("file")
@answers
def calendar(session: Session, file: str) -> Answer:
    from ledger.actions.keep_calendar import CalendarRequest, perform

    path = read_path(file, "file")
    with session.books() as books:
        kept = perform(books, CalendarRequest(path))
        coming = next_renewal(kept.renewals, books.today)
        data = {
            "file": str(path),
            "replaced": kept.replaced,
            "events": [_event(each, kept.workshop) for each in kept.renewals],
            "next": _event(coming, kept.workshop) if coming else None,
        }
        lines = [f"{each.on}  {each.title}" for each in kept.renewals if not each.is_cancelled]
        return Answer(data, [*lines, f"Written to {path}{', in place of the one before' if kept.replaced else ''}."])


@click.command(
    "call-sheet",
    cls=Command,
    help=act_of_verb("setup call-sheet").help,
)
@click.argument("office")
@click.option("--to", metavar="FOLDER", help="The folder for the two files, where it is not the receipts folder.")
@answers
def print_call_sheet(session: Session, office: str, to: str | None) -> Answer:
    from ledger.actions import print_set_up as act

    with session.books() as books:
        request = act.CallSheetRequest(office, read_path(to, "to") if to is not None else None)
        call, printed, folder = act.print_call_sheet(books, request)
        pdf, text = str(printed.pdf_in(folder)), str(printed.text_in(folder))
        items = [{"id": each.id, "questions": list(each.item.questions)} for each in call.items if each.item]
        data = {"office": call.office, "items": items, "questions": len(call.questions), "pdf": pdf, "text": text}
        lines = [*printed.text.splitlines(), "", f"For paper: {pdf}", f"As text: {text}"]
        return Answer(data, lines)


@click.command("heard", cls=Command, help=act_of_verb("setup heard").help)
@click.argument("office")
@click.option("--asked", metavar="WHOM", required=True, help="Who answered.")
@click.option("--answer", "told", metavar="ITEM=VALUE", multiple=True, help="What was said of an item; it repeats.")
@click.option("--reference", metavar="TEXT", help="The number of the letter or ruling.")
@answers
def heard(session: Session, office: str, asked: str, told: tuple[str, ...], reference: str | None) -> Answer:
    from ledger.actions import hear_call as act

    with session.books() as books:
        request = act.HeardRequest(office, asked, tuple(map(_item_and_answer, told)), reference)
        done = act.perform(books, request)
        remarks = [remark for each in done for remark in each.remarks]
        data = {
            "items": [shown.row(shown.read_standing(books, each.item.id)) for each in done],
            "progress": shown.progress(read_catalogue_of(books), read_standings(books)),
            "fed": [str(fed) for each in done for fed in each.fed],
            "remarks": remarks,
        }
        lines = [f"{each.item.title}: {shown.said(each.state, each.value, each.asked)}." for each in done]
        return Answer(data, [*lines, *remarks])


def _item_and_answer(text: str) -> tuple[str, str]:
    item, equals, value = text.partition("=")
    if not equals:
        raise NotUnderstood(f"«{plain(text)[:40]}» has no answer.", "Say --answer ITEM=VALUE.", "answer")
    return item, value.strip()


def _event(renewal: Renewal, workshop: str) -> dict[str, Any]:
    return {
        "item": renewal.item.id,
        "title": renewal.title,
        "what": renewal.what,
        "date": renewal.on.isoformat(),
        "rule": renewal.rule,
        "uid": uid_of(renewal, workshop),
        "cancelled": renewal.is_cancelled,
    }


def _finding(finding: Finding) -> dict[str, Any]:
    told = finding.told
    return {
        "rule": finding.rule,
        "limit": finding.limit,
        "fact": finding.fact,
        "unit": finding.unit,
        "within": finding.within,
        "above_by": finding.above_by,
        "when": day_or_none(finding.when),
        "decides": told.decides,
        "item": told.item,
        "told_by": told.by,
        "told_on": day_or_none(told.on),
        "reference": told.reference,
        "expires": day_or_none(told.expires),
        "remark": finding.remark or None,
        "words": finding.words,
    }


def _custody(books: Books, care: Care) -> dict[str, Any]:
    amount = amount_in(books.currency)
    return {
        "pieces": care.pieces,
        "value": amount(care.value_cents),
        "highest": amount(care.highest_cents),
        "highest_on": day_or_none(care.highest_on),
    }


def _not_told(rule: NotTold) -> dict[str, Any]:
    return {"rule": rule.rule, "item": rule.item, "ask": rule.ask, "does_not_apply": rule.does_not_apply}


COMMANDS = (fit, print_call_sheet, heard, calendar)
