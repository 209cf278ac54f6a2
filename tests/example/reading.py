"""What the tests of the example read out of its books: a job by its piece, its entries, the receipts, whole months."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from functools import cached_property

from ledger.books.balances import balance, movements, read_accounts
from ledger.books.books import Books
from ledger.books.entries import Entry, Wanted, read_entries
from ledger.jobs.job import Job
from ledger.jobs.records import read_jobs
from ledger.periods import Period, month_holding, quarter_holding

# How many jobs are in each status on the last day, whichever day that is.
STATUSES = {"gone": 278, "called-off": 3, "in-hand": 8, "ready": 6, "booked": 3, "asked": 2}
# Every column that says when a row was written; what lies ahead, such as a promise or an expiry, is none of them.
WRITTEN_ON = {
    "job": "on_date",
    "job_event": "on_date",
    "entry": "date",
    "party": "added_on",
    "party_detail": "on_date",
    "customer": "since",
    "rate": "made_on",
    "class_answer": "made_on",
    "choice": "made_on",
    "certificate": "from_date",
    "attachment": "at",
    "answer": "on_date",
    "gift_certificate": "on_date",
    "shipment": "on_date",
    "notice": "on_date",
    "filing": "filed_on",
    "supplier_certificate": "on_date",
    "stock_use": "on_date",
    "statement": "on_date",
    "line_match": "on_date",
    "agreement": "on_date",
    "plan": "on_date",
    "job_hours": "on_date",
    "question": "on_date",
    "question_answer": "on_date",
    "closing": "at",
}


@dataclass
class Example:
    """The example's books, read once."""

    books: Books

    @cached_property
    def jobs(self) -> tuple[Job, ...]:
        return read_jobs(self.books)

    @cached_property
    def entries(self) -> tuple[Entry, ...]:
        return read_entries(self.books, Wanted())

    def job(self, words: str) -> Job:
        """The one job whose piece begins with these words."""
        found = [job for job in self.jobs if job.piece.startswith(words)]
        assert len(found) == 1, f"{len(found)} jobs begin with «{words}»"
        return found[0]

    def entries_of(self, job: Job, kind: str | None = None) -> list[Entry]:
        return [each for each in self.entries if each.job == job.id and kind in (None, each.kind)]

    def sale(self, job: Job) -> dict[str, int]:
        """What the pickup of a job booked, as it stands."""
        entries = self.entries_of(job, "pickup")
        assert job.sale == entries[-1].number
        return postings_of(entries[-1])

    def booked(self, job: Job, kind: str) -> list[dict[str, int]]:
        """What the entries of a kind booked on a job."""
        return [postings_of(entry) for entry in self.entries_of(job, kind)]

    def treatments(self, job: Job) -> set[tuple[str, str]]:
        """Class and treatment of every line of a sale's slip."""
        rows = self.books.rows("select class, treatment from slip_line where entry = ?", (job.sale,))
        return {(row["class"], row["treatment"]) for row in rows}

    def events_of(self, job: Job) -> list[tuple[str, date]]:
        rows = self.books.rows("select what, on_date from job_event where job = ? order by id", (job.id,))
        return [(row["what"], date.fromisoformat(row["on_date"])) for row in rows]

    def days_written(self) -> Iterator[tuple[str, date]]:
        """Table and day of every row that says when it was written."""
        for table, column in WRITTEN_ON.items():
            for row in self.books.rows(f"select {column} from {table} where {column} is not null"):
                yield table, date.fromisoformat(row[0])

    def earned_by_month(self) -> list[int]:
        """Job income less every expense of each whole month, in cents."""
        accounts = read_accounts(self.books)
        months: list[int] = []
        month = month_holding(self.books.settings.begun_on)
        while month.end <= self.books.today:
            moved = movements(self.books, month.start, month.end)
            expenses = sum(moved[each.id] for each in accounts.of_kind("expense"))
            months.append(-moved[accounts["job_income"].id] - expenses)
            month = month_holding(month.end + timedelta(days=1))
        return months

    def lowest(self, role: str) -> int:
        """The lowest balance that an account had at the end of a day, in cents."""
        return min(balance(self.books, role, day) for day in {entry.on for entry in self.entries})

    def quarters(self) -> Iterator[Period]:
        quarter = quarter_holding(self.books.settings.begun_on)
        while quarter.start <= self.books.today:
            yield quarter
            quarter = quarter_holding(quarter.end + timedelta(days=1))


def postings_of(entry: Entry) -> dict[str, int]:
    """Cents by account name; the postings of one account added up."""
    sums: dict[str, int] = {}
    for each in entry.postings:
        sums[each.account.name] = sums.get(each.account.name, 0) + each.cents
    return sums
