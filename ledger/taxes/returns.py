"""Returns as the books have them: the open ones worked out, the filed ones as they were filed, and what came late."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from functools import cached_property
from typing import get_args

from ledger.books.before_books import OPENING
from ledger.books.books import Books
from ledger.books.entries import Entry
from ledger.errors import NotPossible
from ledger.periods import FilingFrequency, Period, is_filing_period
from ledger.taxes.filed_return import FiledReturn
from ledger.taxes.filed_returns import credit_left, filed_by_start, filed_through, read_filed
from ledger.taxes.filing_periods import FilingRule, period_holding, periods_from
from ledger.taxes.filing_rules import allowance_for, corrections_on, due_date, read_filing_rules
from ledger.taxes.reported import TaxKey, TaxSum, add_taxes
from ledger.taxes.return_entries import FILING, PAYMENT
from ledger.taxes.return_of_entry import Place, Returns
from ledger.taxes.taxed_entries import (
    TaxedEntry,
    UseTaxEntry,
    read_levies,
    read_taxed_entries,
    read_use_tax_entries,
)
from ledger.taxes.worksheet import Beside, Levy, UseTaxAt, Worksheet, before_in, work_out
from ledger.taxes.worksheet_text import worksheet_from_text


@dataclass(frozen=True)
class Return:
    """A return, filed or open. sequence: 0 the first of its period, then amended ones. filed: None while it is open.

    entries: how many it is made of. earlier: entries that belong to an earlier period and came too late for it.
    """

    period: Period
    sequence: int
    due_on: date | None
    worksheet: Worksheet
    filed: FiledReturn | None
    entries: int = 0
    earlier: tuple[int, ...] = ()

    @property
    def to_pay_cents(self) -> int:
        """What the worksheet comes to while it is open; below zero where it is a credit."""
        return self.worksheet.total_cents


@dataclass(frozen=True)
class LateEntry:
    """An entry that came when the return of its period was filed, and the return that it goes into instead."""

    entry: int
    booked_on: date
    tax_cents: int
    goes_to: Place


class ReturnsBook:
    """Everything that returns are made of, read once, as of the end of today."""

    def __init__(self, books: Books, rules: Sequence[FilingRule] | None = None) -> None:
        self.books = books
        self.rules = tuple(rules) if rules is not None else read_filing_rules(books)
        self.filed = read_filed(books)
        self.by_start: Mapping[date, Sequence[FiledReturn]] = filed_by_start(self.filed)
        self._returns = Returns(self.rules, filed_through(self.by_start))
        self._levies: dict[int, Levy] = read_levies(books)

    @cached_property
    def placed(self) -> list[tuple[Place, TaxedEntry]]:
        """Every entry with the return that it belongs to."""
        entries = read_taxed_entries(self.books)
        chosen = corrections_on(self.books, [each.booked_on for each in entries])
        place_of = self._returns.place_of
        return [
            (place_of(each.reported.entry, each.booked_on, each.day, chosen[each.booked_on]), each) for each in entries
        ]

    @cached_property
    def use_tax_placed(self) -> list[tuple[Place, UseTaxEntry]]:
        """Use tax belongs to the day on which it was booked."""
        entries = read_use_tax_entries(self.books)
        return [(self._returns.place_of(each.entry, each.booked_on, each.booked_on, "next"), each) for each in entries]

    def is_open(self, place: Place) -> bool:
        return place.sequence >= len(self.by_start.get(place.period.start, ()))

    def open_return(self, period: Period) -> Return:
        """The return of a period that is still to be filed: the first, or an amended one, with the whole period in it.

        Credit of returns before is taken off; the allowance while it can be filed on time.
        """
        place = self._returns.open_place(period)
        due_on = due_date(self.books, period)
        held = [each for at, each in self.placed if at.period == period and at.sequence <= place.sequence]
        use_tax = [each for at, each in self.use_tax_placed if at.period == period and at.sequence <= place.sequence]
        beside = Beside(
            use_tax=self._use_tax_lines(use_tax),
            use_tax_cents=sum(each.cents for each in use_tax),
            carried_cents=credit_left(self.filed),
            owed_before_cents=sum(each.owed_cents for each in self.by_start.get(period.start, ())),
            allowance=allowance_for(self.books, period),
            is_in_time=place.sequence == 0 and due_on is not None and self.books.today <= due_on,
            before=before_in([each.reported for each in held if each.is_before]),
        )
        in_order = sorted(held, key=lambda each: each.reported.entry)
        worksheet = work_out([each.reported for each in in_order], self._levies, beside)
        earlier = tuple(each.reported.entry for each in in_order if not period.holds(each.day))
        return Return(period, place.sequence, due_on, worksheet, None, len(held) + len(use_tax), earlier)

    def newest_return(self, period: Period) -> Return:
        """The last return of a period that was filed, as it was; or the open one, where none was."""
        several = self.by_start.get(period.start, ())
        return self.filed_return(several[-1]) if several else self.open_return(period)

    def filed_return(self, filed: FiledReturn) -> Return:
        return Return(filed.period, filed.sequence, filed.due_on, worksheet_from_text(filed.worksheet), filed)

    def newly_collected(self, found: Return) -> int:
        """The tax of the entries that an open return has and none before it had, in cents."""
        place = Place(found.period, found.sequence)
        return sum(each.reported.tax_cents for at, each in self.placed if at == place)

    def has_news(self, found: Return) -> bool:
        """Whether anything came to a period since its last return."""
        place = Place(found.period, found.sequence)
        return any(at == place for at, _ in (*self.placed, *self.use_tax_placed))

    def late_entries(self, period: Period) -> tuple[LateEntry, ...]:
        """What belongs to a filed period and came after its return, as far as no return had it yet."""
        if not self.by_start.get(period.start):
            return ()
        return tuple(
            LateEntry(each.reported.entry, each.booked_on, each.reported.tax_cents, at)
            for at, each in self.placed
            if self.is_open(at) and period.holds(each.day)
        )

    def open_periods(self) -> tuple[Period, ...]:
        """The periods from the beginning of the books to today of which no return is filed, the oldest first."""
        begun, today = self.books.settings.begun_on, self.books.today
        days = (each.day for _, each in self.placed)
        first = period_holding(self.rules, min((begun, *days)))
        every = periods_from(self.rules, first.start, today)
        return tuple(each for each in every if not self.by_start.get(each.start))

    def open_returns(self) -> tuple[Return, ...]:
        """Every return that is still to be filed, amended ones among them, the oldest period first."""
        amended = {
            at.period.start: at.period
            for at, _ in (*self.placed, *self.use_tax_placed)
            if self.is_open(at) and self.by_start.get(at.period.start)
        }
        periods = sorted((*self.open_periods(), *amended.values()), key=lambda each: each.start)
        return tuple(self.open_return(each) for each in periods)

    def _use_tax_lines(self, entries: Iterable[UseTaxEntry]) -> tuple[UseTaxAt, ...]:
        sums: dict[TaxKey, TaxSum] = add_taxes(*(each.taxes for each in entries))
        return tuple(
            UseTaxAt(self._levies[key.jurisdiction], Decimal(key.percent), each.base_cents, each.tax_cents)
            for key, each in sums.items()
        )


def returns_book(books: Books, period: Period) -> ReturnsBook:
    """The books' returns; until she has said how often she files, by the length of the period that is looked at."""
    rules = read_filing_rules(books)
    if rules:
        return ReturnsBook(books, rules)
    length = next((each for each in get_args(FilingFrequency) if is_filing_period(period, each)), None)
    return ReturnsBook(books, (FilingRule(length, period.start),) if length is not None else None)


