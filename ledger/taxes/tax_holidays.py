"""Sales tax holidays and the like: a class that is not taxed between two days, or taxed at a rate of its own.

Each was told to her by somebody whom she names; none is shipped, since states differ and their days change each year.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal

from ledger.books.books import Books, Row
from ledger.books.transaction import Writing
from ledger.errors import NotFound, NotPossible, unknown_name
from ledger.money import plain_decimal
from ledger.taxes.sales_tax import Rate
from ledger.text import name_key, read_name, read_text


@dataclass(frozen=True)
class Holiday:
    """rate: of the class in one jurisdiction on those days; None where the class is not taxed by any."""

    id: int
    class_name: str
    name: str
    asked: str
    from_date: date
    until_date: date
    rate: Rate | None = None

    def holds(self, class_name: str, day: date) -> bool:
        return self.class_name == class_name and self.from_date <= day <= self.until_date

    @property
    def reason(self) -> str:
        """What a worksheet says of it."""
        return f"sales tax holiday: {self.name}"


@dataclass(frozen=True)
class NewHoliday:
    """percent: None where the class is not taxed. jurisdiction: whose rate it is, needed with a percent."""

    class_name: str
    name: str
    asked: str
    from_date: date
    until_date: date
    percent: Decimal | None = None
    jurisdiction: str | None = None


def add_holiday(books: Books, write: Writing, new: NewHoliday) -> None:
    """Keep it. Raises NotPossible where it ends before it begins or overlaps one of its kind, NotFound."""
    if new.until_date < new.from_date:
        raise NotPossible("The holiday ends before it begins.", "Give a later day with --until.", "until")
    if (new.percent is None) != (new.jurisdiction is None):
        raise NotPossible(
            "A rate is somebody's, and nobody's where there is none.",
            "Give --percent and --of together, or neither where the class is not taxed.",
            "percent",
        )
    jurisdiction = _jurisdiction(books, new.jurisdiction) if new.jurisdiction is not None else None
    class_key = name_key(read_name(new.class_name, "class"))
    _check_overlap(books, new, class_key)
    rate = None
    if jurisdiction is not None and new.percent is not None:
        rate = write.add(
            "rate",
            jurisdiction=jurisdiction,
            percent=plain_decimal(new.percent),
            from_date=new.from_date.isoformat(),
            until_date=new.until_date.isoformat(),
            made_on=books.today.isoformat(),
        )
    write.add(
        "tax_holiday",
        **{"class": class_key},
        name=read_name(new.name, "name"),
        asked=read_text(new.asked, "asked"),
        from_date=new.from_date.isoformat(),
        until_date=new.until_date.isoformat(),
        rate=rate,
        made_on=books.today.isoformat(),
    )


def read_holidays(books: Books) -> tuple[Holiday, ...]:
    """Every one that was entered, by its first day."""
    rows = books.rows(
        "select tax_holiday.*, rate.percent, jurisdiction.name as levy, level from tax_holiday "
        "left join rate on rate.id = tax_holiday.rate left join jurisdiction on jurisdiction.id = rate.jurisdiction "
        "order by tax_holiday.from_date, tax_holiday.id"
    )
    return tuple(map(_holiday, rows))


def read_untaxed_holidays(books: Books) -> tuple[Holiday, ...]:
    return tuple(each for each in read_holidays(books) if each.rate is None)


def holidays_on(books: Books, day: date) -> tuple[Holiday, ...]:
    return tuple(each for each in read_holidays(books) if each.from_date <= day <= each.until_date)


def rates_of_classes(holidays: tuple[Holiday, ...], rates: tuple[Rate, ...]) -> dict[str, tuple[Rate, ...]]:
    """Class to the rates that it is taxed at, for the classes with rates of their own among those in force."""
    of_class: dict[str, tuple[Rate, ...]] = {}
    for each in holidays:
        if each.rate is not None:
            before = of_class.get(each.class_name, rates)
            own = each.rate
            of_class[each.class_name] = tuple(own if rate.jurisdiction == own.jurisdiction else rate for rate in before)
    return of_class


def _jurisdiction(books: Books, name: str) -> int:
    row = books.row("select id from jurisdiction where name_key = ?", (name_key(name),))
    if row is not None:
        return int(row["id"])
    known = [each["name"] for each in books.rows("select name from jurisdiction order by id")]
    if not known:
        raise NotFound("No rate is entered yet.", "Enter the usual one first with «twopurse tax rate».", "of")
    raise unknown_name("jurisdiction", name, known, "of")


def _check_overlap(books: Books, new: NewHoliday, class_key: str) -> None:
    of = name_key(new.jurisdiction) if new.jurisdiction is not None else None
    for each in read_holidays(books):
        same = each.class_name == class_key and (name_key(each.rate.jurisdiction) if each.rate else None) == of
        if same and each.from_date <= new.until_date and new.from_date <= each.until_date:
            raise NotPossible(
                f"«{each.name}» holds for {class_key} from {each.from_date} to {each.until_date}.",
                "Choose days that do not overlap.",
                "from",
            )


def _holiday(row: Row) -> Holiday:
    holiday = Holiday(
        id=row["id"],
        class_name=row["class"],
        name=row["name"],
        asked=row["asked"],
        from_date=date.fromisoformat(row["from_date"]),
        until_date=date.fromisoformat(row["until_date"]),
    )
    if row["rate"] is None:
        return holiday
    return replace(holiday, rate=Rate(row["rate"], row["levy"], row["level"], Decimal(row["percent"])))
