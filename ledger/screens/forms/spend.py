"""A receipt: the shop, the amount, what it was for, what it was paid from, and the household's part."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from textual.widgets import Input

from ledger.actions import spend
from ledger.books.balances import read_accounts
from ledger.books.books import Books
from ledger.books.documents import odd_file
from ledger.books.entries import closed_through
from ledger.errors import NotUnderstood
from ledger.screens.forms.answer_list import matching
from ledger.screens.forms.field import Asked
from ledger.screens.forms.form import Form
from ledger.screens.forms.receipt_parts import PartSuggester, typed_parts
from ledger.screens.reading import typed_file
from ledger.screens.showing import listed
from ledger.spending.habits import known_shops, last_habit
from ledger.spending.spend import PAYING_ROLES

_YES_NO = ("yes", "no")


class SpendForm(Form):
    title_words = "Spend"

    def __init__(self, books: Books) -> None:
        super().__init__(books)
        accounts = read_accounts(books)
        self.categories = [each.name for each in accounts.of_kind("expense")]
        self.paying = [each.name for each in accounts.all if each.role in PAYING_ROLES]
        self.shops = known_shops(books)
        self.chosen = spend.household_choice(books)

    def asks(self) -> Sequence[Asked]:
        return (
            Asked("who", "Shop", known=self.shops),
            Asked("amount", "Whole receipt", hint="12.50+3 is added up"),
            Asked("category", "For", hint="such as thread", known=self.categories, only_known=True),
            Asked("from", "Paid from", hint="such as workshop card", known=self.paying, only_known=True),
            Asked("home", "Household part", hint="if empty: nothing"),
            Asked("also", "Also on it", hint="batting 12.50; needles 3"),
            Asked("tax", "Tax beside parts", hint="if read off before tax"),
            Asked("owed", "Owed back?", hint=self._owed_hint(), known=_YES_NO, only_known=True),
            Asked("untaxed", "No sales tax?", hint="yes if untaxed", known=_YES_NO, only_known=True),
            Asked("back", "Shop gives back?", hint="yes for its refund", known=_YES_NO, only_known=True),
            Asked("why", "Note"),
            Asked("document", "Photo or scan", hint="drag a file here"),
            Asked("on", "Date", value="today"),
        )

    def on_mount(self) -> None:
        self.field("also").input.suggester = PartSuggester(self.categories)
        super().on_mount()

    def _owed_hint(self) -> str:
        """What is so while nothing is typed."""
        return "yes, you chose so" if self.chosen == spend.OWED_BACK else "yes if you paid"

    def on_input_blurred(self, event: Input.Blurred) -> None:
        super().on_input_blurred(event)
        if event.input.id == "who":
            self._bring_habit()

    def _bring_habit(self) -> None:
        """A shop seen before brings its last category and account, where nothing is typed there yet."""
        habit = last_habit(self.books, self.text("who")) if self.text("who") else None
        if habit is not None:
            for name, value in (("category", habit.category), ("from", habit.paid_from)):
                if not self.text(name):
                    self.field(name).input.value = value

    def preview(self) -> Sequence[str]:
        late = self._late_day()
        spent = spend.preview(self.books if late else self.books_on(), self.sound(self._request()))
        amount = self.showing.amount
        lines = [f"Workshop {amount(spent.business_cents)}, household {amount(spent.personal_cents)}"]
        if len(spent.parts) > 1:
            parts = [f"{each.category.name} {self.showing.plain(each.cents)}" for each in spent.parts]
            lines = [*lines, *listed("  of it", parts, 72)]
        lines += self._new_shop()
        if spent.crossing:
            lines.append(f"Between the purses: {spent.crossing.kind}, {amount(spent.crossing.cents)}")
        if late:
            lines.append(f"{self.showing.day(late)} is closed: entered today, and it carries that day.")
        return lines

    def _new_shop(self) -> Sequence[str]:
        """Said of a shop that the books do not know yet, which may be the beginning of one that they do."""
        typed = self.text("who")
        if typed.casefold() in (each.casefold() for each in self.shops):
            return ()
        alike = matching(self.shops, typed)[:1]
        return [f"New: {typed}" + "".join(f"; not {each}?" for each in alike)]

    def _late_day(self) -> date | None:
        """The day of a receipt whose period is closed by now: it goes into the open one."""
        day, closed = self.day(), closed_through(self.books)
        return day if closed is not None and day <= closed else None

    def save(self) -> str:
        books = self.books if self._late_day() else self.books_on()
        spent, sealed = spend.perform(books, self.sound(self._request()))
        total = self.showing.amount(spent.business_cents + spent.personal_cents)
        told = f"Entry {sealed.number}: {total} {'from' if self._is_back() else 'to'} {self.text('who')}."
        odd = odd_file(typed_file(self.text("document"), "document")) if self.text("document") else None
        return f"{told} {odd}" if odd else told

    def _is_back(self) -> bool:
        return self.read("back", lambda text: _is_yes(text, "back"), None) is True

    def _request(self) -> spend.SpendRequest:
        currency, locale = self.books.currency, self.books.settings.locale
        return spend.SpendRequest(
            amount_cents=self.amount("amount"),
            category=self.read("category", lambda text: _needed(text, "category"), ""),
            paid_from=self.read("from", lambda text: _needed(text, "from"), ""),
            who=self.read("who", lambda text: _needed(text, "who"), ""),
            home_cents=self.amount("home", zero=True),
            owed=self.read("owed", lambda text: _is_yes(text, "owed"), None),
            untaxed=self.read("untaxed", lambda text: _is_yes(text, "untaxed"), None) is True,
            why=self.text_or_none("why"),
            document=self.read("document", lambda text: typed_file(text, "document") if text else None, None),
            also=self.read("also", lambda text: typed_parts(text, self.categories, currency, locale, "also"), ()),
            tax_cents=self.amount("tax", zero=True),
            is_back=self._is_back(),
            belongs_on=self._late_day(),
        )


def _needed(text: str, field: str) -> str:
    if not text:
        raise NotUnderstood("This is still empty.", "Type the first letters.", field)
    return text


def _is_yes(text: str, field: str) -> bool | None:
    """None where nothing is typed."""
    if text.casefold() not in ("", "y", "yes", "n", "no"):
        raise NotUnderstood("Yes or no?", "Type y or n.", field)
    return text.casefold().startswith("y") if text else None
