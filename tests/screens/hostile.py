"""Sixty strings that a terminal, the terminal library or a reader might take for something else than text."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator

from tests.screens.window import Window
from tests.text.test_cleaning import HOSTILE as UNSEEN_OR_OBEYED

# What the library reads as markup, actions, links or names of colours.
MARKUP = (
    "[@click=app.quit]quit[/]",
    "[@click=screen.home]home[/]",
    "[/]",
    "[/bold]",
    "[bold red]x[/bold red]",
    "[A-12]",
    "[link=https://example.com]here[/link]",
    "[$primary on $error]x",
    "[[nested]]",
    "\\[escaped]",
    "[b",
    ":smile:",
    "{self.app.exit()}",
    "%s %d {0} {name}",
    "$(reboot) `reboot`",
    "../../../etc/passwd",
    "=HYPERLINK(1)",
    "<img src=x>",
    "'; drop table entry; --",
    "Zoë Müller",
    "山田花子",
    "שרה כהן",
    "\N{WOMAN}\N{ZERO WIDTH JOINER}\N{ARTIST PALETTE} Ada",
    "Z\N{COMBINING ACUTE ACCENT}" * 60,
    "quilt" * 200,
)
STRINGS = (*UNSEEN_OR_OBEYED.values(), *MARKUP)
# What the books themselves would keep of them.
KEPT_NAMES = (*MARKUP[:-2], "Ada \N{SPOOL OF THREAD}")

_OBEYED = {"Cc", "Cs", "Co", "Cn", "Zl", "Zp"}
# The joiner inside an emoji is the one format character that may be shown.
_JOINER = "\N{ZERO WIDTH JOINER}"


def what_a_terminal_would_obey(window: Window) -> list[str]:
    """Characters on the screen that are no text, with the line they stand in."""
    return [f"{ascii(each)} in {ascii(line)}" for line in window.lines() for each in line if _is_obeyed(each)]


def clickable_actions(window: Window) -> set[str]:
    """The actions that a click on some cell of the screen would run."""
    return {str(meta["@click"]) for meta in _metas(window) if "@click" in meta}


def links(window: Window) -> set[str]:
    segments = (segment for strip in window.strips for segment in strip)
    return {str(each.style.link) for each in segments if each.style is not None and each.style.link}


def _is_obeyed(character: str) -> bool:
    category = unicodedata.category(character)
    return category in _OBEYED or (category == "Cf" and character != _JOINER)


def _metas(window: Window) -> Iterator[dict[str, object]]:
    for strip in window.strips:
        for segment in strip:
            if segment.style is not None and segment.style.meta:
                yield segment.style.meta
