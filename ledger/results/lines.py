"""Which line of Schedule C a category goes to in a tax year."""

from __future__ import annotations

import tomllib
from collections.abc import Sequence
from functools import cache
from importlib.resources import files

from ledger.books.accounts import Account
from ledger.figures.look_up import latest_schedule_c_line
from ledger.figures.published import FormLine
from ledger.results.form import GOODS_LINES

_NOT_MAPPED = "other_expenses"
# What goes into the pieces that are handed over: purchases, where cost of goods sold is wanted.
_GOODS = ("batting", "backing")


def schedule_c_lines(
    categories: Sequence[Account], tax_year: int, *, cost_of_goods: bool = False
) -> dict[str, FormLine]:
    """Category name to its line; the line says whether its number was seen in the year's form.

    Source: Schedule C (Form 1040), Profit or Loss From Business, part II, of the tax year.
    """
    return {
        each.name: latest_schedule_c_line(line_key(each, cost_of_goods=cost_of_goods), tax_year) for each in categories
    }


def line_key(category: Account, *, cost_of_goods: bool = False) -> str:
    """The key of the line that a category goes to: hers where she said one, else that of its role."""
    key = category.line_key or category_keys().get(category.role or "", _NOT_MAPPED)
    if cost_of_goods:
        return "purchases" if category.role in _GOODS and category.line_key is None else key
    return "supplies" if key in GOODS_LINES else key


@cache
def category_keys() -> dict[str, str]:
    """Role of a category to the key of its line in the published figures."""
    text = files("ledger.results").joinpath("lines.toml").read_text(encoding="utf-8")
    return dict(tomllib.loads(text)["lines"])
