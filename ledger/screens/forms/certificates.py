"""Customers' exemption certificates: the fields of the uniform form as one types them, and the list by last day."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from pathlib import Path

from ledger.actions import keep_certificate
from ledger.actions.keep_certificate import CertificateRequest
from ledger.books.books import Books
from ledger.jobs.customers import customer_names
from ledger.screens.forms.field import Asked
from ledger.screens.forms.form import Form
from ledger.screens.forms.paper_page import PaperPage
from ledger.screens.reading import typed_date, typed_future_date
from ledger.screens.showing import Showing, cut, padded
from ledger.taxes.certificate_form import REASONS, CertificateForm
from ledger.taxes.certificates import Certificate, read_certificates

_LETTERS = (
    "Reason in words, or its letter: A to C government, D diplomat, E charity,",
    "F religious, G resale, H farm, I industry, J, K direct, L: other, M school.",
)
_REASONS = tuple(words for letter, words in REASONS.items() if letter != "L")
_NAME_CELLS, _REASON_CELLS = 24, 22


class ExemptionForm(Form):
    title_words = "Exemption certificate"

    def __init__(self, books: Books, customer: str | None) -> None:
        super().__init__(books)
        self.customers = customer_names(books)
        self.customer = customer or ""

    def asks(self) -> Sequence[Asked]:
        return (
            Asked("name", "Customer", value=self.customer, known=self.customers),
            Asked("exempt", "Reason", hint="such as E", known=_REASONS),
            Asked("certificate", "Number"),
            Asked("state", "State of the number"),
            Asked("from", "Holds from", value="today"),
            Asked("expires", "Holds until", hint="if empty: no last day"),
            Asked("purchase", "For one order", hint="if empty: all orders"),
            Asked("address", "Buyer's address"),
            Asked("business", "Type of business"),
            Asked("signed_by", "Signed by"),
            Asked("title", "Title"),
            Asked("signed", "Signed on"),
            Asked("document", "Photo or scan", hint="drag a file here"),
        )

    def preview(self) -> Sequence[str]:
        if not self.text("exempt"):
            return _LETTERS
        reason = keep_certificate.preview(self.sound(self._request()))
        assert reason is not None, "a reason was typed"
        letter = f"{reason.letter}: " if reason.letter else ""
        without = "" if self.text("certificate") else " Without a number nothing is exempt."
        return [f"Reason {letter}{reason.words}.{without}"]

    def save(self) -> str:
        kept = keep_certificate.perform(self.books, self.sound(self._request()))
        return f"Certificate of {kept.name} is kept."

    def _request(self) -> CertificateRequest:
        document = self.text_or_none("document")
        return CertificateRequest(
            name=self.text("name"),
            reason=self.text("exempt"),
            number=self.text_or_none("certificate"),
            state=self.text_or_none("state"),
            from_date=self.read("from", lambda text: self._past(text, "from"), None),
            expires=self.read("expires", self._until, None),
            document=Path(document).expanduser() if document else None,
            form=self._form(),
        )

    def _form(self) -> CertificateForm | None:
        form = CertificateForm(
            address=self.text_or_none("address"),
            single_purchase=self.text_or_none("purchase"),
            business=self.text_or_none("business"),
            signed_by=self.text_or_none("signed_by"),
            title=self.text_or_none("title"),
            signed_on=self.read("signed", lambda text: self._past(text, "signed"), None),
        )
        return form if form != CertificateForm() else None

    def _past(self, text: str, name: str) -> date | None:
        return typed_date(text, self.books.today, self.books.settings.locale, name) if text else None

    def _until(self, text: str) -> date | None:
        return typed_future_date(text, self.books.today, self.books.settings.locale, "expires") if text else None


def certificates_page(books: Books, showing: Showing) -> PaperPage:
    """Every customer's certificate that counts today, the one that runs out first before the others."""
    held = read_certificates(books, books.today)
    lines = [
        f"{padded(_until(each.certificate, showing), 14)}{padded(each.name, _NAME_CELLS)} "
        f"{padded(each.certificate.reason, _REASON_CELLS)} {cut(each.certificate.number or 'no number', 12)}"
        for each in held
    ]
    not_valid = [each.name for each in held if not each.certificate.is_valid(books.today)]
    if not held:
        lines = ["No customer has an exemption certificate. «Certificate» in / keeps one."]
    below = f"Not valid today, so tax is taken: {', '.join(not_valid)}." if not_valid else ""
    return PaperPage("Exemption certificates", lines, below)


def _until(certificate: Certificate, showing: Showing) -> str:
    return showing.day(certificate.expires) if certificate.expires is not None else "no last day"
