"""A call sheet: every open question for one kind of office on one page, with room for each answer."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Final

from checklists.item import Catalogue, Item
from checklists.progress import Standing
from checklists.values import form_of
from ledger.errors import NotPossible, unknown_name
from ledger.paper.letterhead import NAME_ALONE, Letterhead, on_small_letterhead
from ledger.paper.locales import LocalForms
from ledger.paper.sheet import MARGIN, Notes, Questions, Sheet, Signatures, Title
from ledger.text import name_key

# Whom an item asks that she answers herself: there is no office to call.
HERSELF: Final = "yourself"
# Columns of the text, which is read on a screen of 80 columns in a frame, and not on a strip of paper.
WIDTH: Final = 72
_NARROW_MARGIN: Final = 36.0
_ASK_FOR: Final = (
    "Ask for the section, ruling or letter that says so, and for the answer in writing. Note who answered, and on "
    "which day. The office decides; another place's rule is none of yours."
)


@dataclass(frozen=True)
class _Setting:
    """size: of the letters, room: for an answer, margin: of the page, in points. in_columns: an answer stands under its
    question, in two columns. is_bare: nothing else is said on the page, its title stands in small letters, and an
    answer may begin on a question's last line.
    """

    size: float
    room: float
    in_columns: bool = False
    margin: float = MARGIN
    is_bare: bool = False


# From the roomiest to the tightest that a pen can still be used on.
_ON_ONE_PAGE: Final = (
    *(_Setting(9.5, room) for room in (64.0, 52.0, 42.0, 34.0)),
    *(_Setting(9.0, room) for room in (30.0, 26.0)),
    _Setting(8.5, 22.0),
    *(_Setting(8.5, room, True) for room in (20.0, 18.0)),
    *(_Setting(8.0, room, True) for room in (17.0, 15.0)),
    *(_Setting(7.5, room, True, _NARROW_MARGIN, True) for room in (16.0, 14.0, 12.0)),
    *(_Setting(7.0, room, True, _NARROW_MARGIN, True) for room in (12.0, 11.0, 10.0)),
    _Setting(6.5, 10.0, True, _NARROW_MARGIN, True),
)
_ON_BOTH_SIDES: Final = tuple(
    _Setting(size, room) for size, room in ((9.0, 30.0), (9.0, 26.0), (8.5, 22.0), (8.0, 18.0), (7.5, 16.0))
)
_ON_SEVERAL: Final = _Setting(9.0, 26.0)


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


def call_sheet(
    call: CallSheet, forms: LocalForms, pages_of: Callable[[Sheet], int], letterhead: Letterhead = NAME_ALONE
) -> Sheet:
    """The sheet in the roomiest setting that fits one page; where none does, both sides of one; else on several.

    pages_of: how many pages a sheet takes. The letterhead is a small one, and gives way where a page is too full.
    """
    for pages, settings in ((1, _ON_ONE_PAGE), (2, _ON_BOTH_SIDES)):
        for head in dict.fromkeys((letterhead, NAME_ALONE)):
            for setting in settings:
                sheet = on_small_letterhead(_sheet(call, forms, setting), head)
                if pages_of(sheet) <= pages:
                    return sheet
    return on_small_letterhead(_sheet(call, forms, _ON_SEVERAL), letterhead)


def _sheet(call: CallSheet, forms: LocalForms, setting: _Setting) -> Sheet:
    day = forms.day(call.day)
    groups = tuple((_heading(each, forms), _item_questions(each)) for each in call.items)
    asked = f"To ask: {call.office}"
    return Sheet(
        letterhead=(call.workshop, f"{asked}, {day}") if setting.is_bare else (call.workshop,),
        about=f"{call.workshop}: questions for the {call.office}",
        blocks=(
            *(() if setting.is_bare else (Title(asked, day), Notes((_ASK_FOR,)))),
            Signatures(("Who answered", "Telephone or mail", "Day")),
            Questions(groups, setting.size, setting.room, setting.in_columns, setting.is_bare),
        ),
        foot=f"{asked}, {day}",
        margin=setting.margin,
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
