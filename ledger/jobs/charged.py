"""What the work of a job comes to, as paper tells it: lines with their arithmetic, rush, discount and sales tax.

The figures add up on their face, also where prices have tax in them or a line was raised to its minimum.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from ledger.jobs.job import Job, JobLine
from ledger.jobs.slip import Slip
from ledger.money import Currency, cents_of, percent_of, round_half_up
from ledger.paper.locales import LocalForms
from ledger.paper.sheet import Column, Row, Table, Total
from ledger.taxes.certificates import Certificate

_LEAST_DECIMALS, _MOST_DECIMALS = 4, 9


@dataclass(frozen=True)
class WorkLine:
    """A line of work. worked_out_cents: quantity times rate, below `cents` where the line's minimum counted."""

    name: str
    quantity: Decimal
    unit: str
    rate: Decimal
    worked_out_cents: int
    cents: int


@dataclass(frozen=True)
class TaxShare:
    """What one jurisdiction gets of the sales tax."""

    jurisdiction: str
    percent: Decimal
    cents: int


@dataclass(frozen=True)
class Exemption:
    """Why no tax was taken, and the certificate that says so."""

    reason: str
    number: str


@dataclass(frozen=True)
class Charged:
    """Amounts in cents. tax_in_prices: the tax that the lines have in them, taken out before the subtotal.

    coupon: why there is a discount, where it was said. taxed: what the sales tax is worked out on.
    exemption: None where none was claimed.
    """

    lines: tuple[WorkLine, ...]
    top_up_cents: int
    rush_percent: Decimal
    rush_cents: int
    tax_in_prices_cents: int
    subtotal_cents: int
    discount_cents: int
    coupon: str | None
    taxed_cents: int
    taxes: tuple[TaxShare, ...]
    exemption: Exemption | None

    @property
    def tax_cents(self) -> int:
        return sum(each.cents for each in self.taxes)

    @property
    def total_cents(self) -> int:
        return self.subtotal_cents - self.discount_cents + self.tax_cents


@dataclass(frozen=True)
class SalesTax:
    """The sales tax on a job, from a slip or from a sealed entry. Amounts in cents; subtotal without any tax."""

    subtotal_cents: int
    discount_cents: int
    taxed_cents: int
    taxes: tuple[TaxShare, ...]
    exemption: Exemption | None


def tax_of_slip(slip: Slip, certificate: Certificate | None) -> SalesTax:
    """certificate: the customer's, of which nothing is said unless a charge was exempt under it."""
    exempt = any(each.treatment == "exempt" for each in slip.tax.charges)
    return SalesTax(
        slip.subtotal_cents,
        slip.discount_cents,
        sum(each.base_cents for each in slip.tax.charges if each.treatment == "taxed"),
        tuple(TaxShare(each.rate.jurisdiction, each.rate.percent, each.tax_cents) for each in slip.tax.taxes),
        Exemption(certificate.reason, certificate.number or "") if exempt and certificate else None,
    )


def charged(job: Job, tax: SalesTax, currency: Currency, coupon: str | None = None) -> Charged:
    """The lines of a job with the tax on them."""
    quoted_cents = sum(each.cents for each in job.charges)
    return Charged(
        lines=tuple(_work_line(each, currency) for each in job.lines),
        top_up_cents=job.pricing.top_up_cents,
        rush_percent=job.rush_percent,
        rush_cents=job.pricing.rush_cents,
        tax_in_prices_cents=quoted_cents - tax.subtotal_cents,
        subtotal_cents=tax.subtotal_cents,
        discount_cents=tax.discount_cents,
        coupon=coupon,
        taxed_cents=tax.taxed_cents,
        taxes=tax.taxes,
        exemption=tax.exemption,
    )


