"""What the return will ask: what was bought to last, odd categories, card money, tips, the home, stock."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from ledger.books.balances import balance, movements, read_accounts
from ledger.books.before_books import read_year_before
from ledger.books.books import Books
from ledger.money import plain_amount
from ledger.results.method import read_method
from ledger.results.stock import count_by

# De minimis safe harbour for an item without audited statements: Treasury Regulation 1.263(a)-1(f), 2,500 dollars
# since 2016 (from memory).
LASTING_FROM_UNITS = 2500
_ODD = ("other_expenses", "penalties", "cash_over_or_short")


def return_questions(books: Books, start: date, end: date) -> Iterator[str]:
    """The questions of the days from start to end, both included."""
    yield from _bought_to_last(books, start, end)
    yield from _odd_categories(books, start, end)
    yield from _takings(books, start, end)
    yield from _methods(books, start, end)
    yield from _before(books, start, end)


def _before(books: Books, start: date, end: date) -> Iterator[str]:
    """Figures from before the books, asked about in the period in which they begin."""
    if not start <= books.settings.begun_on <= end:
        return
    found = read_year_before(books, end.year)
    if found.income or found.expenses:
        income, expenses = (plain_amount(each, books.currency) for each in (found.income_cents, found.expenses_cents))
        yield (
            f"Of {end.year} before these books the owner told income of {income} and expenses of {expenses}: "
            "they count in the year, and are on no entry here. Which records stand behind them?"
        )


def _bought_to_last(books: Books, start: date, end: date) -> Iterator[str]:
    rows = books.rows(
        "select entry.number, entry.text, posting.cents, account.role from posting "
        "join entry on entry.number = posting.entry join account on account.id = posting.account "
        "where entry.date between ?1 and ?2 and entry.kind <> 'opening' and entry.reverses is null "
        "and not exists (select 1 from entry as mirror where mirror.reverses = entry.number) "
        "and ((account.role = 'machine' and posting.cents > 0) "
        "or (account.kind = 'expense' and account.purse = 'business' and posting.cents >= ?3)) order by entry.number",
        (start.isoformat(), end.isoformat(), LASTING_FROM_UNITS * books.currency.minor_units),
    )
    for row in rows:
        what = f"Entry {row['number']}, {row['text']}, {plain_amount(row['cents'], books.currency)}"
        is_booked = "is booked as machine" if row["role"] == "machine" else "is booked as an expense"
        yield f"{what}, {is_booked}: expense or asset?"


def _odd_categories(books: Books, start: date, end: date) -> Iterator[str]:
    accounts, moved = read_accounts(books), movements(books, start, end)
    for role in _ODD:
        cents = moved[accounts[role].id]
        if cents:
            yield f"«{accounts[role].name}» came to {plain_amount(cents, books.currency)}: what does it belong to?"


def _takings(books: Books, start: date, end: date) -> Iterator[str]:
    """Card money against the forms that report it gross, once the year is over; tips; certificates sold and unused."""
    tips = -movements(books, start, end)[read_accounts(books)["tips"].id]
    if tips:
        yield f"Tips of {plain_amount(tips, books.currency)} are in the income: were all of them free to be left?"
    unused = -balance(books, "gift_certificates", end)
    if unused:
        amount = plain_amount(unused, books.currency)
        yield f"Gift certificates of {amount} are sold and not used: income by which method, and when?"
    if start <= date(end.year, 12, 31) <= end:
        gross = books.value(
            "select coalesce(sum(payment.cents), 0) from payment join entry on entry.number = payment.entry "
            "where how = 'card' and entry.date between ? and ?",
            (f"{end.year}-01-01", end.isoformat()),
        )
        if gross:
            amount = plain_amount(gross, books.currency)
            yield f"Cards brought {amount} in {end.year}, gross of fees: does each 1099-K say the same?"


def _methods(books: Books, start: date, end: date) -> Iterator[str]:
    method = read_method(books, end)
    home = movements(books, date(end.year, 1, 1), end)[read_accounts(books)["home_cost"].id]
    if home and method.home is None:
        amount = plain_amount(home, books.currency)
        yield f"Home cost of {amount} was booked this year: does it count as booked, or by the simplified method?"
    if method.wants_cost_of_goods:
        counted = count_by(books, end)
        if counted is None or counted.day < start:
            last = f"was last counted on {counted.day}" if counted else "was never counted"
            yield f"A cost of goods sold is wanted, and stock {last}: count it on {end}."
