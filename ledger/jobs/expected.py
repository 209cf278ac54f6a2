"""What a job comes to as of today, before its pickup; after it, what was charged and taken."""

from __future__ import annotations

from dataclasses import dataclass

from ledger.books.books import Books
from ledger.errors import NotPossible
from ledger.jobs.after_sale import read_standing_sale
from ledger.jobs.job import Job
from ledger.jobs.slip import work_out_slip
from ledger.taxes.certificates import newest_certificate
from ledger.taxes.rules import rules_on
from ledger.taxes.sales_tax import TaxRules


@dataclass(frozen=True)
class Expected:
    """Amounts in cents. tax: None where a class is taxed and no rate is in force, which keeps nobody from taking a
    piece in. is_taken: the tax was taken at pickup. unanswered: classes that nobody has answered yet."""

    subtotal_cents: int
    tax_cents: int | None
    unanswered: tuple[str, ...]
    is_taken: bool = False

    @property
    def total_cents(self) -> int:
        return self.subtotal_cents + (self.tax_cents or 0)


def expected(books: Books, job: Job) -> Expected:
    """As of today, without tax where the customer is exempt today."""
    if job.sale is not None:
        sale = read_standing_sale(books, job)
        unanswered = tuple(dict.fromkeys(each.class_name for each in sale.slip if each.treatment == "unanswered"))
        return Expected(sale.charge_cents, sale.tax_cents, unanswered, is_taken=True)
    certificate = newest_certificate(books, job.customer.party.id)
    exempt = certificate is not None and certificate.is_valid(books.today)
    try:
        slip = work_out_slip(job.charges, rules_on(books, books.today), exempt=exempt)
    except NotPossible:
        untaxed = work_out_slip(job.charges, TaxRules((), {}))
        return Expected(untaxed.subtotal_cents, None, ())
    return Expected(slip.subtotal_cents, slip.tax_cents, slip.tax.unanswered)
