"""What is said to somebody who listens: sentences, one a line, months and days in words."""

from __future__ import annotations

from calendar import month_name
from collections.abc import Iterable, Iterator
from datetime import date

import click

plain_option = click.option(
    "--plain", is_flag=True, help="To be listened to: sentences, one a line, no picture and no columns."
)


def month_words(day: date) -> str:
    """`March 2026`."""
    return f"{month_name[day.month]} {day.year}"


def day_words(day: date) -> str:
    """`March 14, 2026`."""
    return f"{month_name[day.month]} {day.day}, {day.year}"


def sentences(lines: Iterable[str]) -> Iterator[str]:
    """Each sentence of some lines for itself."""
    return (sentence(each) for line in lines for each in line.split(". "))


def sentence(words: str) -> str:
    """The words as a sentence: a capital letter before, a full stop after."""
    words = words.strip()
    return words[:1].upper() + words[1:].removesuffix(".") + "."
