"""Published figures by date, each with its source and how sure it is (TOML files), and their look-up.

No file is read before the first look-up.
"""

from __future__ import annotations

from ledger.figures.faults import Fault, FiguresNotUsable
from ledger.figures.library import read_library, shipped_library
from ledger.figures.look_up import (
    NoFigure,
    column,
    depreciation_column_name,
    figure,
    latest_column,
    latest_figure,
    latest_schedule_c_line,
    schedule_c_keys,
    schedule_c_line,
)
from ledger.figures.published import (
    STATUS_WORDS,
    Figure,
    FormLine,
    Library,
    LineTable,
    PercentColumn,
    Published,
    Source,
)

__all__ = [
    "STATUS_WORDS",
    "Fault",
    "Figure",
    "FiguresNotUsable",
    "FormLine",
    "Library",
    "LineTable",
    "NoFigure",
    "PercentColumn",
    "Published",
    "Source",
    "column",
    "depreciation_column_name",
    "figure",
    "latest_column",
    "latest_figure",
    "latest_schedule_c_line",
    "read_library",
    "schedule_c_keys",
    "schedule_c_line",
    "shipped_library",
]
