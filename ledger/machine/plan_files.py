"""A plan as it is typed into a file, in TOML; every mistake is refused with the file and the field where it stands.

name = "New, 26 inches"
starts = "2027-02"                # this month unless given

[machine.costs]                   # as in the file of «setup machines»
price = 14500
freight = 450
training = 350

[loan]                            # left out, all is paid at the start
down_payment = 3000
percent = 8.9
months = 60

[work]
jobs_a_week = 2.5
average_job = 118
material_percent = 14
square_inches = 5400              # of an average job; may be left out
weeks_off = 5

[learning]                        # may be left out
practice_months = 1               # before the first paying customer
months = 4                        # after it, at a reduced pace
percent = 50                      # of the full pace

[monthly_costs]
insurance = 32
phone = 18
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from datetime import date
from fractions import Fraction
from pathlib import Path
from typing import Any

from checklists.worksheet_files import toml_of
from ledger.errors import NotUnderstood, Refused
from ledger.machine.loan import MOST_MONTHS
from ledger.machine.plan import USUAL_BREAK_EVEN_MONTHS, WEEKS_A_YEAR, Plan, check
from ledger.money import Currency, read_amount, read_percent, read_quantity
from ledger.periods import parse_period
from ledger.text import read_text, shown

_MOST_LEARNING_MONTHS = 60
_MOST_JOBS_A_WEEK = 1000
_MOST_INCHES = 1_000_000
_TABLES = ("machine", "loan", "work", "learning", "monthly_costs")
_SINGLE = ("name", "starts", "break_even_months")


def read_plan(content: str, source: str, currency: Currency, today: date) -> Plan:
    """The plan in a file's content. source: the file's name, for refusals and where the plan has no name.

    Raises NotUnderstood for what cannot be read, NotPossible for a plan that cannot be worked out; the refusal's field
    is that of the file, such as `loan.months`.
    """
    try:
        plan = _plan(_Table(toml_of(content), ""), Path(source).stem, currency, today)
        check(plan)
    except Refused as refused:
        field = refused.field or "file"
        where = shown(Path(source).name)[:60] + ("" if field == "file" else f", {field}")
        raise type(refused)(f"{where}: {refused.what}", refused.do, field) from None
    return plan


class _Table:
    """A table of the file; whatever is asked of it is read, and names its field where it is wrong."""

    def __init__(self, values: Mapping[str, Any], name: str) -> None:
        self._values = values
        self._name = name

    def field(self, key: str) -> str:
        return f"{self._name}.{key}" if self._name else key

    def holds(self, key: str) -> bool:
        return key in self._values

    def check_keys(self, known: Collection[str]) -> None:
        unknown = next((key for key in self._values if key not in known), None)
        if unknown is not None:
            raise NotUnderstood(
                f"«{shown(unknown)[:40]}» is no field here.", f"Use {', '.join(known)}.", self._at(unknown)
            )

    def table(self, key: str) -> _Table:
        value = self._values.get(key, {})
        if not isinstance(value, dict):
            raise NotUnderstood("This is one value.", f"Begin a table with [{self.field(key)}].", self.field(key))
        return _Table(value, self.field(key))

    def text(self, key: str, default: str) -> str:
        value = self._values.get(key, default)
        if not isinstance(value, str):
            raise NotUnderstood("This is no text.", "Write it in quotes.", self.field(key))
        return read_text(value, self.field(key), limit=80)

    def amount(self, key: str, currency: Currency, default: str | None = None) -> Fraction:
        """In cents; zero may stand."""
        return Fraction(self._read(key, default, lambda text, field: read_amount(text, currency, field, zero=True)))

    def number(self, key: str, most: int, default: str | None = None) -> Fraction:
        """Above zero or zero, no more than `most`."""
        found = Fraction(self._read(key, default, _number))
        if found > most:
            raise NotUnderstood(f"{float(found):g} is more than {most}.", "Check the number.", self.field(key))
        return found

    def percent(self, key: str, default: str | None = None) -> Fraction:
        return Fraction(self._read(key, default, read_percent))

    def whole(self, key: str, most: int, default: str | None = None) -> int:
        found = self.number(key, most, default)
        if found.denominator != 1:
            raise NotUnderstood("This is no whole number.", "Give whole months.", self.field(key))
        return int(found)

    def costs(self, currency: Currency) -> dict[str, Fraction]:
        """Every line of the table as an amount."""
        return {shown(key)[:80]: self.amount(key, currency) for key in self._values}

    def _read(self, key: str, default: str | None, reading: Callable[[str, str], Any]) -> Any:
        value, field = self._values.get(key, default), self._at(key)
        if value is None:
            raise NotUnderstood("This is missing.", f"Write a line «{key} = ...»{self._under()}.", field)
        if not isinstance(value, str | int) or isinstance(value, bool):
            raise NotUnderstood("This is no number.", f"Write it like «{key} = 12.50».", field)
        return reading(str(value), field)

    def _at(self, key: str) -> str:
        return self.field(shown(key)[:40])

    def _under(self) -> str:
        return f" under [{self._name}]" if self._name else ""


def _plan(top: _Table, name: str, currency: Currency, today: date) -> Plan:
    top.check_keys((*_SINGLE, *_TABLES))
    machine, loan, work, learning = (top.table(key) for key in _TABLES[:4])
    machine.check_keys(("costs", "facts"))
    loan.check_keys(("down_payment", "percent", "months"))
    work.check_keys(("jobs_a_week", "average_job", "material_percent", "square_inches", "weeks_off"))
    learning.check_keys(("practice_months", "months", "percent"))
    costs = machine.table("costs")
    price = costs.amount("price", currency)
    has_loan = top.holds("loan")
    loan_months = loan.whole("months", MOST_MONTHS) if has_loan else 0
    return Plan(
        name=top.text("name", name),
        starts=_starts(top, today),
        price_cents=price,
        on_top_cents=sum(costs.costs(currency).values(), Fraction(0)) - price,
        down_cents=loan.amount("down_payment", currency, "0"),
        loan_percent=loan.percent("percent") if has_loan else None,
        loan_months=loan_months,
        jobs_a_week=work.number("jobs_a_week", _MOST_JOBS_A_WEEK),
        average_job_cents=work.amount("average_job", currency),
        material_percent=work.percent("material_percent"),
        costs_a_month_cents=sum(top.table("monthly_costs").costs(currency).values(), Fraction(0)),
        practice_months=learning.number("practice_months", _MOST_LEARNING_MONTHS, "0"),
        learning_months=learning.number("months", _MOST_LEARNING_MONTHS, "0"),
        learning_percent=learning.percent("percent", "100"),
        weeks_off=work.number("weeks_off", WEEKS_A_YEAR, "0"),
        square_inches=work.number("square_inches", _MOST_INCHES) if work.holds("square_inches") else None,
        break_even_months=top.whole("break_even_months", MOST_MONTHS, str(loan_months or USUAL_BREAK_EVEN_MONTHS)),
    )


def _starts(top: _Table, today: date) -> date:
    if not top.holds("starts"):
        return today.replace(day=1)
    found = parse_period(top.text("starts", ""), "starts")
    if found.label != f"{found.start:%Y-%m}":
        raise NotUnderstood(f"«{shown(found.label)}» is no month.", 'Write it like "2027-02".', "starts")
    return found.start


def _number(text: str, field: str) -> Any:
    """A quantity as it is read elsewhere, and zero too."""
    return 0 if text.strip() in ("0", "0.0") else read_quantity(text, field)
