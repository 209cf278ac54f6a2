"""A figure with what it is made of, opened only when somebody asks."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass


@dataclass(frozen=True)
class Part:
    """A line of a figure. cents: None for a line that only says something. entry: the entry that it is.

    adds: whether it is a summand of what it stands under; one that is not explains how a figure came about. opens:
    gives its own parts, whose summands add up to `cents`; None where it has none.
    """

    words: str
    cents: int | None
    entry: int | None = None
    note: str = ""
    adds: bool = True
    opens: Callable[[], Iterable[Part]] | None = None

    def opened(self) -> tuple[Part, ...]:
        return () if self.opens is None else tuple(self.opens())


def added(parts: Sequence[Part]) -> int:
    """What the summands come to, in cents."""
    return sum(each.cents or 0 for each in parts if each.adds)
