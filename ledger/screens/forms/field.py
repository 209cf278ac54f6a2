"""One line of a form: its label, what is typed, and beside it what is wrong."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import ClassVar

from textual.app import ComposeResult
from textual.containers import Horizontal
from textual.suggester import SuggestFromList
from textual.widgets import Input, Static

from ledger.screens.showing import plain_text


@dataclass(frozen=True)
class Asked:
    """A field of a form. name: the field that a refusal names. hint: what stands there while it is empty.

    known: names that complete as one types. value: what it begins with.
    """

    name: str
    label: str
    value: str = ""
    hint: str = ""
    known: Sequence[str] = ()


class Field(Horizontal):
    """Label, input and message in one row."""

    DEFAULT_CSS: ClassVar[str] = """
    Field {
        height: auto;
    }
    Field > .label {
        width: 17;
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
        suggester = SuggestFromList(asked.known, case_sensitive=False) if asked.known else None
        self.input = Input(asked.value, placeholder=asked.hint, suggester=suggester, compact=True, id=asked.name)
        self.message = Static("", classes="message", markup=False)
        self.message.display = False

    def compose(self) -> ComposeResult:
        yield Static(self.asked.label, classes="label", markup=False)
        yield self.input
        yield self.message

    @property
    def value(self) -> str:
        return self.input.value.strip()

    @property
    def is_changed(self) -> bool:
        return self.input.value != self.asked.value

    def say(self, sentence: str) -> None:
        """Say what is wrong, or nothing."""
        self.message.update(plain_text(f"! {sentence}" if sentence else ""))
        self.message.display = bool(sentence)
