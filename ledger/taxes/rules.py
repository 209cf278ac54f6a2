"""The rates, answers and method that she entered, each from a day on, and which of them hold on a given day."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal

from ledger.books.books import Books, Row
from ledger.books.settings import choose, chosen
from ledger.books.transaction import Writing
from ledger.errors import NotPossible, unknown_name
from ledger.money import plain_decimal
from ledger.periods import Period
from ledger.taxes.filing_periods import period_holding
from ledger.taxes.filing_rules import basis_of_job, read_filing_rules
from ledger.taxes.materials_test import MaterialsTest
from ledger.taxes.sales_tax import LEVELS, SHIPPED_CLASSES, Level, Method, Rate, TaxRules
from ledger.taxes.tax_holidays import holidays_on, rates_of_classes
from ledger.text import name_key, read_name, read_text

SOURCING = "sourcing"
_METHOD = "tax method"
_BAD_DEBTS = "bad debt tax"


def rules_on(books: Books, day: date) -> TaxRules:
    """What holds for a sale on a day."""
    return _rules(books, day, rates_on(books, day))


def _rules(books: Books, day: date, rates: tuple[Rate, ...]) -> TaxRules:
    method: Method = "line" if chosen(books, _METHOD, day) == "line" else "slip"
    holidays = holidays_on(books, day)
    return TaxRules(
        rates=rates,
        answers=answers_on(books, day) | {each.class_name: False for each in holidays if each.rate is None},
        method=method,
        split=split_classes_on(books, day),
        rates_of_class=rates_of_classes(holidays, rates),
        materials=materials_tests_on(books, day),
    )


def rules_at(books: Books, day: date, place: str | None) -> TaxRules:
    """What holds for a sale that is sent to a place, where her state taxes it there; None is her own place.

    Until she recorded that her state does so, the rates of her own place hold. At a place for which she entered no
    rates she is not registered, and nothing is taxed.
    """
    here = rules_on(books, day)
    if place is None or not is_taxed_at_destination(books, day):
        return here
    there = _rules(books, day, rates_on(books, day, place))
    return there if there.rates else replace(there, answers=dict.fromkeys(there.answers, False))


def is_taxed_at_destination(books: Books, day: date) -> bool:
    """Whether her state taxes what is sent where it arrives; until she asked, it does not."""
    return chosen(books, SOURCING, day) == "destination"


def rates_on(books: Books, day: date, place: str | None = None) -> tuple[Rate, ...]:
    """One rate for each jurisdiction of a place that has one that day, state first; None is her own place.

    A rate without an end holds until the next one of its jurisdiction begins; of two from one day the later entered.
    """
    rows = books.rows(
        "select rate.*, jurisdiction.name, level from rate join jurisdiction on jurisdiction.id = rate.jurisdiction "
        "left join jurisdiction_place on jurisdiction_place.jurisdiction = jurisdiction.id "
        f"where {_OF_EVERY_CLASS} and from_date <= ? and place_key is ? order by jurisdiction.id, from_date, rate.id",
        (day.isoformat(), name_key(place) if place is not None else None),
    )
    latest = {row["jurisdiction"]: row for row in rows}
    in_force = [row for row in latest.values() if row["until_date"] is None or row["until_date"] >= day.isoformat()]
    in_force.sort(key=lambda row: (LEVELS.index(row["level"]), row["jurisdiction"]))
    return tuple(Rate(row["id"], row["name"], row["level"], Decimal(row["percent"])) for row in in_force)


# A rate that holds for one class alone stands beside the ones in force, and ends none of them.
_OF_EVERY_CLASS = "rate.id not in (select rate from tax_holiday where rate is not null)"


def add_rate(
    books: Books,
    write: Writing,
    name: str,
    percent: Decimal,
    from_date: date,
    until_date: date | None = None,
    level: Level | None = None,
    place: str | None = None,
) -> None:
    """A jurisdiction's rate from a day on, at her own place or at one that pieces are sent to.

    Raises NotPossible where it overlaps one, a sale has used it already, or its name levies at another place.
    """
    kept = read_name(name, "name")
    if until_date is not None and until_date < from_date:
        raise NotPossible("The rate ends before it begins.", "Give a later day with --until.", "until")
    found = books.row("select id, level from jurisdiction where name_key = ?", (name_key(kept),))
    if found is not None and level not in (None, found["level"]):
        raise NotPossible(
            f"«{kept}» is in the books as a {found['level']} rate.", "Leave --level out, or use another name.", "level"
        )
    if found is not None:
        _check_place(books, found["id"], kept, place)
        _check_overlap(books, found["id"], kept, from_date, until_date)
    jurisdiction = found["id"] if found else _add_jurisdiction(write, kept, level or _level_from_name(kept), place)
    write.add(
        "rate",
        jurisdiction=jurisdiction,
        percent=plain_decimal(percent),
        from_date=from_date.isoformat(),
        until_date=until_date.isoformat() if until_date else None,
        made_on=books.today.isoformat(),
    )


def answers_on(books: Books, day: date) -> dict[str, bool]:
    """Class to taxed or not, for the classes with an answer that holds that day; a split class counts as taxed."""
    return {row["class"]: bool(row["taxed"]) for row in _answer_rows(books, day)}


def split_classes_on(books: Books, day: date) -> frozenset[str]:
    """The classes that are taxed as far as the other lines of a slip are, by price."""
    return frozenset(row["class"] for row in _answer_rows(books, day) if row["rule"] == "split")


def _answer_rows(books: Books, day: date) -> list[Row]:
    rows = books.rows(
        "select id, class, taxed, rule, until_date from class_answer where from_date <= ? "
        "order by class, from_date, id",
        (day.isoformat(),),
    )
    latest = {row["class"]: row for row in rows}
    return [row for row in latest.values() if row["until_date"] is None or row["until_date"] >= day.isoformat()]


def materials_tests_on(books: Books, day: date) -> dict[str, MaterialsTest]:
    """Class to its test, for the classes whose answer carries one."""
    found = {row["answer"]: row for row in books.rows("select * from materials_test")}
    if not found:
        return {}
    tests = [(row["class"], found[row["id"]]) for row in _answer_rows(books, day) if row["id"] in found]
    return {
        class_name: MaterialsTest(
            Decimal(row["over_percent"]), Decimal(row["materials_percent"]), bool(row["when_apart"])
        )
        for class_name, row in tests
    }


def answer_class(
    books: Books,
    write: Writing,
    class_name: str,
    taxed: bool,
    asked: str,
    from_date: date,
    until_date: date | None = None,
    *,
    is_split: bool = False,
    materials: MaterialsTest | None = None,
) -> None:
    """Her state's answer on a class, shipped or her own, and whom she asked. Raises NotPossible, NotUnderstood.

    materials: the test by which each slip of a class that is taxed tells whether it is.
    """
    if until_date is not None and until_date < from_date:
        raise NotPossible("The answer ends before it begins.", "Give a later day with --until.", "until")
    answer = write.add(
        "class_answer",
        **{"class": name_key(read_name(class_name, "class"))},
        taxed=int(taxed),
        asked=read_text(asked, "asked"),
        from_date=from_date.isoformat(),
        until_date=until_date.isoformat() if until_date else None,
        made_on=books.today.isoformat(),
        rule="split" if is_split else None,
    )
    if materials is not None:
        write.add(
            "materials_test",
            answer=answer,
            over_percent=plain_decimal(materials.over_percent),
            materials_percent=plain_decimal(materials.materials_percent),
            when_apart=int(materials.when_apart),
        )


def known_class(books: Books, class_name: str) -> str:
    """A class that is shipped or that she has answered. Raises NotFound."""
    known, wanted = known_classes(books), name_key(class_name)
    if wanted not in known:
        raise unknown_name("class", class_name, known, "class")
    return wanted


def known_classes(books: Books) -> list[str]:
    """The classes that are shipped and those that she has answered, in the order of the alphabet."""
    return sorted({*SHIPPED_CLASSES, *(row[0] for row in books.rows("select distinct class from class_answer"))})


def choose_method(books: Books, write: Writing, method: Method) -> date:
    """Tax per slip or per line, and the day from which: the filing period after the last one with a taxed sale.

    Within a reporting period the method stays the same (some local rules that adopt the rounding rule say so), also
    for a sale that is entered late; what was chosen before for a later day gives way.
    """
    standing = rules_on(books, books.today).method
    from_date = _first_day_without_taxed_sales(books)
    later = books.rows(
        "select distinct from_date from choice where key = ? and from_date > ?", (_METHOD, from_date.isoformat())
    )
    for day in (from_date, *(date.fromisoformat(row["from_date"]) for row in later)):
        choose(write, _METHOD, method, day, books.today)
    return books.today if method == standing else from_date


def _first_day_without_taxed_sales(books: Books) -> date:
    """The first day of this filing period, or of the one after the last that has a taxed sale."""
    start = _filing_period(books, books.today).start
    last = books.value("select max(date) from tax_line join entry on entry.number = tax_line.entry")
    if last is not None and date.fromisoformat(last) >= start:
        start = _filing_period(books, date.fromisoformat(last)).end + timedelta(days=1)
    return max(start, books.settings.begun_on)


def _filing_period(books: Books, day: date) -> Period:
    return period_holding(read_filing_rules(books), day)


def choose_sourcing(books: Books, write: Writing, sourcing: str, asked: str, from_date: date | None = None) -> None:
    """Where her state taxes what is sent: at her own place (origin) or where it arrives (destination)."""
    choose(write, SOURCING, sourcing, from_date or books.today, books.today, read_text(asked, "asked"))


def answer_bad_debts(books: Books, write: Writing, claimed: bool, asked: str) -> None:
    """Her state's answer on the tax of a balance written off: it may be claimed back, or not."""
    choose(write, _BAD_DEBTS, "yes" if claimed else "no", books.today, books.today, read_text(asked, "asked"))


