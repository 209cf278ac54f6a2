"""What her state told her about returns, each from a day on: how often and by when, the allowance, late corrections."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Literal, cast

from ledger.books.before_books import OPENING
from ledger.books.books import Books
from ledger.books.settings import choose, chosen
from ledger.books.transaction import Writing
from ledger.errors import NotPossible
from ledger.periods import Period, filing_due_date, month_holding, next_period
from ledger.taxes.allowance import NO_ALLOWANCE, Allowance, allowance_as_text, allowance_from_text
from ledger.taxes.filing_periods import FilingRule, check_filing_period, period_holding
from ledger.taxes.reported import Basis
from ledger.taxes.return_of_entry import Corrections
from ledger.text import read_text

BelowZero = Literal["carry", "claim"]

_FREQUENCY = "filing frequency"
_DUE_DAY = "filing due day"
_STATE = "filing state"
_ALLOWANCE = "filing allowance"
_BASIS = "tax basis"
_CORRECTIONS = "late corrections"
_BELOW_ZERO = "tax below zero"
_DAY = timedelta(days=1)


@dataclass(frozen=True)
class FilingChoices:
    """What holds on a day. None: nobody has told her yet, and the program goes by the word in brackets and says so.

    basis: tax belongs to the period of the sale, or of its payment [sale]. corrections: what comes late to a filed
    return goes into the next one, or into an amended one [next]. below_zero: a return below zero is carried forward, or
    claimed back [carry].
    """

    basis: Basis | None
    corrections: Corrections | None
    below_zero: BelowZero | None
    allowance: Allowance


def choose_filing(
    books: Books, write: Writing, frequency: str, due_day: int, from_date: date | None = None, state: str | None = None
) -> date:
    """How often she files, and on which day of the month after (31 is its last); the day from which it holds.

    Unless a day is given, a change of frequency holds from the start of the period that runs, or from the next one if
    that was filed already, and a due day for what is due from this month on. Raises NotPossible for a day that no month
    has, or one that lies in a filed period, and NotUnderstood for a state that there is not.
    """
    if not 1 <= due_day <= 31:
        raise NotPossible(f"There is no day {due_day} of a month.", "Give 1 to 31; 31 is the last.", "due_day")
    if state is not None:
        letters = state.strip().upper()
        filing_due_date(month_holding(books.today), due_day, letters)  # a state that there is not is refused
        choose(write, _STATE, letters, books.today, books.today)
    start = from_date or _usual_start(books, frequency)
    filed = _last_filed_day(books)
    if filed is not None and start <= filed and frequency != filing_frequency(books, start):
        raise NotPossible(f"Returns are filed through {filed}.", f"Let it hold from {filed + _DAY} or later.", "from")
    _choose_from(books, write, _FREQUENCY, frequency, start)
    is_known = from_date is None and filing_due_day(books, books.today) is not None
    _choose_from(books, write, _DUE_DAY, str(due_day), books.today.replace(day=1) if is_known else start)
    return start


def _choose_from(books: Books, write: Writing, key: str, value: str, start: date) -> None:
    """Keep a choice from a day on; what was chosen before for a later day gives way."""
    later = books.rows(
        "select distinct from_date from choice where key = ? and from_date > ? order by from_date",
        (key, start.isoformat()),
    )
    for day in (start, *(date.fromisoformat(row["from_date"]) for row in later)):
        choose(write, key, value, day, books.today)


def _usual_start(books: Books, frequency: str) -> date:
    standing = filing_frequency(books, books.today)
    if standing is None:
        return books.today
    running = period_holding(read_filing_rules(books), books.today)
    filed = _last_filed_day(books)
    if standing != frequency and filed is not None and filed >= running.start:
        return filed + _DAY
    return max(running.start, _first_choice(books))


def _first_choice(books: Books) -> date:
    return date.fromisoformat(books.value("select min(from_date) from choice where key = ?", (_FREQUENCY,)))


def _last_filed_day(books: Books) -> date | None:
    day = books.value(
        "select max(end_date) from filing where not exists "
        "(select 1 from filing_undone where filing_undone.filing = filing.id)"
    )
    return None if day is None else date.fromisoformat(day)


def filing_frequency(books: Books, day: date) -> str | None:
    """How often she files, as it was chosen by a day; None where nobody has told her."""
    return chosen(books, _FREQUENCY, day)


def filing_due_day(books: Books, day: date) -> int | None:
    due_day = chosen(books, _DUE_DAY, day)
    return None if due_day is None else int(due_day)


def filing_state(books: Books) -> str | None:
    """Whose holidays move a due date, in two letters; None for the federal ones."""
    return chosen(books, _STATE, date.max)


def read_filing_rules(books: Books) -> tuple[FilingRule, ...]:
    """How often she files and since when, neighbours that say the same made one."""
    days = books.rows("select distinct from_date from choice where key = ? order by from_date", (_FREQUENCY,))
    rules: list[FilingRule] = []
    for day in (date.fromisoformat(row["from_date"]) for row in days):
        frequency = filing_frequency(books, day)
        assert frequency is not None, "a choice holds from its day"
        if not rules or rules[-1].frequency != frequency:
            rules.append(FilingRule(frequency, day))
    return tuple(rules)


def filing_period(books: Books, period: Period | None) -> Period:
    """The filing period that is asked for, or the one that holds today. Raises NotPossible for other days.

    Until she has said how often she files, a whole month, quarter or year can be looked at.
    """
    rules = read_filing_rules(books)
    if period is None:
        return period_holding(rules, books.today)
    if rules:
        check_filing_period(rules, period)
        return period_holding(rules, period.start)
    next_period(period)  # a span that is no whole month, quarter or year is refused
    return period


def due_date(books: Books, period: Period) -> date | None:
    """When the return is due, moved off weekends and holidays; None until she has said by which day.

    By the day that holds when the month begins in which it is due, or else by the first that was ever said.
    """
    after = next_period(month_holding(period.end)).start
    due_day = filing_due_day(books, after)
    if due_day is None:
        first = books.value("select value from choice where key = ? order by from_date, id limit 1", (_DUE_DAY,))
        due_day = None if first is None else int(first)
    return None if due_day is None else filing_due_date(period, due_day, filing_state(books))


def read_choices(books: Books, day: date) -> FilingChoices:
    allowance = chosen(books, _ALLOWANCE, day)
    return FilingChoices(
        basis=cast("Basis | None", chosen(books, _BASIS, day)),
        corrections=cast("Corrections | None", chosen(books, _CORRECTIONS, day)),
        below_zero=cast("BelowZero | None", chosen(books, _BELOW_ZERO, day)),
        allowance=NO_ALLOWANCE if allowance is None else allowance_from_text(allowance),
    )


def allowance_for(books: Books, period: Period) -> Allowance:
    """The allowance of a period's return: as it holds on the period's last day, or as it was first told after that."""
    held = chosen(books, _ALLOWANCE, period.end)
    if held is None:
        held = books.value("select value from choice where key = ? order by from_date, id limit 1", (_ALLOWANCE,))
    return NO_ALLOWANCE if held is None else allowance_from_text(held)


def choose_allowance(books: Books, write: Writing, allowance: Allowance, from_date: date | None = None) -> None:
    """The allowance for filing and paying on time, from a day on."""
    choose(write, _ALLOWANCE, allowance_as_text(allowance), from_date or books.today, books.today)


def choose_basis(books: Books, write: Writing, basis: Basis, asked: str, from_date: date | None = None) -> None:
    """Whether tax belongs to the period of the sale or of its payment, for sales from a day on.

    Raises NotPossible for another answer from a day of a filed period: its sales would be reported twice, or never.
    """
    start = from_date or books.today
    filed = _last_filed_day(books)
    if filed is not None and start <= filed and basis_on(books, [start])[start] != basis:
        raise NotPossible(f"Returns are filed through {filed}.", f"Let it hold from {filed + _DAY} or later.", "from")
    _check_debts_before(books, basis, start)
    choose(write, _BASIS, basis, start, books.today, read_text(asked, "asked"))


def _check_debts_before(books: Books, basis: Basis, start: date) -> None:
    """What customers owed when the books began was told by what held then: its tax is in no return yet, or in one."""
    begun = books.settings.begun_on
    if start > begun or basis_on(books, [begun])[begun] == basis:
        return
    told = books.value(
        "select min(entry.number) from entry join owed_part on owed_part.entry = entry.number "
        f"where kind = '{OPENING}' and owed_part.tax > 0 "
        "and not exists (select 1 from entry as mirror where mirror.reverses = entry.number)"
    )
    if told is not None:
        raise NotPossible(
            f"With entry {told} you told what was owed when the books began, and its tax by the other answer.",
            f"Undo that entry first and tell the debt again after this, or let this hold from {begun + _DAY} on.",
            "from",
        )


def choose_corrections(books: Books, write: Writing, corrections: Corrections, asked: str) -> None:
    """Where what comes late to a filed return goes, for what is entered from today on."""
    choose(write, _CORRECTIONS, corrections, books.today, books.today, read_text(asked, "asked"))


def choose_below_zero(books: Books, write: Writing, below_zero: BelowZero, asked: str) -> None:
    """What becomes of a return below zero, for returns filed from today on."""
    choose(write, _BELOW_ZERO, below_zero, books.today, books.today, read_text(asked, "asked"))


def basis_on(books: Books, days: Sequence[date]) -> dict[date, Basis]:
    """For each day, what the tax of a sale of that day belongs to."""
    told = _chosen_on(books, _BASIS, days)
    return {day: "payment" if told[day] == "payment" else "sale" for day in told}


def corrections_on(books: Books, days: Sequence[date]) -> dict[date, Corrections]:
    """For each day, where what is entered on it and comes late to a filed return goes."""
    told = _chosen_on(books, _CORRECTIONS, days)
    return {day: "amended" if told[day] == "amended" else "next" for day in told}


def _chosen_on(books: Books, key: str, days: Sequence[date]) -> dict[date, str | None]:
    """As `chosen` for each day, with the choices read once."""
    rows = books.rows("select from_date, value from choice where key = ? order by from_date, id", (key,))
    steps = [(date.fromisoformat(row["from_date"]), str(row["value"])) for row in rows]
    starts = [start for start, _ in steps]
    places = {day: bisect_right(starts, day) for day in dict.fromkeys(days)}
    return {day: steps[place - 1][1] if place else None for day, place in places.items()}


def basis_of_job(books: Books, job: int) -> Basis:
    """What the tax of a job belongs to: as it held on the day of its first sale."""
    sold_on = books.value(
        f"select coalesce(belongs_on, date) from entry where job = ? and kind in ('pickup', '{OPENING}') "
        "and exists (select 1 from owed_part where owed_part.entry = entry.number) order by number limit 1",
        (job,),
    )
    day = date.fromisoformat(sold_on) if sold_on is not None else books.today
    return basis_on(books, [day])[day]
