"""What became of a job: the money that came in and went back, what was charged, given up or put right since."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from ledger.books.books import Books, Row
from ledger.jobs.job import Job

# Entries of a job that stand: neither undone nor undoing.
_STANDING = (
    "entry.job = ?1 and entry.date <= ?2 and entry.reverses is null "
    "and not exists (select 1 from entry as mirror where mirror.reverses = entry.number and mirror.date <= ?2)"
)
_PAYMENTS = (
    "select entry.number, entry.date, entry.kind, how, payment.cents, reference from payment "
    f"join entry on entry.number = payment.entry where {_STANDING} order by payment.id"
)
_GIFTS = (
    "select entry.number, entry.date, code, -gift_movement.cents as cents from gift_movement "
    "join gift_certificate on gift_certificate.id = gift_movement.certificate "
    f"join entry on entry.number = gift_movement.entry where {_STANDING} and entry.kind = 'pickup'"
)
_GOODS = (
    "select entry.number, entry.date, what, barter.cents from barter "
    f"join entry on entry.number = barter.entry where {_STANDING}"
)
_AFTERWARDS = (
    "select entry.number, entry.date, entry.kind, entry.text, account.role, sum(posting.cents) as cents from posting "
    "join entry on entry.number = posting.entry join account on account.id = posting.account "
    f"where {_STANDING} and account.role is not null group by entry.number, account.role"
)
# Kinds of entry whose payments are told one by one.
_PAID_WORDS = {"deposit": "Deposit", "pickup": "Paid", "payment": "Paid", "recovery": "Paid after all"}
# For each kind of entry, the accounts whose sum is its amount, and which sign makes it one.
_AMOUNT_OF = {
    "refund": (("returns_and_allowances", "sales_tax_payable", "tips"), 1),
    "returned payment": (("owed_by_customers", "customer_deposits"), 1),
    "charge": (("owed_by_customers",), 1),
    "write-off": (("owed_by_customers",), -1),
    "retax": (("sales_tax_payable",), -1),
    "called off": (("customer_deposits",), 1),
    "deposit back": (("customer_deposits",), 1),
}


@dataclass(frozen=True)
class Happening:
    """cents: how much of it, above zero but for tax that is put right downwards. what: in words."""

    entry: int
    day: date
    what: str
    cents: int


def read_history(books: Books, job: Job) -> tuple[Happening, ...]:
    """What moved money or debts of a job by the end of today and still stands, in the order in which it was booked."""
    given = (job.id, books.today.isoformat())
    paid = list(books.rows(_PAYMENTS, given))
    happened = [_happening(row, _paid_words(row), abs(row["cents"])) for row in paid if row["kind"] in _PAID_WORDS]
    happened += [_happening(row, f"Paid, certificate {row['code']}", row["cents"]) for row in books.rows(_GIFTS, given)]
    happened += [_happening(row, f"Paid in goods: {row['what']}", row["cents"]) for row in books.rows(_GOODS, given)]
    happened += _afterwards(list(books.rows(_AFTERWARDS, given)), {row["number"]: str(row["how"]) for row in paid})
    return tuple(sorted(happened, key=lambda each: each.entry))


def _afterwards(rows: list[Row], ways: dict[int, str]) -> Iterator[Happening]:
    """One for each entry after the pickup, or in its place. ways: by which way money moved in an entry."""
    entries = {row["number"]: row for row in rows if row["kind"] in _AMOUNT_OF}
    for number, entry in entries.items():
        roles, sign = _AMOUNT_OF[entry["kind"]]
        cents = sum(row["cents"] for row in rows if row["number"] == number and row["role"] in roles)
        way = f", {ways[number]}" if number in ways else ""
        yield _happening(entry, _words(entry, way), sign * cents)


def _happening(row: Row, what: str, cents: int) -> Happening:
    return Happening(row["number"], date.fromisoformat(row["date"]), what, cents)


def _paid_words(row: Row) -> str:
    verb = _PAID_WORDS[row["kind"]] if row["cents"] > 0 else "Deposit handed back"
    return f"{verb}, {row['how']} {row['reference'] or ''}".rstrip()


def _words(entry: Row, way: str) -> str:
    """The words of an entry; a reason that was given stands in its text."""
    before, _, reason = str(entry["text"]).partition(": ")
    if entry["kind"] == "refund":
        return f"Given back{way}" + ("" if before == "Refund" else f": {entry['text']}")
    if entry["kind"] == "charge":
        return "Charged for that"
    if entry["kind"] == "called off":
        return before.removeprefix("Called off, ").capitalize()
    return f"{before}{way}: {reason}" if entry["kind"] in ("write-off", "retax") else before + way
