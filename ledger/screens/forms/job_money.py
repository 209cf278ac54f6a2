"""A deposit before pickup, or money towards what was left owed after."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ledger.actions import take_money
from ledger.actions.registry import act
from ledger.books.books import Books
from ledger.jobs.job import Job
from ledger.jobs.payments import WAYS
from ledger.screens.forms.field import Asked
from ledger.screens.forms.form import Form
from ledger.screens.forms.job_form import LINE, WAYS_HINT
from ledger.screens.showing import cut, paired

_PREVIEW = {"take_deposit": take_money.preview_deposit, "take_balance": take_money.preview_balance}
_PERFORM = {"take_deposit": take_money.take_deposit, "take_balance": take_money.take_balance}
_LEAST = 1


class JobMoneyForm(Form):
    """Amount, how it is paid, its number or fee. Raises NotPossible where a job takes no such money."""

    def __init__(self, books: Books, act_id: str, job: Job) -> None:
        self.title_words = f"{act(act_id).words}, job {job.id}"
        super().__init__(books)
        self.act_id = act_id
        self.job = job
        self.owed_cents = job.owed_cents if act_id == "take_balance" else 0
        _PREVIEW[act_id](books, take_money.MoneyRequest(job.id, self.owed_cents or _LEAST, "cash"))

    def asks(self) -> Sequence[Asked]:
        return (
            Asked("amount", "Amount", value=self.showing.plain(self.owed_cents) if self.owed_cents else ""),
            Asked("paid", "How paid", hint=WAYS_HINT, known=WAYS, only_known=True),
            Asked("number", "Check number"),
            Asked("fee", "Card fee"),
            Asked("on", "Date", value="today"),
        )

    def preview(self) -> Sequence[str]:
        lines = list(self._about())
        if not (self.text("amount") and self.text("paid")):
            self.sound(self.books_on())
            return lines
        draft = _PREVIEW[self.act_id](self.books_on(), self.sound(self._request()))
        return [*lines, *(self._pair(each.account.name, each.cents) for each in draft.postings)]

    def save(self) -> str:
        request = self.sound(self._request())
        _, sealed = _PERFORM[self.act_id](self.books_on(), request)
        return f"Entry {sealed.number}: {self.showing.amount(request.cents)}, {request.how}."

    def _about(self) -> Iterator[str]:
        yield cut(f"{self.job.customer.name}: {self.job.piece}", 72)
        if self.owed_cents:
            yield self._pair("Owed", self.owed_cents)
        if self.job.deposit_cents:
            yield self._pair("Deposit held", self.job.deposit_cents)

    def _pair(self, words: str, cents: int) -> str:
        return paired(words, self.showing.plain(cents), LINE)

    def _request(self) -> take_money.MoneyRequest:
        return take_money.MoneyRequest(
            job=self.job.id,
            cents=self.amount("amount"),
            how=self.choice("paid", WAYS, "How is it paid?"),
            fee_cents=self.amount("fee", zero=True),
            number=self.text_or_none("number"),
        )
