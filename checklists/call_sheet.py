"""A call sheet: every open question for one kind of office on one page, with room beside each for the answer."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Final

from checklists.item import Catalogue, Item
from checklists.progress import Standing
from checklists.values import form_of
from ledger.errors import NotPossible, unknown_name
from ledger.paper.locales import LocalForms
from ledger.paper.sheet import Notes, Questions, Sheet, Signatures, Title
from ledger.text import name_key

# Whom an item asks that she answers herself: there is no office to call.
HERSELF: Final = "yourself"
# Columns of the text, which is read on a screen and not on a strip of paper.
WIDTH: Final = 80
# From the roomiest to the tightest: the size of the letters, and the room for an answer, in points.
_SETTINGS: Final = (
    *((9.5, room) for room in (64.0, 52.0, 42.0, 34.0)),
    *((9.0, room) for room in (30.0, 26.0)),
    *((8.5, 22.0), (8.0, 18.0), (7.5, 14.0), (7.0, 11.0)),
)
_ASK_FOR: Final = (
    "Ask for the section, ruling or letter that says so, and for the answer in writing. Note who answered, and on "
    "which day. The office decides; another place's rule is none of yours."
)


@dataclass(frozen=True)
class CallSheet:
    """What is to be asked of one kind of office. items: with open questions, in the order of the list."""

    workshop: str
    day: date
    office: str
    items: tuple[Standing, ...]

    @property
    def questions(self) -> tuple[str, ...]:
        return tuple(question for each in self.items if each.item is not None for question in each.item.questions)

    @property
    def name(self) -> str:
        """The name of its files."""
        return f"call-sheet-{'-'.join(_words(self.office))}-{self.day.isoformat()}"


def offices(catalogue: Catalogue) -> tuple[str, ...]:
    """Every kind of office or person that the list asks, in its order."""
    return tuple(dict.fromkeys(item.ask for item in catalogue if item.ask != HERSELF))


def office_of(catalogue: Catalogue, name: str) -> str:
    """The office of a name, or the one that an item of that id asks.

    Raises NotFound, offering the three nearest, and NotPossible for an item that she answers herself.
    """
    known = offices(catalogue)
    found = next((office for office in known if name_key(office) == name_key(name)), None)
    if found is not None:
        return found
    item = _item_of(catalogue, name)
    if item is None:
        raise unknown_name("office", name.strip(), known, "office")
    if item.ask == HERSELF:
        raise NotPossible(
            f"There is no office for «{item.title}»: you answer it yourself.",
            f"See it with «twopurse setup show {item.id}».",
            "office",
        )
    return item.ask


def open_questions(workshop: str, day: date, office: str, standings: Sequence[Standing]) -> CallSheet:
    """Every item for the office that is not settled, those that were put to it already too.

    Raises NotPossible where nothing is open.
    """
    items = tuple(
        each for each in standings if each.item is not None and each.item.ask == office and not each.is_settled
    )
    if not items:
        raise NotPossible(
            f"No question for this office is open: {office}.",
            "See with «twopurse setup list» what is open, and for whom.",
            "office",
        )
    return CallSheet(workshop, day, office, items)


def call_sheet(call: CallSheet, forms: LocalForms, pages_of: Callable[[Sheet], int]) -> Sheet:
    """The sheet in the roomiest setting that fits one page; where none does, in the roomiest, on several.

    pages_of: how many pages a sheet takes.
    """
    sheets = (_sheet(call, forms, size, room) for size, room in _SETTINGS)
    return next((sheet for sheet in sheets if pages_of(sheet) == 1), _sheet(call, forms, *_SETTINGS[0]))


def _sheet(call: CallSheet, forms: LocalForms, size: float, room: float) -> Sheet:
    day = forms.day(call.day)
    return Sheet(
        letterhead=(call.workshop,),
        about=f"{call.workshop}: questions for the {call.office}",
        blocks=(
            Title(f"To ask: {call.office}", day),
            Notes((_ASK_FOR,)),
            Signatures(("Who answered", "Telephone or mail", "Day")),
            *(Questions(_heading(each, forms), _item_questions(each), size, room) for each in call.items),
        ),
        foot=f"To ask: {call.office}, {day}",
    )


def _heading(standing: Standing, forms: LocalForms) -> str:
    item, answer = standing.item, standing.answer
    assert item is not None, "an item without its page has no questions"
    notes = []
    if standing.state == "asked" and answer is not None:
        notes.append(f"put to {answer.asked or 'them'} on {forms.day(answer.on)}")
    if item.feeds is not None and form_of(item) not in ("text", "account"):
        notes.append(f"record it as: {form_of(item)}")
    return item.title + (f" ({'; '.join(notes)})" if notes else "")


def _item_questions(standing: Standing) -> tuple[str, ...]:
    assert standing.item is not None
    return standing.item.questions


def _item_of(catalogue: Catalogue, name: str) -> Item | None:
    wanted = name_key(name).replace("-", "_").replace(" ", "_")
    return next((item for item in catalogue if item.id == wanted), None)


def _words(text: str) -> list[str]:
    """The words of a name, as they can stand in the name of a file."""
    plain = "".join(each if each.isascii() and each.isalnum() else " " for each in text.lower())
    return plain.split()[:6] or ["office"]
