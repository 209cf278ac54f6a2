"""Read the entries that a return is made of: what each charged and taxed, why not, and to which day it belongs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from itertools import groupby

from ledger.books.before_books import OPENING
from ledger.books.books import Books, Row
from ledger.taxes.filing_rules import basis_on
from ledger.taxes.reported import ChargeKey, Part, Reported, TaxKey, TaxSum, add_charges, add_taxes, by_payment, tax_of
from ledger.taxes.rules import answers_on, is_taxed_at_destination, rates_on
from ledger.taxes.tax_holidays import Holiday, read_untaxed_holidays
from ledger.taxes.worksheet import OUT_OF_STATE, Levy

_PARTS: dict[str, Part] = {"refund": "refund", "write-off": "bad debt", "recovery": "bad debt"}
# What the program itself books when a return is filed and paid.
_OF_RETURNS = ("tax filing", "tax payment")


@dataclass(frozen=True)
class TaxedEntry:
    """booked_on: its date. day: the one it belongs to; that of the sale where it undoes one or puts its tax right.

    is_before: sales of the period from before the books, told as a sum.
    """

    booked_on: date
    day: date
    reported: Reported
    is_before: bool = False


@dataclass(frozen=True)
class UseTaxEntry:
    """Use tax that an entry booked, in cents: in all, and by jurisdiction and rate as far as that is known."""

    entry: int
    booked_on: date
    cents: int
    taxes: dict[TaxKey, TaxSum]


@dataclass(frozen=True)
class _Head:
    """An entry with the day it belongs to, the day of the sale it is about, and its kind or that of what it undoes."""

    number: int
    booked_on: date
    day: date
    sold_on: date
    kind: str
    job: int | None


def read_taxed_entries(books: Books) -> tuple[TaxedEntry, ...]:
    """Every entry through today that a return is made of, job by job; by sale, or as it was paid.

    A job goes by what held on the day of its first sale, so that nothing is reported twice, or never, where her state's
    answer changes.
    """
    heads = _read_heads(books)
    told = _read_reported(books, heads)
    found: list[TaxedEntry] = []
    basis = basis_on(books, [each.day for each in heads])
    by_job = sorted(heads, key=lambda each: (each.job or 0, each.number))
    for job, several in groupby(by_job, key=lambda each: each.job):
        of_job = list(several)
        first = next((each for each in of_job if each.kind == "pickup"), of_job[0])
        entries: Sequence[Reported] = [told[each.number] for each in of_job]
        if job is not None and basis[first.day] == "payment":
            entries = by_payment(entries)
        pairs = zip(of_job, entries, strict=True)
        found += [
            TaxedEntry(head.booked_on, head.day, each, is_before=head.kind == OPENING and job is None)
            for head, each in pairs
            if each.charges or each.taxes
        ]
    return tuple(found)


def read_unreported_tax(books: Books, job: int) -> int:
    """The tax of a job that goes by payment, in cents, as far as it is in no return since its charge is not paid."""
    heads = [each for each in _read_heads(books) if each.job == job]
    told = _read_reported(books, heads)
    entries = [told[each.number] for each in heads]
    return tax_of(entries) - tax_of(by_payment(entries))


def read_charged_tax(books: Books) -> int:
    """The tax of every sale and of what corrected it, paid or not, in cents."""
    charged = books.value(
        "select coalesce(sum(cents), 0) from tax_line join entry on entry.number = tax_line.entry where date <= ?",
        (books.today.isoformat(),),
    )
    return int(charged)


def read_levies(books: Books) -> dict[int, Levy]:
    """Every jurisdiction by its number."""
    return {row["id"]: Levy(row["id"], row["name"], row["level"]) for row in books.rows("select * from jurisdiction")}


def read_use_tax_entries(books: Books) -> tuple[UseTaxEntry, ...]:
    """Every entry through today that booked use tax, or took some back."""
    lines: dict[int, dict[TaxKey, TaxSum]] = {}
    for row in books.rows(
        "select use_tax_line.entry, jurisdiction, use_tax_line.percent, base, cents from use_tax_line "
        "join rate on rate.id = use_tax_line.rate order by use_tax_line.id"
    ):
        more = {TaxKey(row["jurisdiction"], row["percent"]): TaxSum(row["base"], row["cents"])}
        lines[row["entry"]] = add_taxes(lines.get(row["entry"], {}), more)
    rows = books.rows(
        "select entry.number, entry.date, -sum(posting.cents) as cents from entry "
        "left join entry as original on original.number = entry.reverses "
        "join posting on posting.entry = entry.number join account on account.id = posting.account "
        "where account.role = 'use_tax_payable' and entry.date <= ? "
        "and coalesce(original.kind, entry.kind) not in (?, ?) group by entry.number order by entry.number",
        (books.today.isoformat(), *_OF_RETURNS),
    )
    return tuple(
        UseTaxEntry(row["number"], date.fromisoformat(row["date"]), row["cents"], lines.get(row["number"], {}))
        for row in rows
    )


def _read_heads(books: Books) -> list[_Head]:
    """The entries with charges or tax, and those that change what a job owes, in their order."""
    rows = books.rows(
        "select entry.number, entry.date, entry.belongs_on, entry.reverses, entry.job, "
        "coalesce(original.kind, entry.kind) as kind from (select entry as number from slip_line "
        "union select entry from tax_line union select entry from owed_part) as taxed "
        "cross join entry on entry.number = taxed.number "
        "left join entry as original on original.number = entry.reverses where entry.date <= ? order by entry.number",
        (books.today.isoformat(),),
    )
    heads: dict[int, _Head] = {}
    sales: dict[int, date] = {}
    for row in rows:
        head = _head(row, heads, sales)
        heads[head.number] = head
        if head.kind == "pickup" and row["reverses"] is None and head.job is not None:
            sales[head.job] = head.day
    return list(heads.values())


def _head(row: Row, heads: dict[int, _Head], sales: dict[int, date]) -> _Head:
    booked_on = date.fromisoformat(row["date"])
    day = date.fromisoformat(row["belongs_on"]) if row["belongs_on"] else booked_on
    sold_on = day if row["kind"] == "pickup" else sales.get(row["job"], day)
    undone = heads.get(row["reverses"])
    if undone is not None:
        day, sold_on = undone.day, undone.sold_on
    elif row["kind"] == "retax":
        day = sold_on
    return _Head(row["number"], booked_on, day, sold_on, row["kind"], row["job"])


def _read_reported(books: Books, heads: Sequence[_Head]) -> dict[int, Reported]:
    """What each entry charged, taxed and left owed."""
    reasons = _Reasons(books)
    by_number = {each.number: each for each in heads}
    charges: dict[int, dict[ChargeKey, int]] = {}
    taxes: dict[int, dict[TaxKey, TaxSum]] = {}
    for row in books.rows(
        "select slip_line.*, certificate.reason from slip_line "
        "left join certificate on certificate.id = slip_line.certificate order by entry, line"
    ):
        if row["entry"] in by_number:
            key = ChargeKey(row["class"], row["treatment"], reasons.of(row, by_number[row["entry"]]))
            charges[row["entry"]] = add_charges(charges.get(row["entry"], {}), {key: row["cents"]})
    for row in books.rows(
        "select tax_line.entry, jurisdiction, tax_line.percent, base, cents from tax_line "
        "join rate on rate.id = tax_line.rate order by entry, line"
    ):
        tax = {TaxKey(row["jurisdiction"], row["percent"]): TaxSum(row["base"], row["cents"])}
        taxes[row["entry"]] = add_taxes(taxes.get(row["entry"], {}), tax)
    owed = {row["entry"]: row["cents"] for row in books.rows(_OWED)}
    recovered = {row["entry"]: row["cents"] for row in books.rows(_RECOVERED)}
    return {
        each.number: Reported(
            entry=each.number,
            part=_PARTS.get(each.kind, "sale"),
            charges=charges.get(each.number, {}),
            taxes=taxes.get(each.number, {}),
            owed_charge_cents=owed.get(each.number, 0),
            recovered_cents=recovered.get(each.number, 0) if each.kind == "recovery" else 0,
            is_write_off=each.kind == "write-off",
        )
        for each in heads
    }


_OWED = "select entry, sum(charge) as cents from owed_part group by entry"
# A balance given up is a debit there, so what comes in on it is a credit.
_RECOVERED = (
    "select entry, -sum(cents) as cents from posting join account on account.id = posting.account "
    "where account.role = 'balances_written_off' group by entry"
)


class _Reasons:
    """Why a charge is not taxed: the certificate's reason, a holiday, or that the piece left the state."""

    def __init__(self, books: Books) -> None:
        self._books = books
        self._holidays: tuple[Holiday, ...] = read_untaxed_holidays(books)
        # A pickup that was undone sent nothing away.
        rows = books.rows(
            "select job, place from shipment where place is not null "
            "and not exists (select 1 from entry where entry.reverses = shipment.entry) order by id"
        )
        self._places: dict[int, str] = {row["job"]: row["place"] for row in rows}
        self._untaxed_places: dict[tuple[str, date], bool] = {}

    def of(self, line: Row, head: _Head) -> str | None:
        if line["treatment"] == "exempt":
            return str(line["reason"]) if line["reason"] is not None else None
        if line["treatment"] != "not taxed":
            return None
        holiday = next((each for each in self._holidays if each.holds(line["class"], head.sold_on)), None)
        if holiday is not None:
            return holiday.reason
        place = self._places.get(head.job) if head.job is not None else None
        if place is None or not self._is_untaxed(place, head.sold_on):
            return None
        return OUT_OF_STATE if answers_on(self._books, head.sold_on).get(line["class"]) else None

    def _is_untaxed(self, place: str, day: date) -> bool:
        """Whether her state taxes what is sent where it arrives, and she entered no rate for that place."""
        if (place, day) not in self._untaxed_places:
            books = self._books
            is_away = is_taxed_at_destination(books, day) and not rates_on(books, day, place)
            self._untaxed_places[place, day] = is_away
        return self._untaxed_places[place, day]