def work_table(work: Charged, forms: LocalForms) -> Table:
    """The lines, what raised them to the job's minimum, and the charge for rush."""
    rows = [Row((line.name, forms.amount(line.cents)), _arithmetic(line, forms)) for line in work.lines]
    if work.top_up_cents:
        rows.append(Row(("Top-up to the minimum for a job", forms.amount(work.top_up_cents))))
    if work.rush_cents:
        rows.append(Row((f"Rush, {forms.percent(work.rush_percent)}", forms.amount(work.rush_cents))))
    return Table((Column("Work"), Column("Amount", is_amount=True)), tuple(rows))


def charge_totals(work: Charged, forms: LocalForms, tax_label: str) -> list[Total]:
    """From the subtotal to the sales tax. Nothing is said of tax where there is nothing that it is taken of."""
    totals = [Total("Subtotal", forms.amount(work.subtotal_cents))]
    if work.tax_in_prices_cents:
        totals.insert(0, Total("Sales tax in these prices", forms.amount(-work.tax_in_prices_cents)))
    if work.discount_cents:
        why = f"Discount: {work.coupon}" if work.coupon else "Discount"
        totals.append(Total(why, forms.amount(-work.discount_cents)))
    if work.taxed_cents:
        totals.append(Total(tax_label, forms.amount(work.tax_cents), _shares(work, forms)))
    return totals


def exemption_notes(work: Charged) -> tuple[str, ...]:
    if work.exemption is None:
        return ()
    return (f"Exempt from sales tax: {work.exemption.reason}, certificate {work.exemption.number}.",)


def deposit_left_notes(left_cents: int, forms: LocalForms) -> tuple[str, ...]:
    return (f"Of the deposit, {forms.amount(left_cents)} is left, and held for you.",) if left_cents else ()


def _work_line(line: JobLine, currency: Currency) -> WorkLine:
    quantity = _quantity_that_adds_up(line, currency)
    return WorkLine(line.name, quantity, line.unit, line.rate, cents_of(line.quantity, line.rate, currency), line.cents)


def _quantity_that_adds_up(line: JobLine, currency: Currency) -> Decimal:
    """The quantity to four decimals, or to as many as it takes for the amount to come out of what is printed."""
    exact_cents = cents_of(line.quantity, line.rate, currency)
    shown = Decimal(0)
    for decimals in range(_LEAST_DECIMALS, _MOST_DECIMALS + 1):
        shown = Decimal(round_half_up(line.quantity * 10**decimals)).scaleb(-decimals)
        if cents_of(shown, line.rate, currency) == exact_cents:
            break
    return shown


def _arithmetic(line: WorkLine, forms: LocalForms) -> tuple[str, ...]:
    """`4,032 sq in at 0.02`, and what the line's minimum made of it; nothing for one flat amount."""
    quantity, rate = forms.number(line.quantity), forms.rate(line.rate)
    text = {
        "flat": f"{quantity} at {rate}" if line.quantity != 1 else "",
        "each": f"{quantity} at {rate} each",
        "hour": f"{quantity} {'hour' if line.quantity == 1 else 'hours'} at {rate}",
    }.get(line.unit, f"{quantity} {line.unit} at {rate}")
    if line.cents > line.worked_out_cents:
        text = f"{text or rate}, raised to the minimum of {forms.amount(line.cents)}"
    return (text,) if text else ()


def _shares(work: Charged, forms: LocalForms) -> tuple[str, ...]:
    """The summed rate, with what it is taken of where that arithmetic comes out, then each jurisdiction's part."""
    parts = tuple(
        f"{each.jurisdiction} {forms.percent(each.percent)}: {forms.amount(each.cents)}" for each in work.taxes
    )
    if len({each.jurisdiction for each in work.taxes}) < len(work.taxes):
        return parts  # a class had a rate of its own that day, so that no one rate is that of the slip
    percent = sum((each.percent for each in work.taxes), start=Decimal(0))
    adds_up = round_half_up(percent_of(work.taxed_cents, percent)) == work.tax_cents
    whole = forms.percent(percent) + (f" of {forms.amount(work.taxed_cents)}" if adds_up else "")
    if len(work.taxes) == 1:
        return (f"{work.taxes[0].jurisdiction}, {whole}",)
    return (whole, *parts)
