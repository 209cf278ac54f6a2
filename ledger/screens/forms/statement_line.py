"""What one key cannot say of a line: its category, its job, the other account of a transfer."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from ledger.actions import place_line
from ledger.actions.book_line import PlaceRequest, who_of
from ledger.bank.standing import StandingLine
from ledger.books.balances import read_accounts
from ledger.books.books import Books
from ledger.errors import NotUnderstood
from ledger.jobs.bench import read_bench
from ledger.screens.forms.field import Asked
from ledger.screens.forms.form import Form
from ledger.screens.showing import cut
from ledger.spending.transfers import MONEY_ROLES


class LineForm(Form):
    """A form about one line of a statement."""

    def __init__(self, books: Books, standing: StandingLine) -> None:
        self.title_words = f"Line {standing.line.id}"
        super().__init__(books)
        self.line = standing.line

    def preview(self) -> Sequence[str]:
        line = self.line
        return [f"{self.showing.day(line.day)}  {self.showing.amount(line.cents)}  {cut(line.words, 44)}"]

    def save(self) -> str:
        done = place_line.perform(self.books, self.sound(self.request()))
        return f"Line {self.line.id}: entry {', '.join(map(str, done.entries))}."

    def request(self) -> PlaceRequest:
        raise NotImplementedError


class CategoryForm(LineForm):
    """A category; the first letters are enough."""

    def asks(self) -> Sequence[Asked]:
        accounts = read_accounts(self.books)
        known = [each.name for each in accounts.of_kind("expense") if each.takes_entries(self.line.day)]
        known += [accounts["other_income"].name] if self.line.cents > 0 else []
        return (
            Asked("category", "Category", known=known, only_known=True),
            Asked("who", "Who", value=who_of(self.line)),
            Asked("home", "Household's part"),
        )

    def request(self) -> PlaceRequest:
        if not self.text("category"):
            raise NotUnderstood("What was it for?", "Type the first letters of a category.", "category")
        home = self.amount("home", zero=True)
        typed = self.text("who")
        who = typed if typed and typed != who_of(self.line) else None
        return PlaceRequest(self.line.id, "category", self.text("category"), who=who, home_cents=home)

    def action_next(self) -> None:
        """Enter saves from the first field: a category is all that most lines want."""
        if self.focused is self.field("category").input and self.text("category"):
            self.action_save()
        else:
            super().action_next()


class JobForm(LineForm):
    """A job, by its number, or chosen by whose it is."""

    def asks(self) -> Sequence[Asked]:
        known = tuple(f"{each.id} {each.customer.name}: {each.piece}" for each in read_bench(self.books))
        return (Asked("job", "Job", hint="its number, or a name", known=known),)

    def preview(self) -> Sequence[str]:
        jobs = [f"Job {each.id:<5} {each.customer.name}: {each.piece}" for each in read_bench(self.books)[:5]]
        return [*super().preview(), *(cut(each, 70) for each in jobs)]

    def request(self) -> PlaceRequest:
        typed = self.text("job").partition(" ")[0]
        if not (typed.isascii() and typed.isdigit() and len(typed) <= 12):
            raise NotUnderstood("Which job?", "Type its number.", "job")
        return PlaceRequest(self.line.id, "job", job=int(typed))


class TransferLineForm(LineForm):
    """The other account."""

    def asks(self) -> Sequence[Asked]:
        names = [
            each.name
            for each in read_accounts(self.books).all
            if each.role in MONEY_ROLES and each.id != self.line.account
        ]
        label = "To" if self.line.cents < 0 else "From"
        return (Asked("transfer", label, known=names, only_known=True),)

    def request(self) -> PlaceRequest:
        if not self.text("transfer"):
            raise NotUnderstood("Which account?", "Type the first letters of its name.", "transfer")
        return PlaceRequest(self.line.id, "transfer", self.text("transfer"))


FORMS: dict[str, Callable[[Books, StandingLine], LineForm]] = {
    "category": CategoryForm,
    "job": JobForm,
    "transfer": TransferLineForm,
}
