"""Agree an account with its statement at the end of a day, and the cash box with what was counted in it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

from ledger.bank.agreeing import Reconciliation, explanations
from ledger.bank.agreement_sheet import AgreementPaper, printed
from ledger.bank.agreements import keep_agreement, reconcile
from ledger.bank.statements import statement_account
from ledger.books.accounts import Account
from ledger.books.balances import balance, read_accounts
from ledger.books.books import Books
from ledger.books.chain import head
from ledger.books.drafts import Draft, postings
from ledger.books.entries import read_entry, seal
from ledger.books.letterhead import read_letterhead
from ledger.books.places import RECEIPTS
from ledger.books.transaction import Writing
from ledger.errors import NotPossible


@dataclass(frozen=True)
class AgreeRequest:
    """ending_cents: the statement's balance; of a card what is owed. is_below_zero: an account that is overdrawn, a
    card with money to her credit. day: of the statement, None for today. told_open: entries that the bank has not seen.
    """

    account: str
    ending_cents: int
    is_below_zero: bool = False
    day: date | None = None
    told_open: tuple[int, ...] = ()


@dataclass(frozen=True)
class CountRequest:
    """counted_cents: what lies in the cash box."""

    counted_cents: int


@dataclass(frozen=True)
class Agreed:
    """number: of the agreement, None where it does not agree yet; `behind` then says what may be behind it.

    entry: what was over or short in the cash box. pdf, text: the paper, where it was kept.
    """

    found: Reconciliation
    number: int | None
    behind: tuple[str, ...] = ()
    entry: int | None = None
    over_cents: int = 0
    pdf: Path | None = None
    text: Path | None = None


def preview(books: Books, request: AgreeRequest) -> Reconciliation:
    """How an account stands against its statement. Raises NotFound, NotPossible."""
    account = statement_account(read_accounts(books), request.account)
    if account.purse == "personal":
        raise NotPossible(
            f"«{account.name}» is the household's, and its statement is not kept whole.",
            "Agree the workshop's accounts; the household's are looked through.",
            "account",
        )
    day = request.day or books.today
    if day > books.today:
        raise NotPossible(f"{day} is in the future.", "Give the day of the statement.", "date")
    for number in request.told_open:
        _check_open(books, account, number)
    is_minus = (account.kind == "liability") != request.is_below_zero
    ending = -request.ending_cents if is_minus else request.ending_cents
    return reconcile(books, account, day, ending, request.told_open)


def perform(books: Books, request: AgreeRequest) -> Agreed:
    """Keep and print the agreement where it agrees; else nothing is kept. Raises as `preview` does."""
    with books.writing() as write:
        found = preview(books, request)
        if not found.agrees:
            return Agreed(found, None, tuple(explanations(found)))
        account = statement_account(read_accounts(books), request.account)
        number = keep_agreement(books, write, account, found, None)
        pdf, text = _print(books, write, AgreementPaper(found, str(head(write.connection))))
        return Agreed(found, number, pdf=pdf, text=text)


def count(books: Books, request: CountRequest) -> Agreed:
    """Agree the cash box: what is over or short is booked, and the agreement kept and printed. Raises NotPossible."""
    with books.writing() as write:
        accounts = read_accounts(books)
        box = accounts["cash_box"]
        over = request.counted_cents - balance(books, "cash_box", books.today)
        entry = seal(books, write, _over_or_short(books, box, accounts["cash_over_or_short"], over)) if over else None
        found = replace(reconcile(books, box, books.today, request.counted_cents), to_enter=())
        assert found.balance_cents == request.counted_cents, "the books have what was counted"
        number = keep_agreement(books, write, box, found, entry.number if entry else None)
        pdf, text = _print(books, write, AgreementPaper(found, str(head(write.connection)), over))
        return Agreed(found, number, (), entry.number if entry else None, over, pdf, text)


def _over_or_short(books: Books, box: Account, difference: Account, over: int) -> Draft:
    word = "over" if over > 0 else "short"
    lines = postings((difference, -over), (box, over))
    return Draft(on=books.today, kind="cash count", text=f"Cash box counted: {word}", postings=lines)


def _check_open(books: Books, account: Account, number: int) -> None:
    if not any(each.account.id == account.id for each in read_entry(books, number).postings):
        raise NotPossible(
            f"Entry {number} is not on {account.name}.", "Name an entry that the bank has not seen yet.", "open"
        )


def _print(books: Books, write: Writing, paper: AgreementPaper) -> tuple[Path, Path]:
    """Both files, in the receipts folder once the agreement is kept."""
    pdf, text = printed(paper, books.settings, read_letterhead(books, books.today))
    folder = books.folder / RECEIPTS
    paths = folder / f"{paper.name}.pdf", folder / f"{paper.name}.txt"
    write.add_file(paths[0], pdf)
    write.add_file(paths[1], text.encode())
    return paths
