"""The two forms of a list: to which day to go in it, and into which file it is saved."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from ledger.books.books import Books
from ledger.books.kept_lists import free_list_file, keep_list
from ledger.errors import NotPossible
from ledger.lists.listing import day_column
from ledger.screens.forms.field import Asked
from ledger.screens.forms.form import Form
from ledger.screens.reading import typed_date, typed_file, typed_future_date
from ledger.screens.showing import counted

if TYPE_CHECKING:
    from ledger.screens.arranged_list import ArrangedList


class DayForm(Form):
    """Puts the cursor on the first line of a day."""

    title_words = "Go to a day"

    def __init__(self, books: Books, arranged: ArrangedList) -> None:
        super().__init__(books)
        self.arranged = arranged

    def asks(self) -> Sequence[Asked]:
        return (Asked("day", "Day", hint="3/14, last fri, 2026-03-14"),)

    def save(self) -> str:
        lines = self.arranged.lines
        assert lines is not None
        column = day_column(lines.columns)
        is_due = column is not None and lines.columns[column].kind == "due"
        reader = typed_future_date if is_due else typed_date
        locale, today = self.books.settings.locale, self.books.today
        wanted = self.sound(self.read("day", lambda text: reader(text, today, locale, "day"), today))
        found = lines.place_of_day(wanted)
        if found is None:
            raise NotPossible("No line of this list has a day.", "Take the filter away first: w does.", "day")
        place, day = found
        self.arranged.painted_list.move_to(place)
        if day == wanted:
            return ""
        there = "the last before it" if day < wanted else "the first after it"
        return f"Nothing is dated {self.showing.day(wanted)}. Here is {self.showing.day(day)}, {there}."


class SaveListForm(Form):
    """Writes the list, as it is filtered and ordered, into a file that is not there yet."""

    title_words = "Save the list"

    def __init__(self, books: Books, arranged: ArrangedList) -> None:
        super().__init__(books)
        self.arranged = arranged

    def asks(self) -> Sequence[Asked]:
        return (Asked("csv", "File", value=self._free.name),)

    def preview(self) -> Sequence[str]:
        assert self.arranged.lines is not None
        path = self.read("csv", self._path, self._free)
        many = counted(self.arranged.lines.count, "line")
        return (f"{many}, as the list stands now, for a table program.", f"In the folder {path.parent}")

    def save(self) -> str:
        lines = self.arranged.lines
        assert lines is not None
        path = self.sound(self.read("csv", self._path, self._free))
        kept = keep_list(self.books, path, lines.columns, lines.every())
        return f"{counted(lines.count, 'line')} saved: {kept}"

    @property
    def _free(self) -> Path:
        return free_list_file(self.books, self.arranged.file_name)

    def _path(self, text: str) -> Path:
        """A bare name lies in the folder of lists; in a folder that is named the file has its own name."""
        path = typed_file(text, "csv")
        if path.is_dir() and text.strip():
            return path / self._free.name
        return path if path.parent != Path() or path.is_absolute() else self._free.parent / path
