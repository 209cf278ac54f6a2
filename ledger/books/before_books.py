"""What was before the books: entries of what stood there on their first day, and figures of which nothing is posted.

An opening entry moves what was there already, so it is no income, no expense and no sale of the books. The figures
are those of the calendar year in which the books begin, up to the day before, and of the machine.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final, Literal

from ledger.books.accounts import Account, Accounts
from ledger.books.balances import read_accounts
from ledger.books.books import Books
from ledger.books.transaction import Writing

OPENING: Final = "opening"
# The condition on `entry` that it tells what stood there when the books began, or takes such an entry back.
STOOD_BEFORE: Final = (
    f"(entry.kind = '{OPENING}' or exists (select 1 from entry as stood "
    f"where stood.number = entry.reverses and stood.kind = '{OPENING}'))"
)
# What a line of a return or of a slip is called that is from before the books.
BEFORE_WORDS: Final = "before these books"

What = Literal["income", "expenses", "estimated tax", "taken in", "earned"]


@dataclass(frozen=True)
class Figure:
    """A figure in cents. account: of income or expenses. period: of estimated tax."""

    what: What
    cents: int
    account: Account | None = None
    period: int | None = None

    @property
    def words(self) -> str:
        """`income, tips` or `estimated tax, period 2`."""
        of = self.account.name if self.account is not None else f"period {self.period}" if self.period else ""
        return f"{self.what}, {of}" if of else self.what


@dataclass(frozen=True)
class YearBefore:
    """The part of a calendar year before the books: every figure in cents, income and expenses above zero."""

    figures: tuple[Figure, ...] = ()

    @property
    def income(self) -> tuple[Figure, ...]:
        return self._of("income")

    @property
    def expenses(self) -> tuple[Figure, ...]:
        return self._of("expenses")

    @property
    def estimated(self) -> tuple[Figure, ...]:
        return self._of("estimated tax")

    @property
    def income_cents(self) -> int:
        return sum(each.cents for each in self.income)

    @property
    def expenses_cents(self) -> int:
        return sum(each.cents for each in self.expenses)

    @property
    def net_cents(self) -> int:
        return self.income_cents - self.expenses_cents

    def _of(self, what: What) -> tuple[Figure, ...]:
        return tuple(each for each in self.figures if each.what == what)


def keep_figures(books: Books, write: Writing, figures: Iterable[Figure]) -> None:
    """Each in the place of what was told of it before, by the name of a category that was merged into it too."""
    accounts = read_accounts(books)
    for each in figures:
        merged = (other for other in accounts.all if each.account == accounts.counted_under(other) != other)
        for account, cents in ((each.account, each.cents), *((other, 0) for other in merged)):
            write.add(
                "before_books",
                what=each.what,
                account=account.id if account is not None else None,
                period=each.period,
                cents=cents,
                on_date=books.today.isoformat(),
            )


def read_year_before(books: Books, year: int) -> YearBefore:
    """What a year had before the books; nothing in every year but the one in which they begin."""
    if year != books.settings.begun_on.year:
        return YearBefore()
    return YearBefore(tuple(each for each in _read(books) if each.what in ("income", "expenses", "estimated tax")))


def read_figures(books: Books) -> tuple[Figure, ...]:
    """Every figure that holds, those of the machine too."""
    return _read(books)


def before_books_cents(books: Books, what: What) -> int:
    """The sum of a kind of figure."""
    return sum(each.cents for each in _read(books) if each.what == what)


def _read(books: Books) -> tuple[Figure, ...]:
    """The figures that hold, in the order in which they were first told; merged categories together."""
    rows = books.rows(
        "select what, account, period, cents, min(id) over (partition by what, account, period) as first, id, "
        "max(id) over (partition by what, account, period) as last from before_books order by first, id"
    )
    held = [row for row in rows if row["id"] == row["last"] and row["cents"]]
    if not held:
        return ()
    accounts = read_accounts(books)
    sums: dict[tuple[What, Account | None, int | None], int] = {}
    for row in held:
        key = (row["what"], _counted(accounts, row["account"]), row["period"])
        sums[key] = sums.get(key, 0) + row["cents"]
    return tuple(Figure(what, cents, account, period) for (what, account, period), cents in sums.items())


def _counted(accounts: Accounts, account: int | None) -> Account | None:
    return None if account is None else accounts.counted_under(accounts.with_id(account))
