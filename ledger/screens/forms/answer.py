"""What she was told about an item of the set-up list, by whom and when."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from ledger.books.books import Books
from ledger.screens.forms.field import Asked
from ledger.screens.forms.form import Form


class AnswerForm(Form):
    def __init__(self, books: Books, item: Any) -> None:
        super().__init__(books)
        self.item = item

    def asks(self) -> Sequence[Asked]:
        return (Asked("value", "Answer"),)
