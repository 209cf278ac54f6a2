"""The lists of Sunday evening: categories, people paid, trips, shared bills, receipts without a document."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar

from textual.binding import Binding, BindingType

from ledger.books.balances import read_accounts
from ledger.books.entries import read_entry
from ledger.lists.listing import Column, ShownAs
from ledger.periods import year_holding
from ledger.results.lines import schedule_c_lines
from ledger.screens.choices_page import Choice, ChoicesPage
from ledger.screens.list_page import Listed, ListPage
from ledger.spending.bill_records import read_bills
from ledger.spending.information_returns import read_people_paid, threshold
from ledger.spending.mileage import rated, read_trips
from ledger.spending.without_document import document_limit_cents, entries_without_document


class CategoriesPage(ListPage):
    """Every category, with its line of the form."""

    title_words = "Categories"
    COLUMNS = (Column("Category", 28), Column("Schedule C", 12), Column("State", 25))
    ACTS = (
        ("a", "add_category", "add"),
        ("r", "rename_category", "rename"),
        ("m", "merge_category", "merge"),
        ("t", "retire_category", "retire"),
        ("b", "bring_back_category", "bring back"),
    )

    def listed(self) -> Sequence[Listed]:
        accounts = read_accounts(self.books)
        every = accounts.of_kind("expense")
        lines = schedule_c_lines(every, self.books.today.year)
        rows = []
        for each in every:
            line = lines[each.name]
            state = f"retired on {self.showing.day(each.retired_on)}" if each.retired_on else ""
            if each.merged_into is not None:
                state = f"counted under {accounts.counted_under(each).name}"
            number = f"line {line.number}" + ("" if line.confirmed else " ?")
            rows.append(Listed((each.name, number, state), each))
        return rows

    def below(self) -> Sequence[str]:
        return (
            "? beside a line: its number was not seen in the form of this year.",
            "Sealed entries stay as they are.",
        )


class PeoplePage(ListPage):
    """Everyone paid for work this year, and the sum from which a return may be due."""

    title_words = "Paid helpers"
    COLUMNS = (Column("Who", 28), Column("Paid this year", 16, "amount"), Column("Form", 21))
    ACTS = (("p", "pay_for_work", "pay"), ("t", "keep_tax_form", "tax form"))
    nothing = "Nobody was paid for work this year."

    def listed(self) -> Sequence[Listed]:
        people = read_people_paid(self.books, self.books.today.year)
        return [
            Listed((each.name, each.cents, ShownAs(each.tax_form, each.tax_form or "none yet")), each.name)
            for each in people
        ]

    def below(self) -> Sequence[str]:
        year = self.books.today.year
        limit = threshold(year)
        known = "" if limit.is_known else " (no published figure for this year yet)"
        least = self.showing.amount(int(limit.dollars) * self.books.currency.minor_units)
        return (
            f"A return may be due from {least} paid to one person in {year}{known}.",
            "Whether one is due, and whether somebody is an employee, your accountant and the tax office decide.",
        )


class TripsPage(ListPage):
    """The log of trips of this year."""

    title_words = "Trips"
    COLUMNS = (
        Column("Trip", 5, "number"),
        Column("Date", 12, "day"),
        Column("Miles", 7, "number"),
        Column("Where", 18),
        Column("Why", 18),
    )
    ACTS = (("a", "log_trip", "add"), ("x", "strike_trip", "strike"))
    nothing = "No trip is logged this year."

    def listed(self) -> Sequence[Listed]:
        trips = read_trips(self.books, year_holding(self.books.today).start, self.books.today)
        return [Listed((each.id, each.day, each.miles, each.place, each.why), each) for each in reversed(trips)]

    def below(self) -> Sequence[str]:
        trips = read_trips(self.books, year_holding(self.books.today).start, self.books.today)
        sums = [
            f"{self.showing.number(each.miles)} miles at {self.showing.number(each.rate)} cents: "
            f"{self.showing.amount(each.cents)}" + ("" if each.is_known else " (no published rate for that time yet)")
            for each in rated(trips)
        ]
        return (*sums, "A figure for your accountant: nothing is posted, and money taken for mileage is a draw.")


class BillsPage(ListPage):
    """Shared bills by their next day."""

    title_words = "Shared bills"
    COLUMNS = (Column("Bill", 18), Column("Workshop", 10, "number"), Column("Goes to", 19), Column("Next", 16, "due"))
    ACTS = (("b", "pay_bill", "it came"), ("h", "share_bill", "share"))
    nothing = "No bill is shared yet."

    def listed(self) -> Sequence[Listed]:
        today = self.books.today
        rows = []
        for each in read_bills(self.books):
            share = each.share_on(today)
            due = each.next_due
            when = "as it comes" if due is None else f"{self.showing.day(due)}{' now' if due <= today else ''}"
            percent = self.showing.percent(share.percent) if share else "none yet"
            part = ShownAs(share.percent if share else None, percent)
            rows.append(Listed((each.name, part, each.category.name, ShownAs(due, when)), each))
        return rows

    def below(self) -> Sequence[str]:
        return ("Nothing books itself: a bill that is due waits for its real amount.",)


class WithoutDocumentPage(ListPage):
    """This year's receipts above her limit that have no photograph or scan."""

    title_words = "No document"
    COLUMNS = (
        Column("Entry", 6, "number"),
        Column("Date", 12, "day"),
        Column("Amount", 12, "amount"),
        Column("What", 33),
    )
    ACTS = (("f", "attach", "attach"), ("l", "limit_documents", "limit"))
    nothing = "Every one of them has its document."

    def listed(self) -> Sequence[Listed]:
        year, books = year_holding(self.books.today), self.books
        missing = entries_without_document(books, year.start, books.today, document_limit_cents(books))
        return [
            Listed((each.entry, each.day, each.cents, each.text), read_entry(books, each.entry)) for each in missing
        ]

    def below(self) -> Sequence[str]:
        limit = document_limit_cents(self.books)
        above = f"Receipts above {self.showing.amount(limit)}" if limit else "All receipts"
        return (f"{above} of {year_holding(self.books.today).label}. What counts as proof, the tax office decides.",)


