"""Start-up costs in the books: the day on which the workshop was open, and what was spent before it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from ledger.books.accounts import Account
from ledger.books.balances import read_accounts
from ledger.books.books import Books
from ledger.books.settings import choose, chosen
from ledger.books.transaction import Writing
from ledger.errors import NotPossible
from ledger.figures.look_up import latest_figure
from ledger.figures.published import Figure
from ledger.taxes.start_up import LEFT_OUT, CategoryCost, StartUp, StartUpRule, start_up

_OPENED = "workshop opened"
# The keys of the form's lines by which a category of her own is left out.
_LEFT_OUT_LINES = {"taxes_and_licenses": "taxes", "interest_other": "loan interest", "home": "of the home"}


@dataclass(frozen=True)
class ReadStartUp:
    """What was spent before the opening, by category. rule: None where the books are in another currency.

    notes: what has to stand beside the figures of the rule.
    """

    opened: date
    costs: tuple[CategoryCost, ...]
    rule: StartUp | None
    source: str
    notes: tuple[str, ...]

    @property
    def cost_cents(self) -> int:
        return sum(each.cents for each in self.costs if each.left_out is None)


def keep_opened(books: Books, write: Writing, opened: date) -> None:
    """Record the day on which the workshop was open and ready for paid work. Raises NotPossible for one to come."""
    if opened > books.today:
        raise NotPossible(f"{opened} is still to come.", "Record it once the workshop is open.", "opened")
    choose(write, _OPENED, opened.isoformat(), books.today, books.today)


def opened_on(books: Books) -> date | None:
    """The day that she recorded by today; the last one recorded counts."""
    day = chosen(books, _OPENED, books.today)
    return date.fromisoformat(day) if day is not None else None


def read_start_up(books: Books) -> ReadStartUp | None:
    """Start-up costs as of today; None until she recorded the day of the opening."""
    opened = opened_on(books)
    if opened is None:
        return None
    costs = read_spent_before(books, opened)
    cost = sum(each.cents for each in costs if each.left_out is None)
    if books.currency.code != "USD":
        return ReadStartUp(opened, costs, None, "", ())
    figures = {name: latest_figure(name, opened, asked_by="the start-up rule") for name in _FIGURES}
    worked_out = start_up(max(0, cost), opened, _rule(figures, books.currency.minor_units))
    notes = tuple(dict.fromkeys(note for each in figures.values() for note in each.notes))
    return ReadStartUp(opened, costs, worked_out, str(figures[_FIGURES[0]].source), notes)


def read_spent_before(books: Books, day: date) -> tuple[CategoryCost, ...]:
    """What stands in the books by today and belongs to the days before a day, category by category."""
    accounts = read_accounts(books)
    sums: dict[tuple[str, str | None], int] = {}
    for row in books.rows(_SPENT, (day.isoformat(), books.today.isoformat())):
        account = accounts.counted_under(accounts.with_id(row["account"]))
        key = (account.name, "stock" if row["untaxed"] else _left_out(account))
        sums[key] = sums.get(key, 0) + row["cents"]
    return tuple(CategoryCost(name, cents, why) for (name, why), cents in sorted(sums.items(), key=_order) if cents)


def spent_before_first_sale(books: Books) -> int:
    """What was spent, and may be start-up costs, before the first sale or before the end of today; in cents."""
    first = books.value("select min(date) from entry where kind = 'pickup' and date <= ?", (books.today.isoformat(),))
    day = date.fromisoformat(first) if first is not None else books.today
    return sum(each.cents for each in read_spent_before(books, day) if each.left_out is None)


def _left_out(account: Account) -> str | None:
    return LEFT_OUT.get(account.role or "") or _LEFT_OUT_LINES.get(account.line_key or "")


def _order(of_category: tuple[tuple[str, str | None], int]) -> tuple[bool, str]:
    (name, why), _ = of_category
    return why is not None, name


_FIGURES = ("start_up_most_in_first_year", "start_up_reduced_above", "start_up_rest_over")


def _rule(figures: dict[str, Figure], minor_units: int) -> StartUpRule:
    most, above, months = (int(figures[name].value) for name in _FIGURES)
    return StartUpRule(most * minor_units, above * minor_units, months)


_SPENT = (
    "select posting.account, sum(posting.cents) as cents, exists (select 1 from untaxed_stock "
    "where untaxed_stock.entry = posting.entry and untaxed_stock.account = posting.account) as untaxed "
    "from posting join entry on entry.number = posting.entry join account on account.id = posting.account "
    "where account.kind = 'expense' and account.purse = 'business' "
    "and coalesce(entry.belongs_on, entry.date) < ?1 and entry.date <= ?2 group by posting.account, untaxed"
)
