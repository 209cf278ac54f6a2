"""Untaxed stock in the books: the purchases and what became of them, and what her state said of stock used up."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Literal, cast

from ledger.books.accounts import Account
from ledger.books.balances import read_accounts
from ledger.books.books import Books
from ledger.books.settings import choose, chosen
from ledger.books.transaction import Writing
from ledger.errors import NotFound, NotPossible
from ledger.money import plain_amount
from ledger.taxes.untaxed_stock import Bought, Gone, How, Lot, Picked, follow
from ledger.text import read_text

WorkAnswer = Literal["resale", "use"]
_WORK = "stock used up in the work"
_ALL_DAYS = date(9999, 12, 31)


@dataclass(frozen=True)
class StockUse:
    """What became of a part of a purchase, as it was told. entry: what was booked for it, None where nothing was."""

    number: int
    stock: int
    purchase: int
    category: Account
    how: How
    cents: int
    what: str
    on: date
    entry: int | None


def read_lots(books: Books, on: date, *, used_through: date | None = None) -> tuple[Lot, ...]:
    """The purchases up to a day that stand, and what became of them up to that day, or to another one."""
    accounts = read_accounts(books)
    bought = [
        Bought(
            id=row["id"],
            entry=row["entry"],
            on=date.fromisoformat(row["date"]),
            who=row["name"],
            category=accounts.counted_under(accounts.with_id(row["account"])),
            cents=row["cents"],
        )
        for row in books.rows(_BOUGHT, (on.isoformat(),))
    ]
    known = {each.id for each in bought}
    gone = [
        Gone(row["stock"], cast("How", row["how"]), row["cents"])
        for row in books.rows(_GONE, ((used_through or on).isoformat(),))
        if row["stock"] in known
    ]
    return follow(bought, gone)


def lots_to_use(books: Books) -> tuple[Lot, ...]:
    """The purchases up to today, less whatever was used of them on any day, so that nothing is used twice."""
    return read_lots(books, books.today, used_through=_ALL_DAYS)


def read_uses(books: Books, on: date) -> tuple[StockUse, ...]:
    """What became of untaxed stock up to a day, in the order in which it was told; what was undone is not there."""
    accounts = read_accounts(books)
    return tuple(
        StockUse(
            number=row["id"],
            stock=row["stock"],
            purchase=row["purchase"],
            category=accounts.counted_under(accounts.with_id(row["account"])),
            how=cast("How", row["how"]),
            cents=row["cents"],
            what=row["what"],
            on=date.fromisoformat(row["day"]),
            entry=row["entry"],
        )
        for row in books.rows(_USES, (on.isoformat(),))
    )


def keep_use(
    write: Writing, parts: tuple[Picked, ...], how: How, what: str, *, entry: int | None = None, on: date | None = None
) -> None:
    """Keep what became of parts of purchases: with the entry that books it, or on a day where nothing is booked."""
    for each in parts:
        write.add(
            "stock_use",
            stock=each.lot.bought.id,
            entry=entry,
            how=how,
            cents=each.cents,
            what=read_text(what, "what"),
            on_date=on.isoformat() if entry is None and on is not None else None,
        )


def strike_use(books: Books, write: Writing, number: int) -> StockUse:
    """Take back what was told of stock without an entry. Raises NotFound, and NotPossible where an entry booked it."""
    found = next((each for each in read_uses(books, _ALL_DAYS) if each.number == number), None)
    if found is None:
        raise NotFound(f"There is no use {number} of stock that stands.", "See «twopurse tax stock list».", "number")
    if found.entry is not None:
        raise NotPossible(
            f"Use {number} was booked with entry {found.entry}.",
            f"Undo it with «twopurse reverse {found.entry} --why TEXT».",
            "number",
        )
    row = books.row("select stock, how, cents, what from stock_use where id = ?", (number,))
    assert row is not None
    values = dict(row) | {"cents": -row["cents"]}
    write.add("stock_use", **values, on_date=books.today.isoformat(), takes_back=number)
    return found


def answer_work(
    write: Writing, answer: WorkAnswer, category: Account | None, asked: str, from_date: date, made_on: date
) -> None:
    """Her state's answer on stock used up in the work, for one category or for all without an answer of their own."""
    choose(write, _key(category), answer, from_date, made_on, read_text(asked, "asked"))