class ListsPage(ChoicesPage):
    """Which list: one letter, and it stands there."""

    title_words = "Lists"
    LISTS: ClassVar[dict[str, tuple[type[ListPage], str]]] = {
        "c": (CategoriesPage, "Categories: add, rename, merge, retire"),
        "b": (BillsPage, "Shared bills, and when the next one is due"),
        "t": (TripsPage, "Trips, and what they come to"),
        "h": (PeoplePage, "Helpers, and what each was paid this year"),
        "d": (WithoutDocumentPage, "Receipts without a document, and your limit"),
    }
    FORMS: ClassVar[dict[str, tuple[str, str]]] = {
        "w": ("choose_household", "What workshop goods are that the household pays"),
        "g": ("let_go", "Let go of what the workshop owes you"),
        "o": ("open_household", "What the household had to begin with"),
        "a": ("tell_opening", "What stood there already when the books began"),
    }
    BINDINGS: ClassVar[list[BindingType]] = [
        *(Binding(key, f"open('{key}')", words, show=False) for key, (_, words) in LISTS.items()),
        *(Binding(key, f"form('{act}')", words, show=False) for key, (act, words) in FORMS.items()),
    ]

    def choices(self) -> Sequence[Choice]:
        return [
            *(Choice(key, f"open('{key}')", said) for key, (_, said) in self.LISTS.items()),
            *(Choice(key, f"form('{act}')", said) for key, (act, said) in self.FORMS.items()),
        ]

    def action_open(self, key: str) -> None:
        page = self.LISTS[key][0]()
        self.dismiss(None)
        self.app.push_screen(page)

    def action_form(self, act_id: str) -> None:
        app = self.twopurse
        self.dismiss(None)
        app.do(act_id)
