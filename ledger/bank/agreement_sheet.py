"""An agreement on paper: the bank reconciliation as accountants set it, or the cash that was counted."""

from __future__ import annotations

from dataclasses import dataclass

from ledger.bank.agreeing import BookItem, Reconciliation
from ledger.books.books import Settings
from ledger.paper.letterhead import Letterhead, on_letterhead
from ledger.paper.locales import LocalForms
from ledger.paper.pdf import sheet_pdf
from ledger.paper.plain import sheet_text
from ledger.paper.sheet import Column, Heading, Notes, Row, Sheet, Table, Title, Total, Totals


@dataclass(frozen=True)
class AgreementPaper:
    """What the sheet says beside the figures. over_cents: what the cash box had more than the books, None for a bank.

    head: the last entry of that moment.
    """

    found: Reconciliation
    head: str
    over_cents: int | None = None

    @property
    def name(self) -> str:
        """That of its files, without an ending."""
        return f"agreed-{self.found.account.replace(' ', '-')}-{self.found.day.isoformat()}"


def agreement_sheet(paper: AgreementPaper, settings: Settings, forms: LocalForms) -> Sheet:
    """The sheet with every figure as its place writes it."""
    found, day = paper.found, forms.day(paper.found.day)
    is_cash = paper.over_cents is not None
    blocks = (
        Title("Cash count" if is_cash else "Bank reconciliation", day),
        *(_cash(paper, forms) if is_cash else _bank(found, forms)),
        Notes((f"Entries through {paper.head}. From the owner's records, not audited.",)),
    )
    return Sheet(letterhead=(settings.name,), about=f"{settings.name}: {found.account} on {day}", blocks=blocks)


def printed(paper: AgreementPaper, settings: Settings, letterhead: Letterhead) -> tuple[bytes, str]:
    """The sheet as PDF and as text."""
    forms = LocalForms(settings.locale, settings.currency)
    sheet = on_letterhead(agreement_sheet(paper, settings, forms), letterhead)
    return sheet_pdf(sheet, forms.paper()), sheet_text(sheet)


def _bank(found: Reconciliation, forms: LocalForms) -> tuple[Heading | Table | Totals, ...]:
    amount = forms.amount
    return (
        Totals((Total(f"{found.account}: balance on the statement", amount(found.ending_cents)),)),
        *_items("Deposits in transit", found.in_transit, 1, forms),
        *_items("Checks and payments outstanding", found.outstanding, -1, forms),
        Totals(
            (
                Total("Deposits in transit", amount(found.in_transit_cents)),
                Total("Outstanding", amount(-found.outstanding_cents)),
                Total("Adjusted balance", amount(found.adjusted_cents), is_sum=True),
                Total("Balance of the books", amount(found.balance_cents)),
                Total("Difference", amount(found.difference_cents), is_sum=True),
            )
        ),
    )


def _cash(paper: AgreementPaper, forms: LocalForms) -> tuple[Totals, ...]:
    over = paper.over_cents or 0
    word = "Over" if over > 0 else "Short" if over < 0 else "Over or short"
    return (
        Totals(
            (
                Total("Counted", forms.amount(paper.found.ending_cents)),
                Total("Balance of the books before", forms.amount(paper.found.ending_cents - over)),
                Total(word, forms.amount(abs(over)), is_sum=True),
            )
        ),
    )


def _items(heading: str, items: tuple[BookItem, ...], sign: int, forms: LocalForms) -> tuple[Heading | Table, ...]:
    if not items:
        return ()
    columns = (Column("Entry"), Column("Day"), Column("What"), Column("Amount", is_amount=True))
    rows = tuple(
        Row((str(each.entry), forms.day(each.day), each.words, forms.amount(sign * each.cents))) for each in items
    )
    return Heading(heading), Table(columns, rows)
