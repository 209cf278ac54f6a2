"""What a CSV shows of itself: which heading is which, the order of day and month, and the sign before decimals."""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import date

from ledger.bank.amounts import Mark, decimal_marks
from ledger.bank.csv_map import ORDERS, Column, CsvMap, DateOrder
from ledger.errors import NotUnderstood
from ledger.text import clean

# The headings that banks use, as far as common practice goes; no source.
_HEADINGS: dict[str, tuple[str, ...]] = {
    "date": ("date", "posting date", "posted date", "post date", "transaction date", "booking date", "value date"),
    "text": ("description", "payee", "details", "name", "narrative", "transaction", "text", "merchant", "particulars"),
    "memo": ("memo", "notes", "additional info", "reference text", "purpose"),
    "amount": ("amount", "amount (usd)", "transaction amount", "value"),
    "out": ("debit", "debits", "withdrawal", "withdrawals", "money out", "paid out", "debit amount", "out"),
    "in": ("credit", "credits", "deposit", "deposits", "money in", "paid in", "credit amount", "in"),
    "number": ("check number", "check", "check no", "check no.", "check #", "cheque number", "number"),
    "id": ("transaction id", "reference", "reference number", "id", "fitid", "bank id"),
    "direction": ("type", "transaction type", "debit/credit", "credit/debit", "credit or debit", "dr/cr", "cr/dr"),
    "balance": ("balance", "running balance", "balance after"),
}
_OUT_WORDS = ("debit", "dr", "d", "withdrawal", "out")
_IN_WORDS = ("credit", "cr", "c", "deposit", "in")
_DATE = re.compile(r"([0-9]{1,4})[-/. ]([0-9]{1,2})[-/. ]([0-9]{1,4})(?:[ T].*)?|([0-9]{8})")


def guessed_map(headings: Sequence[str], body: Sequence[Sequence[str]] = ()) -> CsvMap:
    """The map that the headings themselves give. Raises NotUnderstood where they do not, naming them.

    body: the rows below, by which a column of «debit» and «credit» beside amounts without a sign is known.
    """
    by_fold = {" ".join(each.split()).casefold(): each.strip() for each in headings}
    found = {
        name: next((by_fold[word] for word in words if word in by_fold), None) for name, words in _HEADINGS.items()
    }
    named, text = found["date"], found["text"] or found["memo"]
    split = found["out"] is not None or found["in"] is not None
    if named is None or text is None or (found["amount"] is None and not split):
        shown = ", ".join(f"«{clean(each)[:30]}»" for each in headings[:12])
        raise NotUnderstood(
            f"Which column is which cannot be told from the first row: {shown}.",
            'Say it once in a file for --map: date = "...", text = "...", amount = "...".',
            "map",
        )
    texts: list[Column] = [each for each in dict.fromkeys((text, found["memo"])) if each is not None]
    only_amount = found["amount"] is not None
    return CsvMap(
        date=named,
        text=tuple(texts),
        amount=found["amount"],
        out=None if only_amount else found["out"],
        in_=None if only_amount else found["in"],
        number=found["number"],
        id=found["id"],
        balance=found["balance"],
        direction=_direction(found["direction"], headings, body) if only_amount else None,
        out_words=_OUT_WORDS,
    )


def _direction(heading: str | None, headings: Sequence[str], body: Sequence[Sequence[str]]) -> str | None:
    """The column that says which way an amount went, where it says nothing else."""
    if heading is None:
        return None
    place = [each.strip() for each in headings].index(heading)
    said = {row[place].strip().casefold() for row in body}
    return heading if said and said <= {*_OUT_WORDS, *_IN_WORDS} else None


def shown_order(column: Sequence[str]) -> DateOrder:
    """The order of day, month and year that the whole column shows. Raises NotUnderstood where two fit, or none."""
    possible = [order for order in ORDERS if all(day_in(text, order) is not None for text in column)]
    if len(possible) == 1:
        return possible[0]
    example = clean(column[0])[:20] if column else ""
    if possible:
        raise NotUnderstood(
            f"The dates, such as «{example}», can be read with the month first and with the day first.",
            "Say which, as --dates mdy or --dates dmy; it is remembered for the account.",
            "dates",
        )
    wrong = next((text for text in column if all(day_in(text, order) is None for order in ORDERS)), example)
    raise NotUnderstood(
        f"«{clean(wrong)[:40]}» is no date, or not in the order of the others.",
        "Check in the map which column holds the date.",
        "map",
    )


def shown_mark(column: Sequence[str]) -> Mark:
    """The sign before decimals that the whole column shows. Raises NotUnderstood where two fit, or none."""
    telling = [each for each in column if "." in each or "," in each]
    possible = decimal_marks(column)
    if len(possible) == 1:
        return possible.pop()
    if possible and not telling:
        return "."
    if possible:
        raise NotUnderstood(
            f"The amounts, such as «{clean(telling[0])[:20]}», can be read with a comma or a point before decimals.",
            'Say which, as --decimal "." or --decimal ","; it is remembered for the account.',
            "decimal",
        )
    wrong = next((each for each in column if not decimal_marks([each])), column[0])
    raise NotUnderstood(
        f"«{clean(wrong)[:40]}» is no amount, or not written as the others are.",
        "Check in the map which column holds the amounts.",
        "map",
    )


def day_in(text: str, order: DateOrder) -> date | None:
    """The day that a text says in an order of its parts, None where it says none."""
    found = _DATE.fullmatch(text.strip())
    if found is None or not text.isascii():
        return None
    if found[4]:
        eight = found[4]
        parts = (eight[:4], eight[4:6], eight[6:]) if order == "ymd" else (eight[:2], eight[2:4], eight[4:])
    else:
        parts = (found[1], found[2], found[3])
    by_letter = dict(zip(order, parts, strict=True))
    if len(by_letter["y"]) not in (2, 4) or len(by_letter["m"]) > 2 or len(by_letter["d"]) > 2:
        return None
    year = int(by_letter["y"]) + (2000 if len(by_letter["y"]) == 2 else 0)
    try:
        return date(year, int(by_letter["m"]), int(by_letter["d"]))
    except ValueError:
        return None
