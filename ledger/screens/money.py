"""Money: the balances of both purses, and every entry, the last one first, of which those in sight are read."""

from __future__ import annotations

from collections.abc import Iterator
from typing import ClassVar

from textual.binding import Binding
from textual.containers import Vertical, VerticalScroll
from textual.widget import Widget
from textual.widgets import Static

from ledger.books.balances import balances
from ledger.books.documents import read_documents
from ledger.books.entries import Entry, read_entry
from ledger.books.entry_list import ENTRY_COLUMNS, EntryList
from ledger.periods import year_holding
from ledger.screens.arranged_list import LIST_KEY, ArrangedList
from ledger.screens.crossing_lines import crossing_lines
from ledger.screens.forms.paper_page import PaperPage
from ledger.screens.open_items import open_line, page_lines, read_open_items
from ledger.screens.room import Room, keys_of
from ledger.screens.showing import listed, paired, plain_lines
from ledger.screens.sunday_pages import ListsPage, WithoutDocumentPage
from ledger.spending.bill_records import read_bills
from ledger.spending.crossings import read_crossings
from ledger.spending.transfers import MONEY_ROLES

# The acts from picking up to undoing.
_EVERY_WEEK = 8
_NOTHING = "There is no entry yet. s books what was spent."
_LISTS = "Lists. Categories, shared bills, trips, paid helpers, receipts without a document."
_STATEMENTS = "Statements. The bank's lines: read, placed, agreed."
_OPEN = "Open items. What customers owe, card money on its way, gift certificates out."


class MoneyRoom(Room):
    """Balances above, entries left, the selected entry's postings beside or below."""

    name_of_room = "money"
    # The list beside what is selected would be cut short before.
    wide_from = 144
    # What Sunday evening needs stands in the line of keys before what is seldom done.
    BINDINGS = [
        *keys_of("money")[:_EVERY_WEEK],
        LIST_KEY,
        Binding("r", "statements", "Statements", tooltip=_STATEMENTS),
        Binding("y", "lists", "Lists", tooltip=_LISTS),
        Binding("o", "open_items", "Open items", tooltip=_OPEN),
        Binding("v", "act('view')", "View", show=False, tooltip="View. The newest document of the entry."),
        Binding("x", "crossings", "Crossings", show=False, tooltip="Crossings. What passed between the purses."),
        Binding("d", "without_document", "No document", show=False, tooltip="No document. Receipts above your limit."),
        *keys_of("money")[_EVERY_WEEK:],
    ]
    DEFAULT_CSS: ClassVar[str] = """
    MoneyRoom #balances {
        height: auto;
        padding: 0 1;
        background: $panel;
    }
    MoneyRoom #lists {
        layout: vertical;
    }
    MoneyRoom.wide #lists {
        layout: horizontal;
    }
    MoneyRoom #entries {
        width: 1fr;
    }
    MoneyRoom #detail-frame {
        width: 100%;
        height: 8;
    }
    MoneyRoom.wide #detail-frame {
        width: 56;
        height: 1fr;
    }
    """

    def lay_out(self) -> Iterator[Widget]:
        self._read: Entry | None = None
        yield Static("", id="balances", markup=False)
        with Vertical(id="lists"):
            yield ArrangedList("entries", id="entries")
            with VerticalScroll(id="detail-frame", classes="detail-frame"):
                yield Static("", id="detail", classes="detail", markup=False)

    @property
    def listed(self) -> ArrangedList:
        return self.query_one(ArrangedList)

    def paint(self) -> None:
        widths = self.columns(*(each for each in ENTRY_COLUMNS if each.width), beside=56)
        self._read = None
        self.listed.show(EntryList(self.books, shown_day=self.showing.day_once), widths, self.to_select)
        self.to_select = None
        self.query_one("#balances", Static).update(plain_lines(self._balances()))
        self.show_selected()

    def selected(self) -> Entry | None:
        number = self.listed.key
        if number is None:
            return None
        if self._read is None or self._read.number != number:
            self._read = read_entry(self.books, number)
        return self._read

    def on_painted_list_moved(self) -> None:
        self.say_refusal_of(self.show_selected)

    def show_selected(self) -> None:
        entry = self.selected()
        nothing = "No entry has that." if self.listed.arrangement.words else _NOTHING
        lines = list(self._detail(entry)) if entry else [nothing]
        self.query_one("#detail", Static).update(plain_lines(lines))

    def _balances(self) -> Iterator[str]:
        standing = [each for each in balances(self.books, self.books.today) if each.account.role in MONEY_ROLES]
        for purse, words in (("business", "Workshop "), ("personal", "Household")):
            told = [
                f"{each.account.name} {self.showing.amount(each.cents)}"
                for each in standing
                if each.account.purse == purse and (each.cents or each.account.role == "checking")
            ]
            yield from listed(words, told or ["nothing booked yet"], self.size.width - 2)
        due = [each for each in read_bills(self.books) if each.next_due and each.next_due <= self.books.today]
        if due:
            told = [f"{each.name} since {self.showing.month_day(each.next_due)}" for each in due if each.next_due]
            yield from listed("Due (b)  ", told, self.size.width - 2)
        told_open = open_line(read_open_items(self.books), self.showing)
        if told_open:
            yield f"Open (o)   {told_open}"

    def action_crossings(self) -> None:
        """This year's passages between the purses."""
        year = year_holding(self.books.today)
        lines = crossing_lines(read_crossings(self.books, year.start, self.books.today), self.showing)
        self.app.push_screen(PaperPage(f"Between the purses, {year.label}", lines))

    def action_without_document(self) -> None:
        """This year's receipts above her limit that have no photograph or scan."""
        self.app.push_screen(WithoutDocumentPage())

    def action_lists(self) -> None:
        self.app.push_screen(ListsPage())

    def action_statements(self) -> None:
        """The bank's lines, one after the other."""
        from ledger.screens.statement import StatementPage

        self.app.push_screen(StatementPage(self.books), lambda _: self.reload())

    def action_open_items(self) -> None:
        """The page that names them one by one."""
        self.app.push_screen(PaperPage("Open items", page_lines(self.books, self.showing, self.size.width)))

    def _detail(self, entry: Entry) -> Iterator[str]:
        yield f"Entry {entry.number}, {self.showing.day(entry.on)}, {entry.kind}"
        yield entry.text
        if entry.reversed_by:
            yield f"Undone by entry {entry.reversed_by}"
        if entry.reverses:
            yield f"Undoes entry {entry.reverses}"
        for document in read_documents(self.books, entry=entry.number):
            yield f"With it: {document.label} (v opens the newest)"
        for each in entry.postings:
            yield f"{paired(each.account.name, self.showing.plain(each.cents), 42)}  {each.account.purse}"
        yield f"Seal {entry.digest[:12]}"
