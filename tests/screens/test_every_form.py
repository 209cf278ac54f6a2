"""Every form there is: nothing typed in it is lost by a refusal or by Esc, and what was wrong is not said for ever."""

from __future__ import annotations

from collections.abc import Iterator

from rich.cells import cell_len

from ledger.actions.registry import ACTS
from ledger.books.books import Books
from ledger.books.entries import read_page
from ledger.errors import NotPossible, Refused
from ledger.jobs.bench import read_bench
from ledger.screens.forms.doors import form_of
from ledger.screens.forms.field import Asked
from ledger.screens.forms.form import Form
from ledger.screens.forms.leaving import Leaving
from tests.screens.window import Window, opened

# Those of loans, bills and returns want more than the small books have; each is an ordinary form.
FEWEST_FORMS = 55
WRONG = "This was wrong. Type something else."


def forms_of(books: Books) -> Iterator[Form]:
    """A form of every act that has one, about whatever it can be opened on."""
    for act in ACTS:
        for subject in (None, *read_bench(books), *read_page(books, 1)):
            try:
                opened_form = form_of(act.id, books, subject)
            except Refused:
                continue
            if isinstance(opened_form, Form):
                yield opened_form
                break
            if isinstance(opened_form, str) or not isinstance(opened_form, Form):
                break


async def answer(window: Window, *, leave: bool) -> None:
    assert isinstance(window.screen, Leaving)
    window.screen.action_answer(leave)
    await window.settle()


async def test_no_form_loses_what_is_typed_or_keeps_saying_what_was_put_right(books: Books) -> None:
    def refuse() -> str:
        raise NotPossible("This was wrong.", "Type something else.", first)

    seen: set[str] = set()
    async with opened(books, (100, 40)) as window:
        for form in forms_of(books):
            name = type(form).__name__
            if name in seen:
                continue
            seen.add(name)
            window.app.push_screen(form)
            await window.settle()
            for number, field in enumerate(form.fields.values()):
                assert cell_len(field.asked.hint) <= field.input.content_size.width, f"{name}: {field.asked.hint}"
                field.input.value = f"?{number}"
            await window.settle()
            typed, first = window.values(), next(iter(form.fields))
            form.save = refuse  # type: ignore[method-assign]
            form.action_save()
            await window.settle()
            assert window.faults()[first] == WRONG, name
            assert window.values() == typed, name
            form.action_leave()
            await window.settle()
            await answer(window, leave=False)
            assert window.screen is form, name
            assert window.values() == typed, name
            form.field(first).input.value = "something else"
            # The field tells its form of it by a message, which on a busy machine takes more than one round.
            for _ in range(20):
                await window.settle()
                if WRONG not in window.faults().values():
                    break
            assert WRONG not in window.faults().values(), name
            form.action_leave()
            await window.settle()
            await answer(window, leave=True)
            assert window.place == "HomeRoom", name
    assert len(seen) >= FEWEST_FORMS, sorted(seen)


class ShopForm(Form):
    """Where there is something to choose from, and where not."""

    title_words = "Shop"

    def asks(self) -> tuple[Asked, ...]:
        names = ("batting", "backing", "bank charges", "office supplies")
        return (
            Asked("for", "For", known=names, only_known=True),
            Asked("who", "Who", known=("Ada", "Adam")),
            Asked("why", "Why"),
        )

    def save(self) -> str:
        return f"{self.text('for')} of {self.text('who')}, {self.text('why')}"


def list_shown(window: Window) -> list[str]:
    """The answers that drop down from a field."""
    from ledger.screens.forms.answer_list import AnswerList

    return [answer for each in window.screen.query(AnswerList) if each.is_open for answer in each.answers]


async def test_what_matches_comes_up_as_one_types_and_arrows_enter_and_tab_take_it(books: Books) -> None:
    async with opened(books) as window:
        window.app.push_screen(ShopForm(books))
        await window.settle()
        assert list_shown(window) == [], "only once something is typed"
        await window.press("b", "a")
        assert list_shown(window) == ["batting", "backing", "bank charges"]
        assert "bank charges" in window.text()
        await window.press("down", "down", "enter")
        assert window.values()["for"] == "backing"
        assert list_shown(window) == []
        await window.press("enter", "a", "down", "down", "tab")
        assert window.values()["who"] == "Adam"
        assert window.screen.focused is window.field("why").input
        await window.press("f2")
        assert window.told()[-1] == "There is nothing to choose from here: type it."


async def test_every_answer_can_be_listed_and_escape_closes_the_list_before_the_form(books: Books) -> None:
    async with opened(books) as window:
        window.app.push_screen(ShopForm(books))
        await window.settle()
        assert "F2 answers" in window.text()
        await window.press("f2")
        assert len(list_shown(window)) == 4
        await window.press("up", "escape")
        assert (list_shown(window), window.place) == ([], "ShopForm")
        await window.press("f2", "f2")
        assert list_shown(window) == []
        await window.press("s", "u", "p")
        assert list_shown(window) == ["office supplies"], "also where it stands in the middle"
        await window.press("enter")
        assert window.values()["for"] == "office supplies", "the only one that has it"
        await window.press("A", "d", "a", "enter")
        assert window.values()["who"] == "Ada", "what is whole is left as it is"
        await window.press("escape")
        assert window.place == "Leaving"


async def test_first_letters_are_no_mistake_while_they_are_typed(with_prices: Books) -> None:
    async with opened(with_prices) as window:
        await window.press("1", "m")
        await window.type(name="Binding", by="area", rate="0.02", **{"class": "w"})
        assert window.faults() == {}
        await window.type(**{"class": "wx"})
        assert set(window.faults()) == {"class"}


async def test_an_answer_is_taken_by_a_click(books: Books) -> None:
    async with opened(books) as window:
        window.app.push_screen(ShopForm(books))
        await window.settle()
        await window.press("b")
        await window.click("bank charges")
        assert window.values()["for"] == "bank charges"
        assert window.screen.focused is window.field("for").input
