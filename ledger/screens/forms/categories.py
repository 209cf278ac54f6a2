"""Categories of her own: add, rename, merge, retire, bring back."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from ledger.actions import change_category as act
from ledger.books.accounts import Account
from ledger.books.balances import read_accounts
from ledger.books.books import Books
from ledger.figures.look_up import schedule_c_keys
from ledger.screens.forms.field import Asked
from ledger.screens.forms.form import Form

_STAY = "Sealed entries stay as they are."


class _CategoryForm(Form):
    """A form about a category, the one that was selected where one was."""

    def __init__(self, books: Books, subject: Any) -> None:
        super().__init__(books)
        self.chosen = subject.name if isinstance(subject, Account) else ""
        self.categories = [each.name for each in read_accounts(books).of_kind("expense")]

    def preview(self) -> Sequence[str]:
        return [_STAY]

    def category_field(self) -> Asked:
        return Asked("name", "Category", self.chosen, known=self.categories, only_known=True)


class AddCategoryForm(_CategoryForm):
    title_words = "A category of your own"

    def asks(self) -> Sequence[Asked]:
        keys = sorted(schedule_c_keys())
        return (
            Asked("name", "Name"),
            Asked("line", "Schedule C line", hint="if empty: other", known=keys, only_known=True),
        )

    def preview(self) -> Sequence[str]:
        return [f"Lines: {', '.join(sorted(schedule_c_keys()))}.", "On which line it belongs, your accountant decides."]

    def save(self) -> str:
        made = act.add(self.books, act.NewCategoryRequest(self.text("name"), self.text_or_none("line")))
        return f"There is a category «{made.name}» now."


class RenameForm(_CategoryForm):
    title_words = "Rename a category"

    def asks(self) -> Sequence[Asked]:
        return (self.category_field(), Asked("new_name", "New name"))

    def save(self) -> str:
        renamed = act.rename(self.books, act.RenameRequest(self.text("name"), self.text("new_name")))
        return f"It is called «{renamed.name}» now, everywhere."


class MergeForm(_CategoryForm):
    title_words = "Merge two categories"

    def asks(self) -> Sequence[Asked]:
        return (self.category_field(), Asked("into", "Counted under", known=self.categories, only_known=True))

    def preview(self) -> Sequence[str]:
        return ["It is counted under the other in every figure of every period, and that is not taken back.", _STAY]

    def save(self) -> str:
        stays = act.merge(self.books, act.MergeRequest(self.text("name"), self.text("into")))
        return f"«{self.text('name')}» is counted under «{stays.name}» now."


class RetireForm(_CategoryForm):
    title_words = "Retire a category"

    def asks(self) -> Sequence[Asked]:
        return (self.category_field(),)

    def preview(self) -> Sequence[str]:
        return ["No entry goes there from today on; what is there stays."]

    def save(self) -> str:
        return f"«{act.retire(self.books, act.CategoryRequest(self.text('name'))).name}» is retired from today on."


class BringBackForm(_CategoryForm):
    title_words = "Bring a category back"

    def asks(self) -> Sequence[Asked]:
        return (self.category_field(),)

    def preview(self) -> Sequence[str]:
        return ["Entries go there again."]

    def save(self) -> str:
        return f"«{act.bring_back(self.books, act.CategoryRequest(self.text('name'))).name}» takes entries again."
