"""The letterhead: lines under the workshop's name, and the file of a picture."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import ClassVar

from ledger.actions import letterhead
from ledger.books.books import Books
from ledger.books.letterhead import read_letterhead
from ledger.errors import Refused
from ledger.paper.letterhead import LINES_AT_MOST, Letterhead
from ledger.screens.forms.field import Asked
from ledger.screens.forms.form import Form
from ledger.screens.reading import typed_file

_NO_PICTURE = "none"
_LABELS = ("Under the name", "Second line", "Third line", "Fourth line")


class LetterheadForm(Form):
    title_words = "Letterhead of your papers"
    DEFAULT_CSS: ClassVar[str] = """
    LetterheadForm Field > Input {
        width: 52;
    }
    LetterheadForm Field {
        layout: grid;
        grid-size: 2;
        grid-columns: 20 1fr;
    }
    LetterheadForm Field > .message {
        column-span: 2;
        height: auto;
        padding-left: 0;
    }
    """

    def __init__(self, books: Books) -> None:
        super().__init__(books)
        self.now = read_letterhead(books, books.today)

    def asks(self) -> Sequence[Asked]:
        hints = ("address", "telephone", "mail", "permit number")
        lines = [*self.now.lines, *[""] * LINES_AT_MOST][:LINES_AT_MOST]
        return (
            *(
                Asked(f"line{place}", label, line, hint=hint)
                for place, (label, line, hint) in enumerate(zip(_LABELS, lines, hints, strict=True))
            ),
            Asked(
                "picture",
                "Picture",
                hint="drag a PNG or JPEG here" + (f", or {_NO_PICTURE}" if self.now.picture else ""),
            ),
        )

    def preview(self) -> Sequence[str]:
        found = letterhead.preview(self.books, self.sound(self._request()))
        return list(self._lines(found))

    def save(self) -> str:
        try:
            kept = letterhead.perform(self.books, self.sound(self._request()))
        except Refused as refused:
            if refused.field == "line":
                refused.field = "line0"
            raise
        return f"Your papers carry it from today on. A sample: {kept.pdf.name} in the receipts folder."

    def _lines(self, found: Letterhead) -> Iterator[str]:
        yield self.books.settings.name
        yield from found.lines
        if found.picture is None:
            yield "No picture."
        else:
            yield f"A picture of {found.picture.width} by {found.picture.height} pixels, as it will be printed."
        yield "What was printed stays; a receipt printed again has the letterhead of its day."

    def _request(self) -> letterhead.LetterheadRequest:
        lines = tuple(self.text(f"line{place}") for place in range(LINES_AT_MOST))
        typed = self.text("picture")
        drops = typed.casefold() == _NO_PICTURE
        wants_file = bool(typed) and not drops
        picture = self.read("picture", lambda text: typed_file(text, "picture"), Path()) if wants_file else None
        return letterhead.LetterheadRequest(lines, picture, drops)
