"""The quote and intake form of a job before its pickup: what it says, and the sheet that says it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from ledger.books.books import Settings
from ledger.jobs.charged import (
    Charged,
    charge_totals,
    charged,
    deposit_left_notes,
    exemption_notes,
    tax_of_slip,
    work_table,
)
from ledger.jobs.intake import Intake, lengths_text
from ledger.jobs.job import Job
from ledger.jobs.printed_piece import Piece, piece_facts, piece_of
from ledger.jobs.slip import work_out_slip
from ledger.paper.locales import LocalForms
from ledger.paper.sheet import Facts, Notes, Sheet, Signatures, Title, Total, Totals
from ledger.taxes.certificates import Certificate
from ledger.taxes.sales_tax import TaxRules

_STATE = "State of the piece, as both saw it"
_WHILE_HERE = (
    "What insurance pays for a piece in the workshop's care, its policy and the insurer say.",
    "What becomes of a piece that nobody fetches, the law of the state decides.",
)


@dataclass(frozen=True)
class Quote:
    """What a quote says; amounts in cents. is_here: the piece was left with the workshop. taken_on: when it was asked
    about or came in, which is the day of its prices. deposit: what pickup would use of it, deposit_left: the rest.
    contact, promised, intake: None where nothing was said.
    """

    workshop: str
    day: date
    piece: Piece
    is_here: bool
    contact: str | None
    taken_on: date
    promised: date | None
    value_cents: int
    intake: Intake | None
    work: Charged
    deposit_cents: int
    deposit_left_cents: int

    @property
    def to_pay_cents(self) -> int:
        """What is left to pay at pickup, at today's tax."""
        return self.work.total_cents - self.deposit_cents


def describe_quote(
    settings: Settings, job: Job, rules: TaxRules, certificate: Certificate | None, intake: Intake | None, day: date
) -> Quote:
    """What pickup on this day would come to. Raises NotPossible where a class is taxed and no rate is in force."""
    exempt = certificate is not None and certificate.is_valid(day)
    slip = work_out_slip(job.charges, rules, exempt=exempt)
    deposit_cents = min(job.deposit_cents, slip.total_cents)
    return Quote(
        workshop=settings.name,
        day=day,
        piece=piece_of(job),
        is_here=job.status in ("in-hand", "ready"),
        contact=job.customer.party.contact,
        taken_on=job.taken_on,
        promised=job.promised,
        value_cents=job.value_cents,
        intake=intake,
        work=charged(job, tax_of_slip(slip, certificate), settings.currency),
        deposit_cents=deposit_cents,
        deposit_left_cents=job.deposit_cents - deposit_cents,
    )


def quote_name(quote: Quote) -> str:
    """The name of its files: job and day, since tax and deposit may be others on another day."""
    return f"quote-job-{quote.piece.job}-{quote.day.isoformat()}"


def intake_form_name(quote: Quote) -> str:
    return f"intake-form-job-{quote.piece.job}-{quote.day.isoformat()}"


def quote_sheet(quote: Quote, forms: LocalForms) -> Sheet:
    """The quote with every figure as its place writes it."""
    what = "Intake form and quote" if quote.is_here else "Quote"
    job = quote.piece.job
    return Sheet(
        letterhead=(quote.workshop,),
        about=f"{quote.workshop}: {what.lower()} for job {job}",
        blocks=(
            Title(f"{what} for job {job}", forms.day(quote.day)),
            Facts((*piece_facts(quote.piece, forms), *_said_at_intake(quote)), _dates_and_value(quote, forms)),
            work_table(quote.work, forms),
            Totals(tuple(_totals(quote, forms))),
            Notes((*exemption_notes(quote.work), *_notes(quote, forms))),
            *_to_sign(quote),
        ),
        foot=f"Job {job}",
    )


def _said_at_intake(quote: Quote) -> tuple[tuple[str, str], ...]:
    intake = quote.intake
    said = {
        "Measured": _measured(intake) if intake else None,
        "Contact": quote.contact,
        "Condition": intake.condition if intake else None,
        "May collect": intake.may_collect if intake else None,
    }
    return tuple((label, text) for label, text in said.items() if text)


def _measured(intake: Intake) -> str | None:
    """Every line that was measured, where a side was measured on more than one."""
    if max(len(intake.widths), len(intake.lengths)) < 2:
        return None
    return f"{lengths_text(intake.widths)} × {lengths_text(intake.lengths)}"


def _to_sign(quote: Quote) -> Iterator[Signatures]:
    """Who signs; on an intake form before that what nobody has said yet, to be written in by hand at the counter."""
    if not quote.is_here:
        yield Signatures(("Customer", "Date"))
        return
    is_seen = quote.intake is not None and quote.intake.condition
    unsaid = (*(() if is_seen else (_STATE,)), *(() if quote.promised else ("Promised for",)))
    if unsaid:
        yield Signatures(unsaid)
    yield Signatures(("Customer", "For the workshop", "Date"))


def _dates_and_value(quote: Quote, forms: LocalForms) -> tuple[tuple[str, str], ...]:
    promised = (("Promised for", forms.day(quote.promised)),) if quote.promised else ()
    return (
        ("Prices of", forms.day(quote.taken_on)),
        *promised,
        ("Declared value", forms.amount(quote.value_cents)),
    )


def _totals(quote: Quote, forms: LocalForms) -> list[Total]:
    totals = charge_totals(quote.work, forms, "Sales tax expected")
    totals.append(Total("Total expected", forms.amount(quote.work.total_cents), is_sum=True))
    if quote.deposit_cents:
        totals.append(Total("Deposit held", forms.amount(-quote.deposit_cents)))
        totals.append(Total("To pay at pickup", forms.amount(quote.to_pay_cents), is_sum=True))
    return totals


def _notes(quote: Quote, forms: LocalForms) -> tuple[str, ...]:
    """Nothing is said of a class that her state has not been asked about, but that the day of pickup counts."""
    shown = f" What is shown is as of {forms.day(quote.day)}." if quote.work.taxed_cents else ""
    return (
        *deposit_left_notes(quote.deposit_left_cents, forms),
        f"A quote keeps its prices: these are of {forms.day(quote.taken_on)} and hold for this job.",
        f"Sales tax goes by the rates and rules of the day of pickup.{shown}",
        "The declared value is what the customer says the piece is worth.",
        *(_WHILE_HERE if quote.is_here else ()),
    )
