"""A plan for the machine, kept so that the books can be held against it."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from ledger.actions import keep_plan
from ledger.errors import Refused
from ledger.machine.plan import PlanResult
from ledger.screens.forms.field import Asked
from ledger.screens.forms.form import Form
from ledger.screens.reading import typed_file


class PlanForm(Form):
    title_words = "Keep a plan"

    def asks(self) -> Sequence[Asked]:
        return (Asked("file", "File", hint="drag it here"),)

    def preview(self) -> Sequence[str]:
        note = "A text as the command «plan show --help» tells. Kept as it is today, it is held against the books."
        if not self.text("file"):
            return [note]
        return [*self._told(self._work_out(perform=False)), note]

    def save(self) -> str:
        return f"Kept: {self._told(self._work_out(perform=True))[0]}"

    def _work_out(self, *, perform: bool) -> PlanResult:
        request = keep_plan.PlanRequest(self.sound(self.read("file", lambda text: typed_file(text, "file"), Path())))
        try:
            return keep_plan.perform(self.books, request) if perform else keep_plan.preview(self.books, request)
        except Refused as refused:
            refused.field = "file"  # what was wrong names the field of the file
            raise

    def _told(self, result: PlanResult) -> list[str]:
        amount = self.showing.amount
        when = f"paid off in {result.paid_off:%Y-%m}" if result.paid_off else "never paid off this way"
        return [
            f"{result.plan.name}: {when}.",
            f"The most out of pocket: {amount(result.most_out_of_pocket_cents)}.",
        ]
