"""The day on which the workshop was open, and what was spent before it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ledger.actions import start_up
from ledger.actions.start_up import OpenedRequest
from ledger.books.books import Books
from ledger.screens.forms.field import Asked
from ledger.screens.forms.form import Form
from ledger.screens.showing import paired
from ledger.taxes.start_up_records import ReadStartUp, opened_on, read_spent_before, read_start_up

_LINE = 54
_LISTED = 8
_DECIDES = "What counts, and whether the rule is for you, your accountant decides."


class StartUpForm(Form):
    title_words = "Before the workshop was open"

    def __init__(self, books: Books) -> None:
        super().__init__(books)
        self.recorded = opened_on(books)

    def asks(self) -> Sequence[Asked]:
        day = self.recorded.isoformat() if self.recorded is not None else ""
        return (Asked("opened", "Open and ready on", value=day, hint="for paid work"),)

    def preview(self) -> Sequence[str]:
        if not self.text("opened"):
            return ["What was spent before that day may be start-up costs.", _DECIDES]
        opened = self.sound(self.day("opened"))
        if opened == self.recorded:
            found = read_start_up(self.books)
            assert found is not None, "the day is recorded"
            return [*self._costs(found), *self._rule(found), _DECIDES]
        costs = read_spent_before(self.books, opened)
        spent = sum(each.cents for each in costs if each.left_out is None)
        return [paired("Spent before that day", self.showing.plain(spent), _LINE), _DECIDES]

    def save(self) -> str:
        found = start_up.perform(self.books, OpenedRequest(self.sound(self.day("opened"))))
        spent = self.showing.amount(found.cost_cents)
        return f"Open on {self.showing.day(found.opened)}; start-up costs {spent}."

    def _costs(self, found: ReadStartUp) -> Iterator[str]:
        for each in found.costs[:_LISTED]:
            words = f"{each.category}, not counted: {each.left_out}" if each.left_out else each.category
            yield paired(words, self.showing.plain(each.cents), _LINE)
        if len(found.costs) > _LISTED:
            yield f"and {len(found.costs) - _LISTED} more categories"
        yield paired("Start-up costs", self.showing.plain(found.cost_cents), _LINE)

    def _rule(self, found: ReadStartUp) -> Iterator[str]:
        if found.rule is None:
            return
        year = self.books.today.year
        yield paired("In the first year, by the rule", self.showing.plain(found.rule.at_once_cents), _LINE)
        yield paired(f"The rest, over {found.rule.months} months", self.showing.plain(found.rule.rest_cents), _LINE)
        yield paired(f"In {year}", self.showing.plain(found.rule.cents_of(year)), _LINE)
        yield from (f"{found.source}", *found.notes)