def bad_debt_answer(books: Books, day: date) -> bool | None:
    """Whether her state lets her claim the tax of a balance written off; None until she asked."""
    answer = chosen(books, _BAD_DEBTS, day)
    return None if answer is None else answer == "yes"


def claims_bad_debt_tax(books: Books, job: int) -> bool:
    """Whether the tax of a job's balance is not hers to pay: her state lets her claim it back, or it was never due.

    It was never due where her tax goes by payment. Until she asked, it may not be claimed.
    """
    return bad_debt_answer(books, books.today) is True or basis_of_job(books, job) == "payment"


def _add_jurisdiction(write: Writing, name: str, level: Level, place: str | None) -> int:
    jurisdiction = write.add("jurisdiction", name=name, name_key=name_key(name), level=level)
    if place is not None:
        kept = read_name(place, "place")
        write.add("jurisdiction_place", jurisdiction=jurisdiction, place=kept, place_key=name_key(kept))
    return jurisdiction


def _check_place(books: Books, jurisdiction: int, name: str, place: str | None) -> None:
    """A jurisdiction levies at one place: her own, or one that pieces are sent to."""
    row = books.row("select place, place_key from jurisdiction_place where jurisdiction = ?", (jurisdiction,))
    if (row["place_key"] if row else None) == (name_key(place) if place is not None else None):
        return
    if row is None:
        raise NotPossible(
            f"«{name}» levies at your own place.",
            f"Give the other a name of its own, such as «{name}, {place}».",
            "name",
        )
    raise NotPossible(
        f"«{name}» levies at {row['place']}.",
        f"Say --place for it, or give it a name of its own: «{name}, here».",
        "place",
    )


