"""What `?` says of a room or a page: what it is for, its keys, and its words. F1 says the same of a form."""

from __future__ import annotations

import re
import sys
from collections.abc import Iterable, Iterator, Sequence
from textwrap import wrap
from typing import Any, ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.screen import Screen
from textual.widgets import DataTable, Static

from ledger.actions.act import Act
from ledger.actions.registry import acts_of_room
from ledger.guide.chapters import OF_ROOM
from ledger.guide.words import CAUTION, Word, read_words, words_in
from ledger.screens.doors import door
from ledger.screens.keys import KeyLine
from ledger.screens.page import Page
from ledger.screens.painted_list import PaintedList
from ledger.screens.showing import plain_lines, plain_text

# The words of each room, by their names in the guide.
WORDS: dict[str, tuple[str, ...]] = {
    "home": ("Purse", "Free to draw", "Entry"),
    "bench": (
        *("Job", "Deposit", "Declared value", "Quote", "Intake form", "Rush", "Minimum", "Custody"),
        *("Refund", "Check back", "Void", "Call off", "Give up", "Gift certificate", "Tax right"),
        *("Pickup", "Tip", "Exempt", "Backing", "Batting", "Edge-to-edge"),
    ),
    "money": (
        *("Purse", "Entry", "Posting", "Draw", "Contribution", "Owed to owner", "Crossing", "Category"),
        *("Mixed receipt", "Shared bill", "Home cost", "Card payout", "Statement", "Agree", "Undo", "Bring in"),
        *("Document", "Mileage", "Helper"),
    ),
    "machine": (
        *("Payback", "Payback cost", "Tax basis", "Taken in", "Earned", "Forecast", "Plan", "Share of the machine"),
        *("Loan schedule", "Principal", "Interest", "Depreciation"),
    ),
    "set_aside": (
        *("Set-aside", "Free to draw", "Sales tax", "Possible sales tax", "Use tax", "Untaxed stock"),
        *("Resale certificate", "Deposit", "Self-employment tax", "Income tax", "Estimated tax", "Safe harbour"),
        *("Draw", "Tax savings", "Filing period"),
    ),
    "quarter": (
        *("Quarter", "Cash method", "Accrual", "Packet", "Close", "Check", "Question", "Trial balance"),
        *("Profit and loss", "Balance sheet", "Cost of goods sold", "Schedule C", "Seal", "Sales tax"),
    ),
    "set_up": (
        *("Item", "Answer", "Call sheet", "Document", "Renewal", "Fit", "Permit", "Resale certificate"),
        *("Home occupation", "Tax class", "Covenant", "Rider"),
    ),
}


# What every room but home has beside its acts.
_MOVING = ("Tab", "to the other part of the room; arrows and page keys go through it")
_WIDTH = 70
# From this width of the window on, keys and words stand side by side.
_BOTH = 156
# The name of an argument, such as AMOUNT; shorter ones are abbreviations, such as PDF.
_CALLED = re.compile(r"\b(?!JPEG\b)[A-Z]{4,}\b")


class HelpPage(Page[None]):
    """Help over a room or a form. chapter: where the guide opens from here."""

    KEYS: ClassVar[tuple[Binding, ...]] = (
        Binding("w", "words", "the words"),
        Binding("g", "guide", "the guide"),
        Binding("escape", "close", "back", key_display="Esc"),
    )
    BINDINGS: ClassVar[list[BindingType]] = [*KEYS, Binding("enter,question_mark,q,f1", "close", "Close", show=False)]
    DEFAULT_CSS: ClassVar[str] = """
    HelpPage > Vertical {
        width: 76;
    }
    HelpPage.wide > Vertical {
        width: 150;
    }
    HelpPage VerticalScroll {
        height: auto;
        max-height: 80vh;
    }
    HelpPage #parts {
        layout: vertical;
        height: auto;
    }
    HelpPage.wide #parts {
        layout: horizontal;
    }
    HelpPage #parts > Static {
        width: 72;
        max-width: 100%;
    }
    HelpPage.wide #keys {
        margin-right: 2;
    }
    HelpPage KeyLine {
        dock: bottom;
    }
    """

    def __init__(self, title: str, lines: Iterable[str], words: Iterable[Word], chapter: str) -> None:
        super().__init__()
        self.title_words = title
        self.lines = tuple(lines)
        self.words = tuple(words)
        self.chapter = chapter

    def compose(self) -> ComposeResult:
        with Vertical() as frame:
            frame.border_title = plain_text(self.title_words)
            with VerticalScroll(), Horizontal(id="parts"):
                yield Static(plain_lines(self.lines), markup=False, id="keys")
                yield Static(plain_lines(word_lines(self.words)), markup=False, id="words")
            yield KeyLine(self.KEYS)

    def on_resize(self, event: events.Resize) -> None:
        """In a wide window the words stand beside the keys."""
        self.set_class(event.size.width >= _BOTH, "wide")

    def action_words(self) -> None:
        """Past the keys."""
        scroll = self.query_one(VerticalScroll)
        scroll.scroll_to(y=self.query_one("#words").virtual_region.y, animate=False)

    def action_guide(self) -> None:
        self.twopurse.open_guide(self.chapter)

    def action_close(self) -> None:
        self.dismiss(None)


