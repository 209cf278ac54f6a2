"""The form that every act's form is made from.

It reads its fields as one types, shows what the act would do, says what is wrong beside the field, and saves with
Ctrl+S or with Enter on the last field. Leaving with something typed asks first.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from datetime import date
from typing import TYPE_CHECKING, ClassVar, TypeVar, cast

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical, VerticalScroll
from textual.content import Content
from textual.geometry import Size
from textual.screen import ModalScreen
from textual.widget import Widget
from textual.widgets import Input, Static

from ledger.actions.registry import act
from ledger.books.books import Books
from ledger.books.clock import Clock
from ledger.errors import NotPossible, Refused
from ledger.screens.forms.field import IF_EMPTY, LIST_KEY, Asked, Field
from ledger.screens.forms.leaving import Leaving
from ledger.screens.keys import KeyLine
from ledger.screens.page import FRAME
from ledger.screens.reading import typed_amount, typed_choice, typed_date
from ledger.screens.room_words import in_the_rooms
from ledger.screens.showing import plain_lines, plain_text, too_small
from ledger.text import TEXT_LENGTH, read_text

if TYPE_CHECKING:
    from ledger.screens.app import TwopurseApp
    from ledger.screens.showing import Showing

Read = TypeVar("Read")
Word = TypeVar("Word", bound=str)
LEAST_WIDTH, LEAST_HEIGHT = 60, 18
# Below these what stood side by side stands one above the other, and the fields scroll sooner.
NARROW, LOW = 76, 24
LIST = Binding(LIST_KEY, "list_answers", "answers", key_display="F2")


class _FaultsFound(Exception):
    """Some fields could not be read; what is wrong with each is kept already."""


class Form(ModalScreen[str | None]):
    """A form over a room. It closes with the sentence that says what was done, or with None.

    A form says `title_words`, `asks` (its fields), `preview` (lines for what would be done) and `save` (do it, and the
    sentence). `preview` and `save` read the fields with `text`, `amount` and `day`, and call the act.
    """

    KEYS: ClassVar[tuple[Binding, ...]] = (
        Binding("enter", "next", "next field", key_display="Enter"),
        Binding("ctrl+s", "save", "save", key_display="Ctrl+S"),
        Binding("f1", "explain", "help", key_display="F1"),
        Binding("escape", "leave", "back", key_display="Esc"),
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        *KEYS,
        LIST,
        Binding("down", "app.focus_next", "Next", show=False),
        Binding("up", "app.focus_previous", "Previous", show=False),
    ]
    DEFAULT_CSS: ClassVar[str] = f"""
    Form {{
        align: center middle;
    }}
    Form > #form {{
        width: 78;
        {FRAME}
    }}
    Form #fields {{
        height: auto;
        max-height: 60vh;
    }}
    Form #form-body {{
        height: auto;
    }}
    Form #preview {{
        height: auto;
        margin-top: 1;
    }}
    Form #fault {{
        height: auto;
        color: $error;
    }}
    Form > #form > KeyLine {{
        background: $surface;
        padding: 0;
        margin-top: 1;
    }}
    """
    title_words: str = ""
    # The act that opened it, for its help; None where a page did.
    opened_by: str | None = None

    def __init__(self, books: Books) -> None:
        super().__init__()
        self.books = books
        self._faults: dict[str, str] = {}
        self._has_tried_to_save = False
        self._touched: set[str] = set()
        self._fields: dict[str, Field] = {}
        self._focused_before: Widget | None = None

    @property
    def twopurse(self) -> TwopurseApp:
        return cast("TwopurseApp", self.app)

    @property
    def showing(self) -> Showing:
        return self.twopurse.showing

    def asks(self) -> Sequence[Asked]:
        """The fields, in their order."""
        raise NotImplementedError

    def preview(self) -> Sequence[str]:
        """What the act would do, as lines. Raises Refused."""
        return ()

    def save(self) -> str:
        """Do it; the sentence that says what was done. Raises Refused."""
        raise NotImplementedError

    def compose(self) -> ComposeResult:
        self._fit(self.app.size)
        with Vertical(id="form") as frame:
            frame.border_title = plain_text(self.title_words)
            yield Static(f"{too_small(LEAST_WIDTH, LEAST_HEIGHT)} What is typed is kept.", id="too-small", markup=False)
            with Vertical(id="form-body"):
                yield from self.lay_out()
                yield Static("", id="preview", markup=False)
                yield Static("", id="fault", markup=False)
            yield KeyLine(self.keys())

    def keys(self) -> Sequence[Binding]:
        """What the foot of the form says: the list of answers too, where a field has one."""
        has_lists = any(each.known for each in self.asks())
        return (*self.KEYS[:-1], LIST, self.KEYS[-1]) if has_lists else self.KEYS

    def lay_out(self) -> Iterator[Widget]:
        """The fields one below the other, unless a form sets them otherwise."""
        with VerticalScroll(id="fields", can_focus=False):
            for each in self.asks():
                yield Field(each)

    def on_mount(self) -> None:
        self.check()
        self.begin_at().focus()

    def begin_at(self) -> Widget:
        """Where one begins: the first field, or where it is filled in already, the first that wants something."""
        first, *others = self.fields.values()
        wanting = (each for each in others if not each.value and not each.asked.hint.startswith(IF_EMPTY))
        return next(wanting, first).input if first.value else first.input

    def on_resize(self, event: events.Resize) -> None:
        """A window too small hides the form, and a larger one brings it back as it was."""
        was_small, is_small = self.is_small, event.size.width < LEAST_WIDTH or event.size.height < LEAST_HEIGHT
        if is_small and not was_small:
            self._focused_before = self.focused
        self.set_class(is_small, "small")
        self._fit(event.size)
        if was_small and not is_small and self._focused_before is not None:
            self.call_after_refresh(self._focused_before.focus)

    def _fit(self, size: Size) -> None:
        self.set_class(size.width < NARROW, "narrow")
        self.set_class(size.height < LOW, "low")

    @property
    def fields(self) -> dict[str, Field]:
        """Each field by its name. Asked of the screen once: every key reads them all, at a millisecond each."""
        if not self._fields:
            self._fields = {each.asked.name: each for each in self.query(Field)}
        return self._fields

    def field(self, name: str) -> Field:
        return self.fields[name]

    @property
    def is_small(self) -> bool:
        """Whether the form cannot be seen, so that nothing is saved unseen."""
        return self.has_class("small")

    @property
    def is_changed(self) -> bool:
        """Whether something is typed here that would be lost."""
        return any(each.is_changed for each in self.fields.values())

    def text(self, name: str) -> str:
        return self.field(name).value

    def text_or_none(self, name: str) -> str | None:
        return self.text(name) or None

    def read(self, name: str, reader: Callable[[str], Read], instead: Read) -> Read:
        """What a field says; where it cannot be read, `instead`, and the fault is kept to be told with the others."""
        try:
            return reader(self.text(name))
        except Refused as refused:
            self._faults.setdefault(refused.field or name, self.in_words(str(refused)))
            return instead

    def amount(self, name: str, *, zero: bool = False) -> int:
        """Cents; an empty field is zero where zero may stand."""
        currency, locale = self.books.currency, self.books.settings.locale
        return self.read(
            name, lambda text: typed_amount(text, currency, locale, name, zero=zero) if text or not zero else 0, 0
        )

    def words(self, name: str, *, limit: int = TEXT_LENGTH) -> str | None:
        """Free text as the books keep it, None where nothing is typed."""
        return self.read(name, lambda text: read_text(text, name, limit=limit) if text else None, None)

    def choice(self, name: str, known: Sequence[Word], question: str) -> Word:
        """One of a few words, whose first letters are enough; question: what is asked where it is none of them."""
        return self.read(name, lambda text: typed_choice(text, known, name, question), known[0])

    def day(self, name: str = "on") -> date:
        return self.read(name, lambda text: self._past_day(text, name), self.books.today)

    def _past_day(self, text: str, name: str) -> date:
        day = typed_date(text, self.books.today, self.books.settings.locale, name)
        if day > self.books.today:
            raise NotPossible(f"{day} is in the future.", "Give today or an earlier day.", name)
        return day

    def books_on(self, name: str = "on") -> Books:
        """The books with the day that was typed as today."""
        return replace(self.books, clock=Clock(self.day(name), self.books.clock.now))

    def sound(self, request: Read) -> Read:
        """The request, once every field that it was read from could be read."""
        if self._faults:
            raise _FaultsFound
        return request

    def attempt(self, work: Callable[[], Read]) -> Read | None:
        """What the work gives, or None with the faults shown where they belong."""
        try:
            return work()
        except _FaultsFound:
            return None
        except Refused as refused:
            self._faults[refused.field or ""] = self.in_words(str(refused))
            return None

    def in_words(self, sentence: str) -> str:
        """What a refusal or a warning says to somebody who sees this form."""
        return in_the_rooms(sentence, {name: each.asked.label for name, each in self.fields.items()})

    def check(self) -> None:
        """Read everything again and show what would be done, or what is wrong."""
        self._faults = {}
        lines = self.attempt(self.preview)
        self._say("#preview", plain_lines(lines or ()))
        self._show_faults()

    def _say(self, selector: str, words: Content) -> None:
        """Words below the fields; where there are none, no line is left free for them."""
        place = self.query_one(selector, Static)
        place.update(words)
        place.display = bool(words.plain)

    def on_input_changed(self, event: Input.Changed) -> None:
        if event.input.id is not None and self.field(event.input.id).is_changed:
            self._touched.add(event.input.id)
        self.check()

    def on_input_blurred(self, event: Input.Blurred) -> None:
        if event.input.id is not None:
            self.field(event.input.id).complete()

    def on_input_submitted(self, event: Input.Submitted) -> None:
        self.action_next()

    def action_next(self) -> None:
        """The next field; from the last one, save."""
        fields = list(self.fields.values())
        if self.focused is fields[-1].input:
            self.action_save()
        else:
            self.focus_next(Input)

    def action_save(self) -> None:
        if self.is_small:
            return
        for each in self.fields.values():
            each.complete()
        self._has_tried_to_save = True
        self._faults = {}
        said = self.attempt(self.save)
        if said is not None:
            self.dismiss(said)
            return
        self._show_faults()
        for each in self.fields.values():
            if each.asked.name in self._faults:
                each.input.focus()
                break

    def action_explain(self) -> None:
        """What this form does, how its fields are typed, and what the words in it mean."""
        from ledger.screens.help import help_of_form

        labels = [(each.asked.label, each.asked.hint) for each in self.fields.values()]
        act_of_form = act(self.opened_by) if self.opened_by else None
        self.app.push_screen(help_of_form(self.title_words, labels, act_of_form, self.twopurse.chapter_here))

    def action_list_answers(self) -> None:
        """The answers that the field offers, dropped down from it."""
        field = self.focused.parent if self.focused is not None else None
        if isinstance(field, Field) and field.known:
            field.list_answers()
        else:
            self.twopurse.tell("There is nothing to choose from here: type it.")

    def action_leave(self) -> None:
        if self.is_changed:
            self.app.push_screen(Leaving(), self._leave)
        else:
            self.dismiss(None)

    def _leave(self, sure: bool | None) -> None:
        if sure:
            self.dismiss(None)

    def _show_faults(self) -> None:
        """Beside its field, once something was typed there; what belongs to no field stands below."""
        for each in self.fields.values():
            name = each.asked.name
            wanted = self._has_tried_to_save or (name in self._touched and not each.is_on_its_way)
            each.say(self._faults.get(name, "") if wanted else "")
        others = [said for name, said in self._faults.items() if name not in self.fields]
        self._say("#fault", plain_text(" ".join(others)))
