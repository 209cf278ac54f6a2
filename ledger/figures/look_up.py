"""Look-ups of published figures by date. A figure never slides forward without saying so.

`figure`, `column` and `schedule_c_line` answer a filing or a packet: outside the dates for which the figure is known
they raise. Their `latest_` forms answer the set-aside and a plan: beyond those dates they give the last known one and
mark it (`beyond_known`, `notes`).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from typing import TypeVar

from ledger.errors import FigureNotKnown
from ledger.figures.library import shipped_library
from ledger.figures.published import Figure, FormLine, LineTable, PercentColumn, Published
from ledger.periods import quarter_holding

SCHEDULE_C = "schedule_c"

Kind = TypeVar("Kind", bound=Published)


class NoFigure(FigureNotKnown):
    """Which figure was asked for, for which day, and by whom."""

    def __init__(self, figure: str, on: date, asked_by: str, what: str, file: str) -> None:
        do = f"Add the one for {on.year} to ledger/figures/{file} with its source, or ask your accountant."
        super().__init__(what, do, figure)
        self.figure = figure
        self.on = on
        self.asked_by = asked_by


def figure(name: str, on: date, *, asked_by: str) -> Figure:
    """The figure in force on a day. `asked_by` begins a sentence ("the packet"). Raises NoFigure outside its dates."""
    return _in_force(shipped_library().figures, name, on, asked_by)


def latest_figure(name: str, on: date, *, asked_by: str = "the set-aside") -> Figure:
    """The figure in force on a day, or beyond its dates the last known one, marked. Raises NoFigure before them."""
    return _latest(shipped_library().figures, name, on, asked_by)


def column(name: str, on: date, *, asked_by: str) -> PercentColumn:
    """The published column of percents in force on a day. Raises NoFigure outside its dates."""
    return _in_force(shipped_library().columns, name, on, asked_by)


def latest_column(name: str, on: date, *, asked_by: str = "the plan") -> PercentColumn:
    """The column in force on a day, or beyond its dates the last known one, marked. Raises NoFigure before them."""
    return _latest(shipped_library().columns, name, on, asked_by)


def depreciation_column_name(class_years: int, placed: date, *, mid_quarter: bool) -> str:
    """The name of the column for property of a class (5 or 7 years) by the day on which it was placed in service."""
    assert class_years in (5, 7), "only the columns of 5-year and 7-year property are kept"
    if not mid_quarter:
        return f"depreciation_{class_years}_year_half_year"
    return f"depreciation_{class_years}_year_mid_quarter_{quarter_holding(placed).label[-1]}"


def schedule_c_line(key: str, tax_year: int, *, asked_by: str) -> FormLine:
    """A line of Schedule C in a tax year, by our key ("supplies"). Raises NoFigure for a year that is not kept."""
    return _line(_in_force(shipped_library().lines, SCHEDULE_C, date(tax_year, 1, 1), asked_by), key)


def latest_schedule_c_line(key: str, tax_year: int, *, asked_by: str = "the plan") -> FormLine:
    """The line in that tax year, or after the last year kept the one there, not confirmed. Raises NoFigure before."""
    return _line(_latest(shipped_library().lines, SCHEDULE_C, date(tax_year, 1, 1), asked_by), key)


def schedule_c_keys() -> frozenset[str]:
    """Every key by which a line of Schedule C is known in some year."""
    return frozenset(key for table in shipped_library().lines[SCHEDULE_C] for key in table.numbers)


def _line(table: LineTable, key: str) -> FormLine:
    assert key in table.numbers, f"no line of Schedule C is called {key}"
    confirmed = key not in table.not_confirmed and not table.beyond_known
    return FormLine(key, table.numbers[key], confirmed, table)


def _in_force(series: Mapping[str, tuple[Kind, ...]], name: str, on: date, asked_by: str) -> Kind:
    values = _of_name(series, name)
    for value in values:
        if value.from_date <= on <= value.last_day:
            return value
    raise _not_known(values, on, asked_by)


def _latest(series: Mapping[str, tuple[Kind, ...]], name: str, on: date, asked_by: str) -> Kind:
    last = _of_name(series, name)[-1]
    return replace(last, beyond_year=on.year) if on > last.last_day else _in_force(series, name, on, asked_by)


def _of_name(series: Mapping[str, tuple[Kind, ...]], name: str) -> tuple[Kind, ...]:
    assert name in series, f"no published figure is called {name}"
    return series[name]


def _not_known(values: tuple[Published, ...], on: date, asked_by: str) -> NoFigure:
    first, last = values[0], values[-1]
    words = first.name.replace("_", " ")
    asked = asked_by[:1].upper() + asked_by[1:]
    known = f"published figures are kept from {first.from_date} through {last.last_day}"
    if first.from_date < on <= last.last_day:
        known = "there is a gap in the published figures"
    return NoFigure(first.name, on, asked_by, f"{asked} needs «{words}» for {on}, but {known}.", first.file)