def places_with_rates(books: Books, day: date) -> tuple[str, ...]:
    """The places beside her own for which a rate is in force that day, in the order in which they were entered."""
    rows = books.rows("select place, min(id) from jurisdiction_place group by place_key order by min(id)")
    return tuple(row["place"] for row in rows if rates_on(books, day, row["place"]))


def _level_from_name(name: str) -> Level:
    words = name_key(name).split()
    return next((level for level in LEVELS if level in words), "district")


def _check_overlap(books: Books, jurisdiction: int, name: str, from_date: date, until_date: date | None) -> None:
    rows = books.rows(
        f"select * from rate where {_OF_EVERY_CLASS} and jurisdiction = ? order by from_date, id", (jurisdiction,)
    )
    # Of several rates from one day the last entered is the one that holds.
    for row in {each["from_date"]: each for each in rows}.values():
        start, end = date.fromisoformat(row["from_date"]), row["until_date"]
        if start == from_date:
            if _was_used(books, row["id"]):
                raise NotPossible(
                    f"Tax was already taken at {name}'s rate from {start}.", "Enter a rate from a later day.", "from"
                )
            continue
        ends_inside = start < from_date and end is not None and date.fromisoformat(end) >= from_date
        begins_inside = start > from_date and until_date is not None and until_date >= start
        if ends_inside or begins_inside:
            raise NotPossible(
                f"{name} has a rate from {start} that overlaps this one.", "Choose days that do not overlap.", "from"
            )


def _was_used(books: Books, rate: int) -> bool:
    """Whether a sale stands that took tax at a rate; one that was reversed does not stand."""
    used = books.value(
        "select 1 from tax_line join entry on entry.number = tax_line.entry where rate = ? and reverses is null "
        "and not exists (select 1 from entry as mirror where mirror.reverses = entry.number) limit 1",
        (rate,),
    )
    return used is not None