def check_not_filed(books: Books, entry: Entry) -> None:
    """Raises NotPossible for a pickup whose tax was filed, and for what filing and paying a return booked."""
    filed = read_filed(books)
    if not filed:
        return
    if entry.kind == FILING:
        label = next((each.period.label for each in filed if each.entry == entry.number), None)
        raise NotPossible(
            f"Entry {entry.number} belongs to a return that was filed.",
            f"A filing entered in error is taken back with «twopurse tax unfile {label or 'PERIOD'}».",
            "entry",
        )
    used = [each for each in filed if each.carried_cents and each.through.through_entry >= entry.number]
    if entry.kind == PAYMENT and used:
        raise NotPossible(
            f"What was paid with entry {entry.number} may be in the credit that {used[0].period.label} used.",
            f"Take the return of {used[0].period.label} back first, if it was a mistake too.",
            "entry",
        )
    if entry.kind not in ("pickup", OPENING):
        return
    book = ReturnsBook(books)
    has = next((at for at, each in book.placed if each.reported.entry == entry.number and not book.is_open(at)), None)
    if has is not None:
        raise NotPossible(
            f"The sales tax of entry {entry.number} was filed with the return of {has.period.label}, so it stands.",
            "A payment that came back is «job returned-check», money given back is «refund», wrong tax is «job retax».",
            "entry",
        )
