"""One act, done in a room and by its command."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field


@dataclass(frozen=True)
class Case:
    """One act. room: the digit of the room that it is done in. job: which is selected there. values: what is typed.

    command: the words of the command beside `--books` and `--on`. first: a command that both have behind them. FILE in
    a value or a command stands for a file to attach.
    """

    room: str
    command: tuple[str, ...]
    values: Mapping[str, str] = field(default_factory=dict)
    job: int | None = None
    keys: tuple[str, ...] = ("ctrl+s",)
    first: tuple[str, ...] = ()
