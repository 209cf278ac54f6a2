"""A year's estimated tax out of the books: what it wants in all, on each of the four dates, and what is paid."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from ledger.books.books import Books
from ledger.periods import estimated_tax_periods
from ledger.set_aside.own_tax import OwnTax, estimated_figures
from ledger.taxes.estimated_tax import (
    Instalment,
    RequiredPayment,
    ahead_cents,
    behind_cents,
    instalments,
    required_payment,
)

ON_PROFIT_SO_FAR = "On the profit so far: it grows with it."
SURELY_ENOUGH = "A quarter of what last year asks for, on each date, is enough whatever this year brings."


@dataclass(frozen=True)
class EstimatedYear:
    """required: None where no published figure applies. paid: what was paid towards the four dates."""

    tax_year: int
    required: RequiredPayment | None
    instalments: tuple[Instalment, ...]
    paid_cents: int
    notes: tuple[str, ...]

    def behind_cents(self, on: date) -> int:
        return behind_cents(self.instalments, on)

    def ahead_cents(self, on: date) -> int:
        return ahead_cents(self.instalments, self.paid_cents, on)


def read_estimated(books: Books, year: OwnTax, on: date) -> EstimatedYear:
    """What the four dates of a tax year want. This year's tax counts as far as the books know it."""
    figures = estimated_figures(books, year.tax_year, on)
    periods = estimated_tax_periods(year.tax_year)
    if figures is None:
        return EstimatedYear(
            year.tax_year, None, instalments(0, year.estimated_cents, periods), year.estimated_cents, ()
        )
    # By last year's tax nobody knows this year's: the lesser of both is then last year's.
    is_known = year.tax.basis != "last year's tax"
    required = required_payment(
        year.tax.total_cents if is_known else None, year.last_year, year.withheld_cents, figures
    )
    notes = list(figures.notes)
    if year.tax.is_before_income_tax:
        notes.append("Before income tax: by self-employment tax alone it is too little. Ask your accountant.")
    if on.year == year.tax_year and is_known:
        notes.append(ON_PROFIT_SO_FAR)
        notes += [SURELY_ENOUGH] if required.by_last_year_cents is not None else []
    return EstimatedYear(
        year.tax_year,
        required,
        instalments(required.cents, year.estimated_cents, periods),
        year.estimated_cents,
        tuple(notes),
    )
