"""Agree an account with its statement, and count the cash box."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path

from ledger.actions import agree
from ledger.bank.agreeing import Reconciliation, explanations
from ledger.bank.statements import STATEMENT_ROLES, last_ending
from ledger.books.balances import balance, read_accounts
from ledger.books.books import Books
from ledger.errors import NotPossible, NotUnderstood
from ledger.screens.forms.field import Asked
from ledger.screens.forms.form import Form
from ledger.screens.forms.job_form import LINE
from ledger.screens.showing import cut, paired

_LISTED = 4


class AgreeForm(Form):
    """The balance on the statement, until the difference is zero."""

    title_words = "Agree with a statement"

    def asks(self) -> Sequence[Asked]:
        accounts = read_accounts(self.books)
        names = [each.name for each in accounts.all if each.role in STATEMENT_ROLES and each.purse == "business"]
        last = self._last_ending()
        return (
            Asked("account", "Account", "checking", known=names, only_known=True),
            Asked("ending", "Balance", value=last[1], hint="on the statement"),
            Asked("date", "Day of it", value=last[0] or "today"),
            Asked("open", "Not seen yet", hint="such as 12 15"),
            Asked("overdrawn", "Below zero?", hint="yes if overdrawn", known=("yes", "no"), only_known=True),
        )

    def preview(self) -> Sequence[str]:
        if not self.text("ending"):
            return ["What the bank has not seen yet is counted in; agreed is kept and printed."]
        return list(self._lines(agree.preview(self.books, self.sound(self._request()))))

    def save(self) -> str:
        done = agree.perform(self.books, self.sound(self._request()))
        if done.number is None:
            off = self.showing.amount(done.found.difference_cents)
            raise NotPossible(f"It differs by {off}.", " ".join(done.behind) or "Check the balance and the day.", None)
        return f"{done.found.account} agrees. On paper: {_name(done.pdf)}."

    def _lines(self, found: Reconciliation) -> Iterator[str]:
        plain = self.showing.plain
        yield paired("Balance on the statement", plain(found.ending_cents), LINE)
        yield from self._items("In transit", found.in_transit_cents, [each.words for each in found.in_transit])
        yield from self._items("Outstanding", -found.outstanding_cents, [each.words for each in found.outstanding])
        yield paired("Adjusted balance", plain(found.adjusted_cents), LINE)
        yield paired("Balance of the books", plain(found.balance_cents), LINE)
        yield paired("Difference", plain(found.difference_cents), LINE)
        if not found.agrees:
            yield from (cut(each, 72) for each in explanations(found))

    def _items(self, words: str, cents: int, texts: Sequence[str]) -> Iterator[str]:
        if not texts:
            return
        yield paired(f"{words}, {len(texts)}", self.showing.plain(cents), LINE)
        yield from (f"    {cut(each, 44)}" for each in texts[:_LISTED])
        if len(texts) > _LISTED:
            yield f"    and {len(texts) - _LISTED} more"

    def _request(self) -> agree.AgreeRequest:
        is_below = bool(self.text("overdrawn")) and self.choice("overdrawn", ("yes", "no"), "Below zero?") == "yes"
        return agree.AgreeRequest(
            account=self.text("account"),
            ending_cents=self.amount("ending", zero=True),
            is_below_zero=is_below,
            day=self.day("date"),
            told_open=self.read("open", _numbers, ()),
        )

    def _last_ending(self) -> tuple[str, str]:
        """The day and the balance of checking's last statement, where it has them."""
        found = last_ending(self.books, read_accounts(self.books)["checking"])
        if found is None or found.day is None or found.cents < 0:
            return "", ""
        return found.day.isoformat(), self.showing.plain(found.cents)


class CountForm(Form):
    """What lies in the cash box."""

    title_words = "Count the cash box"

    def __init__(self, books: Books) -> None:
        super().__init__(books)
        self.expected = balance(books, "cash_box", books.today)

    def asks(self) -> Sequence[Asked]:
        return (Asked("amount", "Counted"),)

    def preview(self) -> Sequence[str]:
        lines = [paired("The books say", self.showing.plain(self.expected), LINE)]
        if not self.text("amount"):
            return lines
        off = self.sound(self.amount("amount", zero=True)) - self.expected
        word = "Over" if off > 0 else "Short" if off < 0 else "Over or short"
        return [*lines, paired(word, self.showing.plain(abs(off)), LINE)]

    def save(self) -> str:
        done = agree.count(self.books, agree.CountRequest(self.sound(self.amount("amount", zero=True))))
        told = f"Entry {done.entry}: " if done.entry else "As the books have it. "
        over = self.showing.amount(abs(done.over_cents))
        word = f"{over} {'over' if done.over_cents > 0 else 'short'}. " if done.entry else ""
        return f"{told}{word}On paper: {_name(done.pdf)}."


def _numbers(text: str) -> tuple[int, ...]:
    """Entry numbers with spaces or commas between."""
    words = text.replace(",", " ").split()
    if not all(each.isascii() and each.isdigit() and len(each) <= 12 for each in words):
        raise NotUnderstood("These are no entries.", "Type their numbers, such as 12 15.", "open")
    return tuple(map(int, words))


def _name(path: Path | None) -> str:
    return path.name if path is not None else ""