def work_answer(books: Books, category: Account, on: date) -> WorkAnswer | None:
    """Whether stock used up in the work counts as sold or as used; None until she asked."""
    answer = chosen(books, _key(category), on) or chosen(books, _key(None), on)
    return cast("WorkAnswer | None", answer or None)


def open_work_uses(books: Books, on: date) -> tuple[StockUse, ...]:
    """Stock used up in the work on which nobody had an answer."""
    return tuple(each for each in read_uses(books, on) if each.how == "work unanswered")


def check_not_used(books: Books, entry: int) -> None:
    """Raises NotPossible where what an entry bought was used, sold or given back since, or use tax rests on it."""
    use = next((each for each in read_uses(books, _ALL_DAYS) if each.purchase == entry), None)
    if use is not None:
        undo = f"reverse {use.entry} --why TEXT" if use.entry is not None else f"tax stock strike {use.number}"
        raise NotPossible(
            f"Stock of entry {entry} was used or sold since, use {use.number}.",
            f"Undo that first with «twopurse {undo}».",
            "entry",
        )
    if any(each.bought.entry == entry and each.returned_cents for each in read_lots(books, _ALL_DAYS)):
        raise NotPossible(
            f"Stock of entry {entry} went back to the shop since.", "Undo the entry of that first.", "entry"
        )
    taxed = books.value(
        "select min(entry) from untaxed_purchase where purchase = ? and entry <> purchase and cents > 0 "
        "and not exists (select 1 from entry as mirror where mirror.reverses = untaxed_purchase.entry)",
        (entry,),
    )
    if taxed is not None:
        raise NotPossible(f"Use tax on entry {entry} was booked with entry {taxed}.", "Undo that first.", "entry")


def check_given_back(books: Books, category: Account, cents: int) -> None:
    """A shop takes back no more untaxed stock than is left. Raises NotPossible."""
    left = sum(each.left_cents for each in lots_to_use(books) if each.bought.category == category)
    if cents > left:
        raise NotPossible(
            f"Only {plain_amount(left, books.currency)} of {category.name} that was bought untaxed is left.",
            "Leave --untaxed out for what was bought with tax.",
            "amount",
        )


def _key(category: Account | None) -> str:
    return _WORK if category is None else f"{_WORK}: {category.id}"


# Neither undone by the day nor undoing.
_BOUGHT = (
    "select untaxed_stock.*, entry.date, (select name from party_detail where party = entry.who order by id desc "
    "limit 1) as name from untaxed_stock cross join entry on entry.number = untaxed_stock.entry "
    "where entry.date <= ?1 and entry.reverses is null "
    "and not exists (select 1 from entry as mirror where mirror.reverses = entry.number and mirror.date <= ?1) "
    "order by untaxed_stock.id"
)
_DAY = "coalesce((select date from entry where number = stock_use.entry), stock_use.on_date)"
_GONE = f"select stock, how, cents from stock_use where {_DAY} <= ? order by id"
_USES = (
    f"select stock_use.*, {_DAY} as day, untaxed_stock.entry as purchase, untaxed_stock.account from stock_use "
    "join untaxed_stock on untaxed_stock.id = stock_use.stock "
    f"where {_DAY} <= ?1 and stock_use.cents > 0 and not exists (select 1 from stock_use as back "
    "where back.takes_back = stock_use.id and back.on_date <= ?1) "
    "and not exists (select 1 from entry as mirror where mirror.reverses = stock_use.entry and mirror.date <= ?1) "
    "order by stock_use.id"
)
