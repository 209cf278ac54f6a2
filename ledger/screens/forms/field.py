"""One line of a form: its label, what is typed, and beside it what is wrong."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import ClassVar

from textual import events
from textual.app import ComposeResult
from textual.containers import Horizontal
from textual.suggester import SuggestFromList
from textual.widgets import Input, OptionList, Static

from ledger.screens.forms.answer_list import AnswerList, matching
from ledger.screens.showing import plain_text
from ledger.text import shown

LIST_KEY = "f2"
# So begins the hint of a field that may stay empty.
IF_EMPTY = "if empty"


@dataclass(frozen=True)
class Asked:
    """A field of a form. name: the field that a refusal names. hint: what stands there while it is empty.

    «if empty: ...» says what an empty field means, «such as ...» is an example. known:
    names that complete as one types and can be chosen from a list. only_known: nothing else can stand there, so that
    the first letters are enough. value: what it begins with.
    """

    name: str
    label: str
    value: str = ""
    hint: str = ""
    known: Sequence[str] = ()
    only_known: bool = False


class Typed(Input):
    """An input that holds one line of text, and nothing that a terminal might obey or that nobody could see."""

    def validate_value(self, value: str) -> str:
        return shown(value)

    def on_paste(self, event: events.Paste) -> None:
        """All lines that were pasted, in one; the library would keep the first alone."""
        event.prevent_default()
        event.stop()
        self.replace(" ".join(line.strip() for line in event.text.splitlines()), *self.selection)


class Field(Horizontal):
    """Label, input and message in one row."""

    DEFAULT_CSS: ClassVar[str] = """
    Field {
        height: auto;
    }
    Field > .label {
        width: 20;
        color: $foreground 80%;
    }
    Field:focus-within > .label {
        color: $foreground;
        text-style: bold;
    }
    Field > Input {
        width: 26;
        background: $panel;
        color: $foreground;
    }
    Field > Input:focus {
        background: $focused;
    }
    Field > .message {
        width: 1fr;
        padding-left: 1;
        color: $error;
    }
    """

    def __init__(self, asked: Asked) -> None:
        super().__init__()
        self.asked = asked
        self.known = [shown(each) for each in asked.known]
        suggester = SuggestFromList(self.known, case_sensitive=False) if self.known else None
        self.input = Typed(asked.value, placeholder=shown(asked.hint), suggester=suggester, compact=True, id=asked.name)
        self.message = Static("", classes="message", markup=False)
        self.message.display = False
        self._answers: AnswerList | None = None
        # Opened by her, and not by what she typed: then Esc closes the list, and leaves the form only after that.
        self._was_asked_for = False

    def compose(self) -> ComposeResult:
        yield Static(plain_text(self.asked.label), classes="label")
        yield self.input
        yield self.message

    @property
    def value(self) -> str:
        return self.input.value.strip()

    @property
    def is_changed(self) -> bool:
        return self.input.value != self.asked.value

    @property
    def is_on_its_way(self) -> bool:
        """Whether the first letters of a known name are being typed, which are no mistake yet."""
        typed, known = self.value.casefold(), [each.casefold() for each in self.known]
        is_begun = bool(typed) and typed not in known and any(each.startswith(typed) for each in known)
        return is_begun and self.asked.only_known and self.input.has_focus

    def complete(self) -> None:
        """Put the name in whose first letters were typed, where only a known one can stand."""
        typed = self.value.casefold()
        if typed and self.asked.only_known and typed not in (each.casefold() for each in self.asked.known):
            begins = [each for each in self.asked.known if each.casefold().startswith(typed)]
            elsewhere = [each for each in self.asked.known if typed in each.casefold()]
            found = begins[:1] or (elsewhere if len(elsewhere) == 1 else [])
            self.input.value = found[0] if found else self.input.value

    def say(self, sentence: str) -> None:
        """Say what is wrong, or nothing."""
        self.message.update(plain_text(f"! {sentence}" if sentence else ""))
        self.message.display = bool(sentence)

    def list_answers(self) -> None:
        """Every answer that can stand here, to be gone through with the arrows; closes again what is open."""
        if self._answers is not None and self._answers.is_open and self._was_asked_for:
            self.close_answers()
        elif self.known:
            self._was_asked_for = True
            self._open(self.known)

    def close_answers(self) -> None:
        if self._answers is not None:
            self._answers.close()
        self._was_asked_for = False

    def on_input_changed(self, event: Input.Changed) -> None:
        """What matches comes up as one types, and goes away once it stands there whole."""
        if not self.known or not self.input.has_focus:
            return
        found = matching(self.known, self.value) if self.value else []
        self._was_asked_for = False
        if found and self.value.casefold() not in (each.casefold() for each in found):
            self._open(found)
        else:
            self.close_answers()

    def on_input_blurred(self, event: Input.Blurred) -> None:
        self.close_answers()

    def on_key(self, event: events.Key) -> None:
        """The keys of the list, while it is open."""
        answers = self._answers
        if answers is None or not answers.is_open:
            return
        is_inside = self._was_asked_for or answers.chosen is not None
        if event.key in ("down", "up") and (event.key == "down" or is_inside):
            answers.go(event.key == "down")
        elif event.key in ("enter", "tab") and answers.chosen is not None:
            self._take(answers.chosen)
            if event.key == "tab":
                return
        elif event.key == "escape" and is_inside:
            self.close_answers()
        else:
            return
        event.stop()

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Clicked on."""
        event.stop()
        if self._answers is not None:
            self._take(self._answers.answers[event.option_index])

    def _open(self, answers: Sequence[str]) -> None:
        if self._answers is None:
            # Only once it is wanted: a form has a dozen fields, and most of its lists are never opened.
            self._answers = AnswerList()
            self.mount(self._answers)
        self._answers.open_below(self.input.region, answers)

    def _take(self, answer: str) -> None:
        self.input.value = answer
        self.input.cursor_position = len(answer)
        self.close_answers()
