"""What a room says of one job: its work, what it comes to, and what became of it since."""

from __future__ import annotations

from collections.abc import Iterator

from rich.cells import cell_len

from ledger.books.books import Books
from ledger.books.documents import read_documents
from ledger.jobs.after_sale import read_standing_sale
from ledger.jobs.expected import expected
from ledger.jobs.history import read_history
from ledger.jobs.job import Job
from ledger.jobs.printing import receipts_folder
from ledger.jobs.receipts import name_of_receipt
from ledger.jobs.records import is_before_books, read_intake
from ledger.jobs.shipments import read_shipment
from ledger.jobs.waiting import read_notices
from ledger.money import plain_decimal
from ledger.screens.showing import Showing, padded, paired

# Cells of a line.
_DETAIL = 52
# Cells of an amount at the end of a line, with the spaces before it.
_AMOUNT = 10


class JobDetail:
    """Tells one job in lines of so many cells; longer sentences are left to wrap."""

    def __init__(self, books: Books, showing: Showing, job: Job) -> None:
        self.books = books
        self.showing = showing
        self.job = job

    def lines(self) -> Iterator[str]:
        """Before pickup the work stands first; after it, what was charged and what became of that."""
        job = self.job
        size = f"{plain_decimal(job.size.width)} x {plain_decimal(job.size.length)} {job.size.units}"
        yield f"{job.customer.name}: {job.piece}"
        if job.size.width:
            # Of a piece that went home before the books, nobody has told it.
            yield f"{size}, declared {self.showing.amount(job.value_cents)}"
        if job.status in ("gone", "called-off"):
            yield from self._charged()
            yield from self._since()
            yield from self._work()
        else:
            yield from self._work()
            yield from self._expected()
            yield from self._since()

    def _work(self) -> Iterator[str]:
        number = self.showing.number
        told = [f"{number(each.shown_quantity)} {each.unit} at {number(each.rate)}" for each in self.job.lines]
        beside = max(map(len, told), default=0) + _AMOUNT
        cells = min(max((cell_len(each.name) for each in self.job.lines), default=0), _DETAIL - beside)
        for line, arithmetic in zip(self.job.lines, told, strict=True):
            yield self._pair(f"{padded(line.name, cells)} {arithmetic}", line.cents)
        extra = self.job.pricing.rush_cents + self.job.pricing.top_up_cents
        if extra:
            yield self._pair("Minimum and rush", extra)
        intake = read_intake(self.books, self.job.id)
        if intake is not None and intake.condition:
            yield f"Its state: {intake.condition}"
        if intake is not None and intake.may_collect:
            yield f"May collect: {intake.may_collect}"

    def _expected(self) -> Iterator[str]:
        found = expected(self.books, self.job)
        if found.tax_cents is None:
            yield "Sales tax: no rate is in force today"
        else:
            yield self._pair("Sales tax, as of today", found.tax_cents)
        yield self._pair("Total", found.total_cents)

    def _charged(self) -> Iterator[str]:
        if is_before_books(self.books, self.job.id):
            yield "Handed over before the books began."
            return
        if self.job.sale is None:
            yield "Called off." if self.job.status == "called-off" else "Given away: nothing was charged."
            return
        sale = read_standing_sale(self.books, self.job)
        yield self._pair("Charged, less what was given back", sale.charge_cents)
        yield self._pair("Sales tax of it", sale.tax_cents)
        if sale.tip_cents:
            yield self._pair("Tip", sale.tip_cents)

    def _since(self) -> Iterator[str]:
        for each in read_history(self.books, self.job):
            yield self._pair(f"{self.showing.month_day(each.day)}  {each.what}", each.cents)
        if self.job.deposit_cents:
            yield self._pair("Deposit held", self.job.deposit_cents)
        if self.job.owed_cents:
            yield self._pair(
                "Still owed" if self.job.owed_cents > 0 else "Owed to the customer", abs(self.job.owed_cents)
            )
        yield from self._parcel()
        for notice in read_notices(self.books, self.job.id):
            yield f"{self.showing.month_day(notice.on)}  Told: {notice.how}"
        yield from self._papers()

    def _papers(self) -> Iterator[str]:
        """The documents kept with the job, and its receipt where its file lies there still."""
        for document in read_documents(self.books, job=self.job.id):
            yield f"With it: {document.label} (View, with /, opens the newest)"
        if self.job.status == "gone":
            receipt = receipts_folder(self.books) / f"{name_of_receipt(self.job.id, self.job.sale)}.pdf"
            if receipt.is_file():
                yield f"Printed: {receipt.name}"

    def _parcel(self) -> Iterator[str]:
        sent = read_shipment(self.books, self.job.id)
        if sent is None:
            return
        told = [f"to {sent.place}"] if sent.place else []
        told += [f"by {sent.carrier}"] if sent.carrier else []
        told += [sent.tracking] if sent.tracking else []
        told += [f"insured for {self.showing.amount(sent.insured_cents)}"] if sent.insured_cents else []
        yield "Sent by post" + (": " if told else "") + ", ".join(told)

    def _pair(self, words: str, cents: int) -> str:
        return paired(words, self.showing.plain(cents), _DETAIL)
