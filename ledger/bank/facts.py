"""What new lines are held against, read from the books: other accounts, checks, card money, loans, debts, habits."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from itertools import groupby

from ledger.bank.matches import STANDING
from ledger.bank.recognising import (
    LOAN_DAYS,
    RETURNED_DAYS,
    CardDay,
    Debtor,
    DueLoan,
    Facts,
    Habit,
    OtherLine,
    PaidCheck,
    Way,
)
from ledger.books.accounts import Account
from ledger.books.books import Books
from ledger.jobs.debts import read_owed_jobs
from ledger.jobs.payouts import card_money
from ledger.machine.loan_record import loan_due

_WAY_OF_HABIT: dict[str, Way] = {"category": "category", "home": "home", "transfer": "transfer", "loan": "loan"}


def read_facts(books: Books, account: Account) -> Facts:
    """As of the end of today, for lines of an account."""
    is_checking = account.role == "checking"
    return Facts(
        is_checking=is_checking,
        others=tuple(_other_lines(books, account)),
        checks=tuple(_checks(books)) if is_checking else (),
        cards=tuple(_cards(books)) if is_checking else (),
        loans=tuple(_loans(books)) if is_checking else (),
        debtors=tuple(_debtors(books)) if is_checking else (),
        habits=tuple(_habits(books)),
    )


def _other_lines(books: Books, account: Account) -> Iterator[OtherLine]:
    rows = books.rows(
        "select account.name, l.date, l.cents from statement_line as l join account on account.id = l.account "
        "where l.account <> ?1 and l.date <= ?2 and l.repeats is null "
        f"and not exists (select 1 from line_match as m where m.line = l.id and {STANDING} and m.how <> 'later')",
        (account.id, books.today.isoformat()),
    )
    for row in rows:
        yield OtherLine(row["name"], date.fromisoformat(row["date"]), row["cents"])


def _checks(books: Books) -> Iterator[PaidCheck]:
    since = books.today - timedelta(days=RETURNED_DAYS)
    rows = books.rows(
        "select payment.job, entry.date, payment.cents, coalesce(payment.reference, '') as number from payment "
        "join entry on entry.number = payment.entry "
        "where how = 'check' and payment.cents > 0 and payment.job is not null and entry.date between ? and ? "
        "and not exists (select 1 from entry as m where m.reverses = entry.number) "
        "and not exists (select 1 from returned_payment as back where back.payment = payment.id and not exists "
        "(select 1 from entry as m where m.reverses = back.entry))",
        (since.isoformat(), books.today.isoformat()),
    )
    for row in rows:
        yield PaidCheck(row["job"], date.fromisoformat(row["date"]), row["cents"], row["number"].lstrip("0"))


def _cards(books: Books) -> Iterator[CardDay]:
    for day, payments in groupby(card_money(books, books.today), key=lambda each: each.day):
        yield CardDay(day, sum(each.cents for each in payments))


def _loans(books: Books) -> Iterator[DueLoan]:
    for each in loan_due(books, books.today, LOAN_DAYS):
        yield DueLoan(each.words, each.day, each.cents)


def _debtors(books: Books) -> Iterator[Debtor]:
    for each in read_owed_jobs(books):
        yield Debtor(each.job, each.customer.name, each.cents)


def _habits(books: Books) -> Iterator[Habit]:
    """What she last said of each kind of line, the latest first; what only the program found is none of hers.

    What was taken back counts no more, and what she had said before it counts again.
    """
    rows = books.rows(
        "select * from (select m.id, row_number() over (partition by l.text_key order by m.id desc) as place, "
        "l.text_key, m.how, coalesce(m.who, '') as who, coalesce(detail.name, account.name, '') as name "
        "from line_match as m join statement_line as l on l.id = m.line "
        "left join account on account.id = m.category "
        "left join account_change as detail on detail.id = "
        "(select max(id) from account_change where account = m.category) "
        "where l.text_key <> '' and m.how in ('category', 'home', 'transfer', 'loan') "
        f"and {STANDING}) where place = 1 order by id desc"
    )
    for row in rows:
        yield Habit(row["text_key"], _WAY_OF_HABIT[row["how"]], row["name"], row["who"])
