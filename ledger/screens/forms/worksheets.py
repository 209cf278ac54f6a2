"""The worksheets of the set-up list: what others charge near her, and machines side by side. Nothing is kept."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import ClassVar

from checklists.worksheet_files import read_offers, read_seen_prices
from checklists.worksheet_lines import EACH_SETS_HER_OWN, machine_lines, price_lines
from checklists.worksheets import compare_offers, price_standing
from ledger.money import plain_amount
from ledger.screens.forms.field import Asked
from ledger.screens.forms.form import Form
from ledger.screens.forms.paper_page import PaperPage
from ledger.screens.reading import typed_file


class WorksheetForm(Form):
    """A text in a file, told on a page. written: how the file is written, in a sentence or two."""

    written: ClassVar[str] = ""

    def asks(self) -> Sequence[Asked]:
        return (Asked("file", "File", hint="drag it here"),)

    def preview(self) -> Sequence[str]:
        if self.text("file"):
            self._told()
        return (self.written, "Nothing is kept.")

    def save(self) -> str:
        lines = self._told()
        self.app.call_later(self.app.push_screen, PaperPage(self.title_words, lines))
        return "Nothing was kept."

    def lines_of(self, file: Path) -> Sequence[str]:
        """What the file comes to. Raises Refused."""
        raise NotImplementedError

    def _told(self) -> Sequence[str]:
        return self.lines_of(self.sound(self.read("file", lambda text: typed_file(text, "file"), Path())))


class PricesForm(WorksheetForm):
    title_words = "What others charge near you"
    written = (
        "A text in TOML with [[work]], its what, unit and mine, and under [work.seen] a line for each price that you "
        'saw, such as "Prairie Longarm" = 0.018.'
    )

    def lines_of(self, file: Path) -> Sequence[str]:
        found = [price_standing(each) for each in read_seen_prices(file)]
        return [*(line for each in found for line in price_lines(each)), "", EACH_SETS_HER_OWN]


class MachinesForm(WorksheetForm):
    title_words = "Machines side by side"
    written = (
        "A text in TOML with [[machine]], its name, under [machine.costs] a line for the price and for each cost on "
        "top, and under [machine.facts] what else to know."
    )

    def lines_of(self, file: Path) -> Sequence[str]:
        compared = compare_offers(read_offers(file, self.books.currency))
        amounts = [machine_lines(each, lambda cents: plain_amount(cents, self.books.currency)) for each in compared]
        return [line for lines in amounts for line in [*lines, ""]]
