"""A gift certificate sold: money in, no tax and no income yet."""

from __future__ import annotations

from collections.abc import Sequence

from ledger.actions import gift
from ledger.jobs.customers import customer_names
from ledger.jobs.gift_certificates import UNUSED
from ledger.jobs.payments import WAYS
from ledger.screens.forms.field import Asked
from ledger.screens.forms.form import Form
from ledger.screens.forms.job_form import LINE, WAYS_HINT
from ledger.screens.forms.paper_page import certificate_page
from ledger.screens.showing import paired


class GiftForm(Form):
    """Amount, how it is paid, whom it is sold to."""

    title_words = "Gift certificate"

    def asks(self) -> Sequence[Asked]:
        return (
            Asked("amount", "Amount"),
            Asked("paid", "How paid", hint=WAYS_HINT, known=WAYS, only_known=True),
            Asked("who", "Sold to", hint="if you know", known=customer_names(self.books)),
            Asked("number", "Check number"),
            Asked("fee", "Card fee"),
            Asked("on", "Date", value="today"),
        )

    def preview(self) -> Sequence[str]:
        books, cautions = self.books_on(), ["No tax and no income until it is used.", UNUSED]
        if not self.text("amount"):
            return cautions
        draft = gift.preview(books, self.sound(self._request()))
        booked = [paired(each.account.name, self.showing.plain(each.cents), LINE) for each in draft.postings]
        return [*booked, *cautions]

    def save(self) -> str:
        request = self._request()
        sealed, code = gift.perform(self.books_on(), self.sound(request))
        self.app.call_later(self.app.push_screen, certificate_page(code, self.showing.amount(request.cents)))
        return f"Entry {sealed.number}: certificate {code}."

    def _request(self) -> gift.GiftRequest:
        return gift.GiftRequest(
            cents=self.amount("amount"),
            how=self.choice("paid", WAYS, "How is it paid?"),
            who=self.text_or_none("who"),
            fee_cents=self.amount("fee", zero=True),
            number=self.words("number", limit=60),
        )
