"""Hours at a job, as they are logged."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

from ledger.actions import log_hours
from ledger.machine.job_earnings_record import hours_by_job
from ledger.money import read_quantity
from ledger.screens.forms.field import Asked
from ledger.screens.forms.job_form import JobForm


class HoursForm(JobForm):
    """Hours of one day. Nothing is posted."""

    act_id = "log_hours"

    def asks(self) -> Sequence[Asked]:
        return (Asked("hours", "Hours"), Asked("on", "Date", value="today"))

    def preview(self) -> Sequence[str]:
        so_far = hours_by_job(self.sound(self.books_on()), self.books.today).get(self.job.id)
        told = [f"Logged so far: {self.showing.number(so_far)} hours."] if so_far else []
        return [self.about(), *told, "Nothing is posted: they say what an hour of the job earned."]

    def save(self) -> str:
        books = self.books_on()
        hours = self.read("hours", lambda text: read_quantity(text, "hours"), Decimal(1))
        total = log_hours.perform(self.sound(books), log_hours.HoursRequest(self.job.id, self.sound(hours)))
        return f"Job {self.job.id}: {self.showing.number(total)} hours in all."
