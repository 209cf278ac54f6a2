"""One line of a form: its label, what is typed, and beside it what is wrong."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import ClassVar

from textual import events
from textual.app import ComposeResult
from textual.containers import Horizontal
from textual.suggester import SuggestFromList
from textual.widgets import Input, Static

from ledger.screens.showing import plain_text
from ledger.text import shown


@dataclass(frozen=True)
class Asked:
    """A field of a form. name: the field that a refusal names. hint: what stands there while it is empty.

    known: names that complete as one types. only_known: nothing else can stand there, so that the first letters are
    enough. value: what it begins with.
    """

    name: str
    label: str
    value: str = ""
    hint: str = ""
    known: Sequence[str] = ()
    only_known: bool = False


class Typed(Input):
    """An input that holds one line of text, and nothing that a terminal might obey or that nobody could see."""

    DEFAULT_CSS: ClassVar[str] = """
    Typed > .input--placeholder, Typed > .input--suggestion {
        color: $foreground 70%;
    }
    """

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
    Field > Input {
        width: 26;
        background: $panel;
        color: $foreground;
    }
    Field > Input:focus {
        background: $primary 30%;
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
        names = [shown(each) for each in asked.known]
        suggester = SuggestFromList(names, case_sensitive=False) if names else None
        self.input = Typed(asked.value, placeholder=shown(asked.hint), suggester=suggester, compact=True, id=asked.name)
        self.message = Static("", classes="message", markup=False)
        self.message.display = False

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

    def complete(self) -> None:
        """Put the name in whose first letters were typed, where only a known one can stand."""
        typed = self.value.casefold()
        if typed and self.asked.only_known and typed not in (each.casefold() for each in self.asked.known):
            begins = (each for each in self.asked.known if each.casefold().startswith(typed))
            self.input.value = next(begins, self.input.value)

    def say(self, sentence: str) -> None:
        """Say what is wrong, or nothing."""
        self.message.update(plain_text(f"! {sentence}" if sentence else ""))
        self.message.display = bool(sentence)
