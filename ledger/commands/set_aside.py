"""Commands for the set-aside: what is owed, held, to move and free to draw, each figure opened, and moving it."""

from __future__ import annotations

from typing import Any

import click

from ledger.actions.registry import act_of_verb
from ledger.books.books import Books
from ledger.commands.listening import plain_option
from ledger.commands.manners import Answer, Group, Session, amount_in, answers, session_of
from ledger.commands.set_aside_ahead import OWN_WORDS, ahead_data, ahead_lines, ahead_said, due_data, set_aside_said
from ledger.errors import unknown_name
from ledger.money import read_amount
from ledger.set_aside.due_dates import Due
from ledger.set_aside.owed import WORDS, SetAside, is_there
from ledger.set_aside.year_ahead import year_ahead_of

_LABEL, _FIGURE = 26, 14


@click.group("set-aside", cls=Group, invoke_without_command=True)
@plain_option
@click.pass_context
def set_aside(ctx: click.Context, plain: bool) -> Answer | None:
    """What is owed to others, and what is free to draw.

    Without a further word, the figures. Free to draw is checking, cash box and tax savings less all that is owed.
    """
    if ctx.invoked_subcommand is None:
        return _show(session_of(ctx.obj), plain)
    if plain:
        raise click.UsageError("--plain stands after the last word, such as «set-aside show --plain».", ctx)
    return None


@set_aside.command("show")
@plain_option
@answers
def show(session: Session, plain: bool) -> Answer:
    """The figures, and what is due in the next twelve months."""
    return _show(session, plain)


@set_aside.command("ahead")
@plain_option
@answers
def ahead(session: Session, plain: bool) -> Answer:
    """The year ahead: what falls due, and what is held for it.

    In the order of the days. Tax savings pay first, then checking and the cash box; what is earned until then is not
    counted.
    """
    from ledger.set_aside.owed import read_set_aside

    with session.books() as books:
        found = year_ahead_of(read_set_aside(books))
        lines = ahead_said(books, found) if plain else ahead_lines(books, found)
        return Answer(ahead_data(books, found), list(lines))


@set_aside.command("open")
@click.argument("figure")
@answers
def open_figure(session: Session, figure: str) -> Answer:
    """What a figure is made of.

    FIGURE is one of owed, such as sales_tax or income_tax, or money, held or free_to_draw.
    """
    from ledger.set_aside.owed import read_set_aside
    from ledger.set_aside.part import Part
    from ledger.set_aside.parts import named_parts

    with session.books() as books:
        named = named_parts(books, read_set_aside(books))
        wanted = figure.strip().replace("-", "_").replace(" ", "_").casefold()
        if wanted not in named:
            raise unknown_name("figure", figure, named, "figure")
        whole, amount = named[wanted], amount_in(books.currency)

        def told(part: Part) -> dict[str, Any]:
            return {
                "what": part.words,
                "amount": None if part.cents is None else amount(part.cents),
                "entry": part.entry,
                "adds": part.adds and part.cents is not None,
                "parts": [told(each) for each in part.opened()],
            }

        data = told(whole)
        return Answer({"figure": wanted, **data}, list(_tree(data, 0)))


@set_aside.command("move", help=act_of_verb("set-aside move").help)
@click.argument("amount", required=False)
@answers
def move(session: Session, amount: str | None) -> Answer:
    from ledger.actions import move_to_savings as act

    with session.books() as books:
        cents = read_amount(amount, books.currency, "amount") if amount is not None else None
        settled, sealed = act.perform(books, act.SetAsideRequest(cents))
        shown = amount_in(books.currency)
        data = {"entry": sealed.number, "amount": shown(settled.cents), "to_move": shown(settled.lacking_cents)}
        lines = [f"Entry {sealed.number}: {data['amount']} from checking to tax savings."]
        lines += [f"Still to move: {data['to_move']}."] if settled.lacking_cents else []
        return Answer(data, lines)


@set_aside.command("due-within")
@click.argument("days", type=click.IntRange(0, 366))
@answers
def due_within(session: Session, days: int) -> Answer:
    """How many DAYS ahead a bill counts as owed.

    The same holds for a loan payment. It is 30 unless you say otherwise.
    """
    from ledger.actions.own_tax_choices import say_due_soon_days

    with session.books() as books:
        say_due_soon_days(books, days)
        return Answer({"due_within": days}, [f"What falls due within {days} days counts as owed."])


def _show(session: Session, plain: bool) -> Answer:
    from ledger.set_aside.owed import read_set_aside

    with session.books() as books:
        found = read_set_aside(books)
        return Answer(set_aside_data(books, found), list((set_aside_said if plain else _lines)(books, found)))


def set_aside_data(books: Books, found: SetAside) -> dict[str, Any]:
    amount = amount_in(books.currency)
    due = found.next_due
    return {
        "owed": {name: amount(cents) for name, cents in found.owed.items()},
        "owed_total": amount(found.owed.total_cents),
        "money": amount(found.money.total_cents),
        "accounts": {
            "checking": amount(found.money.checking_cents),
            "cash_box": amount(found.money.cash_box_cents),
            "tax_savings": amount(found.money.tax_savings_cents),
        },
        "card_money": amount(found.money.card_money_cents),
        "held": amount(found.held_cents),
        "to_move": amount(found.to_move_cents),
        "free_to_draw": amount(found.free_cents),
        "short": amount(found.short_cents),
        "before_income_tax": found.is_before_income_tax,
        "due_within": found.due_within_days,
        "next_due": None if due is None else _due(books, due),
        "dues": [due_data(each, amount) for each in year_ahead_of(found).dues],
        "notes": list(found.notes),
    }


def _due(books: Books, due: Due) -> dict[str, Any]:
    cents = due.cents
    return {
        "what": due.what,
        "date": due.day.isoformat(),
        "amount": None if cents is None else amount_in(books.currency)(cents),
    }


def _lines(books: Books, found: SetAside) -> list[str]:
    amount = amount_in(books.currency)

    def line(words: str, cents: int) -> str:
        return f"{words:<{_LABEL}}{amount(cents):>{_FIGURE}}"

    free = "Free, before income tax" if found.is_before_income_tax else "Free to draw"
    lines = [line(f"  {WORDS[name]}", cents) for name, cents in found.owed.items() if cents]
    lines = ["Owed to others", *lines, line("Owed in all", found.owed.total_cents)]
    lines += [line("Money", found.money.total_cents), line("Held in tax savings", found.held_cents)]
    lines.append(line("To move to tax savings", found.to_move_cents))
    lines.append(line("Short by", found.short_cents) if found.short_cents else line(free, found.free_cents))
    due = found.next_due
    if due is not None:
        said = is_there(found, due.cents or 0)
        lines.append(f"Next due: {due.what}, {due.day}, {amount(due.cents or 0)}, {said}.")
    return [*lines, *(f"Late: {each.what}, {each.day}." for each in found.late), *found.notes, OWN_WORDS]


def _tree(part: dict[str, Any], depth: int) -> list[str]:
    words = part["what"] if part["adds"] or depth == 0 else f"({part['what']})"
    lines = [f"{'  ' * depth}{words:<{max(1, 60 - 2 * depth)}} {part['amount'] or '':>{_FIGURE}}"]
    for each in part["parts"]:
        lines += _tree(each, depth + 1)
    return lines


COMMANDS = (set_aside,)
