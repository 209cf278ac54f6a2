"""Commands for her own taxes: what income tax goes by, estimated tax paid, and Schedule SE worked out."""

from __future__ import annotations

from typing import Any, cast

import click

from ledger.actions.registry import act_of_verb
from ledger.books.books import Books
from ledger.commands.manners import Answer, Command, Session, amount_in, answers
from ledger.money import Currency, plain_percent, read_amount, read_percent, round_half_up
from ledger.set_aside.estimated import EstimatedYear
from ledger.set_aside.own_tax import OwnTax
from ledger.taxes.self_employment import STATUSES, FilingStatus

DECIDES = "Your accountant decides; these figures are from your own records and are no tax return."
_year_option = click.option("--year", type=click.IntRange(1900, 2199), metavar="YEAR", help="The tax year.")
_filing_option = click.option("--filing", type=click.Choice(STATUSES), help="How you file.")


@click.command("estimated", cls=Command, help=act_of_verb("tax estimated").help)
@click.argument("amount")
@click.option(
    "--from", "paid_from", metavar="ACCOUNT", default="tax savings", show_default=True, help="Of either purse."
)
@_year_option
@click.option("--period", type=int, metavar="NUMBER", help="1 to 4; the one that is due next unless given.")
@click.option("--with-return", is_flag=True, help="Paid with the return of last year, or of --year.")
@answers
def estimated(
    session: Session, amount: str, paid_from: str, year: int | None, period: int | None, with_return: bool
) -> Answer:
    from ledger.actions import pay_estimated as act
    from ledger.commands.money import overdrawn

    if with_return and period is not None:
        raise click.UsageError("--with-return and --period exclude each other.")
    with session.books() as books:
        cents = read_amount(amount, books.currency, "amount")
        settled, sealed = act.perform(books, act.EstimatedTaxRequest(cents, paid_from, year, period, with_return))
        data = {
            "entry": sealed.number,
            "use_tax": None,
            "amount": amount_in(books.currency)(cents),
            "tax_year": settled.paid_for.tax_year,
            "period": settled.paid_for.period,
            **_own_taxes(books),
        }
        said = f"Entry {sealed.number}: {data['amount']} from {paid_from}. {settled.paid_for}."
        return Answer(data, [said, *_lines(data), *overdrawn(books, paid_from)])


@click.command("income", cls=Command, help=act_of_verb("tax income").help)
@click.option("--percent", metavar="N", help="Your accountant's percentage of net profit.")
@click.option("--with-self-employment", is_flag=True, help="It includes self-employment tax.")
@click.option("--with-state", is_flag=True, help="It includes state income tax.")
@click.option("--by-last-year", is_flag=True, help="Go by last year's total tax instead.")
@click.option("--asked", metavar="WHOM", help="Whom you asked.")
@answers
def income(session: Session, percent: str | None, by_last_year: bool, asked: str | None, **two: bool) -> Answer:
    from ledger.actions import own_tax_choices as act

    if percent is not None and by_last_year:
        raise click.UsageError("--percent and --by-last-year exclude each other.")
    if percent is None and any(two.values()):
        raise click.UsageError("--with-self-employment and --with-state go with --percent.")
    with session.books() as books:
        if percent is not None or by_last_year:
            share = read_percent(percent, "percent") if percent is not None else None
            act.say_income_tax(books, act.IncomeTaxRequest(share, asked or "accountant", **two))
        return _answer(books, [])


@click.command("last-year", cls=Command, help=act_of_verb("tax last-year").help)
@click.argument("amount")
@click.option("--high-income", is_flag=True, help="Its adjusted gross income was above the limit.")
@click.option("--part-year", is_flag=True, help="It was no full twelve months.")
@_year_option
@answers
def last_year(session: Session, amount: str, high_income: bool, part_year: bool, year: int | None) -> Answer:
    from ledger.actions import own_tax_choices as act
    from ledger.set_aside.own_tax import estimated_figures, high_income_limit

    with session.books() as books:
        cents = read_amount(amount, books.currency, "amount", zero=True)
        said = act.say_last_year(books, act.LastYearRequest(cents, high_income, part_year, year))
        figures = estimated_figures(books, said + 1, books.today)
        lines = [f"Kept: the return of {said} came to {amount_in(books.currency)(cents)}."]
        lines += ["As a part of a year its tax does not count for the next one."] if part_year else []
        lines += [high_income_limit(figures, books.currency)] if figures is not None else []
        return _answer(books, lines)


@click.command("wages", cls=Command, help=act_of_verb("tax wages").help)
@click.argument("amount")
@click.option(
    "--withheld", metavar="AMOUNT", help="What of it is withheld; with a percentage, what is for the workshop alone."
)
@_year_option
@_filing_option
@answers
def wages(session: Session, amount: str, withheld: str | None, year: int | None, filing: str | None) -> Answer:
    from ledger.actions import own_tax_choices as act

    with session.books() as books:
        request = act.WagesRequest(
            wages_cents=read_amount(amount, books.currency, "amount", zero=True),
            withheld_cents=read_amount(withheld, books.currency, "withheld", zero=True)
            if withheld is not None
            else None,
            tax_year=year,
            status=cast("FilingStatus | None", filing),
        )
        said = act.say_own_wages(books, request)
        return _answer(books, [f"Kept: your wages elsewhere in {said}."])


@click.command("filing-as", cls=Command)
@click.argument("status", type=click.Choice(STATUSES))
@answers
def filing_as(session: Session, status: str) -> Answer:
    """How you file: single, joint or separate.

    Thresholds of additional Medicare tax and of last year's income go by it.
    """
    from ledger.actions import own_tax_choices as act

    with session.books() as books:
        act.say_filing_as(books, cast("FilingStatus", status))
        return _answer(books, [f"Kept: you file {status}."])


