"""What is in force for sales tax on a day, as the commands tell it that change it."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import Any

from ledger.books.books import Books
from ledger.commands.manners import Answer, amount_in
from ledger.money import plain_percent
from ledger.taxes import filing_rules, rules
from ledger.taxes.allowance import Allowance
from ledger.taxes.rate_gaps import rate_gaps
from ledger.taxes.sales_tax import SHIPPED_CLASSES, Rate, TaxRules, percent_sum
from ledger.taxes.tax_holidays import read_holidays

ASK = "Ask your state's revenue office; collect no tax before you hold a permit."


def in_force(books: Books, lines: list[str]) -> Answer:
    """The rules that hold today, after what was just entered."""
    today = books.today
    standing = rules.rules_on(books, today)
    places = [{"place": each, **_rates(rules.rates_on(books, today, each))} for each in _places(books)]
    data: dict[str, Any] = {
        **_rates(standing.rates),
        "classes": _classes(standing),
        "method": standing.method,
        "period": filing_rules.filing_frequency(books, today),
        "due_day": filing_rules.filing_due_day(books, today),
        "state": filing_rules.filing_state(books),
        "sourcing": "destination" if rules.is_taxed_at_destination(books, today) else "origin",
        "places": places,
        "bad_debt_tax_claimed": rules.bad_debt_answer(books, today),
        **_returns(books),
        "gaps": [
            {"name": each.jurisdiction, "start": each.start.isoformat(), "end": each.end.isoformat()}
            for each in rate_gaps(books)
        ],
        "holidays": _holidays(books),
    }
    return Answer(data, [*lines, *_in_force_lines(data, today)])


def _returns(books: Books) -> dict[str, Any]:
    """What her state said of returns; null where nobody has asked yet."""
    choices = filing_rules.read_choices(books, books.today)
    return {
        "allowance": _allowance(books, choices.allowance),
        "reported_by": choices.basis,
        "corrections": choices.corrections,
        "below_zero": choices.below_zero,
    }


def _allowance(books: Books, allowance: Allowance) -> dict[str, Any] | None:
    if not allowance.percent and not allowance.then_percent:
        return None
    amount = amount_in(books.currency)
    return {
        "percent": plain_percent(allowance.percent),
        "first": amount(allowance.first_cents) if allowance.first_cents is not None else None,
        "then_percent": plain_percent(allowance.then_percent),
        "cap": amount(allowance.cap_cents) if allowance.cap_cents is not None else None,
    }


def _holidays(books: Books) -> list[dict[str, Any]]:
    return [
        {
            "class": each.class_name,
            "name": each.name,
            "start": each.from_date.isoformat(),
            "end": each.until_date.isoformat(),
            "jurisdiction": each.rate.jurisdiction if each.rate else None,
            "percent": plain_percent(each.rate.percent) if each.rate else None,
            "asked": each.asked,
        }
        for each in read_holidays(books)
        if each.until_date >= books.today
    ]


def _classes(standing: TaxRules) -> list[dict[str, Any]]:
    known = sorted({*SHIPPED_CLASSES, *standing.answers}, key=lambda name: (name not in SHIPPED_CLASSES, name))
    return [
        {
            "class": name,
            "taxed": standing.answers.get(name),
            "rule": "split" if name in standing.split else "materials" if name in standing.materials else None,
        }
        for name in known
    ]


def _places(books: Books) -> tuple[str, ...]:
    return rules.places_with_rates(books, books.today)


def _rates(standing: Sequence[Rate]) -> dict[str, Any]:
    rates = [
        {"name": each.jurisdiction, "level": each.level, "percent": plain_percent(each.percent)} for each in standing
    ]
    return {"rates": rates, "percent": plain_percent(percent_sum(standing))}


_SAID_OF_RULE = {"split": "taxed as the other lines are, by price", "materials": "taxed by the materials in it"}


def _in_force_lines(data: dict[str, Any], today: date) -> list[str]:
    said = {True: "taxed", False: "not taxed", None: "not answered yet"}
    lines = [f"In force on {today}: {data['percent']} % in all, worked out per {data['method']}."]
    lines += [f"  {each['name']} ({each['level']}) {each['percent']} %" for each in data["rates"]]
    for place in data["places"]:
        lines.append(f"Sent to {place['place']}: {place['percent']} % in all.")
        lines += [f"  {each['name']} ({each['level']}) {each['percent']} %" for each in place["rates"]]
    lines += [f"  {each['class']}: {_SAID_OF_RULE.get(each['rule'], said[each['taxed']])}" for each in data["classes"]]
    for each in data["holidays"]:
        rate = f"{each['jurisdiction']} {each['percent']} %" if each["percent"] else "not taxed"
        lines.append(f"  {each['class']}, {each['name']}, {each['start']} to {each['end']}: {rate}")
    return [*lines, ASK] if any(each["taxed"] is None for each in data["classes"]) else lines
