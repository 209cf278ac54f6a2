"""Her own taxes opened: each line of a year into how it was worked out, what was paid, and the profit it rests on."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from functools import partial

from ledger.books.books import Books
from ledger.money import largest_remainder, plain_percent, round_half_up
from ledger.set_aside.estimated import EstimatedYear, read_estimated
from ledger.set_aside.own_tax import OwnTax
from ledger.set_aside.part import Part
from ledger.set_aside.profit_parts import profit_parts

BEFORE_ACCOUNTANT = "Depreciation, and how meals and the home count, are your accountant's to say."
LINES = ("self_employment", "additional_medicare", "income_tax")


def tax_parts(books: Books, years: Sequence[OwnTax], line: str, on: date) -> Iterator[Part]:
    """One of the three lines, year by year."""
    for year in years:
        left = getattr(year.left, f"{line}_cents")
        if left or year is years[-1]:
            yield Part(f"Tax year {year.tax_year}", left, opens=partial(_of_year, books, year, line, on))


def _of_year(books: Books, year: OwnTax, line: str, on: date) -> Iterator[Part]:
    whole, left = getattr(year.tax, f"{line}_cents"), getattr(year.left, f"{line}_cents")
    yield Part(_words(year, line), whole, opens=partial(_working, year) if line == "self_employment" else None)
    if whole != left:
        words = "Settled with its return" if year.is_settled else "Covered by what was paid and withheld"
        yield Part(words, left - whole, opens=None if year.is_settled else partial(_payments, year))
    end = min(date(year.tax_year, 12, 31), on)
    yield Part(
        "net profit, cash method",
        year.profit_cents,
        note=BEFORE_ACCOUNTANT,
        adds=False,
        opens=partial(profit_parts, books, date(year.tax_year, 1, 1), end),
    )
    estimated = read_estimated(books, year, on)
    if estimated.required is not None:
        words, wanted = "estimated tax wanted on the four dates", estimated.required.cents
        yield Part(words, wanted, adds=False, opens=partial(_four_dates, estimated, on))
    for each in year.notes:
        yield Part(each, None)


def _words(year: OwnTax, line: str) -> str:
    if line == "self_employment":
        return "Self-employment tax, as Schedule SE works it out"
    if line == "additional_medicare":
        return "Additional Medicare tax"
    if year.percentage is not None and year.tax.basis == "percentage":
        beside = ", self-employment tax in it" if year.percentage.includes_self_employment else ""
        return f"{plain_percent(year.percentage.percent)} % of net profit{beside}"
    return {"last year's tax": "By last year's tax", "the return": "By the return"}.get(year.tax.basis, "Income tax")


def _working(year: OwnTax) -> Iterator[Part]:
    """The two taxes in whole cents, and the net earnings that both rest on."""
    schedule, whole = year.schedule, year.tax.self_employment_cents
    if whole == round_half_up(schedule.tax):
        security, medicare = largest_remainder(whole, [schedule.social_security, schedule.medicare])
        yield Part("Social security", security)
        yield Part("Medicare", medicare)
    else:
        yield Part("As much of it as the return came to", whole)
    yield Part("net earnings from self-employment", round_half_up(schedule.net_earnings), adds=False)


def _four_dates(estimated: EstimatedYear, on: date) -> Iterator[Part]:
    """What each date wants, the figures that it comes from, and whether she is behind or ahead."""
    for each in estimated.instalments:
        yield Part(f"{each.period.due}, period {each.period.number} of 4", each.wanted_cents)
    required = estimated.required
    assert required is not None, "only a year with figures is opened"
    for words, cents in (
        ("by this year's tax so far", required.by_this_year_cents),
        ("by last year's tax", required.by_last_year_cents),
        ("withheld", required.withheld_cents),
        ("paid towards the dates", estimated.paid_cents),
        ("behind", estimated.behind_cents(on)),
        ("ahead", estimated.ahead_cents(on)),
    ):
        if cents:
            yield Part(words, cents, adds=False)
    for note in estimated.notes:
        yield Part(note, None)


def _payments(year: OwnTax) -> Iterator[Part]:
    """Everything that was paid and withheld for the year, of which the line takes its share."""
    if year.withheld_cents:
        yield Part("Withheld from wages", year.withheld_cents, adds=False)
    for each in year.payments:
        words = f"{each.day}  {each.entry}  {each.text}" if each.entry is not None else f"Paid for {each.text}"
        yield Part(words, each.cents, each.entry, adds=False)
