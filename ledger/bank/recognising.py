"""What a new line looks like: a suggestion that she takes with one key, and that decides nothing by itself.

In this order: a returned check, a transfer between her own accounts, a card payout less its fee, a loan payment, money
that a job owes, and what she said of such a line before.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import accumulate
from typing import Literal

from ledger.bank.matching import OpenLine
from ledger.bank.text_keys import names_it, text_key

Way = Literal["category", "home", "job", "transfer", "payout", "returned", "loan"]

TRANSFER_DAYS = 5
RETURNED_DAYS = 90
LOAN_DAYS = 10
# A fee above a twentieth is hardly one. Common sense, no source.
MOST_FEE_PART = 20
# How banks name a check that came back; common practice, no source.
_RETURNED_WORDS = ("return", "nsf", "unpaid", "bounced", "chargeback", "dishonored", "dishonoured", "insufficient")


@dataclass(frozen=True)
class Suggestion:
    """way: how the line would be placed. name: the category or account. why: a sentence's part that says so.

    through: the last day of the card payments that a payout covers. fee_cents: what the card company kept.
    """

    way: Way
    why: str
    name: str = ""
    job: int | None = None
    who: str = ""
    through: date | None = None
    fee_cents: int = 0


@dataclass(frozen=True)
class OtherLine:
    """An open line on another of her accounts."""

    account: str
    day: date
    cents: int


@dataclass(frozen=True)
class PaidCheck:
    """A check payment that still holds. number: the check's, empty where it was not kept."""

    job: int
    day: date
    cents: int
    number: str


@dataclass(frozen=True)
class CardDay:
    """What a day's card payments put on their way, in cents."""

    day: date
    cents: int


@dataclass(frozen=True)
class DueLoan:
    """A loan payment to come."""

    words: str
    day: date
    cents: int


@dataclass(frozen=True)
class Debtor:
    """A job that owes. who: its customer."""

    job: int
    who: str
    cents: int


@dataclass(frozen=True)
class Habit:
    """What she said of lines with this key before, the last time."""

    key: str
    way: Way
    name: str = ""
    who: str = ""


@dataclass(frozen=True)
class Facts:
    """What lines are held against. is_checking: of these lines' account, where payouts and loan payments are seen."""

    is_checking: bool = False
    others: Sequence[OtherLine] = ()
    checks: Sequence[PaidCheck] = ()
    cards: Sequence[CardDay] = ()
    loans: Sequence[DueLoan] = ()
    debtors: Sequence[Debtor] = ()
    habits: Sequence[Habit] = ()


def recognise(line: OpenLine, facts: Facts) -> Suggestion | None:
    """What a line looks like, None where it looks like nothing that is known."""
    return (
        _returned(line, facts)
        or _transfer(line, facts)
        or _payout(line, facts)
        or _loan(line, facts)
        or _debtor(line, facts)
        or _habit(line, facts)
    )


def _returned(line: OpenLine, facts: Facts) -> Suggestion | None:
    """A check that was paid in and taken back: its amount with a word that says so, or its number."""
    said = line.words.casefold()
    is_said = any(each in said for each in _RETURNED_WORDS)
    fitting = [
        each
        for each in facts.checks
        if each.cents == -line.cents
        and timedelta(0) <= line.day - each.day <= timedelta(days=RETURNED_DAYS)
        and (is_said or (line.number and line.number == each.number))
    ]
    numbered = [each for each in fitting if each.number and (each.number == line.number or each.number in said.split())]
    found = numbered or fitting
    if len(found) != 1:
        return None
    return Suggestion("returned", f"the check on job {found[0].job} came back", job=found[0].job)


def _transfer(line: OpenLine, facts: Facts) -> Suggestion | None:
    """The same amount the other way on another of her accounts, a few days off, and only one such."""
    fitting = [
        each
        for each in facts.others
        if each.cents == -line.cents and abs(each.day - line.day) <= timedelta(days=TRANSFER_DAYS)
    ]
    if len({each.account for each in fitting}) != 1:
        return None
    account = fitting[0].account
    way = "to" if line.cents < 0 else "from"
    return Suggestion("transfer", f"a transfer {way} {account}", name=account)


def _payout(line: OpenLine, facts: Facts) -> Suggestion | None:
    """A payout of the card payments through some day, less a fee that is small enough to be one."""
    if not facts.is_checking or line.cents < 0:
        return None
    earlier = [each for each in facts.cards if each.day <= line.day]
    sums = accumulate(each.cents for each in earlier)
    fees = [
        (total - line.cents, each.day)
        for each, total in zip(earlier, sums, strict=True)
        if 0 <= total - line.cents <= total // MOST_FEE_PART
    ]
    if not fees:
        return None
    fee, through = min(fees)
    return Suggestion("payout", f"a card payout, payments through {through}", through=through, fee_cents=fee)


def _loan(line: OpenLine, facts: Facts) -> Suggestion | None:
    fitting = [
        each
        for each in facts.loans
        if each.cents == -line.cents and abs(each.day - line.day) <= timedelta(days=LOAN_DAYS)
    ]
    if not facts.is_checking or len(fitting) != 1:
        return None
    return Suggestion("loan", f"a payment on {fitting[0].words}", name=fitting[0].words)


def _debtor(line: OpenLine, facts: Facts) -> Suggestion | None:
    """What one job owes to the cent, and where several do, the one whose customer the line names."""
    fitting = [each for each in facts.debtors if each.cents == line.cents]
    named = [each for each in fitting if names_it(line.words, each.who)]
    found = named or fitting
    if len(found) != 1:
        return None
    return Suggestion("job", f"what job {found[0].job} owes", job=found[0].job, who=found[0].who)


def _habit(line: OpenLine, facts: Facts) -> Suggestion | None:
    key = text_key(line.words)
    found = next((each for each in facts.habits if each.key == key), None)
    if found is None:
        return None
    name = found.name or "the household"
    return Suggestion(found.way, f"{name}, as before", name=found.name, who=found.who)