@click.command("settled", cls=Command, help=act_of_verb("tax settled").help)
@click.argument("year", type=click.IntRange(1900, 2199))
@click.option("--undo", is_flag=True, help="It is not settled after all.")
@answers
def settled(session: Session, year: int, undo: bool) -> Answer:
    from ledger.actions import own_tax_choices as act

    with session.books() as books:
        act.settle_year(books, act.SettledRequest(year, settled=not undo))
        said = "counts again, less what was paid" if undo else "is settled"
        return _answer(books, [f"The return of {year} {said}."])


@click.command("schedule-se", cls=Command)
@click.argument("year", type=click.IntRange(1900, 2199), required=False)
@click.option("--profit", metavar="AMOUNT", help="Net profit, instead of what the books hold.")
@click.option("--wages", metavar="AMOUNT", help="Your own wages elsewhere, instead of what you said.")
@_filing_option
@answers
def schedule_se(session: Session, year: int | None, **given: str | None) -> Answer:
    """The lines of Schedule SE.

    For the tax YEAR, this one unless given; on the cash-method profit of the books, or on another. A year without
    published figures is refused.
    """
    from ledger.set_aside.own_tax import work_out_schedule

    with session.books() as books:
        amount = amount_in(books.currency)
        wanted = {
            name: read_amount(text, books.currency, name, zero=True) if text is not None else None
            for name, text in (("profit", given["profit"]), ("wages", given["wages"]))
        }
        tax_year = year or session.today.year
        found = work_out_schedule(
            books, tax_year, wanted["profit"], wanted["wages"], cast("FilingStatus | None", given["filing"])
        )
        data = {
            "tax_year": tax_year,
            "profit": amount(round_half_up(found.profit)),
            "net_earnings": amount(round_half_up(found.net_earnings)),
            "social_security": amount(round_half_up(found.social_security)),
            "medicare": amount(round_half_up(found.medicare)),
            "self_employment": amount(round_half_up(found.tax)),
            "half": amount(round_half_up(found.deductible)),
            "additional_medicare": amount(round_half_up(found.additional_medicare)),
        }
        return Answer(data, [*(f"{key.replace('_', ' '):<22}{value:>14}" for key, value in data.items()), DECIDES])


def _answer(books: Books, said: list[str]) -> Answer:
    data = _own_taxes(books)
    return Answer(data, [*said, *_lines(data), DECIDES])


def _own_taxes(books: Books) -> dict[str, Any]:
    """Last year where it is not settled, this year, and this year's estimated tax."""
    from ledger.set_aside.estimated import read_estimated
    from ledger.set_aside.own_tax import read_own_tax

    on = books.today
    years = [read_own_tax(books, year, on) for year in (on.year - 1, on.year) if year >= books.settings.begun_on.year]
    this_year = years[-1]
    return {
        "years": [_year(books.currency, each) for each in years],
        "estimated": _estimated(books, read_estimated(books, this_year, on)),
    }


def _year(currency: Currency, year: OwnTax) -> dict[str, Any]:
    amount = amount_in(currency)
    share = year.percentage
    return {
        "tax_year": year.tax_year,
        "profit": amount(year.profit_cents),
        "self_employment": amount(year.tax.self_employment_cents),
        "additional_medicare": amount(year.tax.additional_medicare_cents),
        "income_tax": None if year.tax.is_before_income_tax else amount(year.tax.income_tax_cents),
        "goes_by": year.tax.basis,
        "percent": plain_percent(share.percent) if share is not None else None,
        "withheld": amount(year.withheld_cents),
        "paid": amount(sum(each.cents for each in year.payments)),
        "left": amount(year.left.total_cents),
        "settled": year.is_settled,
        "notes": list(year.notes),
    }


def _estimated(books: Books, found: EstimatedYear) -> dict[str, Any]:
    amount, on, required = amount_in(books.currency), books.today, found.required

    def or_none(cents: int | None) -> str | None:
        return None if cents is None else amount(cents)

    return {
        "tax_year": found.tax_year,
        "by_this_year": or_none(required.by_this_year_cents) if required else None,
        "by_last_year": or_none(required.by_last_year_cents) if required else None,
        "required": or_none(required.cents) if required else None,
        "paid": amount(found.paid_cents),
        "behind": amount(found.behind_cents(on)),
        "ahead": amount(found.ahead_cents(on)),
        "instalments": [
            {
                "number": each.period.number,
                "date": each.period.due.isoformat(),
                "wanted": amount(each.wanted_cents),
                "left": amount(each.left_cents),
            }
            for each in found.instalments
        ],
        "notes": list(found.notes),
    }


def _lines(data: dict[str, Any]) -> list[str]:
    lines = []
    for year in data["years"]:
        income = year["income_tax"] or "not known, ask your accountant"
        lines.append(
            f"{year['tax_year']}: profit {year['profit']}, self-employment tax {year['self_employment']}, "
            f"income tax {income}, paid {year['paid']}, left {year['left']}."
        )
        lines += [f"  {note}" for note in year["notes"]]
    due = data["estimated"]
    if due["required"] is None:
        return lines
    lines.append(f"Estimated tax {due['tax_year']}: {due['required']} in all, paid {due['paid']}.")
    lines += [f"  {each['date']}  {each['wanted']:>12}  left {each['left']}" for each in due["instalments"]]
    lines += [
        f"  {word} by {due[word.casefold()]}." for word in ("Behind", "Ahead") if due[word.casefold()].strip("0.")
    ]
    return [*lines, *(f"  {note}" for note in due["notes"])]


TAX_COMMANDS = (estimated, income, last_year, wages, filing_as, settled, schedule_se)
