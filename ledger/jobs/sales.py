"""The last sale of a job as the sealed entry tells it, so that its receipt can be printed again."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from decimal import Decimal

from ledger.books.books import Books, Row
from ledger.books.entries import Sealed
from ledger.errors import NotPossible
from ledger.jobs.charged import Exemption, SalesTax, TaxShare, charged, tax_of_slip
from ledger.jobs.job import Job
from ledger.jobs.payments import Payment
from ledger.jobs.pickup import Sending
from ledger.jobs.printed_piece import piece_of
from ledger.jobs.receipts import DepositBack, GiftPaid, GoodsPaid, Receipt
from ledger.jobs.records import is_before_books, read_job
from ledger.jobs.shipments import read_shipment
from ledger.jobs.slip import work_out_slip
from ledger.taxes.certificates import newest_certificate
from ledger.taxes.rules import rules_at, rules_on
from ledger.taxes.sales_tax import Rate, tax_on


def read_receipt(books: Books, job_number: int) -> Receipt:
    """The receipt of a job's pickup, from the books. Raises NotFound, and NotPossible where it is not picked up.

    The cash handed over and the change are not in the books, since the change given is never posted.
    """
    job = read_job(books, job_number)
    if job.status != "gone":
        raise NotPossible(
            f"Job {job.id} is {job.status.replace('-', ' ')}, so it has no receipt.",
            f"Its quote is printed with «twopurse quote {job.id}».",
            "job",
        )
    if is_before_books(books, job.id):
        raise NotPossible(
            f"Job {job.id} was handed over before the books began, so they have no receipt of it.",
            "What is still owed on it is on the customer's account: «twopurse owed statement».",
            "job",
        )
    if job.sale is None:
        return _given_away(books, job)
    work = charged(job, _sealed_tax(books, job, job.sale), books.currency, _coupon(books, job, job.sale))
    by_role = _cents_by_role(books, job.sale)
    payments = _payments(books, job.sale)
    back = next((each for each in payments if each.cents < 0), None)
    return Receipt(
        workshop=books.settings.name,
        day=_day_of(books, job),
        piece=piece_of(job),
        sending=_sending(books, job.sale),
        work=work,
        tip_cents=-by_role.get("tips", 0),
        deposit_cents=by_role.get("customer_deposits", 0) + (back.cents if back else 0),
        deposit_left_cents=_deposit_left(books, job.id, job.sale),
        deposit_back=DepositBack(back.how, -back.cents) if back else None,
        gifts=_gifts(books, job.sale),
        goods=_goods(books, job.sale),
        payments=tuple(each for each in payments if each.cents > 0),
        tendered_cents=None,
        owed_cents=by_role.get("owed_by_customers", 0),
        sealed=Sealed(job.sale, books.value("select digest from seal where number = ?", (job.sale,))),
    )


def _given_away(books: Books, job: Job) -> Receipt:
    """A pickup for which no money moved has no entry: all that its lines come to was taken off."""
    day = _day_of(books, job)
    then = replace(books, clock=replace(books.clock, today=day))
    certificate = newest_certificate(then, job.customer.party.id)
    exempt = certificate is not None and certificate.is_valid(day)
    everything = sum(each.cents for each in job.charges)
    sending = read_shipment(books, job.id)
    rules = rules_at(books, day, sending.place if sending else None)
    slip = work_out_slip(job.charges, rules, discount_cents=everything, exempt=exempt)
    return Receipt(
        workshop=books.settings.name,
        day=day,
        piece=piece_of(job),
        sending=sending,
        work=charged(job, tax_of_slip(slip, certificate), books.currency),
        tip_cents=0,
        deposit_cents=0,
        deposit_left_cents=job.deposit_cents,
        deposit_back=None,
        gifts=(),
        goods=None,
        payments=(),
        tendered_cents=None,
        owed_cents=0,
        sealed=None,
    )


def _day_of(books: Books, job: Job) -> date:
    """The day on which the piece went home."""
    day = books.value(
        "select on_date from job_event where job = ? and what = 'picked up' and on_date <= ? order by id desc limit 1",
        (job.id, books.today.isoformat()),
    )
    return date.fromisoformat(day)


def _sealed_tax(books: Books, job: Job, entry: int) -> SalesTax:
    """The tax of a sale as it was sealed; the subtotal before discount is worked out again from the sealed rates."""
    slip_lines = books.rows("select class, cents, treatment, certificate from slip_line where entry = ?", (entry,))
    tax_lines = books.rows(
        "select tax_line.*, jurisdiction.name, jurisdiction.level from tax_line "
        "join rate on rate.id = tax_line.rate join jurisdiction on jurisdiction.id = rate.jurisdiction "
        "where entry = ? order by line",
        (entry,),
    )
    then = rules_on(books, _day_of(books, job))
    of_one_class = {rate.id for rates in then.rates_of_class.values() for rate in rates if rate not in then.rates}
    used = (Rate(row["rate"], row["name"], row["level"], Decimal(row["percent"])) for row in tax_lines)
    rules = replace(
        then,
        rates=tuple(each for each in used if each.id not in of_one_class),
        answers={row["class"]: row["treatment"] == "taxed" for row in slip_lines},
        materials={},
    )
    subtotal_cents = tax_on(job.charges, rules).base_cents
    return SalesTax(
        subtotal_cents=subtotal_cents,
        discount_cents=subtotal_cents - sum(row["cents"] for row in slip_lines),
        taxed_cents=sum(row["cents"] for row in slip_lines if row["treatment"] == "taxed"),
        taxes=tuple(TaxShare(row["name"], Decimal(row["percent"]), row["cents"]) for row in tax_lines),
        exemption=_exemption(books, slip_lines),
    )


def _exemption(books: Books, slip_lines: Sequence[Row]) -> Exemption | None:
    used = next((row["certificate"] for row in slip_lines if row["certificate"] is not None), None)
    row = books.row("select reason, number from certificate where id = ?", (used,)) if used is not None else None
    return Exemption(row["reason"], row["number"]) if row else None


def _coupon(books: Books, job: Job, entry: int) -> str | None:
    """Why there was a discount, which stands after the piece in the text of the entry."""
    text = str(books.value("select text from entry where number = ?", (entry,)))
    after = text.removeprefix(f"Pickup: {job.piece} (")
    return after.removesuffix(")") if after != text and after.endswith(")") else None


def _sending(books: Books, entry: int) -> Sending | None:
    row = books.row("select * from shipment where entry = ?", (entry,))
    return Sending(row["place"], row["carrier"], row["tracking"], row["insured"]) if row else None


def _gifts(books: Books, entry: int) -> tuple[GiftPaid, ...]:
    rows = books.rows(
        "select code, -used.cents as paid, (select sum(cents) from gift_movement as upto "
        "where upto.certificate = used.certificate and upto.entry <= used.entry) as remaining "
        "from gift_movement as used join gift_certificate on gift_certificate.id = used.certificate "
        "where used.entry = ? order by used.id",
        (entry,),
    )
    return tuple(GiftPaid(row["code"], row["paid"], row["remaining"]) for row in rows)


def _goods(books: Books, entry: int) -> GoodsPaid | None:
    row = books.row("select what, cents from barter where entry = ?", (entry,))
    return GoodsPaid(row["what"], row["cents"]) if row else None


def _payments(books: Books, entry: int) -> tuple[Payment, ...]:
    rows = books.rows("select how, cents, fee, reference from payment where entry = ? order by id", (entry,))
    return tuple(Payment(row["how"], row["cents"], row["fee"], row["reference"]) for row in rows)


def _deposit_left(books: Books, job: int, sale: int) -> int:
    """What was still held of the job's deposits once the sale had used its part."""
    held = books.value(
        "select coalesce(sum(posting.cents), 0) from entry join posting on posting.entry = entry.number "
        "join account on account.id = posting.account "
        "where entry.job = ? and account.role = 'customer_deposits' and entry.number <= ?",
        (job, sale),
    )
    return -int(held)


def _cents_by_role(books: Books, entry: int) -> dict[str, int]:
    """What an entry moved, debit positive, by the role of the account."""
    rows = books.rows(
        "select account.role, sum(posting.cents) from posting join account on account.id = posting.account "
        "where posting.entry = ? and account.role is not null group by account.role",
        (entry,),
    )
    return {row[0]: row[1] for row in rows}
