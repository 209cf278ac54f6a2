"""Which line of Schedule C a category goes to in a tax year."""

from __future__ import annotations

import tomllib
from collections.abc import Sequence
from functools import cache
from importlib.resources import files

from ledger.books.accounts import Account
from ledger.figures.look_up import latest_schedule_c_line
from ledger.figures.published import FormLine

_NOT_MAPPED = "other_expenses"


def schedule_c_lines(categories: Sequence[Account], tax_year: int) -> dict[str, FormLine]:
    """Category name to its line; the line says whether its number was seen in the year's form.

    Source: Schedule C (Form 1040), Profit or Loss From Business, part II, of the tax year.
    """
    keys = category_keys()
    return {
        each.name: latest_schedule_c_line(each.line_key or keys.get(each.role or "", _NOT_MAPPED), tax_year)
        for each in categories
    }


@cache
def category_keys() -> dict[str, str]:
    """Role of a category to the key of its line in the published figures."""
    text = files("ledger.results").joinpath("lines.toml").read_text(encoding="utf-8")
    return dict(tomllib.loads(text)["lines"])