def help_of_room(room: str, own_keys: Sequence[tuple[str, str]] = ()) -> HelpPage:
    """own_keys: what the room has beside its acts, as key and words."""
    words = [read_words()[each] for each in WORDS[room]]
    return HelpPage(door(room).title, help_lines(room, own_keys), words, OF_ROOM[room])


def help_of_form(title: str, labels: Sequence[tuple[str, str]], act: Act | None, chapter: str) -> HelpPage:
    """labels: what stands beside each field, and what its hint says."""
    text = " · ".join([title, act.help if act else "", *(f"{label} {hint}" for label, hint in labels)])
    return HelpPage(title, form_lines(act), words_in(text), chapter)


def help_of_page(page: Screen[Any], chapter: str) -> HelpPage:
    """The keys of a page over a room, and the words that stand in its title and on its columns."""
    frames = [each for each in page.query(Vertical) if each.border_title]
    title = str(frames[0].border_title) if frames else getattr(page, "title_words", "")
    columns = [str(column.label) for table in page.query(DataTable) for column in table.ordered_columns]
    columns += [column.label for listed in page.query(PaintedList) for _, column, _ in listed.painted]
    bound = [each for keys in page._bindings.key_to_bindings.values() for each in keys]
    told = {each.action: each for each in bound if each.show and each.action != "app.explain_page"}
    keys = ((each.key_display or each.key, each.tooltip or each.description) for each in told.values())
    lines = [line for key, words in keys for line in _beside(key, words)]
    return HelpPage(title, lines, words_in(" · ".join([title, *columns])), chapter)


def help_lines(room: str, own_keys: Sequence[tuple[str, str]] = ()) -> Iterator[str]:
    """The help of a room as lines."""
    yield from wrap(door(room).purpose, _WIDTH)
    yield ""
    for each in acts_of_room(room):
        if each.key:
            yield from _beside(each.key, f"{each.words}. {first_sentence(each.help)}")
    for key, words in own_keys:
        yield from _beside(key, words)
    yield from _beside("1 to 6", "the rooms")
    if room != "home":
        yield from _beside(*_MOVING)
        yield from _beside("Esc", "home")
    yield from _beside("/", "find anything: a room, an act, a name, a number, an amount")
    yield from _beside("F1", "in a form: what it asks")
    yield from _beside("F3", "colours: light, dark, high contrast, the terminal's own, none")
    if sys.platform != "win32":
        yield from _beside("Ctrl+Z", "to the shell for a while; fg comes back")
    yield from _beside("Ctrl+Q", "quit")


def form_lines(act: Act | None) -> Iterator[str]:
    """The help of a form as lines: what it does, and how its fields are typed."""
    if act is not None:
        yield from wrap(_spoken(act.help), _WIDTH)
        yield ""
    yield from _beside("Enter", "the next field; from the last one it is saved")
    yield from _beside("Ctrl+S", "saved from any field; what an empty one means stands in it in grey")
    yield from _beside("Esc", "back; what is typed is lost only after you are asked")
    yield from _beside("F2", "every answer that is known for the field one is in")
    yield from _beside("dates", "today, yesterday, 3/14, last fri")
    yield from _beside("amounts", "42.5, 1,204.10, and small sums such as 12.50+3")
    yield from _beside("→", "takes a name that is offered; often the first letters are enough")


def word_lines(words: Iterable[Word]) -> Iterator[str]:
    """What each word means, and its caution, with a free line before it."""
    for each in words:
        yield ""
        yield from wrap(f"{each.name}: {each.meaning}", _WIDTH)
        if each.caution:
            yield from wrap(f"{CAUTION}{each.caution}", _WIDTH, initial_indent="! ", subsequent_indent="  ")


def first_sentence(text: str) -> str:
    """The sentence of an act's help that stands in lists."""
    return _spoken(text.partition(". ")[0].removesuffix(".") + ".")


def _spoken(text: str) -> str:
    """What a command calls in capitals, as words like others."""
    said = _CALLED.sub(lambda found: found[0].lower(), text)
    return said[:1].upper() + said[1:]


def _beside(key: str, words: str) -> Iterator[str]:
    """A key, and its words hanging to the right of it."""
    return iter(wrap(words, _WIDTH, initial_indent=f"{key:<8}", subsequent_indent=" " * 8))
