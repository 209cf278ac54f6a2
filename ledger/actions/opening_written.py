"""Lists as they are written on the form and for the command: `Ada Brook 120.50; Ben Okoro 40`.

amount: reads one amount to cents, number one length, both for the field that the list stands in.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from decimal import Decimal

from ledger.actions.opening_request import CertificateBefore, DebtBefore, DepositBefore
from ledger.errors import NotUnderstood
from ledger.text import shown

Amount = Callable[[str], int]
Number = Callable[[str], Decimal]

DEBTS, DEPOSITS = "Ada Brook 120.50; Ben Okoro 40", "Cara, Fan quilt, 60x80, 50; job 3 25"
CERTIFICATES, TAXES = "17 50; 18 25", "state 43; county 10"
INCOME, EXPENSES, ESTIMATED = "job income 8200; tips 120", "thread 310; batting 1200", "1 400; 2 400"

_FIGURE = r"[0-9](?:[0-9.,'+]*[0-9])?"
# Between two parts: a semicolon, or a comma before a word; a comma inside a number is none.
_BETWEEN = re.compile(r";|,\s+(?=[^\W\d])")
_NAMED = re.compile(rf"(.*?\S)[\s=]+({_FIGURE})")
_DEBT = re.compile(rf"(.*?\S)[\s=]+({_FIGURE})(?:\s+tax\s+({_FIGURE}))?", re.IGNORECASE)
_ON_JOB = re.compile(rf"job\s+([0-9]{{1,9}})[\s,=]+({_FIGURE})", re.IGNORECASE)
_PIECE = re.compile(
    rf"(?P<who>[^,]*[^\s,])\s*,\s*(?P<piece>\S.*?)\s*,?\s+(?P<width>[0-9.,]*[0-9])\s*x\s*(?P<length>[0-9.,]*[0-9])"
    rf"[\s,]+(?P<amount>{_FIGURE})(?:[\s,]+value\s+(?P<value>{_FIGURE}))?(?P<booked>[\s,]+booked)?",
    re.IGNORECASE,
)


def read_named(text: str, amount: Amount, field: str, example: str) -> tuple[tuple[str, int], ...]:
    """Names with their amounts. Raises NotUnderstood."""
    found = (_matched(_NAMED, each, field, example) for each in _parts(text, _BETWEEN))
    return tuple((each[1], amount(each[2])) for each in found)


def read_debts(text: str, amount: Amount) -> tuple[DebtBefore, ...]:
    """Customers with what they owe, tax included, and the tax in it where she knows it. Raises NotUnderstood."""
    found = (_matched(_DEBT, each, "debts", DEBTS) for each in _parts(text, _BETWEEN))
    return tuple(DebtBefore(each[1], amount(each[2]), amount(each[3]) if each[3] else None) for each in found)


def read_deposits(text: str, amount: Amount, number: Number) -> tuple[DepositBefore, ...]:
    """Deposits with their jobs: by number, or customer, piece and size. Raises NotUnderstood."""
    return tuple(_deposit(each, amount, number) for each in _parts(text, re.compile(";")))


def read_certificates_out(text: str, amount: Amount) -> tuple[CertificateBefore, ...]:
    """Numbers as they stand on the certificates, with what is left on each. Raises NotUnderstood."""
    return tuple(
        CertificateBefore(name, cents) for name, cents in read_named(text, amount, "certificates", CERTIFICATES)
    )


def read_taxes(text: str, amount: Amount) -> tuple[tuple[str | None, int], ...]:
    """One amount, or jurisdictions with theirs. Raises NotUnderstood."""
    if re.fullmatch(_FIGURE, text.strip()):
        return ((None, amount(text.strip())),)
    return tuple(read_named(text, amount, "sales_tax", TAXES))


def read_estimated(text: str, amount: Amount) -> tuple[tuple[int, int], ...]:
    """Period 1 to 4 with what was paid for it. Raises NotUnderstood."""
    told: dict[int, int] = {}
    for name, cents in read_named(text, amount, "estimated", ESTIMATED):
        if not (name.isascii() and name.isdigit() and len(name) == 1):
            raise NotUnderstood(
                f"«{shown(name)[:30]}» is no period of estimated tax.", f"Write it like {ESTIMATED}.", "estimated"
            )
        told[int(name)] = told.get(int(name), 0) + cents
    return tuple(told.items())


def _deposit(text: str, amount: Amount, number: Number) -> DepositBefore:
    on_job = _ON_JOB.fullmatch(text)
    if on_job is not None:
        return DepositBefore(amount(on_job[2]), job=int(on_job[1]))
    found = _matched(_PIECE, text, "deposits", DEPOSITS)
    return DepositBefore(
        cents=amount(found["amount"]),
        customer=found["who"],
        piece=found["piece"],
        width=number(found["width"]),
        length=number(found["length"]),
        value_cents=amount(found["value"]) if found["value"] else 0,
        is_booked=found["booked"] is not None,
    )


def _parts(text: str, between: re.Pattern[str]) -> Iterator[str]:
    return (each.strip() for each in between.split(text) if each.strip())


def _matched(pattern: re.Pattern[str], text: str, field: str, example: str) -> re.Match[str]:
    found = pattern.fullmatch(text)
    if found is None:
        raise NotUnderstood(f"«{shown(text)[:40]}» was not understood.", f"Write it like {example}.", field)
    return found
