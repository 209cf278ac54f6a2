"""Amounts as banks write them: signs before or after, in parentheses, with thousands, with a comma for decimals."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Literal

from ledger.errors import NotUnderstood
from ledger.money import MAX_CENTS, Currency
from ledger.text import shown

Mark = Literal[".", ","]

_PLAIN = re.compile(r"[0-9]{1,15}(?:\.[0-9]{1,9})?")
# What may stand about a number: a currency's sign or code.
_ABOUT = re.compile(r"[$\u20ac\u00a3\u00a5]|^[A-Z]{3}(?=[\s0-9(+-])|(?<=[\s0-9)])[A-Z]{3}$")
_THOUSANDS = {".": ",", ",": "."}


def bank_cents(text: str, currency: Currency, mark: Mark = ".", field: str | None = "file") -> int:
    """Signed cents from `-1,204.10`, `(1,204.10)`, `1.204,10-` or `$12`. Raises NotUnderstood for anything else."""
    sign, digits = _signed(_bare(text))
    whole, _, decimals = digits.partition(mark)
    whole = _without_thousands(whole, _THOUSANDS[mark])
    number = f"{whole or '0'}.{decimals}" if decimals else whole
    if not _PLAIN.fullmatch(number):
        raise NotUnderstood(f"«{shown(text)[:40]}» is no amount.", "Check which column holds the amounts.", field)
    whole, _, decimals = number.partition(".")
    if len(decimals.rstrip("0")) > currency.decimals:
        raise NotUnderstood(
            f"«{shown(text)[:40]}» has more decimals than {currency.code} has.",
            "Check whether a comma or a point stands before the decimals, and say it in the map.",
            field,
        )
    cents = int(whole) * currency.minor_units + int(decimals[: currency.decimals].ljust(currency.decimals, "0") or 0)
    if cents > MAX_CENTS:
        raise NotUnderstood(f"«{shown(text)[:40]}» is too large an amount.", "Check the file.", field)
    return sign * cents


def decimal_marks(texts: Iterable[str]) -> set[Mark]:
    """The marks that every amount of a column can be read with: both where the column does not tell."""
    possible: set[Mark] = {".", ","}
    for text in texts:
        bare = _signed(_bare(text))[1]
        for mark in tuple(possible):
            if not _could_be(bare, mark):
                possible.discard(mark)
    return possible


def _could_be(bare: str, mark: Mark) -> bool:
    whole, found, decimals = bare.partition(mark)
    if found and not (decimals.isascii() and decimals.isdigit() and len(decimals) <= 3):
        return False
    grouped = _without_thousands(whole, _THOUSANDS[mark])
    return (grouped.isascii() and grouped.isdigit()) or (not whole and bool(decimals))


def _bare(text: str) -> str:
    """The number with its signs, every kind of space in it as one plain space."""
    return " ".join(_ABOUT.sub("", text.strip()).split())


def _signed(bare: str) -> tuple[int, str]:
    """The sign, and the number without it."""
    if bare.startswith("(") and bare.endswith(")"):
        return -1, bare[1:-1].strip()
    for sign, worth in (("-", -1), ("\u2212", -1), ("+", 1)):
        if bare.startswith(sign):
            return worth, bare[1:].strip()
        if bare.endswith(sign):
            return worth, bare[:-1].strip()
    return 1, bare


def _without_thousands(whole: str, separator: str) -> str:
    """Without the signs between groups of three digits; any other grouping stays, and is then no number."""
    for each in (separator, " ", "'", "\u2019"):
        if re.fullmatch(rf"[0-9]{{1,3}}(?:{re.escape(each)}[0-9]{{3}})+", whole):
            return whole.replace(each, "")
    return whole
