"""A payout of the card company: it covers the payments of some days, and what it is short of them is its fee."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date

from ledger.actions import card_payout
from ledger.books.books import Books
from ledger.errors import NotPossible
from ledger.jobs.payouts import CardMoney, card_money
from ledger.screens.forms.field import Asked
from ledger.screens.forms.form import Form
from ledger.screens.forms.job_form import LINE
from ledger.screens.showing import counted, paired

_LISTED = 6
# A fee above a tenth is hardly one; more likely some of the payments are still to come. Common sense, no source.
_USUAL_FEE_PART = 10


class CardPayoutForm(Form):
    """What came into checking, and through which day. Raises NotPossible where no card money is on its way."""

    title_words = "Card payout"

    def __init__(self, books: Books) -> None:
        super().__init__(books)
        if not card_money(books, books.today):
            raise NotPossible("No card money is on its way.", "Every card payment is paid out.", None)

    def asks(self) -> Sequence[Asked]:
        return (
            Asked("amount", "Came in", hint="what is in checking now"),
            Asked("through", "Payments through", hint="if empty: every one"),
            Asked("taken", "Taken instead?", hint="yes if taken out", known=("yes", "no"), only_known=True),
            Asked("on", "Date", value="today"),
        )

    def preview(self) -> Sequence[str]:
        books, through = self.books_on(), self._through()
        if not self.text("amount"):
            return list(self._on_its_way(card_money(books, self.sound(through or books.today))))
        payout = card_payout.preview(books, self.sound(self._request(through)))
        lines = [*self._on_its_way(payout.covered), self._pair("Fee of the card company", payout.fee_cents)]
        is_dear = payout.fee_cents * _USUAL_FEE_PART > abs(payout.expected_cents)
        return [*lines, "That is a large fee: does the payout cover all of these days?"] if is_dear else lines

    def save(self) -> str:
        done, sealed = card_payout.perform(self.books_on(), self.sound(self._request(self._through())))
        fee = self.showing.amount(done.fee_cents)
        return f"Entry {sealed.number} covers {counted(len(done.covered), 'payment')}; the fee is {fee}."

    def _on_its_way(self, found: tuple[CardMoney, ...]) -> Iterator[str]:
        listed = found if len(found) <= _LISTED else found[: _LISTED - 1]
        for each in listed:
            yield self._pair(f"{self.showing.day(each.day)}  {f'job {each.job}' if each.job else 'gift'}", each.cents)
        if len(found) > len(listed):
            left = found[len(listed) :]
            yield self._pair(f"and {len(left)} later ones", sum(each.cents for each in left))
        yield self._pair(counted(len(found), "payment") + " on the way", sum(each.cents for each in found))

    def _pair(self, words: str, cents: int) -> str:
        return paired(words, self.showing.plain(cents), LINE)

    def _through(self) -> date | None:
        return self.day("through") if self.text("through") else None

    def _request(self, through: date | None) -> card_payout.PayoutRequest:
        is_taken = bool(self.text("taken")) and self.choice("taken", ("yes", "no"), "Was it taken out?") == "yes"
        return card_payout.PayoutRequest(self.amount("amount"), through, is_taken)
