"""Read a bank's file: what is in it shows before anything is kept; a CSV's columns are asked once for an account."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import cast

from ledger.actions import read_statement
from ledger.actions.read_statement import Looked, ReadRequest
from ledger.bank.amounts import Mark
from ledger.bank.bank_file import MOST_LINES
from ledger.bank.csv_map import Column, CsvMap, date_order
from ledger.bank.found_files import files_of_banks
from ledger.bank.statements import STATEMENT_ROLES
from ledger.books.balances import read_accounts
from ledger.books.books import Books
from ledger.errors import NotUnderstood
from ledger.screens.forms.field import Asked
from ledger.screens.forms.form import Form
from ledger.screens.showing import counted, cut

_FIRST_LINES = 3
# Above this many lines a page shows how far it is, and can stop it.
_MANY_LINES = 1000
assert _MANY_LINES < MOST_LINES


class ReadForm(Form):
    """The file and its account; the other fields are for a CSV that leaves something open."""

    title_words = "Read a statement"

    def __init__(self, books: Books) -> None:
        super().__init__(books)
        self._offered = [_typed_as(each) for each in files_of_banks((Path.home() / "Downloads", books.folder.parent))]
        self._looked: tuple[ReadRequest, float, Looked] | None = None

    def asks(self) -> Sequence[Asked]:
        names = [each.name for each in read_accounts(self.books).all if each.role in STATEMENT_ROLES]
        only_csv = "a CSV's, where asked"
        return (
            Asked("file", "File", hint="drag it here", known=self._offered),
            Asked("account", "Account", "checking", known=names, only_known=True),
            Asked("dates", "Order of dates", hint="mdy, dmy or ymd"),
            Asked("decimal", "Sign for decimals", hint="a point or a comma"),
            Asked("date_column", "Column: date", hint=only_csv),
            Asked("text_column", "Column: text", hint=only_csv),
            Asked("amount_column", "Column: amount", hint="or: went out, came in"),
            Asked("number", "Account ends in", hint="four digits, where asked"),
        )

    def preview(self) -> Sequence[str]:
        if not self.text("file"):
            return [
                "The file that your bank's page lets you download: OFX or QFX, else CSV;",
                "at most 20 MB. Nothing is kept before you save.",
            ]
        return list(self._lines(self._look(self.sound(self._request()))))

    def save(self) -> str:
        request = self.sound(self._request())
        looked = self._look(request)
        if looked.is_of_the_household:
            from ledger.screens.household_statement import HouseholdPage

            self.app.call_later(self.app.push_screen, HouseholdPage(self.books, request))
            return "Nothing of it is kept but what you pick."
        if looked.fresh > _MANY_LINES:
            from ledger.screens.statement_reading import ReadingPage

            self.app.call_later(self.app.push_screen, ReadingPage(self.books, request))
            return f"Reading {counted(looked.fresh, 'line')}."
        return told(read_statement.perform(self.books, request))

    def _look(self, request: ReadRequest) -> Looked:
        """What the file holds; read again only when it or something typed has changed."""
        changed = request.file.stat().st_mtime if request.file.is_file() else 0.0
        if self._looked is None or self._looked[:2] != (request, changed):
            self._looked = (request, changed, read_statement.preview(self.books, request))
        return self._looked[2]

    def _lines(self, looked: Looked) -> Iterator[str]:
        seen, showing = looked.preview, self.showing
        known = seen.rows - looked.fresh
        before = f", {known} of them read before" if known else ""
        yield f"{counted(seen.rows, 'line')}, {showing.day(seen.first_day)} to {showing.day(seen.last_day)}{before}"
        yield (
            f"Came in {showing.amount(seen.in_cents)} in {counted(seen.in_rows, 'line')}, "
            f"went out {showing.amount(seen.out_cents)} in {counted(seen.out_rows, 'line')}"
        )
        for each in looked.file.lines[:_FIRST_LINES]:
            yield f"  {showing.month_day(each.day):<8}{showing.plain(each.cents):>11}  {cut(each.words, 48)}"
        if looked.file.without_amount:
            yield f"{counted(looked.file.without_amount, 'line')} without an amount."
        if looked.gap:
            yield cut(looked.gap, 74)

    def _request(self) -> ReadRequest:
        # A file that is dragged into a terminal arrives in quotation marks or with escaped spaces.
        name = self.text("file").strip("'\"").replace("\\ ", " ")
        number = self.text("number")
        return ReadRequest(
            file=Path(name).expanduser(),
            account=self.text("account"),
            dates=self.read("dates", date_order, "mdy") if self.text("dates") else None,
            decimal=self.read("decimal", _mark, "."),
            number=number[-4:] or None,
            csv_map=self.read("amount_column", self._map, None),
        )

    def _map(self, amounts: str) -> CsvMap | None:
        """The map that the three fields make, None while they are empty."""
        day, text = self.text("date_column"), self.text("text_column")
        if not (day or text or amounts):
            return None
        if not (day and text and amounts):
            raise NotUnderstood(
                "Name all three columns.", "By their headings, or their numbers from 1.", "amount_column"
            )
        columns = [_column(each) for each in amounts.split(",")]
        if len(columns) > 2:
            raise NotUnderstood("These are more than two columns.", "Name one, or two: out, in.", "amount_column")
        split = len(columns) == 2
        return CsvMap(
            date=_column(day),
            text=tuple(_column(each) for each in text.split(",")),
            amount=None if split else columns[0],
            out=columns[0] if split else None,
            in_=columns[1] if split else None,
        )


def told(done: read_statement.ReadStatement) -> str:
    """What was read, in a sentence."""
    matched = sum(each.state == "matched" for each in done.lines)
    already = f" {done.kept.already} were read before." if done.kept.already else ""
    return f"{counted(len(done.lines), 'line')}: {matched} matched, {len(done.lines) - matched} open.{already}"


def _typed_as(path: Path) -> str:
    """As one would type it."""
    home = Path.home()
    return f"~/{path.relative_to(home)}" if path.is_relative_to(home) else str(path)


def _mark(text: str) -> Mark | None:
    typed = text.strip()
    if typed and typed not in (".", ","):
        raise NotUnderstood("This is no sign for decimals.", "Type a point or a comma.", "decimal")
    return cast("Mark", typed) if typed else None


def _column(text: str) -> Column:
    bare = text.strip()
    return int(bare) if bare.isascii() and bare.isdigit() and len(bare) <= 3 else bare
