"""Her own resale certificate: recorded, printed for a supplier, and who has it."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from ledger.actions import own_certificate
from ledger.actions.own_certificate import USUAL_BUSINESS, USUAL_GOODS, GiveRequest, OwnRequest, read_own
from ledger.books.books import Books
from ledger.screens.forms.field import Asked
from ledger.screens.forms.form import Form
from ledger.screens.forms.paper_page import PaperPage
from ledger.screens.reading import typed_future_date
from ledger.screens.showing import Showing, paired
from ledger.spending.habits import known_shops
from ledger.taxes.own_certificate import CAUTION

_LINE = 54


class OwnCertificateForm(Form):
    title_words = "Your own resale certificate"

    def __init__(self, books: Books) -> None:
        super().__init__(books)
        self.own = read_own(books)

    def asks(self) -> Sequence[Asked]:
        expires = self.own.expires.isoformat() if self.own.expires is not None else ""
        return (
            Asked("value", "Number", value=self.own.number or "", hint="as it is printed"),
            Asked("state", "State", value=self.own.state or ""),
            Asked("expires", "Holds until", value=expires, hint="if empty: no last day"),
            Asked("asked", "Whom you asked", hint="such as revenue office"),
        )

    def preview(self) -> Sequence[str]:
        return ["The set-up list has the same answer.", CAUTION]

    def save(self) -> str:
        request = OwnRequest(
            number=self.text("value"),
            asked=self.text("asked"),
            state=self.text_or_none("state"),
            expires=self.read("expires", self._until, None),
        )
        own = own_certificate.perform(self.books, self.sound(request))
        return f"Resale certificate {own.number} is recorded."

    def _until(self, text: str) -> date | None:
        return typed_future_date(text, self.books.today, self.books.settings.locale, "expires") if text else None


class GiveCertificateForm(Form):
    title_words = "Resale certificate for a supplier"

    def __init__(self, books: Books) -> None:
        super().__init__(books)
        self.shops = known_shops(books)

    def asks(self) -> Sequence[Asked]:
        return (
            Asked("supplier", "Supplier", known=self.shops),
            Asked("goods", "You buy there", value=USUAL_GOODS),
            Asked("business", "Type of business", value=USUAL_BUSINESS),
            Asked("purchase", "For one order", hint="if empty: all orders"),
        )

    def preview(self) -> Sequence[str]:
        own = read_own(self.books)
        has_it = {each.name for each in own.holders if not own.is_old(each)}
        already = ["This supplier has it already."] if self.text("supplier") in has_it else []
        if self.text("supplier"):
            own_certificate.preview_given(self.books, self.sound(self._request()))
        number = f"Number {own.number}, {own.state or 'no state was said'}." if own.number else "None is recorded yet."
        return [number, *already, CAUTION]

    def save(self) -> str:
        printed, folder = own_certificate.give(self.books, self.sound(self._request()))
        page = PaperPage("Resale certificate", printed.text.splitlines(), f"For paper: {printed.pdf_in(folder)}")
        self.app.call_later(self.app.push_screen, page)
        return f"Resale certificate for {self.text('supplier')} is printed."

    def _request(self) -> GiveRequest:
        return GiveRequest(
            supplier=self.text("supplier"),
            goods=self.text("goods"),
            business=self.text("business"),
            purchase=self.text_or_none("purchase"),
        )


def own_page(books: Books, showing: Showing) -> PaperPage:
    """Her own certificate, and which suppliers have it."""
    own = read_own(books)
    if own.number is None:
        lines = ["No resale certificate of yours is recorded. «Own resale» in / records one."]
    else:
        until = showing.day(own.expires) if own.expires is not None else "no last day"
        said = "" if own.holds(books.today) else ", has run out"
        lines = [f"Number {own.number}", f"State  {own.state or 'not said'}", f"Until  {until}{said}", ""]
    lines += [
        paired(f"{each.name}{', an earlier number' if own.is_old(each) else ''}", showing.day(each.given_on), _LINE)
        for each in own.holders
    ]
    lines += [] if own.holders else ["No supplier has it."]
    return PaperPage("Your own resale certificate", lines, CAUTION)
