"""The renewals as a calendar file."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from checklists.records import read_answers, read_catalogue_of
from checklists.renewals import renewals
from ledger.actions.keep_calendar import CalendarRequest, perform
from ledger.screens.forms.field import Asked
from ledger.screens.forms.form import Form
from ledger.screens.reading import typed_file

_MOST_LISTED = 8


class CalendarForm(Form):
    title_words = "Renewals for your calendar"

    def asks(self) -> Sequence[Asked]:
        return (Asked("file", "File", "~/renewals.ics"),)

    def preview(self) -> Sequence[str]:
        found = renewals(read_catalogue_of(self.books), read_answers(self.books), self.books.today)
        coming = [each for each in found if not each.is_cancelled]
        lines = [f"{self.showing.day(each.on)}  {each.title}" for each in coming[:_MOST_LISTED]]
        more = len(coming) - len(lines)
        return [*lines, *([f"and {more} more"] if more > 0 else []), "Open the file with your calendar."]

    def save(self) -> str:
        file = self.sound(self.read("file", lambda text: typed_file(text, "file"), Path()))
        kept = perform(self.books, CalendarRequest(file))
        return f"Written to {file}{', in place of the one before' if kept.replaced else ''}."
