"""The price list: each price holds from a day on, so that a job keeps the ones it was quoted."""

from __future__ import annotations

import re
from datetime import date
from decimal import Decimal

from ledger.books.books import Books, Row
from ledger.books.transaction import Writing
from ledger.errors import NotPossible, unknown_name
from ledger.jobs.pricing import BATTING_ALLOWANCE, Measure, Price
from ledger.money import plain_decimal
from ledger.taxes.rules import known_class
from ledger.text import name_key, read_name


def add_price(
    books: Books,
    write: Writing,
    name: str,
    by: Measure,
    rate: Decimal,
    class_name: str,
    *,
    minimum_cents: int = 0,
    allowance: Decimal | None = None,
    kind: str | None = None,
    includes_tax: bool = False,
    from_date: date | None = None,
) -> Price:
    """A price from a day on. Batting off the roll has an allowance of 8 in unless another is given; others have none.

    Raises NotUnderstood for the name, NotFound for the class.
    """
    kept = read_name(name, "name")
    kind = kind or _kind_from_name(kept, by)
    measures_length = by in ("length", "inch", "yard")
    if allowance is None:
        off_the_roll = kind == "batting" and measures_length
        allowance = BATTING_ALLOWANCE[books.settings.units] if off_the_roll else Decimal(0)
    if allowance and not measures_length:
        raise NotPossible(f"A price by {by} has no allowance.", "Leave --allowance out.", "allowance")
    price = write.add(
        "price",
        name=kept,
        name_key=name_key(kept),
        by_measure=by,
        rate=plain_decimal(rate),
        **{"class": known_class(books, class_name)},
        minimum=minimum_cents,
        allowance=plain_decimal(allowance),
        kind=kind,
        includes_tax=int(includes_tax),
        from_date=(from_date or books.today).isoformat(),
    )
    row = books.row("select * from price where id = ?", (price,))
    assert row is not None
    return price_from_row(row)


def price_named(books: Books, name: str, day: date) -> Price:
    """The price of that name in force on a day. Raises NotFound, offering the three nearest."""
    row = books.row(
        "select * from price where name_key = ? and from_date <= ? order by from_date desc, id desc limit 1",
        (name_key(name), day.isoformat()),
    )
    if row is None:
        raise unknown_name("price", name, [each.name for each in price_list(books, day)], "line")
    return price_from_row(row)


def price_list(books: Books, day: date) -> tuple[Price, ...]:
    """Every price in force on a day, in the order in which the names were first entered."""
    rows = books.rows("select * from price where from_date <= ? order by from_date, id", (day.isoformat(),))
    latest = {row["name_key"]: price_from_row(row) for row in rows}
    return tuple(latest.values())


def price_from_row(row: Row) -> Price:
    return Price(
        id=row["id"],
        name=row["name"],
        by=row["by_measure"],
        rate=Decimal(row["rate"]),
        class_name=row["class"],
        minimum_cents=row["minimum"],
        allowance=Decimal(row["allowance"]),
        kind=row["kind"],
        includes_tax=bool(row["includes_tax"]),
        from_date=date.fromisoformat(row["from_date"]),
    )


def _kind_from_name(name: str, by: Measure) -> str | None:
    """Batting and binding are what the trade calls them; only batting off the roll is measured differently."""
    words = re.findall(r"\w+", name_key(name))
    if "batting" in words and by in ("inch", "yard"):
        return "batting"
    return "binding" if "binding" in words and by == "length" else None
