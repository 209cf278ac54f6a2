"""Plans as they are typed into files: what is read, and each mistake told with its file and field."""

from __future__ import annotations

from datetime import date
from fractions import Fraction
from pathlib import Path

import pytest

from ledger.errors import NotPossible, NotUnderstood, Refused
from ledger.machine.plan import Plan, work_out
from ledger.machine.plan_files import read_plan
from ledger.money import currency_from_code

USD = currency_from_code("USD")
TODAY = date(2026, 11, 25)
SHORTEST = """
[machine.costs]
price = 9500
[work]
jobs_a_week = 2
average_job = 120.50
material_percent = 15
"""
LOAN = """
[loan]
down_payment = 1500
percent = 8.9
months = 60
"""

MISTAKES = [
    ("price = 3", "price"),
    (SHORTEST.replace("price = 9500", ""), "machine.costs.price"),
    (SHORTEST.replace("9500", "0"), "machine.costs.price"),
    (SHORTEST.replace("9500", "-5"), "machine.costs.price"),
    (SHORTEST.replace("9500", "nan"), "machine.costs.price"),
    (SHORTEST.replace("9500", "1e5"), "machine.costs.price"),
    (SHORTEST.replace("9500", "true"), "machine.costs.price"),
    (SHORTEST.replace("9500", "12.345"), "machine.costs.price"),
    (SHORTEST.replace("9500", "[1]"), "machine.costs.price"),
    (SHORTEST.replace("jobs_a_week = 2", "jobs_a_week = 0"), "work.jobs_a_week"),
    (SHORTEST.replace("jobs_a_week = 2", ""), "work.jobs_a_week"),
    (SHORTEST.replace("jobs_a_week = 2", "jobs_a_week = 1001"), "work.jobs_a_week"),
    (SHORTEST.replace("15", "101"), "work.material_percent"),
    (SHORTEST + "weeks_off = 52", "work.weeks_off"),
    (SHORTEST + "weeks_off = 60", "work.weeks_off"),
    (SHORTEST + "jobs = 3", "work.jobs"),
    (SHORTEST + "[works]\na = 1", "works"),
    ("work = 3\n" + SHORTEST.replace("[work]", "[loan]"), "work"),
    (SHORTEST + LOAN.replace("60", "601"), "loan.months"),
    (SHORTEST + LOAN.replace("60", "0"), "loan.months"),
    (SHORTEST + LOAN.replace("60", "5.5"), "loan.months"),
    (SHORTEST + LOAN.replace("months = 60", ""), "loan.months"),
    (SHORTEST + LOAN.replace("percent = 8.9", ""), "loan.percent"),
    (SHORTEST + LOAN.replace("1500", "9500"), "loan.down_payment"),
    (SHORTEST + LOAN.replace("8.9", "100").replace("60", "600"), "loan.months"),
    (SHORTEST + "[monthly_costs]\ninsurance = 'much'", "monthly_costs.insurance"),
    (SHORTEST + "[learning]\nmonths = 61", "learning.months"),
    ('starts = "2027-02-01"\n' + SHORTEST, "starts"),
    ('starts = "2027"\n' + SHORTEST, "starts"),
    ("starts = 2027\n" + SHORTEST, "starts"),
    ("break_even_months = 0\n" + SHORTEST, "break_even_months"),
]


def read(content: str, source: str = "plans/used.toml") -> Plan:
    return read_plan(content, source, USD, TODAY)


def refusal_of(content: str) -> Refused:
    with pytest.raises((NotUnderstood, NotPossible)) as refusal:
        read(content)
    return refusal.value


def test_the_shortest_plan_has_no_loan_no_learning_and_starts_this_month() -> None:
    found = read(SHORTEST)
    assert (found.name, found.starts, found.loan_percent, found.learning_months) == ("used", date(2026, 11, 1), None, 0)
    assert (found.price_cents, found.on_top_cents, found.average_job_cents) == (9_500_00, 0, 120_50)
    assert (found.material_percent, found.costs_a_month_cents, found.square_inches) == (15, 0, None)
    assert found.break_even_months == 60


def test_the_demo_plan_is_read_whole_and_pays_off() -> None:
    path = Path(__file__).parents[2] / "demo" / "plan.toml"
    found = read(path.read_text(encoding="utf-8"), str(path))
    assert (found.machine_cents, found.loan_cents, found.loan_percent) == (18_500_00, 12_500_00, Fraction("8.9"))
    assert found.on_top_cents == 1_600_00
    assert (found.practice_months, found.learning_months, found.learning_percent) == (1, 4, 50)
    assert found.costs_a_month_cents == 131_00
    result = work_out(found)
    assert result.paid_off is not None
    assert result.most_out_of_pocket_cents > 6_000_00
    assert result.break_even_inch_cents is not None


def test_the_loan_is_what_the_down_payment_leaves_and_the_break_even_price_is_for_its_months() -> None:
    found = read(SHORTEST + LOAN.replace("60", "48"))
    assert (found.loan_cents, found.loan_months, found.break_even_months) == (8_000_00, 48, 48)


def test_name_and_start_may_be_given() -> None:
    found = read(f'name = "Neu, 26 Zoll"\nstarts = "2027-02"\nbreak_even_months = 36\n{SHORTEST}')
    assert (found.name, found.starts, found.break_even_months) == ("Neu, 26 Zoll", date(2027, 2, 1), 36)


@pytest.mark.parametrize(("content", "field"), MISTAKES)
def test_a_mistake_names_the_file_and_the_field(content: str, field: str) -> None:
    refusal = refusal_of(content)
    assert refusal.field == field
    assert refusal.what.startswith(f"used.toml, {field}: ")
    assert refusal.do.endswith(".")


def test_what_is_no_toml_names_the_file_and_the_line() -> None:
    refusal = refusal_of(SHORTEST + "jobs = =")
    assert (refusal.field, refusal.what) == ("file", "used.toml: The file is no TOML at line 8.")


def test_nothing_in_a_file_reaches_the_terminal_as_a_command() -> None:
    refusal = refusal_of(SHORTEST + '[work2]\n"\\u001b[2J" = 1')
    assert "\x1b" not in str(refusal)
    assert "\x1b" not in (refusal_of('"\\u001b[2J" = 1').field or "")
